package drawing

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Sheets is how a drawing lies on paper: on one sheet, or on pages that are windows onto it.
type Sheets struct {
	Paper         Paper
	Width, Height float64 // mm of each page, turned as suits the drawing
	Turn          float64 // rad, that the drawing is turned by
	Pages         []Page
	picture       bool // it is not to be measured from
}

// Page is one page: drawings that stand on it, the window through which the first is seen, in page coordinates from
// the lower left corner, and what it is called where there are more.
type Page struct {
	laid    []laid
	tile    bool          // its first drawing goes on beyond it
	marks   []plane.Point // where it is registered with its neighbours
	heading string
}

// laid is a drawing as it lies on a page: moved by at.
type laid struct {
	*Drawing
	at plane.Point
}

// blockGap is what stays free around a block, mm.
const blockGap = 3.0

// room is the part of a page within its margins.
func room(w, h float64) box {
	return box{plane.Point{X: margin, Z: margin}, plane.Point{X: w - margin, Z: h - margin}}
}

// turns are the ways a drawing may lie on a sheet, the plain ones first.
func (d *Drawing) turns() []float64 {
	if !d.Turns {
		return []float64{0}
	}
	all := []float64{0, math.Pi / 2}
	for t := 2.5; t < 180; t += 2.5 {
		if t != 90 {
			all = append(all, t*plane.Deg)
		}
	}
	return all
}

// LayoutUsual lays a drawing on the smallest usual paper that takes it on one sheet: A4 to A1, or Letter and Tabloid where
// figures are in inches, then a roll.
func (d *Drawing) LayoutUsual() *Sheets {
	papers := usualPapers(d.units.Inches())
	for _, p := range papers {
		if s := d.oneSheet(p); s != nil {
			return s
		}
	}
	return d.tiles(papers[len(papers)-1])
}

// HomePaper is the paper of a home printer: A4, or Letter where figures are in inches.
func (d *Drawing) HomePaper() Paper { return usualPapers(d.units.Inches())[0] }

// Layout lays the drawing on one sheet of a paper if there is a way round in which it fits with its table and title, and
// else on as few pages as it takes.
func (d *Drawing) Layout(paper Paper) *Sheets {
	if s := d.oneSheet(paper); s != nil {
		return s
	}
	return d.tiles(paper)
}

// oneSheet lays the drawing on one sheet; nil where it does not fit.
func (d *Drawing) oneSheet(paper Paper) *Sheets {
	if paper.Height == 0 {
		return d.onRoll(paper)
	}
	for _, turn := range d.turns() {
		main := d.turned(turn)
		for _, size := range [][2]float64{{paper.Width, paper.Height}, {paper.Height, paper.Width}} {
			if page, ok := d.fit(main, size[0], size[1]); ok {
				return &Sheets{paper, size[0], size[1], turn, []Page{page}, d.Picture}
			}
		}
	}
	return nil
}

// onRoll lays the drawing on the shortest piece of a roll, the narrower one where both do.
func (d *Drawing) onRoll(paper Paper) *Sheets {
	const step = 25.0
	for _, width := range []float64{paper.Width, wideRoll} {
		var best *Sheets
		for _, turn := range d.turns()[:min(2, len(d.turns()))] {
			main := d.turned(turn)
			lo, hi := main.Bounds()
			if hi.X-lo.X > width-2*margin {
				continue
			}
			for long := math.Ceil((hi.Z-lo.Z+2*margin)/step) * step; long <= rollPage && (best == nil || long < best.Height); long += step {
				if page, ok := d.fit(main, width, long); ok {
					best = &Sheets{paper, width, long, turn, []Page{page}, d.Picture}
				}
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// fit puts a drawing, turned, and its blocks on a page of w by h mm.
func (d *Drawing) fit(main *Drawing, w, h float64) (Page, bool) {
	in := room(w, h)
	lo, hi := main.Bounds()
	free := plane.Point{X: in.hi.X - in.lo.X - (hi.X - lo.X), Z: in.hi.Z - in.lo.Z - (hi.Z - lo.Z)}
	if free.X < 0 || free.Z < 0 {
		return Page{}, false
	}
	for _, corner := range []plane.Point{{Z: 1}, {}, {X: 1, Z: 1}, {X: 1}} {
		at := plane.Point{X: in.lo.X + corner.X*free.X - lo.X, Z: in.lo.Z + corner.Z*free.Z - lo.Z}
		page := Page{laid: []laid{{main, at}}}
		if left := page.put(d.Blocks, w, h); len(left) == 0 {
			return page, true
		}
	}
	return Page{}, false
}

// put places blocks on a page as far as there is room, and returns those that are left.
func (p *Page) put(blocks []Block, w, h float64) (left []Block) {
	in := room(w, h)
	for _, b := range blocks {
		pieces := b.drawn(in.hi.Z - in.lo.Z)
		if len(pieces) != 1 {
			left = append(left, b)
			continue
		}
		if !p.place(pieces[0], w, h) {
			left = append(left, b)
		}
	}
	return left
}

// place finds room for a drawing on a page, and puts it there.
func (p *Page) place(block *Drawing, w, h float64) bool {
	lo, hi := block.Bounds()
	at, ok := p.raster(w, h).room(room(w, h), hi.X-lo.X, hi.Z-lo.Z, blockGap)
	if ok {
		p.laid = append(p.laid, laid{block, at.Sub(lo)})
	}
	return ok
}

// raster marks what is on a page. Nothing is put within a plate, nor beside a picture that stands upright.
func (p *Page) raster(w, h float64) *raster {
	var k ink
	var solid [][]plane.Point
	for i, l := range p.laid {
		by := plane.Pose{X: l.at.X, Z: l.at.Z}
		if i > 0 || !l.Turns {
			lo, hi := l.Bounds()
			solid = append(solid, by.ApplyAll([]plane.Point{lo, {X: hi.X, Z: lo.Z}, hi, {X: lo.X, Z: hi.Z}}))
			continue
		}
		for _, path := range l.Paths {
			if path.Closed && path.Bulges == nil && (path.Pen == Outline || path.Pen == Faint) {
				solid = append(solid, by.ApplyAll(path.Points))
			}
		}
		moved := &Drawing{}
		moved.add(l.Drawing, by)
		k.add(moved)
	}
	for _, m := range p.marks {
		k.texts = append(k.texts, markBox(m).corners())
	}
	return newRaster(w, h, &k, solid)
}

func (b box) corners() []plane.Point {
	return []plane.Point{b.lo, {X: b.hi.X, Z: b.lo.Z}, b.hi, {X: b.lo.X, Z: b.hi.Z}}
}

// Said says what paper a drawing lies on: "on one sheet of a2".
func (s *Sheets) Said() string {
	name := s.Paper.Name
	if s.Paper.Height == 0 {
		name = fmt.Sprintf("a roll %.0f mm wide", s.Width)
		if len(s.Pages) == 1 {
			return fmt.Sprintf("on one piece of %s, %.0f mm long", name, s.Height)
		}
	}
	if len(s.Pages) == 1 {
		return "on one sheet of " + name
	}
	return fmt.Sprintf("on %s of %s", units.Count(len(s.Pages), "page"), name)
}
