package calibrate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// Learned is what measurements on track say of the car.
type Learned struct {
	Unknowns []Narrowed
	Cov      *mat.SymDense  // of Unknowns, in the same order and their own units
	Readings []TrackReading // in the order of the notes, suspects with them
	Notes    []units.Phrase

	// Fit is what goes into the car file: those unknowns of which the readings tell something; nil where
	// they tell nothing.
	Fit *model.Estimate

	// ChiSquared is the sum of squares of the readings in use against what the file says, which is as large
	// as their number when all is well; Chance that it is as large or larger then. Where it is less than
	// misfitChance all uncertainties are widened by Widened.
	ChiSquared, Chance, Widened float64

	// OneSetting says that all ride heights are of one setting, whose lift they cannot tell from the car's own.
	OneSetting bool

	track *track
	table *model.Table
	prior []float64
}

// Narrowed is one unknown before and after the readings, in its own unit.
type Narrowed struct {
	Of                   model.Unknown
	Before, BeforeStdUnc float64
	Value, StdUnc        float64
	told                 bool
}

// ErrNothing is that of notes without anything to learn from.
var ErrNothing = errors.New("no note has a ride height at speed, a top speed or a drag area that can be used: note add --sink-front, --sink-rear, --sink-speed or --top-speed, or read a recording by logged")

// Learn finds what readings on track say of the unknowns of a car, all together with what its file says
// of them: lift, flow, the car's own lift at each axle, springs, drag, power. t is any table of the car's
// settings; a fit that its car has already is left out, so that no reading counts twice.
//
// A ride height is the sink of an axle at speed on its springs, under the car's own downforce, that
// of the wing, and what the body takes of it. A top speed is that at which drag takes all of the
// power. A reading that does not fit what the file and the others say is named and left out.
func Learn(t *model.Table, notes []logbook.Note) (Learned, error) {
	all := readTrack(t, notes)
	l := Learned{Notes: all.notes, Readings: all.readings, Widened: 1, Chance: 1, track: all, table: t}
	if len(all.readings)+len(all.notes) == 0 {
		return l, ErrNothing
	}
	if err := l.knownBefore(); err != nil {
		return l, err
	}
	in := make([]int, len(all.readings))
	for i := range in {
		in[i] = i
	}
	s, in, err := l.withoutSuspects(in)
	if err != nil {
		return l, err
	}
	l.take(s, in)
	return l, nil
}

// knownBefore works out how well each unknown is known before any reading.
func (l *Learned) knownBefore() error {
	base := *l.table
	base.Car = l.track.car
	if c := l.table.Car; c.TrackFit.Known() || c.Claim.Speed.Known() {
		w, err := base.Car.SolveWing(base.Speed)
		if err != nil {
			return err
		}
		base.Wing = w
	}
	l.prior = make([]float64, model.UnknownsEnd)
	for u := model.Unknown(1); u < model.UnknownsEnd; u++ {
		l.prior[u] = base.Prior(u)
	}
	return nil
}

// falseAlarm is the chance at most that any of clean readings is called suspect.
const falseAlarm = 0.03

// suspectLimit is how many standard uncertainties a reading may lie off the others when there are so many:
// each of n may with 1 − (1 − falseAlarm)^(1/n), so that all of them together do with falseAlarm, however
// they hang together.
// Source: Z. Šidák, J. Amer. Statist. Assoc. 62 (1967) 626-633, "Rectangular Confidence Regions for the
// Means of Multivariate Normal Distributions".
func suspectLimit(n int) float64 {
	each := -math.Expm1(math.Log1p(-falseAlarm) / float64(n))
	return distuv.UnitNormal.Quantile(1 - each/2)
}

// withoutSuspects solves for the readings in use, leaving out the one that fits least as long as one does
// not fit, and returns those that are left.
func (l *Learned) withoutSuspects(in []int) (trackSolution, []int, error) {
	for {
		p := l.track.problem(l.prior, in)
		s, err := p.solve()
		if errors.Is(err, errNotSettled) {
			if at, off := p.furthest(); at >= 0 {
				l.Readings[in[at]].Suspect, l.Readings[in[at]].Off = true, off
				in = slices.Delete(slices.Clone(in), at, at+1)
				continue
			}
		}
		if err != nil {
			return s, in, err
		}
		worst, limit := -1, suspectLimit(max(1, len(in)))
		for i, off := range s.loo {
			if math.Abs(off) > limit {
				worst, limit = i, math.Abs(off)
			}
		}
		if worst < 0 {
			return s, in, nil
		}
		l.Readings[in[worst]].Suspect = true
		in = slices.Delete(slices.Clone(in), worst, worst+1)
	}
}

// misfitChance is the chance below which readings and file do not agree as a whole.
const misfitChance = 0.01

// take puts a trackSolution for the readings in use into what was learned.
func (l *Learned) take(s trackSolution, in []int) {
	if n := len(in); n > 0 {
		l.ChiSquared = s.chiSquared
		l.Chance = distuv.ChiSquared{K: float64(n)}.Survival(s.chiSquared)
		// Source: R. T. Birge, Phys. Rev. 40 (1932) 207-227: uncertainties widened by the root of the
		// mean square.
		if l.Chance < misfitChance {
			l.Widened = math.Sqrt(s.chiSquared / float64(n))
		}
	}
	square := l.Widened * l.Widened
	l.residuals(s, in)
	var index []int
	for u := model.Unknown(1); u < model.UnknownsEnd; u++ {
		if l.prior[u] > 0 {
			nominal := l.track.car.Nominal(u)
			x := Narrowed{Of: u, Before: nominal, BeforeStdUnc: l.prior[u], Value: nominal + s.off[u], StdUnc: l.Widened * math.Sqrt(s.cov.At(int(u), int(u)))}
			x.told = l.tells(s, u)
			l.Unknowns, index = append(l.Unknowns, x), append(index, int(u))
		}
	}
	l.Cov = partOf(s.cov, index, square)
	l.OneSetting = l.oneSetting(in)
	l.Fit = l.estimate(len(in))
}

// residuals gives each reading what the fit has for it and how far it lies off the others.
func (l *Learned) residuals(s trackSolution, in []int) {
	for i, at := range in {
		l.Readings[at].Fitted, l.Readings[at].Off = s.fitted[i], s.loo[i]
	}
	for at := range l.Readings {
		r := &l.Readings[at]
		if !r.Suspect {
			continue
		}
		alone := l.track.problem(l.prior, []int{at})
		var used []int
		for u, p := range l.prior {
			if p > 0 {
				used = append(used, u)
			}
		}
		slopes := alone.slopes(slices.Clone(s.off), used)
		variance := alone.noise(s.off).At(0, 0)
		for i, u := range used {
			for k, v := range used {
				variance += slopes.At(0, i) / l.prior[u] * s.cov.At(u, v) * slopes.At(0, k) / l.prior[v]
			}
		}
		r.Fitted = alone.predict(s.off)[0]
		r.Off = (r.Measured - r.Fitted) / math.Sqrt(variance)
	}
}

// oneSetting reports whether all ride heights in use are of one setting.
func (l *Learned) oneSetting(in []int) bool {
	setting := ""
	for _, at := range in {
		r := l.Readings[at]
		if !r.Kind.AtSpeed() {
			continue
		}
		if setting != "" && r.Setting != setting {
			return false
		}
		setting = r.Setting
	}
	return setting != ""
}

// Suspects lists the readings that were left out.
func (l *Learned) Suspects() (all []TrackReading) {
	for _, r := range l.Readings {
		if r.Suspect {
			all = append(all, r)
		}
	}
	return all
}
