package calibrate

import (
	"math"

	"stanchion/model"
)

// NextReading is the reading on track that would narrow a figure of a setting the most.
type NextReading struct {
	Kind          ReadingKind
	Row           *model.Row // what is run; of the table that was learned with
	Speed         float64    // m/s
	Before, After float64    // one standard uncertainty of the figure
}

// mostTried is how many settings are tried for a next reading, evenly from all that may be run.
const mostTried = 24

// Next returns which reading would narrow a figure of a setting the most: of which axle's ride height, or
// the top speed, with which setting. Rides are at the highest speed that figures are quoted at or that was
// noted. ok is false where no reading narrows it.
//
// The covariance is updated as if the reading had been made; which one is best is found from derivatives,
// and what it leaves from the budget itself.
func (l *Learned) Next(target *model.Row, figure func(model.Contribution) float64, moves func(*model.Outcome) float64) (next NextReading, ok bool) {
	e, err := l.Whole()
	if err != nil || l.track == nil {
		return next, false
	}
	one, err := l.track.at(target, l.table.Speed, l.track.car.Air)
	if err != nil || math.IsNaN(one.row.Downforce) {
		return next, false
	}
	var off model.Offs
	for i, u := range e.Of {
		off[u] = e.Value[i]
	}
	gradient := l.gradient(e, off, func(off *model.Offs) float64 {
		o := one.table.Disturbed(one.row, off, nil, 0).OutcomeAt(one.row.Position, one.row.Height-one.table.Car.RoofHeight)
		return moves(&o)
	})
	var best *model.Estimate
	most := 0.0
	for _, c := range l.candidates(target) {
		slopes := l.gradient(e, off, func(off *model.Offs) float64 { return c.run.predict(c.Kind, off, nil, 0) })
		noise := c.stdUnc
		for i := range c.run.disturbed {
			d := &c.run.disturbed[i]
			up, down := c.run.predict(c.Kind, &off, &d.Disturbance, d.times), c.run.predict(c.Kind, &off, &d.Disturbance, -d.times)
			noise = math.Hypot(noise, slopeOf(up, math.NaN(), down))
		}
		if gain := gainOf(e, gradient, slopes, noise); gain > most {
			most, next, best = gain, c.NextReading, e.Told(slopes, noise)
		}
	}
	if best == nil {
		return next, false
	}
	next.Before, next.After = l.stdUnc(target, e, figure), l.stdUnc(target, best, figure)
	return next, next.After < next.Before
}

// gainOf is by how much a reading takes away of the square of a figure's uncertainty: (gᵀCh)²/(hᵀCh + r²).
func gainOf(e *model.Estimate, figure, reading []float64, noise float64) float64 {
	var both, alone float64
	for i := range reading {
		for k := range reading {
			c := e.Cov.At(i, k)
			both, alone = both+figure[i]*c*reading[k], alone+reading[i]*c*reading[k]
		}
	}
	return both * both / (alone + noise*noise)
}

// gradient is by how much something moves with each unknown of an estimate.
func (l *Learned) gradient(e *model.Estimate, off model.Offs, of func(*model.Offs) float64) []float64 {
	out := make([]float64, len(e.Of))
	base := of(&off)
	for i, u := range e.Of {
		step := slopeStep * l.prior[u]
		x := off
		x[u] = off[u] + step
		up := of(&x)
		x[u] = off[u] - step
		out[i] = slopeOf(up, base, of(&x)) / step
	}
	return out
}

// candidate is a reading that could be made.
type candidate struct {
	NextReading
	run    trackRun
	stdUnc float64
}

// candidates lists readings that could be made: with settings within the limits that neither lift nor are
// stalled, and with the target itself where it is one.
func (l *Learned) candidates(target *model.Row) (all []candidate) {
	t, car := l.table, l.track.car
	speed := car.Speed
	for _, r := range l.track.readings {
		if r.Kind.AtSpeed() && !r.Suspect {
			speed = max(speed, r.Speed)
		}
	}
	may := func(r *model.Row) bool { return r.Within() && !r.Stalled && !r.Lifts() }
	var rows []*model.Row
	for i := range t.Rows {
		if may(&t.Rows[i]) {
			rows = append(rows, &t.Rows[i])
		}
	}
	var tried []*model.Row
	if may(target) {
		tried = append(tried, target)
	}
	for i := range min(mostTried, len(rows)) {
		tried = append(tried, rows[i*len(rows)/min(mostTried, len(rows))])
	}
	for _, r := range tried {
		one, err := l.track.at(r, speed, car.Air)
		if err != nil || math.IsNaN(one.row.Downforce) {
			continue
		}
		for _, d := range one.table.Disturbances(one.row) {
			one.disturbed = append(one.disturbed, disturbance{d, 1})
		}
		add := func(kind ReadingKind, at, stdUnc float64) {
			if !math.IsNaN(one.predict(kind, new(model.Offs), nil, 0)) {
				all = append(all, candidate{NextReading{Kind: kind, Row: r, Speed: at}, one, stdUnc})
			}
		}
		add(FrontSink, speed, car.Uncertainty.RideHeight)
		add(RearSink, speed, car.Uncertainty.RideHeight)
		if v := one.predict(TopSpeed, new(model.Offs), nil, 0); !math.IsNaN(v) {
			add(TopSpeed, v, v*car.Uncertainty.TopSpeed)
		}
	}
	return all
}

// Whole is the estimate of all unknowns, those too of which the readings tell nothing.
func (l *Learned) Whole() (*model.Estimate, error) {
	var of []model.Unknown
	var value []float64
	for _, x := range l.Unknowns {
		of, value = append(of, x.Of), append(value, x.Value-x.Before)
	}
	return model.NewEstimate(of, value, l.Cov)
}

// stdUnc is one standard uncertainty of a figure of a setting on the car with an estimate.
func (l *Learned) stdUnc(r *model.Row, e *model.Estimate, figure func(model.Contribution) float64) float64 {
	car := l.track.car.Fitted(e)
	w, err := car.SolveWing(l.table.Speed)
	if err != nil {
		return math.NaN()
	}
	t := model.NewTable(car, nil, w, l.table.Speed)
	place := car.PositionOf(r.Setting)
	return math.Abs(figure(t.Budget(t.RowAt(&place)).Contribution))
}
