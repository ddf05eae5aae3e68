// Package widgets draws what any terminal program needs: a screen of panes, a picture of
// braille dots, a plot, a form, a line to type into. It knows no car.
package widgets

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Screen is a grid of lines that panes are put into, left to right.
type Screen struct {
	w      int
	lines  []string
	used   []int // cells taken in each line
	glyphs Glyphs
}

// NewScreen returns an empty screen of w by h cells.
func NewScreen(w, h int, glyphs Glyphs) *Screen {
	return &Screen{w, make([]string, h), make([]int, h), glyphs}
}

// Fit cuts or fills lines to a screen.
func Fit(lines []string, w, h int, glyphs Glyphs) string {
	s := NewScreen(w, h, glyphs)
	s.Put(Rect{0, 0, w, h}, lines)
	return s.String()
}

// withoutSelectors leaves out variation selectors (U+FE00 to U+FE0F): after a letter
// they make it one cell or two, as the terminal likes, so no width could be promised.
func withoutSelectors(text string) string {
	if !strings.Contains(text, "\xef\xb8") { // how all of them begin in UTF-8
		return text
	}
	return strings.Map(func(r rune) rune {
		if isSelector(r) {
			return -1
		}
		return r
	}, text)
}

func isSelector(r rune) bool { return r >= '\ufe00' && r <= '\ufe0f' }

// Put places lines into a rectangle, cut or filled to its size. Panes that
// share lines are put from left to right.
func (s *Screen) Put(r Rect, lines []string) {
	for i := range r.H {
		y := r.Y + i
		if y >= len(s.lines) {
			return
		}
		text := ""
		if i < len(lines) {
			text = lines[i]
		}
		if gap := r.X - s.used[y]; gap > 0 {
			s.lines[y] += strings.Repeat(" ", gap)
		}
		text = ansi.Truncate(s.glyphs.Spell(withoutSelectors(text)), r.W, s.glyphs.Spell("…"))
		s.lines[y] += text + strings.Repeat(" ", max(0, r.W-ansi.StringWidth(text)))
		s.used[y] = r.X + r.W
	}
}

// Pane puts a title line and what view draws below it.
func (s *Screen) Pane(r Rect, title string, view func(w, h int) []string) {
	title = ansi.Truncate(title, r.W-4, "…")
	rule := strings.Repeat("─", max(0, r.W-ansi.StringWidth(title)-4))
	s.Put(Rect{r.X, r.Y, r.W, 1}, []string{quiet.Paint("── ") + title + quiet.Paint(" "+rule)})
	s.Put(Rect{r.X, r.Y + 1, r.W, r.H - 1}, view(r.W, r.H-1))
}

// Over puts a text over a whole line.
func (s *Screen) Over(y int, text string) {
	s.lines[y], s.used[y] = "", 0
	s.Put(Rect{0, y, s.w, 1}, []string{text})
}

// String returns the screen as lines of text.
func (s *Screen) String() string { return strings.Join(s.lines, "\n") }

// Rect is a part of the screen in cells, from the top left corner.
type Rect struct{ X, Y, W, H int }

// Holds reports whether a cell lies in the rectangle.
func (r Rect) Holds(x, y int) bool { return x >= r.X && x < r.X+r.W && y >= r.Y && y < r.Y+r.H }

// Pad sets text to the right of a column.
func Pad(text string, w int) string {
	return strings.Repeat(" ", max(0, w-ansi.StringWidth(text))) + text
}

// Wrap breaks text into lines of at most w cells, at spaces where it can.
func Wrap(text string, w int) []string {
	if w < 1 {
		return nil
	}
	return strings.Split(ansi.Wrap(text, w, ""), "\n")
}

// Flow puts texts beside one another, two blanks apart, on as few lines of w cells as none of them is
// broken on that fits into one.
func Flow(parts []string, w int) []string {
	var lines []string
	line := ""
	for _, p := range parts {
		switch {
		case line == "":
			line = p
		case ansi.StringWidth(line)+2+ansi.StringWidth(p) <= w:
			line += "  " + p
		default:
			lines, line = append(lines, line), p
		}
	}
	lines = append(lines, line)
	var wrapped []string
	for _, l := range lines {
		wrapped = append(wrapped, Wrap(l, w)...)
	}
	return wrapped
}

// Shorten cuts a text to a width.
func Shorten(s string, w int) string {
	r := []rune(s)
	if len(r) <= w {
		return s
	}
	return string(r[:max(w-1, 0)]) + "…"
}
