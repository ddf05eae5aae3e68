package drill_test

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/drill"
	"stanchion/model/modeltest"
)

// Two bolts 100 mm apart in four M8 holes of 8.4 mm, by hand: the spacings differ
// by a normal deviate of 2·0.3 = 0.6 mm and 0.8 mm are allowed: misfit with
// P(|N| > 1.333) = 18.2 % on one side, 1 − 0.818² = 33.1 % on one side or the other. The angle is off by √2·0.3·√2/100 rad = 0.344°.
func TestDoubtByHand(t *testing.T) {
	car := modeltest.Car(t, "saloon")
	car.Parts[0].Holes = []holes.Hole{{ID: "a", D: 8.4}, {ID: "b", X: 100, D: 8.4}}
	car.Parts[1].Holes = []holes.Hole{{ID: "F", X: 45, Z: 12, D: 8.4}, {ID: "R", X: 145, Z: 12, D: 8.4}}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	d := drill.Errors(table, &table.Rows[0], 0.3)
	if math.Abs(d.Misfit-0.331) > 0.003 || math.Abs(d.AngleStdUnc/plane.Deg-0.344) > 0.002 || math.Abs(d.LeftRight/d.AngleStdUnc-math.Sqrt2) > 1e-9 {
		t.Errorf("misfit %.4f, angle ±%.4f°, left to right ±%.4f°", d.Misfit, d.AngleStdUnc/plane.Deg, d.LeftRight/plane.Deg)
	}
	if four := modeltest.Table(t, "coupe"); drill.Errors(four, &four.Rows[0], 0.3).Misfit <= d.Misfit {
		t.Error("six bolts are surer to go in than two")
	}
}
