package cad

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// leastSides is from how many straight pieces on a closed outline counts as a drawn circle: fewer are a nut's or another shape's own.
const leastSides = 16

// hairline is the length of a straight piece that is there by rounding alone, mm.
const hairline = 0.05

// offRound is how far the corners of a drawn circle may be off it, mm, and as part of its radius.
const offRound, offRoundPart = 0.02, 0.004

// roundly returns the circle that a loop stands for, whose pieces are straight or arcs that are not quite on it: a circle of 36 or 72
// straight pieces, of curves, or in two arcs that differ by rounding. off is how far its corners are from it at most, and flat how far
// within it its straight pieces are, mm.
func (l loop) roundly() (centre plane.Point, radius, off, flat float64, ok bool) {
	points, straight := l.marks()
	if len(points) < 4 || straight > 0 && len(points) < leastSides {
		return centre, 0, 0, 0, false
	}
	centre, radius, ok = circleThrough(points)
	if !ok {
		return centre, 0, 0, 0, false
	}
	turn := 0.0
	for i, p := range points {
		off = max(off, math.Abs(p.Distance(centre)-radius))
		q := points[(i+1)%len(points)]
		step := plane.Wrap(q.Sub(centre).Angle() - p.Sub(centre).Angle())
		if math.Abs(step) > 1.5*2*math.Pi/leastSides && straight > 0 || math.Abs(step) > math.Pi*2/3 {
			return centre, radius, off, flat, false // a flat or a gap in it
		}
		if straight > 0 {
			flat = max(flat, radius*(1-math.Cos(step/2)))
		}
		turn += step
	}
	return centre, radius, off, flat, off <= max(offRound, offRoundPart*radius) && math.Abs(math.Abs(turn)-2*math.Pi) < 1e-3
}

// marks returns places along a loop: where its pieces begin, and the middles of arcs; straight is how many pieces are straight,
// but for those as short as a hair.
func (l loop) marks() (points []plane.Point, straight int) {
	for _, e := range l.edges {
		points = append(points, e.a)
		if e.bulge == 0 {
			if e.a.Distance(e.b) > hairline {
				straight++
			}
			continue
		}
		c, r := e.arc()
		mid := math.Atan2(e.a.Z-c.Z, e.a.X-c.X) + 2*math.Atan(e.bulge)
		points = append(points, plane.Point{X: c.X + r*math.Cos(mid), Z: c.Z + r*math.Sin(mid)})
	}
	return points, straight
}

// circleThrough returns the circle nearest to points, by least squares of x² + z² − 2ax − 2bz − c.
// Source: I. Kåsa, "A circle fitting procedure and its error analysis", IEEE Trans. Instrum. Meas. 25 (1976), p. 8.
func circleThrough(points []plane.Point) (centre plane.Point, radius float64, ok bool) {
	n := float64(len(points))
	var mean plane.Point
	for _, p := range points {
		mean = mean.Add(p.Times(1 / n))
	}
	var xx, xz, zz, xr, zr, rr float64
	for _, p := range points {
		u := p.Sub(mean)
		s := u.X*u.X + u.Z*u.Z
		xx, xz, zz = xx+u.X*u.X, xz+u.X*u.Z, zz+u.Z*u.Z
		xr, zr, rr = xr+u.X*s, zr+u.Z*s, rr+s
	}
	det := xx*zz - xz*xz
	if !(det > 1e-9*rr*rr) {
		return mean, 0, false
	}
	a, b := (xr*zz-zr*xz)/(2*det), (zr*xx-xr*xz)/(2*det)
	return mean.Add(plane.Point{X: a, Z: b}), math.Sqrt(rr/n + a*a + b*b), true
}

// bent returns a loop in which rows of short straight pieces that lie on one circle are arcs.
func (l loop) bent() loop {
	n := len(l.edges)
	if n < 8 || n > maxFound {
		return l
	}
	start := 0 // a long piece, so that no row runs over the end of the list
	for i, e := range l.edges {
		if e.a.Distance(e.b) > l.edges[start].a.Distance(l.edges[start].b) {
			start = i
		}
	}
	out := loop{layer: l.layer, line: l.line}
	for i := 0; i < n; {
		row := l.rowFrom(start, i)
		if row < 5 {
			out.edges = append(out.edges, l.edges[(start+i)%n])
			i++
			continue
		}
		half := row / 2
		a, m, b := l.edges[(start+i)%n].a, l.edges[(start+i+half)%n].a, l.edges[(start+i+row-1)%n].b
		c, _, _ := circleThrough([]plane.Point{a, m, b})
		bulge := func(p, q plane.Point) float64 { return math.Tan(plane.Wrap(q.Sub(c).Angle()-p.Sub(c).Angle()) / 4) }
		out.edges = append(out.edges, edge{a, m, bulge(a, m)}, edge{m, b, bulge(m, b)})
		i += row
	}
	return out
}

// rowFrom counts the straight pieces from one on, as counted from start, that lie on one circle, turn by like steps, and go round half of it
// at most. The circle is that of the first few, and then of as many as were found on it: a few tell it poorly.
func (l loop) rowFrom(start, i int) int {
	n := len(l.edges)
	at := func(k int) edge { return l.edges[(start+k)%n] }
	row := 5
	if i+row > n {
		return 0
	}
	for range 8 {
		c, r, ok := circleThrough([]plane.Point{at(i).a, at(i + row/2).a, at(i + row - 1).b})
		if !ok {
			return 0
		}
		on := l.onCircle(c, r, i, at)
		if on <= row {
			return on
		}
		row = on
	}
	return row
}

// onCircle counts the straight pieces from one on that go round a circle.
func (l loop) onCircle(c plane.Point, r float64, i int, at func(int) edge) int {
	step := func(e edge) float64 { return plane.Wrap(e.b.Sub(c).Angle() - e.a.Sub(c).Angle()) }
	first, turn, row := step(at(i)), 0.0, 0
	for ; i+row < len(l.edges); row++ {
		e := at(i + row)
		s := step(e)
		if e.bulge != 0 || math.Abs(e.b.Distance(c)-r) > 2*sameSpot || math.Abs(e.a.Distance(c)-r) > 2*sameSpot || s*first <= 0 ||
			math.Abs(s) > 2.2*math.Abs(first) || math.Abs(turn+s) > math.Pi+halfTurn || math.Abs(s) > 2*math.Pi/leastSides*1.5 {
			break
		}
		turn += s
	}
	return row
}

// halfTurn is by how much half a turn may be more by rounding, rad.
const halfTurn = 0.02

// takeRoundly takes a loop that stands for a circle though its pieces are not exactly on it, and notes it.
func (f *Found) takeRoundly(l loop) bool {
	c, r, off, flat, ok := l.roundly()
	if !ok {
		return false
	}
	f.Holes = append(f.Holes, holes.Hole{X: c.X, Z: c.Z, D: 2 * r})
	text := fmt.Sprintf("a circle drawn in %d pieces at %.2f, %.2f is taken as a hole of %.2f mm: true to %.3f mm", len(l.edges), c.X, c.Z, 2*r, off)
	if flat > 0.05 {
		text += fmt.Sprintf(", and its flats lie %.2f mm within", flat)
	}
	f.Notes = append(f.Notes, text)
	return true
}

// nearlyRound is how far the corners of a shape may be off a circle, as part of its radius, that may be a hole drawn poorly.
const nearlyRound = 0.05

// noteNearlyRound says of cut-outs that may be bolts' holes that they are taken as cut-outs: rough circles, and holes with a flat.
func (f *Found) noteNearlyRound() {
	told := 0
	for _, points := range f.Cutouts {
		c, r, ok := circleThrough(points)
		if !ok || len(points) < 5 || 2*r >= lightening {
			continue
		}
		off, least := 0.0, r
		for i, p := range points {
			off = max(off, math.Abs(p.Distance(c)-r))
			q := points[(i+1)%len(points)]
			least = min(least, p.Add(q).Times(0.5).Distance(c))
		}
		if off > nearlyRound*r || least < r/2 {
			continue
		}
		if told++; told > maxListed {
			f.Notes = append(f.Notes, "and more cut-outs that are nearly round")
			return
		}
		f.Notes = append(f.Notes, fmt.Sprintf("the cut-out of %d corners at %.2f, %.2f is nearly round, %.2f mm across: if a bolt goes there, draw it as a circle",
			len(points), c.X, c.Z, 2*r))
	}
}

// takeSlot takes a loop that is a slot, or stands for one whose ends are drawn in straight pieces.
func (f *Found) takeSlot(l loop) bool {
	s, ok := l.slot()
	if !ok {
		if s, ok = l.bent().slot(); ok {
			f.Notes = append(f.Notes, fmt.Sprintf("a slot drawn in %d pieces at %.2f, %.2f is taken as one of %.2f mm", len(l.edges), s.X, s.Z, s.D))
		}
	}
	if ok {
		f.Slots = append(f.Slots, s)
	}
	return ok
}
