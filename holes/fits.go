package holes

import (
	"errors"
	"math"
	"sort"

	"stanchion/holes/plane"
)

// Fit is one way of bolting a joint: a maximal set of pairs that take their
// bolts at the same time.
type Fit struct {
	Pairs []Pair     // in the lower part's order
	Pose  plane.Pose // of the upper part's frame in the lower part's frame
	Play  float64    // largest turn either way for which all bolts still go in, rad
}

// MaxFits is the most ways of bolting one joint that are listed.
const MaxFits = 200_000

// ErrTooMany says that the holes allow more ways of bolting than are listed.
var ErrTooMany = errors.New("more ways of bolting than can be listed")

// Fits lists every way of bolting the upper part to the lower by joint j, in
// the order of their pairs. It returns ErrTooMany when there are more than
// MaxFits. Bolts closer together than they are thick do not go in together.
// With more than two bolts the least-squares turn may lie a little beyond what
// all of them allow, as it may beyond MaxTurn.
//
// Moving or turning a part's holes together leaves the sets of pairs alone as
// long as no turn crosses MaxTurn, and adding a hole never takes a way of
// bolting away: each old fit is still there, or part of one with a further
// bolt.
func Fits(lower, upper Part, j Joint) ([]Fit, error) {
	s := newSearch(lower, upper, j)
	if err := s.run(); err != nil {
		return nil, err
	}
	sort.Slice(s.fits, func(a, b int) bool { return before(s.fits[a].Pairs, s.fits[b].Pairs) })
	return s.fits, nil
}

func before(a, b []Pair) bool {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return a[i].Lower < b[i].Lower || a[i].Lower == b[i].Lower && a[i].Upper < b[i].Upper
		}
	}
	return len(a) < len(b)
}

// search holds what finding the fits of one joint needs.
type search struct {
	joint        Joint
	lower, upper []usable
	grid         grid    // of the lower holes
	reach        float64 // largest hole diameter of the lower part, mm
	fits         []Fit
	seen         map[string]bool // fits with more than two pairs
	covered      map[[2]Pair]int // of two pairs, the size of the one fit that they are in
	work         int
}

// usable is a hole that the joint may use and whose bolt passes.
type usable struct {
	index int // in the part's Holes
	at    plane.Point
	d     float64
	slot  string
}

func newSearch(lower, upper Part, j Joint) *search {
	j.MinBolts = max(2, j.MinBolts)
	s := &search{joint: j, lower: usables(lower, j), upper: usables(upper, j), seen: map[string]bool{}, covered: map[[2]Pair]int{}}
	at := make([]plane.Point, len(s.lower))
	for i, h := range s.lower {
		at[i] = h.at
		s.reach = max(s.reach, h.d)
	}
	s.grid = newGrid(at, 25)
	return s
}

func usables(p Part, j Joint) []usable {
	var us []usable
	for i, h := range p.Holes {
		if (h.Joint == "" || h.Joint == j.Name) && h.Takes(j.Shank) {
			us = append(us, usable{i, h.At(), h.D, h.Slot})
		}
	}
	return us
}

func (s *search) clearance(l, u int) float64 {
	return Clearance(s.lower[l].d, s.upper[u].d, s.joint.Shank)
}

// span is the way from one hole of a part to another.
type span struct {
	a, b          int
	length, angle float64
}

// run seeds with every two bolts that go in together. The spans of the part
// with fewer holes are sorted by length; those of the other part are looked up
// in them, and only as far as the longest of them reaches.
func (s *search) run() error {
	few, many := s.upper, s.lower
	swapped := len(s.lower) < len(s.upper)
	if swapped {
		few, many = many, few
	}
	if len(few) > maxFew {
		return ErrTooMany
	}
	spans := sortedSpans(few)
	if len(spans) == 0 || len(many) < 2 {
		return nil
	}
	widest := 0.0 // the largest that two clearances together can be, mm
	for _, h := range append(append([]usable(nil), few...), many...) {
		widest = max(widest, 2*(h.d-s.joint.Shank))
	}
	longest := spans[len(spans)-1].length + widest
	at := make([]plane.Point, len(many))
	for i, h := range many {
		at[i] = h.at
	}
	near := newGrid(at, min(max(longest, 1), 200))
	var err error
	for i := range many {
		near.near(many[i].at, longest+eps, func(k int) {
			if k <= i || err != nil {
				return
			}
			way := many[k].at.Sub(many[i].at)
			length := way.Length()
			from := sort.Search(len(spans), func(n int) bool { return spans[n].length >= length-widest-eps })
			for _, f := range spans[from:] {
				if f.length > length+widest+eps {
					break
				}
				if swapped {
					err = s.seed(f.a, i, f.b, k, f.angle-way.Angle())
				} else {
					err = s.seed(i, f.a, k, f.b, way.Angle()-f.angle)
				}
				if err != nil {
					return
				}
			}
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// sortedSpans lists the spans between every two holes, both ways, by length.
func sortedSpans(hs []usable) []span {
	var spans []span
	for i, a := range hs {
		for k, b := range hs {
			if i == k {
				continue
			}
			way := b.at.Sub(a.at)
			spans = append(spans, span{i, k, way.Length(), way.Angle()})
		}
	}
	sort.Slice(spans, func(a, b int) bool { return spans[a].length < spans[b].length })
	return spans
}

// seed takes two pairs that may go in together and grows them into fits.
func (s *search) seed(l1, u1, l2, u2 int, turn float64) error {
	if s.work++; s.work > maxWork {
		return ErrTooMany
	}
	if s.clash(Pair{l1, u1}, Pair{l2, u2}) {
		return nil
	}
	a, b := s.bolt(l1, u1), s.bolt(l2, u2)
	spanL, spanU := a.lower.Distance(b.lower), a.upper.Distance(b.upper)
	c := a.clearance + b.clearance
	turn = plane.Wrap(turn)
	if spanL < eps || spanU < eps || Slack(spanL, spanU, c) < -eps {
		return nil
	}
	play := TwoBoltPlay(spanL, spanU, c)
	if math.Abs(turn) > s.joint.MaxTurn+play+eps {
		return nil
	}
	set := []Pair{{l1, u1}, {l2, u2}}
	further := s.further(set, play)
	if len(further) == 0 {
		if s.joint.MinBolts > 2 || math.Abs(turn) > s.joint.MaxTurn+1e-9 {
			return nil
		}
		return s.keep(set, s.pose(set), play)
	}
	if s.covered[coverKey(set[0], set[1])] == len(set)+len(further) {
		return nil // all of them are in a fit that is recorded
	}
	return s.grow(set, further, further, turn)
}

// coverKey names two pairs whatever their order.
func coverKey(p, q Pair) [2]Pair {
	if q.Lower < p.Lower || q.Lower == p.Lower && q.Upper < p.Upper {
		p, q = q, p
	}
	return [2]Pair{p, q}
}

func (s *search) bolt(l, u int) bolt {
	return bolt{s.lower[l].at, s.upper[u].at, s.clearance(l, u)}
}

func (s *search) bolts(set []Pair) []bolt {
	bs := make([]bolt, len(set))
	for i, p := range set {
		bs[i] = s.bolt(p.Lower, p.Upper)
	}
	return bs
}

func (s *search) pose(set []Pair) plane.Pose {
	if len(set) == 2 { // spared the slices: most fits have two bolts
		p, q := set[0], set[1]
		return TwoBoltPose(s.lower[p.Lower].at, s.lower[q.Lower].at, s.upper[p.Upper].at, s.upper[q.Upper].at)
	}
	return poseOf(s.bolts(set))
}
