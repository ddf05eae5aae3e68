package tui

import (
	"fmt"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// heightsPicture shows where heights are measured, seen from the left of the car.
var heightsPicture = []string{
	"   le      h                     te",
	"   o───────o──────────────────────o    chord line, front of the car on the left",
	"   │       │                      │",
	"───┴───────┴──────────────────────┴─── ground: what a tape reads goes up from it",
}

// lines are the page, and the line on which the marked reading stands.
func (r readingMode) lines(m Model) (lines []string, marked int) {
	t := m.measured()
	head := fmt.Sprintf("level readings: what they say of the %s", t.Car.Parts[0].Name)
	lines = []string{titleStyle.Render(head)}
	fitted, rest, atRest := r.fitted(m)
	lines = append(lines, fitted...)
	row := m.row()
	if row != nil {
		lines = append(lines, t.Name(row.Setting)+", "+words.TapeStands(m.table, m.datum != nil)+". "+words.TapeLine(m.table, row, m.units))
		lines = append(lines, fmt.Sprintf("What is typed now is read on %s: by its holes %s°, quarter-chord point %s above the ground.", t.Name(row.Setting),
			units.Fixed(row.Angle/plane.Deg, 1), m.units.Length(row.Height)))
	}
	lines = append(lines, "")
	if !m.words && m.width >= 60 && m.height >= 30 {
		lines = append(append(lines, heightsPicture...), "")
	}
	if len(r.said) > 0 {
		lines = append(append(lines, r.said...), "")
	}
	marked = len(lines) + atRest
	lines = append(lines, rest...)
	return append(lines, "", words.WhereHeights(t.Car, m.units)), marked
}

// fitted is what the readings say, the answer apart from how they come to it, and on which line of that
// the marked reading stands.
func (r readingMode) fitted(m Model) (answer, rest []string, marked int) {
	t := m.measured()
	if m.datum != nil {
		answer = append(answer, words.DatumInForce(m.table, *m.datum, m.units))
	}
	if len(t.Car.Readings) == 0 {
		return answer, []string{"No readings yet. Angles are in degrees, up at the rear positive, as the wing slopes.",
			"Two numbers are one level turned end for end: the level's own zero cancels.",
			"floor: the level on the ground along the car first, the same way round; left, right: of the car.",
			"on NAME: on a face; face NAME 4.5 says once how much steeper than the chord it is."}, 0
	}
	d, err := m.datumNow()
	if err != nil {
		answer = append(answer, "These readings cannot be used together:")
		answer = append(answer, strings.Split(err.Error(), "\n")...)
		for i, k := range t.Car.Readings {
			text := fmt.Sprintf("%d  %s %s", i+1, units.Printable(t.NameOf(k.Setting)), k.Side)
			if i == r.at {
				marked, text = len(rest), m.mark(text)
			}
			rest = append(rest, text)
		}
		return answer, rest, marked
	}
	for _, l := range words.DatumAlarms(t, d, m.units) {
		answer = append(answer, faultStyle.Render(l))
	}
	if m.datum == nil || !words.Settled(d) {
		answer = append(answer, words.DatumAnswer(t, d, m.units)...)
	}
	rest = words.ReadingList(t, d, m.units)
	if marked = min(r.at, len(rest)-1); marked >= 0 {
		rest[marked] = m.mark(rest[marked])
	}
	return answer, append(rest, words.DatumDetails(t, d, m.units)...), marked
}

// wrapped is the page as it is shown, and on which of its lines the marked reading begins.
func (r readingMode) wrapped(m Model) (all []string, marked int) {
	lines, at := r.lines(m)
	for i, l := range lines {
		if i == at {
			marked = len(all)
		}
		all = append(all, widgets.Wrap(l, m.width-1)...)
	}
	return all, marked
}

// room is how many lines of the page fit on the screen.
func (r readingMode) room(m Model) int { return max(m.height-2, 1) }

// view draws the page over the whole screen, with the prompt or what keys do below it.
func (r readingMode) view(m Model) (string, bool) {
	lines, marked := r.wrapped(m)
	room := r.room(m)
	from := min(r.scroll, max(0, len(lines)-room))
	if _, typing := in[promptMode](m); !typing && r.moved && r.scroll == 0 && marked >= room { // keep the mark in sight
		from = min(marked-room/2, max(0, len(lines)-room))
	}
	shown := append([]string(nil), lines[from:min(len(lines), from+room)]...)
	for len(shown) < room {
		shown = append(shown, "")
	}
	if p, typing := in[promptMode](m); typing {
		foot := m.lastLines("enter keeps what is typed, esc leaves it and keeps the line for the next a")
		if fault := widgets.Wrap(p.fault, m.width); len(fault) > 1 { // the whole of it, over the page
			foot = nil
			for _, l := range fault {
				foot = append(foot, faultStyle.Render(l))
			}
			foot = append(foot, m.footer())
			shown = shown[:max(0, m.height-len(foot))]
		}
		return widgets.Fit(append(shown, foot...), m.width, m.height, m.glyphs), true
	}
	keys := m.footerOf(r)
	if len(lines) > room {
		keys = "space more  " + keys
	}
	foot := append(widgets.Wrap(m.message, m.width), quietStyle.Render(keys))
	shown = shown[:max(0, m.height-len(foot))]
	return widgets.Fit(append(shown, foot...), m.width, m.height, m.glyphs), true
}

// mark shows a line as the marked one, in words too.
func (m Model) mark(text string) string {
	if m.words {
		return "marked: " + text
	}
	return selectedStyle.Render("▸ " + text)
}
