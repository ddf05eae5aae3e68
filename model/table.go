package model

import (
	"math"
	"slices"

	"stanchion/aero"
	"stanchion/model/units"
)

// Row is one setting with its figures at one speed. Figures that cannot be
// given are NaN, and Outside says why.
type Row struct {
	*Place

	FlowAngle  float64 // rad, of the flow at the wing, downwash positive
	SpeedRatio float64 // of the flow at the wing over the car's speed
	Attack     float64 // rad, chord against the air that meets it
	aero.Coefficients
	Stalled     bool
	StallMargin float64 // rad up to the largest lift

	Downforce float64 // N
	Drag      float64 // N that the wing costs the car
	OwnDrag   float64 // N, the wing's own
	Lean      float64 // N, by which its lift leans rearwards; below 0 forwards
	credit    float64 // N that a forward lean may gain at most
	Change    Axles   // N, by the wing's forces
	Load      Axles   // N, at that speed, with the wing
	Share     float64 // front axle's part of the load, 0 to 1
	Shift     float64 // of the share by the wing's forces, 0.01 is one percentage point

	Outside []units.Phrase // why it is not within the limits, or a figure is not given
	broken  []Limit        // which limits
	unknown bool           // one of Outside is that there are no forces
}

// AlternativeIDs lists the ids of the other ways of bolting the row's place.
func (r *Row) AlternativeIDs() []string {
	ids := make([]string, len(r.Alternatives))
	for i := range r.Alternatives {
		ids[i] = r.Alternatives[i].ID
	}
	return ids
}

// OutsideText spells the reasons.
func (r *Row) OutsideText(u units.System) []string {
	return units.AllIn(r.Outside, u)
}

// outside adds a limit that is broken, and by what.
func (r *Row) outside(limit Limit, text string, figures ...any) {
	if !slices.Contains(r.broken, limit) {
		r.broken = append(r.broken, limit)
	}
	r.noFigure(text, figures...)
}

// noForces adds the reason why there are no forces.
func (r *Row) noForces(text string, figures ...any) {
	r.unknown = true
	r.noFigure(text, figures...)
}

// noFigure records why a figure is not given; it breaks no limit.
func (r *Row) noFigure(text string, figures ...any) {
	r.Outside = append(r.Outside, units.Say(text, figures...))
}

// Lifts reports whether the wing pulls the car up.
func (r *Row) Lifts() bool { return r.Downforce < 0 }

// Within reports whether the setting keeps all limits and its forces are known.
func (r *Row) Within() bool { return len(r.broken) == 0 && !r.unknown }

// Breaks reports whether the setting is known to break a limit.
func (r *Row) Breaks() bool { return len(r.broken) > 0 }

// Table is every setting of a car at one speed, in the order of Places.
type Table struct {
	Car     *Car
	Speed   float64 // m/s
	Density float64 // kg/m³
	Wing    WingCurve
	Without Axles // N, the axle loads at that speed without the wing's forces
	Rows    []Row
}

// NewTable works out the figures of all places at a speed in m/s, for a wing
// curve solved at that speed.
func NewTable(c *Car, places []Place, w WingCurve, speed float64) *Table {
	t := &Table{Car: c, Speed: speed, Density: c.Air.Density(), Wing: w, Without: c.Without(speed), Rows: make([]Row, len(places))}
	for i := range places {
		t.fill(&t.Rows[i], &places[i])
	}
	return t
}

// RowAt works out the figures of one place, which need not be among the table's own.
func (t *Table) RowAt(p *Place) *Row {
	r := new(Row)
	t.fill(r, p)
	return r
}

// Map solves everything for a car at a speed in m/s: the whole way from holes
// to rows.
func (c *Car) Map(speed float64) (*Table, error) {
	places, err := c.Places()
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
func (t *Table) fill(r *Row, p *Place) {
	c := t.Car
	o := t.outcome(p, deviation{})
	*r = Row{
		Place: p, FlowAngle: o.flow.Angle, SpeedRatio: o.flow.Ratio, Attack: o.attack, Coefficients: o.Coefficients,
		StallMargin: math.NaN(), Downforce: o.down, Drag: o.back, OwnDrag: o.own, Lean: o.lean, credit: o.credit, Change: o.change, Load: o.load, Share: o.share, Shift: o.shift,
	}
	c.Limits.place(r)
	c.Limits.body(r, c)
	switch {
	case math.IsNaN(o.flow.Ratio):
		lo, hi := c.Flow.Range()
		r.noForces("no figures: the flow is given from %s to %s above the roof, the wing is at %s", units.MM(lo/mm), units.MM(hi/mm), units.MM(p.Height-c.RoofHeight))
		return
	case math.IsNaN(o.CL):
		lo, hi := t.Wing.Curve.Range()
		r.noForces("no figures: the wing's curve reaches from %s° to %s°, the angle of attack is %s°", units.Fixed(lo/Deg, 1), units.Fixed(hi/Deg, 1), units.Fixed(r.Attack/Deg, 1))
		return
	}
	r.StallMargin = t.Wing.Stall - r.Attack
	r.Stalled = r.StallMargin < 0
	c.Limits.stall(r)
	if r.Load.Front <= 0 || r.Load.Rear <= 0 {
		r.outside(LimitAxle, "an axle would carry no load at this speed")
	}
}
