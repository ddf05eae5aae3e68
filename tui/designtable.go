package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plateColumn is a column of the table of proposals.
type plateColumn struct {
	head [2]string // two lines; the second has the unit
	cell func(m Model, n int) string
	best design.Merit // that marks its best one; -1 for none
	bad  func(m Model, n int) bool
	less int // columns with the largest give way first; 0 never
}

const noMerit = design.Merit(-1)

// plateColumns are those that there is something to say in.
func (m Model) plateColumns(heights bool) []plateColumn {
	d, u := m.plates.found, m.units
	at := func(n int) *design.Proposal { return &d.Proposals[n] }
	all := []plateColumn{
		{head: [2]string{"holes", "foot+wing"}, best: design.FewestHoles, cell: func(_ Model, n int) string {
			p := at(n)
			return fmt.Sprintf("%d: %d+%d+%d", p.Holes(), p.Foot, p.Fronts, p.Rears)
		}},
	}
	if len(d.Wish.Pitches) > 0 {
		all = append(all, plateColumn{head: [2]string{"bolts", "apart " + u.LengthUnit()}, best: noMerit, less: 1, cell: func(_ Model, n int) string { return u.DimensionFigure(at(n).Pitch) }})
	}
	if heights {
		of := noMerit
		if len(d.Wish.Heights) == 1 {
			of = design.FinestSteps
		}
		for i, h := range d.Wish.Heights {
			all = append(all, plateColumn{head: [2]string{"at " + u.LengthFigure(h), "angles"}, best: of,
				cell: func(_ Model, n int) string { return words.PlateSteps(at(n).Levels[i : i+1]) }})
		}
	}
	if heights && len(d.Wish.Heights) > 1 {
		all = append(all, plateColumn{head: [2]string{"widest", "step °"}, best: design.FinestSteps, less: 2, cell: func(_ Model, n int) string { return units.Fixed(at(n).Widest/plane.Deg, 1) }})
	}
	if !heights {
		all = append(all, plateColumn{head: [2]string{"angles, by", units.Count(len(d.Wish.Heights), "height")}, best: design.FinestSteps,
			cell: func(_ Model, n int) string { return words.PlateSteps(at(n).Levels) }})
	}
	all = append(all,
		plateColumn{head: [2]string{"break", "a limit"}, best: noMerit, cell: func(_ Model, n int) string { return words.PlateBreaking(at(n)) },
			bad: func(_ Model, n int) bool { return !strings.HasPrefix(words.PlateBreaking(at(n)), "0 ") }},
		plateColumn{head: [2]string{"arm", u.LengthUnit()}, best: design.ShortestArm, less: 3, cell: func(_ Model, n int) string { return u.LengthFigure(at(n).Arm) }},
		plateColumn{head: [2]string{u.MassUnit(), ""}, best: design.Lightest, less: 4, cell: func(_ Model, n int) string {
			kg, ok := strength.PlateMass(at(n).Plate())
			if !ok {
				return units.NotGiven
			}
			return units.Fixed(kg/units.Masses[u.MassUnit()], 1)
		}})
	slots := false
	for i := range d.Proposals {
		slots = slots || d.Proposals[i].Slot > 0
	}
	if slots {
		all = append(all, plateColumn{head: [2]string{"slot", u.LengthUnit()}, best: design.ShortestSlot, less: 5, cell: func(_ Model, n int) string { return u.LengthFigure(at(n).Slot) }})
	}
	return append(all,
		plateColumn{head: [2]string{"bolts in", u.FineFigure(m.plates.wish.off) + " off"}, best: noMerit, less: 1, cell: func(m Model, n int) string {
			if a := m.plates.told[n].accuracy; a != nil {
				return fmt.Sprintf("%.0f %%", 100*a.Fit)
			}
			return "…"
		}},
		plateColumn{head: [2]string{"strength", "in limits"}, best: noMerit, cell: func(m Model, n int) string {
			if h := m.plates.told[n].holds; h != nil {
				return h.brief
			}
			return "…"
		}, bad: func(m Model, n int) bool {
			h := m.plates.told[n].holds
			return h != nil && h.verdict != strength.Passes
		}})
}

// plateTable are the proposals, a line each below two lines of headings. Columns that matter less give way where there is no room.
func (m Model) plateTable(w int) []string {
	d := m.plates.found
	var lines []string
	for _, heights := range [2]bool{true, false} {
		all := m.plateColumns(heights)
		for {
			var width int
			if lines, width = m.plateLines(all); width <= w {
				return lines
			}
			out, most := -1, 0
			for i, c := range all {
				if c.less > most {
					out, most = i, c.less
				}
			}
			if out < 0 || heights && len(d.Wish.Heights) > 1 && most < 5 { // the heights in one column first
				break
			}
			all = append(all[:out:out], all[out+1:]...)
		}
	}
	return lines
}

// plateLines are the lines of a table of columns, and how wide they are.
func (m Model) plateLines(all []plateColumn) (lines []string, width int) {
	d := m.plates.found
	lines = make([]string, 2+len(d.Proposals))
	for i := range lines {
		lines[i] = "    "
		if n := i - 2; n >= 0 {
			mark := " "
			if n == m.plates.at {
				mark = "▸"
			}
			lines[i] = fmt.Sprintf("%s%d  ", mark, n+1)
		}
	}
	for _, c := range all {
		c.head = [2]string{m.glyphs.Spell(c.head[0]), m.glyphs.Spell(c.head[1])}
		wide := max(ansi.StringWidth(c.head[0]), ansi.StringWidth(c.head[1]))
		cells := make([]string, len(d.Proposals))
		for n := range d.Proposals {
			if cells[n] = c.cell(m, n); c.best != noMerit && merit(&d.Proposals[n], c.best) {
				cells[n] += "*"
			}
			cells[n] = m.glyphs.Spell(cells[n])
			wide = max(wide, ansi.StringWidth(cells[n]))
		}
		pad := func(text string) string { return text + strings.Repeat(" ", wide-ansi.StringWidth(text)+2) }
		lines[0], lines[1] = lines[0]+pad(c.head[0]), lines[1]+pad(c.head[1])
		for n := range d.Proposals {
			text := pad(cells[n])
			if c.bad != nil && c.bad(m, n) {
				text = outsideStyle.Render(text)
			}
			lines[n+2] += text
		}
	}
	for i := range lines {
		width = max(width, ansi.StringWidth(strings.TrimRight(ansi.Strip(lines[i]), " ")))
	}
	lines[0], lines[1] = quietStyle.Render(lines[0]), quietStyle.Render(lines[1])
	lines[m.plates.at+2] = selectedStyle.Render(ansi.Strip(lines[m.plates.at+2]))
	return lines, width
}
