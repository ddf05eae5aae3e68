package model

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/units"
)

// ClearanceLines says in words how near a setting comes to body and lid, what of
// the limits on its size it keeps, and which slots panels need for it and for all
// settings within the limits.
func (t *Table) ClearanceLines(r *Row, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	c := t.Car
	if g := r.Gap; g.Known() {
		add("Least distance: %s.", g.Text(u))
		add("Between x %s, z %s and x %s, z %s on the car.", u.LengthFigure(g.A.X), u.Length(g.A.Z), u.LengthFigure(g.B.X), u.Length(g.B.Z))
		if !math.IsNaN(c.Limits.Gap) {
			add("Minimum gap %s.", u.Length(c.Limits.Gap))
		}
		if text := g.Lid.Text(); text != "" {
			if !math.IsNaN(c.Limits.Gap) && g.Lid.Stop != "" {
				text += " with that gap"
			}
			if w := c.Limits.LidOpening; !math.IsNaN(w) {
				text += fmt.Sprintf("; minimum %s°", units.Fixed(w/Deg, 0))
			}
			add("%s.", strings.ToUpper(text[:1])+text[1:])
		}
		if len(g.Cuts) > 0 {
			add("Passes through the body: %s; its own distance from the body is not counted.", strings.Join(g.Cuts, ", "))
		}
	}
	if unseen := c.Unseen(); len(unseen) > 0 && c.hasBody() {
		add("NOT CHECKED, since they have no outline: %s.", strings.Join(unseen, ", "))
	}
	limit := func(what string, have, most float64) {
		switch {
		case math.IsNaN(have):
		case math.IsNaN(most):
			add("%s %s, no limit given.", what, u.Length(have))
		case have > most:
			add("%s %s: MORE than the limit of %s.", what, u.Length(have), u.Length(most))
		default:
			add("%s %s, within the limit of %s.", what, u.Length(have), u.Length(most))
		}
	}
	limit("Top", r.Top, c.Limits.Top)
	limit("Rearmost point behind the axle", r.Rear, c.Limits.Rear)
	limit("Rearmost point behind the body", r.Overhang(c), c.Limits.Overhang)
	limit("Width of the wing", c.Wing.Span, c.Limits.Width)
	if mine := t.Cutouts([]*Row{r}); len(mine) > 0 {
		add("")
		add("Slot in the bodywork for this setting:")
		for _, k := range mine {
			lines = append(lines, k.Lines(u)[0])
		}
		if within := t.RowsWithin(); len(within) == 0 {
			add("No setting keeps all limits (%s), so no slots are given for all.", t.LimitsText())
		} else {
			add("For all settings that keep all limits:")
			for _, k := range t.Cutouts(within) {
				lines = append(lines, k.Lines(u)...)
			}
		}
	} else if len(c.Panels) > 0 {
		add("")
		add("No part with an outline passes through a panel in this setting.")
	}
	add("")
	add("Side view only, exact for the outlines given; what lies beside one another across the car counts as if it could meet. Check by hand, slowly, before the lid is let go. Limits are as you copied them: rules differ by event and country.")
	return lines
}

// RowsWithin lists the rows that keep all limits.
func (t *Table) RowsWithin() []*Row {
	var within []*Row
	for i := range t.Rows {
		if t.Rows[i].Within() {
			within = append(within, &t.Rows[i])
		}
	}
	return within
}
