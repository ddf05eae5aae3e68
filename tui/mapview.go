package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// chart places settings on a grid of cells: angle across, height up. With few settings each line is
// a level, so that close heights never hide each other, and a cell has its figure; with many the
// heights are to scale, and a cell has a digit.
type chart struct {
	w, h      int       // cells of the plot itself, without its axes
	left      int       // cells taken by the height labels
	lo, hi    float64   // angle, degrees
	low, high float64   // height, mm
	levels    []float64 // mm, the highest first; nil with many settings
	every     int       // lines from level to level
}

// fewSettings is how many settings a map names by their figures at most.
const fewSettings = 60

// figureWide is how wide a figure with its marks is.
const figureWide = 7

// chartFor returns the chart of a pane of w by h cells.
func (m Model) chartFor(w, h int) chart {
	c := chart{left: 6}
	c.w, c.h = w-c.left-1, h-2
	c.lo, c.hi, c.low, c.high = m.memo.extents(m.table)
	if c.hi-c.lo < 1 {
		c.lo, c.hi = c.lo-1, c.hi+1
	}
	if c.high-c.low < 10 {
		c.low, c.high = c.low-10, c.high+10
	}
	if len(m.table.Rows) <= fewSettings && c.w > 3*figureWide && !m.grid.Slotted { // a slot is a band, not a row of figures
		levels := m.levelHeights()
		if len(levels) <= c.h && c.apart(m, levels) {
			c.levels, c.every = levels, max(1, min(3, (c.h-1)/max(len(levels)-1, 1)))
			c.h = min(c.h, (len(levels)-1)*c.every+1)
		}
	}
	return c
}

// levelHeights lists the heights of the settings, those within 8 mm as one, the highest first.
func (m Model) levelHeights() []float64 {
	const together = 8
	var all []float64
	sum, n, last := 0.0, 0, math.Inf(-1)
	for i := range m.table.Rows {
		h := m.table.Rows[i].Height
		if n > 0 && h-last > together {
			all = append(all, sum/float64(n))
			sum, n = 0, 0
		}
		sum, n, last = sum+h, n+1, h
	}
	all = append(all, sum/float64(max(n, 1)))
	slices.Reverse(all)
	return all
}

// apart reports whether the figures of settings at one level have room beside each other.
func (c chart) apart(m Model, levels []float64) bool {
	d := c
	d.levels, d.every = levels, 1
	at := map[int][]int{}
	for i := range m.table.Rows {
		x, y := d.cell(&m.table.Rows[i])
		at[y] = append(at[y], x)
	}
	for _, xs := range at {
		slices.Sort(xs)
		for i := 1; i < len(xs); i++ {
			if xs[i]-xs[i-1] < figureWide-1 {
				return false
			}
		}
	}
	return true
}

// margin keeps figures in the middle of their cell within the plot.
func (c chart) margin() int {
	if c.levels == nil {
		return 0
	}
	return figureWide/2 + 1
}

// column returns where an angle in degrees lies across.
func (c chart) column(angle float64) int {
	k := c.margin()
	return k + int(math.Round((angle-c.lo)/(c.hi-c.lo)*float64(c.w-1-2*k)))
}

// angleAt is the angle in degrees of a column.
func (c chart) angleAt(x int) float64 {
	k := c.margin()
	return c.lo + float64(x-k)/float64(max(c.w-1-2*k, 1))*(c.hi-c.lo)
}

// heightAt is the height of a line, mm: between levels by straight lines.
func (c chart) heightAt(y int) float64 {
	if c.levels == nil {
		return c.high - float64(y)/float64(max(c.h-1, 1))*(c.high-c.low)
	}
	i, part := y/c.every, float64(y%c.every)/float64(c.every)
	if i+1 >= len(c.levels) {
		return c.levels[len(c.levels)-1]
	}
	return c.levels[i] + part*(c.levels[i+1]-c.levels[i])
}

// line returns the line of a height.
func (c chart) line(height float64) int {
	if c.levels == nil {
		return int(math.Round((c.high - height) / (c.high - c.low) * float64(c.h-1)))
	}
	best, y := math.Inf(1), 0
	for i, l := range c.levels {
		if d := math.Abs(l - height); d < best {
			best, y = d, i*c.every
		}
	}
	return y
}

// cell returns the cell of a row within the plot.
func (c chart) cell(r *model.Row) (x, y int) {
	return c.column(r.Angle / plane.Deg), c.line(r.Height)
}

// Signs of the map, by shape, so that they can be told without colour; none could be a hole's name.
const (
	signEqual   = '┊' // a line of equal values
	signTop     = '─' // the top limit
	signStall   = '┃' // the stall margin that is wanted
	signCurrent = '◆'
	signKept    = '◇'
	signOnCar   = '▷'
)

// plot is the map as it is being drawn: a sign a cell, and the brush it is drawn with.
type plot struct {
	chart
	signs []rune
	brush []*widgets.Brush
}

// put writes a text from a cell on.
func (p *plot) put(x, y int, text string, b *widgets.Brush) {
	for _, r := range text {
		if x >= 0 && x < p.w && y >= 0 && y < p.h {
			p.signs[y*p.w+x], p.brush[y*p.w+x] = r, b
		}
		x++
	}
}

// free reports whether cells have nothing in them yet.
func (p *plot) free(x, y, n int) bool {
	if y < 0 || y >= p.h || x < 0 || x+n > p.w {
		return false
	}
	for i := range n {
		if p.signs[y*p.w+x+i] != 0 {
			return false
		}
	}
	return true
}

// mapView draws the pane: figures or digits, lines of equal values and of limits, the axes and the
// legend.
func (m Model) mapView(w, h int) []string {
	if m.row() == nil {
		return widgets.Wrap(m.emptyText(), w)
	}
	legend := m.mapLegend(w, h)
	room := h - len(legend)
	c := m.chartFor(w, room)
	if c.w < 4 || c.h < 1 {
		return nil
	}
	values := m.paintedNow()
	p, labels := m.plotOf(c, values)
	if c.levels != nil {
		m.figuresOn(p, values)
	} else {
		m.hereOn(p)
	}
	heights := m.heightLabels(c)
	lines := make([]string, 0, h)
	for y := range c.h {
		lines = append(lines, quietBrush.Paint(fmt.Sprintf("%*s│", c.left, heights[y]))+p.lineText(y))
	}
	lines = append(lines, quietBrush.Paint(strings.Repeat(" ", c.left)+"└"+labels), m.angleAxis(c))
	return append(lines[:min(len(lines), room)], legend...)
}

// plotOf draws what does not hang on which setting is shown; it is drawn once for a painting and a size.
func (m Model) plotOf(c chart, values *painted) (p *plot, labels string) {
	was := values.plot
	if was == nil || was.w != c.w || was.h != c.h || was.every != c.every || was.grid != m.grid {
		was = &drawnPlot{plot: plot{c, make([]rune, c.w*c.h), make([]*widgets.Brush, c.w*c.h)}, grid: m.grid}
		was.labels = m.contourLines(&was.plot, values)
		m.limitLines(&was.plot)
		if c.levels == nil {
			m.digitsOn(&was.plot, values)
		}
		values.plot = was
	}
	return &plot{c, slices.Clone(was.signs), slices.Clone(was.brush)}, was.labels
}

// drawnPlot is a plot that is kept, with what stands on its axis.
type drawnPlot struct {
	plot
	grid   *bolting.Grid
	labels string
}

// lineText is a line of the plot, what is drawn alike together.
func (p *plot) lineText(y int) string {
	var b strings.Builder
	row, brush := p.signs[y*p.w:(y+1)*p.w], p.brush[y*p.w:(y+1)*p.w]
	run := make([]rune, 0, p.w)
	for x := 0; x < p.w; {
		now := brush[x]
		run = run[:0]
		for ; x < p.w && brush[x] == now; x++ {
			if row[x] == 0 {
				run = append(run, ' ')
			} else {
				run = append(run, row[x])
			}
		}
		if now == nil {
			b.WriteString(string(run))
		} else {
			b.WriteString(now.Paint(string(run)))
		}
	}
	return b.String()
}

// figuresOn writes each setting's figure at its place, with its marks.
func (m Model) figuresOn(p *plot, values *painted) {
	by := paintings()[m.paint]
	write := func(i int) {
		r := &m.table.Rows[i]
		text := "–"
		if v := values.values[i]; !math.IsNaN(v) {
			text = by.cell(m, r, v)
		}
		open, shut, style := "", strings.TrimSpace(m.markOf(r)), m.shadeOf(values, i)
		if shut != "" {
			style = outsideBrush
		}
		switch {
		case i == m.current:
			open, shut, style = "[", shut+"]", selectedBrush
		case m.is(r, m.keptID):
			open, shut, style = "(", shut+")", keptBrush
		case m.is(r, m.onCar):
			open, shut, style = "<", shut+">", keptBrush
		}
		x, y := p.cell(r)
		p.put(x-(ansi.StringWidth(text)+1)/2-len(open)+1, y, open+text+shut, style)
	}
	for i := range m.table.Rows {
		if i != m.current {
			write(i)
		}
	}
	if about := m.memo.about(m.table); about.gaps {
		g := about.gap
		angle, y := (g.Low.Angle+g.High.Angle)/2/plane.Deg, p.line(g.Low.Height)
		text := "gap"
		if m.paint == 0 {
			text = "+" + m.units.ForceFigure((g.Low.Downforce+g.High.Downforce)/2) + "?"
		}
		if x := p.column(angle) - len(text)/2; p.free(x-1, y, len(text)+2) || p.onlyLines(x, y, len(text)) {
			p.put(x, y, text, newBrush)
		}
	}
	write(m.current)
}

// onlyLines reports whether cells have nothing but lines of equal values in them.
func (p *plot) onlyLines(x, y, n int) bool {
	for i := range n {
		if x+i < 0 || x+i >= p.w || y < 0 || y >= p.h {
			return false
		}
		if s := p.signs[y*p.w+x+i]; s != 0 && s != signEqual && s != signTop {
			return false
		}
	}
	return true
}

// is reports whether a row is the place of a setting.
func (m Model) is(r *model.Row, id string) bool {
	if id == "" {
		return false
	}
	if r.ID == id {
		return true
	}
	for i := range r.Alternatives {
		if r.Alternatives[i].ID == id {
			return true
		}
	}
	return false
}

// digitsOn writes a digit for each setting, 0 to 9 of the range; what matters more goes over what
// matters less.
func (m Model) digitsOn(p *plot, values *painted) {
	m.bandsOn(p, values)
	for _, within := range [2]bool{false, true} {
		for i := range m.table.Rows {
			if m.inBand(i) {
				continue
			}
			r := &m.table.Rows[i]
			if r.Within() != within {
				continue
			}
			x, y := p.cell(r)
			k := values.step(values.values[i], 10)
			switch {
			case !within:
				p.put(x, y, "×", outsideBrush)
			case r.Stalled:
				p.put(x, y, "~", outsideBrush)
			case k < 0:
				p.put(x, y, "–", plainBrush)
			default:
				p.put(x, y, string(rune('0'+k)), shadeBrushes[k/2])
			}
		}
	}
}

// hereOn marks the kept setting and the one that is shown.
func (m Model) hereOn(p *plot) {
	if m.onCar != "" {
		if r, ok := m.memo.onCarIn(m.table, m.onCar); ok {
			x, y := p.cell(r)
			p.put(x, y, string(signOnCar), keptBrush)
		}
	}
	if k := m.keptRow(); k != nil {
		x, y := p.cell(k)
		p.put(x, y, string(signKept), keptBrush)
	}
	x, y := p.cell(m.row())
	p.put(x, y, string(signCurrent), selectedBrush)
}

// inBand reports whether a row is a place in a slot, which is part of its band.
func (m Model) inBand(i int) bool {
	if !m.grid.Slotted {
		return false
	}
	at, ok := m.grid.Cell(m.table.Rows[i].ID)
	return ok && m.grid.Columns[at.Column].Slot != ""
}

// bandsOn draws the places of each slot as one band, in the shades of its figure, crossed out where it breaks a
// limit.
func (m Model) bandsOn(p *plot, values *painted) {
	for line := range m.grid.Lines {
		for col := range m.grid.Columns {
			c := &m.grid.Columns[col]
			if c.Slot == "" {
				continue
			}
			before := -1
			for place := range c.Fits {
				s, ok := m.grid.Setting(bolting.Cell{Line: line, Column: col, Place: place})
				if !ok {
					before = -1
					continue
				}
				x, y := p.cell(&m.table.Rows[s.Row])
				from := x
				if before >= 0 {
					from = min(before+1, x)
				}
				sign, brush := "═", m.shadeOf(values, s.Row)
				if !m.table.Rows[s.Row].Within() {
					sign, brush = "×", outsideBrush
				}
				for ; from <= x; from++ {
					p.put(from, y, sign, brush)
				}
				before = x
			}
		}
	}
}

// heightLabels returns the labels of the height axis by line: with levels one each, else the
// current setting's, the ends, and round heights between them where there is room.
func (m Model) heightLabels(c chart) map[int]string {
	labels := map[int]string{}
	if c.levels != nil {
		for i, h := range c.levels {
			labels[i*c.every] = m.units.LengthFigure(h)
		}
		return labels
	}
	write := func(height float64) {
		y := c.line(height)
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

// angleAxis labels the angle axis: with levels at each angle that settings have, else at its ends,
// below the current setting and at round angles.
func (m Model) angleAxis(c chart) string {
	line := []rune(strings.Repeat(" ", c.left+1+c.w))
	write := func(angle float64, text string) {
		t := []rune(text)
		from := min(max(c.left+1+c.column(angle)-len(t)/2, c.left+1), len(line)-len(t))
		for i := max(0, from-1); i < min(len(line), from+len(t)+1); i++ {
			if line[i] != ' ' {
				return // no room
			}
		}
		copy(line[from:], t)
	}
	here := m.row().Angle / plane.Deg
	write(here, units.Fixed(here, 1)+"°")
	if c.levels != nil {
		for i := range m.table.Rows {
			a := m.table.Rows[i].Angle / plane.Deg
			write(a, units.Fixed(a, 1))
		}
		return quietBrush.Paint(string(line))
	}
	write(c.lo, units.Fixed(c.lo, 1)+"°")
	write(c.hi, units.Fixed(c.hi, 1)+"°")
	step := niceStep(c.hi-c.lo, c.w/10)
	for at := math.Ceil(c.lo/step) * step; at < c.hi; at += step {
		write(at, units.Fixed(at, 0)+"°")
	}
	return quietBrush.Paint(string(line))
}

// mapLegend says what the signs stand for.
func (m Model) mapLegend(w, h int) []string {
	by := paintings()[m.paint]
	p := m.paintedNow()
	var parts []string
	c0 := m.chartFor(w, h-2)
	if c0.levels == nil {
		spell := func(v float64) string { return by.cell(m, m.row(), v) }
		if p.hi >= p.lo && by.key != "9" {
			parts = append(parts, strings.TrimSpace(fmt.Sprintf("0–9 is %s to %s %s", spell(p.lo), spell(p.hi), by.unit(m.units))))
		}
		parts = append(parts, "◆ here")
	} else {
		parts = append(parts, "[ ] here")
	}
	parts = append(parts, m.markLegend(c0.levels != nil)...)
	if by.lines {
		parts = append(parts, "┊ equal "+by.name)
	}
	if m.car.Limits.Top.Known() {
		parts = append(parts, "─ top limit "+m.units.Length(m.car.Limits.Top.Value()))
	}
	if margin := m.wantedMargin(); !math.IsNaN(m.table.Wing.Stall) {
		parts = append(parts, fmt.Sprintf("┃ stall margin %s°", units.Fixed(margin/plane.Deg, 0)))
	}
	if m.memo.about(m.table).gaps && m.paint == 0 && c0.levels != nil {
		parts = append(parts, "+ ? a hole would add")
	}
	legend := widgets.Flow(parts, w)
	if h < 10 {
		legend = legend[:1]
	}
	return legend
}

// mapAt returns the row whose mark is nearest to a cell of the pane of the map.
func (m Model) mapAt(x, y, w, h int) (int, bool) {
	legend := m.mapLegend(w, h)
	c := m.chartFor(w, h-len(legend))
	if c.w < 4 || c.h < 1 {
		return 0, false
	}
	best, at := math.Inf(1), -1
	for i := range m.table.Rows {
		cx, cy := c.cell(&m.table.Rows[i])
		// A cell is twice as high as wide.
		d := math.Hypot(float64(c.left+1+cx-x), 2*float64(cy-y))
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
