package outline

import (
	"math"

	"stanchion/holes/plane"
)

// space is where a plate may be.
type space struct {
	outs   []barrier
	rounds []disc        // at corners of keep-outs, so that a string around them bends no tighter than the cutter's radius
	bends  []plane.Point // the corners that a string may bend round
	narrow []disc        // holes that have no room for a whole band beside them, with the room that they have
	half   float64       // mm, half of the least width of a band
	lo, hi plane.Point   // of the holes
}

// barrier is a keep-out with the box around it.
type barrier struct {
	KeepOut
	lo, hi plane.Point
}

func newSpace(hs []Hole, outs []KeepOut, r Rules) *space {
	s := &space{half: r.Band / 2}
	for _, o := range outs {
		o.Away = max(o.Away, 3*rounding) // to touch is too near
		o.Polygon = plane.Corners(o.Polygon)
		if len(o.Polygon) < 3 {
			continue
		}
		lo, hi := plane.Box(o.Polygon)
		s.outs = append(s.outs, barrier{o, lo, hi})
		s.round(o, r.Radius)
	}
	var at []plane.Point
	for _, h := range hs {
		at = append(at, h.At)
		if room := min(h.Usual, s.room(h.At)-slack); room < s.half {
			s.narrow = append(s.narrow, disc{h.At, room})
		}
	}
	s.lo, s.hi = plane.Box(at)
	return s
}

// round puts circles at the outward corners of a keep-out: about the corner where the distance kept is at least the
// cutter's radius, else of that radius and so far in that they reach just as far beyond the corner.
func (s *space) round(o KeepOut, radius float64) {
	area, _ := plane.Area(o.Polygon)
	side := math.Copysign(1, area)
	n := len(o.Polygon)
	for i, v := range o.Polygon {
		in, out := v.Sub(o.Polygon[(i+n-1)%n]), o.Polygon[(i+1)%n].Sub(v)
		if side*cross(in, out) <= 0 {
			continue
		}
		in, out = in.Times(1/in.Length()), out.Times(1/out.Length())
		d := disc{v, o.Away}
		if o.Away < radius {
			inward := out.Sub(in)
			if l := inward.Length(); l > 1e-9 {
				d.at = v.Add(inward.Times((radius - o.Away) / l))
			}
			d.r = radius
		}
		s.rounds = append(s.rounds, d)
		s.bends = append(s.bends, circle(d.at, d.r)...)
	}
}

// room is how far a place is from what a plate must keep out of, mm; below 0 within it.
func (s *space) room(p plane.Point) float64 {
	room := math.Inf(1)
	for i := range s.outs {
		o := &s.outs[i]
		dx, dz := max(o.lo.X-p.X, p.X-o.hi.X, 0), max(o.lo.Z-p.Z, p.Z-o.hi.Z, 0)
		if r := room + o.Away + over; r <= 0 || dx*dx+dz*dz >= r*r {
			continue
		}
		mm, inside := plane.EdgeDistance(o.Polygon, p)
		if inside {
			mm = -mm
		}
		room = min(room, mm-o.Away-over)
	}
	for _, d := range s.rounds {
		dx, dz, r := p.X-d.at.X, p.Z-d.at.Z, room+d.r+over
		if r > 0 && dx*dx+dz*dz < r*r {
			room = p.Distance(d.at) - d.r - over
		}
	}
	return room
}

// wide is how far from its middle line a band at a place reaches, mm.
func (s *space) wide(p plane.Point) float64 {
	r := s.half
	for _, d := range s.narrow {
		r = min(r, d.r+p.Distance(d.at)/2)
	}
	return r
}

// free is by how much there is more room at a place than a band needs, mm.
func (s *space) free(p plane.Point) float64 { return s.room(p) - s.wide(p) - slack + 1e-9 }

// clear reports whether a band may run straight from one place to another.
func (s *space) clear(a, b plane.Point) bool {
	long := a.Distance(b)
	for at := 0.0; ; {
		p := a.Add(b.Sub(a).Times(at / max(long, 1e-12)))
		f := s.free(p)
		if f < 0 {
			return false
		}
		if at >= long {
			return true
		}
		at = min(long, at+max(f/2, 0.5)) // room changes by no more than the way, and width by half of it
	}
}

func cross(a, b plane.Point) float64 { return a.X*b.Z - a.Z*b.X }
