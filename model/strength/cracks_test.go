package strength_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
)

// The first place of each plate is the middle of the chord that governs it; all are at least 30 mm apart, no more than three of a
// plate, and each is named by the hole that no other is nearer than.
func TestHotPlaces(t *testing.T) {
	f, err := strength.New(modeltest.Car(t, "coupe"))
	if err != nil {
		t.Fatal(err)
	}
	if got := f.HotPlaces(strength.Result{}); got != nil {
		t.Errorf("%v of plates that are not solved", got)
	}
	r, err := f.Solve(context.Background(), &f.Table.Rows[8])
	if err != nil {
		t.Fatal(err)
	}
	of := map[string][]strength.Hot{}
	for _, h := range f.HotPlaces(r) {
		of[h.Part] = append(of[h.Part], h)
	}
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		hot := of[p.Name]
		if len(hot) == 0 || len(hot) > 3 {
			t.Fatalf("%s: %d places", p.Name, len(hot))
		}
		if middle := p.Worst.Line[0].Add(p.Worst.Line[1]).Times(0.5); hot[0].At != middle || hot[0].Share != p.Worst.Utilisation() {
			t.Errorf("%s: first %v, governing at %v", p.Name, hot[0], middle)
		}
		// By a look at every place of the field: none that uses more than a named one is far from all of them, and none from six
		// tenths of the largest share on where fewer than three are named. The first is the governing chord's, whatever the field.
		largest, least := 0.0, math.Inf(1)
		for _, u := range p.Field {
			largest = max(largest, u.Share)
		}
		for _, h := range hot[1:] {
			least = min(least, h.Share)
			if h.Share < 0.6*largest {
				t.Errorf("%s: %v is named, the largest share is %.3f", p.Name, h, largest)
			}
		}
		if len(hot) < 3 {
			least = 0.6 * largest
		}
		for _, u := range p.Field {
			near := slices.ContainsFunc(hot, func(h strength.Hot) bool { return math.Hypot(h.At.X-u.At.X, h.At.Z-u.At.Z) < 30 })
			if !near && u.Share > least {
				t.Errorf("%s: %.3f used at %v, and no place near it is named: %v", p.Name, u.Share, u.At, hot)
			}
		}
		for k, a := range hot {
			for _, b := range hot[:k] {
				if d := a.At.Distance(b.At); d < 30 {
					t.Errorf("%s: %v and %v are %.0f mm apart", p.Name, a.At, b.At, d)
				}
			}
			var named plane.Point
			for _, h := range f.Car.Parts[p.Part].Holes {
				if h.ID == a.Hole {
					named = h.At()
				}
			}
			for _, h := range f.Car.Parts[p.Part].Holes {
				if h.At().Distance(a.At) < named.Distance(a.At)-1e-9 {
					t.Errorf("%s at %v: %s is nearer than %s", p.Name, a.At, h.ID, a.Hole)
				}
			}
		}
	}
}

// By hand, of a largest share of 0.5: 29 mm off is too near, 31 mm is not; 0.31 is more than six tenths of it, 0.29 is not; a fourth
// is one too many.
func TestHotPlacesByHand(t *testing.T) {
	f, err := strength.Single(modeltest.Car(t, "coupe"))
	if err != nil {
		t.Fatal(err)
	}
	used := func(x, share float64) strength.Used {
		return strength.Used{At: plane.Point{X: x}, Share: share}
	}
	for _, c := range []struct {
		field []strength.Used
		want  []float64
	}{
		{[]strength.Used{used(29, 0.45), used(0, 0.5), used(31, 0.31), used(100, 0.29)}, []float64{0, 31}},
		{[]strength.Used{used(0, 0.5), used(40, 0.45), used(80, 0.4), used(120, 0.35)}, []float64{0, 40, 80}},
		{nil, nil},
	} {
		r := strength.Result{Solved: &strength.Solved{Plates: []strength.SolvedPlate{{Part: 1, Name: "upright", Field: c.field}}}}
		var got []float64
		for _, h := range f.HotPlaces(r) {
			got = append(got, h.At.X)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("of %v: places at %v, want %v", c.field, got, c.want)
		}
	}
}
