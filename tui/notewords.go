package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// tell asks for the lines of the form in words.
func (n noteMode) tell(w *walker) {
	if n.form.Fault == "" {
		w.say("%s.", plainText(n.heading(w.m)))
		w.say("A line's name with a colon goes to it, such as lap time: 1:42.3; save saves.")
	}
	w.tellForm(n.form, n.with)
}

// typed takes a line of text: for the line that is asked, or for the one that it names.
func (n noteMode) typed(w *walker, text string) {
	if strings.EqualFold(text, "save") {
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
		w.tell()
		return
	}
	if name, value, ok := strings.Cut(text, ":"); ok {
		if at := slices.IndexFunc(n.fields, func(f noteField) bool { return strings.EqualFold(f.name, strings.TrimSpace(name)) }); at >= 0 {
			n.form, _ = n.form.Jumped(at)
			w.m, text = w.m.with(n), strings.TrimSpace(value)
		}
	}
	w.typeInForm(n.form, text, n.with, func() {
		n, _ := in[noteMode](w.m)
		m, keep := n.keep(w.m.with(n.refreshed(w.m)))
		w.m = m
		w.run(keep)
	})
}
