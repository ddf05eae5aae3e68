package words

import (
	"fmt"
	"strings"

	"stanchion/model/design"
	"stanchion/model/units"
)

// SwanNeck says what a plate is like that holds the wing from above; nothing where it is no swan neck.
func SwanNeck(p *design.Proposal, u units.System) []string {
	n := p.Neck
	if n == nil {
		return nil
	}
	edge := "leading"
	if n.Behind {
		edge = "trailing"
	}
	below := "no room is left free below it"
	if n.Below > n.Gap {
		below = "free for " + u.Length(n.Below) + " below it"
	}
	lines := []string{fmt.Sprintf("swan neck: round the wing's %s edge, at least %s wide, %s from the wing's section at its nearest, %s", edge, u.Dimension(n.Width),
		u.Dimension(n.Nearest), below)}
	if !n.Drawn {
		lines = append(lines, "the wing's section is not known: it keeps clear of a symmetrical one 12 % thick; check with the real one")
	}
	mounts := fmt.Sprintf("wing's bolts %s above the chord line", u.Dimension(n.Front))
	if u.Dimension(n.Rear) != u.Dimension(n.Front) {
		mounts = fmt.Sprintf("wing's bolts %s (front) and %s (rear) above the chord line", u.Dimension(n.Front), u.Dimension(n.Rear))
	}
	if n.Ordered {
		mounts += ": order top mounts for that; how they hold on the wing is their maker's to say"
	}
	lines = append(lines, mounts)
	if len(n.Fouls) > 0 {
		names := make([]string, 0, 3)
		for _, i := range n.Fouls[:min(3, len(n.Fouls))] {
			names = append(names, p.Table.Name(p.Table.Rows[i].Setting))
		}
		text := fmt.Sprintf("DO NOT USE %s that come with it: they bring the wing nearer to the plate than %s: %s", units.Count(len(n.Fouls), "further setting"),
			u.Dimension(n.Gap), strings.Join(names, ", "))
		if more := len(n.Fouls) - len(names); more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		lines = append(lines, text)
	}
	return append(lines, neckAir(n))
}

// neckAir says what the figures assume of the air around a swan neck.
func neckAir(n *design.Neck) string {
	const not = "what mounts and neck do to the flow around the wing beside that is not modelled"
	if !n.LostKnown {
		return "air: what its wake costs is not worked out (no thickness, or a table of the whole wing as it was measured); " + not
	}
	percent := func(x float64) string { return units.Fixed(100*x, 1) + " %" }
	if n.Behind {
		return fmt.Sprintf("air: its wake is taken to pass over the upper side and to cost %s of the lift, as of a plate above the wing; the neck is behind it; %s", percent(n.Lost), not)
	}
	return fmt.Sprintf("air: its wake is taken to pass over the upper side and to cost %s of the lift; what the neck sheds ahead of the leading edge passes below too, "+
		"up to %s if all of it did; %s", percent(n.Lost), percent(n.LostUnder), not)
}

// NoSwanNeck says why there is no swan neck, and what to order or ask for; "" where the reason is another.
func NoSwanNeck(d *design.Designed, u units.System) string {
	switch d.Why {
	case design.LowMounts:
		if len(d.Wish.Above) > 0 {
			return fmt.Sprintf("no swan neck: the wing's bolts are too near to it or in it; try --mounts-above %s", typedLength(d.Mounts, u))
		}
		return fmt.Sprintf("no swan neck: the wing's bolts are not far enough above it; order top mounts with bolts about %s above the chord line, and give --mounts-above %[1]s",
			typedLength(d.Mounts, u))
	case design.NoWay:
		return "no swan neck: there is no way from the foot round the wing to its bolts; allow a narrower --band or --neck-gap, more height, or the wing further from the foot with --behind"
	}
	return ""
}

// typedLength is a length as it is typed behind a flag.
func typedLength(mm float64, u units.System) string {
	number, unit, _ := strings.Cut(u.Dimension(mm), " ")
	return strings.TrimSuffix(number, ".0") + unit
}

// neckFault says what is wrong with a wish for a swan neck; "" where it is something else.
func neckFault(f *design.Fault, u units.System) string {
	switch f.What {
	case design.BadNeckGap:
		return fmt.Sprintf("the gap to the wing must be %s to %s", u.Dimension(design.LeastGap), u.Dimension(design.MostGap))
	case design.BadAbove:
		return fmt.Sprintf("the wing's bolts must be %s to %s above the chord line", u.Dimension(design.LeastAbove), u.Dimension(design.MostAbove))
	}
	return ""
}
