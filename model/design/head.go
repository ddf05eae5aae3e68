package design

import (
	"math"
	"slices"

	"stanchion/holes/plane"
)

// head is the plate's holes for the wing's bolts, in the plate's frame.
type head struct {
	fronts, rears []plane.Point
	open          float64 // of the angles wanted at all heights, how many steps are still wider than wanted
}

func (h head) holes() int { return len(h.fronts) + len(h.rears) }

// cover says which of the angles wanted each pair of holes gives. An angle α at a height leaves no step wider than s
// open that begins from α-s to α: all steps that begin on a fine grid must have one. The grid is finer than the
// step that is looked for by its own width, so that no step between its points is wider than s.
type cover struct {
	*frame
	foot   foot
	step   float64 // rad, the widest step that is looked for
	grid   float64 // rad
	begin  float64 // rad, where the first step begins
	starts int     // per height; for named angles, these
	inStep int     // starts that count as one step
	words  int     // of 64 starts, per height

	lo, hi float64       // mm, of the front holes fore and aft
	zs     []float64     // mm, about which front holes bring the wing to the heights
	masks  []uint64      // those of the candidates, used over and over
	angles []float64     // rad, of rears that are tried
	turns  []float64     // rad, of the plate, that differ
	leans  []plane.Point // cosine and sine of the turn at each of its poses
}

const perStep = 60 // points of the grid in a step

func (f *frame) newCover(t foot, step, lo, hi float64) *cover {
	c := &cover{frame: f, foot: t, step: step, grid: step / (perStep + 1), lo: lo, hi: hi}
	w := &f.wish
	c.inStep = perStep
	c.begin = w.Low + w.EndWithin - step + c.grid
	c.starts = max(1, int(math.Floor((w.High-w.EndWithin-c.begin)/c.grid+1e-9))+1)
	if len(w.Angles) > 0 {
		c.starts, c.inStep = len(w.Angles), 1
	}
	c.words = (c.starts + 63) / 64

	mid := (w.Low + w.High) / 2
	for l, h := range w.Heights {
		for _, s := range t.stands {
			if s.level >= 0 && s.level != l {
				continue
			}
			z := (h - f.heightOf(plane.Point{X: s.X, Z: s.Z}, mid)) / math.Cos(f.lean()+s.Turn)
			if fresh(c.zs, z, 1) {
				c.zs = append(c.zs, z)
			}
		}
	}
	c.turns = t.turns()
	for _, s := range t.stands {
		sin, cos := math.Sincos(s.Turn)
		c.leans = append(c.leans, plane.Point{X: cos, Z: sin})
	}
	if len(w.Angles) > 0 {
		for _, a := range w.Angles {
			for _, t := range c.turns {
				for _, part := range []float64{0, -0.9, 0.9} {
					if b := a - t + part*w.AngleWithin; fresh(c.angles, b, 0.02*plane.Deg) {
						c.angles = append(c.angles, b)
					}
				}
			}
		}
		return c
	}
	most := 0.0
	for _, t := range c.turns {
		most = max(most, math.Abs(t))
	}
	fine := max(step/8, 0.1*plane.Deg)
	for a := w.Low - most; a <= w.High+most+1e-9; a += fine {
		if slices.ContainsFunc(c.turns, func(t float64) bool { return a+t >= w.Low-step && a+t <= w.High+step }) {
			c.angles = append(c.angles, a)
		}
	}
	return c
}

func fresh(xs []float64, x, least float64) bool {
	for _, y := range xs {
		if math.Abs(x-y) < least {
			return false
		}
	}
	return true
}

// mark sets the starts for which an angle ends the step, in the mask of one height.
func (c *cover) mark(mask []uint64, angle float64) {
	if len(c.wish.Angles) > 0 {
		for i, a := range c.wish.Angles {
			if math.Abs(angle-a) <= c.wish.AngleWithin {
				mask[i/64] |= 1 << (i % 64)
			}
		}
		return
	}
	last := int(math.Floor((angle-c.begin)/c.grid + 1e-9))
	first := max(last-perStep, 0)
	if last = min(last, c.starts-1); last < first {
		return
	}
	for w := first / 64; w <= last/64; w++ {
		run := ^uint64(0)
		if w == first/64 {
			run &= ^uint64(0) << (first % 64)
		}
		if w == last/64 {
			run &= ^uint64(0) >> (63 - last%64)
		}
		mask[w] |= run
	}
}

// serve marks what a pair of holes gives at all heights, in all poses of the plate; angle is that of the wing with the plate as it is drawn.
// raised is the height of the front bolt at each pose.
func (c *cover) serve(mask []uint64, raised []float64, angle float64) {
	sin, cos := math.Sincos(angle)
	x, up := cos*c.quarter.X-sin*c.quarter.Z, sin*c.quarter.X+cos*c.quarter.Z
	for i := range c.foot.stands {
		s := &c.foot.stands[i]
		a := angle + s.Turn
		z := raised[i] + c.leans[i].Z*x + c.leans[i].X*up
		if s.level >= 0 {
			if math.Abs(z-c.wish.Heights[s.level]) <= c.wish.HeightWithin {
				c.mark(mask[s.level*c.words:(s.level+1)*c.words], a)
			}
			continue
		}
		for l, h := range c.wish.Heights {
			if math.Abs(z-h) <= c.wish.HeightWithin {
				c.mark(mask[l*c.words:(l+1)*c.words], a)
			}
		}
	}
}

// raised is the height above ground of a place of the plate at each pose, mm.
func (c *cover) raised(p plane.Point) []float64 {
	zs := make([]float64, len(c.foot.stands))
	for i, s := range c.foot.stands {
		zs[i] = c.ground.Apply(s.Apply(p)).Z
	}
	return zs
}

func (c *cover) allRaised(ps []plane.Point) [][]float64 {
	all := make([][]float64, len(ps))
	for i, p := range ps {
		all[i] = c.raised(p)
	}
	return all
}

// candidate is a place for a rear hole, with what it gives together with the front holes.
type candidate struct {
	at   plane.Point
	mask []uint64
}

// tenth rounds a place to tenths of a millimetre, as drawings have it.
func tenth(p plane.Point) plane.Point {
	return plane.Point{X: math.Round(p.X*10) / 10, Z: math.Round(p.Z*10) / 10}
}

// candidates lists where rear holes may be for some front holes: along the arc about each, and where two arcs meet. What it returns is good until it
// is called again.
func (c *cover) candidates(fronts []plane.Point) []candidate {
	var all []candidate
	size := c.words * len(c.wish.Heights)
	raised := c.allRaised(fronts)
	used := 0
	add := func(q plane.Point) {
		q = tenth(q)
		if !apart(q, fronts, c.headRoom) || !apart(q, c.foot.holes, c.mixedRoom) {
			return
		}
		if used+size > len(c.masks) { // masks in use keep what they had
			c.masks, used = make([]uint64, max(2*len(c.masks), 256*size)), 0
		}
		mask := c.masks[used : used+size : used+size]
		clear(mask)
		near, far := (c.pitch-c.slack)*(c.pitch-c.slack), (c.pitch+c.slack)*(c.pitch+c.slack)
		for i, p := range fronts {
			if dx, dz := p.X-q.X, p.Z-q.Z; dx*dx+dz*dz >= near && dx*dx+dz*dz <= far {
				c.serve(mask, raised[i], c.angleOf(p, q))
			}
		}
		for _, w := range mask {
			if w != 0 {
				all, used = append(all, candidate{q, mask}), used+size
				return
			}
		}
	}
	for i, p := range fronts {
		for _, a := range c.angles {
			add(c.rearOf(p, a))
		}
		for _, o := range fronts[:i] {
			if q, ok := c.meet(p, o); ok {
				add(q)
			}
		}
	}
	return all
}

// meet returns where the rear hole of two front holes is, the wing's bolts being equally far from both.
func (c *cover) meet(a, b plane.Point) (plane.Point, bool) {
	half := a.Distance(b) / 2
	if half >= c.pitch || half == 0 {
		return plane.Point{}, false
	}
	mid, across := a.Add(b).Times(0.5), b.Sub(a).Times(1/(2*half))
	far := math.Sqrt(c.pitch*c.pitch - half*half)
	q := plane.Point{X: mid.X + across.Z*far, Z: mid.Z - across.X*far}
	if back := (plane.Point{X: mid.X - across.Z*far, Z: mid.Z + across.X*far}); back.X > q.X {
		q = back
	}
	return q, true
}
