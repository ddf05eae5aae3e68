package main

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/figures"
	"stanchion/model/speeds"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plotted are the figures that are drawn over speed, each on a scale of its own.
var plotted = []figures.Key{figures.Downforce, figures.Drag}

// drawSweep draws downforce and drag over speed, as the file's name says.
func drawSweep(file string, s speeds.Sweep, ids []string, date time.Time, u units.System) ([]byte, error) {
	kind := strings.ToLower(strings.TrimPrefix(filepath.Ext(file), "."))
	if !slices.Contains([]string{"svg", "png", "pdf"}, kind) {
		return nil, fmt.Errorf("-o %s; the name must end in .svg, .png or .pdf", file)
	}
	car := s.Tables[0].Car
	p := drawing.Plot{Title: car.Name + ": downforce and drag over speed", X: "speed", XUnit: u.SpeedUnit()}
	for _, key := range plotted {
		f := figures.Get(key)
		panel := drawing.Panel{Name: f.Name, Unit: f.Unit(u)}
		for n, id := range ids {
			one := overSpeed(s, id, f, u)
			if one.Mark = mark(n); len(one.X) == 0 {
				return nil, noAnswer("%s has no figures to draw", id)
			}
			panel.Series = append(panel.Series, one)
		}
		p.Panels = append(p.Panels, panel)
	}
	for n, id := range ids {
		p.Below = append(p.Below, mark(n)+": "+s.Tables[0].NameOf(id))
	}
	p.Below = append(p.Below, "grey: plus and minus one standard uncertainty, of which most is the same for all settings",
		"drag is what the wing costs the car",
		date.Format("2006-01-02")+", by stanchion", words.Caution)
	switch d := p.Draw(); kind {
	case "pdf":
		return d.Page(date)
	case "png":
		return d.PNG()
	default:
		return d.SVG(), nil
	}
}

// overSpeed is a figure of a setting over speed, in the units that are shown.
func overSpeed(s speeds.Sweep, id string, f figures.Figure, u units.System) (c drawing.Series) {
	size := f.Size(u)
	follow(s, id, func(k int, t *model.Table, r *model.Row) {
		y := f.Of(t, r)
		if math.IsNaN(y) {
			return
		}
		unc, ok := f.StdUncOf(t.Budget(r).Contribution)
		if !ok {
			unc = math.NaN()
		}
		c.X, c.Y, c.Unc = append(c.X, u.SpeedFigure(s.Speeds[k])), append(c.Y, y/size), append(c.Unc, unc/size)
	})
	return c
}

// mark is what a curve is called.
func mark(n int) string {
	if n < 26 {
		return string('A' + rune(n))
	}
	return fmt.Sprint(n + 1)
}
