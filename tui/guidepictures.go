package tui

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/carfile/guide"
	"stanchion/tui/widgets"
)

// sketchView draws a picture of the guided start to scale. What is not answered yet is dotted; the
// measure that is asked for stands between ▸ and ◂.
func (m Model) sketchView(k guide.Sketch, w, h int) []string {
	s := &scene{Canvas: widgets.NewCanvas(w, h, looks, m.glyphs), m: m}
	if w < 20 || h < 4 || !s.frameSketch(k) {
		return s.Lines()
	}
	for _, l := range k.Strokes {
		s.sketchStroke(l)
	}
	for _, d := range k.Discs {
		if d.Wheel {
			s.circle(d.At, d.D/2, inkCar)
		}
	}
	for _, d := range k.Measures {
		s.sketchLine(d)
	}
	for _, now := range [2]bool{true, false} { // what is asked for first: names win over others
		for _, d := range k.Measures {
			if d.Now == now {
				s.sketchText(d)
			}
		}
	}
	for _, now := range [2]bool{true, false} {
		for _, d := range k.Discs {
			if !d.Wheel && d.Now == now {
				s.sketchHole(d)
			}
		}
	}
	note := "to scale, front left"
	if k.Guessed {
		note = "dotted: not given yet"
	}
	s.textIn(w-len(note), h-1, note, inkCar)
	return s.Lines()
}

// frameSketch chooses the scale at which all of a picture is in it.
func (s *scene) frameSketch(k guide.Sketch) bool {
	lo, hi := plane.Point{X: math.Inf(1), Z: math.Inf(1)}, plane.Point{X: math.Inf(-1), Z: math.Inf(-1)}
	take := func(p plane.Point, r float64) {
		lo.X, lo.Z = min(lo.X, p.X-r), min(lo.Z, p.Z-r)
		hi.X, hi.Z = max(hi.X, p.X+r), max(hi.Z, p.Z+r)
	}
	for _, l := range k.Strokes {
		for _, p := range l.Points {
			take(p, 0)
		}
	}
	for _, d := range k.Discs {
		take(d.At, d.D/2)
	}
	for _, d := range k.Measures {
		take(d.A, 0)
		take(d.B, 0)
	}
	if !(hi.X >= lo.X && hi.Z >= lo.Z) || hi.X-lo.X > 1e6 || hi.Z-lo.Z > 1e6 {
		return false
	}
	// room for names and numbers: some cells at each side
	wide, high := max(hi.X-lo.X, 20), max(hi.Z-lo.Z, 20)
	s.scale = max(wide/float64(max(2*s.W-40, 8)), high/float64(max(4*s.H-10, 6)))
	s.x0 = (lo.X+hi.X)/2 - s.scale*float64(s.W)
	s.z1 = (lo.Z+hi.Z)/2 + s.scale*float64(2*s.H)
	return true
}

func (s *scene) sketchStroke(l guide.Stroke) {
	ink, gap := inkUpright, 1
	if l.Faint {
		ink, gap = inkCar, 3
	}
	if l.Closed {
		s.polygon(plane.Pose{}, l.Points, ink, gap)
		return
	}
	for i := 1; i < len(l.Points); i++ {
		s.stroke(l.Points[i-1], l.Points[i], ink, gap)
	}
}

// sketchHole draws a hole, with its name where there is room.
func (s *scene) sketchHole(d guide.Disc) {
	ink, sign := inkHole, "○"
	switch {
	case d.Faint:
		ink, sign = inkCar, "·"
	case d.Now:
		ink, sign = inkBolt, "●"
	}
	x, y := s.cellAt(d.At)
	n := len([]rune(d.Name))
	switch {
	case !s.Free(x, y, 1):
		s.nameBeside(x, y, d.Name, ink)
	case n > 0 && s.Free(x, y, 1+n) && (x+1+n >= s.W || s.Free(x+1+n, y, 1)):
		s.Label(x, y, sign+d.Name, ink)
	case n > 0 && s.Free(x-n, y, 1+n) && (x == n || s.Free(x-n-1, y, 1)):
		s.Label(x-n, y, d.Name+sign, ink)
	default:
		s.Label(x, y, sign, ink)
		s.nameBeside(x, y, d.Name, ink)
	}
}

// nameBeside adds the name of a hole that has no room of its own to what stands there already, "○k1,k2": right of it, or
// in the line below or above.
func (s *scene) nameBeside(x, y int, name string, k widgets.Ink) {
	n := len([]rune(name))
	for _, row := range [3]int{y, y + 1, y - 1} {
		if n == 0 || s.Free(x, row, 1) && row != y {
			continue // nothing there that it could be added to
		}
		end := x
		for end < s.W && !s.Free(end, row, 1) {
			end++
		}
		if s.Free(end, row, n+1) {
			s.Label(end, row, ","+name, k)
			return
		}
	}
}

func sketchInk(d guide.Measure) widgets.Ink {
	if d.Now {
		return inkBolt
	}
	return inkCar
}

// sketchLine draws a dimension with a tick at each end.
func (s *scene) sketchLine(d guide.Measure) {
	ink := sketchInk(d)
	s.stroke(d.A, d.B, ink, 1)
	v := d.B.Sub(d.A)
	l := math.Hypot(v.X, v.Z)
	if l < 1e-9 {
		return
	}
	across := plane.Point{X: -v.Z / l, Z: v.X / l}.Times(3 * s.scale)
	for _, p := range [2]plane.Point{d.A, d.B} {
		s.stroke(p.Add(across), p.Sub(across), ink, 1)
	}
}

// sketchText writes a dimension's number at its middle.
func (s *scene) sketchText(d guide.Measure) {
	text := widgets.Shorten(d.Text, 24)
	if d.Now {
		text = "▸" + text + "◂"
	}
	n := len([]rune(text))
	x, y := s.cellAt(d.A.Add(d.B).Times(0.5))
	first := [][2]int{{x - n - 1, y}, {x + 2, y}, {x - n - 1, y + 1}}
	if math.Abs(d.B.X-d.A.X) >= math.Abs(d.B.Z-d.A.Z) {
		first = [][2]int{{x - n/2, y + 1}, {x - n/2, y - 1}, {x - n/2, y}}
	}
	for off := 1; off <= 4; off++ { // a number is never left out: further off where it is crowded
		for _, dx := range [3]int{0, -n - 1, n + 1} {
			first = append(first, [2]int{x - n/2 + dx, y + off}, [2]int{x - n/2 + dx, y - off})
		}
	}
	for _, at := range first {
		if s.textIn(at[0], at[1], text, sketchInk(d)) {
			return
		}
	}
}
