package drawing

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// overlap is how far a page repeats the one beside it at least, mm, so that pages can be laid on one another.
const overlap = 10

// interval is from where to where a text or a hole runs along an axis, mm.
type interval struct{ lo, hi float64 }

// windows returns where windows of a size start that cover lo to hi: as few as there can be, each at least the overlap on
// the one before, and no text or hole cut in all of those that it touches. One that is longer than a window is left out.
func windows(lo, hi, size float64, whole []interval) []float64 {
	all := []float64{lo}
	for at := lo; at+size < hi-1e-9; {
		next := at + size - overlap
		for changed := true; changed; {
			changed = false
			for _, t := range whole { // that are not whole before, and would be cut off at the start
				if t.hi > at+size+1e-9 && t.lo < next-1e-9 && t.hi-t.lo <= size && t.lo > at {
					next, changed = t.lo, true
				}
			}
		}
		at = next
		all = append(all, at)
	}
	return all
}

// tile is one window onto a drawing.
type tile struct {
	box
	row, col int
}

// tiles lays the drawing on as few pages of a paper as it takes.
func (d *Drawing) tiles(paper Paper) *Sheets {
	sizes := [][2]float64{{paper.Width, paper.Height}, {paper.Height, paper.Width}}
	if paper.Height == 0 {
		sizes = [][2]float64{{wideRoll, rollPage}}
	}
	var best *Sheets
	for _, turn := range d.turns()[:min(2, len(d.turns()))] {
		main := d.turned(turn)
		for _, size := range sizes {
			s := d.tiled(main, paper, size[0], size[1])
			if s.Turn = turn; best == nil || len(s.Pages) < len(best.Pages) {
				best = s
			}
		}
	}
	return best
}

// tiled lays a drawing, turned, on pages of w by h mm, and its blocks where they have room.
func (d *Drawing) tiled(main *Drawing, paper Paper, w, h float64) *Sheets {
	in := room(w, h)
	wide, high := in.hi.X-in.lo.X, in.hi.Z-in.lo.Z
	lo, hi := main.Bounds()
	var xs, zs []interval
	keep := func(b box) {
		xs, zs = append(xs, interval{b.lo.X, b.hi.X}), append(zs, interval{-b.hi.Z, -b.lo.Z})
	}
	for _, t := range main.Texts {
		keep(boxAround(0, t.corners()...))
	}
	for _, c := range main.Circles { // with the margin that a line's width takes
		keep(boxAround(c.Radius+0.5, c.Centre))
	}
	var all []tile
	for row, top := range windows(-hi.Z, -lo.Z, high, zs) {
		for col, left := range windows(lo.X, hi.X, wide, xs) {
			all = append(all, tile{box{plane.Point{X: left, Z: -top - high}, plane.Point{X: left + wide, Z: -top}}, row, col})
		}
	}
	all = needed(all, main)
	s := &Sheets{Paper: paper, Width: w, Height: h, picture: d.Picture}
	marks := registers(all, main)
	for i, t := range all {
		at := in.lo.Sub(t.lo)
		p := Page{laid: []laid{{main, at}}, tile: true}
		for _, m := range marks[i] {
			p.marks = append(p.marks, m.Add(at))
		}
		s.Pages = append(s.Pages, p)
	}
	s.blocks(d.Blocks)
	for i := range s.Pages {
		p := &s.Pages[i]
		if p.heading = fmt.Sprintf("page %d of %d", i+1, len(s.Pages)); p.tile && len(all) > 1 {
			p.heading += fmt.Sprintf(": row %d, column %d; lay the pages on one another mark on mark", all[i].row+1, all[i].col+1)
		}
	}
	return s
}

// blocks puts blocks on pages where they have room, and else on pages of their own. Table and title come on one page where
// there is one that takes both.
func (s *Sheets) blocks(blocks []Block) {
	for i := range s.Pages {
		before := slices.Clone(s.Pages[i].laid)
		if left := s.Pages[i].put(blocks, s.Width, s.Height); len(left) == 0 {
			return
		}
		s.Pages[i].laid = before
	}
	in := room(s.Width, s.Height)
	own := len(s.Pages)
	for _, b := range blocks {
		for _, piece := range b.drawn(in.hi.Z - in.lo.Z) {
			placed := false
			for i := own; i < len(s.Pages) && !placed; i++ {
				placed = s.Pages[i].place(piece, s.Width, s.Height)
			}
			if placed {
				continue
			}
			lo, hi := piece.Bounds()
			s.Pages = append(s.Pages, Page{laid: []laid{{&Drawing{Turns: true}, plane.Point{}},
				{piece, plane.Point{X: in.lo.X - lo.X, Z: in.hi.Z - hi.Z}}}})
		}
	}
}

// needed leaves out windows that show nothing that the others do not.
func needed(all []tile, d *Drawing) []tile {
	var marks []plane.Point // of lines, at most 2 mm apart
	var k ink
	k.add(d)
	for _, l := range k.lines {
		n := max(1, int(math.Ceil(l[0].Distance(l[1])/2)))
		for i := range n + 1 {
			marks = append(marks, l[0].Add(l[1].Sub(l[0]).Times(float64(i)/float64(n))))
		}
	}
	shows := func(b box) (points, texts []int) {
		for i, p := range marks {
			if b.lo.X-1e-6 <= p.X && p.X <= b.hi.X+1e-6 && b.lo.Z-1e-6 <= p.Z && p.Z <= b.hi.Z+1e-6 {
				points = append(points, i)
			}
		}
		for i, t := range k.texts {
			if grown(b).holds(boxAround(0, t...)) {
				texts = append(texts, i)
			}
		}
		return points, texts
	}
	points, texts := make([]int, len(marks)), make([]int, len(k.texts))
	for _, t := range all {
		p, x := shows(t.box)
		for _, i := range p {
			points[i]++
		}
		for _, i := range x {
			texts[i]++
		}
	}
	alone := func(in []int, of []int) bool { return slices.ContainsFunc(in, func(i int) bool { return of[i] == 1 }) }
	var kept []tile
	for _, t := range all {
		p, x := shows(t.box)
		if alone(p, points) || alone(x, texts) {
			kept = append(kept, t)
			continue
		}
		for _, i := range p {
			points[i]--
		}
		for _, i := range x {
			texts[i]--
		}
	}
	return kept
}

// grown is a box a little larger, for what lies on its edge.
func grown(b box) box {
	const e = 1e-6
	return box{plane.Point{X: b.lo.X - e, Z: b.lo.Z - e}, plane.Point{X: b.hi.X + e, Z: b.hi.Z + e}}
}

// markBox is what a mark to register pages by takes.
func markBox(at plane.Point) box { return boxAround(3.4, at) }

// registers finds two places in each strip that neighbouring windows share, as far apart as can be, where a mark lies
// on no word, and on no line where that can be. It returns those of each window.
func registers(all []tile, d *Drawing) [][]plane.Point {
	var marks []plane.Point
	of := make([][]plane.Point, len(all))
	var k ink
	k.add(d)
	clear := func(b box, lines bool) bool {
		if !k.freeOfTexts(b) || lines && !k.freeOfLines(b) {
			return false
		}
		return !slices.ContainsFunc(marks, func(m plane.Point) bool { return markBox(m).meets(b) })
	}
	for i, a := range all {
		for j, b := range all[i+1:] {
			if abs(a.row-b.row)+abs(a.col-b.col) != 1 {
				continue
			}
			both := box{plane.Point{X: max(a.lo.X, b.lo.X), Z: max(a.lo.Z, b.lo.Z)}, plane.Point{X: min(a.hi.X, b.hi.X), Z: min(a.hi.Z, b.hi.Z)}}
			for _, way := range []float64{1, -1} {
				for _, lines := range []bool{true, false} {
					if m, ok := along(both, way, func(b box) bool { return clear(b, lines) }); ok {
						marks = append(marks, m)
						of[i], of[i+1+j] = append(of[i], m), append(of[i+1+j], m)
						break
					}
				}
			}
		}
	}
	return of
}

// along looks for a clear place in a strip, from one end of its longer side or from the other.
func along(strip box, way float64, clear func(box) bool) (plane.Point, bool) {
	const inset, step = 4.0, 2.0
	size := strip.hi.Sub(strip.lo)
	flat := size.X > size.Z
	long, short := max(size.X, size.Z), min(size.X, size.Z)
	for u := inset; u <= long-inset; u += step {
		at := u
		if way < 0 {
			at = long - u
		}
		for v := inset; v <= short-inset+1e-9; v += 1 {
			p := plane.Point{X: strip.lo.X + v, Z: strip.lo.Z + at}
			if flat {
				p = plane.Point{X: strip.lo.X + at, Z: strip.lo.Z + v}
			}
			if clear(markBox(p)) {
				return p, true
			}
		}
	}
	return plane.Point{}, false
}

func abs(n int) int { return max(n, -n) }
