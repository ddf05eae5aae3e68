package widgets

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
)

// NewField returns a line to type into, at most limit characters long. Its cursor
// stands still, so that nothing is drawn while nobody types.
func NewField(hint string, limit int) textinput.Model {
	in := textinput.New()
	in.Prompt, in.Placeholder, in.CharLimit = "", hint, limit
	in.Cursor.SetMode(cursor.CursorStatic)
	// The library's own deletion of the next word runs over the end of the text.
	in.KeyMap.DeleteWordForward = key.NewBinding(key.WithDisabled())
	return in
}

// TypeInto gives a line a key. What is typed or pasted loses all that could act on a
// terminal or hide in it.
func TypeInto(in textinput.Model, msg tea.KeyMsg) (textinput.Model, tea.Cmd) {
	switch msg.String() {
	case "alt+d", "alt+delete":
		return withoutNextWord(in), nil
	}
	if msg.Type == tea.KeyRunes {
		if msg.Runes = []rune(Typeable(string(msg.Runes))); len(msg.Runes) == 0 {
			return in, nil
		}
	}
	return in.Update(msg)
}

// Typeable leaves out of a text what a line cannot show as it is; line ends and tabs
// become spaces.
func Typeable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			return ' '
		case units.Hidden(r), isSelector(r):
			return -1
		}
		return r
	}, text)
}

// withoutNextWord deletes from the cursor to the end of the word that it is in or
// before.
func withoutNextWord(in textinput.Model) textinput.Model {
	text, from := []rune(in.Value()), in.Position()
	to := from
	for to < len(text) && unicode.IsSpace(text[to]) {
		to++
	}
	for to < len(text) && !unicode.IsSpace(text[to]) {
		to++
	}
	in.SetValue(string(text[:from]) + string(text[to:]))
	in.SetCursor(from)
	return in
}

// Field is a line to type into.
type Field = textinput.Model
