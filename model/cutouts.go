package model

import "stanchion/holes/plane"

// Rings returns the outline of a part and its cut-outs, all of which are edges of it; none
// without an outline.
func (p *Part) Rings() [][]plane.Point {
	if p.Outline == nil {
		return nil
	}
	return append([][]plane.Point{p.Outline}, p.Cutouts...)
}

// EdgeDistance returns the distance in mm from a point of the part's own frame to its nearest
// edge, of outline or cut-out, and whether there is metal at the point: there is none outside
// of the outline or in a cut-out. It is infinite without an outline.
func (p *Part) EdgeDistance(at plane.Point) (mm float64, metal bool) {
	return plane.EdgeDistanceOf(p.Rings(), at)
}

// InCutout reports whether a point of the part's own frame lies in one of its cut-outs.
func (p *Part) InCutout(at plane.Point) bool {
	for _, c := range p.Cutouts {
		if plane.Inside(c, at) {
			return true
		}
	}
	return false
}

// Area returns the area of a part in the side view without its cut-outs, mm², holes not taken
// off, and the middle of it in the part's own frame; 0 without an outline.
func (p *Part) Area() (mm2 float64, middle plane.Point) {
	return plane.AreaOf(p.Outline, p.Cutouts)
}

// borderMargin is how far a drawing's border stands off all holes on every side, in diameters of the
// largest: a plate's own edges are nearer on some side. Common practice, no source.
const borderMargin = 5

// BorderLike reports whether a part's outline looks like the border of the drawing that it was taken from:
// an upright rectangle that stands far off its holes on all four sides.
func (p *Part) BorderLike() bool {
	o := plane.Corners(p.Outline)
	if len(o) != 4 || len(p.Holes) < 2 {
		return false
	}
	lo, hi := plane.Box(o)
	for _, c := range o {
		if (c.X-lo.X > 1e-3 && hi.X-c.X > 1e-3) || (c.Z-lo.Z > 1e-3 && hi.Z-c.Z > 1e-3) {
			return false
		}
	}
	widest := 0.0
	var at []plane.Point
	for _, h := range p.Holes {
		widest, at = max(widest, h.D), append(at, h.At())
	}
	first, last := plane.Box(at)
	m := borderMargin * widest
	return first.X-lo.X > m && hi.X-last.X > m && first.Z-lo.Z > m && hi.Z-last.Z > m
}
