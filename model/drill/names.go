package drill

import (
	"slices"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/model"
)

// HoleRef is a hole by part and index.
type HoleRef struct{ Part, Hole int }

// FindHole returns every hole of the car that a word names: "A3" or, to say of
// which part, "upright.A3".
// Upper and lower case count only where that tells holes apart.
func FindHole(c *model.Car, word string) []HoleRef {
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		var found []HoleRef
		for p, part := range c.Parts {
			for h, hole := range part.Holes {
				if same(hole.ID, word) || same(part.Name+"."+hole.ID, word) {
					found = append(found, HoleRef{p, h})
				}
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

// FreeHoleName returns the name N1, N2 … for the n-th new hole of a part, n from 0,
// leaving out what names a hole or a slot of it already.
func FreeHoleName(p model.Part, n int) string {
	for i := 1; ; i++ {
		name := "N" + strconv.Itoa(i)
		if slices.ContainsFunc(p.Holes, func(h holes.Hole) bool { return strings.EqualFold(h.ID, name) || strings.EqualFold(h.Slot, name) }) {
			continue
		}
		if n == 0 {
			return name
		}
		n--
	}
}
