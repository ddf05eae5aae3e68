package holes

import (
	"fmt"
	"strings"
)

// FitID names a fit by the holes of its bolts: "A:F+A3:R" for a bolt through A
// of the lower and F of the upper part, and one through A3 and R. A setting's
// id is its fits' ids with a slash between joints. Signs that have a meaning
// in an id, and spaces, are written as %XX when they stand in a hole's name.
//
// The name depends on nothing but the fit's own holes and their order, so
// adding a hole renames no fit that does not take it.
func FitID(lower, upper Part, f Fit) string {
	var b strings.Builder
	for i, p := range f.Pairs {
		if i > 0 {
			b.WriteByte('+')
		}
		b.WriteString(escape(lower.Holes[p.Lower].ID))
		b.WriteByte(':')
		b.WriteString(escape(upper.Holes[p.Upper].ID))
	}
	return b.String()
}

func escape(id string) string {
	if !strings.ContainsAny(id, ":+/% \t") {
		return id
	}
	var b strings.Builder
	for _, c := range []byte(id) {
		if strings.IndexByte(":+/% \t", c) >= 0 {
			fmt.Fprintf(&b, "%%%02X", c)
		} else {
			b.WriteByte(c)
		}
	}
	return b.String()
}
