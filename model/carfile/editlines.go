package carfile

import (
	"strings"
	"unicode/utf8"

	"stanchion/model/units"
)

// mostCompared is up to how many pairs of lines are compared to find those that did not change.
const mostCompared = 4_000_000

// Lines returns the lines of a text that edits touch, as they were and as they
// are, for showing the change.
func Lines(before, after []byte) (minus, plus []string) {
	a, b := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	from := 0
	for from < len(a) && from < len(b) && a[from] == b[from] {
		from++
	}
	tail := 0
	for tail < len(a)-from && tail < len(b)-from && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	a, b = a[from:len(a)-tail], b[from:len(b)-tail]
	if len(a)*len(b) <= mostCompared {
		a, b = apart(a, b)
	}
	return clean(a), clean(b)
}

// apart leaves out of two texts the longest run of lines that both have in this order.
func apart(a, b []string) (onlyA, onlyB []string) {
	most := make([][]int32, len(a)+1) // of lines in common, from line i of a and k of b on
	for i := range most {
		most[i] = make([]int32, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for k := len(b) - 1; k >= 0; k-- {
			if most[i][k] = max(most[i+1][k], most[i][k+1]); a[i] == b[k] {
				most[i][k] = most[i+1][k+1] + 1
			}
		}
	}
	i, k := 0, 0
	for i < len(a) && k < len(b) {
		switch {
		case a[i] == b[k]:
			i, k = i+1, k+1
		case most[i+1][k] >= most[i][k+1]:
			onlyA, i = append(onlyA, a[i]), i+1
		default:
			onlyB, k = append(onlyB, b[k]), k+1
		}
	}
	return append(onlyA, a[i:]...), append(onlyB, b[k:]...)
}

// clean makes lines safe for a terminal.
func clean(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		if !utf8.ValidString(l) {
			l = strings.ToValidUTF8(l, "?")
		}
		out[i] = units.Printable(strings.TrimRight(l, "\r"))
	}
	return out
}
