package aero

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// FlowPoint is the flow that meets the wing at one height.
type FlowPoint struct {
	Above float64 // height above the roof, m
	Angle float64 // rad, downwash positive: it adds to the angle of attack of a wing that lifts downwards
	Ratio float64 // local speed over the car's
	// One standard uncertainty of each as it was measured; 0 where nobody said.
	AngleStdUnc, RatioStdUnc float64
}

// Flow is the local flow over height, by straight lines between its points.
// With one point it is the same at all heights; with none it is undisturbed,
// 0 and 1, at all heights.
type Flow struct {
	points       []FlowPoint // by height
	angle, ratio interp.PiecewiseLinear

	angleStdUnc, ratioStdUnc interp.PiecewiseLinear
}

// NewFlow makes a flow from points in any order; two at one height are an error.
func NewFlow(points []FlowPoint) (Flow, error) {
	points = append([]FlowPoint(nil), points...)
	sort.SliceStable(points, func(a, b int) bool { return points[a].Above < points[b].Above })
	for i := 1; i < len(points); i++ {
		if points[i].Above == points[i-1].Above {
			return Flow{}, errors.New("two flow points at one height above the roof")
		}
	}
	f := Flow{points: points}
	if len(points) > 1 {
		var above, angle, ratio, angleStdUnc, ratioStdUnc []float64
		for _, p := range points {
			above, angle, ratio = append(above, p.Above), append(angle, p.Angle), append(ratio, p.Ratio)
			angleStdUnc, ratioStdUnc = append(angleStdUnc, p.AngleStdUnc), append(ratioStdUnc, p.RatioStdUnc)
		}
		f.angle, f.ratio = piecewise(above, angle), piecewise(above, ratio)
		f.angleStdUnc, f.ratioStdUnc = piecewise(above, angleStdUnc), piecewise(above, ratioStdUnc)
	}
	return f, nil
}

// At returns the flow at a height above the roof in m, and whether the points
// reach that far.
func (f Flow) At(above float64) (FlowPoint, bool) {
	n := len(f.points)
	switch {
	case n == 0:
		return FlowPoint{Above: above, Ratio: 1}, true
	case n == 1:
		p := f.points[0]
		p.Above = above
		return p, true
	}
	if lo, hi := f.points[0].Above, f.points[n-1].Above; !(above > lo-rounding && above < hi+rounding) {
		return FlowPoint{Above: above, Angle: math.NaN(), Ratio: math.NaN()}, false
	}
	return FlowPoint{above, f.angle.Predict(above), f.ratio.Predict(above), f.angleStdUnc.Predict(above), f.ratioStdUnc.Predict(above)}, true
}

// Range returns the least and largest height above the roof, m, that the
// points reach; infinite for fewer than two.
func (f Flow) Range() (lo, hi float64) {
	if len(f.points) < 2 {
		return math.Inf(-1), math.Inf(1)
	}
	return f.points[0].Above, f.points[len(f.points)-1].Above
}

// Known reports whether any point was given.
func (f Flow) Known() bool { return len(f.points) > 0 }
