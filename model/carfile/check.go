package carfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/units"
)

// check looks at how parts, joints and holes go together, puts parts and joints
// in the order of the chain, and notes what is odd but usable.
func (r *reader) check(c *model.Car) {
	byName := r.partsByName(c)
	if r.fixed < 0 && len(c.Parts) > 0 {
		r.at("part[0]", "no part is fixed to the car", "give fixed = { x, z, angle } on exactly one part")
	}
	if r.ends(byName) {
		r.joinedHoles(c)
	}
	r.overlaps(c)
	if len(r.faults) > 0 || r.fixed < 0 {
		return // the chain can only be told from parts and joints that are sound
	}
	if !r.chain(c, byName) {
		return
	}
	for i := range c.Joints {
		r.bolts(c, i)
	}
	r.mountings(c)
	c.Warnings = append(append(r.warnings, c.Warnings...), odd(c)...)
	if w := c.Wing; w.Plate.Height > 0 && w.Plate.Length < w.Chord/2 {
		c.Warnings = append(c.Warnings, units.Say("the end plates are %s long, less than half the chord", units.MM(w.Plate.Length)))
	}
}

func (r *reader) partsByName(c *model.Car) map[string]int {
	byName := map[string]int{}
	for i, p := range c.Parts {
		if k, twice := byName[p.Name]; twice && p.Name != "" {
			r.at(fmt.Sprintf("part[%d].name", i), "the name %q is used by part %d already", "use each name once", p.Name, k+1)
			continue
		}
		byName[p.Name] = i
	}
	names := map[string]bool{}
	for _, j := range r.joints {
		if names[j.Name] && j.Name != "" {
			r.at(j.path+".name", "the name %q is used by another joint already", "use each name once", j.Name)
		}
		names[j.Name] = true
	}
	return byName
}

// ends looks at the two parts of each joint and reports whether they are sound.
func (r *reader) ends(byName map[string]int) bool {
	before := len(r.faults)
	below, above := map[string]string{}, map[string]string{} // joint at a part's upper and lower side
	for _, j := range r.joints {
		for _, end := range []struct{ key, part string }{{"lower", j.lower}, {"upper", j.upper}} {
			if _, ok := byName[end.part]; !ok && end.part != "" {
				var known []string
				for n := range byName {
					known = append(known, n)
				}
				slices.Sort(known)
				r.at(j.path+"."+end.key, "joint %q: there is no part %q", fmt.Sprintf("use one of %s", quoted(known)), j.Name, end.part)
			}
		}
		if j.lower == j.upper && j.lower != "" {
			r.at(j.path+".upper", "joint %q: lower and upper are the same part", "give two different parts", j.Name)
		}
		if other, twice := below[j.lower]; twice && j.lower != "" {
			r.at(j.path+".lower", "joint %q: part %q carries joint %q already", "make it a chain: one joint from each part to the next",
				j.Name, j.lower, other)
		}
		if other, twice := above[j.upper]; twice && j.upper != "" {
			r.at(j.path+".upper", "joint %q: part %q is held by joint %q already", "make it a chain: one joint from each part to the next",
				j.Name, j.upper, other)
		}
		below[j.lower], above[j.upper] = j.Name, j.Name
	}
	return len(r.faults) == before
}

// joinedHoles looks at the joints that holes are kept for.
func (r *reader) joinedHoles(c *model.Car) {
	for i, p := range c.Parts {
		for n, h := range p.Holes {
			if h.Joint == "" || h.Distance > 0 || r.isChassis(i, h.Joint) {
				continue // a slot's positions are kept as its first is
			}
			fits := false
			var known []string
			for _, j := range r.joints {
				fits = fits || j.Name == h.Joint && (j.lower == p.Name || j.upper == p.Name)
				if j.lower == p.Name || j.upper == p.Name {
					known = append(known, j.Name)
				}
			}
			if !fits {
				r.at(fmt.Sprintf("part[%d].holes[%d].joint", i, r.index[i][n]),
					"hole %q of part %q is reserved for joint %q, which is not at this part", fmt.Sprintf("use one of %s", quoted(known)), h.ID, p.Name, h.Joint)
			}
		}
	}
}

// chain orders parts and joints from the fixed part to the wing.
func (r *reader) chain(c *model.Car, byName map[string]int) bool {
	parts := []model.Part{c.Parts[r.fixed]}
	used := map[int]bool{r.fixed: true}
	var joints []model.Joint
	for at, more := r.fixed, true; more; {
		more = false
		for _, j := range r.joints {
			if j.lower != c.Parts[at].Name {
				continue
			}
			to := byName[j.upper]
			if used[to] {
				r.at(j.path+".upper", "joint %q leads back to part %q", "make it a chain from the fixed part to the wing", j.Name, j.upper)
				return false
			}
			joints, parts, used[to] = append(joints, j.Joint), append(parts, c.Parts[to]), true
			at, more = to, true
			break
		}
	}
	sound := true
	for i, p := range c.Parts {
		if !used[i] {
			r.at(fmt.Sprintf("part[%d]", i), "no joints lead from the fixed part %q to part %q",
				"make it a chain: every part joined to the one before", c.Parts[r.fixed].Name, p.Name)
			sound = false
		}
	}
	if len(joints) == 0 {
		r.at("part[0]", "nothing is bolted to the fixed part", "add at least one joint")
		return false
	}
	c.Parts, c.Joints = parts, joints
	return sound
}

// bolts looks at whether a joint's bolts pass through enough holes.
func (r *reader) bolts(c *model.Car, i int) {
	j := c.Joints[i]
	path := ""
	for _, f := range r.joints {
		if f.Name == j.Name {
			path = f.path
		}
	}
	for at, p := range c.Parts[i : i+2] {
		if len(p.Holes) == 0 && i+at < len(c.Parts)-1 {
			if at == 1 || i == 0 { // it is the lower part of the next joint too
				r.warnings = append(r.warnings, units.Say("part %q has no holes yet: \"stanchion design\" finds where to drill it", p.Name))
			}
			continue
		}
		passes, largest := 0, 0.0
		for _, h := range p.Holes {
			if h.Joint == "" || h.Joint == j.Name {
				largest = max(largest, h.D)
				if h.Takes(j.Shank) {
					passes++
				}
			}
		}
		switch need := max(2, j.MinBolts); {
		case passes == 0 && largest > 0:
			r.at(path+".bolt", "joint %q: an %s bolt passes through no hole of part %q, the largest is %s",
				"drill a hole larger than the bolt, or use a smaller bolt", j.Name, j.Bolt, p.Name, c.System().Dimension(largest))
		case passes < need:
			r.at(path+".bolt", "joint %q: %d holes of part %q take an %s bolt", fmt.Sprintf("at least %d must", need), j.Name, passes,
				p.Name, j.Bolt)
		}
	}
}

// overlaps looks for holes of a part that overlap: two in one place
// are a fault, the rest is odd but usable.
func (r *reader) overlaps(c *model.Car) {
	type overlap struct {
		a, b int
		text units.Phrase
	}
	var found []overlap
	onTop := 0
	for i, p := range c.Parts {
		from := len(found)
		told := map[[2]string]bool{}
		order := make([]int, len(p.Holes))
		for k := range order {
			order[k] = k
		}
		widest := 0.0
		for _, h := range p.Holes {
			widest = max(widest, h.D)
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(p.Holes[a].X, p.Holes[b].X) })
		for n, a := range order {
			h := p.Holes[a]
			for _, b := range order[n+1:] {
				k := p.Holes[b]
				if k.X-h.X > widest {
					break
				}
				if h.Slot != "" && h.Slot == k.Slot {
					continue
				}
				apart := h.At().Distance(k.At())
				first, second := h, k
				if a > b {
					first, second = k, h
				}
				switch {
				case apart < min(h.D, k.D)/2 && h.Slot == "" && k.Slot == "":
					if onTop++; onTop > maxOdd {
						return // a file with these holes is a mistake: the first say which
					}
					r.at(fmt.Sprintf("part[%d].holes[%d]", i, r.index[i][max(a, b)]),
						"holes %q and %q of part %q lie on top of each other, %s apart", "remove one of them: each hole must take a bolt", first.ID, second.ID, p.Name, c.System().Dimension(apart))
				case apart < (h.D+k.D)/2 && len(found) <= maxOdd:
					names := [2]string{cmp.Or(first.Slot, first.ID), cmp.Or(second.Slot, second.ID)}
					if told[names] {
						continue // another place in the same slot
					}
					told[names] = true
					found = append(found, overlap{min(a, b), max(a, b),
						units.Say("holes %q and %q of part %q overlap by %s", names[0], names[1], p.Name, units.FineMM((h.D+k.D)/2-apart))})
				}
			}
		}
		slices.SortFunc(found[from:], func(x, y overlap) int {
			return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
		})
	}
	for n, o := range found {
		if n == maxOdd {
			c.Warnings = append(c.Warnings, units.Say("and more holes that overlap"))
			break
		}
		c.Warnings = append(c.Warnings, o.text)
	}
}

// quoted lists names in quotes, without repeats.
func quoted(names []string) string {
	slices.Sort(names)
	var all []string
	for _, n := range slices.Compact(names) {
		all = append(all, fmt.Sprintf("%q", n))
	}
	return strings.Join(all, ", ")
}
