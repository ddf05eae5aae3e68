package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model/bolting"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// holeTable lays the table of holes out in a pane: which lines and columns are seen, and how wide
// they are.
type holeTable struct {
	g           *bolting.Grid
	left        int // cells of the lines' names
	cell        int // cells of a column of holes
	lines, cols [2]int
	head        int   // lines of headings
	xs          []int // where columns start, from the first seen
	wide        []int
}

// slotWide is how wide the band of a slot is at least, and at most.
const (
	slotLeast = 26
	slotMost  = 60
)

// holeTableIn lays the table out in w by h cells, with the setting that is shown in it.
func (m Model) holeTableIn(w, h int) (l holeTable, ok bool) {
	g := m.grid
	if g == nil || m.row() == nil || len(g.Lines) == 0 {
		return l, false
	}
	at, found := g.Cell(m.row().ID)
	if !found {
		return l, false
	}
	l = holeTable{g: g, left: 6, head: 3}
	for i := range g.Lines {
		l.left = max(l.left, min(len([]rune(m.lineName(i)))+1, 14))
	}
	least := m.widestCell()
	l.cell = min(max((w-l.left)/max(len(g.Columns), 1), least), max(least, 9))
	rows := h - l.head
	if rows < 1 || w < l.left+l.cell {
		return l, false
	}
	l.lines = window(at.Line, len(g.Lines), rows)
	l.fit(at.Column, w-l.left)
	return l, true
}

// widestCell is how wide a cell must be for the figures that are shown, with a bracket on either side.
func (m Model) widestCell() int {
	p, by := m.paintedNow(), paintings()[m.paint]
	wide := 5
	for _, v := range [2]float64{p.lo, p.hi} {
		if !math.IsInf(v, 0) {
			wide = max(wide, ansi.StringWidth(by.cell(m, m.row(), v))+2)
		}
	}
	return wide
}

// window is the part of n things that room of them are seen of, with one in it.
func window(at, n, room int) [2]int {
	if n <= room {
		return [2]int{0, n}
	}
	from := min(max(at-room/2, 0), n-room)
	return [2]int{from, from + room}
}

// fit chooses the columns that are seen, one of them in it.
func (l *holeTable) fit(at, room int) {
	width := func(i int) int {
		if l.g.Columns[i].Slot != "" {
			return min(max(slotLeast, room-l.cell*(len(l.g.Columns)-1)), min(slotMost, room))
		}
		return l.cell
	}
	from, to, used := at, at+1, width(at)
	for grown := true; grown; {
		grown = false
		if from > 0 && used+width(from-1) <= room {
			from--
			used, grown = used+width(from), true
		}
		if to < len(l.g.Columns) && used+width(to) <= room {
			used, grown = used+width(to), true
			to++
		}
	}
	l.cols = [2]int{from, to}
	x := 0
	for i := from; i < to; i++ {
		l.xs, l.wide = append(l.xs, x), append(l.wide, width(i))
		x += width(i)
	}
}

// lineName names a line: the way of bolting what is below the wing's joint.
func (m Model) lineName(i int) string {
	l := m.grid.Lines[i]
	name := "row " + l.Name
	if l.Name == "" {
		name = ""
	}
	if !m.grid.Even {
		name += " " + units.Signed(l.Turn/plane.Deg, 1) + "°"
	}
	return strings.TrimSpace(name)
}

// centred sets text into the middle of a column.
func centred(text string, w int) string {
	n := ansi.StringWidth(text)
	if n > w {
		return ansi.Truncate(text, w-1, "…") + " "
	}
	left := (w - n + 1) / 2
	return strings.Repeat(" ", left) + text + strings.Repeat(" ", w-n-left)
}

// holeTableView draws the pane: the holes of the head across, the ways of the foot down.
func (m Model) holeTableView(w, h int) []string {
	if m.row() == nil {
		return widgets.Wrap(m.emptyText(), w)
	}
	legend := m.tableLegend(w)
	if h-len(legend) < 4+min(len(m.grid.Lines), 3) {
		legend = legend[:min(1, len(legend))]
	}
	l, ok := m.holeTableIn(w, h-len(legend))
	if !ok {
		return nil
	}
	lines := l.headings(m)
	p := m.paintedNow()
	for i := l.lines[0]; i < l.lines[1]; i++ {
		var b strings.Builder
		name := fmt.Sprintf("%-*s", l.left, widgets.Shorten(m.lineName(i), l.left-1))
		if at, _ := m.grid.Cell(m.row().ID); at.Line == i {
			name = headBrush.Paint(name)
		}
		b.WriteString(name)
		for k := l.cols[0]; k < l.cols[1]; k++ {
			b.WriteString(m.cellText(p, bolting.Cell{Line: i, Column: k}, l.wide[k-l.cols[0]]))
		}
		lines = append(lines, b.String())
	}
	for len(lines) < h-len(legend) {
		lines = append(lines, "")
	}
	return append(lines, legend...)
}

// headings name the columns by their holes, with the angle.
func (l holeTable) headings(m Model) []string {
	at, _ := m.grid.Cell(m.row().ID)
	row := func(name string, text func(c *bolting.Column) string) string {
		var b strings.Builder
		b.WriteString(quietBrush.Paint(fmt.Sprintf("%-*s", l.left, name)))
		for k := l.cols[0]; k < l.cols[1]; k++ {
			cell := centred(text(&m.grid.Columns[k]), l.wide[k-l.cols[0]])
			if k == at.Column {
				cell = headBrush.Paint(cell)
			}
			b.WriteString(cell)
		}
		return b.String()
	}
	more := func(line string) string {
		if l.cols[0] > 0 {
			line = quietBrush.Paint("‹ ") + ansi.TruncateLeft(line, 2, "")
		}
		return line
	}
	angle := func(a float64) string { return units.Fixed(a/plane.Deg, 1) }
	lines := []string{
		row("front", func(c *bolting.Column) string { return c.Front }),
		row("rear", func(c *bolting.Column) string { return c.Rear }),
		row("°", func(c *bolting.Column) string {
			if c.Slot == "" {
				return angle(c.Angle)
			}
			off := c.Angle - (c.Fits[0].Pose.Turn+c.Fits[len(c.Fits)-1].Pose.Turn)/2
			return angle(off+c.Fits[0].Pose.Turn) + " to " + angle(off+c.Fits[len(c.Fits)-1].Pose.Turn)
		}),
	}
	if l.cols[0] > 0 || l.cols[1] < len(m.grid.Columns) {
		lines[2] = more(lines[2])
		if n := len(m.grid.Columns) - l.cols[1]; n > 0 {
			lines[2] += quietBrush.Paint(fmt.Sprintf("› %d", n))
		}
	}
	return lines
}

// tableAt returns the setting under a cell of the pane of the table.
func (m Model) tableAt(x, y, w, h int) (id string, ok bool) {
	if sizeOf(m.width, m.height) == phone && m.large == notLarge { // the line that the setting is in, alone
		l, ok := m.holeTableIn(w, 4)
		at, _ := m.grid.Cell(m.row().ID)
		if !ok || y != h-1 {
			return "", false
		}
		return l.cellAt(m, at.Line, x)
	}
	legend := m.tableLegend(w)
	if h-len(legend) < 4+min(len(m.grid.Lines), 3) {
		legend = legend[:min(1, len(legend))]
	}
	l, ok := m.holeTableIn(w, h-len(legend))
	if !ok {
		return "", false
	}
	line := y - l.head + l.lines[0]
	if y < l.head || line >= l.lines[1] {
		return "", false
	}
	return l.cellAt(m, line, x)
}

// cellAt returns the setting in a column of cells of a line.
func (l holeTable) cellAt(m Model, line, x int) (id string, ok bool) {
	for i, from := range l.xs {
		if x < l.left+from || x >= l.left+from+l.wide[i] {
			continue
		}
		c := bolting.Cell{Line: line, Column: l.cols[0] + i}
		if n := len(m.grid.Columns[c.Column].Fits); n > 1 {
			c.Place = min(max(int(math.Round(float64(x-l.left-from-8)/float64(max(l.wide[i]-17, 1))*float64(n-1))), 0), n-1)
		}
		s, ok := m.grid.Setting(c)
		return s.ID, ok
	}
	return "", false
}
