package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/speeds"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// StrengthLines says everything about one setting's strength in lines of text; most is
// how many checks are listed, 0 for all.
func StrengthLines(f *strength.Analysis, r strength.Result, helps []strength.Help, u units.System, most int) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s: strength of setting %s at the design speed of %s", f.Car.Name, f.Table.Name(r.Row.Setting), u.Speed(f.Table.Speed))
	add("")
	add("%s.", ResultHeadline(f, r, u))
	add("%s", Caution)
	if top, ok := speeds.TopSpeed(f.Table, r.Row); ok && f.Slower(top) {
		add("  By its power and drag the car reaches %s with this setting: above %s nothing is checked. Give the higher speed as [speed] design.",
			u.Speed(top), u.Speed(f.Table.Speed))
	}
	if l := lifeLine(r); l != "" {
		add("  %s", l)
	}
	for _, m := range f.Missing {
		add("  Missing: %s.", m)
	}
	for _, h := range helps {
		add("  What would help: %s. %s.", HelpChange(h, u), helpOutcome(h, u))
	}
	add("")
	loads, rules := split(r)
	n := len(loads)
	if most > 0 {
		n = min(n, most)
	}
	if n > 0 {
		add("%8s  %-41s %s", "used", "check", "load, of the allowable")
	}
	for _, c := range loads[:n] {
		add("%8s  %-41s %s", UsedPercent(c.Utilisation()), CheckBrief(c, u), CheckFigures(c, u))
	}
	if n < len(loads) {
		add("%8s  and %d more, further from their limits", "", len(loads)-n)
	}
	if n > 0 {
		add("")
	}
	lines = append(lines, plateLines(f, r, u)...)
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
		add("%10s  %-41s %s", mark, CheckBrief(c, u), CheckFigures(c, u))
	}
	if n < len(rules) {
		add("%10s  and %d more, further from their minimum", "", len(rules)-n)
	}
	add("")
	lines = append(lines, hardwareLines(f, r, u)...)
	lines = append(lines, bodyLines(f, r, u)...)
	if r.Solved == nil && !math.IsNaN(r.Turn) {
		add("Bending of the plates turns the wing by %s° and moves it %s sideways, without the load factor and without the give of holes and bolts.", units.Signed(r.Turn/plane.Deg, 2), u.Dimension(r.Side))
		add("")
	}
	lines = append(lines, basis(f, r, u)...)
	add("")
	return append(lines, Cautions...)
}

// bodyLines is the table of free bodies: the loads on one upright, and what goes
// through each joint.
func bodyLines(f *strength.Analysis, r strength.Result, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	moment := u.MomentUnit()
	const columns = "  %-26s%9s%9s%8s%8s%8s%8s"
	row := func(what string, l strength.Load) {
		add(columns, what, u.ForceFigure(l.Rear), u.ForceFigure(l.Side), u.ForceFigure(-l.Up),
			u.Moment(l.Turn), u.Moment(l.Roll), u.Moment(l.Yaw))
	}
	add("Loads on one of %.0f uprights in the case of %s, with the load factor %.2g in them:", f.Uprights, strength.CaseName(r.Case),
		f.LoadFactor)
	add(columns, "", "rearward", "sideways", "down", "turn", "roll", "yaw")
	add(columns, "", u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), moment, moment, moment)
	for _, l := range r.Loads {
		row(l.What, l.Load)
	}
	add("Forces from the upper part on the lower at each joint, and moments about the centroid of its bolts (turn: positive adds wing angle; roll and yaw: about the rearward and upward axes):")
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
func basis(f *strength.Analysis, r strength.Result, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	for _, a := range f.Assumed {
		add("Assumed: %s: %s (%s).", a.What, a.Value, a.Note)
	}
	for _, m := range f.Materials() {
		weld := ""
		if m.Welded {
			weld = ", as it is beside a weld"
		}
		add("Material of %s: %s%s.", m.Part, material(m.Material, u), weld)
	}
	for _, s := range sources(r) {
		add("Rule: %s.", s)
	}
	for _, l := range f.Left {
		add("Not checked: %s.", l)
	}
	return lines
}

// sources lists the rules of the checks, each once with what it is for.
func sources(r strength.Result) []string {
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

// material says what a material's values stand for.
func material(m strength.Material, u units.System) string {
	text := fmt.Sprintf("%s (%s, up to %s): proof %g MPa, ultimate %g MPa, %s", m.Name, m.Standard, u.Dimension(m.Upto), m.Proof,
		m.Ultimate, m.Source)
	if m.FromMemory {
		text += ", quoted from memory, not rechecked: see the plate's certificate"
	}
	return text
}

// HelpChange says what could be changed.
func HelpChange(h strength.Help, u units.System) string {
	switch h.Change {
	case strength.LargerBolt:
		return fmt.Sprintf("%s bolts at joint %s, with holes to suit", h.To, h.On)
	case strength.StrongerGrade:
		return fmt.Sprintf("bolts of class %s at joint %s", h.To, h.On)
	case strength.ThickerPart:
		return fmt.Sprintf("%s %s thick", h.On, u.Dimension(h.MM))
	}
	return fmt.Sprintf("%s %s wider all round", h.On, u.Dimension(h.MM))
}

// helpOutcome says what a change comes to.
func helpOutcome(h strength.Help, u units.System) string {
	used := UsedPercent(h.Weakest.Utilisation())
	if h.Weakest.Utilisation() > 1 {
		return fmt.Sprintf("NOT ENOUGH by itself: %s of strength used at %s", used, CheckBrief(h.Weakest, u))
	}
	return fmt.Sprintf("%s of strength is then used, at %s", used, CheckBrief(h.Weakest, u))
}
