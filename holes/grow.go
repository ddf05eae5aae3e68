package holes

import (
	"sort"

	"stanchion/holes/plane"
)

// clash reports whether two pairs would put two bolts into one hole or slot, or
// so close together that one bolt runs into the other.
func (s *search) clash(p, q Pair) bool {
	same := func(a, b usable) bool {
		return a.index == b.index || a.slot != "" && a.slot == b.slot || a.at.Distance(b.at) < s.joint.Shank-eps
	}
	return same(s.lower[p.Lower], s.lower[q.Lower]) || same(s.upper[p.Upper], s.upper[q.Upper])
}

// further lists the pairs that go in together with the two of set.
func (s *search) further(set []Pair, play float64) []Pair {
	pose := s.pose(set)
	a := s.bolt(set[0].Lower, set[0].Upper)
	slack := max(a.clearance, s.clearance(set[1].Lower, set[1].Upper))
	var found []Pair
	for u := range s.upper {
		if u == set[0].Upper || u == set[1].Upper {
			continue
		}
		lever := s.upper[u].at.Distance(a.upper)
		most := Clearance(s.reach, s.upper[u].d, s.joint.Shank)
		r := most + 2*slack + min(play, 2)*lever + eps
		s.grid.near(pose.Apply(s.upper[u].at), r, func(l int) {
			p := Pair{l, u}
			if s.clash(p, set[0]) || s.clash(p, set[1]) {
				return
			}
			s.work += trial
			if _, _, ok := inAtOnce(s.bolts([]Pair{set[0], set[1], p}), pose.Turn); ok {
				found = append(found, p)
			}
		})
	}
	return found
}

// maxWork bounds what is looked at in one joint, in units of about 0.1 µs, and
// maxFew the holes of the part that has fewer, so that absurd patterns end in an
// answer and not in a wait. trial is what it takes to see whether bolts go in at
// once.
const (
	maxWork = 8_000_000
	maxFew  = 1500
	trial   = 12
)

// grow records every maximal set that holds set and otherwise pairs of all;
// rest are those of all that are still to be tried and join set one by one.
// Mostly all of them go in at once, and that is the answer.
func (s *search) grow(set, rest, all []Pair, about float64) error {
	if s.work += trial * (2 + len(all)); s.work > maxWork {
		return ErrTooMany
	}
	if whole := append(append([]Pair(nil), set...), rest...); len(rest) > 0 && s.together(whole, about) {
		if len(rest) == len(all) {
			for i, p := range whole {
				for _, q := range whole[:i] {
					s.covered[coverKey(p, q)] = len(whole)
				}
			}
		}
		if s.maximal(whole, all, about) {
			return s.keepLarge(whole, about)
		}
		return nil
	}
	if s.maximal(set, all, about) {
		return s.keepLarge(set, about)
	}
	for i, p := range rest {
		next := append(append([]Pair(nil), set...), p)
		var left []Pair
		s.work += trial * (len(rest) - i)
		for _, q := range rest[i+1:] {
			if s.joins(next, q, about) {
				left = append(left, q)
			}
		}
		if err := s.grow(next, left, all, about); err != nil {
			return err
		}
	}
	return nil
}

// maximal reports whether none of all joins set.
func (s *search) maximal(set, all []Pair, about float64) bool {
	for _, p := range all {
		if s.joins(set, p, about) {
			return false
		}
	}
	return true
}

// together reports whether the bolts of a set go in at once.
func (s *search) together(set []Pair, about float64) bool {
	for i, p := range set {
		for _, q := range set[:i] {
			if s.clash(p, q) {
				return false
			}
		}
	}
	_, _, ok := inAtOnce(s.bolts(set), about)
	return ok
}

// joins reports whether p's bolt goes in with those of set.
func (s *search) joins(set []Pair, p Pair, about float64) bool {
	for _, q := range set {
		if s.clash(p, q) {
			return false
		}
	}
	_, _, ok := inAtOnce(s.bolts(append(append([]Pair(nil), set...), p)), about)
	return ok
}

func (s *search) keepLarge(set []Pair, about float64) error {
	set = append([]Pair(nil), set...)
	sort.Slice(set, func(a, b int) bool { return set[a].Lower < set[b].Lower })
	key := make([]byte, 0, 8*len(set))
	for _, p := range set {
		key = append(key, byte(p.Lower>>16), byte(p.Lower>>8), byte(p.Lower), byte(p.Upper>>16), byte(p.Upper>>8), byte(p.Upper))
	}
	if len(set) < s.joint.MinBolts || s.seen[string(key)] {
		return nil
	}
	s.seen[string(key)] = true
	range_, _ := together(s.bolts(set), about)
	pose := s.pose(set)
	pose.Turn = plane.Wrap(pose.Turn)
	turn := about + plane.Wrap(pose.Turn-about)
	// A further bolt may pull the least-squares turn past the limit; the way of
	// bolting is still there as long as some turn that it allows is within.
	// About half a turn the range may lie beyond it, which is the other way round.
	middle := (range_.lo + range_.hi) / 2
	over := plane.Wrap(middle) - middle
	if least := max(range_.lo+over, -range_.hi-over, 0); least > s.joint.MaxTurn+1e-9 {
		return nil
	}
	return s.keep(set, pose, max(turn-range_.lo, range_.hi-turn, 0))
}

// keep records a fit, with the pairs as indices into the parts' own holes.
func (s *search) keep(set []Pair, pose plane.Pose, play float64) error {
	if len(s.fits) == MaxFits {
		return ErrTooMany
	}
	pairs := make([]Pair, len(set))
	for i, p := range set {
		pairs[i] = Pair{s.lower[p.Lower].index, s.upper[p.Upper].index}
	}
	sort.Slice(pairs, func(a, b int) bool { return pairs[a].Lower < pairs[b].Lower })
	s.fits = append(s.fits, Fit{pairs, pose, play})
	return nil
}
