package tui

import (
	"fmt"

	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// minMore is how many lines must be free below the bolts before more is shown
// there.
const minMore = 8

// moreLines fills what a large screen leaves free below the bolts: what would give
// first, what the ± is made of, and what was run, as far as there is room.
func (m Model) moreLines(w, room int) []string {
	var lines []string
	add := func(title string, body []string) {
		if len(body) == 0 || len(lines)+len(body)+2 > room {
			return
		}
		lines = append(lines, "", quietStyle.Render("── "+title))
		lines = append(lines, body...)
	}
	add("nearest to its limit", m.bearsMost(w, 5))
	var parts []string
	u := m.units
	for _, c := range m.table.Budget(m.row()).Parts {
		if c.Downforce == 0 {
			continue
		}
		parts = append(parts, fmt.Sprintf("%-24s %5s %s", c.What, u.ForceFigure(max(c.Downforce, -c.Downforce)), u.ForceUnit()))
	}
	add("what the ± of the downforce is made of", parts)
	var ran []string
	notes := m.notesOf(m.row())
	for i := len(notes) - 1; i >= 0 && len(ran) < 6; i-- {
		ran = append(ran, widgets.Wrap(notes[i].At.Format("2 Jan")+" "+notes[i].Short(), w)[0])
	}
	add("how it was", ran)
	return lines
}

// bearsMost lists the loads that come closest to what may be borne.
func (m Model) bearsMost(w, n int) []string {
	r, why := m.strengthOf()
	if why != "" {
		return widgets.Wrap("strength: "+why, w)
	}
	var lines []string
	for _, c := range r.Checks {
		if c.Layout && c.Utilisation() <= 1 {
			continue
		}
		if len(lines) == n {
			break
		}
		lines = append(lines, widgets.Wrap(fmt.Sprintf("%5s  %s", words.UsedPercent(c.Utilisation()), words.CheckBrief(c, m.units)), w)[0])
	}
	for _, missing := range m.frame.Missing {
		lines = append(lines, widgets.Wrap("missing: "+missing, w)...)
	}
	return lines
}
