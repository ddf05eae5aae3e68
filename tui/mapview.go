package tui

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// chart places settings on a grid of cells: angle across, height up.
type chart struct {
	w, h      int     // cells of the plot itself, without its axes
	left      int     // cells taken by the height labels
	lo, hi    float64 // angle, degrees
	low, high float64 // height, mm
}

// chartFor returns the chart of a pane of w by h cells.
func (m Model) chartFor(w, h int) chart {
	c := chart{left: 6, lo: math.Inf(1), hi: math.Inf(-1), low: math.Inf(1), high: math.Inf(-1)}
	c.w, c.h = w-c.left-1, h-2
	for i := range m.table.Rows {
		r := &m.table.Rows[i]
		c.lo, c.hi = min(c.lo, r.Angle/plane.Deg), max(c.hi, r.Angle/plane.Deg)
		c.low, c.high = min(c.low, r.Height), max(c.high, r.Height)
	}
	if c.hi-c.lo < 1 {
		c.lo, c.hi = c.lo-1, c.hi+1
	}
	if c.high-c.low < 10 {
		c.low, c.high = c.low-10, c.high+10
	}
	return c
}

// cell returns the cell of a row within the plot.
func (c chart) cell(r *model.Row) (x, y int) {
	x = int(math.Round((r.Angle/plane.Deg - c.lo) / (c.hi - c.lo) * float64(c.w-1)))
	y = int(math.Round((c.high - r.Height) / (c.high - c.low) * float64(c.h-1)))
	return x, y
}

// marks of the map, by shape, so that they can be told without colour.
const (
	markWithin   = '•'
	markOutside  = '×'
	markStalled  = '~'
	markUnwanted = '·' // within the limits, but misses the target
	markRan      = '?' // run, and not noted how it felt
	markNeutral  = '=' // run: neutral
	markOver     = 'o' // run: oversteer
	markUnder    = 'u' // run: understeer
	markKept     = '◇'
	markNew      = '+'
	markCurrent  = '◆'
)

// mapView draws the pane: marks, the height axis at the left, the angle axis
// below.
func (m Model) mapView(w, h int) []string {
	if m.row() == nil {
		return widgets.Wrap(m.emptyText(), w)
	}
	c := m.chartFor(w, h)
	if c.w < 4 || c.h < 2 {
		return nil
	}
	grid := m.marks(c)
	labels := m.heightLabels(c)
	lines := make([]string, 0, h)
	for y := range c.h {
		var b strings.Builder
		fmt.Fprintf(&b, "%*s", c.left, labels[y])
		b.WriteString("│")
		row := grid[y*c.w : (y+1)*c.w]
		for x := 0; x < c.w; { // marks of one kind together, as styles cost more than signs
			end := x + 1
			for end < c.w && row[end] == row[x] {
				end++
			}
			b.WriteString(markText(row[x], end-x))
			x = end
		}
		lines = append(lines, b.String())
	}
	return append(lines, strings.Repeat(" ", c.left)+"└"+strings.Repeat("─", c.w), m.angleAxis(c))
}

// marks returns the mark of every cell of a chart, line by line; 0 for none. What matters more goes
// over what matters less.
func (m Model) marks(c chart) []rune {
	grid := make([]rune, c.w*c.h)
	put := func(r *model.Row, mark rune) {
		x, y := c.cell(r)
		grid[y*c.w+x] = mark
	}
	wanted := make(map[int]bool, len(m.hits))
	for _, h := range m.hits {
		wanted[h.Row] = true
	}
	for i := range m.table.Rows { // what is within goes over what is outside
		if r := &m.table.Rows[i]; !r.Within() {
			put(r, markOutside)
		}
	}
	for i := range m.table.Rows {
		switch r := &m.table.Rows[i]; {
		case r.Within() && r.Stalled:
			put(r, markStalled)
		case r.Within() && (m.target == nil || wanted[i]):
			put(r, markWithin)
		case r.Within():
			put(r, markUnwanted)
		}
	}
	if d, ok := in[drillMode](m); ok && d.trial != nil {
		for _, i := range d.trial.Added {
			r := &d.trial.Table.Rows[i]
			if x, y := c.cell(r); x >= 0 && x < c.w && y >= 0 && y < c.h && r.Within() {
				grid[y*c.w+x] = markNew
			}
		}
	}
	for i := range m.table.Rows {
		if len(m.ran) == 0 {
			break
		}
		if mark, ok := m.ranMark(&m.table.Rows[i]); ok {
			put(&m.table.Rows[i], mark)
		}
	}
	if k := m.keptRow(); k != nil {
		put(k, markKept)
	}
	put(m.row(), markCurrent)
	return grid
}

// heightLabels returns the labels of the height axis by line: the current
// setting's, the ends, and round heights between them where there is room.
func (m Model) heightLabels(c chart) map[int]string {
	labels := map[int]string{}
	write := func(height float64) {
		y := int(math.Round((c.high - height) / (c.high - c.low) * float64(c.h-1)))
		for d := -1; d <= 1; d++ {
			if labels[y+d] != "" {
				return
			}
		}
		labels[y] = m.units.LengthFigure(height)
	}
	write(m.row().Height)
	write(c.high)
	write(c.low)
	unit := m.units.LengthSize()
	step := niceStep((c.high-c.low)/unit, c.h/3) * unit
	for at := math.Ceil(c.low/step) * step; at < c.high; at += step {
		write(at)
	}
	return labels
}

// niceStep returns the least of 1, 2, 5, 10, 20 … that divides a range into at
// most n parts.
func niceStep(span float64, n int) float64 {
	step := 1.0
	for i := 0; span/step > float64(max(n, 1)); i++ {
		step *= [3]float64{2, 2.5, 2}[i%3]
	}
	return step
}

// markText draws a mark n times.
func markText(mark rune, n int) string {
	if mark == 0 {
		return strings.Repeat(" ", n)
	}
	text := strings.Repeat(string(mark), n)
	switch mark {
	case markWithin:
		return withinStyle.Render(text)
	case markOutside, markStalled:
		return outsideStyle.Render(text)
	case markUnwanted:
		return quietStyle.Render(text)
	case markRan, markNeutral, markOver, markUnder:
		return titleStyle.Render(text)
	case markNew:
		return boltStyle.Render(text)
	case markKept:
		return keptStyle.Render(text)
	}
	return selectedStyle.Render(text)
}

// angleAxis labels the angle axis at its ends and below the current setting.
func (m Model) angleAxis(c chart) string {
	line := []rune(strings.Repeat(" ", c.left+1+c.w))
	write := func(x int, text string) {
		t := []rune(text)
		from := min(max(c.left+1+x-len(t)/2, c.left), len(line)-len(t))
		for i := max(0, from-1); i < min(len(line), from+len(t)+1); i++ {
			if i >= 0 && line[i] != ' ' {
				return // no room
			}
		}
		copy(line[from:], t)
	}
	x, _ := c.cell(m.row())
	write(x, units.Fixed(m.row().Angle/plane.Deg, 1)+"°")
	write(0, units.Fixed(c.lo, 1)+"°")
	write(c.w-1, units.Fixed(c.hi, 1)+"°")
	step := niceStep(c.hi-c.lo, c.w/10)
	for at := math.Ceil(c.lo/step) * step; at < c.hi; at += step {
		write(int(math.Round((at-c.lo)/(c.hi-c.lo)*float64(c.w-1))), units.Fixed(at, 0)+"°")
	}
	copy(line, []rune(fmt.Sprintf("%*s", c.left, m.units.LengthUnit())))
	return string(line)
}

// mapAt returns the row whose mark is nearest to a cell of the screen inside
// the map.
func (m Model) mapAt(x, y int) (int, bool) {
	p := layout(m.width, m.height).chart
	if !p.Holds(x, y) {
		return 0, false
	}
	c := m.chartFor(p.W, p.H-1)
	best, at := math.Inf(1), -1
	for i := range m.table.Rows {
		cx, cy := c.cell(&m.table.Rows[i])
		// A cell is twice as high as wide.
		d := math.Hypot(float64(p.X+c.left+1+cx-x), 2*float64(p.Y+1+cy-y))
		if d < best || d == best && i == m.current {
			best, at = d, i
		}
	}
	return at, at >= 0
}

// emptyText says why there is nothing to show.
func (m Model) emptyText() string {
	if m.table == nil {
		return "working it out…"
	}
	return "The wing cannot be bolted on: no holes match. \"stanchion why\" says by how much they miss."
}

// mapTitle counts the settings and explains the marks.
func (m Model) mapTitle() string {
	if m.row() == nil {
		return "settings"
	}
	within := 0
	for i := range m.table.Rows {
		if m.table.Rows[i].Within() {
			within++
		}
	}
	if m.target != nil {
		return fmt.Sprintf("%d settings: • %d on target · %d within", len(m.table.Rows), len(m.hits), within)
	}
	return fmt.Sprintf("%d settings: • %d within × %d not", len(m.table.Rows), within, len(m.table.Rows)-within)
}
