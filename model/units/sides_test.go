package units

import "testing"

func TestSides(t *testing.T) {
	for text, want := range map[string][2]string{
		"400x600mm": {"400mm", "600mm"}, "400 X 600": {"400", "600"}, "15 3/4in × 2ft": {"15 3/4in", "2ft"}, "1 1/2 x 3in": {"1 1/2in", "3in"}, "400": {"400", ""},
	} {
		if w, h := Sides(text); w != want[0] || h != want[1] {
			t.Errorf("%q: %q and %q, want %q", text, w, h, want)
		}
	}
}
