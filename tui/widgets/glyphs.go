package widgets

import (
	mathbits "math/bits"
	"strings"
)

// Glyphs are the signs that pictures and rules are drawn with.
type Glyphs int

// The kinds of glyphs, the finest first.
const (
	Braille Glyphs = iota // dots, two across and four down in a cell
	Blocks                // quarters of a cell, for terminals whose font has no braille
	ASCII                 // letters and signs that every terminal has
)

// quarters are the block elements by their quarters: upper left 1, upper right 2, lower left 4,
// lower right 8.
var quarters = [16]rune{' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█'}

// quarterBits returns which quarters of a cell have at least so many of their two dots.
func quarterBits(bits uint8, least int) int {
	q := 0
	for i, of := range [4]uint8{1 | 2, 8 | 16, 4 | 64, 32 | 128} {
		if n := mathbits.OnesCount8(bits & of); n >= least {
			q |= 1 << i
		}
	}
	return q
}

// lineRune is the sign for a cell of a line drawing.
func (g Glyphs) lineRune(bits uint8) rune {
	switch g {
	case Braille:
		return 0x2800 + rune(bits)
	case Blocks:
		return quarters[quarterBits(bits, 1)]
	}
	left, right := bits&(1|2|4|64) != 0, bits&(8|16|32|128) != 0
	rows := [4]bool{bits&(1|8) != 0, bits&(2|16) != 0, bits&(4|32) != 0, bits&(64|128) != 0}
	n := 0
	for _, r := range rows {
		if r {
			n++
		}
	}
	switch {
	case n >= 3 && left != right:
		return '|'
	case n >= 3:
		return '#'
	case left && right && rows[0] && !rows[3]:
		return '\''
	case left && right && rows[3] && !rows[0]:
		return '_'
	case left && right:
		return '-'
	case rows[0]:
		return '\''
	}
	return '.'
}

// fillRune is the sign for a cell of a filled area.
func (g Glyphs) fillRune(bits uint8) rune {
	if g != ASCII {
		return quarters[quarterBits(bits, 1)]
	}
	switch q := quarterBits(bits, 1); q {
	case 0:
		return ' '
	case 1, 2, 3:
		return '"'
	case 4, 8, 12:
		return '_'
	}
	return '#'
}

// inASCII spells the signs of the screen in ASCII, each as wide as it was but for ±.
var inASCII = strings.NewReplacer(
	"─", "-", "│", "|", "└", "+", "┘", "+", "┌", "+", "┐", "+", "├", "|", "┤", "|", "┼", "+", "┊", ":", "┃", "|", "━", "-", "═", "=", "╵", "'",
	"±", "+-", "−", "-", "–", "-", "·", ".", "•", "*", "×", "x", "✓", "v", "✗", "x", "≈", "~", "°", "d", "²", "2", "³", "3", "ρ", "rho",
	"…", "~", "←", "<", "→", ">", "↑", "^", "↓", "v", "▸", ">", "◂", "<", "◆", "#", "◇", "o", "▷", ">", "○", "o", "●", "#", "⊕", "+",
	"½", "1/2", "Δ", "d", "ö", "o", "é", "e", "ü", "u", "ä", "a", "¼", "1/4", "≤", "<=", "≥", ">=", "°C", "C", "²", "2",
	"α", "alpha", "ε", "eps", "θ", "theta", "τ", "tau", "Ø", "dia.", "′", "'", "“", "\"", "”", "\"", "’", "'", "½", "1/2", "√", "sqrt",
	"▁", "_", "█", "#", "▌", "|", "▐", "|", "▀", "\"", "▄", "_",
)

// Spell returns text in the glyphs' signs.
func (g Glyphs) Spell(text string) string {
	if g != ASCII {
		return text
	}
	text = inASCII.Replace(text)
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '?'
		}
		return r
	}, text)
}
