package deck

import (
	"math"

	"stanchion/aero"
)

// A lattice as coarse as this is enough for what a wing and a body do to each other: 14 strips
// of 6 panels change lift by less than 1 % half a chord above the deck and higher, and the
// rise of the slope by less than 0.01.
const (
	stripsAcross = 6 // over half the span
	panelsAlong  = 2
	plateStrips  = 2 // above and below the wing each, of one panel along the chord
)

// newLattice lays a wing that lifts downwards at its place on the car. Free edges are drawn in
// by a quarter of a panel: G. J. Hough, J. Aircraft 10 (1973) 314-317.
func newLattice(p aero.Planform, at Place) *lattice {
	sin, cos := math.Sincos(at.Angle)
	// on turns a place along and across the chord line, from the quarter chord, onto the car.
	on := func(s, y, n float64) vec { return vec{at.X + s*cos - n*sin, y, at.Z + s*sin + n*cos} }
	plates := p.Plate.Height > 0 && p.Plate.Length > 0
	half := p.Span / 2
	width := half / (stripsAcross + 0.25)
	if plates {
		width = half / stripsAcross
	}
	tip := tipChord(p)
	l := new(lattice)
	for j := range stripsAcross {
		y1, y2 := width*float64(j), width*float64(j+1)
		along := func(y, part float64) vec {
			return on((p.Chord+(tip-p.Chord)*y/half)*(part-0.25), y, 0)
		}
		for i := range panelsAlong {
			bound, control := (float64(i)+0.25)/panelsAlong, (float64(i)+0.75)/panelsAlong
			v := vortex{at: along((y1+y2)/2, control), normal: vec{-sin, 0, cos}, wing: true}
			// From right to left, so that a positive circulation lifts downwards.
			l.add(v, along(y2, bound), along(y1, bound), along(y2, 1), along(y1, 1))
		}
	}
	if !plates {
		return l
	}
	// The wing lifts downwards, so Above is below it on the car.
	y := width * stripsAcross
	low, high := -p.Plate.Above-p.Plate.Height/2, -p.Plate.Above+p.Plate.Height/2
	edges := plateEdges(low, high)
	for j := range len(edges) - 1 {
		along := func(n, part float64) vec { return on(p.Plate.Length*part-tip/4-p.Plate.Ahead, y, n) }
		v := vortex{at: along((edges[j]+edges[j+1])/2, 0.75), normal: vec{0, 1, 0}}
		l.add(v, along(edges[j], 0.25), along(edges[j+1], 0.25), along(edges[j], 1), along(edges[j+1], 1))
	}
	return l
}

func tipChord(p aero.Planform) float64 {
	if p.TipChord == 0 {
		return p.Chord
	}
	return p.TipChord
}

// plateEdges returns the edges of a plate's strips, across the chord line, with the wing's
// own plane among them where the plate reaches it.
func plateEdges(low, high float64) []float64 {
	var all []float64
	if low < 0 && high > 0 {
		width := -low / (plateStrips + 0.25)
		for i := plateStrips; i > 0; i-- {
			all = append(all, -width*float64(i))
		}
		all = append(all, 0)
		width = high / (plateStrips + 0.25)
		for i := 1; i <= plateStrips; i++ {
			all = append(all, width*float64(i))
		}
		return all
	}
	width := (high - low) / (2*plateStrips + 0.5)
	for i := range 2*plateStrips + 1 {
		all = append(all, low+width*(float64(i)+0.25))
	}
	return all
}
