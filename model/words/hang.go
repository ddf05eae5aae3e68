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
	text := strings.TrimLeft(line, " ")
	indent := line[:len(line)-len(text)]
	words := strings.Split(text, " ")
	var lines []string
	now := indent + words[0]
	for _, word := range words[1:] {
		if next := now + " " + word; utf8.RuneCountInString(next) <= cells {
			now = next
			continue
		}
		lines, now = append(lines, now), indent+"  "+word
	}
	return append(lines, now)
}
