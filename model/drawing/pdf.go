package drawing

import (
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"stanchion/holes/plane"
)

// PDF writes the drawing at 1:1 on a paper: on one sheet, turned to fit, where that does, and else on pages that repeat at
// least 10 mm of one another and carry marks to register them by. Each page has a check bar of 100 mm both ways.
func (d *Drawing) PDF(paper Paper, date time.Time) ([]byte, error) {
	return d.Layout(paper).PDF(d.Title, date)
}

// PDF writes the pages.
func (s *Sheets) PDF(title string, date time.Time) ([]byte, error) {
	f := newPDF(title, s.Width, s.Height, date)
	f.SetLineJoinStyle("round")
	for _, page := range s.Pages {
		f.AddPage()
		for i, l := range page.laid {
			p := &pdfPage{f, -l.at.X, s.Height - l.at.Z}
			if i == 0 && page.tile {
				f.ClipRect(margin, margin, s.Width-2*margin, s.Height-2*margin, false)
				p.draw(l.Drawing, box{plane.Point{X: margin, Z: margin}.Sub(l.at), plane.Point{X: s.Width - margin, Z: s.Height - margin}.Sub(l.at)})
				f.ClipEnd()
				continue
			}
			p.draw(l.Drawing, everywhere)
		}
		(&pdfPage{f, 0, s.Height}).frame(s, &page, title)
	}
	return written(f)
}

// everywhere is a window that shows all of a drawing.
var everywhere = box{plane.Point{X: math.Inf(-1), Z: math.Inf(-1)}, plane.Point{X: math.Inf(1), Z: math.Inf(1)}}

// pdfPage is one page: left and top are the drawing's coordinates of its upper left
// corner.
type pdfPage struct {
	*fpdf.Fpdf
	left, top float64
}

func (s *pdfPage) at(p plane.Point) (x, y float64) { return p.X - s.left, s.top - p.Z }

func (s *pdfPage) pen(p Pen) {
	k := p.ink()
	s.SetDrawColor(int(k[0]), int(k[1]), int(k[2]))
	s.SetFillColor(int(k[0]), int(k[1]), int(k[2]))
	s.SetTextColor(int(k[0]), int(k[1]), int(k[2]))
	s.SetLineWidth(p.width())
	s.SetDashPattern(p.dash(), 0)
}

// draw draws what is in a window of a drawing; a text that is not whole in it stands on another page.
func (s *pdfPage) draw(d *Drawing, window box) {
	for _, p := range d.Paths {
		s.pen(p.Pen)
		s.path(p)
	}
	for _, c := range d.Circles {
		s.pen(c.Pen)
		s.MoveTo(s.at(plane.Point{X: c.Centre.X + c.Radius, Z: c.Centre.Z}))
		s.arc(c.Centre, c.Radius, 0, 2*math.Pi)
		s.ClosePath()
		style := "D"
		if c.Filled {
			style = "DF"
		}
		s.DrawPath(style)
	}
	for _, t := range d.Texts {
		if !grown(window).holds(boxAround(0, t.corners()...)) {
			continue
		}
		s.pen(t.Pen)
		s.write(t)
	}
}

func (s *pdfPage) path(p Path) {
	n := len(p.Points)
	x, y := s.at(p.Points[0])
	s.MoveTo(x, y)
	last := n - 1
	if p.Closed {
		last = n
	}
	for i := range last {
		a, b := p.Points[i], p.Points[(i+1)%n]
		if p.Bulges == nil || p.Bulges[i] == 0 {
			x, y = s.at(b)
			s.LineTo(x, y)
			continue
		}
		from, r, centre := arcOf(a, b, p.Bulges[i])
		s.arc(centre, r, from, 4*math.Atan(p.Bulges[i]))
	}
	style := "D"
	if p.Closed {
		s.ClosePath()
	}
	if p.Filled {
		style = "DF"
	}
	s.DrawPath(style)
}

// arc adds an arc to a path as cubic curves of at most an eighth of a turn, with
// handles of 4/3 tan(turn/4) radii: within a millionth of the radius.
func (s *pdfPage) arc(c plane.Point, r, from, turn float64) {
	n := int(math.Ceil(math.Abs(turn)/(math.Pi/4) - 1e-9))
	step := turn / float64(n)
	k := 4.0 / 3 * math.Tan(step/4) * r
	for i := range n {
		a0, a1 := from+float64(i)*step, from+float64(i+1)*step
		s0, c0 := math.Sincos(a0)
		s1, c1 := math.Sincos(a1)
		x1, y1 := s.at(plane.Point{X: c.X + r*c0 - k*s0, Z: c.Z + r*s0 + k*c0})
		x2, y2 := s.at(plane.Point{X: c.X + r*c1 + k*s1, Z: c.Z + r*s1 - k*c1})
		x3, y3 := s.at(plane.Point{X: c.X + r*c1, Z: c.Z + r*s1})
		s.CurveBezierCubicTo(x1, y1, x2, y2, x3, y3)
	}
}

// pointsPerMM is 72 points to the inch.
const pointsPerMM = 72 / 25.4

// inFont replaces characters beyond the ones that the library's tables reach.
func inFont(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return '?'
		}
		return r
	}, text)
}

func (s *pdfPage) write(t Text) {
	t.Text = inFont(t.Text)
	s.SetFont("sans", "", t.Size*pointsPerMM)
	w := s.GetStringWidth(t.Text)
	x, y := s.at(t.At)
	off := -w * float64(t.Anchor) / 2
	if t.angle() == 0 {
		s.Text(x+off, y, t.Text)
		return
	}
	s.TransformBegin()
	s.TransformRotate(t.angle()/plane.Deg, x, y)
	s.Text(x+off, y, t.Text)
	s.TransformEnd()
}

// bars adds the check bars of a page, and what to do with them.
func (s *pdfPage) bars(on *Sheets) {
	for _, l := range bars() {
		s.Line(l[0].X, on.Height-l[0].Z, l[1].X, on.Height-l[1].Z)
	}
	said := "100 mm: measure both; print at 100 %, not fitted"
	if s.GetStringWidth(said) > on.Width-2*margin-checkBar-2 {
		said = "100 mm: measure both"
	}
	s.Text(margin+checkBar+2, on.Height-9, said)
}

// frame adds what each page has in its margin: check bars, and which page it is; and the marks that fall together with those
// of the pages beside it.
func (s *pdfPage) frame(on *Sheets, page *Page, title string) {
	s.pen(Note)
	s.SetLineWidth(0.35)
	s.SetFont("sans", "", textSize*pointsPerMM)
	if !on.picture {
		s.bars(on)
	}
	if page.heading == "" {
		return
	}
	heading := inFont(title + ", " + page.heading)
	if s.GetStringWidth(heading) > on.Width-2*margin {
		heading = page.heading
	}
	s.Text(margin, 10, heading)
	s.SetLineWidth(0.18)
	for _, m := range page.marks {
		x, y := s.at(m)
		s.Line(x-3, y, x+3, y)
		s.Line(x, y-3, x, y+3)
		s.Circle(x, y, 1.5, "D")
	}
}
