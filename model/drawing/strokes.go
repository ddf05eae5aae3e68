package drawing

import (
	"strings"

	"stanchion/holes/plane"
)

// strokes are letters as single lines for engraving: a laser or a cutter draws no font. Each is one or more lines through
// points of a grid, x of 0 to 4 and z of 0 to 8; the base line is at 2, capitals reach to 8. A nought is crossed out, so
// that it is no O.
var strokes = map[rune]string{
	'A': "02 28 42|15 35", 'B': "02 08 38 47 46 35 05|35 44 43 32 02", 'C': "47 38 18 07 03 12 32 43",
	'D': "02 08 28 46 44 22 02", 'E': "42 02 08 48|05 35", 'F': "02 08 48|05 35", 'G': "47 38 18 07 03 12 32 43 45 25",
	'H': "02 08|42 48|05 45", 'I': "12 32|22 28|18 38", 'J': "03 12 22 33 38", 'K': "02 08|48 05 42", 'L': "08 02 42",
	'M': "02 08 25 48 42", 'N': "02 08 42 48", 'O': "12 03 07 18 38 47 43 32 12", 'P': "02 08 38 47 46 35 05",
	'Q': "12 03 07 18 38 47 43 32 12|24 42", 'R': "02 08 38 47 46 35 05|25 42", 'S': "03 12 32 43 44 35 15 06 07 18 38 47",
	'T': "22 28|08 48", 'U': "08 03 12 32 43 48", 'V': "08 22 48", 'W': "08 12 25 32 48", 'X': "02 48|08 42",
	'Y': "08 25 48|25 22", 'Z': "08 48 02 42",
	'0': "12 03 07 18 38 47 43 32 12|03 47", '1': "07 28 22|12 32", '2': "07 18 38 47 46 02 42",
	'3': "08 48 25 35 44 43 32 12 03", '4': "32 38 04 44", '5': "48 08 05 35 44 43 32 12 03",
	'6': "47 38 18 07 03 12 32 43 44 35 15 04", '7': "08 48 12", '8': "15 06 07 18 38 47 46 35 15 04 03 12 32 43 44 35",
	'9': "03 12 32 43 47 38 18 07 06 15 35 46",
	'a': "16 36 45 42|44 14 03 12 32 43", 'b': "08 02 32 43 45 36 06", 'c': "45 36 16 05 03 12 32 43", 'd': "48 42 12 03 05 16 46",
	'e': "04 44 45 36 16 05 03 12 32 43", 'f': "12 17 28 38|06 36", 'g': "46 16 05 03 12 42|46 41 30 10", 'h': "08 02|05 16 36 45 42",
	'i': "22 26|27 28", 'j': "00 10 21 26|27 28", 'k': "08 02|46 04 42", 'l': "22 28", 'm': "02 06|05 16 25 22|25 36 45 42",
	'n': "02 06|05 16 36 45 42", 'o': "12 03 05 16 36 45 43 32 12", 'p': "00 06 36 45 43 32 02", 'q': "40 46 16 05 03 12 42",
	'r': "02 06|05 16 36", 's': "03 12 32 43 34 14 05 16 36 45", 't': "18 13 22 32|06 36", 'u': "06 03 12 32 43|46 42",
	'v': "06 22 46", 'w': "06 12 24 32 46", 'x': "02 46|06 42", 'y': "06 24|46 10", 'z': "06 46 02 42",
	'-': "15 35", '+': "05 45|23 27", '.': "22 23", ',': "23 11", '_': "02 42", '/': "02 48", ':': "22 23|25 26", '=': "04 44|06 46",
	'#': "12 18|32 38|04 44|06 46", '(': "38 27 23 32", ')': "18 27 23 12", '\'': "26 28", '*': "14 36|16 34|05 45", ' ': "",
}

// The grid of strokes: how high a capital is, how wide a letter with the space behind it, how deep it reaches.
const (
	strokeCap   = 6.0
	strokeWide  = 6.0
	strokeBelow = 2.0
)

// engraved returns a text as lines with its base line's start at a place, capitals so many mm high, and reports whether it
// has only letters that there are strokes for.
func engraved(text string, at plane.Point, high float64) (all []Path, ok bool) {
	unit := high / strokeCap
	for i, r := range []rune(text) {
		lines, known := strokes[r]
		if !known {
			return nil, false
		}
		for _, line := range strings.Split(lines, "|") {
			var p Path
			for _, q := range strings.Fields(line) {
				x, z := float64(q[0]-'0')+strokeWide*float64(i), float64(q[1]-'0')-strokeBelow
				p.Points = append(p.Points, at.Add(plane.Point{X: x, Z: z}.Times(unit)))
			}
			if len(p.Points) > 0 {
				all = append(all, p)
			}
		}
	}
	return all, len(all) > 0
}

// engravedSize is how wide and high a text is that is engraved, with what reaches below its base line.
func engravedSize(text string, high float64) (w, h, below float64) {
	unit := high / strokeCap
	return (strokeWide*float64(len([]rune(text))) - 2) * unit, (strokeCap + strokeBelow) * unit, strokeBelow * unit
}
