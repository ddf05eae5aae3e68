package choose_test

import (
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/choose"
	"stanchion/model/modeltest"
)

// Steps by angle and height always go the way they say and end only where
// nothing lies that way; all ways stay within the table.
func TestStep(t *testing.T) {
	for _, name := range carfile.Demos() {
		car := modeltest.Car(t, name)
		table, err := car.Map(car.Speed)
		if err != nil {
			t.Fatal(err)
		}
		for i := range table.Rows {
			for _, way := range []choose.Step{choose.AngleUp, choose.AngleDown, choose.HeightUp, choose.HeightDown} {
				k, ok := choose.StepFrom(table, i, way)
				sign := 1.0
				if way == choose.AngleDown || way == choose.HeightDown {
					sign = -1
				}
				value := func(r *model.Row) float64 {
					if way == choose.AngleUp || way == choose.AngleDown {
						return sign * r.Angle / plane.Deg / 0.02
					}
					return sign * r.Height / 0.5
				}
				if ok && value(&table.Rows[k]) <= value(&table.Rows[i]) {
					t.Fatalf("%s: step %d from %s goes the other way", name, way, table.Rows[i].ID)
				}
				for o := range table.Rows {
					if !ok && value(&table.Rows[o]) > value(&table.Rows[i])+1 {
						t.Fatalf("%s: step %d from %s is stuck, %s lies that way", name, way, table.Rows[i].ID, table.Rows[o].ID)
					}
				}
			}
			for _, way := range []choose.Step{choose.RearNext, choose.RearPrev} {
				if k, ok := choose.StepFrom(table, i, way); ok {
					wing := car.Parts[len(car.Parts)-1].Part
					f1, r1 := choose.WingBolts(table.Rows[i].Position, wing)
					f2, r2 := choose.WingBolts(table.Rows[k].Position, wing)
					if f1 != f2 || r1 == r2 {
						t.Fatalf("%s: another rear hole: front %v to %v, rear %v to %v", name, f1, f2, r1, r2)
					}
				}
			}
		}
	}
}
