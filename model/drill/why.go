package drill

import (
	"sort"

	"stanchion/holes"
	"stanchion/model"
)

// WhyLine is one answer to why bolts do or don't go in.
type WhyLine struct {
	Joint int // of the car
	Pairs []holes.Pair
	holes.Verdict
}

// Why answers whether the pairs, of joint j, take their bolts together.
func Why(c *model.Car, j int, pairs []holes.Pair) WhyLine {
	return WhyLine{j, pairs, holes.Why(c.Parts[j].Part, c.Parts[j+1].Part, c.Joints[j].Joint, pairs)}
}

// maxChoices bounds the choices that WhyAll makes.
const maxChoices = 200_000

// WhyAll tries the given lower holes of joint j, in their order, on every
// choice of the upper part's holes, or with upper set the reverse, and returns
// the answers with the least miss first; none when there are too many choices to try.
func WhyAll(c *model.Car, j int, given []int, upper bool) []WhyLine {
	other := len(c.Parts[j+1].Holes)
	if upper {
		other = len(c.Parts[j].Holes)
	}
	tries := 1
	for i := range given {
		tries *= max(other-i, 1)
	}
	if tries > maxChoices {
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
			lines = append(lines, Why(c, j, pairs))
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
