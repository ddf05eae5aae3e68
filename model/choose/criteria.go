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

// AtSpeed is a front share that is wanted at a speed of its own.
type AtSpeed struct {
	Speed float64 // m/s
	Share Target
}

// Criteria say what a setting is wanted for. The zero Criteria ask for nothing.
type Criteria struct {
	FrontShare, BalanceShift   Target
	ShareAt                    []AtSpeed
	MinDownforce, MaxDownforce given.Number // N, of the wing itself
	MinOnCar, MaxOnCar         given.Number // N, less the lift on the body
	MaxDrag                    given.Number // N
	MinStallMargin             given.Number // rad
	MinAngle, MaxAngle         given.Number // rad, to the ground
	MinHeight, MaxHeight       given.Number // mm
	MinLid                     given.Number // rad that the lid opens by
	Stalled, Lifting           bool         // such settings are asked for too

	From       string       // id of the setting that is on the car; "" for none
	KeepHeight bool         // its height, as far as a tape tells
	MaxMoves   given.Number // bolts a side to move from it
	FootStays  bool         // no bolt below the wing's joint is moved

	MaxUsed given.Number                // of the strength, fraction; what is asked for must pass
	Holds   func(r *model.Row) Strength // tells how a setting with its own bolts holds; asked only where all else is met

	MinChance given.Number // from which chance on a setting meets the targets, fraction; when not given HitFrom, or any at the targets
}

// Strength is how a setting holds.
type Strength struct {
	Passes, Fails bool    // both false where not all was checked, up to the table's speed
	Used          float64 // the largest part of any strength that is used; NaN where none was checked
}

// HitFrom is the chance to meet the targets from which a setting is taken to meet them even if its best estimate
// is outside of them, and NearFrom that from which one just misses them: it is off by less than one standard
// uncertainty of a single figure.
const (
	HitFrom  = 0.5
	NearFrom = 0.16
)

// hitFrom is the chance from which a setting meets the targets.
func (c *Criteria) hitFrom() float64 { return c.MinChance.Or(HitFrom) }

// HitChance is the chance, as a fraction, from which a setting meets the targets.
func (c Criteria) HitChance() float64 { return c.hitFrom() }

// NeedsFrom reports whether the criteria say something of the setting that is on the car.
func (c Criteria) NeedsFrom() bool { return c.KeepHeight || c.FootStays || c.MaxMoves.Known() }

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
	BelowMinOnCar
	AboveMaxOnCar
	OnCarUnknown
	AboveMaxDrag
	StallMarginUnknown
	BelowMinStallMargin
	BelowMinAngle
	AboveMaxAngle
	BelowMinHeight
	AboveMaxHeight
	LidUnknown
	BelowMinLid
	NothingOnCar
	OtherHeight
	TooManyMoves
	FootMoves
	StrengthNotChecked
	DoesNotHold
	AboveMaxUsed
	TooUnlikely // its figures meet the targets, but are known too little
)

// Shortfall is one criterion that a setting does not meet: what it has and what is asked
// for, in the unit of the figure.
type Shortfall struct {
	Obstacle        Obstacle
	Have, Wanted    float64
	Tolerance       float64
	StdUnc          float64 // of a chance that comes from draws, fraction; else 0
	Speed           float64 // m/s, where it is of a speed of its own; else 0
	timesAcceptable float64 // how large it is, over a difference that would hardly matter
}

// Differences that hardly matter, for telling which of the settings that miss is nearest.
const (
	smallShare  = 0.01           // fraction
	smallForce  = 100.0          // N
	smallDrag   = 20.0           // N
	smallMargin = 2 * plane.Deg  // rad
	smallHeight = 25.0           // mm
	smallLid    = 10 * plane.Deg // rad
	smallMoves  = 2.0            // bolts
	smallUsed   = 1.0            // fraction of the strength
)

// rounding is what a comparison leaves to it.
const rounding = 1e-9

// hard lists what rules a row out whatever the uncertainty of its figures: it is stalled or lifts, a figure
// that is asked for is not known, or its place is not the one that is wanted.
func (p *picker) hard(s *looked) (all []Shortfall) {
	c, r := &p.c, s.row
	if math.IsNaN(r.Downforce) {
		return []Shortfall{{Obstacle: NoFigures, timesAcceptable: math.Inf(1)}}
	}
	stalls := func(o *model.Row, speed float64) {
		if o.Stalled && r.Within() && !c.Stalled {
			all = append(all, Shortfall{Obstacle: Stalled, Have: o.StallMargin, Speed: speed, timesAcceptable: -o.StallMargin / smallMargin})
		}
	}
	stalls(r, 0)
	if r.Lifts() && !c.Lifting {
		all = append(all, Shortfall{Obstacle: Lifts, Have: r.Downforce, timesAcceptable: 1 - r.Downforce/smallForce})
	}
	for k, o := range s.rows[1:] {
		if o == nil || math.IsNaN(o.Share) {
			all = append(all, Shortfall{Obstacle: NoFigures, Speed: c.ShareAt[k].Speed, timesAcceptable: 1})
			continue
		}
		stalls(o, c.ShareAt[k].Speed)
	}
	if (c.MinOnCar.Known() || c.MaxOnCar.Known()) && math.IsNaN(r.OnCar) {
		all = append(all, Shortfall{Obstacle: OnCarUnknown, timesAcceptable: 1})
	}
	if c.MinStallMargin.Known() && math.IsNaN(r.StallMargin) {
		all = append(all, Shortfall{Obstacle: StallMarginUnknown, timesAcceptable: 1})
	}
	miss := func(o Obstacle, have, wanted, short, small float64) {
		if short > rounding {
			all = append(all, Shortfall{Obstacle: o, Have: have, Wanted: wanted, timesAcceptable: short / small})
		}
	}
	if want, ok := c.MinHeight.Get(); ok {
		miss(BelowMinHeight, r.Height, want, want-r.Height, smallHeight)
	}
	if want, ok := c.MaxHeight.Get(); ok {
		miss(AboveMaxHeight, r.Height, want, r.Height-want, smallHeight)
	}
	if want, ok := c.MinLid.Get(); ok {
		if lid := r.Gap.Lid; lid.Of > 0 {
			miss(BelowMinLid, lid.To, want, want-lid.To-1e-6, smallLid)
		} else {
			all = append(all, Shortfall{Obstacle: LidUnknown, timesAcceptable: 1})
		}
	}
	switch {
	case !c.NeedsFrom():
	case p.from == nil:
		all = append(all, Shortfall{Obstacle: NothingOnCar, timesAcceptable: 1})
	case c.KeepHeight && !sameHeightByTape(r.Height, p.from.Height):
		all = append(all, Shortfall{Obstacle: OtherHeight, Have: r.Height, Wanted: p.from.Height, Tolerance: HeightKept,
			timesAcceptable: math.Abs(r.Height-p.from.Height) / smallHeight})
	}
	return all
}

// heightReading is the standard uncertainty of a height read with a tape to the ground, mm.
// Common practice, no source.
const heightReading = 2.0

// HeightKept is by how much two heights must differ for two readings with a tape to tell them clearly
// apart, mm: 5.7.
const HeightKept = ClearFrom * math.Sqrt2 * heightReading

func sameHeightByTape(a, b float64) bool {
	return ClarityOf(a-b, math.Sqrt2*heightReading) != Clear
}

// OfFigures reports whether a figure is asked for that is known with an uncertainty.
func (c Criteria) OfFigures() bool { return len((&picker{c: c}).aims()) > 0 }
