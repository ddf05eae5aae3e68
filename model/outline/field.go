package outline

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// cell is the side of a field's cells, mm.
const cell = 1.0

// field is a distance at the corners of square cells: below 0 in what it is of.
type field struct {
	lo   plane.Point
	w, h int // corners
	at   []float64
}

func newField(lo, hi plane.Point) *field {
	f := &field{lo: lo, w: int((hi.X-lo.X)/cell) + 2, h: int((hi.Z-lo.Z)/cell) + 2}
	f.at = make([]float64, f.w*f.h)
	for i := range f.at {
		f.at[i] = math.Inf(1)
	}
	return f
}

func (f *field) place(i, k int) plane.Point {
	return plane.Point{X: f.lo.X + float64(i)*cell, Z: f.lo.Z + float64(k)*cell}
}

// fieldAround is a field that has discs and polygons in it, and so many mm beyond.
func fieldAround(discs []disc, polygons [][]plane.Point, aside float64) *field {
	var ends []plane.Point
	for _, d := range discs {
		r := plane.Point{X: d.r, Z: d.r}
		ends = append(ends, d.at.Sub(r), d.at.Add(r))
	}
	for _, p := range polygons {
		ends = append(ends, p...)
	}
	lo, hi := plane.Box(ends)
	more := plane.Point{X: aside + 2*cell, Z: aside + 2*cell}
	return newField(lo.Sub(more), hi.Add(more))
}

// discs adds discs to what a field is of, as far as so many mm beyond their edge.
func (f *field) discs(discs []disc, aside float64) {
	for i, x := range f.at {
		f.at[i] = min(x, aside+cell)
	}
	for _, d := range discs {
		f.near(d.at, d.r+aside+cell, func(n int, p plane.Point) { f.at[n] = min(f.at[n], p.Distance(d.at)-d.r) })
	}
}

// polygon adds a polygon to what a field is of, as far as so many mm either side of its edge.
func (f *field) polygon(ring []plane.Point, aside float64) {
	far := f.from([][]plane.Point{ring}, aside+cell)
	for k := range f.h {
		z := f.place(0, k).Z
		var crossings []float64
		for a, b := range plane.Edges(ring) {
			if (a.Z > z) != (b.Z > z) {
				crossings = append(crossings, a.X+(z-a.Z)/(b.Z-a.Z)*(b.X-a.X))
			}
		}
		slices.Sort(crossings)
		passed := 0
		for i := range f.w {
			n := k*f.w + i
			for passed < len(crossings) && crossings[passed] <= f.place(i, k).X {
				passed++
			}
			if passed%2 == 1 {
				far[n] = -far[n]
			}
			f.at[n] = min(f.at[n], far[n])
		}
	}
}

// from is the distance of the field's corners from closed lines, as far as so many mm.
func (f *field) from(rings [][]plane.Point, reach float64) []float64 {
	const piece = 8.0
	far := make([]float64, len(f.at))
	for n := range far {
		far[n] = reach
	}
	for _, ring := range rings {
		for a, b := range plane.Edges(ring) {
			parts := math.Ceil(a.Distance(b) / piece)
			way := b.Sub(a).Times(1 / parts)
			for i := range int(parts) {
				p := a.Add(way.Times(float64(i)))
				q := p.Add(way)
				f.near(p.Add(way.Times(0.5)), reach+piece/2, func(n int, at plane.Point) {
					if d, _ := plane.ToSegment(at, p, q); d < far[n] {
						far[n] = d
					}
				})
			}
		}
	}
	return far
}

// near calls back for the corners in a square about a place.
func (f *field) near(p plane.Point, reach float64, do func(n int, p plane.Point)) {
	from := func(x float64) int { return max(0, int(math.Floor(x/cell))) }
	for k := from(p.Z - reach - f.lo.Z); k < f.h && f.lo.Z+float64(k)*cell <= p.Z+reach; k++ {
		for i := from(p.X - reach - f.lo.X); i < f.w && f.lo.X+float64(i)*cell <= p.X+reach; i++ {
			do(k*f.w+i, f.place(i, k))
		}
	}
}

// contours returns the lines along which a field has a value, closed, what is below it to their left, the one
// around the largest area first. Source: W. E. Lorensen, H. E. Cline, Computer Graphics 21 (1987) 163-169, in two dimensions; cells with two
// opposite corners below are parted.
func (f *field) contours(level float64) [][]plane.Point {
	// An edge of the grid is told by the corner that it begins at and its direction.
	type edge struct{ n, up int }
	next := map[edge]edge{}
	below := func(n int) bool { return f.at[n] < level }
	for k := range f.h - 1 {
		for i := range f.w - 1 {
			n := k*f.w + i
			sides := [4]edge{{n, 0}, {n + 1, 1}, {n + f.w, 0}, {n, 1}} // below, right, above, left: counter-clockwise
			ends := [4]bool{below(n), below(n + 1), below(n + f.w + 1), below(n + f.w)}
			for a := range 4 { // the line leaves where the metal's run of corners ends, and enters where it begins
				if !ends[a] || ends[(a+1)%4] {
					continue
				}
				b := a
				for ends[(b+3)%4] {
					b = (b + 3) % 4
				}
				next[sides[a]] = sides[(b+3)%4]
			}
		}
	}
	where := func(e edge) plane.Point {
		i, k := e.n%f.w, e.n/f.w
		p, q, m := f.place(i, k), f.place(i+1-e.up, k+e.up), e.n+1
		if e.up == 1 {
			m = e.n + f.w
		}
		t := (level - f.at[e.n]) / (f.at[m] - f.at[e.n])
		return p.Add(q.Sub(p).Times(t))
	}
	var rings [][]plane.Point
	for n := range f.w * f.h {
		for up := range 2 {
			var ring []plane.Point
			for e, ok := (edge{n, up}), true; ok; {
				to, more := next[e]
				if !more {
					break
				}
				delete(next, e)
				ring = append(ring, where(e))
				e = to
			}
			if ring = plane.Corners(ring); len(ring) >= 3 {
				rings = append(rings, ring)
			}
		}
	}
	slices.SortStableFunc(rings, func(a, b []plane.Point) int {
		x, _ := plane.Area(a)
		y, _ := plane.Area(b)
		return cmp.Compare(math.Abs(y), math.Abs(x))
	})
	return rings
}
