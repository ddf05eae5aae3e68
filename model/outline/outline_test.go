package outline

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

func hole(x, z float64) Hole { return Hole{plane.Point{X: x, Z: z}, 16, 10} }

// wide is how much larger the polygon around a circle of 16 mm is than the circle.
var wide = math.Tan(math.Pi/float64(corners(16))) / (math.Pi / float64(corners(16)))

func areaOf(t *testing.T, ring []plane.Point) float64 {
	t.Helper()
	mm2, _ := plane.Area(ring)
	if mm2 <= 0 {
		t.Fatalf("area %v", mm2)
	}
	return mm2
}

// TestConvexByHand: two holes make a capsule, 100·2·16 + 16²π; three at right angles 80 and 60 apart 80·60/2 + (80+60+100)·16 + 16²π.
func TestConvexByHand(t *testing.T) {
	round := math.Pi * 16 * 16 * wide
	for name, c := range map[string]struct {
		holes []Hole
		want  float64
	}{
		"capsule": {[]Hole{hole(0, 0), hole(100, 0)}, 3200 + round},
		"three":   {[]Hole{hole(0, 0), hole(80, 0), hole(0, 60)}, 2400 + 240*16 + round},
	} {
		if got := areaOf(t, Convex(c.holes)); math.Abs(got-c.want) > 7 {
			t.Errorf("%s: %.1f mm², want %.1f", name, got, c.want)
		}
		ring, ok := Cranked(c.holes, nil, Rules{Band: 20, Radius: 5})
		if !ok || math.Abs(areaOf(t, ring)-c.want) > 7 {
			t.Errorf("%s: the string encloses %v, %.1f mm², want %.1f", name, ok, areaOf(t, ring), c.want)
		}
	}
}

// TestCrankByHand: three holes at the corners of a right angle of 200 mm, and a square that reaches in to (40, 40), where a string bends without a
// radius. From the hull's 200²/2 + (400 + 200√2)·16 + 16²π = 31729.7 mm² it takes, on each side of the bisector, the quadrilateral of the
// end hole C, the hull's point of contact T, the middle M of its long side and the square's corner V, 8262.7 mm²; less the triangle of C, V and the string's
// point of contact S, 16·√(164.92² - 16²)/2 = 1313.2, and the sector from T (45°) to S (81.53°), 81.6.
func TestCrankByHand(t *testing.T) {
	hs := []Hole{hole(0, 0), hole(200, 0), hole(0, 200)}
	square := []KeepOut{{Polygon: []plane.Point{{X: 40, Z: 40}, {X: 300, Z: 40}, {X: 300, Z: 300}, {X: 40, Z: 300}}}}
	ring, ok := Cranked(hs, square, Rules{Band: 20})
	if want := 17993.8; !ok || math.Abs(areaOf(t, ring)-want) > 20 {
		t.Errorf("%v: %.1f mm², want %.1f", ok, areaOf(t, ring), want)
	}
	ordinary(t, ring, hs, square, 0.1)
	// With 10 mm kept and a cutter of 25 mm the bend is an arc of 25 mm whose nearest point to the corner is 10 mm off it.
	square[0].Away = 10
	ring, ok = Cranked(hs, square, Rules{Band: 20, Radius: 25})
	if !ok {
		t.Fatal("no crank with a radius")
	}
	ordinary(t, ring, hs, square, 25)
	if d, _ := plane.EdgeDistance(ring, plane.Point{X: 40, Z: 40}); math.Abs(d-10) > 0.3 {
		t.Errorf("the bend passes %.2f mm from the corner, want 10", d)
	}
}

// TestNoWay: a hole without its least distance, and a ring that shuts a hole in.
func TestNoWay(t *testing.T) {
	hs := []Hole{hole(0, 0), hole(200, 0)}
	box := func(x, z, w, h float64) KeepOut {
		return KeepOut{Polygon: []plane.Point{{X: x, Z: z}, {X: x + w, Z: z}, {X: x + w, Z: z + h}, {X: x, Z: z + h}}, Away: 5}
	}
	for name, outs := range map[string][]KeepOut{
		"too near":  {box(-5, 14, 10, 10)},
		"on a hole": {box(-5, -5, 10, 10)},
		"shut in":   {box(-60, -60, 10, 120), box(50, -60, 10, 120), box(-60, -60, 120, 10), box(-60, 50, 120, 10)},
	} {
		if ring, ok := Cranked(hs, outs, Rules{Band: 20, Radius: 4}); ok {
			t.Errorf("%s: %v", name, ring)
		}
		if _, ok := Slim([][]Hole{hs[:1], hs[1:]}, outs, Rules{Band: 20, Radius: 4}); ok {
			t.Errorf("%s: a slim one", name)
		}
	}
	// 17 mm are enough for a hole that may do with 10.
	outs := []KeepOut{box(-5, 17, 10, 10)}
	ring, ok := Cranked(hs, outs, Rules{Band: 20, Radius: 4})
	if !ok {
		t.Fatal("no way past 12 mm")
	}
	ordinary(t, ring, hs, outs, 4)
}

// TestSlimByHand: two pairs of holes 300 mm apart, each pair a capsule 40 mm long across a band of 24 mm: 2·(40·32 + 16²π) and the band between the capsules'
// straight sides, 24·(300 - 32), with four fillets of 6 mm, 4·6²(1 - π/4).
func TestSlimByHand(t *testing.T) {
	hs := []Hole{hole(0, -20), hole(0, 20), hole(300, -20), hole(300, 20)}
	ring, ok := Slim([][]Hole{hs[:2], hs[2:]}, nil, Rules{Band: 24, Radius: 6})
	if want := 2*(40*32+256*math.Pi*wide) + 24*268 + 4*36*(1-math.Pi/4); !ok || math.Abs(areaOf(t, ring)-want) > 0.02*want {
		t.Errorf("%v: %.1f mm², want %.1f", ok, areaOf(t, ring), want)
	}
	ordinary(t, ring, hs, nil, 6)
}

// TestLaws draws holes and keep-outs at random.
func TestLaws(t *testing.T) {
	drawn, cranked := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var hs []Hole
		for range rapid.IntRange(2, 9).Draw(t, "holes") {
			hs = append(hs, hole(rapid.Float64Range(0, 250).Draw(t, "x"), rapid.Float64Range(0, 400).Draw(t, "z")))
		}
		var outs []KeepOut
		for range rapid.IntRange(0, 3).Draw(t, "keep-outs") {
			at := plane.Point{X: rapid.Float64Range(-50, 300).Draw(t, "x"), Z: rapid.Float64Range(-50, 450).Draw(t, "z")}
			var ring []plane.Point
			for i := range 5 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 5)
				ring = append(ring, at.Add(plane.Point{X: cos, Z: sin}.Times(rapid.Float64Range(10, 90).Draw(t, "r"))))
			}
			outs = append(outs, KeepOut{ring, rapid.Float64Range(0, 20).Draw(t, "away")})
		}
		r := Rules{Band: rapid.Float64Range(16, 40).Draw(t, "band"), Radius: rapid.Float64Range(3, 8).Draw(t, "radius")}
		drawn++
		if ring, ok := Cranked(hs, outs, r); ok {
			cranked++
			ordinary(t, ring, hs, outs, r.Radius)
			if len(outs) == 0 && r.Band <= 32 {
				have, _ := plane.Area(ring)
				if hull, _ := plane.Area(Convex(hs)); math.Abs(have-hull) > 0.002*hull {
					t.Errorf("%.1f mm² with nothing in the way, the hull has %.1f", have, hull)
				}
			}
		}
		first := rapid.IntRange(1, len(hs)-1).Draw(t, "first")
		if ring, ok := Slim([][]Hole{hs[:first], hs[first:]}, outs, r); ok {
			ordinary(t, ring, hs, outs, r.Radius)
		}
	})
	if cranked*8 < drawn {
		t.Errorf("%d of %d were drawn", cranked, drawn)
	}
}

// TestLightenByHand: a plate of 200 by 100 mm takes, with 20 mm of metal all round, one opening of 30 mm radius less the chords' 0.13, so 29; the next beside
// it keeps 20 mm from it. Beside a hole of 8 mm in the middle there is room for smaller ones only, and where stress says no there is none.
func TestLightenByHand(t *testing.T) {
	ring := []plane.Point{{}, {X: 200}, {X: 200, Z: 100}, {Z: 100}}
	anywhere := func(plane.Point) bool { return true }
	o := Openings{Ligament: 20, Least: 10, Most: 60, Count: 8}
	got := Lighten(ring, nil, o, anywhere)
	if len(got) != 2 || got[0].Radius < 27 || got[0].Radius > 29 {
		t.Fatalf("%v", got)
	}
	hole := Round{plane.Point{X: 100, Z: 50}, 4}
	cases := map[string][]Round{
		"bare":        got,
		"with a hole": Lighten(ring, []Round{hole}, o, anywhere),
		"right half":  Lighten(ring, nil, o, func(p plane.Point) bool { return p.X > 100 }),
		"one small":   Lighten(ring, nil, Openings{Ligament: 20, Least: 10, Most: 12, Count: 1}, anywhere),
	}
	for name, all := range cases {
		if len(all) == 0 {
			t.Errorf("%s: none", name)
		}
		for i, r := range all {
			for _, q := range r.Polygon() {
				if mm, in := plane.EdgeDistance(ring, q); !in || mm < 20-0.01 {
					t.Errorf("%s: %v is %.2f mm from the edge", name, r, mm)
				}
				if name == "with a hole" && q.Distance(hole.At) < 24-0.01 {
					t.Errorf("%s: %v is too near to the hole", name, r)
				}
				if name == "right half" && q.X < 96-0.2 {
					t.Errorf("%s: %v is where stress is high", name, r)
				}
				for _, s := range all[:i] {
					if q.Distance(s.At) < s.Radius+20-0.01 {
						t.Errorf("%s: %v and %v are too near", name, r, s)
					}
				}
			}
		}
	}
	if one := cases["one small"]; len(one) != 1 || one[0].Radius != 12 {
		t.Errorf("%v", one)
	}
	if none := Lighten(ring, nil, Openings{Ligament: 45, Least: 10, Most: 60, Count: 8}, anywhere); len(none) != 0 {
		t.Errorf("%v", none)
	}
}
