package calibrate

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Possible is runs that could be made on track, and what their readings would tell of the unknowns of a fit.
type Possible struct {
	Runs []PossibleRun

	// Before is what is known of the unknowns, as information: the inverse of their covariance. All unknowns are in their standard
	// uncertainties before any reading.
	Before *mat.SymDense

	learned  Learned
	estimate *model.Estimate
	prior    []float64 // of the estimate's unknowns
}

// PossibleRun is one setting at one speed.
type PossibleRun struct {
	Row   *model.Row
	Speed float64 // m/s

	// Slopes are those of each reading, a row for each, by the unknowns, in standard uncertainties of the reading and of the unknowns.
	Slopes *mat.Dense

	raw           [][]float64 // of readings, by the unknowns' own units
	noise, shared []float64   // of a reading, and what it is off by in each run of the setting alike
}

// Sinks and Fast are the kinds of readings of a run: ride heights at a speed, or the top speed.
var (
	Sinks = []ReadingKind{FrontSink, RearSink}
	Fast  = []ReadingKind{TopSpeed}
)

// Possibilities works out what runs with some settings at some speeds would tell, by what notes have told so far. Runs of which nothing
// is predicted are left out: the list is empty where the car lacks what the readings need.
func Possibilities(t *model.Table, notes []logbook.Note, rows []*model.Row, speeds []float64, kinds []ReadingKind) (*Possible, error) {
	p := &Possible{}
	var err error
	if p.learned, err = Learn(t, notes); err != nil && !errors.Is(err, ErrNothing) {
		return nil, err
	}
	l := &p.learned
	if l.prior == nil {
		if err := l.knownBefore(); err != nil {
			return nil, err
		}
	}
	if len(l.Unknowns) == 0 { // no reading: what the file says
		var variances []float64
		for u := model.Unknown(1); u < model.UnknownsEnd; u++ {
			if s := l.prior[u]; s > 0 {
				nominal := l.track.car.Nominal(u)
				l.Unknowns = append(l.Unknowns, Narrowed{Of: u, Before: nominal, BeforeStdUnc: s, Value: nominal, StdUnc: s})
				variances = append(variances, s*s)
			}
		}
		l.Cov = mat.NewSymDense(len(variances), nil)
		for i, v := range variances {
			l.Cov.SetSym(i, i, v)
		}
	}
	if p.estimate, err = l.Whole(); err != nil {
		return nil, err
	}
	for _, u := range p.estimate.Of {
		p.prior = append(p.prior, l.prior[u])
	}
	if err := p.inverted(); err != nil {
		return nil, err
	}
	var off model.Offs
	for i, u := range p.estimate.Of {
		off[u] = p.estimate.Value[i]
	}
	for _, r := range rows {
		for _, v := range speeds {
			if run, ok := p.run(r, v, kinds, off); ok {
				p.Runs = append(p.Runs, run)
			}
		}
	}
	return p, nil
}

// inverted makes the information of the covariance, in parts of what the unknowns are uncertain by before any reading.
func (p *Possible) inverted() error {
	n := len(p.prior)
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			scaled.SetSym(i, k, p.estimate.Cov.At(i, k)/(p.prior[i]*p.prior[k]))
		}
	}
	var c mat.Cholesky
	if !c.Factorize(scaled) {
		return errNotSettled
	}
	p.Before = mat.NewSymDense(n, nil)
	return c.InverseTo(p.Before)
}

// run is what a setting at a speed would tell; ok is false where nothing is predicted.
func (p *Possible) run(r *model.Row, speed float64, kinds []ReadingKind, off model.Offs) (run PossibleRun, ok bool) {
	l := &p.learned
	one, err := l.track.at(r, speed, l.track.car.Air)
	if err != nil || math.IsNaN(one.row.Downforce) {
		return run, false
	}
	run = PossibleRun{Row: r, Speed: speed}
	disturbances := one.table.Disturbances(one.row)
	var slopes []float64
	for _, kind := range kinds {
		value := one.predict(kind, &off, nil, 0)
		if math.IsNaN(value) {
			continue
		}
		noise := l.track.car.Uncertainty.RideHeight
		if kind == TopSpeed {
			noise = value * l.track.car.Uncertainty.TopSpeed
		}
		shared := 0.0
		for i := range disturbances {
			d := &disturbances[i]
			if kind == TopSpeed && d.What == model.FromSpeed { // it is what is read
				continue
			}
			shared = math.Hypot(shared, slopeOf(one.predict(kind, &off, d, 1), value, one.predict(kind, &off, d, -1)))
		}
		raw := l.gradient(p.estimate, off, func(off *model.Offs) float64 { return one.predict(kind, off, nil, 0) })
		for i, x := range raw {
			slopes = append(slopes, x*p.prior[i]/math.Hypot(noise, shared))
		}
		run.raw, run.noise, run.shared = append(run.raw, raw), append(run.noise, noise), append(run.shared, shared)
	}
	if len(run.raw) == 0 {
		return run, false
	}
	run.Slopes = mat.NewDense(len(run.raw), len(p.prior), slopes)
	return run, true
}

// After is one standard uncertainty of a figure of a setting now, and with so many runs of each kind made too. What a reading is off by
// in every run of its setting alike is not made less by more runs.
func (p *Possible) After(times []int, target *model.Row, figure func(model.Contribution) float64) (before, after float64) {
	e := p.estimate
	for i, n := range times {
		if n == 0 {
			continue
		}
		r := &p.Runs[i]
		for k, raw := range r.raw {
			e = e.Told(raw, math.Hypot(r.noise[k]/math.Sqrt(float64(n)), r.shared[k]))
		}
	}
	return p.learned.stdUnc(target, p.estimate, figure), p.learned.stdUnc(target, e, figure)
}
