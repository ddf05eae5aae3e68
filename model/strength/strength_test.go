package strength

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/given"
)

// barPart is an upright flat bar of width b and thickness t, mm, from z 0 to l.
func barPart(b, t, l float64, hs ...holes.Hole) plate {
	part := &model.Part{Part: holes.Part{Name: "bar", Holes: hs}, Thickness: given.Is(t),
		Outline: []plane.Point{{X: -b / 2, Z: 0}, {X: b / 2, Z: 0}, {X: b / 2, Z: l}, {X: -b / 2, Z: l}}}
	return plate{part: part, t: t, frame: plane.Level}
}

func frame(t *testing.T, demo string) *Analysis {
	t.Helper()
	c, err := carfile.Demo(demo)
	if err != nil {
		t.Fatal(err)
	}
	if !c.DesignSpeed.Known() {
		c.DesignSpeed = given.Is(200 / 3.6)
	}
	f, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// What acts on each part must be in balance: at every joint of every setting of
// every demo car the bolts together bear the joint's load, and the joint's load
// is that of all that lies above it, taken from the loads anew.
func TestStaticsBalance(t *testing.T) {
	checked := 0
	for _, demo := range carfile.Demos() {
		f := frame(t, demo)
		for i := range f.Table.Rows {
			r := &f.Table.Rows[i]
			if loaded(r) != nil {
				continue
			}
			_, bodies := f.bodies(f.stance(r), cases[i%len(cases)])
			above := Load{At: Spot{Z: 1000}}
			for _, l := range f.wingLoads(r, cases[i%len(cases)], f.across(len(f.Car.Joints))) {
				above = above.Plus(l.Load)
			}
			for k := range bodies {
				b := &bodies[k]
				for _, l := range b.Own {
					above = above.Plus(l.Load)
				}
				bolts := Load{At: above.At}
				for _, x := range b.Bolts {
					bolts = bolts.Plus(Load{At: Spot{x.At.X, b.At.Y, x.At.Z}, Rear: x.Rear, Up: x.Up, Side: x.Axial})
				}
				near := func(what string, got, want, size float64) {
					if math.Abs(got-want) > 1e-6*(1+size) {
						t.Fatalf("%s, setting %s, joint %d: %s of the bolts %.6f, of what is above %.6f", demo, r.ID, b.Joint, what, got, want)
					}
				}
				near("rearward force", bolts.Rear, above.Rear, 1e3)
				near("upward force", bolts.Up, above.Up, 1e3)
				near("sideways force", bolts.Side, above.Side, 1e3)
				near("moment in the plane", bolts.Turn, above.Turn, 1e6)
				checked++
			}
		}
	}
	if checked < 50 {
		t.Fatalf("only %d joints were looked at", checked)
	}
}

// Bolts that are spread both ways hold the moments across the plane too.
func TestBoltsHoldAllMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "bolts")
		num := rapid.Float64Range(-100, 100)
		b := Body{Load: Load{Rear: num.Draw(t, "rear"), Side: num.Draw(t, "side"), Up: num.Draw(t, "up"),
			Turn: 100 * num.Draw(t, "turn"), Roll: 100 * num.Draw(t, "roll"), Yaw: 100 * num.Draw(t, "yaw")}}
		for i := range n {
			b.Bolts = append(b.Bolts, BoltLoad{At: plane.Point{X: float64(i%3)*40 + num.Draw(t, "x")/10, Z: float64(i/2)*35 + num.Draw(t, "z")/10}})
		}
		c := b.centre()
		b.At = Spot{X: c.X, Z: c.Z}
		b.share(0)
		sum := Load{At: b.At}
		for _, k := range b.Bolts {
			sum = sum.Plus(Load{At: Spot{X: k.At.X, Z: k.At.Z}, Rear: k.Rear, Up: k.Up, Side: k.Axial})
			if k.Tension < math.Abs(k.Axial)-1e-9 {
				t.Fatalf("tension %g N below the axial force %g N", k.Tension, k.Axial)
			}
		}
		for _, v := range [][2]float64{{sum.Rear, b.Rear}, {sum.Up, b.Up}, {sum.Side, b.Side}, {sum.Turn, b.Turn}, {sum.Roll, b.Roll}, {sum.Yaw, b.Yaw}} {
			if math.Abs(v[0]-v[1]) > 1e-6*(1+math.Abs(v[1])) {
				t.Fatalf("the bolts bear %+v of %+v", sum, b.Load)
			}
		}
	})
}

func TestLoadMovesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1000, 1000)
		l := Load{Spot{v.Draw(t, "x"), v.Draw(t, "y"), v.Draw(t, "z")}, v.Draw(t, "a"), v.Draw(t, "b"), v.Draw(t, "c"), v.Draw(t, "d"), v.Draw(t, "e"), v.Draw(t, "f")}
		m := l.To(Spot{v.Draw(t, "px"), v.Draw(t, "py"), v.Draw(t, "pz")}).To(l.At)
		if math.Abs(m.Turn-l.Turn)+math.Abs(m.Roll-l.Roll)+math.Abs(m.Yaw-l.Yaw) > 1e-6 {
			t.Fatalf("%+v came back as %+v", l, m)
		}
	})
}

// A hand-worked upright. A bar 100 × 8 mm of 6082-T6 stands on two pairs of M8
// 8.8 bolts at (±30, 20) and (±30, 60), and carries 1000 N down and 200 N to the
// side at (±40, 500), through two bolts; nothing else acts.
//
//	head, each bolt:  1000/2 = 500 N down
//	foot, each bolt:  1000/4 = 250 N down, since the load is over its middle
//	foot, sideways:   200 N at 500 mm over bolts whose middle is at 40 mm:
//	                  200 · 460 = 92000 N·mm about the line rearwards
//	tension:          200/4 + 92000 · 20/(4 · 20²) = 50 + 1150 = 1200 N
//	bending just above the middle of the foot: sideways 200 · 460 = 92000 N·mm on
//	                  W = 100 · 8²/6 = 1066.7 mm³: 86.25 MPa,
//	                  along 1000/800 = 1.25 MPa
//	at the upper foot row, z 60, two holes of 9 mm out: width 82 mm,
//	                  W = 874.7 mm³: 200 · 440/874.7 = 100.61 MPa, and along, above
//	                  the row, 1000/656 = 1.52 MPa. Its head bends out by 200 · 460³/(3 · 70000
//	                  · 4266.7) = 21.73 mm, 21.95 with its holes, over 1 - 1000/Ncr, Ncr = π² ·
//	                  70000 · 100 · 8³/12 / (2 · 460)² = 3482.6 N: 30.79 mm, by which 1000 N
//	                  bend it by 35.20 MPa more: 137.33, and with the shear, 1.5 · 200/656 = 0.46
//	                  MPa, the same. The exact beam with load along it, H tan(kL)/k, has 122.4
//	                  N·m at its foot, this 122.8.
func TestHandWorkedUpright(t *testing.T) {
	m, _ := lookup("EN AW-6082-T6", 8)
	p := barPart(100, 8, 530,
		holes.Hole{ID: "a", X: -30, Z: 20, D: 9}, holes.Hole{ID: "b", X: 30, Z: 20, D: 9}, holes.Hole{ID: "c", X: -30, Z: 60, D: 9}, holes.Hole{ID: "d", X: 30, Z: 60, D: 9},
		holes.Hole{ID: "e", X: -40, Z: 500, D: 9, Joint: "head"}, holes.Hole{ID: "f", X: 40, Z: 500, D: 9, Joint: "head"})
	for i := range 4 {
		p.part.Holes[i].Joint = "foot"
	}
	p.index, p.known, p.material = 1, true, m
	car := &model.Car{Joints: []model.Joint{{Joint: holes.Joint{Name: "foot"}}, {Joint: holes.Joint{Name: "head"}}}}
	p.cut(car)
	f := &Analysis{Car: &model.Car{Parts: make([]model.Part, 3)}, plates: []plate{{}, p, {}}, LoadFactor: 1}
	head := group(Load{At: Spot{Z: 500}, Side: 200, Up: -1000}, plane.Point{X: -40, Z: 500}, plane.Point{X: 40, Z: 500})
	head.Joint = 1
	head.share(8)
	foot := group(head.To(Spot{Z: 40}), plane.Point{X: -30, Z: 20}, plane.Point{X: 30, Z: 20}, plane.Point{X: -30, Z: 60}, plane.Point{X: 30, Z: 60})
	foot.share(8)
	near := func(what string, got, want, off float64) {
		t.Helper()
		if math.Abs(got-want) > off {
			t.Errorf("%s = %.2f, by hand %.2f", what, got, want)
		}
	}
	near("head bolt, N", head.Bolts[0].Shear(), 500, 1e-6)
	near("foot bolt, N", foot.Bolts[0].Shear(), 250, 1e-6)
	near("foot bolt's tension, N", foot.Bolts[0].Tension, 1200, 1e-6)
	e, ok := f.ends(1, []Body{head, foot})
	if !ok {
		t.Fatal("nothing to check")
	}
	near("column capacity, N", p.columnCapacity(e), 3482.6, 0.5)
	var bending, column Check
	f.plateChecks(1, []Body{head, foot}, 0, func(c Check) {
		switch c.What {
		case "net-section stress":
			bending = c
		case "column buckling":
			column = c
		}
	})
	near("worst stress, MPa", bending.Demand, 137.33, 0.1)
	near("its station, mm above the middle of the foot", bending.Station, 20, 1e-3)
	near("what it may be, MPa", bending.Capacity, 0.9*300/1.25, 0.01)
	near("column, N", column.Demand, 1000, 1e-6)
	turn, side := f.bending(stance{unlike: make([]string, 2)}, []Body{head, foot})
	near("turn of the wing, °", turn/plane.Deg, 0, 1e-9)
	// Without its holes the bar would bend by 200 · 460³/(3 · 70000 · 4266.7) = 21.73 mm.
	near("way sideways, mm", side, 21.73, 0.6)
	f.LoadFactor = 2 // the loads hold it, the wing's way does not
	if _, half := f.bending(stance{unlike: make([]string, 2)}, []Body{head, foot}); math.Abs(half-side/2) > 1e-9 {
		t.Errorf("way sideways without the factor %.3f mm, want %.3f", half, side/2)
	}
	f.LoadFactor = 1
	// 300 N to the rear at the head, 460 mm above the middle of the foot, turn it by
	// F L²/(2 E t b³/12) = 6.80e-4 rad without the holes.
	rear := group(Load{At: Spot{Z: 500}, Rear: 300}, plane.Point{X: -40, Z: 500}, plane.Point{X: 40, Z: 500})
	rear.Joint = 1
	rear.share(8)
	held := group(rear.To(Spot{Z: 40}), plane.Point{X: -30, Z: 20}, plane.Point{X: 30, Z: 20}, plane.Point{X: -30, Z: 60}, plane.Point{X: 30, Z: 60})
	held.share(8)
	turn, _ = f.bending(stance{unlike: make([]string, 2)}, []Body{rear, held})
	near("turn of the wing by 300 N, 1e-4 rad", math.Abs(turn)*1e4, 300*460*460/(2*70000*8*100.0*100*100/12)*1e4, 0.5)
}

func TestMaterials(t *testing.T) {
	for name, want := range map[string]string{
		"EN AW-6082-T6": "6082-T6", "6082 T651": "6082-T6", "en aw 5083 h111": "5083-H111", "5754-H22": "5754-H22",
		"7075-T6": "7075-T6", "6061-T651": "6061-T6", "S235JR": "S235", "S355J2+N": "S355", "1.4301": "304", "AISI 304": "304",
	} {
		if m, why := lookup(name, 5); why != "" || m.Name != want {
			t.Errorf("%q is read as %q, %s; want %s", name, m.Name, why, want)
		}
	}
	for _, name := range []string{"aluminium", "6082", "7020-T6", "steel"} {
		if _, why := lookup(name, 5); !strings.Contains(why, "use one of") {
			t.Errorf("%q: %q", name, why)
		}
	}
	if _, why := lookup("7075-T6", 20); !strings.Contains(why, "12.5 mm") {
		t.Errorf("7075 of 20 mm: %q", why)
	}
	if m, _ := lookup("6082-T6", 8); m.Proof != 255 {
		t.Errorf("6082-T6 of 8 mm has a proof strength of %g MPa", m.Proof)
	}
	for _, wood := range []string{"plywood", "birch ply", "MDF", "Birch plywood 12mm"} {
		if template(wood) == "" {
			t.Errorf("%q passes for a material", wood)
		}
	}
	if template("EN AW-6082-T6") != "" {
		t.Error("aluminium is taken for wood")
	}
	soft, ok := materials[0].beside()
	if !ok || soft.Proof != 125 || soft.Ultimate != 185 {
		t.Errorf("6082-T6 beside a weld: %+v", soft)
	}
	for _, m := range materials {
		if _, ok := m.beside(); m.Name == "7075-T6" && ok {
			t.Error("7075-T6 can be welded")
		}
	}
}

// A template gets no strength, and a car without a design speed is told so.
func TestRefusals(t *testing.T) {
	c, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	c.Parts[1].Material = "plywood"
	if _, err := New(c); err == nil || !strings.Contains(err.Error(), "a template, not a part") {
		t.Errorf("plywood: %v", err)
	}
	c.DesignSpeed = given.Number{}
	if _, err := New(c); err != ErrNoSpeed {
		t.Errorf("without a speed: %v", err)
	}
}

// What is not used must not change what is: holes that no bolt is in, above the head
// and below the foot, leave length, buckling and bending as they are.
func TestUnusedHolesChangeNoLength(t *testing.T) {
	f := frame(t, "coupe")
	c := clone(f.Car)
	var kept []holes.Hole
	r := &f.Table.Rows[len(f.Table.Rows)/2]
	used := map[int]bool{}
	for _, p := range r.Fits[1].Pairs {
		used[p.Lower] = true
	}
	for _, p := range r.Fits[0].Pairs {
		used[p.Upper] = true
	}
	for i, h := range c.Parts[1].Holes {
		if !used[i] && h.Joint == "head" {
			h.Joint = "" // away from where the middle of the head's holes is taken
			h.X, h.Z = 40, 200
		}
		kept = append(kept, h)
	}
	c.Parts[1].Holes = kept
	table := *f.Table
	table.Car = c
	g, err := FromTable(&table)
	if err != nil {
		t.Fatal(err)
	}
	of := func(f *Analysis) (length, column float64) {
		_, bodies := f.bodies(f.stance(r), cases[0])
		e, ok := f.ends(1, bodies)
		if !ok {
			t.Fatal("nothing to check")
		}
		return e.length, f.plates[1].columnCapacity(e)
	}
	l1, c1 := of(f)
	l2, c2 := of(g)
	if math.Abs(l1-l2) > 1e-6 || math.Abs(c1-c2) > 0.03*c1 {
		t.Errorf("length %g mm and capacity %g N become %g mm and %g N by moving unused holes", l1, c1, l2, c2)
	}
}

// A plate that is the fixed part is checked too, from where the car holds it, and
// one upright made of two that are bolted together is no stronger than one.
func TestFixedPartIsChecked(t *testing.T) {
	f := frame(t, "saloon")
	r, err := f.Of(f.All(true).Worst.Row)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, c := range r.Checks {
		found = found || c.Part == "upright" && c.What == "net-section stress"
	}
	if !found {
		t.Error("the upright that is fixed to the car is not checked for bending")
	}
	if math.IsNaN(r.Side) || r.Side <= 0 {
		t.Errorf("it moves %g mm sideways", r.Side)
	}
}

// A slot is cut out of its plate whatever the steps that it is offered in.
func TestSlotIsCutOut(t *testing.T) {
	width := func(step float64) float64 {
		p := barPart(80, 6, 300)
		slot := holes.Slot{Hole: holes.Hole{ID: "S", X: 0, Z: 100, D: 10}, To: plane.Point{X: 0, Z: 160}, Step: step}
		p.part.Slots = []holes.Slot{slot}
		p.part.Holes = slot.Positions()
		p.bores = p.allBores()
		s, ok := p.section(131.3, true)
		if !ok {
			t.Fatal("no section")
		}
		return s.width
	}
	if a, b := width(2), width(20); math.Abs(a-70) > 0.02 || a != b {
		t.Errorf("width %g mm at steps of 2 mm, %g mm at 20 mm, want 70", a, b)
	}
}

// A load that gives outranks a hole that no rule covers, and that one a load that
// holds; rules that are kept are no links at all.
func TestWhatOutranks(t *testing.T) {
	gives := Check{Demand: 2, Capacity: 1}
	holds := Check{Demand: 1, Capacity: 2}
	close := Check{Demand: 9, Capacity: 1, Layout: true}
	room := Check{Demand: 1, Capacity: 2, Layout: true}
	r := Result{Checks: []Check{room, close, holds, gives}}
	if w, ok := r.Governing(); !ok || w != gives {
		t.Errorf("the worst is %+v", w)
	}
	r.Checks = []Check{room, close, holds}
	if w, _ := r.Governing(); w != close {
		t.Errorf("the worst is %+v", w)
	}
	r.Checks = []Check{room}
	if w, ok := r.Governing(); ok {
		t.Errorf("a rule that is kept counts as a weak link: %+v", w)
	}
}

// More load factor means more of everything, and each help does help.
func TestLoadFactorAndHelps(t *testing.T) {
	f := frame(t, "coupe")
	r := f.All(false).Worst
	worst, _ := r.Governing()
	for i := range f.Table.Rows {
		if row := &f.Table.Rows[i]; row.Within() {
			if one, err := f.Of(row); err != nil {
				t.Fatal(err)
			} else if w, _ := one.Governing(); w.gives(worst) {
				t.Errorf("%s is worse than the worst: %+v", row.ID, w)
			}
		}
	}
	for k := 1; k < len(r.Checks); k++ {
		if r.Checks[k].Utilisation() > r.Checks[k-1].Utilisation() {
			t.Fatal("checks are not worst first")
		}
	}
	helps := f.Helps(t.Context(), r)
	if len(helps) == 0 {
		t.Fatal("nothing helps")
	}
	for _, h := range helps {
		if h.Weakest.Utilisation() >= worst.Utilisation() {
			t.Errorf("%+v does not help: %g", h, h.Weakest.Utilisation())
		}
	}
	f.Car.Mounting.LoadFactor = given.Is(3)
	g, err := FromTable(f.Table)
	if err != nil {
		t.Fatal(err)
	}
	if more, _ := g.All(false).Worst.Governing(); more.Utilisation() < 1.9*worst.Utilisation() {
		t.Errorf("twice the load factor makes %g of %g", more.Utilisation(), worst.Utilisation())
	}
}

// What the file does not say is listed, and what can be checked still is.
func TestMissing(t *testing.T) {
	f := frame(t, "coupe")
	f.Car.Parts[1].Material, f.Car.Joints[0].Grade, f.Car.Wing.Mass = "", "", given.Number{}
	g, err := FromTable(f.Table)
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(g.Missing, "\n")
	for _, want := range []string{`part "upright": material`, `joint "foot": grade`, "[wing] mass"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among what is missing:\n%s", want, all)
		}
	}
	r, err := g.Of(g.All(true).Worst.Row)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Checks {
		if c.Joint == "foot" && strings.HasPrefix(c.What, "bolt shear") || c.Part == "upright" && c.Unit == "MPa" {
			t.Errorf("%s of %s%s was guessed", c.What, c.Joint, c.Part)
		}
	}
}

func BenchmarkWorst(b *testing.B) {
	c, err := carfile.Demo("coupe")
	if err != nil {
		b.Fatal(err)
	}
	f, err := New(c)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		f.All(true)
	}
	b.ReportMetric(float64(len(f.Table.Rows)), "settings")
}

// Every check is of the load case that it is reported under, also one that is first
// met in a later case.
func TestChecksNameTheirCase(t *testing.T) {
	f := frame(t, "coupe")
	later := 0
	for i := range f.Table.Rows {
		r, err := f.Of(&f.Table.Rows[i])
		if err != nil {
			continue
		}
		st := f.stance(&f.Table.Rows[i])
		first := map[Check]bool{}
		for k := range cases {
			_, bodies := f.bodies(st, cases[k])
			f.each(st, cases[k], bodies, func(c Check) {
				c.Case = k
				same := Check{What: c.What, Joint: c.Joint, Part: c.Part, At: c.At}
				if k > 0 && !first[same] {
					later++
				}
				first[same] = true
				for _, got := range r.Checks {
					if got.What == c.What && got.Joint == c.Joint && got.Part == c.Part && got.At == c.At && got.Case == k && got.Demand != c.Demand {
						t.Errorf("%s: %s %s%s %s is reported for %q with %g, which has %g", r.Row.ID, c.What, c.Joint, c.Part, c.At, cases[k].name, got.Demand, c.Demand)
					}
				}
			})
		}
	}
	if later == 0 {
		t.Error("no check is first met in a later case: the test tells nothing")
	}
}
