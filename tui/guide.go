package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

// guide is a guided start on its way: which question it is at, and what was answered.
type guide struct {
	step    int // beyond the last question it asks for the file's name
	answers carfile.Answers
	input   textinput.Model
	fault   string
}

// guideFile is the name of the file that is made when none is typed.
const guideFile = "mycar.toml"

func needsGuide(m Model) string {
	if m.src.Guide == nil {
		return "no file can be made from here: stanchion start FILE"
	}
	return ""
}

// startGuide begins with the first question, or goes on where it was left.
func (m Model) startGuide() (Model, tea.Cmd) {
	m.guide = &guide{answers: carfile.Answers{}, input: newField("", 120)}
	m.mode = guiding
	m, cmd := m.guideAt(0)
	return m, tea.Batch(cmd, m.readGuideDraft())
}

// guideAt goes to a question, with what was typed there before.
func (m Model) guideAt(step int) (Model, tea.Cmd) {
	g := *m.guide
	g.step, g.fault = step, ""
	g.input.Reset()
	g.input.Width = max(10, m.width-6)
	g.input.Placeholder = guideFile
	if qs := carfile.Questions(); step < len(qs) {
		g.input.Placeholder = qs[step].Usual(m.units)
		g.input.SetValue(g.answers[qs[step].Key])
	}
	cmd := g.input.Focus()
	m.guide = &g
	return m, cmd
}

// guideKey handles a key while the guided start is open.
func (m Model) guideKey(key tea.KeyMsg) (tea.Model, tea.Cmd) {
	switch key.String() {
	case "ctrl+c", "esc":
		return m.leaveGuide()
	case "up", "shift+tab":
		if m.guide.step > 0 {
			return m.guideAt(m.guide.step - 1)
		}
		return m, nil
	case "enter", "down", "tab":
		return m.guideAnswer(carfile.Questions())
	case "ctrl+n":
		m.guide = &guide{answers: carfile.Answers{}, input: newField("", 120)}
		m, cmd := m.guideAt(0)
		m, keep := m.keepGuide()
		return m, tea.Batch(cmd, keep)
	}
	g := *m.guide
	g.fault = ""
	var cmd tea.Cmd
	g.input, cmd = typeInto(g.input, key)
	m.guide = &g
	m, keep := m.keepGuide()
	return m, tea.Batch(cmd, keep)
}

// leaveGuide leaves without a file; the answers are kept for the next time.
func (m Model) leaveGuide() (Model, tea.Cmd) {
	m, keep := m.keepGuide()
	m.message = "no file was made"
	if m.src.GuideDraft != nil && (len(m.guide.answers) > 0 || m.guide.input.Value() != "") {
		m.message += "; the answers are kept for next time"
	}
	m.mode, m.guide = walking, nil
	if m.car == nil {
		m.farewell = m.message
		return m, func() tea.Msg {
			if keep != nil {
				if fault := keep(); fault != nil {
					return fault
				}
			}
			return tea.QuitMsg{}
		}
	}
	return m, keep
}

// guideAnswer takes what was typed, and goes on when it can be used.
func (m Model) guideAnswer(qs []carfile.Question) (tea.Model, tea.Cmd) {
	g := *m.guide
	text := strings.TrimSpace(g.input.Value())
	m.guide = &g
	if g.step < len(qs) {
		q := qs[g.step]
		if err := q.Check(text, g.answers, m.units); err != nil {
			g.fault = err.Error()
			return m, nil
		}
		g.answers = g.answers.With(q.Key, q.Echo(text, m.units))
		m, cmd := m.guideAt(g.step + 1)
		m, keep := m.keepGuide()
		return m, tea.Batch(cmd, keep)
	}
	file, err := carfile.GuidedFile(g.answers, m.units)
	if err != nil {
		g.fault = err.Error()
		return m, nil
	}
	if text == "" {
		text = guideFile
	}
	write := m.src.Guide
	return m, func() tea.Msg {
		next, err := write(text, file)
		if err != nil {
			return guidedMsg{err: err}
		}
		car, err := next.Load()
		return guidedMsg{next, car, text, err}
	}
}

// guidedMsg says that the file is made, or why not.
type guidedMsg struct {
	src  Source
	car  *model.Car
	name string
	err  error
}

// take opens the car that was made.
func (msg guidedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		if m.guide != nil {
			g := *m.guide
			g.fault = msg.err.Error()
			m.guide = &g
		}
		return m, nil
	}
	m, drop := m.keepDraft(m.src.GuideDraft, nil)
	fresh := New(msg.src, msg.car, msg.car.Speed, m.units)
	fresh.width, fresh.height, fresh.words, fresh.kept = m.width, m.height, m.words, m.kept
	fresh.asked = m.asked + 1 // no answer about the car before is taken for one about this
	fresh.message = "made " + units.Printable(msg.name) + ": edit it to add what you know; it is read again when saved"
	return fresh, tea.Batch(drop, fresh.Init())
}

// guideView draws the question with its picture.
func (m Model) guideView() string {
	g, qs := m.guide, carfile.Questions()
	var lines []string
	if g.step < len(qs) {
		q := qs[g.step]
		lines = append(lines, titleStyle.Render(fmt.Sprintf("a car file of your own: %d of %d", g.step+1, len(qs)+1)), "")
		lines = append(lines, guidePicture(q.Picture, q.Letter)...)
		lines = append(lines, "")
		ask := q.Ask
		if q.Letter != "" {
			ask = q.Letter + "  " + ask
		}
		lines = append(lines, wrap(figureStyle.Render(ask), m.width-1)...)
		lines = append(lines, wrap(q.How, m.width-1)...)
		lines = append(lines, quietStyle.Render(usual(q, m.units)))
	} else {
		lines = append(lines, titleStyle.Render(fmt.Sprintf("a car file of your own: %d of %d", g.step+1, len(qs)+1)), "")
		for _, q := range qs {
			answer := g.answers[q.Key]
			if answer == "" && q.Key != "name" {
				continue // it is among what is assumed
			}
			lines = append(lines, fmt.Sprintf("%-*s %s", min(46, m.width/2), shorten(q.Ask, min(45, m.width/2-1)), answer))
		}
		lines = append(lines, assumedStyle.Render("Assumed, because nobody said it; it is marked so in the file and on the screens:"))
		lines = append(lines, columns(carfile.GuideAssumes(g.answers, m.units), m.width, m.height-6-len(lines))...)
		lines = append(lines, "", figureStyle.Render("Name of the file?"), "It is made where you are, and never over a file that is there.")
	}
	lines = append(lines, "› "+g.input.View())
	foot := "enter next · ↑ back · ctrl+n begins anew · esc leaves, the answers are kept"
	room := m.height - 1
	if len(lines) > room { // the question is what must be seen
		lines = append(lines[:1:1], lines[len(lines)-room+1:]...)
	}
	for len(lines) < room {
		lines = append(lines, "")
	}
	if g.fault != "" {
		return fit(append(lines, faultStyle.Render(g.fault)), m.width, m.height)
	}
	return fit(append(lines, quietStyle.Render(foot)), m.width, m.height)
}

// usual says what is taken when nothing is typed, and in which unit a bare number is.
func usual(q carfile.Question, u units.System) string {
	unit := q.Unit(u)
	switch unit {
	case "":
		return fmt.Sprintf("Nothing typed is %s.", q.Usual(u))
	case "°":
		return fmt.Sprintf("In degrees. Nothing typed is %s°.", q.Usual(u))
	}
	other := map[string]string{"mm": "98in, 8ft 2in or 2.5m", "in": "98 7/16, 8ft 2in or 2500mm", "kg": "1300lb", "lb": "600kg", "km/h": "100mph", "mph": "160km/h", "m/s": "160km/h"}[unit]
	return fmt.Sprintf("In %s; %s can be typed too. Nothing typed is %s %s.", unit, other, q.Usual(u), unit)
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
		line := fmt.Sprintf("  %-*s", wide, shorten(texts[i], wide))
		if i+1 < len(texts) {
			line += "  " + shorten(texts[i+1], wide)
		}
		lines = append(lines, line)
	}
	return lines
}

// shorten cuts a text to a width.
func shorten(s string, w int) string {
	r := []rune(s)
	if len(r) <= w {
		return s
	}
	return string(r[:max(w-1, 0)]) + "…"
}
