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
		return "nothing is left to bear it"
	}
	switch unit := c.Unit; {
	case unit == "N":
		return u.ForceFigure(c.Demand) + " of " + u.ForceFigure(c.Capacity) + " " + u.ForceUnit()
	case unit == "mm":
		return u.Place(c.Capacity) + ", " + u.Place(c.Demand) + " needed"
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

// Cautions stand wherever someone could act on the figures.
var Cautions = []string{
	"An estimate for planning, not approval. Wings that come off hurt people: have a licensed engineer check what runs on track or road, and follow local road rules and the event's technical rules.",
	"Fatigue is not computed: look for cracks and loose bolts before and after every session.",
}

// Verdict says in a sentence how a setting stands.
func (f *Frame) Verdict(r Result, u units.System) string {
	worst, ok := r.Worst()
	if !ok {
		return "No load can be checked: see what is missing"
	}
	used := fmt.Sprintf("%s, at %s of what it may bear, in the case of %s", worst.Brief(u), Percent(worst.Utilisation()), cases[worst.Case].name)
	broken := ""
	switch n := r.Broken(); n {
	case 0:
	case 1:
		broken = "; and one hole is too close to an edge or to another for the rules to cover"
	default:
		broken = fmt.Sprintf("; and %d holes are too close to an edge or to one another for the rules to cover", n)
	}
	switch {
	case worst.Layout:
		return fmt.Sprintf("The rules do not cover it: %s is %s", worst.Brief(u), worst.Figures(u))
	case worst.Utilisation() > 1:
		return "DOES NOT HOLD by these rules: " + used + broken
	case len(f.Missing) > 0:
		return "What can be checked holds. Weakest is " + used
	}
	return "Holds by these rules. Weakest is " + used
}

// Say says in a line how a row of any speed holds at the design speed; f is nil where
// strength cannot be checked, and why says so.
func Say(f *Frame, why error, p *model.Place, u units.System) string {
	if f == nil {
		return fmt.Sprintf("not checked: %v", why)
	}
	r, err := f.Of(f.Table.RowAt(p))
	if err != nil {
		return fmt.Sprintf("not checked: %v", err)
	}
	return fmt.Sprintf("at %s: %s.", u.Speed(f.Table.Speed), f.Verdict(r, u))
}

// Lines says everything about one setting's strength in lines of text; most is
// how many checks are listed, 0 for all.
func (f *Frame) Lines(r Result, helps []Help, u units.System, most int) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s: strength of setting %s at the design speed of %s", f.Car.Name, r.Row.ID, u.Speed(f.Table.Speed))
	add("")
	add("%s.", f.Verdict(r, u))
	for _, m := range f.Missing {
		add("  Missing: %s.", m)
	}
	for _, h := range helps {
		add("  What would help: %s. The weakest is then %s at %s.", h.Change(u), h.Weakest.Brief(u), Percent(h.Weakest.Utilisation()))
	}
	add("")
	loads, rules := r.split()
	n := len(loads)
	if most > 0 {
		n = min(n, most)
	}
	add("%8s  %-41s %s", "used", "check", "bears, of what it may bear")
	for _, c := range loads[:n] {
		add("%8s  %-41s %s", Percent(c.Utilisation()), c.Brief(u), c.Figures(u))
	}
	if n < len(loads) {
		add("%8s  and %d more at less than that", "", len(loads)-n)
	}
	add("")
	add("Where the bolts' holes are, %s:", "EN 1993-1-8 Table 3.3 and EN 1999-1-1 Table 8.2")
	n = len(rules)
	if most > 0 {
		n = min(n, 3)
	}
	for _, c := range rules[:n] {
		mark := "kept"
		if c.Utilisation() > 1 {
			mark = "NOT KEPT"
		}
		add("%8s  %-41s %s", mark, c.Brief(u), c.Figures(u))
	}
	if n < len(rules) {
		add("%8s  and %d more with more room", "", len(rules)-n)
	}
	add("")
	lines = append(lines, f.bodyLines(r, u)...)
	if !math.IsNaN(r.Turn) {
		add("Bending of the plates turns the wing by %s° and moves it %s sideways, without the load factor and without the give of holes and bolts.", units.Signed(r.Turn/model.Deg, 2), u.Place(r.Side))
		add("")
	}
	lines = append(lines, f.basis(r)...)
	add("")
	return append(lines, Cautions...)
}

// bodyLines is the table of free bodies: the loads on one upright, and what goes
// through each joint.
func (f *Frame) bodyLines(r Result, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	moment, arm := "N·m", 1000.0
	if u == units.Imperial {
		moment, arm = "lbf·ft", units.LBF*12*units.Inch
	}
	const columns = "  %-26s%9s%9s%8s%8s%8s%8s"
	row := func(what string, l Load) {
		add(columns, what, u.ForceFigure(l.Rear), u.ForceFigure(l.Side), u.ForceFigure(-l.Up),
			units.Fixed(l.Turn/arm, 1), units.Fixed(l.Roll/arm, 1), units.Fixed(l.Yaw/arm, 1))
	}
	add("Loads on one of %.0f uprights in the case of %s, with the load factor %.2g in them:", f.uprights, cases[r.Case].name, f.factor)
	add(columns, "", "rearward", "sideways", "down", "turn", "roll", "yaw")
	add(columns, "", u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), moment, moment, moment)
	for _, l := range r.Loads {
		row(l.What, l.Load)
	}
	add("What the upper part pushes on the lower with at each joint, about the middle of its bolts (turn is to more angle; roll and yaw are about the lines rearwards and up):")
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
func (f *Frame) basis(r Result) []string {
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
			add("Material of %s: %s%s.", p.part.Name, p.material.holds(), weld)
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
