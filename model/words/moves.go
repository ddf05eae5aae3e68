package words

import (
	"fmt"
	"strings"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// Moves says joint by joint which bolts a side must be moved from one setting to another, by the hole of
// the upper part that each goes through: "head: R from A2 to B2". Joints that stay as they are have no
// line.
func Moves(c *model.Car, from, to *holes.Setting) []string {
	var lines []string
	for j := range to.Fits {
		was, is := map[int]int{}, map[int]int{}
		for _, p := range from.Fits[j].Pairs {
			was[p.Upper] = p.Lower
		}
		var parts []string
		lower, upper := c.Parts[j].Holes, c.Parts[j+1].Holes
		for _, p := range to.Fits[j].Pairs {
			is[p.Upper] = p.Lower
			before, there := was[p.Upper]
			switch {
			case !there:
				parts = append(parts, fmt.Sprintf("%s into %s", upper[p.Upper].ID, lower[p.Lower].ID))
			case before != p.Lower:
				parts = append(parts, fmt.Sprintf("%s from %s to %s", upper[p.Upper].ID, lower[before].ID, lower[p.Lower].ID))
			}
		}
		for _, p := range from.Fits[j].Pairs {
			if _, stays := is[p.Upper]; !stays {
				parts = append(parts, fmt.Sprintf("%s out of %s", upper[p.Upper].ID, lower[p.Lower].ID))
			}
		}
		if len(parts) > 0 {
			lines = append(lines, c.Joints[j].Name+": "+strings.Join(parts, ", "))
		}
	}
	return lines
}

// MovesInShort is Moves without the joints' names, each bolt as "R A2→B2".
func MovesInShort(c *model.Car, from, to *holes.Setting) []string {
	var lines []string
	for j := range to.Fits {
		was, is := map[int]int{}, map[int]bool{}
		for _, p := range from.Fits[j].Pairs {
			was[p.Upper] = p.Lower
		}
		var parts []string
		lower, upper := c.Parts[j].Holes, c.Parts[j+1].Holes
		for _, p := range to.Fits[j].Pairs {
			is[p.Upper] = true
			before, there := was[p.Upper]
			switch {
			case !there:
				parts = append(parts, upper[p.Upper].ID+" into "+lower[p.Lower].ID)
			case before != p.Lower:
				parts = append(parts, upper[p.Upper].ID+" "+lower[before].ID+"→"+lower[p.Lower].ID)
			}
		}
		for _, p := range from.Fits[j].Pairs {
			if !is[p.Upper] {
				parts = append(parts, upper[p.Upper].ID+" out")
			}
		}
		if len(parts) > 0 {
			lines = append(lines, strings.Join(parts, " "))
		}
	}
	return lines
}

// MoveCount says how many bolts a side must be moved.
func MoveCount(from, to *holes.Setting) string {
	n := choose.Moves(from, to)
	if n == 0 {
		return "no bolt to move"
	}
	return "move " + units.Count(n, "bolt") + " a side"
}

// Changes says what changes from one setting to another: the bolts to move, and the figures that settings are
// compared by, with how sure that is.
func Changes(t *model.Table, from, to *model.Row, u units.System) []string {
	lines := []string{"from " + t.Name(from.Setting) + ": " + MoveCount(from.Setting, to.Setting)}
	for _, l := range Moves(t.Car, from.Setting, to.Setting) {
		lines = append(lines, "  "+l)
	}
	difference := model.DifferenceStdUnc(t.Budget(to), t.Budget(from))
	text := "  "
	for i, f := range figures.Pick(figures.InCompare...) {
		if i > 0 {
			text += ", "
		}
		text += f.Name + " " + f.Change(f.Of(t, to), f.Of(t, from), u)
		if std, ok := f.StdUncOf(difference); ok {
			text += " ± " + f.SpellStdUnc(std, u)
		}
		text += " " + f.ChangeUnit(u)
	}
	return append(lines, text+": "+Apart(t, to, from))
}
