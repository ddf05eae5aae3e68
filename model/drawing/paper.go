package drawing

import "strings"

// Paper is a size of paper, mm, upright. A roll has no height: it is cut off as long as a drawing takes, and its width is
// that of the narrower of two kinds.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are the sizes that drawings are laid out on.
// Source: ISO 216 for A4 to A1; ANSI/ASME Y14.1 for Letter and Tabloid (ANSI B); rolls of 24 and of 36 inches
// are common practice, no source.
var Papers = []Paper{{"a4", 210, 297}, {"letter", 215.9, 279.4}, {"a3", 297, 420}, {"tabloid", 279.4, 431.8}, {"a2", 420, 594},
	{"a1", 594, 841}, {"roll", 610, 0}}

// wideRoll is the width of the wider roll, and rollPage how long a piece is where one does not do, mm.
const (
	wideRoll = 914.0
	rollPage = 2000.0
)

// PaperNamed finds a size of paper.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers {
		if strings.EqualFold(p.Name, name) {
			return p, true
		}
	}
	return Paper{}, false
}

// PaperNames lists the names of Papers.
func PaperNames() []string {
	var all []string
	for _, p := range Papers {
		all = append(all, p.Name)
	}
	return all
}

// usualPapers are those that a drawing is tried on, the smallest first, where none is asked for.
func usualPapers(inches bool) []Paper {
	names := []string{"a4", "a3", "a2", "a1", "roll"}
	if inches {
		names = []string{"letter", "tabloid", "roll"}
	}
	var all []Paper
	for _, n := range names {
		p, _ := PaperNamed(n)
		all = append(all, p)
	}
	return all
}
