package logbook

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"stanchion/model/units"
)

func aNote() Note {
	n := Blank()
	n.ID, n.Setting, n.At = "2026-11-20.1", "A:F+A1:R", time.Date(2026, 11, 20, 10, 5, 0, 0, time.Local)
	n.Tyres = [4]float64{1.9305, 1.9305, 1.9995, 1.9995} // 28 and 29 psi of 0.0689476 bar
	n.Air.Temperature, n.Fuel, n.Lap = 25, 10, 61.5
	n.Sink = Sink{Speed: 50, Front: 25.4, Rear: 50.8}
	n.Feel.RearFast = -1
	n.Expected.Downforce, n.Expected.DownforceStdUnc = 444.822, 44.4822 // 100 and 10 lbf
	n.Text = "calm\n\x1b[31mthen not"
	return n
}

// Each figure in both systems, converted by hand.
func TestFactsByHand(t *testing.T) {
	for _, c := range []struct {
		u    units.System
		want string
	}{
		{units.Metric, "setting A:F+A1:R; at 2026-11-20 10:05; air temperature 25 °C; tyres front 1.93 1.93, rear 2.00 2.00 bar (left, right); fuel 10 kg; lap 1:01.5; " +
			"front axle sank by 25.4 mm at 180 km/h; rear axle sank by 50.8 mm at 180 km/h; rear grip, fast −1; text calm / \\u001b[31mthen not; predicted downforce 445 ± 44 N"},
		{units.Imperial, "setting A:F+A1:R; at 2026-11-20 10:05; air temperature 77 °F; tyres front 28.0 28.0, rear 29.0 29.0 psi (left, right); fuel 22 lb; lap 1:01.5; " +
			"front axle sank by 1.00 in at 112 mph; rear axle sank by 2.00 in at 112 mph; rear grip, fast −1; text calm / \\u001b[31mthen not; predicted downforce 100 ± 10 lbf"},
	} {
		var have []string
		for _, f := range aNote().Facts(c.u) {
			have = append(have, f.What+" "+f.Text)
		}
		if got := strings.Join(have, "; "); got != c.want {
			t.Errorf("have %s\nwant %s", got, c.want)
		}
	}
}

func TestChanges(t *testing.T) {
	a, b := aNote(), aNote()
	if c := Changes(a, b, units.Metric); len(c) != 0 {
		t.Errorf("%v has changed", c)
	}
	b.Fuel, b.Venue, b.Feel.RearFast = 30, "north field", NoFeel
	got := fmt.Sprint(Changes(a, b, units.Metric))
	if want := "[{fuel 10 kg 30 kg} {rear grip, fast −1 " + units.NotGiven + "} {place " + units.NotGiven + " north field}]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
