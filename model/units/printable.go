package units

import (
	"fmt"
	"regexp"
	"strconv"
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
// a line break, and after what separates fields elsewhere; apostrophes before it are the text's own.
var formula = regexp.MustCompile(`(^|[\n;])([\s\p{Z}]*)('*[-=+@|%＝＋－＠])`)

// kept is formula with the apostrophe that keeps a spreadsheet from it.
var kept = regexp.MustCompile(`(^|[\n;])([\s\p{Z}]*)'('*[-=+@|%＝＋－＠])`)

// Cell makes text safe for a field of a CSV file: an apostrophe in front keeps a
// spreadsheet from taking it for a formula, and nothing in it can act on a terminal.
// Plain numbers are not for Cell. Uncell takes the apostrophe away.
func Cell(text string) string {
	return guarded(PrintableLines(strings.ReplaceAll(text, "\t", " "), "\n"))
}

func guarded(text string) string { return formula.ReplaceAllString(text, "$1$2'$3") }

// Uncell takes away the apostrophes that Cell puts into a text.
func Uncell(text string) string { return kept.ReplaceAllString(text, "$1$2$3") }

// escaped is a character that is written out, or what would be read as one.
var escaped = regexp.MustCompile(`\\u[0-9a-f]{4}|\\U[0-9a-f]{8}`)

// ExactCell is Cell of which FromExactCell makes the very text again: tabs and what cannot be seen are written
// out as \u0009, and the backslash of a text that has such a thing itself as \u005c; so are the characters in
// also. Line breaks stay.
func ExactCell(text, also string) string {
	text = escaped.ReplaceAllStringFunc(text, func(e string) string { return `\u005c` + e[1:] })
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\n' && !strings.ContainsRune(also, r):
			b.WriteRune(r)
		case r > 0xFFFF && Hidden(r):
			fmt.Fprintf(&b, "\\U%08x", r)
		case Hidden(r) || strings.ContainsRune(also, r):
			fmt.Fprintf(&b, "\\u%04x", r)
		default:
			b.WriteRune(r)
		}
	}
	return guarded(b.String())
}

// FromExactCell returns what ExactCell was given.
func FromExactCell(cell string) string {
	return escaped.ReplaceAllStringFunc(Uncell(cell), func(e string) string {
		n, err := strconv.ParseUint(e[2:], 16, 32)
		if err != nil || n > unicode.MaxRune {
			return e
		}
		return string(rune(n))
	})
}
