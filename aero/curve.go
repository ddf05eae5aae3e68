package aero

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// Curve gives force coefficients over a range of angles of attack, by straight
// lines between its points. It gives nothing outside of them.
type Curve struct {
	alpha              []float64 // rad, ascending
	cl                 []float64
	lift, drag, moment interp.PiecewiseLinear
}

// NewCurve makes a curve from its points: angles of attack in rad, ascending,
// at least two, and as many values of each coefficient. cm may be nil: the
// moment is then not known and comes out as NaN. The error says which point
// cannot be used.
func NewCurve(alpha, cl, cd, cm []float64) (Curve, error) {
	if len(alpha) < 2 {
		return Curve{}, fmt.Errorf("a curve of %d points; at least 2 are needed", len(alpha))
	}
	if cm == nil {
		cm = make([]float64, len(alpha))
		for i := range cm {
			cm[i] = math.NaN()
		}
	}
	if len(cl) != len(alpha) || len(cd) != len(alpha) || len(cm) != len(alpha) {
		return Curve{}, fmt.Errorf("%d angles with %d, %d and %d coefficients", len(alpha), len(cl), len(cd), len(cm))
	}
	for i := range alpha {
		if i > 0 && !(alpha[i] > alpha[i-1]) {
			return Curve{}, fmt.Errorf("point %d: angle %g° after %g°; put the angles in ascending order", i+1, alpha[i]/deg, alpha[i-1]/deg)
		}
		if math.IsNaN(cl[i]-cl[i]) || math.IsNaN(cd[i]-cd[i]) || math.IsInf(cm[i], 0) { // infinite less itself is not a number either
			return Curve{}, fmt.Errorf("point %d: coefficients are not numbers", i+1)
		}
	}
	return Curve{slices.Clone(alpha), slices.Clone(cl), piecewise(alpha, cl), piecewise(alpha, cd), piecewise(alpha, cm)}, nil
}

// Straight returns y over ascending x by straight lines, at least two points, level beyond
// the ends.
func Straight(x, y []float64) func(float64) float64 { return piecewise(x, y).Predict }

// piecewise interpolates by straight lines between points with ascending x, at least two;
// beyond the ends it is level.
func piecewise(x, y []float64) (p interp.PiecewiseLinear) {
	if err := p.Fit(x, y); err != nil {
		panic(err) // it gives none for ascending x
	}
	return p
}

// rounding is by how much an angle or a height may pass the end of the data and
// still be at it, rad or m.
const rounding = 1e-9

// At returns the coefficients at an angle of attack in rad, and whether the
// curve reaches that far.
func (c Curve) At(alpha float64) (Coefficients, bool) {
	n := len(c.alpha)
	if n == 0 || !(alpha >= c.alpha[0]-rounding && alpha <= c.alpha[n-1]+rounding) {
		return Coefficients{math.NaN(), math.NaN(), math.NaN()}, false
	}
	return c.at(alpha), true
}

// at returns the coefficients at an angle of attack, those of the nearer end beyond.
func (c Curve) at(alpha float64) Coefficients {
	return Coefficients{c.lift.Predict(alpha), c.drag.Predict(alpha), c.moment.Predict(alpha)}
}

// Slope returns dCL/dα per rad at an angle of attack that the curve reaches:
// that of the segment which begins there, or ends there at the last point.
func (c Curve) Slope(alpha float64) float64 {
	i := sort.Search(len(c.alpha), func(i int) bool { return c.alpha[i] > alpha })
	i = min(max(i, 1), len(c.alpha)-1)
	return (c.cl[i] - c.cl[i-1]) / (c.alpha[i] - c.alpha[i-1])
}

// SlopeTo returns dCL/dα per rad at an angle of attack as a continuous figure: that of each segment at its
// middle, straight lines between, and 0 at a top in rad, above which it says nothing. A top of NaN is none.
func (c Curve) SlopeTo(alpha, top float64) float64 {
	i := sort.SearchFloat64s(c.alpha, alpha) // the segment's end
	i = min(max(i, 1), len(c.alpha)-1)
	middle := func(i int) float64 { return (c.alpha[i-1] + c.alpha[i]) / 2 }
	if alpha < middle(i) {
		i-- // between the middles of i and i+1
	}
	segment := func(i int) float64 { return (c.cl[i] - c.cl[i-1]) / (c.alpha[i] - c.alpha[i-1]) }
	if i < 1 {
		return segment(1)
	}
	x0, y0 := middle(i), segment(i)
	last := i+1 >= len(c.alpha)
	if last && !(top > x0) {
		return y0
	}
	x1, y1 := top, 0.0
	if !last && !(top < middle(i+1)) { // also where there is no top
		x1, y1 = middle(i+1), segment(i+1)
	}
	if !(x1 > x0) {
		return y0
	}
	return y0 + (y1-y0)*min((alpha-x0)/(x1-x0), 1)
}

// Range returns the least and the largest angle of attack that the curve
// reaches, rad; both are NaN for an empty curve.
func (c Curve) Range() (lo, hi float64) {
	if len(c.alpha) == 0 {
		return math.NaN(), math.NaN()
	}
	return c.alpha[0], c.alpha[len(c.alpha)-1]
}

// Stall returns the angle of attack in rad of the largest lift with the flow
// attached, and that lift: the first top, going up, from which lift falls by more than 1 %
// and that is more than half of the most lift below 30°. Lift that comes back far beyond the
// stall does not count, nor does a negative stall that a flap has lifted above zero. It reports
// false where the curve ends before its lift falls, so that nobody knows where the stall is.
func (c Curve) Stall() (alpha, cl float64, ok bool) {
	most := 0.0
	for i, l := range c.cl {
		if c.alpha[i] <= usualStall {
			most = max(most, l)
		}
	}
	best := -1
	for i, l := range c.cl {
		switch {
		case l <= most/2:
			if best >= 0 {
				return c.alpha[best], c.cl[best], true
			}
		case best < 0 || l > c.cl[best]:
			best = i
		case l < 0.99*c.cl[best]:
			return c.alpha[best], c.cl[best], true
		}
	}
	return math.NaN(), math.NaN(), false
}

// usualStall is the angle of attack by which every wing has stalled, rad.
const usualStall = 30 * deg

// attached returns the points between which lift grows, but for dips of up to 1 % of its most: up to the
// stall, or to the end of a curve that does not reach it.
func (c Curve) attached() (low, high int) {
	high = len(c.cl) - 1
	if at, _, ok := c.Stall(); ok {
		high = sort.SearchFloat64s(c.alpha, at)
	}
	low = high
	for i := high - 1; i >= 0 && c.cl[i] < c.cl[low]+0.01*max(c.cl[high], 0); i-- {
		if c.cl[i] < c.cl[low] {
			low = i
		}
	}
	return low, high
}

// Straight returns the angle of zero lift and the slope there, rad and per rad, of the curve's
// attached part. Where that does not come down to zero, both are those of its straight part, at
// 0.4 of its most lift or at its beginning. They are NaN for a curve without lift.
func (c Curve) Straight() (zero, slope float64) {
	if len(c.cl) < 2 {
		return math.NaN(), math.NaN()
	}
	low, high := c.attached()
	if !(c.cl[high] > 0) || low == high {
		return math.NaN(), math.NaN()
	}
	i := low + 1
	if c.cl[low] > 0 {
		for i < high && c.cl[i] < 0.4*c.cl[high] {
			i++
		}
	} else {
		for i < high && c.cl[i] <= 0 {
			i++
		}
	}
	slope = (c.cl[i] - c.cl[i-1]) / (c.alpha[i] - c.alpha[i-1])
	return c.alpha[i] - c.cl[i]/slope, slope
}

// PeakAngle is the angle of Stall, found between the curve's points by a parabola
// through the highest and its neighbours; for a curve of a smooth wing.
func (c Curve) PeakAngle() float64 {
	at, _ := c.peak()
	return at
}

// peak is PeakAngle with the lift there. Where the highest point's neighbours are not equally far
// it is that point: somebody has put it there.
func (c Curve) peak() (at, cl float64) {
	at, cl, ok := c.Stall()
	i := sort.SearchFloat64s(c.alpha, at)
	if !ok || i < 1 || i > len(c.alpha)-2 {
		return at, cl
	}
	left, right := at-c.alpha[i-1], c.alpha[i+1]-at
	before, here, after := c.cl[i-1], c.cl[i], c.cl[i+1]
	if bend := before - 2*here + after; bend < 0 && math.Abs(left-right) < rounding {
		step := min(max((before-after)/(2*bend), -0.5), 0.5)
		return at + step*left, here + step*(after-before)/2 + step*step*bend/2
	}
	return at, cl
}

// Points runs over the points of the curve: angle of attack in rad, and coefficients.
func (c Curve) Points() iter.Seq2[float64, Coefficients] {
	return func(yield func(float64, Coefficients) bool) {
		for _, a := range c.alpha {
			if !yield(a, c.at(a)) {
				return
			}
		}
	}
}

// HasMoment reports whether the moment is known.
func (c Curve) HasMoment() bool { return len(c.alpha) > 0 && !math.IsNaN(c.at(c.alpha[0]).CM) }
