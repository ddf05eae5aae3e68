package tui

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/units"
	"stanchion/model/words"
)

// nextMsg is the setting to try next.
type nextMsg struct {
	asked  int
	table  *model.Table
	advice advise.Advice
	height bool // rather by a change of height
	err    error
}

// openNext asks for the setting to try next.
func (m Model) openNext() (Model, tea.Cmd) { return m.askNext(false) }

func (m Model) askNext(height bool) (Model, tea.Cmd) {
	if m.stop != nil {
		m.stop() // the question before
	}
	var ctx context.Context
	ctx, m.stop = context.WithCancel(context.Background())
	m.sweeps++
	m.message = "looking for the setting to try next…"
	t, notes, asked := m.table, m.book.Notes, m.sweeps
	return m, func() tea.Msg {
		a, err := advise.Next(ctx, t, notes, choose.Wish{Height: height}, advise.UsualDrill(t.Car, nil))
		return nextMsg{asked, t, a, height, err}
	}
}

// take opens the page with the answer.
func (msg nextMsg) take(m Model) (Model, tea.Cmd) {
	_, listed := m.notebook()
	if msg.asked != m.sweeps || !m.walking() && !listed || m.row() == nil {
		return m, nil
	}
	m.message = ""
	if msg.err != nil {
		m.message = units.Printable(msg.err.Error())
		if errors.Is(msg.err, choose.ErrNoFeel) {
			m.message += ": m notes how a setting felt"
		}
		return m, nil
	}
	a, t := msg.advice, msg.table
	var keys []binding
	if a.Proposes() {
		keys = append(keys, binding{keys: []string{"g", "enter"}, label: "g go there", does: "go to the proposed setting on the map", run: func(m Model, _ string) (Model, tea.Cmd) {
			if _, ok := m.table.Index(a.To.ID); !ok {
				m.message = "the car file no longer has that setting"
				return m, nil
			}
			m = m.closed().show(a.To.ID)
			m.message = "the setting to try next: @ marks it once it is on the car"
			return m, nil
		}})
	}
	other := binding{keys: []string{"h"}, label: "h by height", does: "rather by a change of height", run: func(m Model, _ string) (Model, tea.Cmd) { return m.askNext(true) }}
	if msg.height {
		other = binding{keys: []string{"h"}, label: "h by angle", does: "by a change of angle or height, whichever is less work", run: func(m Model, _ string) (Model, tea.Cmd) { return m.askNext(false) }}
	}
	return m.over(func(m Model) []string {
		lines := []string{titleStyle.Render("the setting to try next"), ""}
		if r := m.checksNow(); r != nil {
			for _, stop := range words.ChecksStop(*r) {
				lines = append(lines, faultStyle.Render(stop))
			}
		}
		return append(lines, words.NextLines(t, &a, m.units)...)
	}, append(keys, other)...), nil
}

func needsFit(m Model) string {
	switch {
	case m.proposed != nil:
		return "not with a proposal: W writes it to a car file first"
	case m.src.Run == nil:
		return "only from the command line: stanchion note fit"
	}
	return needsNotes(m)
}

// fitMsg is what the track tells, as the command says it.
type fitMsg struct {
	text                string
	failed, wrote, told bool // told: there is something to write
	can                 can
}

// openFit asks what the track tells of the figures.
func (m Model) openFit() (Model, tea.Cmd) {
	if m.message = needsFit(m); m.message != "" {
		return m, nil
	}
	m.message = "fitting to what was measured on track…"
	return m, m.runFit()
}

// runFit runs the command; with arguments that write, the file is another one then.
func (m Model) runFit(args ...string) tea.Cmd {
	src, line, unit := m.src, append([]string{"note", "fit", m.src.Name}, args...), m.units
	t, notes := m.table, m.book.Notes
	cells := max(m.width-1, 20)
	if m.words {
		cells = 0
	}
	return func() tea.Msg {
		text, failed := src.Run(line, unit, cells)
		l, err := calibrate.Learn(t, notes)
		return fitMsg{text, failed, len(args) > 0, err == nil && l.Fit != nil, src.canUndo()}
	}
}

// take shows it as a page, from which the fit is written when that is asked for twice.
func (msg fitMsg) take(m Model) (Model, tea.Cmd) {
	m.message = ""
	var look tea.Cmd
	if msg.wrote && !msg.failed {
		m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: "the fit to the runs", file: true, before: m.laidNow()})
		m.undone, m.can = nil, msg.can
		if m.src.Files != nil {
			look = m.lookOnce()
		}
	}
	_, listed := m.notebook()
	if !m.walking() && !listed {
		m.message = "the fit is done: S shows it"
		return m, look
	}
	laid := m.laid()
	lines := func(m Model) []string {
		all := []string{titleStyle.Render("what the track tells of the figures"), ""}
		if laid != "" {
			all = append(all, assumedStyle.Render("of the car file as it is saved; what is shown here has more:"+laid), "")
		}
		for _, l := range strings.Split(strings.TrimRight(msg.text, "\n"), "\n") {
			all = append(all, units.Printable(l))
		}
		if fitted := words.Fitted(m.car); len(fitted) > 0 && !msg.wrote {
			all = append(all, "", "What the track told before, which is in the figures as [fit], with one standard uncertainty:")
			for _, l := range fitted {
				all = append(all, "  "+l)
			}
		}
		return all
	}
	m = m.over(lines, m.fitKeys(msg)...)
	if msg.wrote && !msg.failed {
		m.message = "the fit is in the car file; U takes it back"
	}
	return m, look
}

// fitKeys are the keys of the page: what is written is asked for twice.
func (m Model) fitKeys(msg fitMsg) []binding {
	write := func(key, label, does, asks string, args ...string) binding {
		return binding{keys: []string{key}, label: label, does: does, run: func(m Model, _ string) (Model, tea.Cmd) {
			p, _ := in[pageMode](m)
			if p.asked != key {
				p.asked = key
				m.message = asks
				return m.with(p), nil
			}
			m.message = "writing…"
			return m, m.runFit(args...)
		}}
	}
	undo := binding{keys: []string{"U"}, label: "U undo", does: "take it back", run: func(m Model, _ string) (Model, tea.Cmd) {
		if why := needsUndo(m); why != "" {
			m.message = why
			return m, nil
		}
		return m.undo()
	}}
	switch {
	case m.src.Change == nil || !msg.told:
		return nil
	case msg.wrote && !msg.failed:
		return []binding{undo}
	case msg.wrote:
		return []binding{write("A", "A anyway", "write it all the same", "A again writes it though readings disagree or the downforce is less sure", "--write", "--anyway")}
	}
	return []binding{write("W", "W write", "put the fit into the car file", "W again puts the fit into the car file, in the place of the [fit] that it has; U takes it back", "--write")}
}

// askExport asks for the file that the notebook goes to.
func (m Model) askExport() (Model, tea.Cmd) {
	base := filepath.Base(m.src.Name)
	return m.exportPrompt(strings.TrimSuffix(base, filepath.Ext(base))+".notes.md", "", "")
}

// exportPrompt is the line for its name; refused is the name of a file that is there already, which the same name again
// replaces.
func (m Model) exportPrompt(name, refused, fault string) (Model, tea.Cmd) {
	switch b, ok := m.notebook(); {
	case !ok:
		m.message = "M opens the notebook, x there exports it"
		return m, nil
	case m.src.Run == nil:
		m.message = "only from the command line: stanchion note export"
		return m.with(b), nil
	default:
		m, cmd := m.promptOver(b, "export to", "a name that ends in .md, .csv or .json", func(m Model, text string) (Model, tea.Cmd, error) {
			return m.export(b, strings.TrimSpace(text), refused)
		})
		p, _ := in[promptMode](m)
		p.input.CharLimit = 250
		p.input.SetValue(name)
		p.input.CursorEnd()
		p.fault = fault
		return m.with(p), cmd
	}
}

// exportedMsg says that the notebook is in a file, or why not.
type exportedMsg struct {
	name, text string
	failed     bool
}

// export runs the command that writes the file, beside the car file where the name has no folder.
func (m Model) export(b notebookMode, name, refused string) (Model, tea.Cmd, error) {
	format, ok := map[string]string{".md": "markdown", ".csv": "csv", ".json": "json"}[strings.ToLower(filepath.Ext(name))]
	if !ok || name == filepath.Ext(name) {
		return m, nil, errors.New("the name must end in .md, .csv or .json")
	}
	to := name
	if !filepath.IsAbs(to) {
		to = filepath.Join(filepath.Dir(m.src.Name), to)
	}
	args := []string{"note", "export", m.src.Name, "--format", format, "-o", to}
	if name == refused {
		args = append(args, "--replace")
	}
	m.message = "writing…"
	run, unit := m.src.Run, m.units
	return m.with(b), func() tea.Msg {
		text, failed := run(args, unit, 0)
		return exportedMsg{name, text, failed}
	}, nil
}

// take says where it is; where a file of that name is there, it asks again.
func (msg exportedMsg) take(m Model) (Model, tea.Cmd) {
	said := units.Printable(strings.Join(strings.Fields(msg.text), " "))
	if _, listed := m.notebook(); listed && msg.failed && strings.Contains(said, "exists already") {
		return m.exportPrompt(msg.name, msg.name, "it exists already: enter replaces it, or type another name")
	}
	m.message = said
	return m, nil
}
