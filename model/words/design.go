package words

import (
	"fmt"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// OnBlank says how a plate lies on the blank.
func OnBlank(l *design.Lie, u units.System) string {
	text := fmt.Sprintf("goes on the blank turned by %s, taking %s of it", degrees(plane.Wrap(l.Turn)), BlankSize(l.W, l.H, u))
	if spare := -l.Over; spare < 2*design.Kerf {
		text += fmt.Sprintf(", with %s to spare, less than the %s a side that a cutter usually leaves", u.Dimension(max(0, spare)), u.Dimension(design.Kerf))
	}
	if l.Pair {
		return text + "; both of a pair go on one"
	}
	return text + "; no way was found to lay both of a pair on one: two blanks"
}

// Merits says what a proposal is the best at.
func Merits(p *design.Proposal) string {
	names := map[design.Merit]string{design.FewestHoles: "fewest holes", design.FinestSteps: "finest steps", design.ShortestArm: "shortest arm",
		design.Lightest: "lightest", design.ShortestSlot: "shortest slot",
		design.NearestAngles: "nearest to the angles named"}
	var all []string
	for _, m := range p.Merits {
		all = append(all, names[m])
	}
	return strings.Join(all, ", ")
}

// Proposal says what a plate is like, in lines.
func Proposal(p *design.Proposal, u units.System) []string {
	stands := "the plate stands upright"
	if n := len(p.Tilts); n > 1 {
		var turns []string
		for _, t := range p.Tilts[1:] {
			turns = append(turns, degrees(t))
		}
		stands += ", or tilted on its foot by " + strings.Join(turns, " or ")
	}
	bracket := ""
	if p.Bracket > 0 {
		bracket = fmt.Sprintf("%d in the bracket, ", p.Bracket)
	}
	inWing := ""
	if wing := p.Car.Parts[len(p.Car.Parts)-1]; len(wing.Holes) > 2 {
		inWing = fmt.Sprintf(" (in its holes %s and %s)", units.Printable(p.WingHoles[0]), units.Printable(p.WingHoles[1]))
	}
	lines := []string{
		fmt.Sprintf("%s: %s%d at the foot, %d front and %d rear for the wing, whose bolts are %s apart", units.Count(p.Holes(), "hole"), bracket, p.Foot, p.Fronts,
			p.Rears, u.Dimension(p.Pitch)) + inWing,
		stands,
	}
	if k := KeptHoles(p); k != "" {
		lines = append(lines, k)
	}
	if n := p.Further(); n > 0 {
		lines = append(lines, fmt.Sprintf("%s at other heights or angles come with it", units.Count(n, "further setting")))
	}
	lo, hi := plane.Box(p.Plate().Outline)
	size := fmt.Sprintf("plate %s by %s", u.Length(hi.X-lo.X), u.Length(hi.Z-lo.Z))
	if kg, ok := strength.PlateMass(p.Plate()); ok {
		size += fmt.Sprintf(", %s %s", units.Fixed(kg/units.Masses[u.MassUnit()], 1), u.MassUnit())
	}
	size += ", " + PlateShape(p) + fmt.Sprintf("; wing's front bolt up to %s above the foot's highest", u.Length(p.Arm))
	if p.Hang > 1 {
		size += fmt.Sprintf("; its lowest hole up to %s below the bracket's", u.Length(p.Hang))
	}
	if p.Slot > 0 {
		size += "; slot in the panel " + u.Length(p.Slot)
		if p.Further() > 0 { // which can reach further
			size += ", for the settings wanted alone"
		}
	}
	lines = append(lines, size)
	lines = append(lines, SwanNeck(p, u)...)
	if p.Lie.W > 0 {
		lines = append(lines, OnBlank(&p.Lie, u))
	}
	if p.Lightened != nil {
		lines = append(lines, Lightened(p.Lightened, u))
	}
	return lines
}

// PlateShape says what a plate's outline is like.
func PlateShape(p *design.Proposal) string {
	switch round := " round the " + strings.Join(p.Around, " and the "); {
	case p.Shape == design.Convex:
		return "convex"
	case p.Shape == design.SwanNeck && len(p.Around) > 0:
		return "swan neck, cranked" + round
	case p.Shape == design.SwanNeck:
		return "swan neck"
	case p.Shape == design.Cranked && len(p.Around) > 0:
		return "cranked" + round
	case p.Shape == design.Cranked:
		return "cranked"
	case len(p.Around) > 0:
		return "slim, cranked" + round
	}
	return "slim"
}

// Lightened says what cut-outs did to a plate.
func Lightened(l *design.Lightening, u units.System) string {
	switch l.Why {
	case design.NotSettled:
		return "no cut-outs: that it holds without them has to be settled first"
	case design.NoRoom:
		return "no cut-outs: there is no room for one where stress is low"
	case design.TooWeak:
		return fmt.Sprintf("no cut-outs: solved as drawn with %s, more of its strength would be used than without", units.Count(l.Tried, "set")+" of them")
	}
	mass := func(kg float64) string { return units.Fixed(kg/units.Masses[u.MassUnit()], 2) }
	return fmt.Sprintf("%s make it %s %s instead of %s; strength used with them %.0f %%, without %.0f %%", units.Count(len(l.Rounds), "round cut-out"),
		mass(l.After), u.MassUnit(), mass(l.Before), 100*l.Uses, 100*l.Used)
}

// DesignLevel says what a plate gives at one height.
func DesignLevel(l *design.Level, p *design.Proposal, u units.System) string {
	text := u.Length(l.Height)
	if len(l.Rows) == 0 {
		return text + ": NO SETTING"
	}
	if l.Highest-l.Lowest > 1 {
		text += fmt.Sprintf(" (%s to %s)", u.LengthFigure(l.Lowest), u.LengthFigure(l.Highest))
	}
	text += fmt.Sprintf(": %s to %s, %s", degrees(l.Low), degrees(l.High), units.Count(len(l.Angles), "angle"))
	if l.Named {
		text += ", at most " + degrees2(l.Off) + " off those named"
	} else if len(l.Angles) > 1 {
		text += ", steps up to " + degrees(l.Widest)
	}
	if l.Beyond > l.High+0.05*plane.Deg {
		text += ", and on to " + degrees(l.Beyond)
	}
	if l.Breaking == 0 {
		return text + "; all keep the limits"
	}
	what := LimitCountsOf(p.Table, l.Rows)
	return fmt.Sprintf("%s; %d of %d settings break a limit: %s", text, l.Breaking, len(l.Rows), what)
}

// DesignBound says how far from the fewest holes a plate may be.
func DesignBound(d *design.Designed) string {
	have := d.Proposals[0].Holes()
	switch {
	case have <= d.Bound:
		return "By counting, no plate for this has fewer holes."
	}
	return fmt.Sprintf("Counting says that no plate for this has fewer than %s; the fewest found are %d. %s compared.",
		units.Count(d.Bound, "hole"), have, units.Count(d.Looked, "plate"))
}

// Accuracy says what errors of drilling do to a plate.
func Accuracy(a design.Accuracy, p *design.Proposal, u units.System) []string {
	every := "every hole"
	if p.Bracket > 0 {
		every = "every hole of plate and bracket"
	}
	fit := fmt.Sprintf("%s drilled %s off: all bolts go in, at every setting, in %.0f %% of plates", every, u.Fine(a.Off), 100*a.Fit)
	switch wider, known := a.Saves.Get(); {
	case !known:
		fit += "; larger holes do not cure that: drill it through a template"
	case wider > 0:
		fit += fmt.Sprintf("; with holes %s larger in 95 %%", u.Fine(wider))
	}
	if a.Least < a.Fit+0.2 && a.Row >= 0 && a.Fit < 0.9 {
		fit += fmt.Sprintf(" (worst: %s)", p.Table.Name(p.Table.Rows[a.Row].Setting))
	}
	return []string{fit, fmt.Sprintf("angle then ±%s; left to right ±%s if drilled apart, alike if drilled as a pair", degrees2(a.Angle), degrees2(a.Apart))}
}

func degrees2(rad float64) string { return units.Fixed(rad/plane.Deg, 2) + "°" }

// PlateHolds says in two words how the settings of a proposal hold that break no limit.
func PlateHolds(s strength.Scope) string {
	used, ok := s.Worst.Used()
	switch v := s.Verdict(); {
	case v == strength.DoesNotHold:
		return "DOES NOT HOLD"
	case v == strength.NotChecked || !ok:
		return "NOT CHECKED"
	}
	return UsedPercent(used.Utilisation()) + " used"
}

// NoPlateLoads says why no setting of a proposal has loads to be checked for.
func NoPlateLoads(f *strength.Analysis, s strength.Scope, u units.System) string {
	if s.Asked > 0 {
		return fmt.Sprintf("none of the %d settings that break no limit has forces at %s: they are outside the wing or flow data", s.Asked, u.Speed(f.Table.Speed))
	}
	return fmt.Sprintf("all %d settings break a limit at %s: %s", len(f.Table.Rows), u.Speed(f.Table.Speed), LimitCounts(f.Table))
}

// PlateSteps says in a table how many angles heights have, and the widest step between them: "6 ≤2.3°"; SHORT where that is not what was wanted.
func PlateSteps(levels []design.Level) string {
	least, most, widest, short := 1<<30, 0, 0.0, false
	for i := range levels {
		n := len(levels[i].Angles)
		least, most, widest = min(least, n), max(most, n), max(widest, levels[i].Widest)
		short = short || !levels[i].Given
	}
	text := fmt.Sprint(most)
	if least < most {
		text = fmt.Sprintf("%d–%d", least, most)
	}
	text += " ≤" + degrees(widest)
	if short { // reworked by hand
		text += " SHORT"
	}
	return text
}

// PlateBreaking says in a table how many of the settings wanted break a limit.
func PlateBreaking(p *design.Proposal) string {
	breaking, all := plateBreaking(p)
	return fmt.Sprintf("%d of %d", breaking, all)
}

// NothingKeeps says that no setting wanted of a proposal keeps the limits; "" where one does.
func NothingKeeps(p *design.Proposal) string {
	switch breaking, all := plateBreaking(p); {
	case all == 0:
		return "NO SETTING IS THERE at the heights and angles wanted: this plate is of no use as it is"
	case breaking < all:
		return ""
	}
	return "EVERY SETTING WANTED BREAKS A LIMIT: this plate is of no use as it is"
}

func plateBreaking(p *design.Proposal) (breaking, all int) {
	for i := range p.Levels {
		breaking, all = breaking+p.Levels[i].Breaking, all+len(p.Levels[i].Rows)
	}
	return breaking, all
}

// PlateCaution stands wherever plates are proposed, beside Caution.
const PlateCaution = "Draft outlines: check clearances; make a plywood template first."
