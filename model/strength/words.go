package strength

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/units"
)

// Percent spells a utilisation.
func Percent(u float64) string {
	switch {
	case u > 9.99:
		return "over 999 %"
	case u >= 0.995 && u < 1:
		return "99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*u)
}

// Brief names a check and where it is in a few words.
func (c Check) Brief(u units.System) string {
	switch {
	case c.At != "" && c.Part != "":
		return fmt.Sprintf("%s, %s %s", c.What, c.Part, c.At)
	case c.At != "":
		return fmt.Sprintf("%s, %s %s", c.What, c.Joint, c.At)
	case !math.IsNaN(c.Station):
		return fmt.Sprintf("%s, %s at %s", c.What, c.Part, u.Length(c.Station))
	}
	return c.What + ", " + c.Part
}

// Figures spells demand and capacity in the units wanted.
func (c Check) Figures(u units.System) string {
	if math.IsInf(c.Utilisation(), 1) {
		return "it has buckled, or no metal is left"
	}
	switch unit := c.Unit; {
	case unit == "N":
		return u.ForceFigure(c.Demand) + " of " + u.ForceFigure(c.Capacity) + " " + u.ForceUnit()
	case unit == "mm":
		return u.Place(c.Capacity) + ", minimum " + u.Place(c.Demand)
	case unit == "MPa":
		return units.Fixed(c.Demand, 0) + " of " + units.Fixed(c.Capacity, 0) + " MPa"
	}
	return "both taken together"
}

// split parts the checks of loads from the rules about where holes are.
func (r Result) split() (loads, rules []Check) {
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
	"Fatigue is not computed: look for cracks and loose bolts before and after every session.",
}

// Headline says in a sentence how a setting stands, what is not checked first.
func (f *Frame) Headline(r Result, u units.System) string {
	return headline(r.Verdict(), r, r.Open, u)
}

// Headline says in a sentence how all settings in question stand, by the worst.
func (s Scope) Headline(u units.System) string {
	if s.Worst.Row == nil {
		return "NOT CHECKED: " + openText(s.Open) + ". No setting has loads"
	}
	return headline(s.Verdict(), s.Worst, s.Open, u)
}

func headline(v Verdict, r Result, open []Open, u units.System) string {
	broken := ""
	if n := r.Broken(); n > 0 {
		for _, c := range r.Checks {
			if c.Layout && c.Utilisation() > 1 {
				broken = fmt.Sprintf("%s: %s", c.Brief(u), c.Figures(u))
				break
			}
		}
		if n > 1 {
			broken += fmt.Sprintf(", and %d more holes too close", n-1)
		}
	}
	var left []string
	if len(open) > 0 {
		left = append(left, openText(open))
	}
	if broken != "" {
		left = append(left, broken)
	}
	used, ok := r.Used()
	nearest := func(before string) string {
		return fmt.Sprintf("%s%s of strength used; nearest to its limit: %s (%s)", before, Percent(used.Utilisation()), used.Brief(u), cases[used.Case].name)
	}
	switch v {
	case Passes:
		return nearest("PASSES THESE CHECKS: ")
	case DoesNotHold:
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

// openText names what is not checked, each thing once with all that it lacks.
func openText(open []Open) string {
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

// Say says in a line how a row of any speed holds at the design speed; f is nil where
// strength cannot be checked, and why says so. At a speed in m/s above the design speed
// nothing passes.
func Say(f *Frame, why error, p *model.Place, speed float64, u units.System) string {
	if f == nil {
		return fmt.Sprintf("NOT CHECKED: %v", why)
	}
	if f.Slower(speed) {
		return fmt.Sprintf("NOT CHECKED at %s, the design speed is %s", u.Speed(speed), u.Speed(f.Table.Speed))
	}
	r, err := f.Of(f.Table.RowAt(p))
	if err != nil {
		return fmt.Sprintf("NOT CHECKED: %v", err)
	}
	return fmt.Sprintf("at %s: %s.", u.Speed(f.Table.Speed), f.Headline(r, u))
}

// Lines says everything about one setting's strength in lines of text; most is
// how many checks are listed, 0 for all.
func (f *Frame) Lines(r Result, helps []Help, u units.System, most int) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s: strength of setting %s at the design speed of %s", f.Car.Name, r.Row.ID, u.Speed(f.Table.Speed))
	add("")
	add("%s.", f.Headline(r, u))
	add("%s", Caution)
	for _, m := range f.Missing {
		add("  Missing: %s.", m)
	}
	for _, h := range helps {
		add("  What would help: %s. %s.", h.Change(u), h.then(u))
	}
	add("")
	loads, rules := r.split()
	n := len(loads)
	if most > 0 {
		n = min(n, most)
	}
	if n > 0 {
		add("%8s  %-41s %s", "used", "check", "load, of the allowable")
	}
	for _, c := range loads[:n] {
		add("%8s  %-41s %s", Percent(c.Utilisation()), c.Brief(u), c.Figures(u))
	}
	if n < len(loads) {
		add("%8s  and %d more, further from their limits", "", len(loads)-n)
	}
	if n > 0 {
		add("")
	}
	add("Where the bolts' holes are, %s:", "EN 1993-1-8 Table 3.3 and EN 1999-1-1 Table 8.2")
	n = len(rules)
	if most > 0 {
		n = min(n, 3)
	}
	for _, c := range rules[:n] {
		mark := "OK"
		if c.Utilisation() > 1 {
			mark = "TOO LITTLE"
		}
		add("%10s  %-41s %s", mark, c.Brief(u), c.Figures(u))
	}
	if n < len(rules) {
		add("%10s  and %d more, further from their minimum", "", len(rules)-n)
	}
	add("")
	lines = append(lines, f.bodyLines(r, u)...)
	if !math.IsNaN(r.Turn) {
		add("Bending of the plates turns the wing by %s° and moves it %s sideways, without the load factor and without the give of holes and bolts.", units.Signed(r.Turn/model.Deg, 2), u.Place(r.Side))
		add("")
	}
	lines = append(lines, f.basis(r, u)...)
	add("")
	return append(lines, Cautions...)
}

// bodyLines is the table of free bodies: the loads on one upright, and what goes
// through each joint.
func (f *Frame) bodyLines(r Result, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	moment := u.MomentUnit()
	const columns = "  %-26s%9s%9s%8s%8s%8s%8s"
	row := func(what string, l Load) {
		add(columns, what, u.ForceFigure(l.Rear), u.ForceFigure(l.Side), u.ForceFigure(-l.Up),
			u.Moment(l.Turn), u.Moment(l.Roll), u.Moment(l.Yaw))
	}
	add("Loads on one of %.0f uprights in the case of %s, with the load factor %.2g in them:", f.uprights, cases[r.Case].name, f.factor)
	add(columns, "", "rearward", "sideways", "down", "turn", "roll", "yaw")
	add(columns, "", u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), moment, moment, moment)
	for _, l := range r.Loads {
		row(l.What, l.Load)
	}
	add("Forces of the upper part on the lower at each joint, and moments about the centroid of its bolts (turn is to more angle; roll and yaw are about the axes rearwards and up):")
	for i := range r.Bodies {
		b := &r.Bodies[i]
		j := f.Car.Joints[b.Joint]
		row(fmt.Sprintf("%s, %s", j.Name, f.Car.Parts[b.Joint+1].Name), b.Load)
		for k, p := range b.Pairs {
			x := b.Bolts[k]
			add("    bolt %s in %s: shear %s %s, tension %s %s", f.Car.Parts[b.Joint+1].Holes[p.Upper].ID, f.Car.Parts[b.Joint].Holes[p.Lower].ID,
				u.ForceFigure(x.Shear()), u.ForceUnit(), u.ForceFigure(x.Tension), u.ForceUnit())
		}
	}
	add("")
	return lines
}

// basis says what the figures rest on and what they leave out.
func (f *Frame) basis(r Result, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	for _, a := range f.Assumed {
		add("Assumed: %s %s (%s).", a.What, a.Value, a.Note)
	}
	for i := range f.plates {
		if p := &f.plates[i]; p.sound() {
			weld := ""
			if p.part.Welded {
				weld = ", as it is beside a weld"
			}
			add("Material of %s: %s%s.", p.part.Name, p.material.holds(u), weld)
		}
	}
	for _, s := range r.sources() {
		add("Rule: %s.", s)
	}
	for _, l := range f.Left {
		add("Not checked: %s.", l)
	}
	return lines
}

// sources lists the rules of the checks, each once with what it is for.
func (r Result) sources() []string {
	var rules []string
	what := map[string][]string{}
	for _, c := range r.Checks {
		if _, met := what[c.Source]; !met {
			rules = append(rules, c.Source)
		}
		if !slices.Contains(what[c.Source], c.What) {
			what[c.Source] = append(what[c.Source], c.What)
		}
	}
	slices.Sort(rules)
	for i, s := range rules {
		slices.Sort(what[s])
		rules[i] = strings.Join(what[s], ", ") + " by " + s
	}
	return rules
}
