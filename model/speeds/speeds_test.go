package speeds_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/speeds"
	"stanchion/model/units"
)

// No wing adds to the top speed, in whatever flow on whatever car.
func TestNoWingIsFasterThanNone(t *testing.T) {
	base := modeltest.Plain(t)
	rapid.Check(t, func(t *rapid.T) {
		c := *base
		c.FrontDownforceArea, c.RearDownforceArea = rapid.Float64Range(-5, 5).Draw(t, "front"), rapid.Float64Range(-5, 5).Draw(t, "rear")
		c.Flow, _ = aero.NewFlow([]aero.FlowPoint{{Angle: rapid.Float64Range(-30, 30).Draw(t, "flow") * plane.Deg, Ratio: rapid.Float64Range(0.5, 1.2).Draw(t, "ratio")}})
		c.Power, c.DragArea = given.Is(120e3), given.Is(0.6)
		w, err := c.SolveWing(45)
		if err != nil {
			t.Fatal(err)
		}
		bare, _ := speeds.BareTopSpeed(&c)
		for _, angle := range []float64{-10, 0, 5, 12, 25} {
			table := model.NewTable(&c, []model.Position{{Setting: &holes.Setting{}, X: 450, Height: 1300, Angle: angle * plane.Deg}}, w, 45)
			r := &table.Rows[0]
			if math.IsNaN(r.Drag) {
				continue
			}
			if v, ok := speeds.TopSpeed(table, r); !ok || v > bare {
				t.Fatalf("%g°: top speed %.3f m/s, without the wing %.3f", angle, v, bare)
			}
		}
	})
}

// Top speed against the cubic's closed form, by hand: 135 kW, 0.64 m², 1.192
// kg/m³: ∛(270000/(1.192·0.64)) = 70.73 m/s; power equals drag there.
func TestTopSpeed(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	car := table.Car
	bare, ok := speeds.BareTopSpeed(car)
	if !ok || math.Abs(bare-70.73) > 0.05 {
		t.Errorf("%.3f m/s, want 70.73", bare)
	}
	if p := 0.5 * car.Air.Density() * car.DragArea.Value() * bare * bare * bare; math.Abs(p-135000) > 1 {
		t.Errorf("at that speed drag takes %.0f W", p)
	}
	for i := range table.Rows {
		r := &table.Rows[i]
		v, ok := speeds.TopSpeed(table, r)
		if !ok {
			continue
		}
		drag := 0.5*car.Air.Density()*car.DragArea.Value()*v*v + r.Drag*v*v/(table.Speed*table.Speed)
		if math.Abs(drag*v-135000) > 1 || r.Drag > 0 && v >= bare {
			t.Errorf("%s: %.3f m/s takes %.0f W", r.ID, v, drag*v)
		}
	}
}

// The front need puts the share where it is wanted.
func TestFrontNeed(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r := &table.Rows[5]
	n := speeds.NeedInFront(table, r, 0.53)
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
	table := modeltest.Table(t, "saloon")
	r := &table.Rows[1]
	if c := speeds.InCorner(table, r, 80, 1.1, false); math.Abs(c.Front-29.376) > 1e-3 || math.Abs(c.Rear-29.376) > 1e-3 {
		t.Errorf("without the wing %.3f and %.3f m/s, want 29.376", c.Front, c.Rear)
	}
	c := speeds.InCorner(table, r, 80, 1.1, true)
	k := c.Rear * c.Rear / (table.Speed * table.Speed)
	if grip, need := 1.1*(table.Car.RearMass*units.Gravity+k*r.Change.Rear), table.Car.RearMass*c.Rear*c.Rear/80; math.Abs(grip-need) > 1e-6 {
		t.Errorf("rear at %.2f m/s: grip %.2f N, need %.2f N", c.Rear, grip, need)
	}
	if c.Rear <= c.Front {
		t.Errorf("a rear wing holds the rear to %.2f and the front to %.2f m/s", c.Rear, c.Front)
	}
}

// The fixed point by hand: at it the springs carry what the air puts on each
// axle, and the place is the static one turned by the sinks.
func TestSquat(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.FrontRate, car.RearRate = given.Is(60), given.Is(50)
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := table.Index("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	r := &table.Rows[i]
	s, ok, why := speeds.OnSprings(table, r)
	if !ok {
		t.Fatal(why)
	}
	// To first order: at the rear what the wing adds less the car's own lift, 0.11·1177 = 129 N,
	// over 50 N/mm; in front less 47 N, over 60 N/mm; the rake is their difference over 2480 mm.
	rear, front := (r.Change.Rear-129)/50, (r.Change.Front-47)/60
	if math.Abs(s.Rear-rear) > 0.3 || math.Abs(s.Front-front) > 0.2 || math.Abs(s.Rake-(front-rear)/2480)/plane.Deg > 0.02 || s.Rear < 3 {
		t.Errorf("front %.2f rear %.2f mm, rake %.3f°", s.Front, s.Rear, s.Rake/plane.Deg)
	}
	if math.Abs(s.Angle-(r.Angle+s.Rake)) > 1e-9 || s.Downforce >= r.Downforce {
		t.Errorf("angle %.3f° from %.3f°, downforce %.1f from %.1f N", s.Angle/plane.Deg, r.Angle/plane.Deg, s.Downforce, r.Downforce)
	}
	stiff := *car
	stiff.FrontRate, stiff.RearRate = given.Is(1e9), given.Is(1e9)
	table2, _ := stiff.Map(car.Speed)
	if h, ok, _ := speeds.OnSprings(table2, &table2.Rows[i]); !ok || math.Abs(h.Angle-r.Angle) > 1e-9 || math.Abs(h.Downforce-r.Downforce) > 1e-6 {
		t.Errorf("on rigid springs %.6f° and %.3f N, want %.6f° and %.3f N", h.Angle/plane.Deg, h.Downforce, r.Angle/plane.Deg, r.Downforce)
	}
	soft := *car
	soft.FrontRate, soft.RearRate = given.Is(0.01), given.Is(0.01)
	table3, _ := soft.Map(car.Speed)
	if _, ok, why := speeds.OnSprings(table3, &table3.Rows[i]); ok || why == "" {
		t.Error("springs of 0.01 N/mm settle")
	}
	if _, ok, why := speeds.OnSprings(table, &modeltest.Table(t, "coupe").Rows[i]); !ok || why != "" {
		t.Error(why)
	}
}
