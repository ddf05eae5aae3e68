package model

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// Contribution is what one source adds to the uncertainty of a row's figures, signed as
// the figures move when the input is larger: rad, N, shares as fractions. Combined, it is
// one standard uncertainty of each figure, all positive.
type Contribution struct {
	What  string
	Input InputUncertainty
	Angle float64 // of the angle to the ground
	Moved

	same     string
	up, down Moved // by the input larger and smaller by its standard uncertainty
}

// Moved is by how much figures of a row move.
type Moved struct {
	CL        float64
	Downforce float64
	OnCar     float64
	DeckLift  float64
	Drag      float64
	Change    Axles
	Share     float64
	Shift     float64
}

// list runs over the figures, so that what is done to all is written once.
func (m *Moved) list() [9]*float64 {
	return [...]*float64{&m.CL, &m.Downforce, &m.OnCar, &m.DeckLift, &m.Drag, &m.Change.Front, &m.Change.Rear, &m.Share, &m.Shift}
}

// with returns f of each figure of two.
func (m Moved) with(n Moved, f func(a, b float64) float64) Moved {
	a, b := m.list(), n.list()
	for i := range a {
		*a[i] = f(*a[i], *b[i])
	}
	return m
}

func (m Moved) less(n Moved) Moved {
	return Moved{m.CL - n.CL, m.Downforce - n.Downforce, m.OnCar - n.OnCar, m.DeckLift - n.DeckLift, m.Drag - n.Drag,
		Axles{m.Change.Front - n.Change.Front, m.Change.Rear - n.Change.Rear}, m.Share - n.Share, m.Shift - n.Shift}
}

func (m *Moved) addSquares(n *Moved) {
	m.CL += n.CL * n.CL
	m.Downforce += n.Downforce * n.Downforce
	m.OnCar += n.OnCar * n.OnCar
	m.DeckLift += n.DeckLift * n.DeckLift
	m.Drag += n.Drag * n.Drag
	m.Change.Front += n.Change.Front * n.Change.Front
	m.Change.Rear += n.Change.Rear * n.Change.Rear
	m.Share += n.Share * n.Share
	m.Shift += n.Shift * n.Shift
}

func (m Moved) squared(n Moved) Moved { return m.with(n, math.Hypot) }

// between is what an input is worth that moves figures by up one way and by down the other:
// the root of the mean of the squares, which is half of their difference where the figure is
// straight and does not vanish at its top, with the sign of the difference.
func between(up, down Moved) Moved {
	return up.with(down, func(a, b float64) float64 { return math.Copysign(math.Sqrt((a*a+b*b)/2), a-b) })
}

func (o *Outcome) moved() Moved {
	return Moved{o.CL, o.Downforce, o.OnCar, o.DeckLift, o.Drag, o.Change, o.Share, o.Shift}
}

// unknown is the contribution of what cannot be told, but for the angle.
func unknown(angle float64) Contribution {
	c := Contribution{Angle: angle}
	for _, f := range c.list() {
		*f = math.NaN()
	}
	return c
}

// Roughness is why an uncertainty is only a rough guide.
type Roughness int

// The causes.
const (
	NotRough  Roughness = iota
	PastStall           // the flow is not steady
	NearStall           // the stall margin is less than 1.5 times as large as it is uncertain
)

// Budget is the uncertainty budget of a row: one standard uncertainty of each of its
// figures, and what it is made of.
type Budget struct {
	Contribution                // combined
	Parts        []Contribution // largest effect on downforce first
	Rough        Roughness
	Margin       float64 // rad, one standard uncertainty of the stall margin

	// Drawn says that the curve bends within the uncertainty of the angle: the figures come from
	// drawing all inputs together, and the parts do not add up to them.
	Drawn bool
	draws func() []Draw
}

// bentWithin is how many standard uncertainties of its stall margin from the stall a row
// has its uncertainties from the curve itself.
const bentWithin = 3

// Budget works out the uncertainty budget of a row: each input is moved by its standard
// uncertainty either way and what that does is added as squares; within three standard
// uncertainties of the stall, where that fails, the inputs are drawn together and the curve
// itself tells. It is NaN, but for the angle, where the row has no figures.
// Source: JCGM 100:2008, "Guide to the expression of uncertainty in measurement",
// sec. 5.1, with the partial derivatives as differences (5.1.3, note 2); JCGM 101:2008,
// propagation of distributions by a Monte Carlo method.
func (t *Table) Budget(r *Row) Budget {
	inputs := t.inputs(r)
	if math.IsNaN(r.Downforce) {
		angle := 0.0
		for _, in := range inputs {
			angle = math.Hypot(angle, in.by.turn)
		}
		return Budget{Contribution: unknown(angle)}
	}
	var b Budget
	at := t.outcome(r.Position, deviation{})
	base := at.moved()
	for _, in := range inputs {
		up, down := t.outcome(r.Position, in.by), t.outcome(r.Position, in.by.times(-1))
		c := Contribution{What: in.what, Input: in.of, Angle: in.by.turn, same: in.same, up: up.moved().less(base), down: down.moved().less(base)}
		switch { // at the end of the data only one side can be told
		case math.IsNaN(up.Downforce):
			c.up = Moved{}.less(c.down)
		case math.IsNaN(down.Downforce):
			c.down = Moved{}.less(c.up)
		}
		c.Moved = between(c.up, c.down)
		b.Margin = math.Hypot(b.Margin, in.by.marginLost())
		b.Parts = append(b.Parts, c)
	}
	b.Contribution = combined(b.Parts)
	slices.SortStableFunc(b.Parts, func(x, y Contribution) int {
		return cmp.Compare(math.Abs(y.Downforce), math.Abs(x.Downforce))
	})
	switch {
	case r.Stalled:
		b.Rough = PastStall
	case r.StallMargin < 1.5*b.Margin:
		b.Rough = NearStall
	}
	b.draws = sync.OnceValue(func() []Draw { return t.draw(r, inputs, drawn) })
	if b.Drawn = math.Abs(r.StallMargin) < bentWithin*b.Margin; b.Drawn {
		b.Moved = spread(b.draws(), nil, b.Moved)
	}
	return b
}

// combined adds contributions as squares.
func combined(parts []Contribution) Contribution {
	var s Contribution
	for _, p := range parts {
		s.Angle = math.Hypot(s.Angle, p.Angle)
		s.Moved = s.squared(p.Moved)
	}
	return s
}

// DifferenceStdUnc returns one standard uncertainty of the differences of two rows'
// figures: what both are off by alike cancels. Where the curve bends within the band of
// either, both are drawn together.
func DifferenceStdUnc(a, b Budget) Contribution {
	parts := DifferenceParts(a, b)
	if len(parts) == 0 {
		return unknown(math.NaN())
	}
	c := combined(parts)
	if a.Drawn || b.Drawn {
		c.Moved = spread(a.draws(), b.draws(), c.Moved)
	}
	return c
}

// DifferenceParts lists what the uncertainty of the differences of two rows' figures is made of: of what both are
// off by alike the difference, of what each has of its own both.
func DifferenceParts(a, b Budget) []Contribution {
	if len(a.Parts) == 0 || len(b.Parts) == 0 {
		return nil
	}
	var parts []Contribution
	matched := make(map[string]bool, len(b.Parts))
	for _, p := range a.Parts {
		k := slices.IndexFunc(b.Parts, func(q Contribution) bool { return q.same == p.same })
		if k < 0 {
			parts = append(parts, p)
			continue
		}
		q := b.Parts[k]
		matched[q.same] = true
		d := p
		d.Angle, d.up, d.down = p.Angle-q.Angle, p.up.less(q.up), p.down.less(q.down)
		d.Moved = between(d.up, d.down)
		parts = append(parts, d)
	}
	for _, q := range b.Parts {
		if !matched[q.same] {
			parts = append(parts, q)
		}
	}
	return parts
}
