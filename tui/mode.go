package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// mode is what is open over the walk: it owns its state, says what keys do in it, and
// draws itself. It is a value: what changes it puts a new one in its place.
type mode interface {
	title() string                                  // of its keys in the help
	bindings(m Model) []binding                     // its keys
	other(m Model, key tea.KeyMsg) (Model, tea.Cmd) // a key that no binding has
	typing() bool                                   // whether keys are text
	view(m Model) (whole string, drawn bool)        // over the whole screen; false leaves the walk there
	tell(w *walker)                                 // in words
	typed(w *walker, text string)                   // a line of text in words, while typing
}

// binding is one thing that keys do in a mode.
type binding struct {
	keys  []string
	label string // for the footer of the mode; "" leaves it out
	does  string // for the help
	run   func(m Model, key string) (Model, tea.Cmd)
}

// modes lists one of each mode, for the help.
func modes() []mode {
	return []mode{pageMode{}, drillMode{}, promptMode{}, targetMode{}, noteMode{}, notebookMode{}, readingMode{}, guideMode{}, jobsMode{}, searchMode{}, plateForm{}, plateMode{}, redrawMode{}, checksMode{}, planMode{}}
}

// in returns the open mode if it is of a kind.
func in[T mode](m Model) (T, bool) {
	t, ok := m.open.(T)
	return t, ok
}

// with opens a mode, or puts the changed one in its place.
func (m Model) with(open mode) Model {
	m.open = open
	return m
}

// closed goes back to the walk.
func (m Model) closed() Model { return m.with(nil) }

// walking reports whether nothing is open.
func (m Model) walking() bool { return m.open == nil }

// pass gives a key to the open mode.
func (m Model) pass(key tea.KeyMsg) (Model, tea.Cmd) {
	for _, b := range m.open.bindings(m) {
		if slices.Contains(b.keys, key.String()) {
			return b.run(m, key.String())
		}
	}
	return m.open.other(m, key)
}

// footerOf lists what keys do in a mode, for its last line.
func (m Model) footerOf(open mode) string {
	var parts []string
	for _, b := range open.bindings(m) {
		if b.label != "" {
			parts = append(parts, b.label)
		}
	}
	return strings.Join(parts, "  ")
}

// quitting is the key that leaves the program from any mode. Where something would be lost it says so first, and
// what is open stays open.
func quitting() binding {
	return binding{keys: []string{"ctrl+c"}, does: "leave stanchion", run: func(m Model, _ string) (Model, tea.Cmd) {
		why := strings.ReplaceAll(m.wouldLose(), "q again", "ctrl+c again")
		if t, ok := in[targetMode](m); ok && t.changed(m) {
			why = "the target is not taken: enter takes it, ctrl+c again drops what is typed"
		}
		if why == "" || m.warned {
			return m, tea.Quit
		}
		m.warned = true
		if told, ok := m.open.(faulty); ok {
			return m.with(told.withFault(why)), nil
		}
		m.message = why
		return m, nil
	}}
}
