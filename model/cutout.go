package model

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Cutout is a slot that a panel needs for a part to pass through.
type Cutout struct {
	Panel, Part string
	From, To    float64    // mm along the panel from its given place, to the rear, without clearance: of all settings
	Least       [2]float64 // mm, what every setting needs: nothing when the first is not less than the second
	Width       float64    // mm, with the clearance; NaN when the part's thickness is not known
	Clearance   float64    // mm around the part
	Settings    int        // how many pass through there
}

// Length is how long the slot is, mm, with the clearance at both ends.
func (c Cutout) Length() float64 { return c.To - c.From + 2*c.Clearance }

// Cutouts lists the slots that panels need for the settings of rows, for each part
// that passes through one. A panel is a sheet of its thickness, in the side view
// between two straight lines; the slot spans what of the part is between them.
func (t *Table) Cutouts(rows []*Row) []Cutout {
	var all []Cutout
	rake := plane.About(plane.Point{}, t.Car.RakeChange)
	for _, panel := range t.Car.Panels {
		at := rake.Then(plane.Pose{X: panel.X, Z: panel.Z, Turn: panel.Slope})
		for i := range len(t.Car.Parts) - 1 {
			p := t.Car.Parts[i]
			if p.Outline == nil {
				continue
			}
			cut := Cutout{Panel: panel.Name, Part: p.Name, From: math.Inf(1), To: math.Inf(-1), Least: [2]float64{math.Inf(-1), math.Inf(1)},
				Width: p.Thickness + 2*panel.Clearance, Clearance: panel.Clearance}
			for _, r := range rows {
				pose := at.Inverse().Then(t.Car.PartPoses(r.Setting)[i])
				lo, hi, ok := between(pose.ApplyAll(p.Outline), -panel.Thickness)
				if !ok {
					continue
				}
				cut.From, cut.To = min(cut.From, lo), max(cut.To, hi)
				cut.Least = [2]float64{max(cut.Least[0], lo), min(cut.Least[1], hi)}
				cut.Settings++
			}
			if cut.Settings > 0 {
				all = append(all, cut)
			}
		}
	}
	return all
}

// between returns from where to where a polygon reaches in the strip from z = low
// to z = 0.
func between(outline []plane.Point, low float64) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, z := range [2]float64{low, 0} {
		for _, s := range plane.Cut(outline, plane.Level, z) {
			lo, hi = min(lo, s.From), max(hi, s.To)
		}
	}
	for _, a := range outline {
		if a.Z <= 0 && a.Z >= low {
			lo, hi = min(lo, a.X), max(hi, a.X)
		}
	}
	return lo, hi, lo <= hi
}

// Lines says in words how to cut it.
func (c Cutout) Lines(u units.System) []string {
	width := "as wide as the part is thick, and " + u.Place(2*c.Clearance) + " more"
	if !math.IsNaN(c.Width) {
		width = u.Place(c.Width) + " wide"
	}
	lines := []string{fmt.Sprintf("%s through %s: from %s to %s along the panel from its given place, so %s long and %s, with %s around, for %s.",
		c.Part, c.Panel, u.Place(c.From-c.Clearance), u.Place(c.To+c.Clearance), u.Place(c.Length()), width, u.Place(c.Clearance), counted(c.Settings, "setting"))}
	if c.Least[1] > c.Least[0] {
		return append(lines, fmt.Sprintf("  Cut under size first: from %s to %s every setting needs; offer the upright up, mark, and file out to the full length as settings need it.", u.Place(c.Least[0]), u.Place(c.Least[1])))
	}
	return append(lines, "  No part of it is needed by every setting: cut for the setting that will be run first, under size, and file on from there.")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
