package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// promptMode is the line at the bottom, open for typing.
type promptMode struct {
	label string // before the line
	input textinput.Model
	fault string // of what was typed
	take  func(m Model, text string) (Model, tea.Cmd, error)
	back  mode // what esc goes back to; nil for the walk
}

func (m Model) typeSpeed() (Model, tea.Cmd) {
	return m.prompt("speed", "a number in "+m.units.SpeedUnit()+", or with a unit: 160km/h, 100mph, 45m/s", Model.typedSpeed)
}

// prompt opens the line at the bottom for typing.
func (m Model) prompt(label, hint string, take func(Model, string) (Model, tea.Cmd, error)) (Model, tea.Cmd) {
	p := promptMode{label: label, input: widgets.NewField(hint, 80), take: take}
	p.input.Width = max(10, m.width-ansi.StringWidth(label)-3) // a colon, a blank and the cursor
	cmd := p.input.Focus()
	return m.with(p), cmd
}

// promptOver opens the line over a mode that esc goes back to.
func (m Model) promptOver(back mode, label, hint string, take func(Model, string) (Model, tea.Cmd, error)) (Model, tea.Cmd) {
	m, cmd := m.prompt(label, hint, take)
	p, _ := in[promptMode](m)
	p.back = back
	return m.with(p), cmd
}

func (promptMode) title() string { return "at a prompt" }

func (promptMode) typing() bool { return true }

func (promptMode) bindings(m Model) []binding {
	return []binding{
		{keys: []string{"enter"}, does: "take what is typed", run: func(m Model, _ string) (Model, tea.Cmd) { return m.typed() }},
		{keys: []string{"esc", "ctrl+c"}, does: "go back", run: func(m Model, key string) (Model, tea.Cmd) {
			p, _ := in[promptMode](m)
			m, cmd := closeMode(m, key)
			if _, ok := p.back.(readingMode); ok {
				m.unkept = p.input.Value()
			}
			if _, ok := p.back.(readingMode); ok && len(m.measured().Car.Readings) == 0 {
				return m, cmd // there is nothing to go back to
			}
			return m.with(p.back), cmd
		}},
	}
}

func (p promptMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	p.fault = ""
	var cmd tea.Cmd
	p.input, cmd = widgets.TypeInto(p.input, key)
	return m.with(p), cmd
}

// typed takes what was typed into the open prompt. After a fault the prompt stays
// open with the text, so that what is typed next is not taken for commands.
func (m Model) typed() (Model, tea.Cmd) {
	p, _ := in[promptMode](m)
	next, cmd, err := p.take(m.closed(), p.input.Value())
	if err != nil {
		p.fault = strings.ReplaceAll(err.Error(), "\n", "; ")
		return m.with(p), nil
	}
	return next, cmd
}

// view leaves what is below there: the line stands in its footer, a fault above it.
func (p promptMode) view(m Model) (string, bool) {
	switch back := p.back.(type) {
	case drillMode:
		return back.view(m)
	case readingMode:
		return back.view(m)
	case plateMode:
		return back.view(m)
	case redrawMode:
		return back.view(m)
	case checksMode:
		return back.view(m)
	case notebookMode:
		return back.view(m)
	}
	return "", false
}

func (p promptMode) tell(w *walker) {
	if p.fault != "" {
		w.say("%s.", plainText(p.fault))
	} else if r, ok := p.back.(readingMode); ok {
		lines, _ := r.lines(w.m)
		for _, l := range lines {
			if l != "" {
				w.say("%s", plainText(l))
			}
		}
	}
	w.say("%s, or esc:", p.input.Placeholder)
}

func (p promptMode) typed(w *walker, text string) {
	p.input.SetValue(widgets.Typeable(text))
	w.m = w.m.with(p)
	w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	w.tell()
}

func (m Model) typedSpeed(text string) (Model, tea.Cmd, error) {
	v, err := units.Speeds.Parse(text, m.units.SpeedUnit())
	if err != nil {
		return m, nil, err
	}
	if err := speedInRange(v, m.units); err != nil {
		return m, nil, err
	}
	m, cmd := m.setSpeed(v)
	m.message = "speed " + m.units.Speed(v)
	return m, cmd, nil
}
