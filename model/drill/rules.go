package drill

import (
	"math"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/fastener"
)

// RuleCheck is one rule about where a hole may be, and whether a place keeps it.
type RuleCheck struct {
	Hole string  // the new hole's mark
	To   string  // the hole that it is near; "" for the part's edge
	Have float64 // mm; of the edge, below 0 where there is no metal
	Need float64 // mm
	OK   bool
	Must bool // a minimum; otherwise common practice
	Out  bool // its centre lies in a cut-out of the part
}

// HoleRules checks a new hole of a part against its edges, of the outline and the cut-outs,
// and its other holes. Without an outline nothing can be said of edges, and no rule for them is
// listed. A new hole may be loaded in any direction, so that strength finds no spacing
// too small that is OK here.
func HoleRules(p *model.Part, h holes.Hole) []RuleCheck {
	var all []RuleCheck
	add := func(to string, have float64, d fastener.Distance) {
		ok := have >= d.Min-1e-6
		all = append(all, RuleCheck{Hole: h.ID, To: to, Have: have, Need: d.Min, OK: ok, Must: true, Out: to == "" && p.InCutout(h.At())})
		if ok && have < d.Usual {
			all = append(all, RuleCheck{Hole: h.ID, To: to, Have: have, Need: d.Usual})
		}
	}
	if p.Outline != nil {
		have, metal := p.EdgeDistance(h.At())
		if !metal {
			have = -have
		}
		add("", have, fastener.Edge(h.D))
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
		add(name, apart, fastener.Spacing(d, fastener.AnyDirection))
	}
	return all
}

// Broken returns the first minimum that is not kept, and whether there is one.
func Broken(rules []RuleCheck) (RuleCheck, bool) {
	for _, r := range rules {
		if r.Must && !r.OK {
			return r, true
		}
	}
	return RuleCheck{}, false
}
