package outline

import (
	"math"

	"stanchion/holes/plane"
)

type fails interface {
	Helper()
	Errorf(string, ...any)
}

// ordinary holds an outline to what every outline keeps: it goes counter-clockwise without crossing itself, every hole has its least distance, and its
// usual one where no keep-out is nearer than that, no keep-out is nearer than it may be, and a cutter of the radius can run along
// all of it.
func ordinary(t fails, ring []plane.Point, hs []Hole, outs []KeepOut, radius float64) {
	t.Helper()
	if at, crosses := plane.Knot(ring); crosses {
		t.Errorf("crosses itself at %v", at)
	}
	if mm2, _ := plane.Area(ring); mm2 <= 0 {
		t.Errorf("area %v", mm2)
	}
	for _, h := range hs {
		mm, in := plane.EdgeDistance(ring, h.At)
		room := math.Inf(1)
		for _, o := range outs {
			d, _ := plane.EdgeDistance(o.Polygon, h.At)
			room = min(room, d-max(o.Away, radius)*1.01)
		}
		if want := min(h.Usual, max(h.Least, room-2*slack)); !in || mm < want-0.05 {
			t.Errorf("hole at %v is %.2f mm from the edge (in it: %v), want %.2f", h.At, mm, in, want)
		}
	}
	for _, o := range outs {
		if d := plane.Distance(ring, o.Polygon).Distance; d < o.Away-0.02 || plane.Overlap(ring, o.Polygon) {
			t.Errorf("%.2f mm from a keep-out, want %.2f", d, o.Away)
		}
	}
	for a, b := range plane.Edges(ring) {
		long := a.Distance(b)
		out := plane.Point{X: b.Z - a.Z, Z: a.X - b.X}.Times(1 / long)
		for _, part := range []float64{0.25, 0.5, 0.75} {
			if part != 0.5 && long < radius { // a chord of an arc
				continue
			}
			at := a.Add(b.Sub(a).Times(part))
			best := 0.0
			for i := 0; i <= 32 && best < radius-0.3; i++ { // square to the edge first; at a nub that chords cut off it leans
				turn := float64((i+1)/2*(1-i%2*2)) * 5 * plane.Deg
				if mm, in := plane.EdgeDistance(ring, at.Add(plane.Pose{Turn: turn}.Apply(out).Times(radius))); !in {
					best = max(best, mm)
				}
			}
			if best < radius-0.3 {
				t.Errorf("a cutter of %.1f mm does not reach the edge from %v to %v: %.2f mm", radius, a, b, best)
			}
		}
	}
}
