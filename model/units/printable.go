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

// Hidden reports whether a character acts on a terminal or cannot be seen.
func Hidden(r rune) bool { return r == unicode.ReplacementChar || !unicode.IsPrint(r) }
