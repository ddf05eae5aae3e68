package strength

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// around100 checks one M8 8.8 bolt in a plate 100 by 200 by 8 mm that it pushes upwards
// with 1000 N, and pulls with 500 N.
func around100(t *testing.T, h holes.Hole, others ...holes.Hole) map[string]Check {
	t.Helper()
	m, _ := lookup("EN AW-6082-T6", 8)
	h.ID = "h"
	p := barPart(100, 8, 200, append([]holes.Hole{h}, others...)...)
	p.known, p.material, p.near = true, m, neighbours(p.part.Holes)
	f := &Analysis{
		Car:        &model.Car{Joints: []model.Joint{{Joint: holes.Joint{Name: "head"}}}, Parts: []model.Part{*p.part, {}}},
		plates:     []plate{p, {}},
		bolts:      []bolt{{Size: sizeOf("M8"), Grade: gradeOf("8.8"), sized: true, classed: true}},
		LoadFactor: 1,
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
	near("tear-out", edge["tear-out"], 1000, 2*8*10.8*m.Proof/math.Sqrt(3)/m.factor)
	near("edge distance", edge["edge distance"], 10.08, 15)
	near("head through the plate", edge["bolt head through the plate"], 500, 0.6*math.Pi*14.0056*8*m.Ultimate/1.25)
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

// A section of 100 mm with a hole of 20 mm in its middle and one of 20 mm cut 6 mm off its own
// middle, 30 mm beside: 20 and 16 mm go, 64 are left.
func TestHolesInASection(t *testing.T) {
	p := barPart(100, 6, 300, holes.Hole{ID: "a", X: 0, Z: 150, D: 20}, holes.Hole{ID: "b", X: 30, Z: 156, D: 20})
	p.bores = p.allBores()
	s, ok := p.section(150, true)
	if !ok || math.Abs(s.width-64) > 1e-9 {
		t.Errorf("%+v", s)
	}
	// Left are −50 to −10, 10 to 22 and 38 to 50: the middle of that is (−30·40 + 16·12 + 44·12)/64.
	if want := (-30.0*40 + 16*12 + 44*12) / 64; math.Abs(s.middle-want) > 1e-9 || math.Abs(s.far-(50-want)) > 1e-9 {
		t.Errorf("middle %.4f, want %.4f; furthest %.4f", s.middle, want, s.far)
	}
}

// EN 1993-1-4:2006 6.1 by hand: 0.5·210 + 0.6·520 = 417 MPa for 1.4301, which stretches; others bear
// by their ultimate strength.
func TestStainlessInBearing(t *testing.T) {
	for name, want := range map[string]float64{"304": 417, "S235": 360, "EN AW-6082-T6": 300} {
		m, why := lookup(name, 8)
		if why != "" || math.Abs(m.inBearing()-want) > 1e-9 {
			t.Errorf("%s: %.1f MPa, want %.0f %s", name, m.inBearing(), want, why)
		}
	}
}

// EN 1993-1-8 3.9.1 by hand for M8 8.8 along a slot, tightened to at least 10,477 N (VDI 2230, friction
// 0.20): 0.63·0.2·10477/1.25 = 1056 N for the part of the load that runs along it, and with 5000 N of
// pull on the bolt 0.63·0.2·(10477 − 4000)/1.25 = 652.9 N; 1000 N upwards along a slot at 60° to the
// level is 866 N.
func TestSlipByHand(t *testing.T) {
	slot := holes.Slot{Hole: holes.Hole{ID: "S", X: 0, Z: 80, D: 8.4}, To: plane.Point{X: 20, Z: 80 + 20*math.Sqrt(3)}}
	part := model.Part{Part: holes.Part{Holes: []holes.Hole{{ID: "S@10", Slot: "S", Distance: 10, D: 8.4}}}, Slots: []holes.Slot{slot}}
	f := &Analysis{Car: &model.Car{Joints: []model.Joint{{Nut: model.PlainNut}}}, plates: []plate{{part: &part}}, bolts: []bolt{{Size: sizeOf("M8"), Grade: gradeOf("8.8"), sized: true, classed: true}}}
	b := &Body{Bolts: []BoltLoad{{Up: 1000}}}
	var demand, capacity float64
	take := func(_ string, d, c float64, _, _ string) { demand, capacity = d, c }
	f.slipCheck(b, 0, 0, 0, take)
	if math.Abs(demand-866.03) > 0.01 || math.Abs(capacity-1056.1) > 1 {
		t.Errorf("%.2f of %.1f N, by hand 866.03 of 1056", demand, capacity)
	}
	b.Bolts[0] = BoltLoad{Rear: 1000, Tension: 5000}
	f.slipCheck(b, 0, 0, 0, take)
	if math.Abs(capacity-652.9) > 1 {
		t.Errorf("with a pull %.1f N, by hand 652.9", capacity)
	}
	if math.Abs(demand-500) > 0.01 {
		t.Errorf("rearwards %.2f N, by hand 500", demand)
	}
}
