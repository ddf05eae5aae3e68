package widgets

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// Form is a page with lines to type into. It is a value: what changes it returns a new one.
type Form struct {
	Names  []string
	Fields []textinput.Model
	At     int
	Fault  string
}

// Add puts a line at the end of a form that is being made.
func (f *Form) Add(name, hint, value string, limit int) {
	in := NewField(hint, limit)
	in.Width = max(20, len([]rune(hint)))
	in.SetValue(Typeable(value))
	f.Names, f.Fields = append(f.Names, name), append(f.Fields, in)
}

// Values returns what is typed, line by line.
func (f Form) Values() (texts []string) {
	for _, in := range f.Fields {
		texts = append(texts, strings.TrimSpace(in.Value()))
	}
	return texts
}

// Moved goes to the next or previous line.
func (f Form) Moved(by int) (Form, tea.Cmd) {
	return f.Jumped((f.At + by + len(f.Fields)) % len(f.Fields))
}

// Jumped goes to a line.
func (f Form) Jumped(to int) (Form, tea.Cmd) {
	f.Fields = slices.Clone(f.Fields)
	f.Fields[f.At].Blur()
	f.At = to
	cmd := f.Fields[f.At].Focus()
	return f, cmd
}

// Typed passes a key on to the line that is typed into.
func (f Form) Typed(key tea.KeyMsg) (Form, tea.Cmd) {
	f.Fields = slices.Clone(f.Fields)
	f.Fault = ""
	var cmd tea.Cmd
	f.Fields[f.At], cmd = TypeInto(f.Fields[f.At], key)
	return f, cmd
}

// Filled puts a text into the line that is typed into.
func (f Form) Filled(text string) Form {
	f.Fields = slices.Clone(f.Fields)
	f.Fields[f.At].SetValue(Typeable(text))
	return f
}

// View draws the form over a whole screen, below lines and above a foot.
func (f Form) View(above []string, foot string, w, h int, glyphs Glyphs) string {
	lines := append([]string(nil), above...)
	for i, name := range f.Names {
		mark := "  "
		if i == f.At {
			mark = "▸ "
		}
		lines = append(lines, mark+fmt.Sprintf("%-26s", name)+f.Fields[i].View())
	}
	lines = append(lines, "")
	if f.Fault != "" {
		for _, l := range Wrap(f.Fault, w) {
			lines = append(lines, Fault.Render(l))
		}
	}
	for len(lines) < h-1 {
		lines = append(lines, "")
	}
	return Fit(append(lines[:h-1], Quiet.Render(foot)), w, h, glyphs)
}
