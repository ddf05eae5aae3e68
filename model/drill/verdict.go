package drill

import (
	"context"
	"math"
	"sort"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
)

// Worth is whether holes are worth drilling, and if not, why not.
type Worth int

// The verdicts.
const (
	CannotDrill   Worth = iota // a rule about where holes may be is broken
	WorthDrilling              // at least one new setting is of use
	NotChecked                 // as WorthDrilling, but a part has no outline, so that it may have no metal there
	FurtherBolts               // no new setting, but settings that exist get a further bolt
	NothingFits                // no bolting that uses it gives a new position
	NothingNew                 // new settings, of which none is of use
)

// Verdict is whether the holes of a trial are worth drilling, with what it rests on.
type Verdict struct {
	Worth  Worth
	Broken RuleCheck // of CannotDrill
	Part   string    // of NotChecked: the part without an outline
	Gain   Gain      // of WorthDrilling and NotChecked: what the most useful setting does
	Row    int       // of NothingNew: the first of the settings added, of those that keep all limits if any does
	Unlike Like      // of NothingNew: why that one is of no use
	Miss   WhyLine   // of NothingFits: by how much the nearest pair misses; no Pairs when none is near
}

// Good reports whether a setting of use comes of it.
func (v Verdict) Good() bool { return v.Worth == WorthDrilling || v.Worth == NotChecked }

// Effect is what a new setting does to the range of angles at its height.
type Effect int

// The effects.
const (
	OpensHeight Effect = iota
	ExtendsUp
	ExtendsDown
	FillsStep
)

// Gain is what a new setting does at its height, mm: from one angle to another, rad. Of
// OpensHeight both are its own.
type Gain struct {
	Effect   Effect
	Height   float64
	From, To float64
}

// judge finds the added settings that are of use, and the verdict.
func (tr *Trial) judge(ctx context.Context, before *Existing) error {
	var first Like // why the first is of no use, or the first of those that keep all limits
	row := -1
	for _, i := range tr.Added {
		if err := ctx.Err(); err != nil {
			return err
		}
		use := before.like.use(tr.Table, &tr.Table.Rows[i])
		tr.Uses = append(tr.Uses, use)
		if row < 0 || first.Use == OutsideLimits && use.Use != OutsideLimits {
			row, first = i, use
		}
		if use.Use == OfUse {
			tr.Useful = append(tr.Useful, i)
		}
	}
	if broken, ok := Broken(tr.Rules); ok {
		tr.Verdict = Verdict{Worth: CannotDrill, Broken: broken}
		return nil
	}
	switch {
	case len(tr.Useful) > 0:
		tr.Verdict = Verdict{Worth: WorthDrilling, Gain: tr.gain()}
		if part := tr.withoutOutline(); part != "" {
			tr.Verdict.Worth, tr.Verdict.Part = NotChecked, part
		}
	case len(tr.Added) == 0 && len(tr.Further) > 0:
		tr.Verdict = Verdict{Worth: FurtherBolts}
	case len(tr.Added) == 0:
		tr.Verdict = Verdict{Worth: NothingFits, Miss: tr.miss(before.Table)}
	default:
		tr.Verdict = Verdict{Worth: NothingNew, Row: row, Unlike: first}
	}
	return nil
}

// withoutOutline returns the name of a part that a new hole is in and that has no outline,
// so that nothing says whether there is metal; "" when there is none.
func (tr *Trial) withoutOutline() string {
	for _, h := range tr.Holes {
		if p := &tr.Table.Car.Parts[h.Part]; p.Outline == nil {
			return p.Name
		}
	}
	return ""
}

// gain returns what the most useful added setting does for its height.
func (tr *Trial) gain() Gain {
	widest, best := -1.0, Gain{}
	better := func(width float64, g Gain) {
		if width > widest {
			widest, best = width, g
		}
	}
	for _, i := range tr.Useful {
		r := &tr.Table.Rows[i]
		level := choose.LevelAt(tr.Before, r.Height)
		switch {
		case level == nil:
			better(0, Gain{OpensHeight, r.Height, r.Angle, r.Angle})
		case r.Angle > level.High:
			better(r.Angle-level.High, Gain{ExtendsUp, r.Height, level.High, r.Angle})
		case r.Angle < level.Low:
			better(level.Low-r.Angle, Gain{ExtendsDown, r.Height, level.Low, r.Angle})
		default:
			at := sort.SearchFloat64s(level.Angles, r.Angle)
			if at > 0 && at < len(level.Angles) {
				lo, hi := level.Angles[at-1], level.Angles[at]
				better(hi-lo, Gain{FillsStep, r.Height, lo, hi})
			}
		}
	}
	return best
}

// miss returns the nearest pair, when no bolts go in with a new hole.
func (tr *Trial) miss(before *model.Table) (best WhyLine) {
	car := tr.Table.Car
	least := math.Inf(1)
	for _, h := range tr.Holes {
		new := len(before.Car.Parts[h.Part].Holes)
		for o := range before.Car.Parts[h.Part].Holes {
			for j := max(h.Part-1, 0); j <= h.Part && j < len(car.Joints); j++ {
				for _, l := range WhyAll(car, j, []int{new, o}, j < h.Part) {
					if l.Reason == holes.Spacing && -l.Slack < least {
						least, best = -l.Slack, l
					}
					if l.Reason != holes.Fine {
						break // the rest misses by more
					}
				}
			}
		}
	}
	return best
}
