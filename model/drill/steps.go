package drill

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
)

// steps are the angles that there are at each height, and how new ones would part the steps between them. A new
// setting counts for every height to which it is as near as settings of one level are to each other.
type steps struct {
	heights []stepsAt
	bins    [][]int // of heights, in bins of binWidth from lowest on
	lowest  float64
}

// stepsAt are the steps at one height.
type stepsAt struct {
	from, to float64   // mm, between which a setting counts for it
	height   float64   // mm, the mean
	angles   []float64 // rad, in order
	wide     []step    // the widest first
}

// step is one step between neighbouring angles, rad.
type step struct{ low, high float64 }

func (s step) width() float64 { return s.high - s.low }

// sameLevel is how far apart heights are that count as one, mm: as in choose.Levels.
const sameLevel = 8.0

const binWidth = 4.0 // mm

// stepsOf lists the steps of a table.
func stepsOf(t *model.Table) *steps {
	s := &steps{}
	levels := choose.Levels(t)
	last, k := math.Inf(-1), -1
	for i := range t.Rows { // in the order of height, as choose.Levels goes through them
		r := &t.Rows[i]
		if !r.Within() || r.Stalled {
			continue
		}
		if r.Height-last > sameLevel {
			k++
			s.heights = append(s.heights, stepsAt{from: r.Height - sameLevel, height: levels[k].Height, angles: levels[k].Angles})
		}
		last = r.Height
		s.heights[k].to = r.Height + sameLevel
	}
	for i := range s.heights {
		s.heights[i].sort()
	}
	if len(s.heights) == 0 {
		return s
	}
	s.lowest = s.heights[0].from
	n := int((s.heights[len(s.heights)-1].to-s.lowest)/binWidth) + 1
	s.bins = make([][]int, n)
	for i, h := range s.heights {
		for b := int((h.from - s.lowest) / binWidth); b <= int((h.to-s.lowest)/binWidth); b++ {
			s.bins[b] = append(s.bins[b], i)
		}
	}
	return s
}

// sort lists the steps between the angles.
func (h *stepsAt) sort() {
	h.wide = nil
	for n := 1; n < len(h.angles); n++ {
		h.wide = append(h.wide, step{h.angles[n-1], h.angles[n]})
	}
	slices.SortStableFunc(h.wide, func(a, b step) int { return cmp.Compare(b.width(), a.width()) })
}

// at visits the heights that a setting counts for.
func (s *steps) at(height float64, visit func(i int)) {
	b := int((height - s.lowest) / binWidth)
	if height < s.lowest || b >= len(s.bins) {
		return
	}
	for _, i := range s.bins[b] {
		if h := &s.heights[i]; height >= h.from && height <= h.to {
			visit(i)
		}
	}
}

// narrows reports whether an angle parts the widest step at a height, without which nothing is gained there.
func (h *stepsAt) narrows(angle float64) bool {
	return len(h.wide) > 0 && angle > h.wide[0].low && angle < h.wide[0].high
}

// widest returns the widest step with new angles, rad.
func (h *stepsAt) widest(angles []float64) float64 {
	widest := 0.0
	for _, g := range h.wide {
		if g.width() <= widest {
			break
		}
		g.parts(angles, func(part float64) { widest = max(widest, part) })
	}
	return widest
}

// parts visits the widths, rad, of the parts of a step with new angles.
func (g step) parts(angles []float64, visit func(width float64)) {
	low := g.low
	for low < g.high {
		next := g.high
		for _, a := range angles {
			if a > low && a < next {
				next = a
			}
		}
		visit(next - low)
		low = next
	}
}

// lacking returns how many further angles a height needs, so that no step is wider than most, rad, once it has
// new ones.
func (h *stepsAt) lacking(most float64, angles []float64) int {
	n := 0
	for _, g := range h.wide {
		if g.width() <= most+1e-9 {
			break
		}
		g.parts(angles, func(part float64) { n += max(0, int(math.Ceil(part/most-1e-9))-1) })
	}
	return n
}
