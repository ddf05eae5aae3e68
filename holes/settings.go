package holes

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"stanchion/holes/plane"
)

// Setting is one way of bolting a whole chain: one fit per joint.
type Setting struct {
	ID           string     // made of the hole names of its bolts
	Fits         []*Fit     // one per joint
	Pose         plane.Pose // of the last part's frame in the first part's frame
	Play         float64    // the sum of the fits' plays, rad
	Bolts        int        // how many bolts it takes
	Alternatives []Setting  // others that put the last part in the same place; they have none of their own
}

// Ways lists every way of bolting the setting's place: itself, then its alternatives.
func (s *Setting) Ways() []Setting {
	itself := *s
	itself.Alternatives = nil
	return append([]Setting{itself}, s.Alternatives...)
}

// As returns the way of bolting the setting's place that has the given id, with all
// the other ways as its alternatives; ok is false when there is none.
func (s *Setting) As(id string) (way Setting, ok bool) {
	var others []Setting
	for _, w := range s.Ways() {
		if w.ID == id {
			way, ok = w, true
		} else {
			others = append(others, w)
		}
	}
	way.Alternatives = others
	return way, ok
}

// Two settings whose last parts are this close count as one.
const (
	sameTurn  = 0.05 * plane.Deg // rad
	samePlace = 0.2              // mm, of the last part's origin
)

// MaxSettings is the most combinations of fits that are listed.
const MaxSettings = 1_000_000

// Settings lists every way of bolting the chain, in the order of the holes.
// Of settings that put the last part within 0.05° and 0.2 mm of the same place
// the one with the most bolts, then the least play, then the first id stands
// for the rest. A setting never uses one hole of a part in two joints.
//
// It returns an error that wraps ErrTooMany, naming the joint, when the holes
// allow more than MaxFits ways for a joint or MaxSettings for the chain.
func (c Chain) Settings() ([]Setting, error) {
	all, err := c.combinations()
	if err != nil {
		return nil, err
	}
	return merge(all), nil
}

// combinations lists every fit of the first joint with every fit of the next,
// and so on, leaving out those that need one hole twice.
func (c Chain) combinations() ([]Setting, error) {
	fits := make([][]Fit, len(c.Joints))
	total := 1
	for j, joint := range c.Joints {
		var err error
		if fits[j], err = Fits(c.Parts[j], c.Parts[j+1], joint); err != nil {
			return nil, fmt.Errorf("joint %q: %w (%d)", joint.Name, err, MaxFits)
		}
		if total *= len(fits[j]); total > MaxSettings {
			return nil, fmt.Errorf("joints up to %q: %w (%d)", joint.Name, ErrTooMany, MaxSettings)
		}
	}
	choice := make([][]*Fit, len(fits))
	for j := range fits {
		choice[j] = make([]*Fit, len(fits[j]))
		for i := range fits[j] {
			choice[j][i] = &fits[j][i]
		}
	}
	return c.each(choice), nil
}

// each lists every one of the first joint's fits with every one of the next, and so on, leaving out those that
// need one hole twice.
func (c Chain) each(fits [][]*Fit) []Setting {
	total := 1
	names := make([][]string, len(fits))
	for j := range fits {
		total *= len(fits[j])
		for _, f := range fits[j] {
			names[j] = append(names[j], FitID(c.Parts[j], c.Parts[j+1], *f))
		}
	}
	all := make([]Setting, 0, total)
	chosen := make([]*Fit, 0, total*len(c.Joints))
	at := make([]int, len(c.Joints)) // which fit of each joint
	for total > 0 {
		if c.disjoint(fits, at) {
			s := Setting{}
			from := len(chosen)
			var id strings.Builder
			for j := range fits {
				f := fits[j][at[j]]
				chosen = append(chosen, f)
				s.Pose = s.Pose.Then(f.Pose)
				s.Play += f.Play
				s.Bolts += len(f.Pairs)
				if j > 0 {
					id.WriteByte('/')
				}
				id.WriteString(names[j][at[j]])
			}
			s.Pose.Turn = plane.Wrap(s.Pose.Turn)
			s.Fits, s.ID = chosen[from:len(chosen):len(chosen)], id.String()
			all = append(all, s)
		}
		j := len(at) - 1
		for ; j >= 0; j-- { // count on, the last joint fastest
			if at[j]++; at[j] < len(fits[j]) {
				break
			}
			at[j] = 0
		}
		if j < 0 {
			break
		}
	}
	return all
}

// disjoint reports whether no part gives one hole to both of its joints.
func (c Chain) disjoint(fits [][]*Fit, at []int) bool {
	for j := 1; j < len(fits); j++ {
		hs := c.Parts[j].Holes
		for _, below := range fits[j-1][at[j-1]].Pairs {
			for _, above := range fits[j][at[j]].Pairs {
				if sameHole(&hs[below.Upper], &hs[above.Lower]) {
					return false
				}
			}
		}
	}
	return true
}

// merge leaves one setting for each place, the rest as its alternatives.
func merge(all []Setting) []Setting {
	rank := make([]int, len(all))
	for i := range rank {
		rank[i] = i
	}
	sort.SliceStable(rank, func(a, b int) bool { return better(&all[rank[a]], &all[rank[b]]) })

	stands := make([]bool, len(all))
	places := newPlaces(len(all))
	for _, i := range rank {
		if k, ok := places.find(all, all[i].Pose); ok {
			all[k].Alternatives = append(all[k].Alternatives, all[i])
			continue
		}
		stands[i] = true
		places.add(all[i].Pose, i)
	}
	kept := all[:0]
	for i := range all {
		if stands[i] {
			kept = append(kept, all[i])
		}
	}
	return kept
}

func better(a, b *Setting) bool {
	if a.Bolts != b.Bolts {
		return a.Bolts > b.Bolts
	}
	const step = 1e-7 // rad: plays that differ by rounding are one play
	if pa, pb := math.Round(a.Play/step), math.Round(b.Play/step); pa != pb {
		return pa < pb
	}
	return a.ID < b.ID
}

// places files poses in cells so that those close by are found at once.
type places struct{ cells map[[3]int32][]int32 }

func newPlaces(n int) places { return places{make(map[[3]int32][]int32, n)} }

// cellSide is how many tolerances wide a cell is: wide enough that a pose
// seldom lies within a tolerance of a border.
const cellSide = 8

func placeCell(x, z, turn float64) [3]int32 {
	return [3]int32{
		int32(math.Floor(x / (cellSide * samePlace))),
		int32(math.Floor(z / (cellSide * samePlace))),
		int32(math.Floor(turn / (cellSide * sameTurn))),
	}
}

func (p places) add(at plane.Pose, i int) {
	k := placeCell(at.X, at.Z, at.Turn)
	p.cells[k] = append(p.cells[k], int32(i))
}

// samePose reports whether two poses count as one place.
func samePose(a, b plane.Pose) bool {
	return math.Abs(a.Turn-b.Turn) <= sameTurn && math.Hypot(a.X-b.X, a.Z-b.Z) <= samePlace
}

// within visits what is filed in the cells that reach as far as a place does.
func (p places) within(at plane.Pose, visit func(i int32)) {
	lo := placeCell(at.X-samePlace, at.Z-samePlace, at.Turn-sameTurn)
	hi := placeCell(at.X+samePlace, at.Z+samePlace, at.Turn+sameTurn)
	for x := lo[0]; x <= hi[0]; x++ {
		for z := lo[1]; z <= hi[1]; z++ {
			for t := lo[2]; t <= hi[2]; t++ {
				for _, i := range p.cells[[3]int32{x, z, t}] {
					visit(i)
				}
			}
		}
	}
}

// find returns the first setting filed whose pose is the same as at.
func (p places) find(all []Setting, at plane.Pose) (int, bool) {
	best := -1
	p.within(at, func(i int32) {
		if samePose(all[i].Pose, at) && (best < 0 || better(&all[i], &all[best])) {
			best = int(i)
		}
	})
	return best, best >= 0
}
