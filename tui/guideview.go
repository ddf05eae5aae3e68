package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// How few and how many lines a picture of the guided start takes, and from how many on it leaves some to the last answers.
const (
	leastPicture = 5
	goodPicture  = 15
	mostPicture  = 24
)

// view draws the question with its picture, the last answers, and what is wrong beside the answer.
func (g guideMode) view(m Model) (string, bool) {
	qs := g.questions(m)
	head := []string{titleStyle.Render(g.place(qs))}
	var middle, foot []string
	if g.step < len(qs) {
		q := qs[g.step]
		foot = g.questionLines(m, q)
		room := m.height - 1 - len(head) - len(foot)
		told := 3
		if room < goodPicture {
			told = 1 // the picture needs the lines more
		}
		recent := g.recent(m, qs, min(told, max(room-leastPicture-1, 0)))
		room -= len(recent)
		if h := min(room, mostPicture); h >= leastPicture {
			middle = m.sketchView(guide.Draw(q, g.answers, m.units), min(m.width, 110), h)
		}
		middle = append(middle, recent...)
	} else {
		foot = g.endLines(m, qs)
	}
	room := m.height - 1 - len(head)
	if len(foot) > room { // what is asked must be seen
		foot = foot[len(foot)-room:]
	}
	lines := append(head, middle...)
	for len(lines)+len(foot) < m.height-1 {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	return widgets.Fit(append(lines, quietStyle.Render(m.footerOf(g))), m.width, m.height, m.glyphs), true
}

// place says which question it is. How many follow hangs on the answers.
func (g guideMode) place(qs []guide.Question) string {
	if g.step >= len(qs) {
		return "a car file of your own: the last question"
	}
	if g.step == 0 {
		return "a car file of your own: the first question"
	}
	return fmt.Sprintf("a car file of your own: question %d, %d known to follow", g.step+1, len(qs)-g.step)
}

// questionLines are the question, how to measure, the choices, the answer, and what is wrong with it.
func (g guideMode) questionLines(m Model, q guide.Question) []string {
	w := m.width - 1
	lines := widgets.Wrap(figureStyle.Render(q.Ask), w)
	lines = append(lines, widgets.Wrap(q.How, w)...)
	for i, c := range q.Choices {
		lines = append(lines, fmt.Sprintf("  %d  %s", q.Number(i), c.Text))
	}
	if hint := hintOf(q, m.units); hint != "" {
		lines = append(lines, mapLines(widgets.Wrap(hint, w), quietStyle.Render)...)
	}
	lines = append(lines, "› "+g.input.View())
	switch understood := q.Understood(g.input.Value(), g.answers, m.units); {
	case g.fault != "":
		lines = append(lines, mapLines(widgets.Wrap(g.fault, w-2), func(s ...string) string { return "  " + faultStyle.Render(s...) })...)
	case understood != "":
		lines = append(lines, mapLines(widgets.Wrap("= "+understood, w-2), func(s ...string) string { return "  " + withinStyle.Render(s...) })...)
	default:
		lines = append(lines, "")
	}
	return lines
}

func mapLines(lines []string, with func(...string) string) []string {
	all := make([]string, len(lines))
	for i, l := range lines {
		all[i] = with(l)
	}
	return all
}

// recent are the last answers as they were understood, one a line.
func (g guideMode) recent(m Model, qs []guide.Question, n int) []string {
	var lines []string
	for i := max(0, g.step-n); i < g.step; i++ {
		lines = append(lines, quietStyle.Render(widgets.Shorten("✓ "+qs[i].Name+": "+qs[i].Shown(g.answers, m.units), m.width-1)))
	}
	return lines
}

// endLines ask for the file's name, after what the file will be.
func (g guideMode) endLines(m Model, qs []guide.Question) []string {
	w := m.width - 1
	var lines []string
	if at, err := guide.Faulty(g.answers, m.units); err != nil {
		lines = append(lines, mapLines(widgets.Wrap("Not right yet: "+qs[at].Name+": "+err.Error()+". Enter goes there.", w), faultStyle.Render)...)
	} else if g.outcome != "" {
		lines = append(lines, widgets.Wrap(figureStyle.Render(g.outcome), w)...)
	}
	assumed := guide.Assumed(g.answers, m.units)
	if len(assumed) > 0 {
		title := units.Count(len(assumed), "value") + " left open and assumed, marked in the file and on the screens:"
		lines = append(lines, "", assumedStyle.Render(title))
		lines = append(lines, columns(assumed, m.width, min((len(assumed)+1)/2, max(m.height-12, 2)))...)
	}
	answered := m.height - 1 - 1 - len(lines) - 6
	var said []string
	for _, q := range qs {
		if text := g.answers[q.Key]; text != "" && text != guide.Open {
			said = append(said, q.Name+": "+q.Shown(g.answers, m.units))
		}
	}
	if answered > 2 {
		lines = append(append([]string{"Your answers:"}, columns(said, m.width, answered-1)...), append([]string{""}, lines...)...)
	}
	lines = append(lines, "", figureStyle.Render("Name of the file?"), "It is written to the current folder and never overwrites an existing file.", "› "+g.input.View())
	if g.fault != "" {
		return append(lines, mapLines(widgets.Wrap(g.fault, w-2), func(s ...string) string { return "  " + faultStyle.Render(s...) })...)
	}
	return append(lines, "")
}

// tell asks the question in words.
func (g guideMode) tell(w *walker) { w.say("%s", plainText(g.inWords(w.m))) }

// typed takes an answer that was typed as a line.
func (g guideMode) typed(w *walker, text string) {
	before := g.step
	switch strings.ToLower(text) {
	case "up", "back", "↑":
		w.pass(tea.KeyMsg{Type: tea.KeyUp})
	case "anew", "ctrl+n":
		w.pass(tea.KeyMsg{Type: tea.KeyCtrlN})
		if asked, ok := in[guideMode](w.m); ok && asked.warned {
			asked.fault = anewWarning("anew", asked.answered())
			w.m = w.m.with(asked)
		}
	default:
		if strings.EqualFold(text, "none") {
			g.input.SetValue("")
		} else if text != "" { // blank keeps what was typed there before
			g.input.SetValue(widgets.Typeable(text))
		}
		w.m = w.m.with(g)
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	}
	next, ok := in[guideMode](w.m)
	if !ok {
		w.tell()
		return
	}
	if qs := next.questions(w.m); next.step > before && before < len(qs) {
		w.say("%s", plainText(upper(qs[before].Name)+": "+qs[before].Shown(next.answers, w.m.units)+"."))
	}
	next.tell(w)
}

// inWords is the question in words.
func (g guideMode) inWords(m Model) string {
	qs := g.questions(m)
	fault := ""
	if g.fault != "" {
		fault = g.fault + "\n"
	}
	if g.step >= len(qs) {
		var parts []string
		if at, err := guide.Faulty(g.answers, m.units); err != nil {
			parts = append(parts, "Not right yet: "+qs[at].Name+": "+err.Error()+".")
		} else if g.outcome != "" {
			parts = append(parts, g.outcome)
		}
		if assumed := guide.Assumed(g.answers, m.units); len(assumed) > 0 {
			parts = append(parts, units.Count(len(assumed), "value")+" left open and assumed: "+strings.Join(assumed, "; ")+".")
		}
		return fault + strings.Join(parts, "\n") + fmt.Sprintf("\nLast question. File name? Leave blank for %s.", m.guideFile())
	}
	q := qs[g.step]
	text := fmt.Sprintf("Question %d. %s %s", g.step+1, q.Ask, q.How)
	for i, c := range q.Choices {
		text += fmt.Sprintf(" %d: %s.", q.Number(i), c.Text)
	}
	if hint := hintOf(q, m.units); hint != "" {
		text += " " + hint
	}
	if typed := g.answers[q.Key]; typed != "" {
		text += " Blank keeps " + typed + "."
		if q.Optional {
			text += " None takes it out."
		}
	}
	return fault + text + " Back goes back, esc leaves."
}

// hintOf says in which unit a bare number is, and whether the answer may be left open.
func hintOf(q guide.Question, u units.System) string {
	var parts []string
	other := map[string]string{"mm": "98in, 8ft 2in or 2.5m", "in": "98 7/16, 8ft 2in or 2500mm", "kg": "1300lb", "lb": "600kg",
		"km/h": "100mph", "mph": "160km/h", "m/s": "160km/h"}
	switch unit := q.Unit(u); {
	case unit == "°":
		parts = append(parts, "In degrees.")
	case unit != "" && q.Single():
		like := other[unit]
		if q.Short() {
			like = map[string]string{"mm": "2 3/8in", "in": "60mm"}[unit]
		}
		parts = append(parts, fmt.Sprintf("In %s, or with a unit, such as %s.", unit, like))
	case unit != "":
		parts = append(parts, fmt.Sprintf("In %s.", unit))
	}
	switch {
	case q.MayBeOpen():
		parts = append(parts, fmt.Sprintf("? leaves it open: %s is then assumed, and marked.", q.Assumes(u)))
	case q.Optional:
		parts = append(parts, "Blank leaves it out.")
	}
	return strings.Join(parts, " ")
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
