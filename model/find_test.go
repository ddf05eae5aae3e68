package model_test

import (
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

// Words name every setting that takes all of their bolts and holes, whichever way round and in
// whatever case; case counts where it tells holes apart.
func TestNamedByHand(t *testing.T) {
	car := modeltest.Lever(t, 0)
	lower := &car.Parts[0]
	lower.Holes = append(lower.Holes, holes.Hole{ID: "r", X: 200, D: 8.4}, holes.Hole{ID: "P", Z: 100, D: 8.4}, holes.Hole{ID: "Q", X: 100, Z: 100, D: 8.4})
	car.Joints[0].MaxTurn = 5 * plane.Deg
	table, err := car.Map(45)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		words []string
		want  int
	}{
		{nil, 0},
		{[]string{""}, 0},
		{[]string{"p:F+q:R"}, 1},
		{[]string{"p:F"}, 1},
		{[]string{"F:p"}, 1},
		{[]string{"q"}, 2}, // p–q and q–r
		{[]string{"q", "r"}, 1},
		{[]string{"q+r"}, 1},
		{[]string{"p/r"}, 2},      // never together, so case does not count and R is meant
		{[]string{"p", "p:R"}, 0}, // p takes the wing's front bolt
		{[]string{"P"}, 1},        // the upper row
		{[]string{"f"}, 3},        // F in every one
		{[]string{"P:f"}, 2},      // no hole f, so case does not count: p and P
		{[]string{"q:R", "F"}, 1},
		{[]string{"nothing"}, 0},
		{[]string{"q", "gone"}, 0},
	} {
		if got := len(table.Named(c.words)); got != c.want {
			t.Errorf("%q: %d settings, want %d", c.words, got, c.want)
		}
	}
	if _, ok := table.Find("p:F"); ok {
		t.Error("half an id is an id")
	}
	if r, ok := table.Find("q:F+r:R"); !ok || r.X < 500 {
		t.Errorf("q:F+r:R: %v", ok)
	}
	if len(table.Ways(0)) != 1+len(table.Rows[0].Alternatives) {
		t.Errorf("%d ways", len(table.Ways(0)))
	}
}
