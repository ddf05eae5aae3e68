package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/fastener"
	"stanchion/model/outline"
	"stanchion/model/strength"
)

// Lightening is what cut-outs did to a plate, or why there are none.
type Lightening struct {
	Rounds        []outline.Round
	Before, After float64 // kg; 0 where the material is not known
	Used, Uses    float64 // of the strength of the whole mounting, before and after
	Tried         int     // sets of cut-outs that were solved
	Why           NotLighter

	analysis *strength.Analysis // of what is proposed now, and what it says; nil where that is not settled
	scope    strength.Scope
}

// NotLighter is why a plate has no cut-outs.
type NotLighter int

// Why a plate stays whole.
const (
	Lighter    NotLighter = iota // it does not
	NotSettled                   // strength is not checked, or does not hold, as it is
	NoRoom                       // nowhere is there room beside little stress
	TooWeak                      // the solver does not pass any set that was tried
)

// Rules for cut-outs.
const (
	mostUsed  = 0.7 // of strength, anywhere, with cut-outs
	littleUse = 0.5 // of mostUsed or of what is used before: where less is used a cut-out may be
	leastCut  = 10.0
	mostCut   = 40.0 // mm, radii
	mostCuts  = 8
)

// Lighten cuts round openings into the plate where the solver finds little stress, and keeps as many as leave the mounting as strong as it was: with
// every setting that breaks no limit solved as drawn, no more of its strength is used than before and at most mostUsed, nothing that was checked before is open, and the plates turn
// the wing by no more than strength.TellTurn beyond what they did. Metal between openings, to holes and to edges is at least the usual edge
// distance wide. It takes up to some minutes; the error is ctx's or the engine's.
func (p *Proposal) Lighten(ctx context.Context) (l Lightening, err error) {
	l.Why = NotSettled
	l.Before, _ = strength.PlateMass(p.Plate())
	l.After = l.Before
	f, err := strength.New(p.Car)
	if err != nil {
		return l, nil // said where strength is asked for
	}
	before, err := f.SolveAll(ctx, false, strength.MostSolved)
	if err != nil || before.Worst.Row == nil || before.Verdict() != strength.Passes {
		return l, err
	}
	worst, err := f.Solve(ctx, before.Worst.Row)
	if err != nil {
		return l, err
	}
	l.analysis, l.scope = f, before
	used, ok := before.Worst.Used()
	field := fieldOf(worst, p.footJoint()+1)
	if !ok || len(field) == 0 {
		return l, nil
	}
	l.Used = used.Utilisation()
	l.Uses = l.Used
	limit := min(mostUsed, l.Used)
	l.Why = NoRoom
	share := func(at plane.Point) float64 {
		near := slices.MinFunc(field, func(a, b strength.Used) int { return cmp.Compare(a.At.Distance(at), b.At.Distance(at)) })
		return near.Share
	}
	var rounds []outline.Round
	o := outline.Openings{Least: leastCut, Most: mostCut, Count: mostCuts}
	for _, h := range p.Plate().Holes {
		rounds = append(rounds, outline.Round{At: h.At(), Radius: h.D / 2})
		o.Ligament = max(o.Ligament, fastener.Edge(h.D).Usual)
	}
	cuts := outline.Lighten(p.Plate().Outline, rounds, o, func(at plane.Point) bool { return share(at) < littleUse*limit })
	slices.SortStableFunc(cuts, func(a, b outline.Round) int { return cmp.Compare(share(a.At), share(b.At)) })
	for ; len(cuts) > 0; cuts = cuts[:len(cuts)*3/4] {
		l.Why = TooWeak
		l.Tried++
		next := *p
		if err := next.cut(cuts); err != nil {
			return l, err
		}
		g, err := strength.New(next.Car)
		if err != nil {
			return l, err
		}
		after, err := g.SolveAll(ctx, false, strength.MostSolved)
		if err != nil {
			return l, err
		}
		uses, ok := after.Worst.Used()
		if !ok || after.Verdict() != strength.Passes || uses.Utilisation() > limit+1e-3 || !(math.Abs(after.Worst.Turn) <= math.Abs(before.Worst.Turn)+strength.TellTurn) {
			continue
		}
		*p = next
		l.Why, l.Rounds, l.Uses = Lighter, cuts, uses.Utilisation()
		l.After, _ = strength.PlateMass(p.Plate())
		l.analysis, l.scope = g, after
		return l, nil
	}
	return l, nil
}

// Strength says how the settings of a proposal hold that break no limit. The plates of the most critical way of bolting are solved as drawn, and those of every way
// that the formulas of beams do not settle where the plate is not convex and whole.
func (p *Proposal) Strength(ctx context.Context) (*strength.Analysis, strength.Scope, error) {
	if p.Lightened != nil && p.Lightened.analysis != nil {
		return p.Lightened.analysis, p.Lightened.scope, nil
	}
	f, err := strength.New(p.Car)
	if err != nil {
		return nil, strength.Scope{}, err
	}
	most := 1
	if p.Shape != Convex {
		most = strength.MostSolved
	}
	s, err := f.SolveAll(ctx, false, most)
	return f, s, err
}

// fieldOf is how much of the plate's strength is used all over it.
func fieldOf(r strength.Result, part int) []strength.Used {
	if r.Solved == nil {
		return nil
	}
	for _, s := range r.Solved.Plates {
		if s.Part == part && s.Resolved() {
			return s.Field
		}
	}
	return nil
}

// cut gives the plate round cut-outs.
func (p *Proposal) cut(rounds []outline.Round) (err error) {
	car := *p.Car
	car.Parts = slices.Clone(car.Parts)
	plate := &car.Parts[p.footJoint()+1]
	plate.Cutouts = nil
	for _, r := range rounds {
		plate.Cutouts = append(plate.Cutouts, r.Polygon())
	}
	p.Car = &car
	p.Area, _ = plate.Area()
	p.Table, err = car.Map(car.Speed)
	return err
}
