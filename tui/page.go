package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// sheet is a page about the setting that is shown.
type sheet struct {
	key, name string
	lines     func(Model) []string
}

// Keys of the pages on strength and on the comparison with another setting.
const (
	strengthSheet = "s"
	compareSheet  = "w"
)

// sheets lists the pages about a setting, in the order in which they are shown.
func sheets() []sheet {
	return []sheet{
		{"enter", "all", Model.allText},
		{"y", "why", Model.whyText},
		{strengthSheet, "strength", Model.strengthText},
		{"c", "clearance", Model.clearanceText},
		{compareSheet, "compare", Model.compareText},
		{"o", "speeds", nil}, // worked out first
		{"M", "notes", nil},  // the notebook, with this page behind it
	}
}

// openPage opens one of the sheets by its key.
func openPage(key string) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		for _, s := range sheets() {
			if s.key == key {
				if key == "c" {
					m = m.lidAtNearest()
				}
				return m.with(pageMode{lines: s.lines, sheet: key}), nil
			}
		}
		return m, nil
	}
}

// read opens a page of text that is about no setting.
func (m Model) read(lines func(Model) []string) (Model, tea.Cmd) {
	return m.with(pageMode{lines: lines}), nil
}

// pageMode is a page of text that is read.
type pageMode struct {
	lines   func(Model) []string
	sheet   string // key of the sheet; "" for another page
	scroll  int
	match   string // what was searched for last; "" for nothing
	matched int    // the line that it was found in

	back  mode      // what it goes back to; nil for the walk
	keys  []binding // of its own
	note  string    // id of the note that it is about; "" for another page
	asked string    // key that was pressed and asks to be pressed again; "" for none
}

func (pageMode) title() string { return "on a page" }

func (pageMode) typing() bool { return false }

func (p pageMode) bindings(m Model) []binding {
	by := func(lines func(room int) int) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			p, _ := in[pageMode](m)
			room := p.room(m)
			p.scroll = min(max(p.scroll+lines(room), 0), max(0, len(p.wrapped(m))-room))
			m.message = ""
			return m.with(p), nil
		}
	}
	fixed := func(n int) func(int) int { return func(int) int { return n } }
	all := []binding{
		{keys: []string{"down", "j"}, does: "a line down", run: by(fixed(1))},
		{keys: []string{"up", "k"}, does: "a line up", run: by(fixed(-1))},
		{keys: []string{"pgdown", " "}, does: "a page down", run: by(func(room int) int { return room - 2 })},
		{keys: []string{"pgup"}, does: "a page up", run: by(func(room int) int { return 2 - room })},
		{keys: []string{"home"}, does: "to its beginning", run: by(fixed(-1 << 20))},
		{keys: []string{"end"}, does: "to its end", run: by(fixed(1 << 20))},
		quitting(),
	}
	if p.sheet == "" && p.lines != nil {
		if p.lasting() {
			back := binding{keys: []string{"q", "esc", "backspace"}, label: "esc back", does: "go back", run: closeMode}
			all = append(append([]binding{back}, p.keys...), all...)
		}
		return append(all,
			binding{keys: []string{"/"}, label: "/ search", does: "search in the page", run: searchPage},
			binding{keys: []string{"Y"}, label: "Y copy", does: "copy the page as text", run: p.copyPage})
	}
	all = append(all,
		binding{keys: []string{"q", "esc", "backspace"}, label: "esc goes back",
			does: "go back to where you were; so does the key of the page", run: closeMode},
		binding{keys: []string{"left", "right", "h", "l", "n", "p", "u", "x"}, label: "←→ next angle",
			does: "go to another setting, or switch units, as on the walk", run: p.walkOn},
		binding{keys: []string{"/"}, label: "/ search", does: "search in the page", run: searchPage},
		binding{keys: []string{"Y"}, label: "Y copy", does: "copy the page as text", run: p.copyPage})
	if p.sheet == "y" {
		all = append(all, binding{keys: []string{"tab"}, label: "tab next figure", does: "on the page why: the next figure", run: nextWhy(1)},
			binding{keys: []string{"shift+tab"}, does: "on the page why: the figure before", run: nextWhy(-1)})
	}
	return append(all,
		binding{keys: []string{"m"}, label: "m note", does: "note how the setting was", run: func(m Model, _ string) (Model, tea.Cmd) {
			if m.message = needsNotebook(m); m.message != "" {
				return m, nil
			}
			return m.openNoteAbout(m.row(), m.open)
		}})
}

// lasting reports whether a page stays until it is left: it goes back to something, or has keys of its own.
func (p pageMode) lasting() bool { return p.back != nil || len(p.keys) > 0 }

// closeMode goes back to the walk, or to what a page was opened over.
func closeMode(m Model, _ string) (Model, tea.Cmd) {
	m.message = ""
	if p, ok := in[pageMode](m); ok {
		return m.with(p.back), nil
	}
	return m.closed(), nil
}

// other goes to another page or setting, or back.
func (p pageMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	m.message = ""
	k := key.String()
	if p.sheet == "" && p.lasting() {
		m.message = "esc goes back"
		return m, nil
	}
	if p.sheet == "" || k == p.sheet {
		return closeMode(m, k)
	}
	for _, s := range sheets() {
		if s.key == k {
			return m.press(k)
		}
	}
	m.message = "esc goes back; ? at home lists all keys"
	return m, nil
}

// walkOn goes to another setting and stays on the page.
func (p pageMode) walkOn(m Model, key string) (Model, tea.Cmd) {
	m, cmd := m.closed().press(key)
	if m.walking() {
		m = m.with(p)
	}
	if p.sheet == "o" && key != "u" {
		return m.overSpeed()
	}
	return m, cmd
}

// sheetLine lists the sheets, the open one in brackets, those that have nothing to
// say left out.
func (p pageMode) sheetLine(m Model) string {
	var parts []string
	for _, s := range sheets() {
		text := s.key + " " + s.name
		if m.width < 80 && s.key != p.sheet { // there is room for the key alone
			text = s.key
		}
		switch {
		case s.key == p.sheet:
			parts = append(parts, selectedStyle.Render("["+text+"]"))
		case m.whyNot(s.key) == "":
			parts = append(parts, quietStyle.Render(" "+text+" "))
		}
	}
	return strings.Join(parts, " ")
}

// wrapped is the page as it is shown: every line wrapped to the window.
func (p pageMode) wrapped(m Model) []string {
	var lines []string
	for _, l := range p.lines(m) {
		hung := []string{l}
		if !strings.Contains(l, "\x1b") { // a coloured line is a title, or broken by who made it
			hung = words.HangAtText(l, m.width-1)
		}
		for _, h := range hung {
			lines = append(lines, widgets.Wrap(h, m.width-1)...) // a word that is longer
		}
	}
	return lines
}

// room is how many lines of a page fit on the screen.
func (p pageMode) room(m Model) int {
	if p.sheet != "" {
		return m.height - 3
	}
	return m.height - 1
}

// view draws a page of text over the whole screen.
func (p pageMode) view(m Model) (string, bool) {
	lines, room := p.wrapped(m), p.room(m)
	from := min(p.scroll, max(0, len(lines)-room))
	var shown []string
	if p.sheet != "" {
		shown = append(shown, p.sheetLine(m), "")
	}
	shown = append(shown, lines[from:min(len(lines), from+room)]...)
	for len(shown) < m.height-1 {
		shown = append(shown, "")
	}
	return widgets.Fit(append(shown, quietStyle.Render(p.foot(m, len(lines) > room))), m.width, m.height, m.glyphs), true
}

// foot says what keys do on a page.
func (p pageMode) foot(m Model, more bool) string {
	if m.message != "" {
		return m.message
	}
	var parts []string
	if more {
		parts = append(parts, "↑↓ scroll")
	}
	if p.lasting() && m.width < 80 { // all of them on a phone
		return strings.Replace(strings.Join(append(parts, m.footerOf(p)), "  "), " scroll", "", 1)
	}
	for _, b := range p.bindings(m) {
		if b.label != "" {
			parts = append(parts, b.label)
		}
	}
	if p.sheet == "" && !p.lasting() {
		parts = append(parts, "any other key goes back")
	}
	return strings.Join(parts, " · ")
}

func (p pageMode) tell(w *walker) {
	for _, l := range p.lines(w.m) {
		w.say("%s", plainText(l))
	}
	if len(p.keys) > 0 {
		var keys []string
		for _, b := range p.keys {
			keys = append(keys, strings.Join(b.keys, " or ")+": "+b.does)
		}
		w.say("%s; esc goes back.", strings.Join(keys, "; "))
		w.m.message = ""
		return
	}
	if w.m = w.m.with(p.back); p.back != nil { // what is read is read
		w.say("Back in the notebook; esc leaves it.")
	}
	w.m.message = ""
}

func (pageMode) typed(*walker, string) {}
