package tui

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile"
)

// Plain is the same walk line by line, without drawing: for a screen reader, a
// braille line, or a pipe. It reads keys by their names, several on a line, and says
// in sentences what the explorer would show. It ends with the input or at q.
func Plain(m Model, in io.Reader, out io.Writer) error {
	m.width, m.height, m.words = 100, 4000, true // as wide and high as any page
	w := &walker{m: m, in: bufio.NewScanner(in), out: out}
	w.in.Buffer(make([]byte, 0, 4096), 1<<20)
	w.run(m.Init())
	if m.car == nil {
		w.say("%s", plainText(w.m.guidePlain()))
	} else {
		w.say("stanchion, line by line. Type keys by their names and press enter: right, left, up, down, f, r, s, c, enter, space, and ? for all; q leaves.")
		w.tell()
	}
	for !w.done && w.err == nil && w.in.Scan() {
		w.line(w.in.Text())
	}
	return errors.Join(w.err, w.in.Err())
}

// walker is one walk line by line.
type walker struct {
	m    Model
	in   *bufio.Scanner
	out  io.Writer
	done bool
	err  error
}

func (w *walker) say(format string, args ...any) {
	if w.err == nil {
		_, w.err = fmt.Fprintf(w.out, format+"\n", args...)
	}
}

// run does what a command does, at once, and all that follows from it.
func (w *walker) run(cmd tea.Cmd) {
	if cmd == nil || w.done {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			w.run(c)
		}
	case tea.QuitMsg:
		w.done = true
	default:
		w.pass(msg)
	}
}

// pass gives the model a message, and does what follows from it.
func (w *walker) pass(msg tea.Msg) {
	next, cmd := w.m.Update(msg)
	w.m = next.(Model)
	w.run(cmd)
}

// line takes one line that was typed.
func (w *walker) line(text string) {
	if w.m.src.Files != nil && w.m.car != nil {
		w.run(w.m.look())
	}
	text = strings.TrimSpace(text)
	w.m.message = ""
	switch {
	case w.m.mode == guiding:
		w.guided(text)
		return
	case w.m.prompting() || w.m.form != nil:
		w.typed(text)
		return
	}
	for _, word := range strings.Fields(text) {
		mode := w.m.mode
		w.pass(plainKey(word))
		if w.done {
			return
		}
		if w.m.mode != mode && (w.m.prompting() || w.m.form != nil) {
			break // what follows would be text
		}
	}
	w.tell()
}

// plainKeys are the names of keys that are no letters.
var plainKeys = map[string]tea.KeyType{
	"left": tea.KeyLeft, "right": tea.KeyRight, "up": tea.KeyUp, "down": tea.KeyDown, "enter": tea.KeyEnter, "esc": tea.KeyEsc,
	"home": tea.KeyHome, "end": tea.KeyEnd, "pageup": tea.KeyPgUp, "pagedown": tea.KeyPgDown, "back": tea.KeyEsc,
}

func plainKey(word string) tea.KeyMsg {
	if k, ok := plainKeys[strings.ToLower(word)]; ok {
		return tea.KeyMsg{Type: k}
	}
	switch strings.ToLower(word) {
	case "space", "keep":
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	case "help":
		word = "?"
	case "quit", "exit":
		word = "q"
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)}
}

// typed takes a line of text for a prompt, or for the line of a form that is asked.
func (w *walker) typed(text string) {
	if strings.EqualFold(text, "esc") {
		w.pass(tea.KeyMsg{Type: tea.KeyEsc})
		w.tell()
		return
	}
	if w.m.form == nil {
		w.m.input.SetValue(typeable(text))
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
		w.tell()
		return
	}
	f := w.m.form.copied()
	w.m.form = f
	if text != "" {
		f.fields[f.at].SetValue(typeable(text))
		if w.m.mode == noting {
			m, keep := w.m.keepNote()
			w.m = m
			w.run(keep)
		}
	}
	if f.at < len(f.fields)-1 {
		f.at++
		f.fault = ""
		w.ask()
		return
	}
	w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	w.tell()
}

// ask says which line of a form is typed now.
func (w *walker) ask() {
	f := w.m.form
	if f.fault != "" {
		w.say("%s", plainText(f.fault))
	}
	now := ""
	if v := f.fields[f.at].Value(); v != "" {
		now = ", now " + v
	}
	w.say("%s (%s%s), or an empty line, or esc:", strings.TrimSpace(f.names[f.at]), f.fields[f.at].Placeholder, now)
}

// guided takes an answer of the guided start.
func (w *walker) guided(text string) {
	if strings.EqualFold(text, "esc") {
		w.pass(tea.KeyMsg{Type: tea.KeyEsc})
		if w.m.car == nil {
			w.done = true
			w.say("%s", w.m.message)
			return
		}
		w.tell()
		return
	}
	switch strings.ToLower(text) {
	case "up", "back", "↑":
		w.pass(tea.KeyMsg{Type: tea.KeyUp})
	case "anew", "ctrl+n":
		w.pass(tea.KeyMsg{Type: tea.KeyCtrlN})
	default:
		g := *w.m.guide
		g.input.SetValue(typeable(text))
		w.m.guide = &g
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	}
	if w.m.mode == guiding {
		w.say("%s", plainText(w.m.guidePlain()))
		return
	}
	w.tell()
}

// guidePlain is the question of the guided start in words.
func (m Model) guidePlain() string {
	g, qs := m.guide, carfile.Questions()
	fault := ""
	if g.fault != "" {
		fault = g.fault + "\n"
	}
	if g.step >= len(qs) {
		return fault + fmt.Sprintf("Assumed, because nobody said it: %s.\n%d of %d. Name of the file? Nothing typed is %s.",
			strings.Join(carfile.GuideAssumes(g.answers, m.units), "; "), g.step+1, len(qs)+1, guideFile)
	}
	q := qs[g.step]
	return fault + fmt.Sprintf("%d of %d. %s %s %s Back goes back, esc leaves.", g.step+1, len(qs)+1, q.Ask, q.How, usual(q, m.units))
}

// tell says what the explorer now shows.
func (w *walker) tell() {
	m := w.m
	if m.message != "" {
		w.say("%s.", strings.TrimSuffix(plainText(m.message), "."))
	}
	switch {
	case m.prompting():
		if m.fault != "" {
			w.say("%s.", plainText(m.fault))
		}
		w.say("%s, or esc:", m.input.Placeholder)
	case m.form != nil:
		if m.form.fault != "" {
			w.ask()
			return
		}
		w.say("Line by line; an empty line leaves it open, esc goes back.")
		w.m.form = m.form.copied()
		w.m.form.at = 0
		w.ask()
	case m.mode == reading:
		for _, l := range m.page(m) {
			w.say("%s", plainText(l))
		}
		if m.accept != nil {
			w.say("enter takes it, esc does not.")
			return
		}
		w.m, _ = m.leave() // what is read is read
	case m.drill != nil:
		for _, l := range m.drillView(m.width, 100) {
			w.say("%s", plainText(l))
		}
		w.say("%s", plainText(m.drillFooter()))
	case m.row() == nil:
		w.say("There are no settings: stanchion why says why pairs do not go in.")
	default:
		for _, l := range m.spoken() {
			w.say("%s", l)
		}
	}
}
