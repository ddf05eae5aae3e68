package sheet

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

func width(t *testing.T, what string, c Chord, ok bool, want float64) {
	t.Helper()
	if !ok || math.Abs(c.Width-want) > 1e-3 {
		t.Errorf("%s: %v, %.4f mm of metal, by hand %.4f", what, ok, c.Width, want)
	}
}

// By hand, a plate of 100 by 400 with a slot of 10 that leans by 45°, from (-20, 180) to (20, 220): level cuts
// leave 100 less 10·√2 at its middle, less the round end's chord of 10 at its end, and all of it above.
func TestLeaningSlot(t *testing.T) {
	s := plate()
	s.Slots = []Slot{{[]plane.Point{pt(-20, 180), pt(20, 220)}, 5}}
	c, ok := s.NewChord(pt(-50, 200), pt(50, 200))
	width(t, "across its middle", c, ok, 100-10*math.Sqrt2)
	c, ok = s.NewChord(pt(-50, 180), pt(50, 180))
	width(t, "at its end", c, ok, 100-5-5*math.Sqrt2) // half a circle to the front, the slanting side to the rear
	c, ok = s.NewChord(pt(-50, 226), pt(50, 226))
	width(t, "above it", c, ok, 100)
	// A point 12 mm off the slot's line, square to it: 7 mm to the slot's side and on to the plate's edge.
	p := pt(0, 200).Add(pt(-1, 1).Times(12 / math.Sqrt2))
	if got := s.Gap(p); math.Abs(got-7) > 1e-9 {
		t.Errorf("gap %.4f, by hand 7", got)
	}
	if d, edge := s.cast(p, pt(1, -1).Times(1/math.Sqrt2), true); math.Abs(d-7) > 1e-9 || edge != -1 {
		t.Errorf("to the slot's side %.4f mm, edge %d; by hand 7", d, edge)
	}
	if d, _ := s.cast(pt(-20, 100), pt(0, 1), true); math.Abs(d-75) > 1e-9 {
		t.Errorf("up to the slot's end %.4f mm, by hand 80 − 5", d)
	}
	if d, edge := s.cast(pt(-20, 100), pt(0, 1), false); math.Abs(d-300) > 1e-9 || edge != 2 {
		t.Errorf("up to the plate's edge %.4f mm, edge %d; by hand 300", d, edge)
	}
}

// By hand: rays to a circle, to a corner's edges, to a cut-out and to the floor.
func TestCasts(t *testing.T) {
	s := plate()
	s.Rounds = []Round{{pt(0, 100), 10}}
	s.Cutouts = [][]plane.Point{{pt(-10, 300), pt(10, 300), pt(10, 320), pt(-10, 320)}}
	s.Floor = 30
	for _, c := range []struct {
		from, way plane.Point
		want      float64
	}{
		{pt(-40, 100), pt(1, 0), 30}, {pt(-40, 106), pt(1, 0), 32}, {pt(-40, 111), pt(1, 0), 90},
		{pt(0, 200), pt(0, 1), 100}, {pt(0, 200), pt(0, -1), 90}, {pt(20, 200), pt(0, -1), 170}, {pt(0, 200), pt(-0.6, 0.8), 50 / 0.6},
	} {
		if d, _ := s.cast(c.from, c.way, true); math.Abs(d-c.want) > 1e-9 {
			t.Errorf("from %v along %v: %.4f mm, by hand %.4f", c.from, c.way, d, c.want)
		}
	}
	if lo, hi := s.Box(); lo != pt(-50, 30) || hi != pt(50, 400) {
		t.Errorf("box %v to %v", lo, hi)
	}
}

// Ligaments are as narrow as they are: 6 mm between a hole and an edge, 4 between two holes, 5 between a
// cut-out's corner and an edge, 3 between two parts of an outline.
func TestLigamentsByHand(t *testing.T) {
	least := func(s *Shape, near plane.Point) float64 {
		best := math.Inf(1)
		for _, c := range s.Ligaments(4) {
			if c.Place.Distance(near) < 6 {
				best = min(best, c.Width)
			}
			if len(c.Spans) != 1 || math.Abs(c.Width-c.Length()) > 1e-9 {
				t.Errorf("%v to %v is no single ligament", c.A, c.B)
			}
		}
		return best
	}
	s := plate()
	s.Rounds = []Round{{pt(-39, 100), 5}, {pt(0, 200), 8}, {pt(20, 200), 8}}
	s.Cutouts = [][]plane.Point{{pt(0, 300), pt(45, 320), pt(0, 340)}}
	s.Slots = []Slot{{[]plane.Point{pt(-20, 250), pt(-20, 270)}, 5}}
	for _, c := range []struct {
		near plane.Point
		want float64
	}{{pt(-47, 100), 6}, {pt(10, 200), 4}, {pt(47.5, 320), 5}, {pt(-37.5, 260), 25}} {
		if got := least(s, c.near); math.Abs(got-c.want) > 0.05 {
			t.Errorf("at %v %.3f mm, by hand %g", c.near, got, c.want)
		}
	}
	necked := &Shape{Floor: NoFloor, Outline: []plane.Point{pt(-50, 0), pt(50, 0), pt(50, 100), pt(1, 100), pt(1, 110), pt(50, 110), pt(50, 200), pt(-50, 200), pt(-50, 110), pt(-2, 110), pt(-2, 100), pt(-50, 100)}}
	if got := least(necked, pt(-0.5, 105)); math.Abs(got-3) > 0.05 {
		t.Errorf("neck %.3f mm, by hand 3", got)
	}
}

// A strip of 40 mm with a hole of 10: 30 mm are left of it through the middle, in two pieces of 15 whose
// middle is the hole's; beside an edge nearer by 5 mm, pieces of 10 and 20.
func TestAcrossRoundsByHand(t *testing.T) {
	for off, want := range map[float64][2]float64{0: {15, 15}, 5: {20, 10}} {
		s := &Shape{Outline: []plane.Point{pt(-20, 0), pt(20, 0), pt(20, 200), pt(-20, 200)}, Floor: NoFloor, Rounds: []Round{{pt(off, 100), 5}}}
		all := s.AcrossRounds()
		if len(all) != fan {
			t.Fatalf("%d chords, want %d", len(all), fan)
		}
		c := all[0]
		width(t, "level", c, true, 30)
		a, b := c.Spans[0].To-c.Spans[0].From, c.Spans[1].To-c.Spans[1].From
		if math.Abs(max(a, b)-max(want[0], want[1])) > 1e-6 || c.Place != pt(off, 100) || math.Abs(c.Length()-40) > 1e-6 {
			t.Errorf("%+v", c)
		}
		// At 45° it is longer by √2 and has the same hole in it.
		width(t, "slanting", all[fan/4], true, 40*math.Sqrt2-10)
	}
}

// Lines through two places: whole, moved aside, and not at all where they leave the outline between the two.
func TestLinesByHand(t *testing.T) {
	s := plate()
	s.Rounds = []Round{{pt(-20, 100), 5}, {pt(20, 100), 5}}
	c, ok := s.Line(pt(-20, 100), pt(20, 100))
	width(t, "through both", c, ok, 80)
	c, ok = s.Row(pt(-20, 100), pt(20, 100), 3)
	width(t, "3 mm aside", c, ok, 100-4*4) // half a chord of the circle is 4 there
	if math.Abs(c.A.Z-103) > 1e-9 {
		t.Errorf("it lies at %v", c.A)
	}
	p, ok := s.Part(&c, []plane.Point{pt(-20, 100), pt(20, 100)}, []plane.Point{pt(0, 300)})
	if !ok || math.Abs(p.Area-29700) > 1e-6 || p.Mass.Distance(pt(0, 251.5)) > 1e-6 {
		t.Errorf("%v, %.1f mm² about %v", ok, p.Area, p.Mass)
	}
	fork := &Shape{Floor: NoFloor, Outline: []plane.Point{pt(0, 0), pt(20, 0), pt(20, 100), pt(60, 100), pt(60, 0), pt(90, 0), pt(90, 200), pt(0, 200)}}
	if _, ok := fork.Line(pt(10, 50), pt(75, 50)); ok {
		t.Error("a line across the gap of a fork")
	}
	legs := fork.Level(50)
	if len(legs) != 2 || math.Abs(legs[0].Width-20) > 1e-9 || math.Abs(legs[1].Width-30) > 1e-9 {
		t.Errorf("legs %+v", legs)
	}
}

// Own loads across the plane bend and twist a cut about its middle: 200 N over a plate whose piece beyond is
// three quarters, 40 mm to one side and 150 above.
func TestOwnLoadAside(t *testing.T) {
	s := &Shape{Outline: []plane.Point{pt(0, 0), pt(80, 0), pt(80, 400), pt(0, 400)}, Floor: NoFloor}
	c, _ := s.chord(pt(0, 100), pt(80, 100), 3, 1)
	p, ok := s.Part(&c, []plane.Point{pt(40, 20)}, []plane.Point{pt(40, 380)})
	if !ok {
		t.Fatal("it parts nothing")
	}
	p.Mass = pt(60, 250) // as if the metal lay 20 mm further to the rear
	k := p.Bear(Load{At: pt(10, 300), OwnX: 80, OwnZ: -400, OwnSide: 200}, 32000)
	// r from the cut's middle at (40, 100) to (60, 250): turn 20·(−300) − 150·60, bend 150·150, twist 20·150.
	for what, v := range map[string][2]float64{"turn": {k.Turn, 20*-300 - 150*60}, "bend": {math.Abs(k.Bend), 150 * 150}, "twist": {math.Abs(k.Twist), 20 * 150}, "normal": {k.Normal, -300}, "shear": {math.Abs(k.Shear), 60}} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%s %.1f, by hand %.1f", what, v[0], v[1])
		}
	}
	if k := p.Bear(Load{OwnZ: -400}, 0); k.Normal != 0 {
		t.Errorf("with no area to spread it over %.1f", k.Normal)
	}
}

// Own loads add to the head's along the cut, and a slanting cut finds its holes: from (-50, 50) to (50, 150)
// through a hole of 20 at its middle, 141.42 mm less 20; and the narrowest of hole to hole and slot to edge.
func TestMoreByHand(t *testing.T) {
	s := plate()
	c, _ := s.chord(pt(-50, 100), pt(50, 100), 3, 1)
	p, _ := s.Part(&c, []plane.Point{pt(0, 20)}, []plane.Point{pt(0, 380)})
	if k := p.Bear(Load{X: 100, OwnX: 80, Side: 10, OwnSide: 20, Z: 5, OwnZ: 8}, 40000); math.Abs(math.Abs(k.Shear)-160) > 1e-9 || math.Abs(k.Side-25) > 1e-9 || math.Abs(k.Normal-11) > 1e-9 {
		t.Errorf("%+v, by hand 160, 25, 11", k)
	}
	s.Rounds = []Round{{pt(0, 100), 10}}
	c, ok := s.NewChord(pt(-50, 50), pt(50, 150))
	width(t, "slanting", c, ok, 100*math.Sqrt2-20)
	if math.Abs(c.Spans[0].To-(50*math.Sqrt2-10)) > 1e-9 {
		t.Errorf("%+v", c.Spans)
	}
	c, ok = s.NewChord(pt(-50, 150), pt(50, 50))
	width(t, "slanting the other way", c, ok, 100*math.Sqrt2-20)
	s.Rounds = append(s.Rounds, Round{pt(17, 100), 4})
	if got := s.Narrowest(); math.Abs(got-3) > 1e-9 {
		t.Errorf("narrowest %.3f, by hand 17 − 10 − 4", got)
	}
	s.Slots = []Slot{{[]plane.Point{pt(-20, 200), pt(-43, 200)}, 5}}
	if got := s.Narrowest(); math.Abs(got-2) > 1e-9 {
		t.Errorf("narrowest %.3f, by hand 7 − 5", got)
	}
}
