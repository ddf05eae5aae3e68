package units

import (
	"fmt"
	"strings"
	"unicode"
)

// Printable returns text with everything that could act on a terminal, or hide
// in it, written out as an escape.
func Printable(text string) string {
	if strings.IndexFunc(text, Hidden) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if Hidden(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// PrintableLines is Printable for text of several lines, which between holds
// apart.
func PrintableLines(text, between string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = Printable(l)
	}
	return strings.Join(lines, between)
}

// Hidden reports whether a character acts on a terminal or cannot be seen.
func Hidden(r rune) bool { return r == unicode.ReplacementChar || !unicode.IsPrint(r) }
