package plane

import "testing"

// TestParity: across a unit square, from its middle, a ray to the rear crosses the second edge only; from outside in front it crosses two.
func TestParity(t *testing.T) {
	square := []Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	for p, want := range map[Point][5]bool{{0.5, 0.5}: {false, false, true, true, true}, {-1, 0.5}: {false, false, true, true, false}, {2, 0.5}: {}} {
		odd := Parity(square, p)
		if [5]bool(odd) != want || odd[4] != Inside(square, p) {
			t.Errorf("from %v: %v, want %v", p, odd, want)
		}
	}
	if !Behind(Point{0, 0.5}, Point{1, 0}, Point{1, 1}) || Behind(Point{2, 0.5}, Point{1, 0}, Point{1, 1}) {
		t.Error("behind")
	}
}
