package strength

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/model"
)

// By hand, a bar 80 by 6 mm: 4800 N along it is 10 MPa, 64 N·m in its plane 64000·40/256000
// = 10 MPa, 9.6 N·m sideways 9600/480 = 20 MPa, 3200 N across it 1.5·3200/480 = 10 MPa of
// shear, 9.6 N·m of twist 9600·6/5760 = 10 MPa. All together √(40² + 3·20²) = 52.92 MPa.
func TestStressByHand(t *testing.T) {
	bar := barPart(80, 6, 600)
	s, ok := bar.section(100, true)
	if !ok {
		t.Fatal("no section")
	}
	for _, c := range []struct {
		what     string
		in       internal
		unstable float64
		want     float64
	}{
		{"along", internal{along: -4800}, 0, 10},
		{"in its plane", internal{turn: -64e3}, 0, 10},
		{"sideways", internal{tilt: 9600}, 0, 20},
		{"sideways, half way to buckling", internal{tilt: -9600}, 0.5, 40},
		{"across", internal{across: 3200}, 0, 10 * math.Sqrt(3)},
		{"across and to the side", internal{across: 2400, side: 3200}, 0, 12.5 * math.Sqrt(3)},
		{"twist", internal{twist: -9600}, 0, 10 * math.Sqrt(3)},
		{"all", internal{along: 4800, turn: 64e3, tilt: 9600, across: 3200, twist: 9600}, 0, math.Sqrt(40*40 + 3*20*20)},
		{"all, half way to buckling", internal{along: 4800, turn: 64e3, tilt: 9600, across: 3200, twist: 9600}, 0.5, math.Sqrt(60*60 + 3*20*20)},
		{"buckled", internal{tilt: 1}, 1, math.Inf(1)},
	} {
		if got := s.stress(c.in, 6, c.unstable); math.Abs(got-c.want) > 1e-9 && got != c.want {
			t.Errorf("%s: %.4f MPa, want %.4f", c.what, got, c.want)
		}
	}
}

// around100 checks one M8 8.8 bolt in a plate 100 by 200 by 8 mm that it pushes upwards
// with 1000 N, and pulls with 500 N.
func around100(t *testing.T, h holes.Hole, others ...holes.Hole) map[string]Check {
	t.Helper()
	m, _ := lookup("EN AW-6082-T6", 8)
	h.ID = "h"
	p := barPart(100, 8, 200, append([]holes.Hole{h}, others...)...)
	p.known, p.material, p.near = true, m, neighbours(p.part.Holes)
	f := &Frame{
		Car:    &model.Car{Joints: []model.Joint{{Joint: holes.Joint{Name: "head"}}}, Parts: []model.Part{*p.part, {}}},
		plates: []plate{p, {}},
		bolts:  []bolt{{Size: sizeOf("M8"), Grade: gradeOf("8.8"), sized: true, classed: true}},
		factor: 1,
	}
	b := &Body{Joint: 0, Bolts: []BoltLoad{{Up: 1000, Tension: 500}}, Pairs: []holes.Pair{{}}}
	found := map[string]Check{}
	f.holeChecks(b, 0, 0, 0, func(c Check) { found[c.What] = c })
	return found
}

// EN 1993-1-8 Table 3.4 by hand for M8 in 8 mm with fu as the table of materials has it:
// k1 αb fu d t/1.25. In the middle k1 = 2.5 and αb = 1. 15 mm below the edge αb = 15/25.2.
// 11 mm from the side k1 = 2.8·11/8.4 − 1.7 = 1.967. A hole 25 mm ahead leaves αb =
// 25/25.2 − 0.25, one 22 mm beside k1 = 1.4·22/8.4 − 1.7 = 1.967. 0.8 of it is left in a
// hole with more than 1 mm of clearance, 0.6 in a slot (footnote 1).
func TestBearingByHand(t *testing.T) {
	m, _ := lookup("EN AW-6082-T6", 8)
	whole := 2.5 * m.inBearing() * 8 * 8 / 1.25
	for _, c := range []struct {
		what   string
		h      holes.Hole
		others []holes.Hole
		want   float64
	}{
		{"in the middle", holes.Hole{Z: 100, D: 8.4}, nil, whole},
		{"1 mm of clearance", holes.Hole{Z: 100, D: 9}, nil, whole},
		{"more clearance", holes.Hole{Z: 100, D: 9.1}, nil, 0.8 * whole},
		{"slot", holes.Hole{Z: 100, D: 8.4, Slot: "S"}, nil, 0.6 * whole},
		{"slot with much clearance", holes.Hole{Z: 100, D: 9.5, Slot: "S"}, nil, 0.6 * whole},
		{"below the edge", holes.Hole{Z: 185, D: 8.4}, nil, whole * 15 / 25.2},
		{"above the lower edge, which it leaves", holes.Hole{Z: 15, D: 8.4}, nil, whole},
		{"at the side", holes.Hole{X: 39, Z: 100, D: 8.4}, nil, whole * (2.8*11/8.4 - 1.7) / 2.5},
		{"below a hole", holes.Hole{Z: 100, D: 8.4}, []holes.Hole{{ID: "o", Z: 125, D: 8.4}}, whole * (25/25.2 - 0.25)},
		{"above a hole", holes.Hole{Z: 100, D: 8.4}, []holes.Hole{{ID: "o", Z: 75, D: 8.4}}, whole},
		{"beside a hole", holes.Hole{Z: 100, D: 8.4}, []holes.Hole{{ID: "o", X: 22, Z: 100, D: 8.4}}, whole * (1.4*22/8.4 - 1.7) / 2.5},
	} {
		got := around100(t, c.h, c.others...)["bearing"]
		if math.Abs(got.Capacity-c.want) > 1e-6*whole || got.Demand != 1000 {
			t.Errorf("%s: %.1f of %.1f N, want 1000 of %.1f", c.what, got.Demand, got.Capacity, c.want)
		}
	}
}

// By hand: 15 mm below the edge 15 − 4.2 = 10.8 mm of 8 mm plate tear in two planes at
// proof/√3 over the material's factor. Spacing along the force 2.2·8.4 = 18.48 mm, across
// it 20.16 mm, an edge 10.08 mm. The head of M8, 14.006 mm in the mean: 0.6 π d t fu/1.25.
func TestAroundAHoleByHand(t *testing.T) {
	m, _ := lookup("EN AW-6082-T6", 8)
	near := func(what string, c Check, demand, capacity float64) {
		t.Helper()
		if math.Abs(c.Demand-demand) > 1e-3 || math.Abs(c.Capacity-capacity) > 1e-4*capacity {
			t.Errorf("%s: %.4f of %.4f, want %.4f of %.4f", what, c.Demand, c.Capacity, demand, capacity)
		}
	}
	edge := around100(t, holes.Hole{Z: 185, D: 8.4})
	near("tear-out", edge["tear-out"], 1000, 2*8*10.8*m.proof/math.Sqrt(3)/m.factor)
	near("edge distance", edge["edge distance"], 10.08, 15)
	near("head through the plate", edge["bolt head through the plate"], 500, 0.6*math.Pi*14.0056*8*m.ultimate/1.25)
	near("spacing along", around100(t, holes.Hole{Z: 100, D: 8.4}, holes.Hole{ID: "o", Z: 119, D: 8.4})["spacing of holes"], 18.48, 19)
	near("spacing across", around100(t, holes.Hole{Z: 100, D: 8.4}, holes.Hole{ID: "o", X: -21, Z: 100, D: 8.4})["spacing of holes"], 20.16, 21)
	if _, asked := around100(t, holes.Hole{Z: 100, D: 8.4})["tear-out"]; asked {
		t.Error("tear-out 100 mm from the edge")
	}
	outside := around100(t, holes.Hole{Z: 195, D: 8.4}) // 5 mm to the edge: no rule of bearing covers it
	if _, covered := outside["bearing"]; covered || outside["edge distance"].Utilisation() <= 1 {
		t.Error("5 mm from the edge is covered by the rule of bearing")
	}
}

// EN 1993-1-8 Table 3.4 by hand for M8 8.8: shear 0.6·800·36.6/1.25 = 14.05 kN, tension
// 0.9·800·36.6/1.25 = 21.09 kN; 1000 N with 500 N: 0.0712 + 500/(1.4·21086) = 0.0881.
func TestShearWithTension(t *testing.T) {
	f := &Frame{
		Car:    &model.Car{Joints: []model.Joint{{Joint: holes.Joint{Name: "head"}}}, Parts: []model.Part{{Part: holes.Part{Holes: []holes.Hole{{ID: "h", D: 8.4}}}}, {Part: holes.Part{Holes: []holes.Hole{{ID: "w", D: 8.4}}}}}},
		bolts:  []bolt{{Size: sizeOf("M8"), Grade: gradeOf("8.8"), sized: true, classed: true}},
		factor: 1,
	}
	for i := range f.Car.Parts {
		f.plates = append(f.plates, plate{part: &f.Car.Parts[i], t: math.NaN(), near: [][]int{nil}})
	}
	b := &Body{Bolts: []BoltLoad{{Rear: 600, Up: -800, Tension: 500}}, Pairs: []holes.Pair{{}}}
	found := map[string]float64{}
	f.boltChecks(b, func(c Check) { found[c.What] = c.Utilisation() })
	for what, want := range map[string]float64{"bolt shear": 0.07115, "bolt tension": 0.02371, "bolt shear with tension": 0.08809} {
		if math.Abs(found[what]-want) > 2e-5 {
			t.Errorf("%s: %.5f, want %.5f", what, found[what], want)
		}
	}
}
