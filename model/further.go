package model

import (
	"slices"

	"stanchion/holes"
)

// Rower returns a function that works out the rows of settings, which need not be among the table's own: those of
// the same car with other holes too. It may be used by several at a time.
func (t *Table) Rower() func(s *holes.Setting) Row {
	site := t.Car.site()
	return func(s *holes.Setting) (r Row) {
		p := site.place(s)
		if f := t.field(); f != nil && f.err == nil {
			p.Deck = f.at(p.X*mm, p.Height*mm)
		}
		t.fill(&r, &p)
		return r
	}
}

// Bare returns the table of the same car with other holes, c, without any rows: RowAt and Budget are those of the
// table.
func (t *Table) Bare(c *Car) *Table {
	return &Table{Car: c, Speed: t.Speed, Density: t.Density, Wing: t.Wing, Without: t.Without, naming: new(names), field: t.field}
}

// With returns the table of the same car with other holes, c: without the rows gone, with further ones, in the
// order of Positions.
func (t *Table) With(c *Car, gone []int, further []Row) *Table {
	next := t.Bare(c)
	further = slices.Clone(further)
	slices.SortFunc(further, func(a, b Row) int {
		if a.before(b.Position) {
			return -1
		}
		return 1
	})
	leave := make(map[int]bool, len(gone))
	for _, i := range gone {
		leave[i] = true
	}
	next.Rows = make([]Row, 0, len(t.Rows)-len(gone)+len(further))
	for i := range t.Rows {
		if leave[i] {
			continue
		}
		for len(further) > 0 && further[0].before(t.Rows[i].Position) {
			next.Rows, further = append(next.Rows, further[0]), further[1:]
		}
		next.Rows = append(next.Rows, t.Rows[i])
	}
	next.Rows = append(next.Rows, further...)
	return next
}
