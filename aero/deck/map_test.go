package deck

import (
	"math"
	"testing"
)

func TestMap(t *testing.T) {
	for _, row := range []struct {
		name           string
		profile        []Point
		x0, x1, z0, z1 float64
		tol            float64
	}{
		{"over the deck", notchback, 0.3, 0.8, 1.05, 1.45, 0.01},
		{"into the window", notchback, 0, 0.9, 0.9, 1.4, 0.025},
		{"one place", squareback, 0.5, 0.5, 1.4, 1.4, 1e-9},
	} {
		d := newDeck(t, row.profile)
		m, err := d.Map(usual, 0.1, row.x0, row.x1, row.z0, row.z1)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range [][2]float64{{0.3, 0.4}, {0.6, 0.85}, {0.85, 0.15}} {
			at := Place{row.x0 + (row.x1-row.x0)*part[0], row.z0 + (row.z1-row.z0)*part[1], 0.1}
			want, wrong := d.Under(usual, at)
			got, err := m.At(at.X, at.Z)
			if (wrong == nil) != (err == nil) {
				t.Errorf("%s: at %v %v, by Under %v", row.name, at, err, wrong)
			}
			if err != nil || wrong != nil {
				continue
			}
			for i, pair := range [][2]Reaction{{got.Solid, want.Solid}, {got.Free, want.Free}} {
				a, b := pair[0], pair[1]
				if max(math.Abs(a.Lift-b.Lift), math.Abs(a.Rise-b.Rise), math.Abs(a.NoseUp-b.NoseUp), math.Abs(a.Forward-b.Forward)) > row.tol {
					t.Errorf("%s: at %v, wake %d: lift %.3f, rise %.3f, moment %.3f, forward %.3f; by Under %.3f, %.3f, %.3f, %.3f", row.name, at, i,
						a.Lift, a.Rise, a.NoseUp, a.Forward, b.Lift, b.Rise, b.NoseUp, b.Forward)
				}
			}
		}
		if _, err := m.At(row.x0-0.01, row.z0); err == nil {
			t.Errorf("%s: outside of the map there is an answer", row.name)
		}
	}
}
