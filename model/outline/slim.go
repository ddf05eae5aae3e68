package outline

import (
	"slices"

	"stanchion/holes/plane"
)

// Slim returns the outline of groups of holes, each as Cranked draws it, joined by bands of the least width along the shortest tree from middle to
// middle. Inside bends are filled to the cutter's radius. It is drawn thin mm larger all round. ok is false as for Cranked.
func Slim(groups [][]Hole, outs []KeepOut, r Rules) (ring []plane.Point, ok bool) {
	hs := slices.Concat(groups...)
	all := newSpace(hs, outs, r)
	var solid [][]plane.Point
	var middles []plane.Point
	for _, group := range groups {
		narrow := r
		for _, h := range group {
			narrow.Band = min(narrow.Band, 2*h.Usual)
		}
		ring, ok := newSpace(group, outs, narrow).drawn(group)
		if !ok {
			return nil, false
		}
		solid = append(solid, ring)
		var at []plane.Point
		for _, h := range group {
			at = append(at, h.At)
		}
		middles = append(middles, middle(at, ring))
	}
	for i, m := range middles {
		if room := all.room(m) - slack; room < all.half {
			if room <= 0 {
				return nil, false
			}
			all.narrow = append(all.narrow, disc{middles[i], room})
		}
	}
	tree, ok := all.tree(middles)
	if !ok {
		return nil, false
	}
	bands := all.bands(tree)
	f := fieldAround(bands, solid, 2*r.Radius+1)
	f.discs(bands, 2*r.Radius+1)
	for _, p := range solid {
		f.polygon(p, 2*r.Radius+1)
	}
	f.fill(r.Radius + 2*thin) // chords of its arcs bend a little tighter
	f.without(all)
	rings := f.contours(thin)
	if len(rings) == 0 {
		return nil, false
	}
	ring = rounded(thinned(rings[0]))
	return ring, keeps(ring, hs, outs)
}

// middle is the middle of holes, or the hole nearest to it where that is not in their own outline.
func middle(at, ring []plane.Point) plane.Point {
	m := plane.Centroid(at)
	if plane.Inside(ring, m) {
		return m
	}
	best := at[0]
	for _, p := range at {
		if p.Distance(m) < best.Distance(m) {
			best = p
		}
	}
	return best
}

// fill takes in what a round cutter cannot reach from outside: it closes a field's shape by a disc of the cutter's radius.
// Source: J. Serra, "Image Analysis and Mathematical Morphology" (1982), ch. II, closing.
func (f *field) fill(radius float64) {
	if radius < 2*cell {
		return
	}
	far := f.from(f.contours(radius), radius+3*cell) // the cutter's middle runs along these
	for n, x := range f.at {
		if x < radius {
			f.at[n] = radius - far[n]
		}
	}
}

// without takes what is not free off a field's shape.
func (f *field) without(s *space) {
	if len(s.outs) == 0 {
		return
	}
	for n, x := range f.at {
		if x < 3*cell {
			f.at[n] = max(x, 3*thin-s.room(f.place(n%f.w, n/f.w)))
		}
	}
}

// thin is how far a corner that is left out lies from the side that takes its place, mm, at most. The shape is drawn so much larger to begin with.
const thin = 0.2

// thinned leaves out the corners that nearly lie on a straight side. Source: D. H. Douglas, T. K. Peucker, Cartographica 10
// (1973) 112-122.
func thinned(ring []plane.Point) []plane.Point {
	n := len(ring)
	a, b := 0, 0
	for i, p := range ring {
		if p.X < ring[a].X {
			a = i
		}
	}
	for i, p := range ring {
		if p.Distance(ring[a]) > ring[b].Distance(ring[a]) {
			b = i
		}
	}
	var kept []plane.Point
	var between func(from, to int)
	between = func(from, to int) {
		worst, at := thin, -1
		for i := from + 1; i < to; i++ {
			if d, _ := plane.ToSegment(ring[i%n], ring[from%n], ring[to%n]); d > worst {
				worst, at = d, i
			}
		}
		if at < 0 {
			kept = append(kept, ring[from%n])
			return
		}
		between(from, at)
		between(at, to)
	}
	if b < a {
		b += n
	}
	between(a, b)
	between(b, a+n)
	return kept
}
