package widgets

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Ink picks the style that a dot is drawn in, from the canvas's own; 0 is plain.
type Ink uint8

// Look is how an ink looks: its style, and whether an area of it is filled where there is no colour
// to tell it by.
type Look struct {
	Style lipgloss.Style
	Solid bool
}

// Brush renders short runs of text in one style without working the style out each time.
type Brush struct {
	style       lipgloss.Style
	ready       bool
	profile     termenv.Profile
	dark        bool
	open, close string
}

// NewBrush returns a brush of a style.
func NewBrush(style lipgloss.Style) *Brush { return &Brush{style: style} }

// Paint returns text in the brush's style.
func (b *Brush) Paint(text string) string {
	if profile, dark := lipgloss.ColorProfile(), lipgloss.HasDarkBackground(); !b.ready || profile != b.profile || dark != b.dark {
		const mark = "x"
		b.open, b.close, _ = strings.Cut(b.style.Render(mark), mark)
		b.ready, b.profile, b.dark = true, profile, dark
	}
	return b.open + text + b.close
}

// Colourless reports whether the terminal is given no colours, so that shape alone must tell.
func Colourless() bool { return lipgloss.ColorProfile() == termenv.Ascii }
