package aero

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Along evenly spaced points the cubic through the neighbours has the factors -1/6,
// 2/3, 2/3, -1/6, so a point d off a line is found √(1 + 34/36) d off, over which it
// is divided again. Scatter of a known size on an arch comes out.
func TestLocalScatter(t *testing.T) {
	// Every fifth point is 0.001 off: of five successive ones the distances over
	// 0.001 are 1, 2/3, 1/6, 1/6, 2/3 and their upper quartile is 2/3.
	var line []Vec
	for i := range 49 {
		p := Vec{float64(i) / 48, 0}
		if i%5 == 2 {
			p.Y = 0.001
		}
		line = append(line, p)
	}
	want := 0.001 * 2 / 3 / math.Sqrt(1+34./36) / 1.1503
	if s := localScatter(line); math.Abs(s/want-1) > 0.01 {
		t.Errorf("scatter %.6f, want %.6f", s, want)
	}
	r := rand.New(rand.NewPCG(1, 0))
	var arch []Vec
	for i := range 400 {
		x := float64(i) / 399
		arch = append(arch, Vec{x, 0.2*math.Sin(math.Pi*x) + 1e-4*r.NormFloat64()})
	}
	if s := localScatter(arch); s < 0.8e-4 || s > 1.15e-4 {
		t.Errorf("scatter %.2e on an arch, want 1e-4, less where it is steep", s)
	}
	if s := localScatter(line[:4]); !math.IsInf(s, 1) {
		t.Errorf("scatter %g of four points", s)
	}
}

func TestScaleDivision(t *testing.T) {
	for _, c := range []struct {
		heights []float64
		want    float64
	}{
		{[]float64{0, 0.002, 0.006, -0.004, 0.014}, 0.002},
		{[]float64{0.006, 0.009, -0.015}, 0.003},   // the least is twice the division
		{[]float64{0.021, 0.035, 0.007004}, 0.007}, // read to 0.007, rounded
		{[]float64{0.0213, 0.0354, 0.00511}, 0},
		{[]float64{0.00002, 0.00004}, 0}, // finer than matters
	} {
		var points []Vec
		for _, y := range c.heights {
			points = append(points, Vec{0, y})
		}
		if q := scaleDivision(points); math.Abs(q-c.want) > 1e-5 {
			t.Errorf("division of %v: %g, want %g", c.heights, q, c.want)
		}
	}
}
