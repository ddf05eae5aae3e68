package tui

import (
	"stanchion/tui/widgets"
)

// The smallest terminal that the explorer is laid out for: a telephone.
const (
	MinWidth  = 50
	MinHeight = 20
)

// size is how much a terminal has room for.
type size int

const (
	phone  size = iota // one thing after the other: the figures that matter most, the bolts, one row of holes
	desk               // two columns: picture and table of holes, figures and bolts
	wide               // the map of places too
	widest             // three columns
)

func sizeOf(w, h int) size {
	switch {
	case w < 80 || h < 24:
		return phone
	case w >= 170 && h >= 45:
		return widest
	case w >= 110 && h >= 36:
		return wide
	}
	return desk
}

// panes says where each pane lies; those that have no room are empty. The header takes the first
// line, messages the last but one, the footer the last.
type panes struct {
	size
	whole, head, foot widgets.Rect // pictures: of the whole rear, and close views of two joints
	table, chart      widgets.Rect // the table of holes, the map of places
	figures, bolts    widgets.Rect
	more              widgets.Rect // what the ± comes from, strength, notes, what is assumed
}

// layout divides a screen for a table of so many lines, legend and headings included.
func layout(w, h, tableLines int) panes {
	const top = 1
	body := h - 3
	p := panes{size: sizeOf(w, h)}
	switch p.size {
	case phone:
		// What to bolt matters more than a picture that is too small; Z has that over the whole screen.
		figures := phoneFigures
		picture := body - figures - phoneBolts - phoneTable
		if picture < 6 {
			figures, picture = figures+picture, 0
		}
		p.head = widgets.Rect{X: 0, Y: top, W: w, H: picture}
		p.figures = widgets.Rect{X: 0, Y: top + picture, W: w, H: figures}
		p.bolts = widgets.Rect{X: 0, Y: p.figures.Y + figures, W: w, H: phoneBolts}
		p.table = widgets.Rect{X: 0, Y: p.bolts.Y + phoneBolts, W: w, H: phoneTable}
	case desk:
		right := min(max(w*2/5, 38), 46)
		left := w - right - 1
		table := min(max(tableLines, 8), body-7)
		p.head = widgets.Rect{X: 0, Y: top, W: left, H: body - table}
		p.table = widgets.Rect{X: 0, Y: top + body - table, W: left, H: table}
		figures := min(figureLines+1, body-6)
		p.figures = widgets.Rect{X: left + 1, Y: top, W: right, H: figures}
		p.bolts = widgets.Rect{X: left + 1, Y: top + figures, W: right, H: body - figures}
	case wide:
		right := min(max(w*2/5, 46), 54)
		left := w - right - 1
		table := min(max(tableLines, 8), body/3)
		chart := min(body*2/5, body-table-10)
		side := body - table - chart
		whole := left * 2 / 5
		p.whole = widgets.Rect{X: 0, Y: top, W: whole, H: side}
		p.head = widgets.Rect{X: whole + 1, Y: top, W: left - whole - 1, H: side}
		p.table = widgets.Rect{X: 0, Y: top + side, W: left, H: table}
		p.chart = widgets.Rect{X: 0, Y: top + side + table, W: left, H: chart}
		p.onTheRight(left+1, top, right, body, 5)
	default:
		right := 56
		left := (w - right - 2) * 11 / 20
		middle := w - right - left - 2
		whole := body * 2 / 5
		p.whole = widgets.Rect{X: 0, Y: top, W: left, H: whole}
		head := left * 3 / 5
		p.head = widgets.Rect{X: 0, Y: top + whole, W: head, H: body - whole}
		p.foot = widgets.Rect{X: head + 1, Y: top + whole, W: left - head - 1, H: body - whole}
		table := min(max(tableLines, 8), body/2)
		p.table = widgets.Rect{X: left + 1, Y: top, W: middle, H: table}
		p.chart = widgets.Rect{X: left + 1, Y: top + table, W: middle, H: body - table}
		p.onTheRight(left+middle+2, top, right, body, 7)
	}
	return p
}

// onTheRight puts figures, bolts and what else there is to know below one another.
func (p *panes) onTheRight(x, y, w, h, bolts int) {
	figures := figureLines + 1
	p.figures = widgets.Rect{X: x, Y: y, W: w, H: figures}
	p.bolts = widgets.Rect{X: x, Y: y + figures, W: w, H: bolts}
	p.more = widgets.Rect{X: x, Y: y + figures + bolts, W: w, H: h - figures - bolts}
}

// How many lines panes take on the smallest screens: the figures with a title and a heading; the bolts with a title,
// one for each of two joints and the moves; the table with a title, two of headings and one of cells.
const (
	phoneFigures = 9
	phoneBolts   = 4
	phoneTable   = 4
)
