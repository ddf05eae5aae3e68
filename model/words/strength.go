package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/speeds"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// UsedPercent spells a utilisation.
func UsedPercent(u float64) string {
	switch {
	case u > 9.99:
		return "over 999 %"
	case u > 1 && u < 1.005:
		return "over 100 %"
	case u >= 0.995 && u < 1:
		return "99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*u)
}

// CheckBrief names a check and where it is in a few words.
func CheckBrief(c strength.Check, u units.System) string {
	switch {
	case c.At != "" && c.Part != "":
		return fmt.Sprintf("%s, %s %s", c.What, c.Part, c.At)
	case c.At != "":
		return fmt.Sprintf("%s, %s %s", c.What, c.Joint, c.At)
	case c.Line[0] != c.Line[1]:
		at := c.Line[0].Add(c.Line[1]).Times(0.5)
		return fmt.Sprintf("%s, %s at %s", c.What, c.Part, partPlace(at, u))
	case !math.IsNaN(c.Station):
		return fmt.Sprintf("%s, %s at %s", c.What, c.Part, u.Length(c.Station))
	}
	return c.What + ", " + c.Part
}

// partPlace spells a place in a part's own frame, x and z.
func partPlace(p plane.Point, u units.System) string {
	return fmt.Sprintf("(%s, %s) %s", u.LengthFigure(p.X), u.LengthFigure(p.Z), u.LengthUnit())
}

// CheckFigures spells demand and capacity in the units wanted.
func CheckFigures(c strength.Check, u units.System) string {
	if math.IsInf(c.Utilisation(), 1) {
		if c.Unit == "mm" {
			return "there is no metal"
		}
		return "it has buckled, or no metal is left"
	}
	switch unit := c.Unit; {
	case unit == "N":
		return roundForce(c.Demand, u) + " of " + roundForce(c.Capacity, u) + " " + u.ForceUnit()
	case unit == "mm":
		return u.Dimension(c.Capacity) + ", minimum " + u.Dimension(c.Demand)
	case c.What == strength.PlateBuckling:
		return fmt.Sprintf("%s times the load, minimum %.1f", factor(1/c.Demand), 1/c.Capacity)
	case unit == "MPa":
		return units.Fixed(c.Demand, 0) + " of " + units.Fixed(c.Capacity, 0) + " MPa"
	}
	return "combined"
}

// split parts the checks of loads from the rules about where holes are.
func split(r strength.Result) (loads, rules []strength.Check) {
	for _, c := range r.Checks {
		if c.Layout {
			rules = append(rules, c)
		} else {
			loads = append(loads, c)
		}
	}
	return loads, rules
}

// Caution stands directly below every verdict.
const Caution = "An estimate, not approval: have a licensed engineer check what runs on track or road."

// Cautions stand wherever someone could act on the figures.
var Cautions = []string{
	"An estimate for planning, not approval. Wings that come off hurt people: have a licensed engineer check what runs on track or road, and follow local road rules and the event's technical rules.",
	"Fatigue is only estimated: look for cracks and loose bolts before and after every session.",
}

// ResultHeadline says in a sentence how a setting stands, what is not checked first.
func ResultHeadline(f *strength.Analysis, r strength.Result, u units.System) string {
	return headline(r.Verdict(), r, r.Open, upTo(f, r, u), u)
}

// ScopeHeadline says in a sentence how all settings in question stand, by the worst.
func ScopeHeadline(f *strength.Analysis, s strength.Scope, u units.System) string {
	if s.Worst.Row == nil {
		return "NOT CHECKED: " + OpenText(s.Open) + ". No setting has loads"
	}
	return headline(s.Verdict(), s.Worst, s.Open, upTo(f, s.Worst, u), u)
}

// upTo says up to which speed a verdict goes where the car reaches more; "" where it does not.
func upTo(f *strength.Analysis, r strength.Result, u units.System) string {
	if top, ok := speeds.TopSpeed(f.Table, r.Row); ok && f.Slower(top) {
		return fmt.Sprintf(" up to %s only, the car reaches %s", u.Speed(f.Table.Speed), u.Speed(top))
	}
	return ""
}

func headline(v strength.Verdict, r strength.Result, open []strength.Open, upTo string, u units.System) string {
	broken := ""
	if n := r.Broken(); n > 0 {
		for _, c := range r.Checks {
			if c.Layout && c.Utilisation() > 1 {
				near := "another hole"
				if strings.HasPrefix(c.What, "edge") {
					near = "an edge"
				}
				broken = fmt.Sprintf("hole %s of the %s is too near %s for any rule (%s)", c.At, c.Part, near, CheckFigures(c, u))
				break
			}
		}
		if n > 1 {
			broken += fmt.Sprintf(", and %d more", n-1)
		}
	}
	var left []string
	if broken != "" {
		left = append(left, broken)
	}
	if len(open) > 0 {
		left = append(left, OpenText(open))
	}
	used, ok := r.Used()
	nearest := func(before string) string {
		return fmt.Sprintf("%s%s of strength used; nearest to its limit: %s (%s)", before, UsedPercent(used.Utilisation()),
			CheckBrief(used, u), strength.CaseName(used.Case))
	}
	switch v {
	case strength.Passes:
		return nearest("PASSES THESE CHECKS" + upTo + ": ")
	case strength.DoesNotHold:
		text := nearest("DOES NOT HOLD: ")
		if len(left) > 0 {
			text += ". Not checked: " + strings.Join(left, "; ")
		}
		return text
	}
	text := "NOT CHECKED: " + strings.Join(left, "; ")
	if !ok {
		return text + ". Nothing could be checked"
	}
	return text + nearest(". Of what was checked, ")
}

// maxOpen is how many things that are not checked a headline names.
const maxOpen = 5

// OpenText names what is not checked, each thing once with all that it lacks.
func OpenText(open []strength.Open) string {
	var things []string
	why := map[string][]string{}
	for _, o := range open {
		if why[o.What] == nil {
			things = append(things, o.What)
		}
		if !slices.Contains(why[o.What], o.Why) {
			why[o.What] = append(why[o.What], o.Why)
		}
	}
	var parts []string
	for i, what := range things {
		if i == maxOpen {
			parts = append(parts, fmt.Sprintf("and %d more", len(things)-i))
			break
		}
		parts = append(parts, what+" ("+strings.Join(why[what], ", ")+")")
	}
	return strings.Join(parts, "; ")
}

// Strength says in a line how a row of any speed holds at the design speed; f is nil where
// strength cannot be checked, and why says so. At a speed in m/s above the design speed
// nothing passes.
func Strength(f *strength.Analysis, why error, p *model.Position, speed float64, u units.System) string {
	if f == nil {
		return fmt.Sprintf("NOT CHECKED: %v", why)
	}
	if f.Slower(speed) {
		return fmt.Sprintf("NOT CHECKED at %s, the design speed is %s", u.Speed(speed), u.Speed(f.Table.Speed))
	}
	r, err := f.Best(f.Table.RowAt(p))
	if err != nil {
		return fmt.Sprintf("NOT CHECKED: %v", err)
	}
	return fmt.Sprintf("at %s: %s.", u.Speed(f.Table.Speed), ResultHeadline(f, r, u))
}

// AboveDesign says that nothing is checked at a speed in m/s above the design speed; "" where it
// is not above.
func AboveDesign(f *strength.Analysis, speed float64, u units.System) string {
	if !f.Slower(speed) {
		return ""
	}
	return fmt.Sprintf("NOT CHECKED at %s: strength is checked at the design speed of %s, where the loads are lower.", u.Speed(speed), u.Speed(f.Table.Speed))
}

// mostNamed is how many settings without forces are named.
const mostNamed = 12

// WithoutForces names the settings that have no forces at the design speed; "" where all have.
func WithoutForces(f *strength.Analysis, s strength.Scope) string {
	if len(s.Without) == 0 {
		return ""
	}
	var names []string
	for _, i := range s.Without[:min(len(s.Without), mostNamed)] {
		names = append(names, f.Table.Name(f.Table.Rows[i].Setting))
	}
	more := ""
	if n := len(s.Without) - len(names); n > 0 {
		more = fmt.Sprintf(" and %d more", n)
	}
	return "Without forces at the design speed, so not checked: " + strings.Join(names, "; ") + more
}
