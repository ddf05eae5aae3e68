// Package bolting answers: which settings does a spanner lead to? It lays the settings of a
// car out as a table of holes: a line for each way of bolting the joints below the wing's, a
// column for each way of bolting the wing itself.
package bolting

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
)

// Line is one way of bolting the joints below the wing's.
type Line struct {
	Name   string  // "4"; "" when it is the only one
	Height float64 // mm, the mean of its settings
	Turn   float64 // rad that it adds to the angles of the columns
	fits   []*holes.Fit
}

// Column is one way of bolting the wing's joint, or all places of one slot.
type Column struct {
	Front, Rear string  // the lower part's holes for the wing's front and rear bolt
	Angle       float64 // rad, in the line with the least turn; of a slot its middle
	Slot        string  // the slot that it runs along; "" for holes
	Fits        []*holes.Fit
	order       [2]int // of its holes in the part
}

// Cell is a setting's place in a grid.
type Cell struct {
	Line, Column int
	Place        int // along a slot; 0 for holes
}

// Setting is what stands in a cell: the row of the table, and the id of the way of bolting it.
type Setting struct {
	Row int
	ID  string
}

// Grid is a table of holes.
type Grid struct {
	Lines   []Line
	Columns []Column
	Even    bool // all lines have the same turn: a column is one angle
	Slotted bool // some column runs along a slot
	cells   map[Cell]Setting
	at      map[string]Cell // by id
}

// Order is how columns follow one another.
type Order int

// The orders.
const (
	ByAngle Order = iota
	ByHole        // as the part's holes are listed
)

// NewGrid lays out a table's settings: lines from the highest down, columns by angle or by
// hole.
func NewGrid(t *model.Table, order Order) *Grid {
	g := &Grid{cells: map[Cell]Setting{}, at: map[string]Cell{}}
	if len(t.Rows) == 0 {
		return g
	}
	b := &builder{grid: g, table: t, lines: map[string]int{}, columns: map[*holes.Fit]int{}, ordinals: map[*holes.Fit]int{}}
	for i := range t.Rows {
		b.add(i, t.Rows[i].Setting)
		for k := range t.Rows[i].Alternatives {
			b.add(i, &t.Rows[i].Alternatives[k])
		}
	}
	b.finish(order)
	return g
}

// builder makes a grid.
type builder struct {
	grid     *Grid
	table    *model.Table
	lines    map[string]int     // by the ordinals of their fits
	columns  map[*holes.Fit]int // column of a fit at the wing
	slots    map[string]int     // column of a slot, by its other bolts
	ordinals map[*holes.Fit]int
	entries  []entry
	count    []int // of the settings in a line
}

// entry is a setting before lines and columns are in order.
type entry struct {
	line   int
	fit    *holes.Fit
	row    int
	id     string
	column int
	place  int
}

func (b *builder) add(row int, s *holes.Setting) {
	last := len(s.Fits) - 1
	line := b.lineOf(s.Fits[:last])
	b.grid.Lines[line].Height += b.table.Rows[row].Height
	b.count[line]++
	b.columnOf(s.Fits[last])
	b.entries = append(b.entries, entry{line: line, fit: s.Fits[last], row: row, id: s.ID})
}

// lineOf returns the line of ways of bolting the joints below.
func (b *builder) lineOf(fits []*holes.Fit) int {
	key := make([]byte, 0, 4*len(fits))
	for _, f := range fits {
		n, met := b.ordinals[f]
		if !met {
			n = len(b.ordinals)
			b.ordinals[f] = n
		}
		key = append(key, byte(n), byte(n>>8), byte(n>>16), byte(n>>24))
	}
	if i, met := b.lines[string(key)]; met {
		return i
	}
	l := Line{fits: fits}
	for _, f := range fits {
		l.Turn += f.Pose.Turn
	}
	b.lines[string(key)] = len(b.grid.Lines)
	b.grid.Lines, b.count = append(b.grid.Lines, l), append(b.count, 0)
	return len(b.grid.Lines) - 1
}

// columnOf notes the column of a way of bolting the wing.
func (b *builder) columnOf(f *holes.Fit) {
	if _, met := b.columns[f]; met {
		return
	}
	c := b.table.Car
	p := model.Position{Setting: &holes.Setting{Fits: []*holes.Fit{f}}}
	front, rear := choose.WingBolts(&p, c.Parts[len(c.Parts)-1].Part)
	lower := c.Parts[len(c.Parts)-2].Part
	slot, others := alongSlot(lower, f)
	if slot != "" {
		if i, met := b.slots[slot+others]; met {
			b.columns[f] = i
			b.grid.Columns[i].Fits = append(b.grid.Columns[i].Fits, f)
			return
		}
		if b.slots == nil {
			b.slots = map[string]int{}
		}
		b.slots[slot+others] = len(b.grid.Columns)
		b.grid.Slotted = true
	}
	name := func(h holes.Hole) string {
		if h.Slot != "" && h.Slot == slot {
			return h.Slot
		}
		return h.ID
	}
	b.columns[f] = len(b.grid.Columns)
	b.grid.Columns = append(b.grid.Columns, Column{Front: name(lower.Holes[front.Lower]), Rear: name(lower.Holes[rear.Lower]),
		Slot: slot, Fits: []*holes.Fit{f}, order: [2]int{front.Lower, rear.Lower}})
}

// alongSlot names the slot of the lower part that one bolt of a fit can be moved along, and its
// other bolts; "" when none or more than one can.
func alongSlot(lower holes.Part, f *holes.Fit) (slot, others string) {
	for _, p := range f.Pairs {
		h := lower.Holes[p.Lower]
		switch {
		case h.Slot == "":
			others += "\x00" + h.ID + "\x01" + string(rune(p.Upper+1))
		case slot != "":
			return "", ""
		default:
			slot, others = h.Slot, others+"\x00\x01"+string(rune(p.Upper+1))
		}
	}
	return slot, others
}

// finish puts lines and columns in order and fills the cells.
func (b *builder) finish(order Order) {
	g, t := b.grid, b.table
	least := math.Inf(1)
	for i := range g.Lines {
		g.Lines[i].Height /= float64(b.count[i])
		least = min(least, g.Lines[i].Turn)
	}
	ground := t.Car.Ground().Turn
	g.Even = true
	for i := range g.Lines {
		g.Lines[i].Turn -= least
		g.Even = g.Even && g.Lines[i].Turn < 0.05*plane.Deg
	}
	for i := range g.Columns {
		c := &g.Columns[i]
		slices.SortFunc(c.Fits, func(a, b *holes.Fit) int { return cmp.Compare(a.Pose.Turn, b.Pose.Turn) })
		turn := (c.Fits[0].Pose.Turn + c.Fits[len(c.Fits)-1].Pose.Turn) / 2
		c.Angle = math.Remainder(ground+least+turn, 2*math.Pi)
	}
	lineAt := permuted(len(g.Lines), func(a, b int) int {
		return cmp.Or(cmp.Compare(math.Round(g.Lines[b].Height), math.Round(g.Lines[a].Height)), cmp.Compare(g.Lines[a].Turn, g.Lines[b].Turn), cmp.Compare(a, b))
	})
	columnAt := permuted(len(g.Columns), func(a, b int) int {
		p, q := &g.Columns[a], &g.Columns[b]
		byHole := cmp.Or(cmp.Compare(p.order[0], q.order[0]), cmp.Compare(p.order[1], q.order[1]))
		if order == ByHole {
			return cmp.Or(byHole, cmp.Compare(a, b))
		}
		return cmp.Or(cmp.Compare(math.Round(p.Angle*1e6), math.Round(q.Angle*1e6)), byHole, cmp.Compare(a, b))
	})
	for i := range b.entries {
		e := &b.entries[i]
		col := b.columns[e.fit]
		e.place = slices.Index(g.Columns[col].Fits, e.fit)
		e.line, e.column = lineAt[e.line], columnAt[col]
	}
	g.Lines, g.Columns = inOrder(g.Lines, lineAt), inOrder(g.Columns, columnAt)
	for _, e := range b.entries {
		cell := Cell{e.line, e.column, e.place}
		g.cells[cell] = Setting{e.row, e.id}
		g.at[e.id] = cell
	}
	for i := range g.Lines {
		s := holes.Setting{Fits: append(slices.Clone(g.Lines[i].fits), g.Columns[0].Fits[0])}
		g.Lines[i].Name, _ = t.NameParts(&s)
	}
}

// permuted returns where each of n things goes when they are put in order.
func permuted(n int, compare func(a, b int) int) []int {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, compare)
	to := make([]int, n)
	for k, i := range order {
		to[i] = k
	}
	return to
}

func inOrder[T any](all []T, to []int) []T {
	sorted := make([]T, len(all))
	for i, x := range all {
		sorted[to[i]] = x
	}
	return sorted
}

// Setting returns what stands in a cell; ok is false where the bolts do not go in.
func (g *Grid) Setting(c Cell) (s Setting, ok bool) {
	s, ok = g.cells[c]
	return s, ok
}

// Cell returns where the setting with an id stands.
func (g *Grid) Cell(id string) (c Cell, ok bool) {
	c, ok = g.at[id]
	return c, ok
}

// Step returns the next cell with a setting from one, by lines downwards or by columns to the
// right, along a slot place by place; ok is false at the end. Cells without a setting are passed
// over.
func (g *Grid) Step(from Cell, lines, columns int) (to Cell, ok bool) {
	to = from
	for {
		switch {
		case columns != 0:
			next := to.Place + columns
			if n := len(g.Columns[to.Column].Fits); next < 0 || next >= n {
				to.Column += columns
				if to.Column < 0 || to.Column >= len(g.Columns) {
					return from, false
				}
				next = 0
				if columns < 0 {
					next = len(g.Columns[to.Column].Fits) - 1
				}
			}
			to.Place = next
		default:
			to.Line += lines
			if to.Line < 0 || to.Line >= len(g.Lines) {
				return from, false
			}
		}
		if _, ok := g.cells[to]; ok {
			return to, true
		}
	}
}
