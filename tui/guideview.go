package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// view draws the question with its picture.
func (g guideMode) view(m Model) (string, bool) {
	qs := guide.Questions()
	var lines []string
	if g.step < len(qs) {
		q := qs[g.step]
		lines = append(lines, titleStyle.Render(fmt.Sprintf("a car file of your own: %d of %d", g.step+1, len(qs)+1)), "")
		lines = append(lines, movedLeft(guidePicture(q.Picture, q.Letter), m.width)...)
		lines = append(lines, "")
		ask := q.Ask
		if q.Letter != "" {
			ask = q.Letter + "  " + ask
		}
		lines = append(lines, widgets.Wrap(figureStyle.Render(ask), m.width-1)...)
		lines = append(lines, widgets.Wrap(q.How, m.width-1)...)
		lines = append(lines, quietStyle.Render(usual(q, m.units)))
	} else {
		lines = append(lines, titleStyle.Render(fmt.Sprintf("a car file of your own: %d of %d", g.step+1, len(qs)+1)), "")
		for _, q := range qs {
			answer := g.answers[q.Key]
			if answer == "" && q.Key != "name" {
				continue // it is among what is assumed
			}
			lines = append(lines, fmt.Sprintf("%-*s %s", min(46, m.width/2), widgets.Shorten(q.Ask, min(45, m.width/2-1)), answer))
		}
		lines = append(lines, assumedStyle.Render("Assumed, because left blank; marked as assumed in the file and on the screens:"))
		lines = append(lines, columns(guide.Assumes(g.answers, m.units), m.width, m.height-6-len(lines))...)
		lines = append(lines, "", figureStyle.Render("Name of the file?"),
			"It is written to the current folder and never overwrites an existing file.")
	}
	lines = append(lines, "› "+g.input.View())
	room := m.height - 1
	if len(lines) > room { // the question is what must be seen
		lines = append(lines[:1:1], lines[len(lines)-room+1:]...)
	}
	for len(lines) < room {
		lines = append(lines, "")
	}
	if g.fault != "" {
		return widgets.Fit(append(lines, faultStyle.Render(g.fault)), m.width, m.height, m.glyphs), true
	}
	return widgets.Fit(append(lines, quietStyle.Render(m.footerOf(g))), m.width, m.height, m.glyphs), true
}

// tell asks the question in words.
func (g guideMode) tell(w *walker) { w.say("%s", plainText(g.inWords(w.m))) }

// typed takes an answer that was typed as a line.
func (g guideMode) typed(w *walker, text string) {
	switch strings.ToLower(text) {
	case "up", "back", "↑":
		w.pass(tea.KeyMsg{Type: tea.KeyUp})
	case "anew", "ctrl+n":
		w.pass(tea.KeyMsg{Type: tea.KeyCtrlN})
	default:
		g.input.SetValue(widgets.Typeable(text))
		w.m = w.m.with(g)
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	}
	if next, ok := in[guideMode](w.m); ok {
		next.tell(w)
		return
	}
	w.tell()
}

// inWords is the question in words.
func (g guideMode) inWords(m Model) string {
	qs := guide.Questions()
	fault := ""
	if g.fault != "" {
		fault = g.fault + "\n"
	}
	if g.step >= len(qs) {
		return fault + fmt.Sprintf("Assumed, because left blank: %s.\n%d of %d. File name? Leave blank for %s.",
			strings.Join(guide.Assumes(g.answers, m.units), "; "), g.step+1, len(qs)+1, guideFile)
	}
	q := qs[g.step]
	return fault + fmt.Sprintf("%d of %d. %s %s %s Back goes back, esc leaves.", g.step+1, len(qs)+1, q.Ask, q.How, usual(q, m.units))
}

// usual says what is taken when nothing is typed, and in which unit a bare number is.
func usual(q guide.Question, u units.System) string {
	unit := q.Unit(u)
	switch unit {
	case "":
		return fmt.Sprintf("Leave blank for %s.", q.Usual(u))
	case "°":
		return fmt.Sprintf("In degrees. Leave blank for %s°.", q.Usual(u))
	}
	other := map[string]string{"mm": "98in, 8ft 2in or 2.5m", "in": "98 7/16, 8ft 2in or 2500mm", "kg": "1300lb", "lb": "600kg",
		"km/h": "100mph", "mph": "160km/h", "m/s": "160km/h"}[unit]
	return fmt.Sprintf("In %s, or with a unit, such as %s. Leave blank for %s %s.", unit, other, q.Usual(u), unit)
}

// columns lays short texts out in two columns of at most h lines, and says how many are
// left out.
func columns(texts []string, w, h int) []string {
	if h < 1 {
		return nil
	}
	var lines []string
	wide := (w - 4) / 2
	for i := 0; i < len(texts); i += 2 {
		if len(lines) == h-1 && len(texts)-i > 2 {
			return append(lines, fmt.Sprintf("  and %d more, listed in the file", len(texts)-i))
		}
		line := fmt.Sprintf("  %-*s", wide, widgets.Shorten(texts[i], wide))
		if i+1 < len(texts) {
			line += "  " + widgets.Shorten(texts[i+1], wide)
		}
		lines = append(lines, line)
	}
	return lines
}

// movedLeft takes the blanks that all lines begin with away, as far as a picture is wider than the screen.
func movedLeft(lines []string, w int) []string {
	wide, blanks := 0, 1<<10
	for _, l := range lines {
		if text := strings.TrimLeft(l, " "); text != "" {
			wide, blanks = max(wide, len([]rune(l))), min(blanks, len(l)-len(text))
		}
	}
	by := min(max(wide-w, 0), blanks)
	if by == 0 {
		return lines
	}
	moved := make([]string, len(lines))
	for i, l := range lines {
		moved[i] = l[min(by, len(l)):]
	}
	return moved
}
