package drill

import "slices"

// fresh are the angles of new settings, by the heights that they count for. It is filled and emptied over and over.
type fresh struct {
	steps   *steps
	angles  [][]float64 // rad, at each height
	touched []int       // heights with new angles
	narrows bool        // a widest step is parted
}

func (s *steps) fresh() *fresh { return &fresh{steps: s, angles: make([][]float64, len(s.heights))} }

func (f *fresh) add(p place) {
	f.steps.at(p.height, func(i int) {
		if len(f.angles[i]) == 0 {
			f.touched = append(f.touched, i)
		}
		f.angles[i] = append(f.angles[i], p.angle)
		f.narrows = f.narrows || f.steps.heights[i].narrows(p.angle)
	})
}

func (f *fresh) empty() {
	for _, i := range f.touched {
		f.angles[i] = f.angles[i][:0]
	}
	f.touched, f.narrows = f.touched[:0], false
}

// gain returns by how much the widest steps of all heights shrink together, rad: for each height that there is, its
// step in choose.Levels, less the widest between its own angles and the new ones that count for it. A new setting
// between two heights counts for both, but does not make them one: what stands at the other one is no nearer than
// before. Without beyond, angles beyond those that there are count for nothing, as if they broke a limit: that is the
// most that can be gained.
func (f *fresh) gain(beyond bool) float64 {
	sum := 0.0
	if !f.narrows {
		return sum
	}
	for _, i := range f.touched {
		h := &f.steps.heights[i]
		if len(h.wide) == 0 {
			continue
		}
		widest := h.widest(f.angles[i])
		if beyond {
			widest = h.widestBeyond(f.angles[i])
		}
		sum += max(0, h.wide[0].width()-widest)
	}
	return sum
}

// widestBeyond is widest with the steps to new angles beyond those that there are, rad.
func (h *stepsAt) widestBeyond(angles []float64) float64 {
	all := slices.Concat(h.angles, angles)
	slices.Sort(all)
	widest := 0.0
	for n := 1; n < len(all); n++ {
		widest = max(widest, all[n]-all[n-1])
	}
	return widest
}
