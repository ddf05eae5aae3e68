package model

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// By hand, at 5° in a flow that comes down at 3° with 0.95 of 45 m/s, air of 1.2046
// kg/m³, a wing of 1.4 × 0.25 m with CL 0.075·(8 + 5) = 0.975, CD 0.015 + 0.05·CL² =
// 0.06253, CM −0.09, 0.45 m behind the axle and 1.3 m up, wheelbase 2.5 m, lift area of
// the car 0.1 m² at the rear:
//
//	q = ½·1.2046·42.75² = 1100.7 Pa, lift 375.6 N, drag 24.09 N, moment −8.67 N·m
//	down = 375.6 cos 3° + 24.09 sin 3° = 376.4 N, own = 24.06 N, lean = −19.66 N
//	credit = 2·375.6·0.1/(π·1.4²) = 12.20 N, drag = 24.06 − 6.10 = 17.96 N
//	front = −(376.4·0.45 + 17.96·1.3 + 8.67)/2.5 = −80.55 N, rear = 376.4 + 80.55 = 456.9 N
//	share = 5803.4/(5803.4 + 5369.8 + 456.9) = 49.90 %, without the wing 52.28 %
func TestRowByHand(t *testing.T) {
	table := plainTable(t, 5)
	r := &table.Rows[0]
	for _, c := range []struct {
		what            string
		got, want, tell float64
	}{
		{"attack, °", r.Attack / plane.Deg, 8, 1e-9},
		{"CL", r.CL, 0.975, 1e-6},
		{"CD", r.CD, 0.06253, 1e-5},
		{"downforce, N", r.Downforce, 376.4, 0.1},
		{"own drag, N", r.OwnDrag, 24.06, 0.01},
		{"lean, N", r.Lean, -19.66, 0.01},
		{"drag, N", r.Drag, 17.96, 0.01},
		{"front axle, N", r.Change.Front, -80.55, 0.05},
		{"rear axle, N", r.Change.Rear, 456.9, 0.1},
		{"front share, %", 100 * r.Share, 49.90, 0.01},
		{"share shift, pp", 100 * r.Shift, -2.38, 0.01},
		{"moment, N·m", table.Pitching(r), -8.67, 0.01},
	} {
		if math.Abs(c.got-c.want) > c.tell {
			t.Errorf("%s: %.4f, want %.4f", c.what, c.got, c.want)
		}
	}
}

// By hand: 500 N·m that lift the nose take 200 N off the front axle of a wheelbase of
// 2.5 m and put them on the rear; 150 N of drag 1.3 m up do so with 78 N.
func TestMomentsOnAxles(t *testing.T) {
	if a := WingOnAxles(0, 0, 500, 0.4, 1.3, 2.5); math.Abs(a.Front+200) > 1e-9 || math.Abs(a.Rear-200) > 1e-9 {
		t.Errorf("moment: %+v", a)
	}
	if a := WingOnAxles(0, 150, 0, 0.4, 1.3, 2.5); math.Abs(a.Front+78) > 1e-9 || math.Abs(a.Rear-78) > 1e-9 {
		t.Errorf("drag: %+v", a)
	}
	if a := WingOnAxles(1000, 0, 0, -0.5, 1.3, 2.5); math.Abs(a.Front-200) > 1e-9 || math.Abs(a.Rear-800) > 1e-9 {
		t.Errorf("ahead of the axle: %+v", a)
	}
}

// By hand: on a front axle of 8 kg, 78.5 N, the wing's −80.55 N leave none; on 9 kg, 88.3 N,
// they leave some.
func TestAxleWithoutLoad(t *testing.T) {
	for mass, none := range map[float64]bool{8: true, 9: false} {
		base := plainTable(t, 5)
		base.Car.FrontMass = mass
		r := &NewTable(base.Car, placesOf(base), base.Wing, 45).Rows[0]
		if r.Breaks() != none {
			t.Errorf("%g kg: front %.1f N, breaks a limit %v: %v", mass, r.Load.Front, r.Breaks(), r.Breaches)
		}
	}
}
