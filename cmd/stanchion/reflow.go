package main

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"stanchion/model/words"
)

// filled is how long a line of laid-out prose is at least, in cells, that was broken since it was full.
const filled = 60

// notProse finds lines that stand as they are: of a car file, and commands, which are set in.
var notProse = regexp.MustCompile(`^( *(#|\{|\}|\[\[|[a-z_.]+ += )| +stanchion )`)

// reflowed returns lines of laid-out text in which a paragraph with a line of more than cells is broken anew as a whole, so that none of
// its lines ends early. Tables, commands and files in the text keep their lines.
func reflowed(lines []string, cells int) (out []string) {
	for i := 0; i < len(lines); {
		n, wide := 1, utf8.RuneCountInString(lines[i]) > cells
		for i+n < len(lines) && goesOn(lines[i], lines[i+n-1], lines[i+n]) {
			wide = wide || utf8.RuneCountInString(lines[i+n]) > cells
			n++
		}
		if !wide || n == 1 {
			out = append(out, wrapped(lines[i:i+n], cells)...)
			i += n
			continue
		}
		text := lines[i]
		for _, l := range lines[i+1 : i+n] {
			text += " " + strings.TrimLeft(l, " ")
		}
		out = append(out, words.HangAt(text, cells, margin(lines[i+1]))...)
		i += n
	}
	return out
}

// wrapped breaks lines each by itself.
func wrapped(lines []string, cells int) (out []string) {
	for _, l := range lines {
		out = append(out, words.HangAtText(l, cells)...)
	}
	return out
}

// goesOn reports whether a line of laid-out prose goes on with the paragraph that began with first, after the line before.
func goesOn(first, before, line string) bool {
	text, head := strings.TrimLeft(line, " "), strings.TrimLeft(first, " ")
	if text == "" || utf8.RuneCountInString(before) < filled || notProse.MatchString(line) || notProse.MatchString(first) ||
		strings.HasPrefix(text, "- ") || gaps(line) > 0 {
		return false
	}
	at := margin(first)
	switch name, rest, found := strings.Cut(head, "  "); {
	case strings.HasPrefix(head, "- "):
		at += 2
	case found: // what stands before two blanks is a name, and the text goes on below itself
		at += utf8.RuneCountInString(name) + 2 + margin(rest)
		if at == margin(first)+utf8.RuneCountInString(head) || gaps(first) > 1 {
			return false
		}
	}
	return margin(line) == at
}

// margin counts the blanks that a line begins with.
func margin(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
