package strength

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// window is a cut-out 40 mm wide and 100 mm high in the middle of a bar.
func window(z float64) [][]plane.Point {
	return [][]plane.Point{{{X: -20, Z: z}, {X: 20, Z: z}, {X: 20, Z: z + 100}, {X: -20, Z: z + 100}}}
}

// By hand at a bar of 100 by 300 mm with a window from z 150 to 250: a bolt at z 130 that pushes
// up tears out over 20 − 4.2 mm, as if the plate ended there, and is 20 mm from an edge. Beside the
// window, 35 mm off the middle, 15 mm are left on either side: to the bar's edge and to the window.
func TestEdgesOfACutout(t *testing.T) {
	p := barPart(100, 8, 300)
	p.part.Cutouts = window(150)
	up, rear := plane.Point{Z: 1}, plane.Point{X: 1}
	for _, c := range []struct {
		from, way plane.Point
		want      float64
	}{
		{plane.Point{Z: 130}, up, 20},
		{plane.Point{Z: 130}, plane.Point{Z: -1}, 130},
		{plane.Point{X: 30, Z: 130}, up, 170}, // past the window
		{plane.Point{X: 35, Z: 200}, rear, 15},
		{plane.Point{X: 35, Z: 200}, plane.Point{X: -1}, 15},
		{plane.Point{Z: 200}, up, 0}, // in the window
		{plane.Point{Z: 270}, plane.Point{Z: -1}, 20},
	} {
		if got := toEdge(p.part.Rings(), c.from, c.way); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("from %v along %v: %g mm, by hand %g", c.from, c.way, got, c.want)
		}
	}

	m, _ := lookup("EN AW-6082-T6", 8)
	h := holes.Hole{ID: "h", Z: 130, D: 8.4}
	p.part.Holes = []holes.Hole{h}
	p.known, p.material, p.near = true, m, neighbours(p.part.Holes)
	f := &Analysis{
		Car:        &model.Car{Joints: []model.Joint{{Joint: holes.Joint{Name: "head"}}}, Parts: []model.Part{*p.part, {}}},
		plates:     []plate{p, {}},
		bolts:      []bolt{{Size: sizeOf("M8"), Grade: gradeOf("8.8"), sized: true, classed: true}},
		LoadFactor: 1,
	}
	found := map[string]Check{}
	f.holeChecks(&Body{Bolts: []BoltLoad{{Up: 1000}}, Pairs: []holes.Pair{{}}}, 0, 0, 0, func(c Check) { found[c.What] = c })
	if got, want := found["tear-out"].Capacity, 2*8*15.8*m.Proof/math.Sqrt(3)/m.factor; math.Abs(got-want) > 1e-6*want {
		t.Errorf("tear-out %.1f N, by hand %.1f", got, want)
	}
	if got := found["edge distance"].Capacity; math.Abs(got-20) > 1e-9 {
		t.Errorf("edge distance %g mm, by hand 20", got)
	}
}

// By hand: in the window's height 30 mm are left on either side, whose middle is the bar's; a hole
// beside it does not change what is there without regard to holes. A window between two of the even
// stations is still met, by cuts at its own corners.
func TestSectionsOfACutout(t *testing.T) {
	p := barPart(100, 8, 300)
	p.part.Cutouts = window(150)
	p.slice()
	s, ok := p.section(200, false)
	if !ok || math.Abs(s.width-60) > 1e-9 || math.Abs(s.middle) > 1e-9 || s.pieces != 2 {
		t.Errorf("%+v, by hand 60 mm about the middle in two pieces", s)
	}
	// Two strips of 30 mm, each 35 mm off: 2·(30³/12 + 30·35²) mm³.
	if want := 2 * (30.0*30*30/12 + 30*35*35); math.Abs(s.inertia-want) > 1e-6*want {
		t.Errorf("%g mm³, by hand %g", s.inertia, want)
	}
	if s, _ := p.section(140, true); math.Abs(s.width-100) > 1e-9 || s.pieces != 1 {
		t.Errorf("below it: %+v", s)
	}
	small := barPart(100, 8, 300)
	small.part.Cutouts = [][]plane.Point{{{X: 0, Z: 142}, {X: 2, Z: 144}, {X: 0, Z: 146}}} // stations are 9.375 mm apart
	small.slice()
	met := false
	for _, s := range small.sections {
		met = met || s.pieces > 1
	}
	if !met {
		t.Error("no cut meets the small window")
	}
}

// The plate of the demo car weighs less by its window, and a straight cut that meets it in two pieces
// leaves its strength open.
func TestPlateWithACutout(t *testing.T) {
	whole := frame(t, "coupe")
	car := *whole.Car
	car.Parts = append([]model.Part(nil), car.Parts...)
	car.Parts[1].Cutouts = [][]plane.Point{{{X: 20, Z: 150}, {X: 60, Z: 150}, {X: 60, Z: 350}, {X: 20, Z: 350}}}
	cut, err := New(&car)
	if err != nil {
		t.Fatal(err)
	}
	if lost := whole.plates[1].area - cut.plates[1].area; math.Abs(lost-8000) > 1e-6 {
		t.Errorf("%g mm² lighter, by hand 40 · 200 = 8000", lost)
	}
	res, err := cut.Of(&cut.Table.Rows[0])
	if err != nil {
		t.Fatal(err)
	}
	open := false
	for _, o := range res.Open {
		open = open || o.What == "upright" && strings.Contains(o.Why, "more than one piece")
	}
	if !open {
		t.Error("a plate with a window in it is taken for a beam")
	}
}
