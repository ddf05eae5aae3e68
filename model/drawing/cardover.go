package drawing

import (
	"fmt"

	"stanchion/holes/plane"
	"stanchion/model/card"
	"stanchion/model/words"
)

// overview draws all settings in question as a table with a box to tick, on one page where they are no more than it takes.
func overview(s *card.Set, p Paper) (pages []*Drawing) {
	for _, size := range cardSizes[1:7] {
		if pages = overPages(s, p, size); len(pages) == 1 {
			return pages
		}
	}
	return pages
}

func overPages(s *card.Set, p Paper, size float64) (pages []*Drawing) {
	w := newWriting(s, p, size)
	begin := func() {
		w.head(s, fmt.Sprintf("Settings of the %s", s.Car))
		w.z -= 0.5 * size
		w.overRow(append([]string{"setting"}, s.Heads...), Dimension)
		w.rule()
	}
	fresh := func(need float64) {
		if w.z-need < cardMargin {
			pages = append(pages, w.Drawing)
			w = newWriting(s, p, size)
			begin()
		}
	}
	begin()
	group := ""
	for i := range s.Over {
		l := &s.Over[i]
		fresh(5 * lead * size)
		if l.Group != group || i == 0 {
			if i > 0 {
				w.z -= 0.5 * size
			}
			group = l.Group
		}
		w.square(w.left, w.z-1.25*size, 1.25*size)
		w.overRow(append([]string{s.Table.Name(l.Row.Setting)}, l.Cells...), Note)
		w.para(w.left+3*size, w.right, 0.85*size, Dimension, l.Bolts)
		if l.Marks != "" {
			w.para(w.left+3*size, w.right, size, Bold, l.Marks)
		}
		w.z -= 0.35 * size
	}
	tail := []string{s.Left, "± is one standard uncertainty. " + s.Checked}
	if len(s.Assumed) > 0 {
		tail = append(tail, assumedLine(s))
	}
	fresh(12 * lead * size)
	w.rule()
	for _, text := range tail {
		if text != "" {
			w.para(w.left, w.right, size, Note, text)
		}
	}
	w.para(w.left, w.right, 1.1*size, Bold, words.NotApproval)
	return append(pages, w.Drawing)
}

// overRow writes a row of the overview: the setting's name, and figures that end at their columns.
func (w *writing) overRow(cells []string, pen Pen) {
	const figures = 0.66 // of the width
	width, top := w.right-w.left, w.z
	w.para(w.left+3*w.size, w.right-width*figures*1.02, w.size, pen, cells[0])
	for i, c := range cells[1:] {
		x := w.right - width*figures*float64(len(cells)-2-i)/float64(len(cells)-1)
		w.text(plane.Point{X: x, Z: top - (lead-0.3)*w.size}, w.size, 2, pen, c)
	}
}
