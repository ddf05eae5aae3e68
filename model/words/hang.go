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
	return hangAt(line, cells, at)
}

// leading counts the blanks that a text begins with.
func leading(text string) int { return len(text) - len(strings.TrimLeft(text, " ")) }

// hangAt breaks a line, with what follows so many blanks in.
func hangAt(line string, cells, at int) []string {
	if utf8.RuneCountInString(line) <= cells {
		return []string{line}
	}
	indent := leading(line)
	words := strings.Split(line[indent:], " ")
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
