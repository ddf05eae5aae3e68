package outline

import (
	"math"

	"stanchion/holes/plane"
)

// Round is a round opening.
type Round struct {
	At     plane.Point
	Radius float64 // mm
}

// Polygon is a polygon around the opening.
func (r Round) Polygon() []plane.Point { return rounded(circle(r.At, r.Radius)) }

// Openings are what Lighten looks for.
type Openings struct {
	Ligament    float64 // mm of metal left to edges, holes and other openings
	Least, Most float64 // mm, radii
	Count       int     // at most
}

// lattice is how fine places for openings are looked for, mm.
const lattice = 4.0

// Lighten returns round openings in an outline, each the largest that there is room for beside those before it, in whole mm of radius. No part of one is where
// spare says no.
func Lighten(ring []plane.Point, rounds []Round, o Openings, spare func(plane.Point) bool) (found []Round) {
	lo, hi := plane.Box(ring)
	var places []plane.Point
	var room []float64
	var busy []plane.Point
	for x := lo.X; x <= hi.X; x += lattice {
		for z := lo.Z; z <= hi.Z; z += lattice {
			p := plane.Point{X: x, Z: z}
			mm, in := plane.EdgeDistance(ring, p)
			if !in {
				continue
			}
			if !spare(p) {
				busy = append(busy, p)
				continue
			}
			mm -= o.Ligament + over
			for _, h := range rounds {
				mm = min(mm, p.Distance(h.At)-h.Radius-o.Ligament-over)
			}
			if mm >= o.Least {
				places, room = append(places, p), append(room, mm)
			}
		}
	}
	for i, p := range places {
		for _, b := range busy {
			room[i] = min(room[i], p.Distance(b))
		}
	}
	for len(found) < o.Count {
		best, most := -1, 0.0
		for i := range places {
			if room[i] > most+1e-9 {
				best, most = i, room[i]
			}
		}
		if best < 0 || most < o.Least {
			break
		}
		r := Round{places[best], math.Floor(min(most, o.Most))}
		found = append(found, r)
		for i, p := range places {
			room[i] = min(room[i], p.Distance(r.At)-r.Radius-o.Ligament-2*over)
		}
	}
	return found
}
