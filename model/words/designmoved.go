package words

import (
	"fmt"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/units"
)

// LevelChanged says what became of the angles at one height, those that stayed once: "1250 mm: 0.0° 5.0→5.2° 10.0°".
func LevelChanged(c *design.LevelChange, u units.System) string {
	var parts []string
	for _, a := range c.Angles {
		before, was := a.Before.Get()
		after, is := a.After.Get()
		switch {
		case !is:
			parts = append(parts, degrees(before)+" LOST")
		case !was:
			parts = append(parts, degrees(after)+" new")
		case degrees(before) == degrees(after):
			parts = append(parts, degrees(after))
		default:
			parts = append(parts, units.Fixed(before/plane.Deg, 1)+"→"+degrees(after))
		}
	}
	if parts == nil {
		parts = []string{"no angle, now as before"}
	}
	return u.Length(c.After.Height) + ": " + strings.Join(parts, " ")
}

// LevelHeights says between which heights the settings of a level are, before and now; "" where it has none now.
func LevelHeights(c *design.LevelChange, u units.System) string {
	span := func(l *design.Level) string {
		if lo, hi := u.LengthFigure(l.Lowest), u.LengthFigure(l.Highest); lo != hi {
			return lo + " to " + hi
		}
		return u.LengthFigure(l.Lowest)
	}
	if len(c.After.Rows) == 0 {
		return ""
	}
	now := span(c.After) + " " + u.LengthUnit()
	if len(c.Before.Rows) > 0 && span(c.Before) != span(c.After) {
		now = span(c.Before) + ", now " + now
	}
	text := "heights " + now
	if len(c.After.Angles) > 1 {
		text += "; steps up to " + degrees(c.After.Widest)
	}
	return text
}

// LevelLost lists what no longer goes in at one height; "" for nothing.
func LevelLost(c *design.LevelChange, u units.System) string {
	var lost []string
	for _, a := range c.Angles {
		if !a.After.Known() {
			lost = append(lost, degrees(a.Before.Value()))
		}
	}
	switch len(lost) {
	case 0:
		return ""
	case 1:
		return lost[0] + " at " + u.Length(c.After.Height) + " no longer goes in"
	}
	return strings.Join(lost, ", ") + " at " + u.Length(c.After.Height) + " no longer go in"
}

// WishMet says whether a plate still gives what is wanted, and where it does not.
func WishMet(p *design.Proposal, u units.System) string {
	var short []string
	for i := range p.Levels {
		if !p.Levels[i].Given {
			short = append(short, u.Length(p.Levels[i].Height))
		}
	}
	if short == nil {
		return "gives all that is wanted"
	}
	return "NO LONGER GIVES WHAT IS WANTED at " + strings.Join(short, ", ")
}

// BreakingNow says how many of the settings wanted break a limit, before and now.
func BreakingNow(p, before *design.Proposal) string {
	was, all := plateBreaking(before)
	is, now := plateBreaking(p)
	text := fmt.Sprintf("%d of %d settings wanted break a limit", is, now)
	if is != was || all != now {
		text += fmt.Sprintf(" (were %d of %d)", was, all)
	}
	return text
}

// RoleOf says what a hole of a plate is for.
func RoleOf(r design.Role) string {
	return map[design.Role]string{design.AtFoot: "foot", design.AtFront: "wing, front", design.AtRear: "wing, rear"}[r]
}
