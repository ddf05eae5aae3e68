package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/clearance"
	"stanchion/model/units"
)

// Clearance says how near a setting comes to body and lid, what of
// the limits on its size it keeps, and which slots panels need for it and for all
// settings within the limits.
func Clearance(t *model.Table, r *model.Row, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	c := t.Car
	if g := r.Gap; g.Known() {
		add("Least distance: %s.", Gap(g, u))
		add("Between x %s, z %s and x %s, z %s on the car.", u.LengthFigure(g.A.X), u.Length(g.A.Z), u.LengthFigure(g.B.X), u.Length(g.B.Z))
		if least, ok := c.Limits.Gap.Get(); ok {
			add("Minimum gap %s.", u.Length(least))
		}
		if text := Opening(g.Lid); text != "" {
			if c.Limits.Gap.Known() && g.Lid.Stop != "" {
				text += " with that gap"
			}
			if w, ok := c.Limits.LidOpening.Get(); ok {
				text += fmt.Sprintf("; minimum %s°", units.Fixed(w/plane.Deg, 0))
			}
			add("%s.", strings.ToUpper(text[:1])+text[1:])
		}
		if len(g.Through) > 0 {
			add("Passes through the body: %s; its own distance from the body is not counted.", strings.Join(g.Through, ", "))
		}
	}
	if unseen := c.WithoutOutline(); len(unseen) > 0 && c.Surroundings().Known() {
		add("NOT CHECKED, since they have no outline: %s.", strings.Join(unseen, ", "))
	}
	lines = append(lines, sizes(c, r, u)...)
	if mine := t.Slots([]*model.Row{r}); len(mine) > 0 {
		add("")
		add("Slot in the bodywork for this setting:")
		for _, k := range mine {
			lines = append(lines, SlotLines(k, u)[0])
		}
		if within := t.RowsWithin(); len(within) == 0 {
			add("No setting keeps all limits (%s), so no slots are given for all.", LimitCounts(t))
		} else {
			add("For all settings that keep all limits:")
			for _, k := range t.Slots(within) {
				lines = append(lines, SlotLines(k, u)...)
			}
		}
	} else if len(c.Panels) > 0 {
		add("")
		add("No part with an outline passes through a panel in this setting.")
	}
	add("")
	add("Side view only, exact for the outlines given; parts side by side across the car count as if they could touch. Move the lid slowly by hand before letting go of it. Limits are as you copied them: rules differ by event and country.")
	return lines
}

// Opening says how far the lid opens; "" when there is none.
func Opening(o clearance.Opening) string {
	switch {
	case o.Of == 0:
		return ""
	case o.Stop == "":
		return fmt.Sprintf("the lid opens fully, %s°", units.Fixed(o.Of/plane.Deg, 0))
	}
	return fmt.Sprintf("the lid opens to %s° of %s°, stopped by the %s", units.Fixed(math.Floor(o.To/plane.Deg), 0),
		units.Fixed(o.Of/plane.Deg, 0), o.Stop)
}

// Gap spells a gap.
func Gap(g clearance.Gap, u units.System) string {
	switch {
	case !g.Known():
		return units.NotGiven
	case g.Distance == 0 && g.To == "lid" && g.Turn == 0:
		return "the " + g.From + " TOUCHES the shut lid"
	case g.Distance == 0 && g.To == "lid":
		return fmt.Sprintf("the %s TOUCHES the lid at %s° of %s°", g.From, units.Fixed(math.Abs(g.Turn)/plane.Deg, 0),
			units.Fixed(g.Lid.Of/plane.Deg, 0))
	case g.Distance == 0:
		return "the " + g.From + " TOUCHES the " + g.To
	case g.To == "lid":
		return fmt.Sprintf("%s from %s to lid, %s° open", u.Length(g.Distance), g.From, units.Fixed(math.Abs(g.Turn)/plane.Deg, 0))
	}
	return fmt.Sprintf("%s from %s to %s", u.Length(g.Distance), g.From, g.To)
}

// SlotLines says how to cut a slot in a panel.
func SlotLines(c clearance.Slot, u units.System) []string {
	width := "as wide as the part is thick, and " + u.Dimension(2*c.Clearance) + " more"
	if !math.IsNaN(c.Width) {
		width = u.Dimension(c.Width) + " wide"
	}
	lines := []string{fmt.Sprintf("%s through %s: from %s to %s along the panel from its datum, %s long and %s, including %s clearance all round, for %s.",
		c.Part, c.Panel, u.Dimension(c.From-c.Clearance), u.Dimension(c.To+c.Clearance), u.Dimension(c.Length()), width,
		u.Dimension(c.Clearance), units.Count(c.Settings, "setting"))}
	if c.MinTo > c.MinFrom {
		return append(lines, fmt.Sprintf("  Cut undersize first: every setting needs from %s to %s; offer up the upright, mark it, and file out to full length as settings need it.", u.Dimension(c.MinFrom), u.Dimension(c.MinTo)))
	}
	return append(lines, "  No part of it is common to all settings: cut undersize for the setting you will run first, and file out from there.")
}
