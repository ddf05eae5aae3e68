package model_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

func ExampleWingOnAxles() {
	// By hand, with the lever rule: 1200 kg, wheelbase 2.5 m, centre of gravity
	// 1.15 m behind the front axle: 6354.71 N front, 5413.27 N rear. 1000 N down
	// at 2.9 m behind the front axle (0.4 m behind the rear) and 150 N back at a
	// height of 1.30 m: front -1000·0.4/2.5 - 150·1.3/2.5 = -238 N, rear
	// +1238 N; front share 54.00 % before, 47.91 % after.
	static := model.Axles{Front: 1200 * 9.80665 * 1.35 / 2.5, Rear: 1200 * 9.80665 * 1.15 / 2.5}
	wing := model.WingOnAxles(1000, 150, 0, 0.4, 1.30, 2.5)
	loaded := model.Axles{Front: static.Front + wing.Front, Rear: static.Rear + wing.Rear}
	fmt.Printf("%.2f N, %.2f N\n", static.Front, static.Rear)
	fmt.Printf("%.2f N, %.2f N\n", loaded.Front, loaded.Rear)
	fmt.Printf("%.2f %%, %.2f %%\n", 100*static.FrontShare(), 100*loaded.FrontShare())
	// Output:
	// 6354.71 N, 5413.27 N
	// 6116.71 N, 6651.27 N
	// 54.00 %, 47.91 %
}

func ExampleWingOnAxles_statics() {
	// R. N. Jazar, "Vehicle Dynamics" (2008), example 39: 890 kg, wheelbase 2.35 m, centre of
	// gravity 0.78 m behind the front axle, g = 9.81 m/s²: 2916.5 N on each front and 1449 N on
	// each rear wheel. The weight is a load 1.57 m ahead of the rear axle.
	a := model.WingOnAxles(890*9.81, 0, 0, -(2.35 - 0.78), 0, 2.35)
	fmt.Printf("%.1f N, %.1f N\n", a.Front/2, a.Rear/2)
	// Output: 2916.5 N, 1449.0 N
}

// The second route: moments about the front axle's ground point balance, and
// all of the downforce arrives.
func TestAxlesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(n string) float64 { return rapid.Float64Range(-2000, 2000).Draw(t, n) }
		down, back, nose := draw("down"), draw("back"), draw("nose")
		x, z, l := rapid.Float64Range(-1, 2).Draw(t, "x"), rapid.Float64Range(0, 2).Draw(t, "z"), rapid.Float64Range(2, 4).Draw(t, "l")
		a := model.WingOnAxles(down, back, nose, x, z, l)
		about := down*(l+x) + back*z + nose - a.Rear*l
		if math.Abs(a.Front+a.Rear-down) > 1e-9 || math.Abs(about) > 1e-8 {
			t.Fatalf("front %g + rear %g = down %g? moments about the front axle leave %g N·m", a.Front, a.Rear, down, about)
		}
	})
}

func demo(t testing.TB, name string) *model.Car {
	t.Helper()
	c, err := carfile.Demo(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// One row of the roadster by hand: setting a1:k1+…/L:F+L2:R.
func TestOneRowByHand(t *testing.T) {
	car := demo(t, "roadster")
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	i, ok := table.Index("a1:k1+a3:k3+b1:k2+b3:k4/L:F+L2:R")
	if !ok {
		t.Fatal("the setting is gone")
	}
	r := table.Rows[i]
	// Turn: the post leans 1.5°; upright holes L (0, 12.2) and L2 (4.99, 12.55)
	// in span atan2(0.35, 4.99) = 4.0121°; the wing's holes lie level: 5.5121°.
	if a := r.Angle / plane.Deg; math.Abs(a-5.5121) > 0.001 {
		t.Errorf("angle %.4f°, want 5.5121°", a)
	}
	// Midpoint of the span in the post's frame (2.495, 12.375) in, that of the
	// wing's holes (4.4, 0.5); the quarter chord (2.375, 0) lies at (-2.025,
	// -0.5) from it, turned by 4.0121°: (-1.98503, -0.64045). Together (0.50997,
	// 11.73455); turned by 1.5° about the post's origin and moved by (21, 30):
	// x = 21 + 0.50979 - 0.30717 = 21.20262, z = 30 + 0.01335 + 11.73053 = 41.74388 in.
	if x, z := r.X/25.4, r.Height/25.4; math.Abs(x-21.2026) > 0.001 || math.Abs(z-41.7439) > 0.001 {
		t.Errorf("quarter chord at %.4f, %.4f in; want 21.2026, 41.7439 in", x, z)
	}
	// CL between 4° (0.640) and 6° (0.796) of the table, no flow given.
	cl := 0.640 + (5.5121-4)/2*(0.796-0.640)
	if math.Abs(r.CL-cl) > 0.0005 {
		t.Errorf("CL %.4f, want %.4f", r.CL, cl)
	}
	// q at 90 mph: ½ρ·40.2336²; area 55·9.5 in² = 0.33710 m².
	force := cl * table.Density / 2 * 40.2336 * 40.2336 * 55 * 9.5 * 25.4 * 25.4 * 1e-6
	if math.Abs(r.Downforce-force) > 0.2 {
		t.Errorf("downforce %.2f N, want %.2f N", r.Downforce, force)
	}
}

// Rake turns everything about the ground point below the rear axle: angle by
// the rake, and the quarter chord on a circle.
func TestRake(t *testing.T) {
	level, raked := demo(t, "saloon"), demo(t, "saloon")
	raked.RakeChange = 1 * plane.Deg
	a, err := level.Positions()
	if err != nil {
		t.Fatal(err)
	}
	b, err := raked.Positions()
	if err != nil {
		t.Fatal(err)
	}
	for i := range a {
		if d := (b[i].Angle - a[i].Angle) / plane.Deg; math.Abs(d-1) > 1e-9 {
			t.Errorf("angle changes by %.4f°, want 1°", d)
		}
		if d := math.Hypot(b[i].X, b[i].Height) - math.Hypot(a[i].X, a[i].Height); math.Abs(d) > 1e-9 {
			t.Errorf("the quarter chord leaves its circle by %g mm", d)
		}
		// The car turns nose down, so what is behind the axle rises.
		if b[i].Height <= a[i].Height {
			t.Errorf("height falls from %.1f to %.1f mm", a[i].Height, b[i].Height)
		}
	}
}

// The rows of every demo car are in order, sound, and say why a figure is
// missing; nothing is made up where the data end.
func TestRowsOfAllDemos(t *testing.T) {
	for _, name := range carfile.Demos() {
		car := demo(t, name)
		for _, v := range []float64{car.Speed / 2, car.Speed, car.Speed * 1.5} {
			table, err := car.Map(v)
			if err != nil {
				t.Fatal(err)
			}
			for i := range table.Rows {
				r := &table.Rows[i]
				if math.IsNaN(r.CL) && r.Within() {
					t.Errorf("%s %s: no CL and no reason", name, r.ID)
				}
				if i > 0 && math.Round(r.Height*1e3) < math.Round(table.Rows[i-1].Height*1e3) {
					t.Errorf("%s: rows out of order at %s", name, r.ID)
				}
				if math.IsNaN(r.CL) {
					continue
				}
				if down := onAxles(r); math.Abs(r.Change.Front+r.Change.Rear-down) > 1e-6 {
					t.Errorf("%s %s: axles take %.3f N of %.3f N", name, r.ID, r.Change.Front+r.Change.Rear, down)
				}
				if r.Share <= 0 || r.Share >= 1 || r.Top < r.Height || r.Top > r.Height+400 {
					t.Errorf("%s %s: share %.3f, height %.0f, top %.0f mm", name, r.ID, r.Share, r.Height, r.Top)
				}
			}
		}
	}
}

// Forces grow with the square of the speed where the curve does not change
// with it: a table.
func TestForcesGrowWithTheSquareOfSpeed(t *testing.T) {
	car := demo(t, "roadster")
	a, err := car.Map(20)
	if err != nil {
		t.Fatal(err)
	}
	b, err := car.Map(40)
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Rows {
		if f := b.Rows[i].Downforce / a.Rows[i].Downforce; !math.IsNaN(f) && math.Abs(f-4) > 1e-9 {
			t.Errorf("%s: %g times the force at twice the speed", a.Rows[i].ID, f)
		}
	}
}

func TestLimitsSayByHowMuch(t *testing.T) {
	car := demo(t, "saloon")
	car.Limits = model.Limits{}
	car.Limits.Top, car.Limits.Rear, car.Limits.StallMargin = given.Is(1300), given.Is(700), given.Is(20*plane.Deg)
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := table.Index("Q:F+q2:R")
	want := []string{"top 1344 mm: the limit is 1300 mm", "rear 704 mm behind the axle: the limit is 700 mm", "stall margin 9.2°, minimum 20.0°"}
	if got := words.Outside(&table.Rows[i], units.Metric); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("outside %q, want %q", got, want)
	}
}

// A limit holds at its very figure and breaks a hundredth of a mm below it, and that one
// alone.
func TestLimitsAtTheirEdge(t *testing.T) {
	car := demo(t, "coupe")
	car.Limits = model.Limits{}
	free, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	r := &free.Rows[3]
	for _, c := range []struct {
		limit model.Limit
		is    float64
		set   *given.Number
	}{
		{model.LimitTop, r.Top, &car.Limits.Top},
		{model.LimitRear, r.Rear, &car.Limits.Rear},
		{model.LimitOverhang, r.Overhang(car), &car.Limits.Overhang},
		{model.LimitWidth, car.Wing.Span, &car.Limits.Width},
	} {
		for _, by := range []float64{0, 0.01, -0.01} {
			car.Limits = model.Limits{}
			*c.set = given.Is(c.is + by)
			table, err := car.Map(car.Speed)
			if err != nil {
				t.Fatal(err)
			}
			if got := table.RowAt(r.Position); got.Breaks() != (by < 0) {
				t.Errorf("%s %.2f mm, limit %.2f mm: %q", c.limit, c.is, c.is+by, words.Outside(got, units.Metric))
			}
			if counts := fmt.Sprint(table.LimitCounts()); by < 0 && !strings.Contains(counts, string(c.limit)) {
				t.Errorf("%s breaks and is not counted: %s", c.limit, counts)
			}
		}
	}
}

// big returns a car with about n settings.
func big(b testing.TB, n int) *model.Car {
	car := demo(b, "coupe")
	bracket := &car.Parts[0]
	bracket.Holes = nil
	rows := n/7 + 2
	for i := range rows {
		z := 25 * float64(i) / float64(rows) * 20
		bracket.Holes = append(bracket.Holes,
			holes.Hole{ID: fmt.Sprintf("a%d", i), X: 0, Z: z, D: 8.4}, holes.Hole{ID: fmt.Sprintf("b%d", i), X: 60, Z: z, D: 8.4})
	}
	car.Joints[0].MinBolts = 2
	return car
}

func BenchmarkMap100k(b *testing.B) {
	car := big(b, 2300)
	places, err := car.Positions()
	if err != nil {
		b.Fatal(err)
	}
	w, err := car.SolveWing(car.Speed)
	if err != nil {
		b.Fatal(err)
	}
	for len(places) < 100_000 {
		places = append(places, places...)
	}
	places = places[:100_000]
	b.ReportAllocs()
	for b.Loop() {
		model.NewTable(car, places, w, car.Speed)
	}
}

func BenchmarkWholeMapOfTheDemo(b *testing.B) {
	car := demo(b, "coupe")
	for b.Loop() {
		if _, err := car.Map(car.Speed); err != nil {
			b.Fatal(err)
		}
	}
}

// onAxles is the force that the axles bear of the wing: on the car, or where that is not known the
// wing's own.
func onAxles(r *model.Row) float64 {
	if math.IsNaN(r.OnCar) {
		return r.Downforce
	}
	return r.OnCar
}
