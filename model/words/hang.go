package words

import (
	"strings"
	"unicode/utf8"
)

// LineWidth is how many cells a line of text that a command prints has at most, where it can be broken.
const LineWidth = 80

// Hang breaks a line between words where it is longer than so many cells, and sets what follows two blanks in
// from where it begins. A word that is longer stays whole.
func Hang(line string, cells int) []string {
	return hangAt(line, cells, leading(line)+2)
}

// HangAtText is Hang with what follows set in to where the text of the line begins: behind its number, "10. ", or behind
// a name that two blanks or more part from it. Where that leaves little room it is Hang.
func HangAtText(line string, cells int) []string {
	indent := leading(line)
	at := indent + 2
	text := line[indent:]
	if n := len(text) - len(strings.TrimLeft(text, "0123456789")); n > 0 && strings.HasPrefix(text[n:], ". ") {
		at = indent + n + 2
	}
	if name, rest, found := strings.Cut(text, "  "); found && name != "" {
		at = indent + utf8.RuneCountInString(name) + 2 + leading(rest)
	}
	if at > cells/2 {
		at = indent + 2
	}
	if head, tail, row := lastColumn(line); row && utf8.RuneCountInString(line) > cells &&
		utf8.RuneCountInString(head) <= cells && at+utf8.RuneCountInString(tail) <= cells {
		return []string{head, strings.Repeat(" ", at) + tail} // a row is broken between its columns
	}
	return hangAt(line, cells, at)
}

// HangAt breaks a line, with what follows at blanks in.
func HangAt(line string, cells, at int) []string { return hangAt(line, cells, at) }

// lastColumn parts the last column off a row of three columns or more, two blanks or more between them.
func lastColumn(line string) (head, tail string, row bool) {
	text := strings.TrimSpace(line)
	i := strings.LastIndex(text, "  ")
	if i < 0 || !strings.Contains(strings.TrimRight(text[:i], " "), "  ") {
		return "", "", false
	}
	return strings.Repeat(" ", leading(line)) + strings.TrimRight(text[:i], " "), text[i+2:], true
}

// leading counts the blanks that a text begins with.
func leading(text string) int { return len(text) - len(strings.TrimLeft(text, " ")) }

// orphan is how short a last line is that is evened out with those before it.
const orphan = 12

// hangAt breaks a line, with what follows so many blanks in. A last line of a word or two gets some more from those
// before it.
func hangAt(line string, cells, at int) []string {
	lines := brokenAt(line, cells, at)
	for less := cells - 1; cells >= 4*orphan && len(lines) > 1 && less >= cells*3/4; less-- {
		last := lines[len(lines)-1]
		if utf8.RuneCountInString(last)-at >= orphan {
			break
		}
		even := brokenAt(line, less, at)
		if len(even) > len(lines) {
			break
		}
		lines = even
	}
	return lines
}

func brokenAt(line string, cells, at int) []string {
	if utf8.RuneCountInString(line) <= cells {
		return []string{line}
	}
	indent := leading(line)
	words := unbroken(strings.Split(line[indent:], " "))
	var lines []string
	now := line[:indent] + words[0]
	for _, word := range words[1:] {
		if next := now + " " + word; utf8.RuneCountInString(next) <= cells {
			now = next
			continue
		}
		if word == "" {
			continue // blanks where it is broken
		}
		lines, now = append(lines, strings.TrimRight(now, " ")), strings.Repeat(" ", at)+word
	}
	return append(lines, strings.TrimRight(now, " "))
}

// unitWords stand with the number before them, and beforeNumbers with the number behind.
var (
	unitWords = map[string]bool{"mm": true, "m": true, "m²": true, "in": true, "N": true, "kgf": true, "lbf": true, "N·m": true, "MPa": true,
		"kg": true, "lb": true, "km/h": true, "mph": true, "m/s": true, "%": true, "°": true, "pp": true, "Hz": true, "g": true, "rpm": true, "kg/m³": true}
	beforeNumbers = map[string]bool{"EN": true, "ISO": true, "VDI": true, "Table": true, "FAT": true, "Re": true, "±": true, "row": true, "(VDI": true,
		"(EN": true}
)

// unbroken joins words that a line is not broken between: a number and its unit, ± and its number.
func unbroken(words []string) []string {
	var all []string
	for i, w := range words {
		if i > 0 && w != "" && words[i-1] != "" {
			before := words[i-1]
			digit := func(c byte) bool { return c >= '0' && c <= '9' }
			number, figure := digit(before[len(before)-1]), digit(w[0])
			if number && (unitWords[strings.TrimRight(w, ".,;:)")] || w == "±") || figure && beforeNumbers[before] {
				all[len(all)-1] += " " + w
				continue
			}
		}
		all = append(all, w)
	}
	return all
}
