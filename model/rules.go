package model

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/fastener"
	"stanchion/model/units"
)

// RuleCheck is one rule about where a hole may be, and whether a place keeps it.
type RuleCheck struct {
	Hole string // the new hole's mark
	Rule string
	Have float64 // mm
	Need float64 // mm
	OK   bool
	Must bool // a minimum; otherwise advice
}

// HoleRules checks a new hole of a part against its outline and its other holes.
// Without an outline nothing can be said of edges, and no rule for them is
// listed. A new hole may be loaded in any direction, so that strength finds no spacing
// too small that is OK here.
func (p *Part) HoleRules(h holes.Hole) []RuleCheck {
	var all []RuleCheck
	add := func(rule string, have float64, d fastener.Distance) {
		all = append(all, RuleCheck{h.ID, rule, have, d.Min, have >= d.Min-1e-6, true})
		if have >= d.Min-1e-6 && have < d.Usual {
			all = append(all, RuleCheck{h.ID, rule + ", common practice", have, d.Usual, false, false})
		}
	}
	if p.Outline != nil {
		have, inside := plane.EdgeDistance(p.Outline, h.At())
		if !inside {
			have = -have
		}
		add("edge distance", have, fastener.Edge(h.D))
	}
	tightest, apart, name, d := math.Inf(1), 0.0, "", 0.0
	for _, o := range p.Holes {
		if o.ID == h.ID {
			continue
		}
		wide, a := max(o.D, h.D), o.At().Distance(h.At())
		if room := a - fastener.Spacing(wide, fastener.AnyDirection).Min; room < tightest {
			tightest, apart, name, d = room, a, o.ID, wide
		}
	}
	if name != "" {
		add(fmt.Sprintf("spacing to hole %s", name), apart, fastener.Spacing(d, fastener.AnyDirection))
	}
	return all
}

// Broken returns the first minimum that is not kept; an empty phrase when all are.
func Broken(rules []RuleCheck) units.Phrase {
	for _, r := range rules {
		if r.Must && !r.OK {
			if r.Have < 0 {
				return units.Say("it lies outside of the part's outline")
			}
			return units.Say("%s %s, minimum %s", r.Rule, units.FineMM(r.Have), units.FineMM(r.Need))
		}
	}
	return units.Phrase{}
}
