package drill

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
)

// Goal says what new holes are wanted for. One of Angle, Downforce, Between, MaxStep and Fill is given.
type Goal struct {
	Angle     given.Number // rad, to the ground
	Height    given.Number // mm, of the quarter-chord point; not given for any
	Downforce given.Number // N at the table's speed
	Between   *Between     // a setting between two
	MaxStep   given.Number // rad, that no step between neighbouring angles is to exceed
	Fill      bool         // narrow the widest steps between neighbouring angles
	Count     int          // holes together: 1 or 2; for MaxStep the most
	Grid      float64      // mm, of the drill
	Part      int
	Joint     string // that the hole is kept for; "" for any, and then the one nearest to the wing is searched
	D         float64
	Name      func(taken int) string // the mark of the n-th new hole
}

// Figure is what a setting can lie between two others by.
type Figure int

// The figures.
const (
	ByDownforce Figure = iota
	ByAngle
	ByHeight
	ByShare
)

// Between asks for a setting whose figure lies between those of two settings, and that is clearly apart from both.
type Between struct {
	A, B *model.Row
	By   Figure
}

// of returns the figure of a row.
func (f Figure) of(r *model.Row) float64 {
	switch f {
	case ByAngle:
		return r.Angle
	case ByHeight:
		return r.Height
	case ByShare:
		return r.Share
	}
	return r.Downforce
}

// Middle says how a figure lies between those of two rows: 1 half-way, 0 at either, below 0 beyond.
func (b *Between) Middle(figure float64) float64 {
	low, high := b.By.of(b.A), b.By.of(b.B)
	if low > high {
		low, high = high, low
	}
	if low == high {
		return -1
	}
	return 2 * min(figure-low, high-figure) / (high - low)
}

// What counts as a hit.
const (
	hitAngle  = 0.4 * plane.Deg // rad
	hitHeight = 12.0            // mm
	hitForce  = 0.03            // of the downforce, as a fraction
)

// LeastMaxStep is the narrowest step that can be asked for, rad: what an angle is spelt to.
const LeastMaxStep = 0.1 * plane.Deg

// joint returns the joint whose bolts a goal's hole is searched for, and whether there is one.
func (w Goal) joint(c *model.Car) (int, bool) {
	if w.Joint == "" {
		return min(w.Part, len(c.Joints)-1), len(c.Joints) > 0
	}
	for j := max(0, w.Part-1); j <= w.Part && j < len(c.Joints); j++ {
		if c.Joints[j].Name == w.Joint {
			return j, true
		}
	}
	return 0, false
}

// hole is the n-th new hole at a place.
func (w Goal) hole(n int, at plane.Point) NewHole {
	h := NewHole{Part: w.Part}
	h.ID, h.X, h.Z, h.D, h.Joint = w.Name(n), at.X, at.Z, w.D, w.Joint
	return h
}

// Served returns a setting that is within limits and does what is wanted already, if there is one.
func Served(e *Existing, w Goal) (*model.Row, bool) {
	if w.Fill || w.MaxStep.Known() {
		return nil, false
	}
	var best *model.Row
	for i := range e.Table.Rows {
		r := &e.Table.Rows[i]
		if !e.meets(w, e.Table, r) {
			continue
		}
		if w.Between == nil {
			return r, true
		}
		if best == nil || w.Between.Middle(w.Between.By.of(r)) > w.Between.Middle(w.Between.By.of(best)) {
			best = r
		}
	}
	return best, best != nil
}

// meets reports whether a row of a table is what is wanted.
func (e *Existing) meets(w Goal, with *model.Table, r *model.Row) bool {
	if !r.Within() || r.Stalled {
		return false
	}
	if w.Between != nil {
		return w.Between.Middle(w.Between.By.of(r)) > 0 && e.clearOf(with, r, w.Between)
	}
	height := math.Abs(r.Height-w.Height.Or(r.Height)) <= hitHeight
	angle := math.Abs(r.Angle-w.Angle.Or(r.Angle)) <= hitAngle
	down := math.Abs(r.Downforce-w.Downforce.Or(r.Downforce)) <= hitForce*math.Abs(w.Downforce.Or(r.Downforce))
	return height && angle && down
}

// clearOf reports whether a row of a table with further holes is clearly apart from both settings that it is to
// lie between, in the figure asked about too.
func (e *Existing) clearOf(with *model.Table, r *model.Row, b *Between) bool {
	own := with.Budget(r)
	for _, o := range [2]*model.Row{b.A, b.B} {
		difference := model.DifferenceStdUnc(own, e.Table.Budget(o))
		if choose.Apart(r, o, difference) != choose.Clear {
			return false
		}
		clear := true
		switch b.By {
		case ByDownforce:
			clear = choose.ClarityOf(r.Downforce-o.Downforce, difference.Downforce) == choose.Clear
		case ByShare:
			clear = choose.ClarityOf(r.Share-o.Share, difference.Share) == choose.Clear
		case ByAngle:
			clear = turned(r, o)
		case ByHeight:
			clear = math.Abs(r.Height-o.Height) > SameHeight
		}
		if !clear {
			return false
		}
	}
	return true
}

// Difference is one standard uncertainty of the differences of the two settings' figures.
func (b *Between) Difference(e *Existing) model.Contribution {
	return model.DifferenceStdUnc(e.Table.Budget(b.A), e.Table.Budget(b.B))
}
