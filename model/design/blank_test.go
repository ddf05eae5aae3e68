package design

import (
	"math"
	"math/rand/v2"
	"testing"

	"stanchion/holes/plane"
)

func box(w, h, turn float64) []plane.Point {
	return plane.Pose{X: 7, Z: -3, Turn: turn}.ApplyAll([]plane.Point{{}, {X: w}, {X: w, Z: h}, {Z: h}})
}

// TestBlankByHand: a box of 300 by 100 mm, drawn at 30°, goes on 300 by 100 and 100 by 300, and misses 290 by 120 by 10 mm unless it is laid
// slanting, which makes it no narrower than 300 cos θ + 100 sin θ. A strip of 210 by 10 mm goes slanting on 160 by 160, whose diagonal is 226 mm:
// at 45° it takes (210+10)/√2 = 155.56. Two boxes of 300 by 100 with 6 mm between them want 206 by 300.
func TestBlankByHand(t *testing.T) {
	for _, c := range []struct {
		b    Blank
		ring []plane.Point
		over float64
		pair bool
	}{
		{Blank{300, 100}, box(300, 100, 30*plane.Deg), 0, false},
		{Blank{100, 300}, box(300, 100, 30*plane.Deg), 0, false},
		{Blank{310, 104}, box(300, 100, 1), -4, false},
		{Blank{290, 120}, box(300, 100, 1), 10, false},
		{Blank{160, 160}, box(210, 10, 0.2), 220/math.Sqrt2 - 160, false},
		{Blank{206, 300}, box(300, 100, 0.3), 0, true},
		{Blank{300, 205.9}, box(300, 100, 0.3), 0, false},
	} {
		l := c.b.lie(c.ring)
		if math.Abs(l.Over-c.over) > 1e-6 {
			t.Errorf("%v: over by %.4f mm at %.2f°, want %.4f", c.b, l.Over, l.Turn/plane.Deg, c.over)
		}
		lo, hi := plane.Box(plane.Pose{Turn: l.Turn}.ApplyAll(c.ring))
		if math.Abs(hi.X-lo.X-l.W) > 1e-9 || math.Abs(hi.Z-lo.Z-l.H) > 1e-9 || math.Abs(max(l.W-c.b.W, l.H-c.b.H)-l.Over) > 1e-9 {
			t.Errorf("%v: %+v is not how it lies", c.b, l)
		}
		if got := c.b.pair(c.ring); got != c.pair {
			t.Errorf("%v: pair %v, want %v", c.b, got, c.pair)
		}
	}
}

// TestBlankAgainstTurning turns outlines at random by small steps: none lies better than what is found, and the best of the steps is hardly worse.
func TestBlankAgainstTurning(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 60 {
		var ring []plane.Point
		for range 3 + rng.IntN(12) {
			ring = append(ring, plane.Point{X: rng.NormFloat64() * 100, Z: rng.NormFloat64() * 200})
		}
		b := Blank{100 + rng.Float64()*600, 100 + rng.Float64()*600}
		got := b.lie(ring)
		best := math.Inf(1)
		const n = 3600
		for i := range n {
			best = min(best, b.at(ring, math.Pi*float64(i)/n).Over)
		}
		// Within half a step, an extent of up to about 1500 mm changes by 1500·π/7200 mm.
		if got.Over > best+1e-9 || got.Over < best-0.7 {
			t.Fatalf("%v on %v: over by %.3f mm, turning finds %.3f", ring, b, got.Over, best)
		}
	}
}

// TestPairOnBlank: two triangles of half a box, end for end, take little more than the box.
func TestPairOnBlank(t *testing.T) {
	ring := []plane.Point{{}, {X: 200}, {Z: 300}}
	if !(Blank{215, 320}).pair(ring) || (Blank{199, 320}).pair(ring) || (Blank{202, 302}).pair(ring) {
		t.Error("a pair of triangles")
	}
}
