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
