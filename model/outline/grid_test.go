package outline

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// TestGridKnowsRoom: what the grid knows of each place is on the right side of nought and promises no more than there is, and where it says that a way is clear without
// looking, it is.
func TestGridKnowsRoom(t *testing.T) {
	hs := []Hole{hole(0, 0), hole(180, 260)}
	outs := []KeepOut{{Polygon: lens(160, 60), Away: 12}, {Polygon: []plane.Point{{X: 60, Z: 90}, {X: 240, Z: 120}, {X: 90, Z: 170}}, Away: 5}}
	s := newSpace(hs, outs, Rules{Band: 40, Radius: 5})
	g := s.grid()
	told, clear := 0, 0
	for n, by := range g.by {
		have := s.free(g.place(n))
		if (by >= 0) != (have >= 0) || math.Abs(by) > math.Abs(have)+1e-6 {
			t.Fatalf("at %v: %v mm, have %v", g.place(n), by, have)
		}
		if by != have {
			told++
		}
		if m := n + g.w + 2; m < len(g.by) && n%g.w+2 < g.w && by >= 0 && g.by[m] >= 0 && g.clear(n, m) {
			clear++
			if !s.clear(g.place(n), g.place(m)) {
				t.Fatalf("from %v to %v is not clear", g.place(n), g.place(m))
			}
		}
	}
	if told < len(g.by)/3 || clear < len(g.by)/3 {
		t.Errorf("%d of %d places were told from the one before, %d ways clear", told, len(g.by), clear)
	}
}
