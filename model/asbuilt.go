package model

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// AsBuilt is where a hole was measured on the parts as they were made, mm in the part's own frame. A side that was not measured is as
// drawn.
type AsBuilt struct {
	Drawn, Left, Right          plane.Point
	LeftMeasured, RightMeasured bool
}

// Mean is the middle of both sides, which the wing's pose goes by.
func (b AsBuilt) Mean() plane.Point { return b.Left.Add(b.Right).Times(0.5) }

// Side is how one side of a setting stands as built.
type Side struct {
	Angle  float64 // rad, of the chord to the ground
	Height float64 // mm above ground, of the quarter-chord point
	Joint  int     // whose bolts do not go in; -1 where all do
	Miss   float64 // mm, by how much they miss
}

// Sides is how a setting stands on the left and on the right as built.
type Sides struct{ Left, Right Side }

// Twist is by how much the left side has more angle than the right one, rad.
func (s Sides) Twist() float64 { return math.Remainder(s.Left.Angle-s.Right.Angle, 2*math.Pi) }

// Higher is by how much the left side is higher than the right one, mm.
func (s Sides) Higher() float64 { return s.Left.Height - s.Right.Height }

// Measured reports whether any hole was measured as built.
func (c *Car) Measured() bool {
	for i := range c.Parts {
		if len(c.Parts[i].Built) > 0 {
			return true
		}
	}
	return false
}

// Sides works out how a setting stands on either side, each with its own holes: the pose of every joint is that of
// least squares over its bolts, as in holes.
func (c *Car) Sides(s *holes.Setting) Sides {
	return Sides{c.side(s, func(b AsBuilt) plane.Point { return b.Left }), c.side(s, func(b AsBuilt) plane.Point { return b.Right })}
}

func (c *Car) side(s *holes.Setting, of func(AsBuilt) plane.Point) Side {
	side := Side{Joint: -1}
	pose := c.Ground()
	for j, f := range s.Fits {
		lower, upper := c.Parts[j].onSide(of), c.Parts[j+1].onSide(of)
		var l, u []plane.Point
		for _, p := range f.Pairs {
			l, u = append(l, lower.Holes[p.Lower].At()), append(u, upper.Holes[p.Upper].At())
		}
		pose = pose.Then(plane.PoseFromPairs(l, u))
		if v := holes.Why(lower, upper, c.Joints[j].Joint, f.Pairs); side.Joint < 0 && (v.Reason == holes.Spacing || v.Reason == holes.Crowded) {
			side.Joint, side.Miss = j, -v.Slack
		}
	}
	side.Angle = math.Remainder(pose.Turn, 2*math.Pi)
	side.Height = pose.Apply(c.Wing.QuarterChord()).Z
	return side
}

// onSide is a part with its holes where one side has them.
func (p *Part) onSide(of func(AsBuilt) plane.Point) holes.Part {
	if len(p.Built) == 0 {
		return p.Part
	}
	q := holes.Part{Name: p.Name, Holes: append([]holes.Hole{}, p.Holes...)}
	for i, h := range q.Holes {
		if b, ok := p.Built[h.ID]; ok {
			q.Holes[i].X, q.Holes[i].Z = of(b).X, of(b).Z
		}
	}
	return q
}

// AsDrawn is the part with its holes where they are drawn, wherever they were measured.
func (p *Part) AsDrawn() Part {
	q := *p
	q.Part = p.onSide(func(b AsBuilt) plane.Point { return b.Drawn })
	return q
}

// ofSides notes where the bolts of a row do not go in on a side.
func (c *Car) ofSides(r *Row) {
	s := c.Sides(r.Setting)
	for _, x := range []struct {
		name string
		side Side
	}{{"left", s.Left}, {"right", s.Right}} {
		if x.side.Joint >= 0 {
			r.breach(Breach{Limit: LimitBuilt, Have: x.side.Miss, Allowed: math.NaN(), From: x.name, To: c.Joints[x.side.Joint].Name})
		}
	}
}
