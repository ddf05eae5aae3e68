// Package choose answers: which setting to run? It finds the settings that meet criteria,
// the next one to try after a note, the neighbours to step to, and what ranges and levels
// the settings make up.
//
// Lengths are in mm, angles in rad, forces in N; front share and share shift are
// fractions.
package choose

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// Target is a figure that is wanted, and by how much it may be off.
type Target struct {
	Value     given.Number
	Tolerance float64
}

// Criteria say what a setting is wanted for. The zero Criteria ask for nothing.
type Criteria struct {
	FrontShare, BalanceShift   Target
	MinDownforce, MaxDownforce given.Number // N
	MaxDrag                    given.Number // N
	MinStallMargin             given.Number // rad
	MinHeight, MaxHeight       given.Number // mm
	From                       string       // id of the setting that is on the car; "" for none
}

// Obstacle is what stands between a setting and the criteria.
type Obstacle int

// The obstacles.
const (
	NoFigures Obstacle = iota
	Stalled
	Lifts
	OffFrontShare
	OffBalanceShift
	BelowMinDownforce
	AboveMaxDownforce
	AboveMaxDrag
	StallMarginUnknown
	BelowMinStallMargin
	BelowMinHeight
	AboveMaxHeight
)

// Shortfall is one criterion that a setting does not meet: what it has and what is asked
// for, in the unit of the figure.
type Shortfall struct {
	Obstacle        Obstacle
	Have, Wanted    float64
	Tolerance       float64
	timesAcceptable float64 // how large it is, over a difference that would hardly matter
}

// Differences that hardly matter, for telling which of the settings that miss is nearest.
const (
	smallShare  = 0.01          // fraction
	smallForce  = 100.0         // N
	smallDrag   = 20.0          // N
	smallMargin = 2 * plane.Deg // rad
	smallHeight = 25.0          // mm
)

// rounding is what a comparison leaves to it.
const rounding = 1e-9

// shortfalls lists the criteria that a row does not meet.
func (c Criteria) shortfalls(r *model.Row) (all []Shortfall) {
	if math.IsNaN(r.Downforce) {
		return []Shortfall{{Obstacle: NoFigures, timesAcceptable: math.Inf(1)}}
	}
	if r.Stalled && r.Within() {
		all = append(all, Shortfall{Obstacle: Stalled, Have: r.StallMargin, timesAcceptable: -r.StallMargin / smallMargin})
	}
	if r.Lifts() {
		all = append(all, Shortfall{Obstacle: Lifts, Have: r.Downforce, timesAcceptable: 1 - r.Downforce/smallForce})
	}
	miss := func(o Obstacle, have, wanted, short, small float64) {
		if short > rounding {
			all = append(all, Shortfall{Obstacle: o, Have: have, Wanted: wanted, timesAcceptable: short / small})
		}
	}
	target := func(o Obstacle, have float64, t Target) {
		want, ok := t.Value.Get()
		if off := math.Abs(have-want) - t.Tolerance; ok && off > rounding {
			all = append(all, Shortfall{Obstacle: o, Have: have, Wanted: want, Tolerance: t.Tolerance, timesAcceptable: off / smallShare})
		}
	}
	atLeast := func(o Obstacle, have float64, minimum given.Number, small float64) {
		if want, ok := minimum.Get(); ok {
			miss(o, have, want, want-have, small)
		}
	}
	atMost := func(o Obstacle, have float64, maximum given.Number, small float64) {
		if want, ok := maximum.Get(); ok {
			miss(o, have, want, have-want, small)
		}
	}
	target(OffFrontShare, r.Share, c.FrontShare)
	target(OffBalanceShift, r.Shift, c.BalanceShift)
	atLeast(BelowMinDownforce, r.Downforce, c.MinDownforce, smallForce)
	atMost(AboveMaxDownforce, r.Downforce, c.MaxDownforce, smallForce)
	atMost(AboveMaxDrag, r.Drag, c.MaxDrag, smallDrag)
	if c.MinStallMargin.Known() && math.IsNaN(r.StallMargin) {
		all = append(all, Shortfall{Obstacle: StallMarginUnknown, timesAcceptable: 1})
	} else {
		atLeast(BelowMinStallMargin, r.StallMargin, c.MinStallMargin, smallMargin)
	}
	atLeast(BelowMinHeight, r.Height, c.MinHeight, smallHeight)
	atMost(AboveMaxHeight, r.Height, c.MaxHeight, smallHeight)
	return all
}

// off returns how far a row is from the wanted balance, fraction; 0 where none is wanted.
func (c Criteria) off(r *model.Row) float64 {
	off := 0.0
	if want, ok := c.FrontShare.Value.Get(); ok {
		off = math.Abs(r.Share - want)
	}
	if want, ok := c.BalanceShift.Value.Get(); ok {
		off = max(off, math.Abs(r.Shift-want))
	}
	return off
}
