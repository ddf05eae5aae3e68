package drawing

import (
	"fmt"
	"slices"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/card"
	"stanchion/model/inspect"
	"stanchion/model/strength"
	"stanchion/model/words"
)

// checkSizes are the sizes of text that a list of checks is tried in, mm, the first that fits one page is taken, else the last.
var checkSizes = []float64{3.2, 3, 2.8, 2.6, 2.4}

// How large the picture of a plate is at most, mm, and how many lines there are to write on.
const (
	checkPlateWide = 56.0
	checkPlateHigh = 62.0
	checkLines     = 5
)

// plateScales are what a plate is drawn at, 1 to each.
var plateScales = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 20}

// ChecksPDF writes the list of what to look at between sessions on the paper of a home printer, with each plate and the places where
// cracks are looked for first.
func ChecksPDF(l words.Look, date time.Time) ([]byte, error) {
	p := usualPapers(l.Units.Inches())[0]
	f := newPDF(visible(l.Table.Car.Name+": checks"), p.Width, p.Height, date)
	for _, d := range checkPages(l, date, p) {
		f.AddPage()
		(&pdfPage{f, 0, p.Height}).draw(d, everywhere)
	}
	return written(f)
}

// checkPages are the pages of the list: one where a legible size fits, else as many as it takes.
func checkPages(l words.Look, date time.Time, p Paper) (pages []*Drawing) {
	for _, size := range checkSizes {
		if pages = checksAt(l, date, p, size); len(pages) == 1 {
			break
		}
	}
	return pages
}

// checksAt writes the list with text of a size, on a further page where one is full.
func checksAt(l words.Look, date time.Time, p Paper, size float64) (pages []*Drawing) {
	s := &card.Set{Units: l.Units}
	w := newWriting(s, p, size)
	fresh := func(need float64) {
		if w.z-need < cardMargin {
			pages = append(pages, w.Drawing)
			w = newWriting(s, p, size)
		}
	}
	para := func(indent float64, pen Pen, text string) {
		fresh(lead * size * float64(len(wrap(visible(text), size, w.right-w.left-indent))))
		w.para(w.left+indent, w.right, size, pen, text)
	}
	w.para(w.left, w.right, 1.6*size, Bold, words.CheckTitle(l))
	para(0, Dimension, "as of "+date.Format("2006-01-02")+", by stanchion")
	if l.Report != nil {
		for _, line := range words.ChecksHead(*l.Report) {
			para(0, Bold, line)
		}
	}
	for _, line := range words.CheckVerdicts(l) {
		para(0, Note, line)
	}
	for _, section := range words.CheckSections(l) {
		w.z -= 0.6 * size
		fresh(4 * lead * size)
		w.para(w.left, w.right, 1.05*size, Bold, section.Title)
		for _, c := range section.Lines {
			fresh(3 * lead * size)
			w.tick(w.left, w.right, c.Task)
			if c.History != "" {
				para(3*size, historyPen(l, c.Item), c.History)
			}
			for i, at := range c.Places {
				fresh(2 * lead * size)
				w.tick(w.left+3*size, w.right, fmt.Sprintf("%d: %s", i+1, at))
			}
			for _, r := range c.Remarks {
				para(3*size, Note, r)
			}
		}
	}
	if all := platePictures(l); len(all) > 0 {
		high := 0.0
		for _, d := range all {
			lo, hi := d.Bounds()
			high = max(high, hi.Z-lo.Z)
		}
		w.z -= size
		fresh(high + 4*lead*size)
		w.row(all)
		para(0, Dimension, words.PlacesAre)
	}
	w.z -= 0.5 * size
	para(0, Note, words.AfterStrike)
	fresh((checkLines + 1) * 2.4 * size)
	columns := []float64{0, 0.14, 0.24, 0.76, 1}
	for k := range checkLines + 1 {
		w.z -= 2.4 * size
		for i, name := range []string{"date", "laps", "what was found", "done by"} {
			from, to := w.left+columns[i]*(w.right-w.left), w.left+columns[i+1]*(w.right-w.left)-3
			if k == 0 {
				w.text(plane.Point{X: from, Z: w.z}, size, 0, Dimension, name)
			} else {
				w.line(plane.Point{X: from, Z: w.z}, plane.Point{X: to, Z: w.z}, Faint)
			}
		}
	}
	w.z -= size
	para(0, Bold, words.NoInspection+" "+words.Caution)
	return append(pages, w.Drawing)
}

// historyPen makes stand out what must not wait.
func historyPen(l words.Look, it inspect.Item) Pen {
	if s, ok := l.Report.Find(it.Key); ok && s.Level > inspect.Due {
		return Bold
	}
	return Note
}

// platePictures draws each plate with its holes, and the places where cracks are looked for first, numbered as in the list.
func platePictures(l words.Look) (all []*Drawing) {
	if l.Result == nil {
		return nil
	}
	hot := l.Frame.HotPlaces(*l.Result)
	for i := range l.Table.Car.Parts {
		p := &l.Table.Car.Parts[i]
		var here []strength.Hot
		for _, h := range hot {
			if h.Part == p.Name {
				here = append(here, h)
			}
		}
		if len(here) > 0 && p.Outline != nil {
			all = append(all, platePicture(p, here))
		}
	}
	return all
}

func platePicture(p *model.Part, hot []strength.Hot) *Drawing {
	rings := p.Rings()
	view := boxAround(0, slices.Concat(rings...)...)
	size := view.hi.Sub(view.lo)
	s := scaleFor(plateScales, size.X, size.Z, checkPlateWide, checkPlateHigh)
	at := func(q plane.Point) plane.Point { return q.Sub(view.lo).Times(1 / s) }
	d := &Drawing{}
	for _, ring := range rings {
		var points []plane.Point
		for _, q := range ring {
			points = append(points, at(q))
		}
		d.path(Path{Points: points, Closed: true, Pen: Outline})
	}
	for _, h := range p.Holes {
		if h.Slot == "" {
			d.circle(at(h.At()), h.D/2/s, Hole)
		}
	}
	for _, slot := range p.Slots {
		for _, line := range slotPath(slot, Hole).flat() {
			d.line(at(line[0]), at(line[1]), Hole)
		}
	}
	const ring = 2.0 // mm on paper
	for _, h := range hot {
		d.circle(at(h.At), ring, Bold)
	}
	var k ink
	k.add(d)
	for i, h := range hot {
		d.beside(&k, at(h.At), ring+0.4, 3, Bold, fmt.Sprint(i+1))
	}
	d.text(plane.Point{X: 0, Z: view.hi.Sub(view.lo).Z/s + 1.5}, textSize, 0, Note, visible(fmt.Sprintf("%s, 1:%g, front to the left", p.Name, s)))
	return d
}
