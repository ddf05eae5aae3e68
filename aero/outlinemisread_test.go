package aero

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// What goes wrong at a drawing board: a point misread, one read twice, the nose left
// out, the chord line laid a degree off.
func TestMishapsOfReading(t *testing.T) {
	const division = 0.5 / 250
	r := rand.New(rand.NewPCG(6, 0))
	exact := drawn(t, "naca 4412", 400)
	clean := readOff(exact, manyPlaces, division, false, r)
	n := len(clean)
	for _, c := range []struct {
		name    string
		change  func(p []Vec) []Vec
		reading float64
		misread []int
		turned  float64
	}{
		{"3 mm misread, top", func(p []Vec) []Vec { p[10].Y += 0.012; return p }, division, []int{10}, 0},
		{"2 mm misread below the nose", func(p []Vec) []Vec { p[n/2+4].Y += 0.008; return p }, division, []int{n/2 + 4}, 0},
		{"two misread, reading not given", func(p []Vec) []Vec { p[6].Y -= 0.02; p[n-8].Y += 0.04; return p }, 0, []int{6, n - 8}, 0},
		{"read on the other side", func(p []Vec) []Vec { p[n/2+2].Y = p[n/2-2].Y; return p }, division, []int{n/2 + 2}, 0},
		{"twice", func(p []Vec) []Vec { return slices.Insert(p, 5, p[5], p[5]) }, division, nil, 0},
		{"no nose", func(p []Vec) []Vec { return slices.Delete(p, n/2, n/2+1) }, division, nil, 0},
		{"turned", func(p []Vec) []Vec {
			s, c := math.Sincos(deg)
			for i, v := range p {
				p[i] = Vec{v.X*c - v.Y*s, v.X*s + v.Y*c}
			}
			return p
		}, division, nil, 1 * deg},
	} {
		points := c.change(slices.Clone(clean))
		f, err := FitOutline(points, c.reading)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !slices.Equal(f.Misread, c.misread) {
			t.Errorf("%s: points %v are misread, want %v", c.name, f.Misread, c.misread)
		}
		if len(c.misread) > 0 && !slices.Contains(c.misread, f.Worst) {
			t.Errorf("%s: point %d is furthest off, by %.4f, want one of %v", c.name, f.Worst, f.WorstOff, c.misread)
		}
		if math.Abs(f.Turned-c.turned) > 0.15*deg {
			t.Errorf("%s: turned by %.2f°, want %.2f°", c.name, f.Turned/deg, c.turned/deg)
		}
		if f.Reading < 0.25*division || f.Reading > division || f.Residual > 1.2*f.Reading {
			t.Errorf("%s: readings uncertain by %.5f, residual %.5f, read to %.4f", c.name, f.Reading, f.Residual, division)
		}
		for _, p := range f.Points {
			if d := distance(p, exact); d > 2*division {
				t.Errorf("%s: the fit is %.4f off at %.3f chords", c.name, d, p.X)
				break
			}
		}
	}
}
