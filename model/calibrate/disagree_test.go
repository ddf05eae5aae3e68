package calibrate

import "testing"

// By hand: 3.5 and 8.5 mm, each to 1.5 mm, lie 5 mm apart, 2.36 times √2·1.5 mm = 2.12 mm; 3.5 and 7.5 mm
// only 1.89 times.
func TestDisagreeing(t *testing.T) {
	rear := func(mm float64) TrackReading {
		return TrackReading{Kind: RearSink, Setting: "a", Speed: 50, Measured: mm, StdUnc: 1.5}
	}
	with := func(r TrackReading, change func(*TrackReading)) TrackReading {
		change(&r)
		return r
	}
	for _, c := range []struct {
		name     string
		readings []TrackReading
		widened  float64
		want     int
		disagree bool
	}{
		{"clearly apart", []TrackReading{rear(3.5), rear(8.5)}, 1, 2, true},
		{"not clearly", []TrackReading{rear(3.5), rear(7.5)}, 1, 0, false},
		{"a third decides", []TrackReading{rear(3.5), rear(8.5), rear(8)}, 1, 0, false},
		{"another axle", []TrackReading{rear(3.5), with(rear(8.5), func(r *TrackReading) { r.Kind = FrontSink })}, 1, 0, false},
		{"another setting", []TrackReading{rear(3.5), with(rear(8.5), func(r *TrackReading) { r.Setting = "b" })}, 1, 0, false},
		{"another speed", []TrackReading{rear(3.5), with(rear(8.5), func(r *TrackReading) { r.Speed = 60 })}, 1, 0, false},
		{"one left out, and which is wrong not known", []TrackReading{rear(3.5), with(rear(8.5), func(r *TrackReading) { r.Suspect = true })}, 1, 2, true},
		{"off the file", []TrackReading{with(rear(3.5), func(r *TrackReading) { r.Off = -2.1 }), rear(4)}, 2, 1, true},
		{"none stands out", []TrackReading{rear(3.5), rear(4)}, 2, 0, true},
	} {
		l := Learned{Readings: c.readings, Widened: c.widened}
		if got := l.Disagreeing(); len(got) != c.want {
			t.Errorf("%s: %d readings disagree, want %d", c.name, len(got), c.want)
		}
		if l.Disagree() != c.disagree {
			t.Errorf("%s: disagree is %v", c.name, l.Disagree())
		}
	}
}
