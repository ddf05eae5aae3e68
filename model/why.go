package model

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/model/units"
)

// HoleRef is a hole by part and index.
type HoleRef struct{ Part, Hole int }

// FindHole returns every hole of the car that a word names: "A3" or, to say of
// which part, "upright.A3".
// Upper and lower case count only where that tells holes apart.
func (c *Car) FindHole(word string) []HoleRef {
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
func (p Part) FreeHoleName(n int) string {
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

// WhyLine is one answer to why bolts do or don't go in.
type WhyLine struct {
	Joint string
	Pairs []holes.Pair
	holes.Verdict
	Text units.Phrase
}

// Why answers whether the pairs, of joint j, take their bolts together.
func (c *Car) Why(j int, pairs []holes.Pair) WhyLine {
	v := holes.Why(c.Parts[j].Part, c.Parts[j+1].Part, c.Joints[j].Joint, pairs)
	return WhyLine{c.Joints[j].Name, pairs, v, c.whyText(j, pairs, v)}
}

// mostTried bounds the choices that WhyAll makes.
const mostTried = 200_000

// WhyAll tries the given lower holes of joint j, in their order, on every
// choice of the upper part's holes, or with upper set the reverse, and returns
// the answers with the least miss first; none when there are too many choices to try.
func (c *Car) WhyAll(j int, given []int, upper bool) []WhyLine {
	other := len(c.Parts[j+1].Holes)
	if upper {
		other = len(c.Parts[j].Holes)
	}
	tries := 1
	for i := range given {
		tries *= max(other-i, 1)
	}
	if tries > mostTried {
		return nil
	}
	var lines []WhyLine
	choice := make([]int, len(given))
	var choose func(k int)
	choose = func(k int) {
		if k == len(given) {
			pairs := make([]holes.Pair, k)
			for i := range pairs {
				pairs[i] = holes.Pair{Lower: given[i], Upper: choice[i]}
				if upper {
					pairs[i] = holes.Pair{Lower: choice[i], Upper: given[i]}
				}
			}
			lines = append(lines, c.Why(j, pairs))
			return
		}
	next:
		for o := range other {
			for _, used := range choice[:k] {
				if used == o {
					continue next
				}
			}
			choice[k] = o
			choose(k + 1)
		}
	}
	choose(0)
	rank := func(l WhyLine) float64 {
		switch l.Reason {
		case holes.Fine:
			return 0
		case holes.TurnedOff:
			return 1e6
		case holes.Reserved, holes.Small, holes.Shared:
			return 1e9
		}
		return -l.Slack
	}
	sort.SliceStable(lines, func(a, b int) bool { return rank(lines[a]) < rank(lines[b]) })
	return lines
}

// whyText spells a verdict.
func (c *Car) whyText(j int, pairs []holes.Pair, v holes.Verdict) units.Phrase {
	lower, upper, joint := c.Parts[j], c.Parts[j+1], c.Joints[j]
	var names []string
	for _, p := range pairs {
		names = append(names, lower.Holes[p.Lower].ID+":"+upper.Holes[p.Upper].ID)
	}
	head := units.Say("joint %s, %s: ", joint.Name, strings.Join(names, " "))
	pair := pairs[v.Pair]
	switch v.Reason {
	case holes.Fine:
		if n := max(2, joint.MinBolts); len(pairs) < n {
			return units.Say("%sthey go in, with %s to spare, but %d bolts are fewer than the %d that the joint wants", head, units.ThinMM(v.Slack), len(pairs), n)
		}
		return units.Say("%sthey go in, with %s to spare; the %s turns %s° and has %.1f° of play either way", head, units.ThinMM(v.Slack), upper.Name, units.Fixed(v.Turn/Deg, 1), v.Play/Deg)
	case holes.Reserved:
		for _, h := range []holes.Hole{lower.Holes[pair.Lower], upper.Holes[pair.Upper]} {
			if h.Joint != "" && h.Joint != joint.Name {
				return units.Say("%shole %s is reserved for joint %s", head, h.ID, h.Joint)
			}
		}
	case holes.Small:
		l, u := lower.Holes[pair.Lower], upper.Holes[pair.Upper]
		if u.D < l.D {
			l = u
		}
		return units.Say("%sthe %s bolt does not pass through hole %s of %s: %s too thick", head, joint.Bolt, l.ID, units.FineMM(l.D), units.ThinMM(joint.Shank-l.D))
	case holes.Shared:
		return units.Say("%stwo bolts would be in one hole, or overlap", head)
	case holes.Spacing:
		return units.Say("%sthe holes are %s apart in the %s and %s in the %s: they miss by %s", head, units.ThinMM(v.Lower), lower.Name, units.ThinMM(v.Upper), upper.Name, units.ThinMM(-v.Slack))
	case holes.Crowded:
		return units.Say("%severy two of the bolts go in, but not all at once: they miss by %s", head, units.ThinMM(-v.Slack))
	case holes.TurnedOff:
		return units.Say("%sthey go in, but with the %s turned by %s°: the joint allows %.0f°", head, upper.Name, units.Fixed(v.Turn/Deg, 1), joint.MaxTurn/Deg)
	}
	return head
}
