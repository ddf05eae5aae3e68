package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/tui/widgets"
)

// searchPage asks for a text and goes to the next line of the page that has it.
func searchPage(m Model, _ string) (Model, tea.Cmd) {
	p, _ := in[pageMode](m)
	s := searchMode{page: p, input: widgets.NewField("a word of the page", 60)}
	cmd := s.input.Focus()
	return m.with(s), cmd
}

// searchMode is a page with the line at its foot open for a text to search for.
type searchMode struct {
	page  pageMode
	input widgets.Field
}

func (searchMode) title() string { return "while a page is searched" }

func (searchMode) typing() bool { return true }

func (searchMode) bindings(Model) []binding {
	return []binding{
		{keys: []string{"enter"}, does: "go to the next line that has it", run: func(m Model, _ string) (Model, tea.Cmd) {
			s, _ := in[searchMode](m)
			return s.found(m), nil
		}},
		{keys: []string{"esc", "ctrl+c"}, does: "go back to the page", run: func(m Model, _ string) (Model, tea.Cmd) {
			s, _ := in[searchMode](m)
			return m.with(s.page), nil
		}},
	}
}

func (s searchMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	var cmd tea.Cmd
	s.input, cmd = widgets.TypeInto(s.input, key)
	return m.with(s), cmd
}

// found scrolls the page to the next line with the text, from the top again at its end.
func (s searchMode) found(m Model) Model {
	text := strings.ToLower(strings.TrimSpace(s.input.Value()))
	lines, room := s.page.wrapped(m), s.page.room(m)
	if text == "" {
		return m.with(s.page)
	}
	for k := range lines {
		i := (s.page.matched + 1 + k) % len(lines)
		if s.page.match != text { // a new search begins with what is shown
			i = (s.page.scroll + k) % len(lines)
		}
		if strings.Contains(strings.ToLower(plainLine(lines[i])), text) {
			s.page.scroll, s.page.match, s.page.matched = min(i, max(0, len(lines)-room)), text, i
			m.message = ""
			if i > s.page.scroll {
				m.message = fmt.Sprintf("it is in line %d of those shown", i-s.page.scroll+1)
			}
			return m.with(s.page)
		}
	}
	m.message = fmt.Sprintf("%q is not on this page", text)
	return m.with(s.page)
}

func (s searchMode) view(m Model) (string, bool) {
	whole, _ := s.page.view(m)
	lines := strings.Split(whole, "\n")
	lines[len(lines)-1] = widgets.Fit([]string{"search: " + s.input.View()}, m.width, 1, m.glyphs)
	return strings.Join(lines, "\n"), true
}

func (s searchMode) tell(w *walker) { w.say("a word of the page, or esc:") }

// typed says the lines that have the text.
func (s searchMode) typed(w *walker, text string) {
	for _, l := range s.page.lines(w.m) {
		if strings.Contains(strings.ToLower(plainLine(l)), strings.ToLower(text)) {
			w.say("%s", plainText(l))
		}
	}
	w.m = w.m.with(s.page)
}
