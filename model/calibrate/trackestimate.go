package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"stanchion/model"
	"stanchion/model/units"
)

// partOf is rows and columns of a covariance, times a factor.
func partOf(cov *mat.SymDense, index []int, times float64) *mat.SymDense {
	if len(index) == 0 {
		return nil
	}
	out := mat.NewSymDense(len(index), nil)
	for i, a := range index {
		for k := i; k < len(index); k++ {
			out.SetSym(i, k, times*cov.At(a, index[k]))
		}
	}
	return out
}

// What readings must do to an unknown to count as telling of it, in parts of its prior standard uncertainty,
// and as a correlation.
const (
	toldMoved, toldNarrowed, toldTogether = 0.01, 0.005, 0.01
)

// tells reports whether the readings tell anything of an unknown: what it is, how well, or what it goes with.
func (l *Learned) tells(s trackSolution, u model.Unknown) bool {
	std := math.Sqrt(s.cov.At(int(u), int(u)))
	if math.Abs(s.off[u]) > toldMoved*l.prior[u] || std < (1-toldNarrowed)*l.prior[u] {
		return true
	}
	for v, prior := range l.prior {
		if v != int(u) && prior > 0 && math.Abs(s.cov.At(int(u), v)) > toldTogether*std*math.Sqrt(s.cov.At(v, v)) {
			return true
		}
	}
	return false
}

// estimate is what goes into the car file of what so many readings tell; nil where that is nothing, or
// cannot be.
func (l *Learned) estimate(readings int) *model.Estimate {
	var of []model.Unknown
	var value []float64
	var index []int
	for i, x := range l.Unknowns {
		if x.told {
			of, value, index = append(of, x.Of), append(value, x.Value-x.Before), append(index, i)
		}
	}
	if len(of) == 0 || readings == 0 {
		return nil
	}
	for _, x := range l.Unknowns {
		if what, ok := implausible(x); !ok {
			l.Notes = append(l.Notes, what)
			return nil
		}
	}
	e, err := model.NewEstimate(of, value, partOf(l.Cov, index, 1))
	if err != nil {
		l.Notes = append(l.Notes, units.Say("the fit cannot be kept: %v", err))
		return nil
	}
	e.Readings = readings
	return e
}

// implausible says what is wrong with an unknown that cannot be; ok where nothing is.
func implausible(x Narrowed) (what units.Phrase, ok bool) {
	switch x.Of {
	case model.LiftFactor, model.MaxLiftFactor, model.DragFactor:
		if x.Value < model.MinFit || x.Value > model.MaxFit {
			return units.Say("%s would be %.2f ± %.2f; it must be %.1f to %.0f: look at the readings, front_rate, rear_rate, power and drag_area", x.Of.Key(), x.Value, x.StdUnc, model.MinFit, model.MaxFit), false
		}
	case model.FrontAxleRate, model.RearAxleRate, model.OwnDragArea, model.WheelPower:
		if x.Value <= 0 {
			return units.Say("%s would be less than nothing: look at it, and at the readings", x.Of.Key()), false
		}
	}
	return what, true
}
