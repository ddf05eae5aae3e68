package main

import (
	"math"

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// The picture of a traced outline: so many cells wide, its heights drawn larger than its lengths by
// this, so that it tells something in the lines of a terminal.
const (
	outlineCells   = 76
	outlineStretch = 2.0
)

// tracedText shows the points of a traced outline over the smooth one that was fitted to them.
func tracedText(p *printer, w model.Wing, glyphs widgets.Glyphs, u units.System) {
	tr := w.Traced
	if tr == nil {
		return
	}
	how := "as they were read"
	if tr.Fit.Estimated {
		how = "judged by their scatter"
	}
	p.f("\nOutline: %d points, ±%s each %s, and the smooth outline fitted to them; heights are drawn %.0f times as large.\n",
		len(tr.Points), u.Fine(tr.Fit.Reading*w.Chord), how, outlineStretch)
	for _, l := range tracedPicture(tr, glyphs, min(outlineCells, p.on.extent.rows-4)) {
		p.picture("  " + l)
	}
	if n := len(tr.Fit.Misread); n > 0 {
		p.f("  %s left out: see below.\n", units.Count(n, "point"))
	}
	worst := tr.Points[tr.Fit.Worst]
	p.f("  %s fit  o point  × left out   furthest off: the one at %.1f %% of the chord, by %s\n", glyphs.Spell("─"), 100*worst.X,
		u.Fine(tr.Fit.WorstOff*w.Chord))
	p.f("  What the reading error adds: zero lift ±%s°, lift slope ±%.0f %%, maximum CL ±%.0f %%, stall ±%s°.\n",
		units.Fixed(tr.ZeroLift*180/math.Pi, 1), 100*tr.Slope, 100*tr.MaxLift, units.Fixed(tr.MaxAngle*180/math.Pi, 1))
}

// tracedPicture draws it.
func tracedPicture(tr *model.Traced, glyphs widgets.Glyphs, cells int) []string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range tr.Fit.Points {
		low, high = min(low, v.Y), max(high, v.Y)
	}
	dots := float64(2*cells - 4) // of the chord
	rows := int(math.Ceil((high-low)*outlineStretch*dots/4)) + 2
	c := widgets.NewCanvas(cells, rows, []widgets.Look{{}}, glyphs)
	at := func(x, y float64) (float64, float64) { return 2 + x*dots, 4 + (high-y)*outlineStretch*dots }
	for i := 1; i < len(tr.Fit.Points); i++ {
		a, b := tr.Fit.Points[i-1], tr.Fit.Points[i]
		x0, y0 := at(a.X, a.Y)
		x1, y1 := at(b.X, b.Y)
		c.Line(x0, y0, x1, y1, 0, 1)
	}
	out := map[int]bool{}
	for _, i := range tr.Fit.Misread {
		out[i] = true
	}
	for i, v := range tr.Points {
		x, y := at(v.X, v.Y)
		mark := "o"
		if out[i] {
			mark = "×"
		}
		c.Label(int(x/2), int(y/4), mark, 0)
	}
	return c.Lines()
}
