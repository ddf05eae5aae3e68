package drawing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"stanchion/holes/plane"
)

// Paper is a size of paper, mm, upright.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are the sizes that drawings are laid out on.
// Source: ISO 216 for A4 and A3; ANSI/ASME Y14.1 for Letter.
var Papers = []Paper{{"a4", 210, 297}, {"letter", 215.9, 279.4}, {"a3", 297, 420}}

// overlap is how far a page repeats the one beside it, mm, so that pages can be laid
// on one another.
const overlap = 10

// Pages is how a drawing of some size is laid out on pages.
type Pages struct {
	Width, Height float64 // mm of one page, turned as suits the drawing
	Across, Down  int
}

// layout finds how few pages hold a drawing of w by h mm.
func layout(w, h float64, paper Paper) Pages {
	count := func(pw, ph float64) Pages {
		n := func(size, page float64) int {
			room := page - 2*margin
			if size <= room {
				return 1
			}
			return int(math.Ceil((size-overlap)/(room-overlap) - 1e-9))
		}
		return Pages{pw, ph, n(w, pw), n(h, ph)}
	}
	upright, flat := count(paper.Width, paper.Height), count(paper.Height, paper.Width)
	if flat.Across*flat.Down < upright.Across*upright.Down {
		return flat
	}
	return upright
}

// Layout says how many pages of a paper the drawing takes.
func (d *Drawing) Layout(paper Paper) Pages {
	lo, hi := d.Bounds()
	return layout(hi.X-lo.X, hi.Z-lo.Z, paper)
}

// PDF writes the drawing at 1:1 on pages of a paper. A drawing that is larger than a
// page is laid over several, which repeat 10 mm of one another and carry marks to
// register them by. Each page has a check bar of 100 mm both ways.
func (d *Drawing) PDF(paper Paper, date time.Time) ([]byte, error) {
	lo, hi := d.Bounds()
	pages := d.Layout(paper)
	f := newPDF(d.Title, pages.Width, pages.Height, date)
	roomW, roomH := pages.Width-2*margin, pages.Height-2*margin
	for row := range pages.Down {
		for col := range pages.Across {
			f.AddPage()
			left := lo.X + float64(col)*(roomW-overlap)
			top := hi.Z - float64(row)*(roomH-overlap)
			s := &pdfPage{f, left - margin, top + margin}
			f.ClipRect(margin, margin, roomW, roomH, false)
			s.draw(d)
			f.ClipEnd()
			s.frame(d, pages, row, col)
		}
	}
	return written(f)
}

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

func (s *pdfPage) draw(d *Drawing) {
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
	if !t.Up {
		s.Text(x+off, y, t.Text)
		return
	}
	s.TransformBegin()
	s.TransformRotate(90, x, y)
	s.Text(x+off, y, t.Text)
	s.TransformEnd()
}

// frame adds what each page has in its margin: check bars, which page it is, and
// marks that fall together with those of the pages beside it.
func (s *pdfPage) frame(d *Drawing, pages Pages, row, col int) {
	s.pen(Note)
	s.SetLineWidth(0.35)
	for _, l := range bars() {
		s.Line(l[0].X, pages.Height-l[0].Z, l[1].X, pages.Height-l[1].Z)
	}
	s.SetFont("sans", "", 2.5*pointsPerMM)
	s.Text(margin+checkBar+2, pages.Height-9, "100 mm: measure both; print at 100 %, not fitted")
	if pages.Across*pages.Down == 1 {
		return
	}
	s.Text(margin, 10, fmt.Sprintf("%s: row %d of %d, column %d of %d; cut at the marks, or lay the overlap of %d mm on it",
		inFont(d.Title), row+1, pages.Down, col+1, pages.Across, overlap))
	s.SetLineWidth(0.18)
	for i := range 2 {
		for k := range 2 {
			edgeX, edgeY := col > 0, row > 0
			if i == 1 {
				edgeX = col < pages.Across-1
			}
			if k == 1 {
				edgeY = row < pages.Down-1
			}
			if !edgeX && !edgeY {
				continue
			}
			x, y := margin+overlap/2.0, margin+overlap/2.0
			if i == 1 {
				x = pages.Width - x
			}
			if k == 1 {
				y = pages.Height - y
			}
			s.Line(x-3, y, x+3, y)
			s.Line(x, y-3, x, y+3)
			s.Circle(x, y, 1.5, "D")
		}
	}
}
