package units

import (
	"fmt"
	"regexp"
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

// formula is where a spreadsheet may take text for a formula: at the start, after
// a line break, and after what separates fields elsewhere.
var formula = regexp.MustCompile(`(^|[\n;])([\s\p{Z}]*)([-=+@|%＝＋－＠])`)

// Cell makes text safe for a field of a CSV file: an apostrophe in front keeps a
// spreadsheet from taking it for a formula, and nothing in it can act on a terminal.
// Plain numbers are not for Cell. Uncell takes the apostrophe away.
func Cell(text string) string {
	text = PrintableLines(strings.ReplaceAll(text, "\t", " "), "\n")
	return formula.ReplaceAllString(text, "$1$2'$3")
}

// Uncell returns what Cell was given, of text on one line.
func Uncell(text string) string {
	if rest, ok := strings.CutPrefix(text, "'"); ok && formula.MatchString(rest) {
		return rest
	}
	return text
}
