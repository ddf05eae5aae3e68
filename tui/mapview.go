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
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

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
	}
	parts = append(parts, m.markLegend(c0.levels != nil, w)...)
	if by.lines {
		parts = append(parts, "┊ equal "+by.name)
	}
	if m.car.Limits.Top.Known() {
		parts = append(parts, "─ top limit "+m.units.Length(m.car.Limits.Top.Value()))
	}
	if margin := m.wantedMargin(); !math.IsNaN(m.table.Wing.Stall) {
		parts = append(parts, fmt.Sprintf("┃ stall margin %.3g°", margin/plane.Deg))
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
	return units.Printable(words.Unbolted(m.car))
}
