package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/drill"
	"stanchion/model/fastener"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// lines says where the chosen hole is, what holds of it, and what became of everything else.
func (d redrawMode) lines(m Model) (lines []string) {
	u, one := m.units, d.one
	add := func(text string) { lines = append(lines, text) }
	bad := func(text string) { add(outsideStyle.Render(text)) }
	h := d.hole()
	state := ""
	if m.lockedHole(d.n, h.ID) {
		state = ", locked"
	}
	add(titleStyle.Render(h.ID) + fmt.Sprintf(" (%s%s): x %s, z %s, dia. %s", words.RoleOf(d.from.RoleOf(d.at)), state, u.FineFigure(h.X), u.Fine(h.Z), u.Dimension(h.D)))
	if was := d.from.Plate().Holes[d.at]; was.At() != h.At() {
		add(fmt.Sprintf("moved by %s, %s %s", signed(h.X-was.X, u), signed(h.Z-was.Z, u), u.LengthUnit()))
	}
	if d.about >= 0 {
		add("along the arc about " + d.drawn.holes[d.about].ID)
	}
	changes := one.Against(d.from)
	rules := drill.HoleRules(one.Plate(), one.Plate().Holes[d.at])
	_, broken := drill.Broken(rules)
	others := brokenHoles(one, h.ID, u)
	breaking := upper(words.BreakingNow(one, d.from))
	breaks := one.BreakingRows()
	if len(breaks) > 0 {
		breaking += ": " + words.LimitCountsOf(one.Table, breaks)
	}
	switch met := upper(words.WishMet(one, u)) + "."; {
	case !one.Given():
		bad(met)
	case broken || len(others)+len(breaks) > 0:
		add(met)
	default:
		add(withinStyle.Render(met))
	}
	for i := range changes { // what is wrong comes first
		if lost := words.LevelLost(&changes[i], u); lost != "" {
			bad(upper(lost) + ".")
		}
	}
	for _, r := range rules {
		if r.Must && !r.OK {
			bad(fmt.Sprintf("%s %s, minimum %s: TOO LITTLE", upper(words.Rule(r)), u.Dimension(r.Have), u.Dimension(r.Need)))
		}
	}
	for _, text := range others {
		bad(text)
	}
	if len(breaks) > 0 {
		bad(breaking + ".")
	}
	for i := range changes {
		add(words.LevelChanged(&changes[i], u))
		if text := words.LevelHeights(&changes[i], u); text != "" {
			add("  " + text)
		}
	}
	for _, r := range rules {
		switch {
		case r.Must && r.OK:
			add(fmt.Sprintf("%s %s, minimum %s: ok", upper(words.Rule(r)), u.Dimension(r.Have), u.Dimension(r.Need)))
		case !r.Must && r.Need-r.Have >= 0.05:
			add(fmt.Sprintf("%s %s, usual %s: less than is usual", upper(words.Rule(r)), u.Dimension(r.Have), u.Dimension(r.Need)))
		}
	}
	if len(breaks) == 0 {
		add(breaking + ".")
	}
	add(d.plateText(u))
	if e := edgesText(d.drawn.holes, d.drawn.edges, u); e != "" {
		add(e)
	}
	if d.from.Lightened != nil && len(d.from.Plate().Cutouts) > 0 && d.changed() {
		add("Without its cut-outs: they were for the plate as it was, and are cut anew once it is kept.")
	}
	if d.changed() {
		add("Strength: worked out once it is kept.")
	}
	return lines
}

// signed spells a move with its sign.
func signed(mm float64, u units.System) string {
	if mm > 0 {
		return "+" + u.FineFigure(mm)
	}
	return u.FineFigure(mm)
}

// brokenHoles says which holes of a proposal, but for one, are too near to another or to the edge.
func brokenHoles(one *design.Proposal, but string, u units.System) (lines []string) {
	said := map[string]bool{but: true}
	for _, h := range one.Plate().Holes {
		if said[h.ID] {
			continue
		}
		r, broken := drill.Broken(drill.HoleRules(one.Plate(), h))
		if !broken || said[r.To] && r.To != "" { // the pair is told of one of them
			continue
		}
		said[h.ID] = true
		lines = append(lines, h.ID+": "+words.Broken(r, u))
	}
	return lines
}

// plateText says what the plate is like, and was.
func (d redrawMode) plateText(u units.System) string {
	size := func(p *design.Proposal) string {
		lo, hi := plane.Box(p.Plate().Outline)
		text := u.LengthFigure(hi.X-lo.X) + " by " + u.Length(hi.Z-lo.Z)
		if kg, ok := strength.PlateMass(p.Plate()); ok {
			text += ", " + units.Fixed(kg/units.Masses[u.MassUnit()], 2) + " " + u.MassUnit()
		}
		return text + ", " + words.PlateShape(p)
	}
	text := "Plate " + size(d.one)
	if was := size(d.from); was != size(d.one) {
		text += " (was " + was + ")"
	}
	return text + "."
}

// edgesText says at which holes the outline is not drawn at the usual distance; "" for none.
func edgesText(hs []holes.Hole, edges map[string]float64, u units.System) string {
	var parts []string
	for _, h := range hs {
		if e, ok := edges[h.ID]; ok && math.Abs(e-fastener.Edge(h.D).Usual) > 0.01 {
			parts = append(parts, h.ID+" "+u.DimensionFigure(e))
		}
	}
	if parts == nil {
		return ""
	}
	return "Edge drawn at " + strings.Join(parts, ", ") + " " + u.LengthUnit() + " from holes."
}

// names lists the holes with their locks.
func (d redrawMode) names(m Model) (all []string) {
	for _, h := range d.drawn.holes {
		name := h.ID
		if m.lockedHole(d.n, h.ID) {
			name += " locked"
		}
		all = append(all, name)
	}
	return all
}

// strip is the list of holes in lines, the chosen one marked, locked ones in brackets.
func (d redrawMode) strip(m Model, w int) []string {
	parts := []string{"holes"}
	for i, h := range d.drawn.holes {
		name := h.ID
		if m.lockedHole(d.n, h.ID) {
			name = "[" + name + "]"
		}
		if i == d.at {
			name = "▸" + name
		}
		parts = append(parts, name)
	}
	parts = append(parts, quietStyle.Render("[ ] locked"))
	return widgets.Flow(parts, w)
}

// table lists the holes with their places, where there is room for it.
func (d redrawMode) table(m Model, w int) []string {
	u := m.units
	lines := []string{quietStyle.Render(fmt.Sprintf("  %-8s %-12s %9s %9s %9s", "hole", "for", "x "+u.LengthUnit(), "z "+u.LengthUnit(), "to edge"))}
	for i, h := range d.drawn.holes {
		edge := ""
		if p := d.one.Plate(); p.Holes[i] == h { // what is worked out is of this place
			e, metal := p.EdgeDistance(h.At())
			if !metal {
				e = -e
			}
			edge = u.DimensionFigure(e)
		}
		mark, state := "  ", ""
		if i == d.at {
			mark = "▸ "
		}
		if m.lockedHole(d.n, h.ID) {
			state = "  locked"
		}
		line := mark + fmt.Sprintf("%-8s %-12s %9s %9s %9s%s", units.Printable(h.ID), words.RoleOf(d.from.RoleOf(i)), u.FineFigure(h.X), u.FineFigure(h.Z), edge, state)
		lines = append(lines, ansi.Truncate(line, w, "…"))
	}
	return lines
}

// panes of the mode: the picture, the text, and the list of holes below them.
func (d redrawMode) panes(m Model) (picture, text widgets.Rect, strip []string, caution []string) {
	caution = m.plateCaution()
	strip = d.strip(m, m.width)
	if n := len(strip); n > 2 { // those about the chosen one
		at := max(slices.IndexFunc(strip, func(l string) bool { return strings.Contains(l, "▸") }), 0)
		at = min(at, n-2)
		strip = strip[at : at+2]
	}
	body := widgets.Rect{X: 0, Y: 1, W: m.width, H: max(m.height-3-len(caution)-len(strip), 0)}
	text = body
	if body.W >= 70 && body.H >= 6 {
		picture = body
		picture.W = min(body.W*2/5, 2*body.H+20)
		text.X, text.W = picture.W+1, body.W-picture.W-1
	}
	return picture, text, strip, caution
}

func (d redrawMode) view(m Model) (string, bool) {
	screen := widgets.NewScreen(m.width, m.height, m.glyphs)
	picture, text, strip, caution := d.panes(m)
	title := fmt.Sprintf("plate %d of %d, reworked", d.n+1, len(m.plates.found.Proposals))
	if d.changed() {
		title += ", not kept yet"
	}
	screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: 1}, []string{outsideStyle.Render(title) + "  " + titleStyle.Render(units.Printable(m.car.Name))})
	if picture.W > 0 {
		screen.Pane(picture, fitting(picture.W, "plate · dotted: as it was", "dotted: as it was", "plate"), func(w, h int) []string { return d.picture(m, w, h) })
	}
	screen.Pane(text, "hole "+d.hole().ID, func(w, h int) []string {
		var lines []string
		for _, l := range d.lines(m) {
			lines = append(lines, m.wrapped(l, w)...)
		}
		if n := len(lines); n > h && h > 0 {
			from := min(d.scroll*(h-1), n-h+1)
			end := quietStyle.Render(fmt.Sprintf("… lines %d to %d of %d: page up and down", from+1, from+h-1, n))
			lines = append(slices.Clone(lines[from:from+h-1]), end)
		} else if list := d.table(m, w); n+1+len(list) <= h {
			lines = append(append(lines, ""), list...)
		}
		return lines
	})
	message := ""
	if d.asked != 0 {
		message = quietStyle.Render("working it out…")
	}
	keys := widgets.Flow(d.keyLabels(m), m.width)
	foot := quietStyle.Render(keys[0])
	if message == "" && len(keys) > 1 && d.asked == 0 {
		message, foot = quietStyle.Render(keys[0]), quietStyle.Render(keys[1])
	}
	if m.message != "" {
		message, foot = selectedStyle.Render(ansi.Truncate(m.message, m.width, "…")), quietStyle.Render(keys[0])
	}
	if p, ok := in[promptMode](m); ok {
		foot = m.footer()
		if p.fault != "" {
			message = faultStyle.Render(ansi.Truncate(units.Printable(p.fault), m.width, "…"))
		}
	}
	lines := append(append(append([]string{}, strip...), caution...), message, foot)
	screen.Put(widgets.Rect{X: 0, Y: m.height - len(lines), W: m.width, H: len(lines)}, lines)
	return screen.String(), true
}

// keyLabels are what keys do, for the last line.
func (d redrawMode) keyLabels(m Model) (parts []string) {
	for _, b := range d.bindings(m) {
		if b.label != "" {
			parts = append(parts, b.label)
		}
	}
	return parts
}
