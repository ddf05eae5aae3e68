package model

import (
	"slices"
	"strings"

	"stanchion/holes"
)

// Index returns where in the table the setting with the given id stands: as itself, or
// as a way of bolting the same place.
func (t *Table) Index(id string) (int, bool) {
	for i := range t.Rows {
		if t.Rows[i].ID == id {
			return i, true
		}
	}
	for i := range t.Rows {
		if slices.ContainsFunc(t.Rows[i].Alternatives, func(a holes.Setting) bool { return a.ID == id }) {
			return i, true
		}
	}
	return 0, false
}

// Find returns the setting with the given id with its own bolts, whether it stands in
// the table or is another way of bolting a place of it.
func (t *Table) Find(id string) (*Row, bool) {
	i, ok := t.Index(id)
	if !ok {
		return nil, false
	}
	return t.as(i, id), true
}

// as returns row i, or the row of one of its alternatives.
func (t *Table) as(i int, id string) *Row {
	if t.Rows[i].ID == id {
		return &t.Rows[i]
	}
	way, _ := t.Rows[i].As(id)
	p := t.Car.PositionOf(&way)
	return t.RowAt(&p)
}

// Ways returns a row for every way of bolting the place of row i, the row itself first.
func (t *Table) Ways(i int) []*Row {
	rows := []*Row{&t.Rows[i]}
	for k := range t.Rows[i].Alternatives {
		rows = append(rows, t.as(i, t.Rows[i].Alternatives[k].ID))
	}
	return rows
}

// WithWay returns the table and its places with another way of bolting the place of
// row i in the row's place; the table itself stays what it is. id is one of the row's
// alternatives.
func (t *Table) WithWay(i int, id string, places []Position) (*Table, []Position) {
	way, ok := t.Rows[i].As(id)
	if !ok || way.ID == t.Rows[i].ID {
		return t, places
	}
	next := *t
	next.Rows, places = slices.Clone(t.Rows), slices.Clone(places)
	places[i] = t.Car.PositionOf(&way)
	next.Rows[i] = *t.RowAt(&places[i])
	return &next, places
}

// Named returns the settings that words name: the one with that id or short name, or else
// all that take every bolt and hole named, one for a place where the one in the table is
// among them. A word is a bolt "A:F", several joined by + or /, or the name of a hole.
func (t *Table) Named(words []string) []*Row {
	if len(words) == 1 {
		if r, ok := t.Find(words[0]); ok {
			return []*Row{r}
		}
	}
	if named := t.byName(words); named != nil {
		return named
	}
	var wanted []string
	for _, w := range words {
		wanted = append(wanted, strings.FieldsFunc(w, func(r rune) bool { return r == '+' || r == '/' || r == ' ' })...)
	}
	if len(wanted) == 0 {
		return nil
	}
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		var found []*Row
		for i := range t.Rows {
			if t.Car.takes(t.Rows[i].Setting, wanted, same) {
				found = append(found, &t.Rows[i])
				continue
			}
			for k := range t.Rows[i].Alternatives {
				if a := &t.Rows[i].Alternatives[k]; t.Car.takes(a, wanted, same) {
					found = append(found, t.as(i, a.ID))
				}
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

// takes reports whether a setting has all the bolts and holes.
func (c *Car) takes(s *holes.Setting, wanted []string, same func(a, b string) bool) bool {
	var has []string
	for _, pairs := range c.Bolts(s) {
		for _, p := range pairs {
			has = append(has, p[0], p[1], p[0]+":"+p[1], p[1]+":"+p[0])
		}
	}
	for _, w := range wanted {
		if !slices.ContainsFunc(has, func(h string) bool { return same(h, w) }) {
			return false
		}
	}
	return true
}

// boltsOf names the bolts of one joint, so that the same bolts have the same name in any
// version of the car.
func (c *Car) boltsOf(j int, f *holes.Fit) string {
	var name strings.Builder
	for _, q := range f.Pairs {
		if lower, upper := c.Parts[j].Holes, c.Parts[j+1].Holes; q.Lower < len(lower) && q.Upper < len(upper) {
			name.WriteString(lower[q.Lower].ID + ":" + upper[q.Upper].ID + " ")
		}
	}
	return name.String()
}

// Bolts returns, for each joint, its pairs of hole names, lower first.
func (c *Car) Bolts(s *holes.Setting) [][][2]string {
	all := make([][][2]string, len(s.Fits))
	for j, f := range s.Fits {
		for _, q := range f.Pairs {
			all[j] = append(all[j], [2]string{c.Parts[j].Holes[q.Lower].ID, c.Parts[j+1].Holes[q.Upper].ID})
		}
	}
	return all
}
