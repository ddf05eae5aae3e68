package logbook

import (
	"math"
	"strconv"
)

// likely are the least and the most that numbers of a note are likely to be.
var likely = []struct {
	key, unit   string
	least, most float64
}{
	{"speed_m_s", "m/s", 1, 150}, {"top_speed_m_s", "m/s", 1, 150}, {"sink_speed_m_s", "m/s", 1, 150},
	{"sink_front_mm", "mm", -200, 200}, {"sink_rear_mm", "mm", -200, 200},
	{"fuel_kg", "kg", 0, 200}, {"air_pressure_hpa", "hPa", 500, 1100}, {"air_humidity_pct", "%", 0, 100}, {"air_temperature_c", "°C", -50, 60},
	{"tyre_front_left_bar", "bar", 0.3, 6}, {"tyre_front_right_bar", "bar", 0.3, 6}, {"tyre_rear_left_bar", "bar", 0.3, 6}, {"tyre_rear_right_bar", "bar", 0.3, 6},
}

// unlikely names what can be read and can hardly be so, as where a column is in another unit.
func (t *reading) unlikely(n *Note, of map[string]any, fault func(key, format string, args ...any)) {
	for _, l := range likely {
		if x, is := numeric(of[l.key]); is && !(x >= l.least && x <= l.most) {
			fault(l.key, "%s %s; it must be %g to %g %s", strconv.FormatFloat(x, 'f', -1, 64), l.unit, l.least, l.most, l.unit)
		}
	}
	if at := n.At; at.Year() < 1970 || at.After(t.now.AddDate(0, 0, 1)) {
		fault("at", "%s is before 1970 or in the future", at.Format("2006-01-02 15:04"))
	}
	if _, given := of["sink_speed_m_s"]; !given && !(math.IsNaN(n.Sink.Front) && math.IsNaN(n.Sink.Rear)) {
		fault("sink_speed_m_s", "it is missing: at which speed the axles sank by that")
	}
	if err := n.Check(); err != nil {
		fault("", "%s", err)
	}
}
