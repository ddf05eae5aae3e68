package drawing

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/card"
	"stanchion/model/units"
	"stanchion/model/words"
)

// cardMargin is what is left free around a card, mm: home printers print to 5 mm of the edge, tape takes the rest.
const cardMargin = 12.0

// cardSizes are the sizes of text that a card is tried in, mm, the first that fits is taken.
var cardSizes = []float64{3.4, 3.2, 3, 2.8, 2.6, 2.4, 2.2, 2, 1.8, 1.6}

// CardsPDF writes the cards on the paper of a home printer: an overview where there is more than one setting, and a page for
// each card. No card goes on over a second page.
func CardsPDF(s *card.Set) ([]byte, error) {
	p := usualPapers(s.Units.Inches())[0]
	f := newPDF(visible(s.Car+": cards"), p.Width, p.Height, s.Date)
	for _, page := range cardPages(s, p) {
		f.AddPage()
		for _, d := range page {
			(&pdfPage{f, 0, p.Height}).draw(d, everywhere)
		}
	}
	return written(f)
}

// cardPages are the pages of cards, each of drawings in the page's own coordinates, from its lower left corner.
func cardPages(s *card.Set, p Paper) (pages [][]*Drawing) {
	if len(s.Over) > 1 {
		for _, d := range overview(s, p) {
			pages = append(pages, []*Drawing{d})
		}
	}
	for i := range s.Cards {
		pages = append(pages, cardPage(s, &s.Cards[i], p))
	}
	return pages
}

// cardPage draws one card: what stands across it first.
func cardPage(s *card.Set, c *card.Card, p Paper) []*Drawing {
	var w *writing
	for _, size := range cardSizes {
		w = newWriting(s, p, size)
		w.card(s, c)
		if w.z >= cardMargin {
			break
		}
	}
	if len(c.Marks) == 0 {
		return []*Drawing{w.Drawing}
	}
	under := &Drawing{}
	text := strings.Join(c.Marks, ", ")
	slope := math.Atan2(p.Height-2*cardMargin, p.Width-2*cardMargin)
	size := min(24, 0.92*math.Hypot(p.Width-2*cardMargin, p.Height-2*cardMargin)/textWidth(text, 1))
	middle := plane.Point{X: p.Width / 2, Z: p.Height / 2}
	middle = middle.Sub(plane.Pose{Turn: slope}.Apply(plane.Point{Z: size / 3}))
	under.write(Text{At: middle, Size: size, Anchor: 1, Turn: slope, Text: text, Pen: Band})
	return []*Drawing{under, w.Drawing}
}

// writing is a page that is written from the top down.
type writing struct {
	*Drawing
	left, right float64
	size        float64 // of plain text, mm
	z           float64 // the lower edge of what stands on the page, mm
}

func newWriting(s *card.Set, p Paper, size float64) *writing {
	return &writing{Drawing: &Drawing{units: s.Units}, left: cardMargin, right: p.Width - cardMargin, size: size, z: p.Height - cardMargin}
}

// lead is the distance of lines of text, in its size.
const lead = 1.45

// para writes text between left and right, mm, and moves on below it.
func (w *writing) para(left, right, size float64, pen Pen, text string) {
	for _, l := range wrap(visible(text), size, right-left) {
		w.z -= lead * size
		indent := 0.0
		if strings.HasPrefix(l, "  ") {
			indent = size
		}
		w.text(plane.Point{X: left + indent, Z: w.z + 0.3*size}, size, 0, pen, strings.TrimSpace(l))
	}
}

// rule draws a line across, with a gap above and below.
func (w *writing) rule() {
	w.z -= 0.5 * w.size
	w.line(plane.Point{X: w.left, Z: w.z}, plane.Point{X: w.right, Z: w.z}, Faint)
	w.z -= 0.4 * w.size
}

// pairs writes names and what is said of them in two columns.
func (w *writing) pairs(left, right, size float64, all []words.NamedText) {
	column := 0.0
	for _, n := range all {
		column = max(column, textWidth(visible(n.Name), size))
	}
	column = min(column, (right-left)*0.4) + 2
	for _, n := range all {
		top := w.z
		w.para(left, left+column-1, size, Dimension, n.Name)
		low := w.z
		w.z = top
		w.para(left+column, right, size, Note, n.Text)
		w.z = min(w.z, low)
	}
}

// tick draws a box to tick and its text.
func (w *writing) tick(left, right float64, text string) {
	b := 1.25 * w.size
	w.z -= 0.3 * w.size
	w.square(left, w.z-b, b)
	w.para(left+b+1.5, right, w.size, Note, text)
}

func (w *writing) square(x, z, b float64) {
	w.path(Path{Points: []plane.Point{{X: x, Z: z}, {X: x + b, Z: z}, {X: x + b, Z: z + b}, {X: x, Z: z + b}}, Closed: true, Pen: Hole})
}

// banner writes what stands across a card once more, to be read.
func (w *writing) banner(marks []string) {
	if len(marks) == 0 {
		return
	}
	text, size := strings.Join(marks, ", "), 1.9*w.size
	for size > w.size && textWidth(text, size) > w.right-w.left-4 {
		size *= 0.95
	}
	w.z -= 0.5*w.size + 1.7*size
	w.path(Path{Points: []plane.Point{{X: w.left, Z: w.z}, {X: w.right, Z: w.z}, {X: w.right, Z: w.z + 1.7*size}, {X: w.left, Z: w.z + 1.7*size}},
		Closed: true, Pen: Bold})
	w.text(plane.Point{X: (w.left + w.right) / 2, Z: w.z + 0.5*size}, size, 1, Bold, text)
}

// head writes whose card it is.
func (w *writing) head(s *card.Set, title string) {
	w.para(w.left, w.right, 2.2*w.size, Bold, title)
	w.para(w.left, w.right, w.size, Note, fmt.Sprintf("%s; figures %s; %s, by stanchion", s.Car, s.Air, s.Date.Format("2006-01-02")))
}

func (w *writing) card(s *card.Set, c *card.Card) {
	w.head(s, c.Title)
	w.banner(c.Marks)
	for _, a := range c.Against {
		w.para(w.left, w.right, w.size, Note, a)
	}
	w.z -= 0.8 * w.size
	w.row(pictures(s.Table, c.Row, s.Units, cardPictures))
	w.joints(c.Joints)
	w.rule()
	top, half := w.z, (w.left+w.right)/2
	w.para(w.left, half-3, 1.25*w.size, Bold, "Set it to")
	w.pairs(w.left, half-3, w.size, c.Set)
	low := w.z
	w.z = top
	w.para(half+3, w.right, 1.25*w.size, Bold, "What it does to the car")
	w.pairs(half+3, w.right, w.size, c.Does)
	w.para(half+3, w.right, 0.9*w.size, Note, c.Sure)
	if c.Under != "" {
		w.para(half+3, w.right, 0.9*w.size, Note, c.Under)
	}
	w.z = min(w.z, low)
	w.rule()
	for i := 0; i < len(c.Ticks); i += 2 {
		top := w.z
		w.tick(w.left, half-3, c.Ticks[i])
		low := w.z
		if i+1 < len(c.Ticks) {
			w.z = top
			w.tick(half+3, w.right, c.Ticks[i+1])
		}
		w.z = min(w.z, low)
	}
	w.z -= 2.2 * w.size
	for _, line := range []struct {
		x    float64
		name string
	}{{w.left, "Readings:"}, {half + 3, "Done by, date:"}} { // in this order: the same card is the same file
		x, name := line.x, line.name
		w.text(plane.Point{X: x, Z: w.z + 0.3*w.size}, w.size, 0, Dimension, name)
		w.line(plane.Point{X: x + 9*w.size, Z: w.z}, plane.Point{X: x + half - w.left - 3, Z: w.z}, Faint)
	}
	w.rule()
	w.para(w.left, w.right, w.size, Note, c.Strength)
	if len(s.Assumed) > 0 {
		w.para(w.left, w.right, 0.85*w.size, Note, assumedLine(s))
	}
	w.para(w.left, w.right, 1.1*w.size, Bold, words.NotApproval)
	w.para(w.left, w.right, 0.85*w.size, Dimension, "id in files: "+c.ID)
}

// rows gives a table with columns at parts of the width, the last of which ends the last: its rows are written one below another.
func (w *writing) rows(parts ...float64) func(pen Pen, cells ...string) {
	for i := range parts {
		parts[i] = w.left + parts[i]*(w.right-w.left)
	}
	return func(pen Pen, cells ...string) {
		top, low := w.z, w.z
		for i, text := range cells {
			w.z = top
			w.para(parts[i], parts[i+1]-2, w.size, pen, text)
			low = min(low, w.z)
		}
		w.z = low
	}
}

// joints is the table of bolts.
func (w *writing) joints(all []card.Joint) {
	row := w.rows(0, 0.11, 0.5, 0.77, 1)
	row(Dimension, "joint", "through these holes, both sides alike", "bolts on each side", "torque")
	for _, j := range all {
		row(Note, j.Name, j.Holes, j.Bolts, j.Torque)
	}
}

// row puts pictures beside one another, and further ones below.
func (w *writing) row(all []*Drawing) {
	const gap = 5.0
	x, high := w.left, 0.0
	for _, d := range all {
		lo, hi := d.Bounds()
		if x > w.left && x+hi.X-lo.X > w.right+1e-9 {
			w.z -= high + gap
			x, high = w.left, 0
		}
		w.add(d, plane.Pose{X: x - lo.X, Z: w.z - hi.Z})
		x, high = x+hi.X-lo.X+gap, max(high, hi.Z-lo.Z)
	}
	w.z -= high + 1
}

// pictureSizes are how large the pictures of a card are at most, mm.
type pictureSizes struct{ joint, jointHigh, side, sideHigh float64 }

// cardPictures are three beside one another on paper; phonePictures stand alone on a screen that is as narrow as a hand.
var (
	cardPictures  = pictureSizes{joint: 54, jointHigh: 64, side: 72, sideHigh: 56}
	phonePictures = pictureSizes{joint: 62, jointHigh: 70, side: 84, sideHigh: 60}
)

// pictures are the joints of a setting with their holes named, and the setting from the side.
func pictures(t *model.Table, r *model.Row, u units.System, size pictureSizes) (all []*Drawing) {
	for j := range r.Fits {
		d := detail(t, r, j, size.joint, size.jointHigh)
		d.Title = visible(fmt.Sprintf("joint %s, its bolts filled", t.Car.Joints[j].Name))
		all = append(all, d)
	}
	side, _ := sidePicture(t, r, nil, u, size.side, size.sideHigh)
	return append(all, side)
}

func assumedLine(s *card.Set) string {
	var all []string
	for _, a := range s.Assumed {
		all = append(all, a.Name+": "+a.Text)
	}
	return "Assumed: " + strings.Join(all, "; ") + "."
}
