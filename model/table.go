package model

import (
	"math"
	"slices"
	"sync"
)

// Row is one setting with its figures at one speed. Figures that cannot be
// given are NaN, and Missing says why.
type Row struct {
	*Position
	Outcome
	Stalled     bool
	StallMargin float64 // rad up to maximum CL

	Breaches []Breach  // limits that it breaks
	Missing  []Missing // why figures are not given
}

// AlternativeIDs lists the ids of the other ways of bolting the row's place.
func (r *Row) AlternativeIDs() []string {
	ids := make([]string, len(r.Alternatives))
	for i := range r.Alternatives {
		ids[i] = r.Alternatives[i].ID
	}
	return ids
}

// Lifts reports whether the wing pulls the car up.
func (r *Row) Lifts() bool { return r.Downforce < 0 }

// Within reports whether the setting keeps all limits and its forces are known.
func (r *Row) Within() bool { return len(r.Breaches) == 0 && !r.NoForces() }

// NoForces reports whether its forces cannot be given.
func (r *Row) NoForces() bool {
	return slices.ContainsFunc(r.Missing, func(m Missing) bool { return m.WithoutForce })
}

// Breaks reports whether the setting is known to break a limit.
func (r *Row) Breaks() bool { return len(r.Breaches) > 0 }

// Table is every setting of a car at one speed, in the order of Positions.
type Table struct {
	Car     *Car
	Speed   float64 // m/s
	Density float64 // kg/m³
	Wing    WingCurve
	Without Axles // N, the axle loads at that speed without the wing's forces
	Rows    []Row

	naming *names
	field  func() *deckField // of body and wing; nil where they are not known
	off    *deviation        // by which all of its inputs are off; nil for none
}

// NewTable works out the figures of all places at a speed in m/s, for a wing
// curve solved at that speed.
func NewTable(c *Car, places []Position, w WingCurve, speed float64) *Table {
	t := &Table{Car: c, Speed: speed, Density: c.Air.Density(), Wing: w, Without: c.Without(speed), Rows: make([]Row, len(places)), naming: new(names), field: sync.OnceValue(c.deckField)}
	for i := range places {
		t.fill(&t.Rows[i], &places[i])
	}
	return t
}

// RowAt works out the figures of one place, which need not be among the table's own.
func (t *Table) RowAt(p *Position) *Row {
	r := new(Row)
	t.fill(r, p)
	return r
}

// Map solves everything for a car at a speed in m/s: the whole way from holes
// to rows.
func (c *Car) Map(speed float64) (*Table, error) {
	places, err := c.Positions()
	if err != nil {
		return nil, err
	}
	w, err := c.SolveWing(speed)
	if err != nil {
		return nil, err
	}
	return NewTable(c, places, w, speed), nil
}

// fill works out one row.
func (t *Table) fill(r *Row, p *Position) {
	c := t.Car
	*r = Row{Position: p, Outcome: t.outcome(p, deviation{}), StallMargin: math.NaN()}
	c.Limits.ofPlace(r)
	if c.Measured() {
		c.ofSides(r)
	}
	c.Limits.ofSize(r, c)
	switch {
	case math.IsNaN(r.Flow.Ratio):
		lo, hi := c.Flow.Range()
		r.Missing = append(r.Missing, Missing{Cause: BeyondFlow, Low: lo / mm, High: hi / mm, Have: p.Height - c.RoofHeight, WithoutForce: true})
		return
	case math.IsNaN(r.CL):
		lo, hi := t.Wing.Curve.Range()
		r.Missing = append(r.Missing, Missing{Cause: BeyondCurve, Low: lo, High: hi, Have: r.Attack, WithoutForce: true})
		return
	}
	r.StallMargin = t.StallAt(p) - r.Attack
	r.Stalled = r.StallMargin < 0
	c.Limits.ofStall(r)
	if r.Load.Front <= 0 || r.Load.Rear <= 0 {
		r.breach(Breach{Limit: LimitAxle, Have: min(r.Load.Front, r.Load.Rear), Allowed: math.NaN()})
	}
}

// RowsWithin lists the rows that keep all limits.
func (t *Table) RowsWithin() []*Row {
	var within []*Row
	for i := range t.Rows {
		if t.Rows[i].Within() {
			within = append(within, &t.Rows[i])
		}
	}
	return within
}
