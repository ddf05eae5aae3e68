package drill

import (
	"cmp"
	"slices"
)

// fresh are the angles of new settings, by the heights that they count for. It is filled and emptied over and over.
type fresh struct {
	steps   *steps
	angles  [][]float64 // rad, at each height
	touched []int       // heights with new angles
	all     []place
	loose   []float64 // rad, of those that count for none
	twice   bool      // one counts for two heights, so that they come together
	narrows bool      // a widest step is parted
}

func (s *steps) fresh() *fresh { return &fresh{steps: s, angles: make([][]float64, len(s.heights))} }

func (f *fresh) add(p place) {
	f.all = append(f.all, p)
	n := 0
	f.steps.at(p.height, func(i int) {
		if len(f.angles[i]) == 0 {
			f.touched = append(f.touched, i)
		}
		f.angles[i] = append(f.angles[i], p.angle)
		f.narrows = f.narrows || f.steps.heights[i].narrows(p.angle)
		n++
	})
	switch n {
	case 0:
		f.loose = append(f.loose, p.angle)
	case 1:
	default:
		f.twice = true
	}
}

// odd reports whether heights may come together.
func (f *fresh) odd() bool { return f.twice || len(f.loose) > 0 }

func (f *fresh) empty() {
	for _, i := range f.touched {
		f.angles[i] = f.angles[i][:0]
	}
	f.touched, f.all, f.loose, f.twice, f.narrows = f.touched[:0], f.all[:0], f.loose[:0], false, false
}

// gain returns by how much the widest steps of all heights shrink together, rad: for each height that there is, its
// step in choose.Levels, less that of the level that its settings are in with the new ones. Where new settings lie
// between two heights, these become one level. Without beyond, angles beyond those that there are count for nothing,
// as if they broke a limit: that is the most that can be gained.
func (f *fresh) gain(beyond bool) float64 {
	sum := 0.0
	switch {
	case beyond || f.twice || len(f.loose) > 0 && len(f.touched) > 1:
	case len(f.loose) > 0 && len(f.touched) == 1: // one level, which those that count for none may join by way of others
		if h := &f.steps.heights[f.touched[0]]; len(h.wide) > 0 && (f.narrows || slices.ContainsFunc(f.loose, h.narrows)) {
			return h.wide[0].width() - h.widest(append(f.loose, f.angles[f.touched[0]]...))
		}
		return 0
	default:
		for _, i := range f.touched {
			if h := &f.steps.heights[i]; f.narrows && len(h.wide) > 0 {
				sum += h.wide[0].width() - h.widest(f.angles[i])
			}
		}
		return sum
	}
	for _, l := range f.levels() {
		widest := l.widest(f.steps, beyond)
		for _, i := range l.heights {
			if h := &f.steps.heights[i]; len(h.wide) > 0 {
				sum += max(0, h.wide[0].width()-widest)
			}
		}
	}
	return sum
}

// widest is the widest step of a level, rad.
func (l *joined) widest(s *steps, beyond bool) float64 {
	switch {
	case len(l.heights) == 0:
		return 0
	case len(l.heights) == 1 && !beyond:
		return s.heights[l.heights[0]].widest(l.angles)
	}
	var all []float64
	for _, i := range l.heights {
		all = append(all, s.heights[i].angles...)
	}
	low, high := slices.Min(all), slices.Max(all)
	for _, a := range l.angles {
		if beyond || a > low && a < high {
			all = append(all, a)
		}
	}
	slices.Sort(all)
	widest := 0.0
	for n := 1; n < len(all); n++ {
		widest = max(widest, all[n]-all[n-1])
	}
	return widest
}

// joined is a level with new settings: heights that there are and angles, rad, that are new.
type joined struct {
	heights []int
	angles  []float64
}

// levels sorts the new settings and the heights about them into levels.
func (f *fresh) levels() []joined {
	type item struct {
		low, high float64
		height    int // -1 for a new setting
		angle     float64
	}
	items := make([]item, 0, len(f.all)+len(f.touched))
	for _, i := range f.touched {
		h := &f.steps.heights[i]
		items = append(items, item{h.from + sameLevel, h.to - sameLevel, i, 0})
	}
	for _, p := range f.all {
		items = append(items, item{p.height, p.height, -1, p.angle})
	}
	slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.low, b.low) })
	var levels []joined
	end := 0.0
	for n, it := range items {
		if n == 0 || it.low-end > sameLevel {
			levels = append(levels, joined{})
			end = it.high
		}
		end = max(end, it.high)
		l := &levels[len(levels)-1]
		if it.height >= 0 {
			l.heights = append(l.heights, it.height)
		} else {
			l.angles = append(l.angles, it.angle)
		}
	}
	return levels
}
