package widgets

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Deleting the next word takes the spaces before it too, from any place, and never
// runs over the end.
func TestDeleteNextWord(t *testing.T) {
	for _, row := range []struct {
		text string
		at   int
		want string
	}{{"one two three", 0, " two three"}, {"one two three", 3, "one three"}, {"one two three", 5, "one t three"}, {"one", 2, "on"}, {"one", 3, "one"}, {"one  ", 3, "one"}, {"", 0, ""}, {"é 車", 1, "é"}} {
		for _, key := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune("d"), Alt: true}, {Type: tea.KeyDelete, Alt: true}} {
			in := NewField("", 80)
			in.Focus()
			in.SetValue(row.text)
			in.SetCursor(row.at)
			in, _ = TypeInto(in, key)
			if in.Value() != row.want || in.Position() != min(row.at, len([]rune(row.want))) {
				t.Errorf("%q at %d: %q at %d, want %q", row.text, row.at, in.Value(), in.Position(), row.want)
			}
		}
	}
}

// What could act on a terminal or hide does not get into a line, typed or pasted.
func TestNothingHiddenIsTyped(t *testing.T) {
	in := NewField("", 80)
	in.Focus()
	for _, paste := range []bool{false, true} {
		in.SetValue("")
		in, _ = TypeInto(in, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("a\u202eb\x1b[2Jc\rd\u200be\ufe0f"), Paste: paste})
		if in.Value() != "ab[2Jc de" {
			t.Errorf("pasted %v: %q", paste, in.Value())
		}
	}
}

// A variation selector after a letter does not make a line wider than its terminal.
func TestSelectorsTakeNoRoom(t *testing.T) {
	for _, l := range strings.Split(Fit([]string{strings.Repeat("e\ufe0f1\ufe0f\u20e3", 20), strings.Repeat("🏎\ufe0f", 20)}, 30, 2, Braille), "\n") {
		if w := ansi.StringWidth(l); w != 30 {
			t.Errorf("%d cells: %q", w, l)
		}
	}
}
