package drawing

import (
	"bytes"
	"encoding/xml"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// By hand: 0 to 1307 holds between 0 and 1400 in steps of 200; -3 to 7 between -4 and 8 in steps of 2.
func TestTicksByHand(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   []float64
	}{
		{0, 1307, []float64{0, 200, 400, 600, 800, 1000, 1200, 1400}},
		{-3, 7, []float64{-4, -2, 0, 2, 4, 6, 8}},
	} {
		got := around(c.lo, c.hi)
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%g to %g: %v, not %v", c.lo, c.hi, got, c.want)
		}
	}
	if got := tickText(0.25, []float64{0.2, 0.25}); got != "0.25" {
		t.Errorf("spelt %q", got)
	}
}

// A curve from 0 to the top of its scale ends at the panel's upper right corner; its band reaches as far below as above it, and a gap
// parts it.
func TestPlotByHand(t *testing.T) {
	p := Plot{Title: "Car <&>", X: "speed", XUnit: "km/h", Panels: []Panel{{Name: "downforce", Unit: "N", Series: []Series{{
		Mark: "A", X: []float64{0, 50, 75, 100}, Y: []float64{0, 250, math.NaN(), 900}, Unc: []float64{0, 50, 0, 100},
	}}}}, Below: []string{"a line"}}
	d := p.Draw()
	var line, bands []Path
	for _, q := range d.Paths {
		switch q.Pen {
		case Curve1:
			line = append(line, q)
		case Band:
			bands = append(bands, q)
		}
	}
	if len(line) != 2 || len(bands) != 2 {
		t.Fatalf("%d pieces of the curve and %d of its band, not 2 and 2", len(line), len(bands))
	}
	if end := line[1].Points[0]; math.Abs(end.X-plotWide) > 1e-9 || math.Abs(end.Z-0.9*plotHigh) > 1e-9 {
		t.Errorf("900 of 1000 at 100 of 100 is drawn at %v", end)
	}
	upper, lower := bands[0].Points[1], bands[0].Points[2]
	if mid := line[0].Points[1]; math.Abs(upper.Z-mid.Z-0.05*plotHigh) > 1e-9 || math.Abs(mid.Z-lower.Z-0.05*plotHigh) > 1e-9 {
		t.Errorf("the band of ±50 of 1000 is from %v to %v about %v", lower, upper, mid)
	}
	var any struct{}
	if err := xml.Unmarshal(d.SVG(), &any); err != nil || strings.Contains(string(d.SVG()), "100 mm") {
		t.Errorf("the SVG: %v", err)
	}
	if data, err := d.Page(day); err != nil || !bytes.Contains(data, []byte("/Count 1")) {
		t.Errorf("the PDF has not one page: %v", err)
	}
}

// What is not to be measured from has no bars to measure it by.
func TestPictureHasNoBars(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	lines := func(d *Drawing) int { return strings.Count(strings.ReplaceAll(string(d.DXF()), "\r", ""), "\nLINE\n") }
	d := Map(table, "", time.Time{}, units.Metric)
	is := lines(d)
	d.Picture = false
	if with := lines(d); with-is != len(bars()) {
		t.Errorf("a map's DXF has %d lines, with check bars %d", is, with)
	}
	page := d.Layout(Papers[0])
	with, err := page.PDF("x", time.Time{})
	page.picture = true
	without, err2 := page.PDF("x", time.Time{})
	if err != nil || err2 != nil || len(without) >= len(with) {
		t.Errorf("%d bytes without bars, %d with: %v, %v", len(without), len(with), err, err2)
	}
}
