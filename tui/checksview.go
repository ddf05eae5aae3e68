package tui

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/inspect"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// lookedOver is the setting that the list is about: what is on the car, where that is known, else the one on the screen.
func (m Model) lookedOver() *model.Row {
	if m.onCar != "" {
		if r, ok := m.memo.onCarIn(m.table, m.onCar); ok {
			return r
		}
	}
	return m.row()
}

// lookOver is what the list is made of.
func (m Model) lookOver() words.Look {
	row := m.lookedOver()
	l := words.Look{Frame: m.frame, Table: m.table, Row: row, Named: true, Report: m.checksNow(), Units: m.units, Why: errors.New(m.weak)}
	if m.frame == nil {
		return l
	}
	at := m.frame.Table.RowAt(row.Position)
	r, err := m.frame.Best(at)
	if err == nil && m.words && m.src.Solves {
		r, err = m.frame.Solve(context.Background(), at)
	}
	if l.Why = err; err == nil {
		l.Result = &r
	}
	return l
}

// lines are the list, and on which of them the marked item begins.
func (c checksMode) lines(m Model) (lines []string, marked int) {
	l := m.lookOver()
	lines = []string{titleStyle.Render(units.Printable(words.CheckTitle(l)))}
	if l.Report == nil {
		lines = append(lines, "There is no notebook, so no dates are kept.")
	} else {
		style := assumedStyle
		if l.Report.Level() >= inspect.NotKnown {
			style = outsideStyle
		}
		for i, h := range words.ChecksHead(*l.Report) {
			if i == 0 {
				h = style.Render(h)
			}
			lines = append(lines, h)
		}
	}
	lines = append(lines, words.CheckVerdicts(l)...)
	i := 0
	for _, s := range words.CheckSections(l) {
		lines = append(lines, "", quietStyle.Render(s.Title))
		for _, line := range s.Lines {
			text := c.box(line.Key) + line.Task
			if i == c.at {
				marked, text = len(lines), m.mark(text)
			}
			lines = append(lines, text)
			lines = append(lines, c.under(m, l, line, i == c.at)...)
			i++
		}
	}
	lines = append(lines, "", words.AfterStrike, words.IntervalsText(inspect.IntervalsOf(m.car)), words.NoInspection+" "+words.Caution)
	return lines, marked
}

// under is what stands under an item: when it was looked at last, and of cracks the places to look at, with a picture where the item
// is marked.
func (c checksMode) under(m Model, l words.Look, line words.CheckLine, marked bool) (lines []string) {
	if line.History != "" {
		s, _ := l.Report.Find(line.Key)
		style := quietStyle
		switch s.Level {
		case inspect.Stop, inspect.Overdue:
			style = outsideStyle
		case inspect.Due, inspect.NotKnown:
			style = assumedStyle
		}
		text := []string{"    " + line.History}
		if !m.words {
			text = words.HangAtText(text[0], m.width-1)
		}
		for _, t := range text {
			lines = append(lines, style.Render(t))
		}
	}
	if line.Kind != inspect.Cracks || !(marked || m.words) {
		return lines
	}
	for _, p := range line.Places {
		lines = append(lines, "    - "+p)
	}
	for _, r := range line.Remarks {
		if m.solving != nil && len(line.Places) == 0 {
			r = "The plates are being solved as they are drawn …"
		}
		lines = append(lines, "    "+r)
	}
	if m.words || l.Result == nil || l.Result.Solved == nil || m.height < 20 {
		return lines
	}
	for i := range l.Result.Solved.Plates {
		if p := &l.Result.Solved.Plates[i]; p.Name == line.Part {
			for _, row := range words.PlatePicture(l.Frame, *l.Result, p) {
				lines = append(lines, "      "+shaded(row))
			}
			lines = append(lines, "    tenths of its strength, seen from the left, front to the left; X most, o bolt")
		}
	}
	return lines
}

// box is the box before an item.
func (c checksMode) box(key string) string {
	switch good, there := c.ticked[key]; {
	case there && good:
		return "[x] "
	case there:
		return "[FAILED] "
	}
	return "[ ] "
}

// typed is what was typed for the note.
func (c checksMode) noted() string {
	var parts []string
	add := func(what, text string) {
		if text != "" {
			parts = append(parts, what+" "+units.Printable(text))
		}
	}
	if n := len(c.ticked); n > 0 {
		parts = append(parts, fmt.Sprintf("%d ticked", n))
	}
	add("struck:", c.struck)
	add("found:", c.found)
	add("by:", c.by)
	if len(parts) == 0 {
		return ""
	}
	return "not saved yet: " + strings.Join(parts, ", ")
}

// wrapped is the list as it is shown, and on which of its lines the marked item begins.
func (c checksMode) wrapped(m Model) (all []string, marked int) {
	lines, at := c.lines(m)
	for i, l := range lines {
		if i == at {
			marked = len(all)
		}
		if ansi.StringWidth(l) <= m.width-1 {
			all = append(all, l)
			continue
		}
		if strings.Contains(l, "\x1b") {
			all = append(all, widgets.Wrap(l, m.width-1)...)
			continue
		}
		for _, h := range words.HangAtText(l, m.width-1) {
			all = append(all, widgets.Wrap(h, m.width-1)...)
		}
	}
	return all, marked
}

// foot is what stands below the list.
func (c checksMode) foot(m Model) (lines []string) {
	switch {
	case m.saving:
		lines = append(lines, "saving…")
	case c.fault != "":
		for _, l := range widgets.Wrap(c.fault, m.width) {
			lines = append(lines, faultStyle.Render(l))
		}
	case m.message != "":
		lines = append(lines, widgets.Wrap(m.message, m.width)...)
	}
	if text := c.noted(); text != "" {
		lines = append(lines, selectedStyle.Render(ansi.Truncate(text, m.width, "…")))
	}
	for _, l := range widgets.Wrap(m.footerOf(c), m.width) {
		lines = append(lines, quietStyle.Render(l))
	}
	return lines
}

// room is how many lines of the list fit on the screen.
func (c checksMode) room(m Model) int { return max(m.height-len(c.foot(m)), 1) }

// view draws the list over the whole screen, with what keys do, or the line that is typed, below it.
func (c checksMode) view(m Model) (string, bool) {
	if m.row() == nil {
		return "", false
	}
	lines, marked := c.wrapped(m)
	foot := c.foot(m)
	if p, typing := in[promptMode](m); typing {
		foot = nil
		for _, l := range widgets.Wrap(p.fault, m.width) {
			if l != "" {
				foot = append(foot, faultStyle.Render(l))
			}
		}
		foot = append(foot, m.lastLines("")...)
		c.moved = true
	}
	room := max(m.height-len(foot), 1)
	from := min(c.scroll, max(0, len(lines)-room))
	if c.moved { // keep the mark and what stands under it in sight
		from = min(max(marked-2, 0), max(0, len(lines)-room))
	}
	shown := append([]string(nil), lines[from:min(len(lines), from+room)]...)
	for len(shown) < room {
		shown = append(shown, "")
	}
	return widgets.Fit(append(shown, foot...), m.width, m.height, m.glyphs), true
}

func (c checksMode) tell(w *walker) {
	lines, _ := c.lines(w.m)
	for _, l := range lines {
		if strings.TrimSpace(l) != "" {
			w.say("%s", plainText(strings.ReplaceAll(l, " × ", " x ")))
		}
	}
	if c.fault != "" {
		w.say("%s", plainText(c.fault))
	}
	if text := c.noted(); text != "" {
		w.say("%s.", text)
	}
	w.say("down and up mark one, space ticks it as good, f says that it failed, a ticks all; t types what was found, b who looked, s says kerb, spin or contact; enter saves, esc goes back.")
}

func (checksMode) typed(*walker, string) {}
