package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// form is a page with lines to type into.
type form struct {
	names  []string
	fields []textinput.Model
	at     int
	fault  string
}

// add puts a line at the end of the form.
func (f *form) add(name, hint, value string, limit int) {
	in := newField(hint, limit)
	in.Width = max(20, len([]rune(hint)))
	in.SetValue(typeable(value))
	f.names, f.fields = append(f.names, name), append(f.fields, in)
}

// copied returns a form that can be changed without the model before it.
func (f *form) copied() *form {
	c := *f
	c.fields = append([]textinput.Model(nil), f.fields...)
	return &c
}

// values returns what is typed, line by line.
func (f *form) values() (texts []string) {
	for _, in := range f.fields {
		texts = append(texts, strings.TrimSpace(in.Value()))
	}
	return texts
}

// move goes to the next or previous line.
func (f *form) move(by int) tea.Cmd { return f.jump((f.at + by + len(f.fields)) % len(f.fields)) }

func (f *form) jump(to int) tea.Cmd {
	f.fields[f.at].Blur()
	f.at = to
	return f.fields[f.at].Focus()
}

// typed passes a key on to the line that is typed into.
func (f *form) typed(key tea.KeyMsg) tea.Cmd {
	var cmd tea.Cmd
	f.fault = ""
	f.fields[f.at], cmd = typeInto(f.fields[f.at], key)
	return cmd
}

// view draws the form over a whole screen, below lines and above a foot.
func (f *form) view(above []string, foot string, w, h int) string {
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
