package aero

import (
	"math"
)

// Planform is the shape of a wing seen from above, with its end plates. The
// quarter-chord line is straight and square to the flow.
type Planform struct {
	Span     float64 // m, between the end plates
	Chord    float64 // m, at the middle
	TipChord float64 // m; 0 for the same as Chord
	Twist    float64 // rad, of the tip against the middle, in the sense of more lift; it grows linearly
	Plate    Plate
}

// Plate is one of the two equal end plates, flat and along the flow. The zero
// Plate is none.
type Plate struct {
	Length float64 // m, along the chord
	Height float64 // m, the full height
	Ahead  float64 // m, from the wing's leading edge forward to the plate's
	Above  float64 // m, from the chord line to the middle of the plate, on the side to which the wing lifts
}

func (p Planform) tip() float64 {
	if p.TipChord == 0 {
		return p.Chord
	}
	return p.TipChord
}

// Area returns the area of the wing without its plates, m².
func (p Planform) Area() float64 { return p.Span * (p.Chord + p.tip()) / 2 }

// MeanChord returns the mean aerodynamic chord, m, which moments are given on:
// ∫c² dy / ∫c dy.
func (p Planform) MeanChord() float64 {
	a, b := p.Chord, p.tip()
	return 2 * (a*a + a*b + b*b) / (3 * (a + b))
}

// AspectRatio returns span²/area, without the plates.
func (p Planform) AspectRatio() float64 { return p.Span * p.Span / p.Area() }

// stripEdges returns the strips' edges over half the span, m.
func (p Planform) stripEdges() []float64 {
	n := float64(stripsAcross)
	width := p.Span / 2 / (n + 0.25)
	if p.Plate.Height > 0 {
		width = p.Span / 2 / n
	}
	edges := make([]float64, stripsAcross+1)
	for i := range edges {
		edges[i] = width * float64(i)
	}
	return edges
}

func (p Planform) chordAt(y float64) float64 {
	return p.Chord + (p.tip()-p.Chord)*min(1, 2*y/p.Span)
}

// plateEdges returns the heights of the plate's strip edges, m, from the
// lowest up; the wing's own plane is one of them, so that vortices meet.
func (p Planform) plateEdges() []float64 {
	low, high := p.Plate.Above-p.Plate.Height/2, p.Plate.Above+p.Plate.Height/2
	var zs []float64
	across := func(from, to float64, inset bool) {
		n := max(3, min(8, int(math.Ceil((to-from)/(p.Span/2/stripsAcross)))))
		width := (to - from) / float64(n)
		if inset {
			width = (to - from) / (float64(n) + 0.25)
		}
		for i := 1; i <= n; i++ {
			zs = append(zs, width*float64(i))
		}
	}
	// Upwards from the wing, then downwards, each from the wing's plane.
	if high > 0 {
		across(max(0, low), high, true)
		for i := range zs {
			zs[i] += max(0, low)
		}
	}
	up := append([]float64(nil), zs...)
	zs = nil
	if low < 0 {
		across(max(0, -high), -low, true)
		for i := range zs {
			zs[i] = -(zs[i] + max(0, -high))
		}
	}
	var all []float64
	for i := len(zs) - 1; i >= 0; i-- {
		all = append(all, zs[i])
	}
	switch {
	case low <= 0 && high >= 0:
		all = append(all, 0)
	case low > 0:
		all = append(all, low)
	default:
		all = append(all, high)
	}
	return append(all, up...)
}
