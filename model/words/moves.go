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

// boltMove is a bolt through a hole of the upper part that goes from one hole of the lower part to another; "" where
// it goes in or comes out.
type boltMove struct{ upper, from, to string }

// boltMoves lists the bolts a side of one joint that move from one setting to another.
func boltMoves(c *model.Car, from, to *holes.Setting, joint int) (moves []boltMove) {
	lower, upper := c.Parts[joint].Holes, c.Parts[joint+1].Holes
	was, stays := map[int]int{}, map[int]bool{}
	for _, p := range from.Fits[joint].Pairs {
		was[p.Upper] = p.Lower
	}
	for _, p := range to.Fits[joint].Pairs {
		stays[p.Upper] = true
		m := boltMove{upper: upper[p.Upper].ID, to: lower[p.Lower].ID}
		before, there := was[p.Upper]
		if there && before == p.Lower {
			continue
		}
		if there {
			m.from = lower[before].ID
		}
		moves = append(moves, m)
	}
	for _, p := range from.Fits[joint].Pairs {
		if !stays[p.Upper] {
			moves = append(moves, boltMove{upper: upper[p.Upper].ID, from: lower[p.Lower].ID})
		}
	}
	return moves
}

// Moves says joint by joint which bolts a side must be moved from one setting to another, by the hole of
// the upper part that each goes through: "head: R from A2 to B2". Joints that stay as they are have no
// line.
func Moves(c *model.Car, from, to *holes.Setting) []string {
	return eachJoint(c, from, to, ", ", func(joint string) string { return joint + ": " }, [3]string{"%s into %s", "%s out of %s", "%s from %s to %s"})
}

// MovesInShort is Moves without the joints' names, each bolt as "R A2→B2".
func MovesInShort(c *model.Car, from, to *holes.Setting) []string {
	return eachJoint(c, from, to, " ", func(string) string { return "" }, [3]string{"%s into %s", "%s out of %s", "%s %s→%s"})
}

// eachJoint writes the moves of each joint in three forms: in, out, and from hole to hole.
func eachJoint(c *model.Car, from, to *holes.Setting, between string, head func(joint string) string, forms [3]string) (lines []string) {
	for j := range to.Fits {
		var parts []string
		for _, m := range boltMoves(c, from, to, j) {
			switch {
			case m.from == "":
				parts = append(parts, fmt.Sprintf(forms[0], m.upper, m.to))
			case m.to == "":
				parts = append(parts, fmt.Sprintf(forms[1], m.upper, m.from))
			default:
				parts = append(parts, fmt.Sprintf(forms[2], m.upper, m.from, m.to))
			}
		}
		if len(parts) > 0 {
			lines = append(lines, head(c.Joints[j].Name)+strings.Join(parts, between))
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
	for i, f := range figures.Compared(t.Car) {
		if i > 0 {
			text += ", "
		}
		change := f.Change(f.Of(t, to), f.Of(t, from), u)
		if std, ok := f.StdUncOf(difference); ok {
			by, band := f.ChangeWithStdUnc(f.Of(t, to), f.Of(t, from), std, u)
			change = by + " ± " + band
		}
		text += f.Name + " " + change
		text += " " + f.ChangeUnit(u)
	}
	return append(lines, text+": "+Apart(t, to, from))
}
