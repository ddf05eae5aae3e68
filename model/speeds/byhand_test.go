package speeds

import (
	"context"
	"errors"
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// A sweep goes from walking pace, 5 km/h, to the drag-limited top speed; without power to
// 1.3 times the design speed, without that to 1.5 times the chosen one; never beyond
// 400 km/h. Seventeen speeds, evenly.
func TestSweepSpeedsByHand(t *testing.T) {
	open, is := given.Number{}, given.Is
	for _, c := range []struct {
		power, area, design given.Number
		chosen, top         float64
	}{
		{open, open, is(60), 40, 78},
		{open, open, open, 40, 60},
		{open, is(0.6), is(60), 40, 78},
		{open, open, open, 3, 20 / 3.6},    // four times walking pace at least
		{open, open, open, 100, 400 / 3.6}, // no faster than air is nearly incompressible
		{is(100e3), is(0.6), is(60), 40, 0},
	} {
		car := modeltest.Plain(t)
		car.Power, car.DragArea, car.DesignSpeed, car.Speed = c.power, c.area, c.design, c.chosen
		if p, ok := c.power.Get(); ok {
			c.top = math.Cbrt(2 * p / (car.Air.Density() * c.area.Value()))
		}
		vs := SweepSpeeds(car)
		if len(vs) != 17 || math.Abs(vs[0]-5/3.6) > 1e-9 || math.Abs(vs[16]-c.top) > 1e-9 || math.Abs(vs[8]-(5/3.6+c.top)/2) > 1e-9 {
			t.Errorf("%+v: %d speeds from %.3f over %.3f to %.3f m/s, want 17 to %.3f", c, len(vs), vs[0], vs[8], vs[16], c.top)
		}
	}
	car := modeltest.Plain(t)
	car.Power, car.DragArea = is(100e3), open
	if _, ok := BareTopSpeed(car); ok {
		t.Error("without a drag area a top speed is known")
	}
	car.Power, car.DragArea = open, is(0.6)
	if _, ok := BareTopSpeed(car); ok {
		t.Error("without power a top speed is known")
	}
}

// plainTable is one setting of the plain car at 45 m/s and 5°, 450 mm behind the axle.
func plainTable(t *testing.T, change func(*model.Car)) (*model.Table, *model.Row) {
	t.Helper()
	car := modeltest.Plain(t)
	change(car)
	w, err := car.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	table := model.NewTable(car, []model.Position{{Setting: &holes.Setting{ID: "a"}, X: 450, Height: 1300, Angle: 5 * plane.Deg, Top: 1400}}, w, 45)
	return table, &table.Rows[0]
}

// By hand: grip·m·g / (m/r − grip·ρ·A/2) under the root, with the wing's change of the axle
// as an area of ΔN/q more.
func TestCornerByHand(t *testing.T) {
	table, r := plainTable(t, func(c *model.Car) { c.FrontDownforceArea, c.RearDownforceArea = -0.05, -0.1 })
	const grip, radius, g = 1.2, 60, 9.80665
	rho, c := table.Density, table.Car
	q := rho * 45 * 45 / 2
	speed := func(mass, area float64) float64 {
		return math.Sqrt(grip * mass * g / (mass/radius - grip*rho*area/2))
	}
	with, without := InCorner(table, r, radius, grip, true), InCorner(table, r, radius, grip, false)
	for what, pair := range map[string][2]float64{
		"front":              {with.Front, speed(c.FrontMass, -0.05+r.Change.Front/q)},
		"rear":               {with.Rear, speed(c.RearMass, -0.1+r.Change.Rear/q)},
		"front without wing": {without.Front, speed(c.FrontMass, -0.05)},
		"rear without wing":  {without.Rear, speed(c.RearMass, -0.1)},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-9 {
			t.Errorf("%s: %.4f m/s, want %.4f", what, pair[0], pair[1])
		}
	}
	// In a corner so wide that grip grows faster than the need nothing ends it.
	c.RearDownforceArea = 40
	if v := InCorner(table, r, 2000, grip, true).Rear; !math.IsInf(v, 1) {
		t.Errorf("grip grows faster than need, and %.1f m/s ends it", v)
	}
}

// By hand: a car turned by 0.01 rad about the ground below its rear axle and let down 5 mm
// takes a point at 450, 1300 to 450 − 13 = 437 and 1300 + 4.5 − 5 = 1299.5.
func TestMovedByHand(t *testing.T) {
	p := &model.Position{Setting: &holes.Setting{}, X: 450, Height: 1300, Angle: 5 * plane.Deg, Top: 1400, Pose: plane.Pose{X: 100, Z: 1200, Turn: 0.1}}
	m := moved(p, 0.01, -5)
	if math.Abs(m.X-437) > 0.05 || math.Abs(m.Height-1299.5) > 0.1 || math.Abs(m.Angle-(5*plane.Deg+0.01)) > 1e-12 || math.Abs(m.Top-1399.5) > 0.1 {
		t.Errorf("x %.3f, height %.3f, angle %.4f, top %.2f", m.X, m.Height, m.Angle, m.Top)
	}
	if math.Abs(m.Pose.X-88) > 0.05 || math.Abs(m.Pose.Z-1196) > 0.1 || math.Abs(m.Pose.Turn-0.11) > 1e-12 {
		t.Errorf("pose %+v", m.Pose)
	}
	if p.X != 450 || p.Pose.X != 100 {
		t.Error("the place before has moved")
	}
}

// Springs need both rates; they are found again by the loads that they carry.
func TestOnSpringsByHand(t *testing.T) {
	for _, rates := range [][2]given.Number{{{}, given.Is(50)}, {given.Is(60), {}}} {
		table, r := plainTable(t, func(c *model.Car) { c.FrontRate, c.RearRate = rates[0], rates[1] })
		if _, ok, why := OnSprings(table, r); ok || why == "" {
			t.Errorf("rates of %v N/mm serve", rates)
		}
	}
	table, r := plainTable(t, func(c *model.Car) { c.FrontRate, c.RearRate = given.Is(60), given.Is(50) })
	s, ok, why := OnSprings(table, r)
	if !ok {
		t.Fatal(why)
	}
	p := moved(r.Position, s.Rake, -s.Rear)
	o := table.OutcomeAt(&p, r.Height-table.Car.RoofHeight)
	static := table.Car.Without(0)
	if f, b := (o.Load.Front-static.Front)/60, (o.Load.Rear-static.Rear)/50; math.Abs(f-s.Front) > 1e-4 || math.Abs(b-s.Rear) > 1e-4 {
		t.Errorf("sinks %.4f, %.4f mm; the loads there ask for %.4f, %.4f", s.Front, s.Rear, f, b)
	}
	if want := math.Atan2(s.Front-s.Rear, 2500); math.Abs(s.Rake-want) > 1e-12 || s.Left >= 1e-6 || s.Steps < 2 {
		t.Errorf("rake %.6f, want %.6f; %d steps, %g left", s.Rake, want, s.Steps, s.Left)
	}
	if s.Downforce != o.Downforce || s.Drag != o.Drag || s.Share != o.Share || s.Shift != o.Shift || s.Attack != o.Attack || s.Angle != p.Angle || s.Height != p.Height {
		t.Errorf("%+v is not what the air does there", s)
	}
}

// A sweep leaves out the speeds that the data do not serve, and says which; with none left
// it is an error.
func TestSweepSkips(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	s, err := Over(context.Background(), car, []float64{50, 0.01, 30})
	if err != nil || len(s.Tables) != 2 || s.Speeds[0] != 30 || s.Speeds[1] != 50 || len(s.Skipped) != 1 || s.Skipped[0].Speed != 0.01 || s.Skipped[0].Why == nil {
		t.Errorf("%v: %v, skipped %v", err, s.Speeds, s.Skipped)
	}
	if _, err := Over(context.Background(), car, []float64{0.01}); err == nil {
		t.Error("no speed serves, and no error")
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if _, err := Over(ended, car, []float64{30}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// Top speed needs power and drag area; a wing's drag slows by its area.
func TestTopSpeedByHand(t *testing.T) {
	table, r := plainTable(t, func(c *model.Car) { c.DragArea, c.Power = given.Is(0.6), given.Is(120e3) })
	wing := r.Drag / (table.Density * 45 * 45 / 2)
	want := math.Cbrt(2 * 120e3 / (table.Density * (0.6 + wing)))
	if v, ok := TopSpeed(table, r); !ok || math.Abs(v-want) > 1e-9 {
		t.Errorf("%.4f m/s, want %.4f", v, want)
	}
	lost := *r
	lost.Drag = math.NaN()
	if _, ok := TopSpeed(table, &lost); ok {
		t.Error("without a drag a top speed is known")
	}
	// X = (s(F+R) − F)/(1 − s).
	n := NeedInFront(table, r, 0.55)
	if want := (0.55*(r.Load.Front+r.Load.Rear) - r.Load.Front) / 0.45; math.Abs(n.Force-want) > 1e-9 || n.Share != r.Share || n.Wanted != 0.55 || n.Speed != 45 {
		t.Errorf("%+v, want %.3f N", n, want)
	}
}
