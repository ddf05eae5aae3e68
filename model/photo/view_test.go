package photo

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

// By hand: wheels 500 dots apart for 2500 mm are 0.2 dots a mm; 315 mm of tyre are 63 dots, so the ground is at
// y = 463 and a place 300 mm behind the rear axle, 1200 mm up, is seen at 700 + 60, 463 − 240.
func TestSquareViewByHand(t *testing.T) {
	v, err := Fit(Wheel{X: 200, Y: 400}, Wheel{X: 700, Y: 400}, 2500, 315)
	if err != nil {
		t.Fatal(err)
	}
	if x, y := v.At(plane.Point{X: 300, Z: 1200}); math.Abs(x-760) > 1e-9 || math.Abs(y-223) > 1e-9 {
		t.Errorf("seen at %.2f, %.2f; want 760, 223", x, y)
	}
	// The car seen from its other side is the mirror image; a camera held askew turns with the wheels.
	v, _ = Fit(Wheel{X: 700, Y: 400}, Wheel{X: 200, Y: 410}, 2500, 315)
	if x, y := v.At(plane.Point{X: 300, Z: 1200}); math.Abs(x-140) > 1e-9 || math.Abs(y-(410+1.2+63-240)) > 1e-9 {
		t.Errorf("from the other side at %.2f, %.2f", x, y)
	}
	for _, w := range [][2]Wheel{{{X: 1}, {X: 5}}, {{X: math.NaN()}, {X: 500}}, {{X: 1e9}, {}}, {{X: 0, Across: 10, Up: 10}, {X: 500, Across: 10, Up: 10}},
		{{X: 0, Across: 20, Up: 63}, {X: 500, Across: 20, Up: 63}}} {
		if _, err := Fit(w[0], w[1], 2500, 315); err == nil {
			t.Errorf("%v are taken for wheels", w)
		}
	}
}

// camera is a pinhole camera, level, some way from the near side of the car, turned by yaw.
type camera struct{ x, y, z, yaw, focal float64 }

// sees is where it sees a place x, z of the plane of the near wheels.
func (c camera) sees(p plane.Point) (x, y float64) {
	sin, cos := math.Sincos(c.yaw)
	dx, dy := p.X-c.x, c.y
	along, depth := dx*cos-dy*sin, dx*sin+dy*cos
	return 2000 + c.focal*along/depth, 1500 - c.focal*(p.Z-c.z)/depth
}

// ellipse is the wheel that it sees: its centre, and the half of its extent across and up.
func (c camera) ellipse(at plane.Point, radius float64) Wheel {
	w := Wheel{}
	w.X, w.Y = c.sees(at)
	lo, hi, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i := range 720 {
		s, k := math.Sincos(float64(i) * math.Pi / 360)
		x, y := c.sees(plane.Point{X: at.X + radius*k, Z: at.Z + radius*s})
		lo, hi, low, high = min(lo, x), max(hi, x), min(low, y), max(high, y)
	}
	w.Across, w.Up = (hi-lo)/2, (high-low)/2
	return w
}

// A level camera anywhere beside the car: corrected by the wheels' ellipses, places about the wing are found to
// within 15 mm at the car, and the tyre's radius to within 3 %; not corrected they are far off once the camera is
// not square to the car.
func TestViewOfACamera(t *testing.T) {
	worst, worstLeft := 0.0, 0.0
	rapid.Check(t, func(rt *rapid.T) {
		const wheelbase, tyre = 2500.0, 320.0
		c := camera{x: rapid.Float64Range(-2500, 500).Draw(rt, "x"), y: rapid.Float64Range(6000, 14000).Draw(rt, "distance"),
			z: rapid.Float64Range(700, 1700).Draw(rt, "height"), yaw: rapid.Float64Range(-0.3, 0.3).Draw(rt, "yaw"), focal: 4000}
		front, rear := c.ellipse(plane.Point{X: -wheelbase, Z: tyre}, tyre), c.ellipse(plane.Point{Z: tyre}, tyre)
		v, err := Fit(front, rear, wheelbase, 300)
		if err != nil {
			rt.Fatal(err)
		}
		if !v.Corrected || math.Abs(v.Tyre-tyre) > 0.03*tyre {
			rt.Fatalf("tyre %.1f mm, corrected %v", v.Tyre, v.Corrected)
		}
		left, err := Fit(Wheel{X: front.X, Y: front.Y}, Wheel{X: rear.X, Y: rear.Y}, wheelbase, tyre)
		if err != nil {
			rt.Fatal(err)
		}
		p := plane.Point{X: rapid.Float64Range(200, 900).Draw(rt, "at x"), Z: rapid.Float64Range(900, 1500).Draw(rt, "at z")}
		wx, wy := c.sees(p)
		ux, _ := c.sees(plane.Point{X: p.X + 1, Z: p.Z})
		scale := math.Abs(ux - wx) // dots a mm there
		off := func(v View) float64 {
			x, y := v.At(p)
			return math.Hypot(x-wx, y-wy) / scale
		}
		worst, worstLeft = max(worst, off(v)), max(worstLeft, off(left))
		if off(v) > 15 {
			rt.Fatalf("%.1f mm off; not corrected %.1f mm", off(v), off(left))
		}
	})
	t.Logf("at worst %.1f mm off, not corrected %.0f mm", worst, worstLeft)
	if worstLeft < 30 {
		t.Error("the correction is for nothing")
	}
}
