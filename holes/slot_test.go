package holes

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes/plane"
)

func ExampleSlot_Positions() {
	s := Slot{Hole: Hole{ID: "S1", X: 0, Z: 0, D: 8.4}, To: plane.Point{X: 0, Z: 30}, Step: 10}
	for _, h := range s.Positions() {
		fmt.Printf("%s at %.0f, %.0f: %s\n", h.ID, h.X, h.Z, s.Where(h.Distance))
	}
	// Output:
	// S1@0 at 0, 0: 0.0 mm from the lower end, 30.0 mm from the upper end
	// S1@10 at 0, 10: 10.0 mm from the lower end, 20.0 mm from the upper end
	// S1@20 at 0, 20: 20.0 mm from the lower end, 10.0 mm from the upper end
	// S1@30 at 0, 30: 30.0 mm from the lower end, 0.0 mm from the upper end
}

// An arc slot about the pivot, by hand: radius 100 mm, 12° long, is 20.94 mm;
// in steps of at most 3.5 mm that is 6 steps of 2°, and each is a setting.
func TestArcSlot(t *testing.T) {
	s := Slot{Hole: Hole{ID: "S", X: 100, Z: 0, D: 8.4}, Centre: plane.Point{}, Turn: 12 * deg, Step: 3.5}
	if l := s.Length(); math.Abs(l-20.944) > 1e-3 {
		t.Errorf("length %.3f mm, want 20.944", l)
	}
	upright := plate("p", 8.4, plane.Point{})
	upright.Holes = append(upright.Holes, s.Positions()...)
	fits, err := Fits(upright, plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0}), m8("head"))
	if err != nil || len(fits) != 7 {
		t.Fatalf("%d fits, %v; want 7", len(fits), err)
	}
	for i, f := range fits {
		if math.Abs(f.Pose.Turn/deg-2*float64(i)) > 1e-6 || len(f.Pairs) != 2 {
			t.Errorf("fit %d turned %.4f° with %d bolts, want %d° with 2", i, f.Pose.Turn/deg, len(f.Pairs), 2*i)
		}
	}
}

// A straight slot takes its bolt only where the spacing is right, and one bolt.
func TestStraightSlotTakesOneBolt(t *testing.T) {
	s := Slot{Hole: Hole{ID: "S", X: 90, D: 8.4}, To: plane.Point{X: 110, Z: 0}, Step: 0.5}
	upright := plate("p", 8.4, plane.Point{})
	upright.Holes = append(upright.Holes, s.Positions()...)
	// The wing has two holes 10 mm apart, both within reach of the slot.
	fits, err := Fits(upright, plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0}, plane.Point{X: 110, Z: 0}), m8("head"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits {
		in := 0
		for _, p := range f.Pairs {
			if upright.Holes[p.Lower].Slot != "" {
				in++
			}
		}
		if in != 1 {
			t.Errorf("%d bolts in the slot: %v", in, f.Pairs)
		}
	}
}
