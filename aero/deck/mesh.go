package deck

import "math"

// mesh says how finely a body is cut into panels, and what stands in for what is not drawn.
type mesh struct {
	fine   float64   // m, the length of a panel over the rear of the body
	edge   float64   // m, of a panel at the tail itself
	near   float64   // m ahead of the tail where none is longer than fine
	growth float64   // by which panels lengthen per length
	coarse float64   // m, at most
	across []float64 // the panels' edges over half the width, 0 to 1
	rows   []float64 // the same over the height of a side and of an upright face at an end
	wake   float64   // m, the length of the wake behind the tail
	ahead  float64   // m, of the prolongation ahead of a profile that starts in mid-body
	bottom float64   // m above the ground; 0 when the body stands on it
	air    bool      // no ground
}

// standard returns the mesh for a profile from front to rear. Four times the panels change lift
// by less than 1 % with a solid wake, by less than 0.02 of the downforce with a free one, and
// the rise of the slope by less than 0.02.
func standard(profile []Point, width float64) mesh {
	front, tail := profile[0], profile[len(profile)-1]
	highest := 0.0
	for _, p := range profile {
		highest = max(highest, p.Z)
	}
	fine := fineness(width)
	m := mesh{
		fine: fine, edge: fine / 3.5, near: 0.6 * width, growth: 0.3, across: graded(4), rows: graded(2),
		coarse: max(0.6, (tail.X-front.X)/12), wake: 1.5 * tail.Z,
	}
	if front.Z > highest/2 {
		m.ahead = 2 * highest
	}
	return m
}

// fineness returns the length of the panels over the rear of a body, m.
func fineness(width float64) float64 { return max(0.04, min(0.14, width/19)) }

// cuts returns the points between panels from front to rear. Between those numbered first
// and last lie the slices of the profile itself, behind it the wake.
func (m mesh) cuts(profile []Point) (line []Point, first, last int) {
	start, tail := profile[0], profile[len(profile)-1]
	line = []Point{start}
	if m.ahead > 0 {
		far := Point{start.X - m.ahead, start.Z}
		line = append([]Point{far}, m.piece(far, start, tail.X)...)
	}
	first = len(line) - 1
	for i := 1; i < len(profile); i++ {
		line = append(line, m.piece(profile[i-1], profile[i], tail.X)...)
	}
	last = len(line) - 1
	if m.wake > 0 {
		line = append(line, m.piece(tail, Point{tail.X + m.wake, tail.Z}, tail.X)...)
	}
	return line, first, last
}

// piece cuts the straight piece from a to b, and returns the points after a.
func (m mesh) piece(a, b Point, tail float64) []Point {
	length := math.Hypot(b.X-a.X, b.Z-a.Z)
	// From the end that is nearer to the tail, steps of the wanted size, then stretched to fit.
	near, far := b, a
	if a.X >= tail {
		near, far = a, b
	}
	marks, s := []float64{0}, 0.0
	for s < length {
		size := m.size(near.X+(far.X-near.X)*s/length, tail)
		if s > 0 && length-s < size/2 {
			break
		}
		s += size
		marks = append(marks, s)
	}
	n := len(marks) - 1
	points := make([]Point, n)
	for i := range points {
		k := marks[i+1] / marks[n]
		if near == b {
			k = 1 - marks[n-1-i]/marks[n]
		}
		points[i] = Point{a.X + (b.X-a.X)*k, a.Z + (b.Z-a.Z)*k}
	}
	points[n-1] = b
	return points
}

// size returns the length of a panel at x, m.
func (m mesh) size(x, tail float64) float64 {
	away := math.Abs(x - tail)
	size := min(m.coarse, m.edge+m.growth*away)
	if x < tail {
		size = min(size, m.fine+m.growth*max(0, away-m.near))
	}
	return size
}

// graded returns n+1 numbers from 0 to 1 that lie closer together towards 1.
func graded(n int) []float64 {
	all := make([]float64, n+1)
	for i := range all {
		t := float64(i) / float64(n)
		all[i] = (t + math.Sin(math.Pi/2*t)) / 2
	}
	return all
}

// panels lays panels on the right half of a body of the given width: on the upper side, from
// front to rear, then on the sides, the faces at the ends, and the underside of a body
// that does not stand on the ground.
func (m mesh) panels(line []Point, first, last int, width float64) []panel {
	var all []panel
	rows := m.rows
	ys := make([]float64, len(m.across))
	for i, part := range m.across {
		ys[i] = part * width / 2
	}
	columns := len(ys) - 1
	up := func(p Point, y, part float64) vec { return vec{p.X, y, m.bottom + (p.Z-m.bottom)*part} }
	for i := 1; i < len(line); i++ {
		a, b, slice := line[i-1], line[i], -1
		if i > first && i <= last {
			slice = i - first - 1
		}
		for k := range columns {
			p := newPanel(up(a, ys[k], 1), up(b, ys[k], 1), up(b, ys[k+1], 1), up(a, ys[k+1], 1), slice)
			if i > last {
				p.ahead = len(all) - columns
			}
			all = append(all, p)
		}
	}
	before := -1 // the first side panel of the slice ahead
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if b.X-a.X < 1e-6 {
			continue
		}
		start := len(all)
		for k := range len(rows) - 1 {
			y, low, high := width/2, rows[k], rows[k+1]
			p := newPanel(up(a, y, low), up(a, y, high), up(b, y, high), up(b, y, low), -1)
			if i > last {
				p.ahead = before + k
			}
			all = append(all, p)
		}
		before = start
		for k := range columns {
			if y1, y2 := ys[k], ys[k+1]; m.bottom > 0 {
				all = append(all, newPanel(up(a, y1, 0), up(a, y2, 0), up(b, y2, 0), up(b, y1, 0), -1))
			}
		}
	}
	front, rear := line[0], line[len(line)-1]
	for k := range columns {
		y1, y2 := ys[k], ys[k+1]
		for r := range len(rows) - 1 {
			low, high := rows[r], rows[r+1]
			if front.Z-m.bottom > 1e-3 {
				all = append(all, newPanel(up(front, y1, low), up(front, y1, high), up(front, y2, high), up(front, y2, low), -1))
			}
			if rear.Z-m.bottom > 1e-3 {
				all = append(all, newPanel(up(rear, y1, low), up(rear, y2, low), up(rear, y2, high), up(rear, y1, high), -1))
			}
		}
	}
	return all
}
