package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

func pt(x, z float64) plane.Point { return plane.Point{X: x, Z: z} }

func plate() *Shape {
	return &Shape{Outline: []plane.Point{pt(-50, 0), pt(50, 0), pt(50, 400), pt(-50, 400)}, Floor: NoFloor}
}

// By hand: 100 mm wide with a hole of 20 in the middle leaves two pieces of 40 mm; about the
// middle 2·(40³/12 + 40·30²) = 82,667 mm³.
func TestChord(t *testing.T) {
	s := plate()
	s.Rounds = []Round{{pt(0, 200), 10}}
	c, ok := s.NewChord(pt(-50, 200), pt(50, 200))
	if !ok || len(c.Spans) != 2 || math.Abs(c.Width-80) > 1e-9 || math.Abs(c.Middle-50) > 1e-9 || math.Abs(c.Inertia-82666.667) > 1e-2 || c.Far != 50 {
		t.Errorf("%+v", c)
	}
	if c.Gross() {
		t.Error("a chord through a hole is called gross")
	}
	// A slot of 10 along 40 mm, and a cut-out 30 wide, on the same line.
	s = plate()
	s.Slots = []Slot{{[]plane.Point{pt(-30, 180), pt(-30, 220)}, 5}}
	s.Cutouts = [][]plane.Point{{pt(0, 190), pt(30, 190), pt(30, 210), pt(0, 210)}}
	if c, _ = s.NewChord(pt(-50, 200), pt(50, 200)); math.Abs(c.Width-60) > 1e-9 {
		t.Errorf("%.3f mm of metal, want 60", c.Width)
	}
}

// Gap by hand: to an edge, a hole, a slot's line, a cut-out, and from inside each.
func TestGap(t *testing.T) {
	s := plate()
	s.Rounds = []Round{{pt(0, 100), 10}}
	s.Slots = []Slot{{[]plane.Point{pt(0, 200), pt(0, 240)}, 5}}
	s.Cutouts = [][]plane.Point{{pt(-20, 300), pt(20, 300), pt(20, 340), pt(-20, 340)}}
	for p, want := range map[plane.Point]float64{pt(-45, 50): 5, pt(0, 115): 5, pt(0, 100): -10, pt(12, 220): 7, pt(0, 250): 5, pt(0, 320): -20, pt(25, 320): 5, pt(60, 100): -10} {
		if got := s.Gap(p); math.Abs(got-want) > 1e-9 {
			t.Errorf("gap at %v is %g, want %g", p, got, want)
		}
	}
	s.Floor = 20
	if got := s.Gap(pt(0, 22)); math.Abs(got-2) > 1e-9 {
		t.Errorf("above the floor by %g, want 2", got)
	}
	// Hole 10 from slot end: 200-100-10-5 = 85; cut-out to slot 300-240-5 = 55; cut-out to edge 30; slot to edge 45.
	if got := s.Narrowest(); math.Abs(got-30) > 1e-9 {
		t.Errorf("narrowest %g, want 30", got)
	}
}

// A level cut of a cantilever, by hand: below a force F at height H by h, N is its upward part, V
// its part along the cut, M what it turns by; across the plate S bends by S h, and twists by S x.
func TestBear(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(r, name) }
		s := plate()
		z := num("z", 60, 330)
		c, ok := s.chord(pt(-50, z), pt(50, z), 3, 1)
		if !ok {
			r.Fatal("no chord")
		}
		p, ok := s.Part(&c, []plane.Point{pt(0, 20)}, []plane.Point{pt(-20, 350), pt(20, 370)})
		if !ok {
			r.Fatal("does not part")
		}
		l := Load{At: pt(num("x", -30, 30), 360), X: num("fx", -1e3, 1e3), Z: num("fz", -1e3, 1e3), Turn: num("m", -1e5, 1e5),
			Side: num("s", -500, 500), MX: num("mx", -1e4, 1e4), MZ: num("mz", -1e4, 1e4)}
		k := p.Bear(l, 40000)
		h := 360 - z
		for what, v := range map[string][2]float64{
			"normal": {k.Normal, l.Z}, "shear": {math.Abs(k.Shear), math.Abs(l.X)}, "turn": {k.Turn, l.Turn + l.At.X*l.Z - h*l.X}, "side": {k.Side, l.Side},
			"bend": {math.Abs(k.Bend), math.Abs(l.MX - h*l.Side)}, "twist": {math.Abs(k.Twist), math.Abs(l.MZ + l.At.X*l.Side)}} {
			if math.Abs(v[0]-v[1]) > 1e-6*(1+math.Abs(v[1])) {
				r.Errorf("%s %g, want %g", what, v[0], v[1])
			}
		}
	})
}

// The plate's own load counts by the part of it beyond the cut: with 1000 N spread over 400 mm and
// a cut at 100, 750 N whose middle is 150 mm above it.
func TestOwnLoad(t *testing.T) {
	s := plate()
	c, _ := s.chord(pt(-50, 100), pt(50, 100), 3, 1)
	p, _ := s.Part(&c, []plane.Point{pt(0, 20)}, []plane.Point{pt(0, 380)})
	k := p.Bear(Load{OwnX: 100, OwnZ: -1000, OwnSide: 200}, 40000)
	for what, v := range map[string][2]float64{"normal": {k.Normal, -750}, "turn": {k.Turn, -75 * 150}, "side": {k.Side, 150}, "bend": {math.Abs(k.Bend), 150 * 150}} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%s %g, want %g", what, v[0], v[1])
		}
	}
}

// Stresses by hand in 100 × 8: 8000 N / 800 mm² = 10 MPa; 400,000 N·mm · 50/(8·100³/12) = 30;
// 6·16,000/(100·64) = 15; torsion 3.1606·16,000/(100·64) = 7.9016; √((10+30+15)² + 3(5+7.9016)²).
func TestStress(t *testing.T) {
	c, _ := plate().NewChord(pt(-50, 200), pt(50, 200))
	s := c.Stress(Cut{Normal: 8000, Turn: 400e3, Shear: 4000, Bend: 16000, Twist: 16000}, 8)
	for what, v := range map[string][2]float64{"mean": {s.Mean, 10}, "turn": {s.Turn, 30}, "bend": {s.Bend, 15}, "shear": {s.Shear, 5}, "twist": {s.Twist, 7.9016},
		"equivalent": {s.Equivalent(), math.Sqrt(55*55 + 3*12.9016*12.9016)}} {
		if math.Abs(v[0]-v[1]) > 1e-3 {
			t.Errorf("%s %g, want %g", what, v[0], v[1])
		}
	}
}

// τ = T/(k₂ b t²) with k₂ 0.208, 0.231, 0.258, 0.312, 0.333 for b/t 1, 1.5, 2.5 … 10, ∞.
// Source: S. P. Timoshenko and J. N. Goodier, "Theory of Elasticity" (1951), art. 94, table.
func TestTorsion(t *testing.T) {
	for ratio, want := range map[float64]float64{1: 0.208, 1.5: 0.231, 2: 0.246, 3: 0.267, 4: 0.282, 10: 0.312} {
		if got := 1 / torsion(ratio*8, 8); math.Abs(got/want-1) > 0.006 {
			t.Errorf("b/t %g: %.4f, want %g", ratio, got, want)
		}
		if a, b := torsion(8, ratio*8), torsion(ratio*8, 8)/ratio; ratio == 1 && math.Abs(a-b) > 1e-9 {
			t.Error("a square is not alike both ways")
		}
	}
}

// A swan neck with an arch of 3 mm: no lattice of 6 mm has a point in it, the chords across do.
func TestThinArchIsFound(t *testing.T) {
	s := &Shape{Floor: NoFloor, Outline: []plane.Point{pt(0, 0), pt(60, 0), pt(60, 200), pt(200, 200), pt(200, 100), pt(260, 100), pt(260, 203), pt(0, 203)}}
	foot, head := []plane.Point{pt(20, 20), pt(40, 40)}, []plane.Point{pt(220, 120), pt(240, 120)}
	narrow := math.Inf(1)
	for _, c := range s.Across(6) {
		if p, ok := s.Part(&c, foot, head); ok {
			narrow = min(narrow, p.Width)
		}
	}
	if math.Abs(narrow-3) > 0.01 {
		t.Errorf("narrowest parting chord %.3f mm, want 3", narrow)
	}
}

// Chords through lattice points are edge to edge: their ends lie on edges, their points in metal.
func TestLatticeChordsAreInMetal(t *testing.T) {
	s := plate()
	s.Rounds = []Round{{pt(-20, 100), 5}, {pt(20, 100), 8}}
	s.Cutouts = [][]plane.Point{{pt(-20, 200), pt(20, 210), pt(0, 300)}}
	all := s.Lattice(9)
	if len(all) < 300 {
		t.Fatalf("%d chords", len(all))
	}
	for _, c := range all {
		if math.Abs(s.Gap(c.A)) > 1e-6 || math.Abs(s.Gap(c.B)) > 1e-6 {
			t.Fatalf("chord %v to %v does not end at edges", c.A, c.B)
		}
		for _, u := range [3]float64{0.2, 0.5, 0.8} {
			if !s.Inside(c.At(u * c.Length())) {
				t.Fatalf("chord %v to %v leaves the metal", c.A, c.B)
			}
		}
	}
}
