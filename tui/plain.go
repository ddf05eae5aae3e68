package tui

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/tui/widgets"
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
		w.m.open.tell(w)
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
	if w.typing() {
		w.typed(text)
		return
	}
	for _, word := range strings.Fields(text) {
		w.pass(plainKey(word))
		if w.done {
			return
		}
		if w.typing() {
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

// typing reports whether a line is text, not keys.
func (w *walker) typing() bool { return w.m.open != nil && w.m.open.typing() }

// typed takes a line of text.
func (w *walker) typed(text string) {
	if !strings.EqualFold(text, "esc") {
		w.m.open.typed(w, text)
		return
	}
	w.pass(tea.KeyMsg{Type: tea.KeyEsc})
	if w.m.car == nil {
		w.done = true
		w.say("%s", w.m.message)
		return
	}
	w.tell()
}

// typeInForm takes the text for the line of a form that is asked, and asks the next one.
// put puts a changed form into its mode; keep, when given, keeps what is typed.
func (w *walker) typeInForm(f widgets.Form, text string, put func(widgets.Form) mode, keep func()) {
	if text != "" {
		f = f.Filled(text)
		w.m = w.m.with(put(f))
		if keep != nil {
			keep()
		}
	}
	if f.At < len(f.Fields)-1 {
		f.At++
		f.Fault = ""
		w.m = w.m.with(put(f))
		w.ask(f)
		return
	}
	w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	w.tell()
}

// tellForm asks for the first line of a form, or for the one that has a fault.
func (w *walker) tellForm(f widgets.Form, put func(widgets.Form) mode) {
	if f.Fault == "" {
		w.say("Line by line; an empty line leaves it open, esc goes back.")
		f.At = 0
		w.m = w.m.with(put(f))
	}
	w.ask(f)
}

// ask says which line of a form is typed now.
func (w *walker) ask(f widgets.Form) {
	if f.Fault != "" {
		w.say("%s", plainText(f.Fault))
	}
	now := ""
	if v := f.Fields[f.At].Value(); v != "" {
		now = ", now " + v
	}
	w.say("%s (%s%s), or an empty line, or esc:", strings.TrimSpace(f.Names[f.At]), f.Fields[f.At].Placeholder, now)
}

// tell says what the explorer now shows.
func (w *walker) tell() {
	m := w.m
	switch {
	case strings.Contains(m.message, "\n"): // with a command to copy
		w.say("%s", m.message)
	case m.message != "":
		w.say("%s.", strings.TrimSuffix(plainText(m.message), "."))
	}
	switch {
	case m.open != nil:
		m.open.tell(w)
	case m.row() == nil:
		w.say("There are no settings: stanchion why says why pairs do not go in.")
	case m.large != notLarge:
		for _, l := range m.spokenTable() {
			w.say("%s", l)
		}
	default:
		for _, l := range m.spoken() {
			w.say("%s", l)
		}
	}
}
