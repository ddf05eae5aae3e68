package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// form is a page with lines to type into. It is a value: what changes it returns a new one.
type form struct {
	names  []string
	fields []textinput.Model
	at     int
	fault  string
}

// add puts a line at the end of a form that is being made.
func (f *form) add(name, hint, value string, limit int) {
	in := newField(hint, limit)
	in.Width = max(20, len([]rune(hint)))
	in.SetValue(typeable(value))
	f.names, f.fields = append(f.names, name), append(f.fields, in)
}

// values returns what is typed, line by line.
func (f form) values() (texts []string) {
	for _, in := range f.fields {
		texts = append(texts, strings.TrimSpace(in.Value()))
	}
	return texts
}

// moved goes to the next or previous line.
func (f form) moved(by int) (form, tea.Cmd) {
	return f.jumped((f.at + by + len(f.fields)) % len(f.fields))
}

// jumped goes to a line.
func (f form) jumped(to int) (form, tea.Cmd) {
	f.fields = slices.Clone(f.fields)
	f.fields[f.at].Blur()
	f.at = to
	cmd := f.fields[f.at].Focus()
	return f, cmd
}

// typed passes a key on to the line that is typed into.
func (f form) typed(key tea.KeyMsg) (form, tea.Cmd) {
	f.fields = slices.Clone(f.fields)
	f.fault = ""
	var cmd tea.Cmd
	f.fields[f.at], cmd = typeInto(f.fields[f.at], key)
	return f, cmd
}

// filled puts a text into the line that is typed into.
func (f form) filled(text string) form {
	f.fields = slices.Clone(f.fields)
	f.fields[f.at].SetValue(typeable(text))
	return f
}

// view draws the form over a whole screen, below lines and above a foot.
func (f form) view(above []string, foot string, w, h int) string {
	lines := append([]string(nil), above...)
	for i, name := range f.names {
		mark := "  "
		if i == f.at {
			mark = "▸ "
		}
		lines = append(lines, mark+fmt.Sprintf("%-26s", name)+f.fields[i].View())
	}
	lines = append(lines, "")
	if f.fault != "" {
		for _, l := range wrap(f.fault, w) {
			lines = append(lines, faultStyle.Render(l))
		}
	}
	for len(lines) < h-1 {
		lines = append(lines, "")
	}
	return fit(append(lines[:h-1], quietStyle.Render(foot)), w, h)
}
