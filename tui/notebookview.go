package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// view draws the list over the whole screen, with the marked note whole below it.
func (b notebookMode) view(m Model) (string, bool) {
	notes := b.notes(m)
	at := min(b.at, max(len(notes)-1, 0))
	head := widgets.Shorten(b.head(m), m.width)
	if b.filtering {
		head = "filter: " + b.input.View()
	}
	lines := []string{titleStyle.Render(head)}
	if b.filtering {
		lines[0] = head
	}
	foot := b.foot(m)
	var whole []string
	if n, ok := b.note(m); ok {
		text := n.ID + "  " + n.Brief(m.units)
		if n.Venue != "" {
			text += "  " + n.Venue
		}
		whole = widgets.Wrap(units.Printable(text), m.width)
		most := 2
		if m.height >= 24 {
			most = 3
		}
		if len(whole) > most {
			whole = append(whole[:most-1:most-1], widgets.Shorten(whole[most-1]+" "+whole[most], m.width))
		}
	}
	room := max(m.height-len(lines)-len(foot)-len(whole), 1)
	wide := b.nameColumn(m, notes)
	seen := window(at, len(notes), room)
	for i := seen[0]; i < seen[1]; i++ {
		line := b.row(m, notes[i], wide)
		if i == at {
			line = selectedStyle.Render("▸" + line)
		} else {
			line = " " + line
		}
		lines = append(lines, line)
	}
	if len(notes) == 0 {
		lines = append(lines, "  none: esc shows all")
	}
	for len(lines) < m.height-len(foot)-len(whole) {
		lines = append(lines, "")
	}
	for _, l := range whole {
		lines = append(lines, selectedStyle.Render(l))
	}
	return widgets.Fit(append(lines, foot...), m.width, m.height, m.glyphs), true
}

// foot is what is said at the foot, and what keys do; or the line that is typed.
func (b notebookMode) foot(m Model) (lines []string) {
	if _, typing := in[promptMode](m); typing {
		return m.lastLines("enter takes the name, esc goes back")
	}
	keys := m.keyLines(b)
	if m.message != "" {
		said := widgets.Wrap(m.message, m.width)
		for _, l := range said[:min(len(said), 3)] {
			lines = append(lines, titleStyle.Render(l))
		}
		if len(said) > 1 && m.height < 24 {
			return lines
		}
	}
	for _, l := range keys {
		lines = append(lines, quietStyle.Render(l))
	}
	return lines
}

// keyLines are what keys do in a mode, none parted from its key.
func (m Model) keyLines(open mode) []string {
	var labels []string
	for _, b := range open.bindings(m) {
		if b.label != "" {
			labels = append(labels, b.label)
		}
	}
	lines := widgets.Flow(labels, m.width)
	return lines[:min(len(lines), 3)]
}

// nameColumn is how wide the names of the settings are.
func (b notebookMode) nameColumn(m Model, notes []logbook.Note) int {
	wide, seen := 8, map[string]bool{}
	for _, n := range notes {
		if !seen[n.Setting] {
			seen[n.Setting] = true
			wide = max(wide, len([]rune(m.settingName(n.Setting))))
		}
	}
	if m.width < 80 {
		return min(wide, 14)
	}
	return min(wide, 24)
}

// row is a line of the list: when, which setting, how it felt, its lap, and of what else there is room for.
func (b notebookMode) row(m Model, n logbook.Note, wide int) string {
	mark := " "
	switch {
	case slices.Contains(b.marked, n.ID):
		mark = "*"
	case m.isHere(n):
		mark = "•"
	}
	newest := m.book.Notes[len(m.book.Notes)-1].At
	felt, lap := shortFelt(n), ""
	if !math.IsNaN(n.Lap) {
		lap = logbook.SpellLap(n.Lap)
	} else if best := bestLap(n); best > 0 {
		lap = logbook.SpellLap(best)
	}
	name := leftPad(m.settingName(n.Setting), wide)
	if m.width < 80 {
		return widgets.Shorten(fmt.Sprintf("%s%6s %s %s %7s", mark, day(n.At, newest), name, leftPad(felt, max(m.width-wide-19, 1)), lap), m.width-2)
	}
	rest := n.Text
	if n.Fitted {
		rest = ""
	}
	rest = strings.Join(slices.DeleteFunc([]string{n.Venue, rest}, func(s string) bool { return s == "" }), ": ")
	return widgets.Shorten(units.Printable(fmt.Sprintf("%s%6s %s  %s  %s %8s  %s", mark, day(n.At, newest), n.At.Format("15:04"), name, leftPad(felt, 18), lap,
		units.PrintableLines(rest, " / "))), m.width-2)
}

// isHere reports whether a note is about the setting on the screen, or the same place bolted another way.
func (m Model) isHere(n logbook.Note) bool {
	return m.row() != nil && (n.Setting == m.row().ID || slices.Contains(m.row().AlternativeIDs(), n.Setting))
}

// day is a date in six places; of another year than the newest without its day.
func day(at, newest time.Time) string {
	if at.Year() != newest.Year() {
		return at.Format("Jan'06")
	}
	return at.Format("2 Jan")
}

// bestLap is the fastest lap of a note that is neither in nor out; 0 where it has none.
func bestLap(n logbook.Note) (best float64) {
	for _, l := range n.Laps {
		if l.Mark == "" && (best == 0 || l.Seconds < best) {
			best = l.Seconds
		}
	}
	return best
}

// shortFelt is how it felt in fast and in slow corners, as it is typed; "–" for what is not noted.
func shortFelt(n logbook.Note) string {
	fast, slow := logbook.SpellCorner(n.Feel.Fast), logbook.SpellCorner(n.Feel.Slow)
	switch {
	case n.Fitted:
		return "on, not run"
	case fast == "" && slow == "":
		if balance, ok := n.Feel.Balance(); ok {
			return spellFelt(balance)
		}
		return "–"
	case slow == "":
		return fast
	case fast == "":
		return "– slow " + slow
	}
	return fast + " slow " + slow
}
