package design

import (
	"testing"

	"stanchion/model/modeltest"
)

// TestHeightsThatRunIntoEachOther: a bracket of 60 by 60 mm and M8 bolts, heights 40 mm apart. The plate's second row would stand 60 - 40 = 20 mm
// from the first, 20.2 mm are wanted: 39.8 mm do, which the tolerance of the heights allows. A third height would run into both unless the plate goes
// to the front or rear as well.
func TestHeightsThatRunIntoEachOther(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	low := modeltest.TableOf(t, c).Rows[0].Height
	b := &c.Parts[0]
	b.Holes = b.Holes[:4]
	for i, at := range [][2]float64{{0, 0}, {60, 0}, {0, 60}, {60, 60}} {
		b.Holes[i].X, b.Holes[i].Z = at[0], at[1]
	}
	for _, heights := range [][]float64{{low, low + 40}, {low, low + 40, low + 80}} {
		d, err := design(t.Context(), c, Wish{Heights: heights, HeightWithin: 10, BehindWithin: 20, Angles: []float64{0}}, quick, nil)
		if err != nil || len(d.Proposals) == 0 {
			t.Errorf("%v: no plate, %v", heights, err)
			continue
		}
		for _, l := range d.Proposals[0].Levels {
			if !l.Given {
				t.Errorf("%v: not given at %.0f mm", heights, l.Height)
			}
		}
	}
}
