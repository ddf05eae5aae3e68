package cad

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// affine is where a block lies: a point p of it is at (a x + b z + x0, c x + d z + z0).
type affine struct{ a, b, c, d, x0, z0 float64 }

var same = affine{a: 1, d: 1}

func (m affine) apply(p plane.Point) plane.Point {
	return plane.Point{X: m.a*p.X + m.b*p.Z + m.x0, Z: m.c*p.X + m.d*p.Z + m.z0}
}

// then returns the place of what lies at n in a block that lies at m.
func (m affine) then(n affine) affine {
	at := m.apply(plane.Point{X: n.x0, Z: n.z0})
	return affine{m.a*n.a + m.b*n.c, m.a*n.b + m.b*n.d, m.c*n.a + m.d*n.c, m.c*n.b + m.d*n.d, at.X, at.Z}
}

// even reports whether circles stay circles, by which factor they grow, and whether
// they are mirrored.
func (m affine) even() (factor float64, mirrored, ok bool) {
	det := m.a*m.d - m.b*m.c
	factor = math.Sqrt(math.Abs(det))
	return factor, det < 0, factor > 0 && math.Abs(math.Hypot(m.a, m.c)-factor) < 1e-6*factor &&
		math.Abs(math.Hypot(m.b, m.d)-factor) < 1e-6*factor
}

// edge is a straight line or an arc of a drawing. An arc has a bulge, as in DXF: the
// tangent of a quarter of its turn, positive counter-clockwise.
type edge struct {
	a, b  plane.Point
	bulge float64
}

func (e edge) back() edge { return edge{e.b, e.a, -e.bulge} }

// loop is a closed row of edges.
type loop struct {
	edges []edge
	layer string
	line  int
}

// arc is an edge's circle.
func (e edge) arc() (centre plane.Point, radius float64) { return plane.Arc(e.a, e.b, e.bulge) }

// area returns the area in a loop, positive when it runs counter-clockwise.
func (l loop) area() float64 {
	sum := 0.0
	for _, e := range l.edges {
		sum += (e.a.X*e.b.Z - e.b.X*e.a.Z) / 2
		if e.bulge != 0 { // and the piece between the chord and the arc
			_, r := e.arc()
			turn := 4 * math.Atan(e.bulge)
			sum += r * r / 2 * (turn - math.Sin(turn))
		}
	}
	return sum
}

// round returns the circle that a loop is, if it is one.
func (l loop) round() (centre plane.Point, radius float64, ok bool) {
	turn := 0.0
	for i, e := range l.edges {
		if e.bulge == 0 {
			return centre, radius, false
		}
		c, r := e.arc()
		if i == 0 {
			centre, radius = c, r
		} else if c.Distance(centre) > sameSpot || math.Abs(r-radius) > sameSpot {
			return centre, radius, false
		}
		turn += 4 * math.Atan(e.bulge)
	}
	return centre, radius, len(l.edges) > 0 && math.Abs(math.Abs(turn)-2*math.Pi) < 1e-3
}

// merged puts arcs together that go on about one centre, as where a drawing has an
// arc in two pieces.
func (l loop) merged() loop {
	n := len(l.edges)
	if n > 64 || n < 2 {
		return l
	}
	on := func(e, f edge) bool {
		if e.bulge == 0 || f.bulge == 0 || (e.bulge > 0) != (f.bulge > 0) {
			return false
		}
		c, r := e.arc()
		k, q := f.arc()
		return c.Distance(k) <= sameSpot && math.Abs(r-q) <= sameSpot && math.Abs(math.Atan(e.bulge)+math.Atan(f.bulge)) < math.Pi/2-1e-3
	}
	start := 0 // where no arc goes on from the one before
	for start < n && on(l.edges[(start+n-1)%n], l.edges[start]) {
		start++
	}
	out := loop{layer: l.layer, line: l.line}
	for i := range n {
		e := l.edges[(start+i)%n]
		if k := len(out.edges); k > 0 && on(out.edges[k-1], e) {
			last := &out.edges[k-1]
			last.b, last.bulge = e.b, math.Tan(math.Atan(last.bulge)+math.Atan(e.bulge))
			continue
		}
		out.edges = append(out.edges, e)
	}
	return out
}

// slot returns the slot that a loop is, if it is one: two half circles of one radius,
// joined by two straight lines or by two arcs about one centre.
func (l loop) slot() (s holes.Slot, ok bool) {
	if l = l.merged(); len(l.edges) != 4 {
		return s, false
	}
	if l.area() < 0 { // run through it counter-clockwise
		turned := loop{layer: l.layer}
		for i := 3; i >= 0; i-- {
			turned.edges = append(turned.edges, l.edges[i].back())
		}
		l = turned
	}
	half := func(e edge) bool { return math.Abs(e.bulge-1) < 1e-3 }
	from := 0
	for from < 4 && !(half(l.edges[from]) && half(l.edges[(from+2)%4])) {
		from++
	}
	if from == 4 {
		return s, false
	}
	first, side, second, other := l.edges[from], l.edges[(from+1)%4], l.edges[(from+2)%4], l.edges[(from+3)%4]
	c1, r1 := first.arc()
	c2, r2 := second.arc()
	if math.Abs(r1-r2) > sameSpot || c1.Distance(c2) < sameSpot {
		return s, false
	}
	s.Hole = holes.Hole{X: c1.X, Z: c1.Z, D: r1 + r2}
	if side.bulge == 0 && other.bulge == 0 {
		s.To = c2
		return s, true
	}
	if side.bulge == 0 || other.bulge == 0 || math.Abs(side.bulge+other.bulge) > 1e-3 {
		return s, false
	}
	k1, _ := side.arc()
	k2, _ := other.arc()
	if k1.Distance(k2) > 2*sameSpot {
		return s, false
	}
	s.Centre = plane.Point{X: (k1.X + k2.X) / 2, Z: (k1.Z + k2.Z) / 2}
	s.Turn = 4 * math.Atan(side.bulge) // the side leads from the first end to the second
	return s, true
}

// flat is how far a chord may be from its arc when an outline is taken as corners, mm.
const flat = 0.05

// corners takes a loop as corners, mm, arcs as chords.
func (l loop) corners() (points []plane.Point, bent bool) {
	for _, e := range l.edges {
		points = append(points, e.a)
		if e.bulge == 0 {
			continue
		}
		bent = true
		c, r := e.arc()
		turn := 4 * math.Atan(e.bulge)
		step := 2 * math.Acos(max(0.5, 1-flat/r))
		n := min(int(math.Ceil(math.Abs(turn)/step)), 200)
		from := math.Atan2(e.a.Z-c.Z, e.a.X-c.X)
		for i := 1; i < n; i++ {
			sin, cos := math.Sincos(from + turn*float64(i)/float64(n))
			points = append(points, plane.Point{X: c.X + r*cos, Z: c.Z + r*sin})
		}
	}
	return points, bent
}

// once leaves out edges that are drawn twice, either way round.
func once(edges []edge, layers []string) ([]edge, []string) {
	type key struct{ x0, z0, x1, z1, bulge int64 }
	at := func(v float64) int64 { return int64(math.Round(v / sameSpot)) }
	met := map[key]bool{}
	var kept []edge
	var on []string
	for i, e := range edges {
		f := e
		if f.a.X > f.b.X || f.a.X == f.b.X && f.a.Z > f.b.Z {
			f = e.back()
		}
		k := key{at(f.a.X), at(f.a.Z), at(f.b.X), at(f.b.Z), int64(math.Round(f.bulge * 1e4))}
		if met[k] {
			continue
		}
		met[k] = true
		kept, on = append(kept, e), append(on, layers[i])
	}
	return kept, on
}

// chain joins edges at their ends to closed loops, and returns how many are left of
// each layer. Edges that end in nothing are left first, so that a stray line at a
// corner does not lead the way off an outline.
func chain(edges []edge, layers []string) (loops []loop, open map[string]int) {
	open = map[string]int{}
	edges, layers = once(edges, layers)
	left := newEnds(edges)
	left.dropDeadEnds(func(i int) { open[layers[i]]++ })
	for i := range edges {
		if left.used[i] {
			continue
		}
		way, closed := left.follow(i)
		if len(way) > 1 && closed {
			loops = append(loops, loop{way, layers[i], 0})
			continue
		}
		open[layers[i]] += len(way)
	}
	return loops, open
}

// edgeEnds finds the edges that end at a place and are not used yet.
type edgeEnds struct {
	edges []edge
	used  []bool
	at    map[[2]int64][]int // by cells of sameSpot
}

func newEnds(edges []edge) *edgeEnds {
	l := &edgeEnds{edges, make([]bool, len(edges)), map[[2]int64][]int{}}
	for i, e := range edges {
		for _, p := range [2]plane.Point{e.a, e.b} {
			l.at[spotCell(p)] = append(l.at[spotCell(p)], i)
		}
	}
	return l
}

func spotCell(p plane.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / sameSpot)), int64(math.Floor(p.Z / sameSpot))}
}

// next returns an edge that is left and ends at a place.
func (l *edgeEnds) next(p plane.Point) (int, bool) {
	c := spotCell(p)
	for dx := int64(-1); dx <= 1; dx++ {
		for dz := int64(-1); dz <= 1; dz++ {
			for _, i := range l.at[[2]int64{c[0] + dx, c[1] + dz}] {
				if !l.used[i] && (l.edges[i].a.Distance(p) <= sameSpot || l.edges[i].b.Distance(p) <= sameSpot) {
					return i, true
				}
			}
		}
	}
	return 0, false
}

// dropDeadEnds uses up edges that end in nothing, and what becomes one by that.
func (l *edgeEnds) dropDeadEnds(dropped func(i int)) {
	for pending := true; pending; {
		pending = false
		for i, e := range l.edges {
			if l.used[i] {
				continue
			}
			l.used[i] = true
			_, ahead := l.next(e.b)
			_, behind := l.next(e.a)
			if ahead && behind || e.a.Distance(e.b) <= sameSpot {
				l.used[i] = false
				continue
			}
			dropped(i)
			pending = true
		}
	}
}

// follow uses up edges from one on, end to end, until they close or none goes on.
func (l *edgeEnds) follow(i int) (way []edge, closed bool) {
	l.used[i] = true
	way = []edge{l.edges[i]}
	tail := l.edges[i].b
	for tail.Distance(way[0].a) > sameSpot {
		k, ok := l.next(tail)
		if !ok {
			return way, false
		}
		l.used[k] = true
		e := l.edges[k]
		if e.a.Distance(tail) > sameSpot {
			e = e.back()
		}
		way = append(way, e)
		tail = e.b
	}
	return way, true
}
