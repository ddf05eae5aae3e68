package strength

import (
	"errors"
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// Of what runs through settings find, the weakest link counts, of two alike the first in the table,
// and what could be checked before what could not; counts add up and what is open is named once.
func TestJoinByHand(t *testing.T) {
	rows := make([]model.Row, 4)
	check := func(u float64) Check { return Check{What: "bolt shear", Demand: u, Capacity: 1} }
	none := found{asked: 2, noForces: 2}
	unchecked := found{row: &rows[0], at: 0, asked: 1, open: []Open{{"upright", "material not given"}}}
	light := found{row: &rows[1], at: 1, check: check(0.2), asked: 1, open: []Open{{"upright", "material not given"}, {"joint", "grade not given"}}}
	heavy := found{row: &rows[2], at: 2, check: check(0.8), asked: 1}
	alike := found{row: &rows[3], at: 3, check: check(0.8), asked: 1}
	for _, c := range []struct {
		what string
		runs []found
		want *model.Row
	}{
		{"nothing", []found{none}, nil},
		{"one", []found{none, light}, &rows[1]},
		{"the heavier last", []found{light, heavy}, &rows[2]},
		{"the heavier first", []found{heavy, light}, &rows[2]},
		{"two alike", []found{heavy, alike}, &rows[2]},
		{"two alike, the other way round", []found{alike, heavy}, &rows[2]},
		{"one that is not checked first", []found{unchecked, light}, &rows[1]},
		{"one that is not checked last", []found{light, unchecked}, &rows[1]},
		{"only one that is not checked", []found{none, unchecked}, &rows[0]},
	} {
		var all found
		asked := 0
		for _, r := range c.runs {
			all.join(r)
			asked += r.asked
		}
		if all.row != c.want || all.asked != asked {
			t.Errorf("%s: row %p, want %p; %d asked, want %d", c.what, all.row, c.want, all.asked, asked)
		}
	}
	var all found
	for _, r := range []found{none, unchecked, light} {
		all.join(r)
	}
	if len(all.open) != 2 || all.noForces != 2 {
		t.Errorf("open %v, %d without forces", all.open, all.noForces)
	}
}

// By hand: bolts at ±60 and ±20 mm along axes that are turned by 30°, about a middle at 400, 900. A
// yaw of 100 N·m is 86.60 N·m about the long way, 86600·60/14400 = 360.8 N, and 50 N·m about the
// short one, 50000·20/1600 = 625 N. With washers of 30 mm radius the second is no more than 50000/
// (4·30) = 416.7 N.
func TestTensionOfASlantedGroup(t *testing.T) {
	sin, cos := math.Sincos(30 * plane.Deg)
	var b Body
	for _, p := range [][2]float64{{60, 20}, {60, -20}, {-60, 20}, {-60, -20}} {
		b.Bolts = append(b.Bolts, BoltLoad{At: plane.Point{X: 400 + p[0]*cos - p[1]*sin, Z: 900 + p[0]*sin + p[1]*cos}})
	}
	b.Yaw = 100e3
	b.share(0)
	for i, axial := range []float64{360.8 - 625, 360.8 + 625, -360.8 - 625, -360.8 + 625} {
		if k := b.Bolts[i]; math.Abs(k.Tension-985.8) > 0.1 || math.Abs(k.Axial-axial) > 0.1 {
			t.Errorf("bolt %d: tension %.2f, axial %.2f N; want 985.8, %.1f", i, k.Tension, k.Axial, axial)
		}
	}
	b.share(30)
	for i := range b.Bolts {
		if k := b.Bolts[i]; math.Abs(k.Tension-777.5) > 0.1 {
			t.Errorf("bolt %d with washers: tension %.2f N, want 777.5", i, k.Tension)
		}
	}
}

// Timoshenko and Gere 6.2: a moment at the tip turns a cantilever over at π √(EI·GJ)/(2L). For the
// bar of 80 by 6 by 300 mm √(EI·GJ) is 1.2221e8 N·mm², so 639.9 N·m; half of it with half of the
// force of 5448.7 N makes one.
func TestTurningOverByMoment(t *testing.T) {
	m, _ := lookup("6082-T6", 6)
	p := plate{t: 6, material: m}
	for _, l := range []headLoad{{turn: 639.9e3}, {turn: -639.9e3}, {turn: 319.95e3, across: -2724.35}} {
		if got := p.lateralLoad(ends{least: 80, length: 300, load: l}); math.Abs(got-1) > 0.002 {
			t.Errorf("%+v is %.4f of what turns it over", l, got)
		}
	}
}

// Between the ends of the second of two stacked plates lie 300 mm; the narrowest width between them
// counts, not one beyond the head.
func TestEndsByHand(t *testing.T) {
	f, _, bodies := stacked(t, 2, 1000, 0)
	e, ok := f.ends(1, bodies)
	if !ok || math.Abs(e.head-300) > 1e-9 || math.Abs(e.foot) > 1e-9 || math.Abs(e.length-300) > 1e-9 || math.Abs(e.least-80) > 1e-9 {
		t.Errorf("%v: %+v", ok, e)
	}
	// What acts on it is in balance.
	var across, turn float64
	for _, a := range e.forces {
		across += a.across
		turn += a.off*a.along - a.at*a.across
	}
	if math.Abs(across) > 1e-9 || math.Abs(turn) > 1e-6 {
		t.Errorf("left over: %.3f N, %.3f N·mm", across, turn)
	}
	narrow := func(from, to float64) []plane.Point {
		return []plane.Point{{X: -40}, {X: 40}, {X: 40, Z: from}, {X: 10, Z: from}, {X: 10, Z: to}, {X: 40, Z: to}, {X: 40, Z: 320}, {X: -40, Z: 320}}
	}
	for _, c := range []struct{ from, to, least float64 }{{100, 200, 50}, {305, 315, 80}} {
		p := &f.plates[1]
		p.part.Outline, p.sections = narrow(c.from, c.to), nil
		p.slice()
		if e, _ := f.ends(1, bodies); math.Abs(e.least-c.least) > 1e-6 {
			t.Errorf("narrow from %g to %g mm: least width %.1f mm, want %.0f", c.from, c.to, e.least, c.least)
		}
	}
}

// Where a plate is the weakest link, the next thickness that is sold and 5 mm more around are tried, where a bolt
// is, the next size and the next class; of other joints and parts nothing.
func TestWhatHelps(t *testing.T) {
	f := frame(t, "coupe")
	for _, c := range []struct {
		weakest Check
		want    []Help
	}{
		{Check{What: "net-section stress", Part: "upright", Demand: 5, Capacity: 1},
			[]Help{{Change: ThickerPart, On: "upright", MM: 10}, {Change: WiderPart, On: "upright", MM: 5}}},
		{Check{What: "bolt shear", Joint: "head", Demand: 5, Capacity: 1},
			[]Help{{Change: LargerBolt, On: "head", To: "M10"}, {Change: StrongerGrade, On: "head", To: "10.9"}}},
		{Check{What: "bearing", Joint: "head", Part: "wing", Demand: 5, Capacity: 1},
			[]Help{{Change: LargerBolt, On: "head", To: "M10"}, {Change: StrongerGrade, On: "head", To: "10.9"}}},
	} {
		helps := f.Helps(t.Context(), Result{Row: &f.Table.Rows[3], Checks: []Check{c.weakest}})
		if len(helps) != len(c.want) {
			t.Errorf("%s: %d changes, want %d", c.weakest.What, len(helps), len(c.want))
		}
		for _, want := range c.want {
			met := false
			for _, h := range helps {
				met = met || h.Change == want.Change && h.On == want.On && h.To == want.To && h.MM == want.MM && h.Weakest.What != ""
			}
			if !met {
				t.Errorf("%s: %+v is not among %+v", c.weakest.What, want, helps)
			}
		}
	}
}

// Single checks as New does, and both say what is missing.
func TestSingleIsNew(t *testing.T) {
	f := frame(t, "coupe")
	g, err := Single(f.Car)
	if err != nil {
		t.Fatal(err)
	}
	p := f.Table.Rows[3].Position
	a, err := f.Of(f.Table.RowAt(p))
	if err != nil {
		t.Fatal(err)
	}
	b, err := g.Of(g.Table.RowAt(p))
	if err != nil {
		t.Fatal(err)
	}
	x, _ := a.Governing()
	y, _ := b.Governing()
	if x.What != y.What || x.Utilisation() != y.Utilisation() || len(g.Table.Rows) != 0 {
		t.Errorf("%s %.4f, %s %.4f", x.What, x.Utilisation(), y.What, y.Utilisation())
	}
	car := *f.Car
	car.DesignSpeed = given.Number{}
	if _, err := Single(&car); !errors.Is(err, ErrNoSpeed) {
		t.Errorf("without a design speed: %v", err)
	}
	if _, err := New(&car); !errors.Is(err, ErrNoSpeed) {
		t.Errorf("without a design speed: %v", err)
	}
	car = *f.Car
	car.Wing.Table, car.Wing.Polar, car.Wing.Shape, car.Wing.Section = nil, nil, nil, "nobody's"
	if _, err := Single(&car); err == nil {
		t.Error("a wing of which nothing is known is checked")
	}
}

// Of sizes that are sold the smallest that is enough is offered, or the third up, which is not; in inches
// by inch gauges.
func TestStockSizes(t *testing.T) {
	if got := thicker(8, false); len(got) != 3 || got[0] != 10 || got[1] != 12 || got[2] != 15 {
		t.Errorf("above 8 mm: %v", got)
	}
	if got := thicker(0.19*25.4, true); len(got) != 3 || math.Abs(got[0]-6.35) > 1e-9 || math.Abs(got[1]-7.9375) > 1e-9 {
		t.Errorf("above 0.190 in: %v", got)
	}
	if got := thicker(30, false); len(got) != 0 {
		t.Errorf("above the thickest: %v", got)
	}
	f := frame(t, "coupe")
	car := *f.Car
	car.Mounting.LoadFactor = given.Is(3)
	g, err := New(&car)
	if err != nil {
		t.Fatal(err)
	}
	worst, err := g.Solve(t.Context(), &g.Table.Rows[20])
	if err != nil {
		t.Fatal(err)
	}
	if worst.Verdict() != DoesNotHold {
		t.Fatalf("%v: nothing needs help", worst.Verdict())
	}
	for _, h := range g.Helps(t.Context(), worst) {
		if h.Change != ThickerPart {
			continue
		}
		// The one below it is not enough.
		for _, less := range thicker(car.Parts[0].Thickness.Value(), false) {
			if less >= h.MM {
				break
			}
			d := clone(&car)
			for i := range d.Parts {
				if d.Parts[i].Name == h.On {
					d.Parts[i].Thickness = given.Is(less)
				}
			}
			if w, ok := g.with(t.Context(), d, worst); ok && w.Utilisation() <= 1 {
				t.Errorf("%s is enough at %g mm, %g is offered", h.On, less, h.MM)
			}
		}
		return
	}
	t.Error("no thickness is offered")
}
