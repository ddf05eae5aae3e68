package aero

import (
	"math"
	"testing"
)

// A curve of 0.1 per degree from −4° with a dip of 0.3 % of its most before the top still has its slope and
// zero lift; by hand 5.7296 per rad. Between the middles of its segments the slope goes straight: at 8° half of
// 0.1 and of 0.06 per degree, at the top 0.
func TestStraightPassesADip(t *testing.T) {
	var alpha, cl, cd []float64
	for a := -6.0; a <= 14; a++ {
		l := 0.1 * (a + 4)
		switch {
		case a == 9:
			l = 1.26
		case a == 10:
			l = 1.256
		case a > 10:
			l = 1.3 - 0.03*math.Abs(a-11)
		}
		alpha, cl, cd = append(alpha, a*deg), append(cl, l), append(cd, 0.02)
	}
	c, err := NewCurve(alpha, cl, cd, nil)
	if err != nil {
		t.Fatal(err)
	}
	zero, slope := c.Straight()
	if math.Abs(zero+4*deg) > 1e-9 || math.Abs(slope-0.1/deg) > 1e-9 {
		t.Errorf("zero lift at %.3f°, slope %.4f per rad", zero/deg, slope)
	}
	for _, at := range []struct{ angle, want float64 }{{8, 0.08}, {7.5, 0.1}, {8.5, 0.06}, {-6, 0.1}, {10.75, 0.022}, {11, 0}} {
		if got := c.SlopeTo(at.angle*deg, 11*deg) * deg; math.Abs(got-at.want) > 1e-9 {
			t.Errorf("slope at %g° is %.4f per degree, want %.4f", at.angle, got, at.want)
		}
	}
}
