package model

import (
	"slices"
	"strings"
)

// Matches returns the rows that the words name: the one row with that id or
// alternative, or else all rows that take every bolt and hole named. A word is
// a bolt "A:F", several joined by + or /, or the name of a hole.
func (t *Table) Matches(words []string) []int {
	if len(words) == 1 {
		if i, ok := t.Find(words[0]); ok {
			return []int{i}
		}
	}
	var wanted []string
	for _, w := range words {
		wanted = append(wanted, strings.FieldsFunc(w, func(r rune) bool { return r == '+' || r == '/' || r == ' ' })...)
	}
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		var found []int
		for i := range t.Rows {
			if len(wanted) > 0 && t.takes(i, wanted, same) {
				found = append(found, i)
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

// takes reports whether row i has all the bolts and holes.
func (t *Table) takes(i int, wanted []string, same func(a, b string) bool) bool {
	var has []string
	for _, pairs := range t.Car.Bolts(t.Rows[i].Place) {
		for _, p := range pairs {
			has = append(has, p[0], p[1], p[0]+":"+p[1], p[1]+":"+p[0])
		}
	}
	for _, w := range wanted {
		if !slices.ContainsFunc(has, func(h string) bool { return same(h, w) }) {
			return false
		}
	}
	return true
}
