package model

import (
	"fmt"
	"math"

	"stanchion/holes"
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

// Least distances of holes, in hole diameters d0.
// Source: EN 1993-1-8:2005 Table 3.3, the same in EN 1999-1-1 Table 8.2: end and
// edge distance 1.2 d0, spacing 2.2 d0. The advice is common practice, no source.
const (
	LeastEdge     = 1.2
	LeastSpacing  = 2.2
	adviseEdge    = 2.0
	adviseSpacing = 3.0
)

// HoleRules checks a new hole of a part against its outline and its other holes.
// Without an outline nothing can be said of edges, and no rule for them is
// listed.
func (p *Part) HoleRules(h holes.Hole) []RuleCheck {
	var all []RuleCheck
	add := func(rule string, have, need, advice float64) {
		all = append(all, RuleCheck{h.ID, rule, have, need, have >= need-1e-6, true})
		if have >= need-1e-6 && have < advice {
			all = append(all, RuleCheck{h.ID, rule + ", common practice", have, advice, false, false})
		}
	}
	if p.Outline != nil {
		have, inside := holes.EdgeDistance(p.Outline, h.At())
		if !inside {
			have = -have
		}
		add("edge distance", have, LeastEdge*h.D, adviseEdge*h.D)
	}
	nearest, name, d := math.Inf(1), "", 0.0
	for _, o := range p.Holes {
		if o.ID == h.ID {
			continue
		}
		if a := math.Hypot(o.X-h.X, o.Z-h.Z) - LeastSpacing*max(o.D, h.D); a < nearest {
			nearest, name, d = a, o.ID, max(o.D, h.D)
		}
	}
	if name != "" {
		add(fmt.Sprintf("spacing to hole %s", name), nearest+LeastSpacing*d, LeastSpacing*d, adviseSpacing*d)
	}
	return all
}

// Broken returns the first minimum that is not kept, or "".
func Broken(rules []RuleCheck) string {
	for _, r := range rules {
		if r.Must && !r.OK {
			if r.Have < 0 {
				return "it lies outside of the part's outline"
			}
			return fmt.Sprintf("%s %.1f mm, at least %.1f mm needed", r.Rule, r.Have, r.Need)
		}
	}
	return ""
}
