package model_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/units"
)

// What is picked is what a plain look at every row finds, and no setting that is
// not picked would have been better than the first.
func TestPickAgainstBruteForce(t *testing.T) {
	table := tableOf(t, "coupe")
	rapid.Check(t, func(t *rapid.T) {
		w := model.NoWishes()
		maybe := func(name string, lo, hi float64) float64 {
			if rapid.Bool().Draw(t, name+"?") {
				return rapid.Float64Range(lo, hi).Draw(t, name)
			}
			return math.NaN()
		}
		w.Share, w.ShareWithin = maybe("share", 0.48, 0.52), rapid.Float64Range(0, 0.01).Draw(t, "within")
		w.DownforceLeast, w.DownforceMost = maybe("least", 100, 500), maybe("most", 200, 600)
		w.DragMost, w.MarginLeast = maybe("drag", 0, 40), maybe("margin", 0, 0.2)
		w.HeightLeast, w.HeightMost = maybe("low", 1190, 1300), maybe("high", 1250, 1400)
		hits, near := table.Pick(w, units.Metric)
		want := map[int]bool{}
		for i := range table.Rows {
			r := &table.Rows[i]
			no := func(x float64) bool { return math.IsNaN(x) }
			want[i] = r.Within() && !r.Stalled && !no(r.Downforce) &&
				(no(w.Share) || math.Abs(r.Share-w.Share) <= w.ShareWithin+1e-9) &&
				(no(w.DownforceLeast) || r.Downforce >= w.DownforceLeast-1e-9) && (no(w.DownforceMost) || r.Downforce <= w.DownforceMost+1e-9) &&
				(no(w.DragMost) || r.Drag <= w.DragMost+1e-9) && (no(w.MarginLeast) || r.StallMargin >= w.MarginLeast-1e-9) &&
				(no(w.HeightLeast) || r.Height >= w.HeightLeast-1e-9) && (no(w.HeightMost) || r.Height <= w.HeightMost+1e-9)
		}
		got := map[int]bool{}
		for _, h := range hits {
			got[h.Row] = true
		}
		for i := range table.Rows {
			if want[i] != got[i] {
				t.Fatalf("row %d picked %v, want %v", i, got[i], want[i])
			}
		}
		if len(hits)+len(near) != len(table.Rows) {
			t.Fatalf("%d hits and %d near of %d", len(hits), len(near), len(table.Rows))
		}
		for _, h := range hits {
			if best := hits[0]; h.Off < best.Off-0.001 {
				t.Fatalf("row %d is %.4f off, the first %.4f", h.Row, h.Off, best.Off)
			}
		}
		for _, m := range near {
			if len(m.StoppedBy) == 0 {
				t.Fatalf("row %d is stopped by nothing", m.Row)
			}
		}
	})
}

// Of settings as close to the wanted balance, to a tenth of a point, the least
// work comes first.
func TestOfEqualsTheLeastWork(t *testing.T) {
	table := tableOf(t, "coupe")
	w := model.NoWishes()
	w.Share, w.ShareWithin, w.From = 0.5, 0.05, "1:k1+7:k2+3:k3+9:k4/A:F+A2:R"
	hits, _ := table.Pick(w, units.Metric)
	for i := 1; i < len(hits); i++ {
		a, b := hits[i-1], hits[i]
		if math.Round(a.Off*1000) == math.Round(b.Off*1000) && a.Work > b.Work {
			t.Errorf("%d bolts out before %d at the same distance", a.Work, b.Work)
		}
	}
	for _, h := range hits {
		if table.Rows[h.Row].Stalled {
			t.Error("a stalled setting is picked")
		}
	}
	loose := *table.Car
	loose.Limits.StallMargin = math.NaN()
	free, err := loose.Map(loose.Speed)
	if err != nil {
		t.Fatal(err)
	}
	stalled := 0
	for i := range free.Rows {
		if free.Rows[i].Stalled && free.Rows[i].Within() {
			stalled++
		}
	}
	all, _ := free.Pick(model.NoWishes(), units.Metric)
	for _, h := range all {
		if free.Rows[h.Row].Stalled {
			t.Error("without a margin wanted a stalled setting is picked")
		}
	}
	if stalled == 0 {
		t.Error("no setting is stalled, so nothing is shown")
	}
}

// By hand: from A1 to A2 at one foot the rear
// bolt is moved; another row of the foot moves all four there as well; where two more
// go in and none comes out, two are moved.
func TestMoves(t *testing.T) {
	table := tableOf(t, "coupe")
	at := func(id string) *holes.Setting {
		r, ok := table.Find(id)
		if !ok {
			t.Fatal(id)
		}
		return r.Setting
	}
	a1, a2 := at("1:k1+7:k2+3:k3+9:k4/A:F+A1:R"), at("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	up := at("2:k1+8:k2+4:k3+10:k4/A:F+A1:R")
	foot := *a1.Fits[0]
	foot.Pairs = foot.Pairs[:2]
	two := &holes.Setting{ID: "two", Fits: []*holes.Fit{&foot, a1.Fits[1]}}
	for _, row := range []struct {
		from, to *holes.Setting
		want     int
	}{{a1, a1, 0}, {a1, a2, 1}, {a1, up, 4}, {a2, up, 5}, {two, a1, 2}, {a1, two, 2}} {
		if n := model.Moves(row.from, row.to); n != row.want {
			t.Errorf("%s to %s: %d bolts, want %d", row.from.ID, row.to.ID, n, row.want)
		}
	}
}

// Top speed against the cubic's closed form, by hand: 135 kW, 0.64 m², 1.192
// kg/m³: ∛(270000/(1.192·0.64)) = 70.73 m/s; power equals drag there.
func TestTopSpeed(t *testing.T) {
	table := tableOf(t, "coupe")
	car := table.Car
	bare, ok := car.BareTopSpeed()
	if !ok || math.Abs(bare-70.73) > 0.05 {
		t.Errorf("%.3f m/s, want 70.73", bare)
	}
	if p := 0.5 * car.Air.Density() * car.DragArea * bare * bare * bare; math.Abs(p-135000) > 1 {
		t.Errorf("at that speed drag takes %.0f W", p)
	}
	for i := range table.Rows {
		r := &table.Rows[i]
		v, ok := table.TopSpeed(r)
		if !ok {
			continue
		}
		drag := 0.5*car.Air.Density()*car.DragArea*v*v + r.Drag*v*v/(table.Speed*table.Speed)
		if math.Abs(drag*v-135000) > 1 || r.Drag > 0 && v >= bare {
			t.Errorf("%s: %.3f m/s takes %.0f W", r.ID, v, drag*v)
		}
	}
}

// The front need puts the share where it is wanted.
func TestFrontNeed(t *testing.T) {
	table := tableOf(t, "coupe")
	r := &table.Rows[5]
	n := table.FrontNeed(r, 0.53)
	if got := (r.Load.Front + n.Force) / (r.Load.Front + r.Load.Rear + n.Force); math.Abs(got-0.53) > 1e-12 {
		t.Errorf("share %.4f with %.1f N more in front, want 0.53", got, n.Force)
	}
	if f := n.Area * aero.DynamicPressure(table.Density, table.Speed); math.Abs(f-n.Force) > 1e-9 {
		t.Errorf("area %.4f m² makes %.2f N, want %.2f", n.Area, f, n.Force)
	}
}

// A corner by hand: without downforce anywhere v = √(grip·g·r) = √(1.1·9.80665·80)
// = 29.38 m/s for both axles; with it each axle's grip equals its need.
func TestCorner(t *testing.T) {
	table := tableOf(t, "saloon")
	r := &table.Rows[1]
	if c := table.Corner(r, 80, 1.1, false); math.Abs(c.Front-29.376) > 1e-3 || math.Abs(c.Rear-29.376) > 1e-3 {
		t.Errorf("without the wing %.3f and %.3f m/s, want 29.376", c.Front, c.Rear)
	}
	c := table.Corner(r, 80, 1.1, true)
	k := c.Rear * c.Rear / (table.Speed * table.Speed)
	if grip, need := 1.1*(table.Car.RearMass*model.Gravity+k*r.Change.Rear), table.Car.RearMass*c.Rear*c.Rear/80; math.Abs(grip-need) > 1e-6 {
		t.Errorf("rear at %.2f m/s: grip %.2f N, need %.2f N", c.Rear, grip, need)
	}
	if c.Rear <= c.Front {
		t.Errorf("a rear wing holds the rear to %.2f and the front to %.2f m/s", c.Rear, c.Front)
	}
}

// The fixed point by hand: at it the springs carry what the air puts on each
// axle, and the place is the static one turned by the sinks.
func TestSquat(t *testing.T) {
	car := demo(t, "coupe")
	car.FrontRate, car.RearRate = 60, 50
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := table.Index("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	r := &table.Rows[i]
	s, ok, why := table.Squat(r)
	if !ok {
		t.Fatal(why)
	}
	// To first order: rear +452 N - own lift 0.11·1177 = 129 N: 323/50 = 6.5 mm;
	// front -63 - 47 = -110/60 = -1.8 mm; rake (-1.8-6.5)/2480 rad = -0.19°.
	if math.Abs(s.Rear-6.3) > 0.3 || math.Abs(s.Front+1.8) > 0.2 || math.Abs(s.Rake/model.Deg+0.19) > 0.02 {
		t.Errorf("front %.2f rear %.2f mm, rake %.3f°", s.Front, s.Rear, s.Rake/model.Deg)
	}
	if math.Abs(s.Angle-(r.Angle+s.Rake)) > 1e-9 || s.Downforce >= r.Downforce {
		t.Errorf("angle %.3f° from %.3f°, downforce %.1f from %.1f N", s.Angle/model.Deg, r.Angle/model.Deg, s.Downforce, r.Downforce)
	}
	stiff := *car
	stiff.FrontRate, stiff.RearRate = 1e9, 1e9
	table2, _ := stiff.Map(car.Speed)
	if h, ok, _ := table2.Squat(&table2.Rows[i]); !ok || math.Abs(h.Angle-r.Angle) > 1e-9 || math.Abs(h.Downforce-r.Downforce) > 1e-6 {
		t.Errorf("on rigid springs %.6f° and %.3f N, want %.6f° and %.3f N", h.Angle/model.Deg, h.Downforce, r.Angle/model.Deg, r.Downforce)
	}
	soft := *car
	soft.FrontRate, soft.RearRate = 0.01, 0.01
	table3, _ := soft.Map(car.Speed)
	if _, ok, why := table3.Squat(&table3.Rows[i]); ok || why == "" {
		t.Error("springs of 0.01 N/mm settle")
	}
	if _, ok, why := table.Squat(&tableOf(t, "coupe").Rows[i]); !ok || why != "" {
		t.Error(why)
	}
}
