package holes

import (
	"sort"

	"stanchion/holes/plane"
)

// Drilled says which holes of the two parts of a joint are new, by their indices.
type Drilled struct{ Lower, Upper []int }

// FitsThrough lists the fits of a joint that take a bolt in a new hole: those of Fits that do, found
// without looking for the others.
func FitsThrough(lower, upper Part, j Joint, drilled Drilled) ([]Fit, error) {
	s := newSearch(lower, upper, j)
	isNewLower, isNewUpper := among(s.lower, drilled.Lower), among(s.upper, drilled.Upper)
	var through []Pair
	for l := range s.lower {
		for u := range s.upper {
			if isNewLower[l] || isNewUpper[u] {
				through = append(through, Pair{l, u})
			}
		}
	}
	upperSpans := spansFrom(s.upper)
	for _, n := range through {
		for l := range s.lower {
			if l == n.Lower {
				continue
			}
			way := s.lower[l].at.Sub(s.lower[n.Lower].at)
			length := way.Length()
			for _, f := range within(upperSpans[n.Upper], length, s.widest()) {
				a, b, turn := n, Pair{l, f.b}, way.Angle()-f.angle
				if b.Lower < a.Lower { // as Fits has them
					a, b = b, a
				}
				if err := s.seed(a.Lower, a.Upper, b.Lower, b.Upper, turn); err != nil {
					return nil, err
				}
			}
		}
	}
	return s.through(drilled), nil
}

// through returns the fits found that take a new hole, each once, in the order of their pairs.
func (s *search) through(drilled Drilled) []Fit {
	var all []Fit
	met := map[string]bool{}
	for _, f := range s.fits {
		if key := pairsKey(f.Pairs); !met[key] && drilled.in(f.Pairs) {
			met[key] = true
			all = append(all, f)
		}
	}
	sort.Slice(all, func(a, b int) bool { return before(all[a].Pairs, all[b].Pairs) })
	return all
}

// in reports whether one of the pairs takes a new hole.
func (d Drilled) in(pairs []Pair) bool {
	for _, p := range pairs {
		for _, l := range d.Lower {
			if p.Lower == l {
				return true
			}
		}
		for _, u := range d.Upper {
			if p.Upper == u {
				return true
			}
		}
	}
	return false
}

// Takes reports, for each fit of a joint, whether a further bolt goes in with it through a new hole, so that it
// is no way of bolting of its own any more.
func (d Drilled) Takes(lower, upper Part, j Joint, fits []Fit) []bool {
	s := newSearch(lower, upper, j)
	isNewLower, isNewUpper := among(s.lower, d.Lower), among(s.upper, d.Upper)
	lowers, uppers := usableAt(s.lower), usableAt(s.upper)
	more := make([]bool, len(fits))
	for i := range fits {
		set := make([]Pair, len(fits[i].Pairs))
		slack := 0.0
		for k, p := range fits[i].Pairs {
			set[k] = Pair{lowers[p.Lower], uppers[p.Upper]}
			slack = max(slack, s.clearance(set[k].Lower, set[k].Upper))
		}
		first := s.upper[set[0].Upper].at
		try := func(l, u int) {
			// As far as play and clearances let the two centres come to each other.
			reach := s.clearance(l, u) + 2*slack + 2*min(fits[i].Play, 2)*s.upper[u].at.Distance(first) + eps
			if more[i] || fits[i].Pose.Apply(s.upper[u].at).Distance(s.lower[l].at) > reach {
				return
			}
			more[i] = s.joins(set, Pair{l, u}, fits[i].Pose.Turn)
		}
		for l := range s.lower {
			for u := range s.upper {
				if isNewLower[l] || isNewUpper[u] {
					try(l, u)
				}
			}
		}
	}
	return more
}

// among reports for each usable hole whether it is one of those with the given indices.
func among(us []usable, indices []int) []bool {
	is := make([]bool, len(us))
	for i, h := range us {
		for _, k := range indices {
			is[i] = is[i] || h.index == k
		}
	}
	return is
}

// usableAt finds usable holes by their index in the part.
func usableAt(us []usable) map[int]int {
	at := make(map[int]int, len(us))
	for i, h := range us {
		at[h.index] = i
	}
	return at
}

// spansFrom lists for each hole the spans to all others, by length.
func spansFrom(hs []usable) [][]span {
	all := make([][]span, len(hs))
	for _, sp := range sortedSpans(hs) {
		all[sp.a] = append(all[sp.a], sp)
	}
	return all
}

// within returns the spans, sorted by length, whose length is within some mm of another.
func within(spans []span, length, off float64) []span {
	from := sort.Search(len(spans), func(n int) bool { return spans[n].length >= length-off-eps })
	to := sort.Search(len(spans), func(n int) bool { return spans[n].length > length+off+eps })
	return spans[from:max(from, to)]
}

// widest is the largest that two clearances together can be, mm.
func (s *search) widest() float64 {
	w := 0.0
	for _, h := range s.lower {
		w = max(w, h.d-s.joint.Shank)
	}
	v := 0.0
	for _, h := range s.upper {
		v = max(v, h.d-s.joint.Shank)
	}
	return w + v
}

// pairsKey tells sets of pairs apart.
func pairsKey(pairs []Pair) string {
	key := make([]byte, 0, 8*len(pairs))
	for _, p := range pairs {
		key = append(key, byte(p.Lower), byte(p.Lower>>8), byte(p.Lower>>16), byte(p.Upper), byte(p.Upper>>8), byte(p.Upper>>16))
	}
	return string(key)
}

// TwoBoltPose returns the pose of an upper part that two bolts hold, a and b: their middles together, the spans
// parallel.
func TwoBoltPose(lowerA, lowerB, upperA, upperB plane.Point) plane.Pose {
	turn := plane.Wrap(lowerB.Sub(lowerA).Angle() - upperB.Sub(upperA).Angle())
	mid := plane.Pose{Turn: turn}.Apply(upperA.Add(upperB).Times(0.5))
	at := lowerA.Add(lowerB).Times(0.5).Sub(mid)
	return plane.Pose{X: at.X, Z: at.Z, Turn: turn}
}
