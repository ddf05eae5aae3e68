package guide

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// overClearance is by how much holes are assumed to be wider than their bolts where that is left
// open, mm. Common practice, no source: ISO 273 fine has 8.4 mm for M8.
const overClearance = 0.4

// overBolt is the width in mm that is assumed of a joint's holes when it is left open.
func (a Answers) overBolt(joint string, u units.System) float64 {
	text := a["bolt."+joint]
	if leftOpen(text) || text == "" {
		text = "M8"
	}
	s, err := readBolt(text)
	if err != nil {
		s, _ = readBolt("M8")
	}
	return s.D + overClearance
}

// boltOf names the joint whose bolts a part's holes are taken to be for: the one that it carries.
func (a Answers) boltOf(part int) string {
	js := a.joints()
	if part < len(js) {
		return js[part]
	}
	return "head"
}

// diameter is the width of a part's holes, mm.
func (a Answers) diameter(part int, u units.System) float64 {
	if part < 0 {
		return a.length("wing_d", a.overBolt("head", u), u)
	}
	return a.length(fmt.Sprintf("p%d.d", part+1), a.overBolt(a.boltOf(part), u), u)
}

// length reads a length that was answered, mm; open where it was left open or is not answered yet.
func (a Answers) length(key string, open float64, u units.System) float64 {
	if x, err := units.Lengths.Parse(a[key], u.LengthUnit()); err == nil {
		return x
	}
	return open
}

// spot is one hole or slot of a part.
type spot struct {
	holes.Hole
	slot   *holes.Slot
	group  int     // in which it was told
	stdUnc float64 // mm; 0 where that is not known
}

// text spells a spot as a drawing's holes are kept among the answers, in mm.
func (s spot) text() string {
	f := func(x float64) string { return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64) }
	line := fmt.Sprintf("%s %s %s %s", s.ID, f(s.X), f(s.Z), f(s.D))
	switch {
	case s.slot == nil:
	case s.slot.Turn != 0:
		line += fmt.Sprintf(" arc %s %s %s", f(s.slot.Centre.X), f(s.slot.Centre.Z), f(s.slot.Turn/plane.Deg))
	default:
		line += fmt.Sprintf(" to %s %s", f(s.slot.To.X), f(s.slot.To.Z))
	}
	return line
}

// origin names the hole that the part's places are told from: its first; "1" or "A" before it is told.
func (a Answers) origin(part int, u units.System) string {
	if all, _ := a.upTo(part, 1, u); len(all) > 0 {
		return all[0].ID
	}
	return "1"
}

// holesOf returns a part's holes as far as they are told.
func (a Answers) holesOf(part int, u units.System) []spot {
	if a.is("road", Make) && a.is("bracket", "no") {
		return nil // to be made too
	}
	all, _ := a.resolve(part, u)
	return all
}

// errMissing says that a go is not told whole yet.
var errMissing = errors.New("is not entered yet")

// resolve returns a part's holes as far as they are told; the error is what is wrong with the
// first go that cannot be used. It is errMissing where one is not told whole.
func (a Answers) resolve(part int, u units.System) ([]spot, error) { return a.upTo(part, maxGroups, u) }

// upTo is resolve for the first so many goes.
func (a Answers) upTo(part, groups int, u units.System) (all []spot, err error) {
	for g := 1; g <= groups; g++ {
		how := a[key(part+1, g, "how")]
		if how == "" || how == allWord {
			break
		}
		next, wrong := a.told(part, g, how, all, u)
		if wrong != nil {
			if err == nil {
				err = wrong
			}
			continue
		}
		for i := range next {
			next[i].group = g
			if clash := clashes(next[i], append(all, next[:i]...)); clash != nil {
				if err == nil {
					err = clash
				}
				next = next[:i]
				break
			}
		}
		all = append(all, next...)
	}
	if len(all) == 0 && err == nil {
		err = errMissing
	}
	return all, err
}

// clashes says whether a hole has another's name or place.
func clashes(s spot, all []spot) error {
	for _, o := range all {
		if o.ID == s.ID {
			return fmt.Errorf("hole %s is entered twice; give each hole a name of its own", s.ID)
		}
		if d := o.At().Distance(s.At()); d < (o.D+s.D)/2-0.01 && o.slot == nil && s.slot == nil {
			return fmt.Errorf("holes %s and %s would overlap, %.1f mm between centres; check the lengths", o.ID, s.ID, d)
		}
	}
	return nil
}

// joint returns the joint that a go's holes are kept for; "" for any.
func (a Answers) joint(part, group int) string {
	js := a.joints()
	if part == 0 || part >= len(js) {
		return ""
	}
	if j := a[key(part+1, group, "joint")]; slices.Contains(js, j) {
		return j
	}
	return ""
}

// namer gives holes names that are not taken.
type namer struct {
	taken []spot
	given []string
	last  map[string]int // number of a prefix
}

func (n *namer) free(id string) bool {
	return !slices.Contains(n.given, id) && !slices.ContainsFunc(n.taken, func(s spot) bool { return s.ID == id })
}

// next is the first name that is free of a prefix with a number.
func (n *namer) next(prefix string) string {
	if n.last == nil {
		n.last = map[string]int{}
	}
	for {
		n.last[prefix]++
		if id := prefix + strconv.Itoa(n.last[prefix]); n.free(id) {
			return id
		}
	}
}

// letter is the first letter that is free.
func (n *namer) letter() string {
	for c := 'A'; c <= 'Z'; c++ {
		if n.free(string(c)) && n.free(string(c)+"1") {
			n.given = append(n.given, string(c))
			return string(c)
		}
	}
	return n.next("Z")
}

// prefix is what the names of a go's holes in rows begin with: numbers on the car's part, k at a foot, letters at a head.
func (a Answers) prefix(part, group int, n *namer) string {
	switch js := a.joints(); {
	case part == 0 && len(js) != 1 || a.is("road", Make):
		return ""
	case part > 0 && a.joint(part, group) == js[part-1]:
		return "k"
	}
	return n.letter()
}
