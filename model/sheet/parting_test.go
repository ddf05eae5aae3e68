package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"stanchion/holes/plane"
)

// partsDirectly is Part by the polygon beyond the chord, place by place.
func partsDirectly(s *Shape, c *Chord, foot, head []plane.Point) (piece []plane.Point, ok bool) {
	if c.from < 0 || c.to < 0 || c.from == c.to || len(head) == 0 {
		return nil, false
	}
	piece = s.piece(c)
	in := plane.Inside(piece, head[0])
	for _, h := range head[1:] {
		if plane.Inside(piece, h) != in {
			return nil, false
		}
	}
	for _, f := range foot {
		if plane.Inside(piece, f) == in {
			return nil, false
		}
	}
	if !in {
		piece = s.piece(&Chord{A: c.B, B: c.A, from: c.to, to: c.from})
	}
	return piece, true
}

// TestPartingIsDirect: on outlines with bays, and with places on corners' heights and at corners, each chord parts as the polygon beyond it says, to the last
// digit of its area.
func TestPartingIsDirect(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	parted := 0
	for range 12 {
		var ring []plane.Point
		n := 8 + r.IntN(12)
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			far := math.Round(60 + 60*r.Float64())
			ring = append(ring, plane.Point{X: math.Round(far * cos), Z: math.Round(far * sin)})
		}
		s := &Shape{Outline: ring, Floor: NoFloor, Rounds: []Round{{At: plane.Point{X: 3, Z: 4}, Radius: 6}}}
		places := []plane.Point{ring[2], {X: ring[3].X - 5, Z: ring[3].Z}}
		for range 12 {
			places = append(places, plane.Point{X: math.Round(100*r.Float64() - 50), Z: math.Round(100*r.Float64() - 50)})
		}
		chords := s.Across(30)
		for k := range len(places) - 3 {
			foot, head := places[k:k+2], places[k+2:k+4]
			if k%3 == 0 {
				foot, head = places[k:k+1], places[k+1:k+2]
			}
			for i := range chords {
				c := &chords[i]
				piece, want := partsDirectly(s, c, foot, head)
				p, ok := s.Part(c, foot, head)
				if ok != want {
					t.Fatalf("chord from %v to %v, foot %v, head %v: %v, want %v", c.A, c.B, foot, head, ok, want)
				}
				if !ok {
					continue
				}
				parted++
				area, mass := plane.Area(piece)
				if p.Area != math.Abs(area) || p.Mass != mass {
					t.Fatalf("area %v about %v, want %v about %v", p.Area, p.Mass, area, mass)
				}
				if off := p.Centre().Add(p.Normal.Times(1e-4)); !plane.Inside(piece, off) && plane.Inside(piece, p.Centre().Sub(p.Normal.Times(1e-4))) {
					t.Fatalf("the normal %v points away from the piece", p.Normal)
				}
			}
		}
	}
	if parted < 1000 {
		t.Errorf("%d chords parted anything", parted)
	}
}
