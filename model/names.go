package model

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"stanchion/holes"
)

// names are the short names of a car's settings: for each joint, what each way of
// bolting it is called.
type names struct {
	once   sync.Once
	joints []map[string]string // by the pairs
}

// Name calls a setting by the fewest holes that tell it from all others: "row 4, B2" for
// the way of the lower joints and the hole of the one that bolts the wing. A joint that goes
// together in one way only is left out. Adding a hole may lengthen names; ids stay.
//
// For all settings of a table the names differ.
func (t *Table) Name(s *holes.Setting) string {
	below, head := t.NameParts(s)
	switch {
	case below == "" && head == "":
		return s.ID
	case below == "":
		return head
	case head == "":
		return "row " + below
	}
	return "row " + below + ", " + head
}

// NameOf is what the setting with an id is called; the id where the car has no such setting.
func (t *Table) NameOf(id string) string {
	if r, ok := t.Find(id); ok {
		return t.Name(r.Setting)
	}
	return id
}

// SettingNames returns what each way of bolting a car is called, by its id.
func (c *Car) SettingNames() (map[string]string, error) {
	settings, err := c.Chain().Settings()
	if err != nil {
		return nil, err
	}
	t, all := &Table{Car: c}, make(map[string]string, len(settings))
	for i := range settings {
		for _, w := range settings[i].Ways() {
			all[w.ID] = t.Name(&w)
		}
	}
	return all, nil
}

// NameParts returns the two halves of a setting's name: the way of the joints below, and that of the
// wing's joint; "" where there is one way only.
func (t *Table) NameParts(s *holes.Setting) (below, head string) {
	if t.naming == nil {
		t.naming = new(names)
	}
	t.naming.once.Do(func() { t.naming.joints = jointNames(t.Car) })
	var parts []string
	for j, f := range s.Fits {
		if j >= len(t.naming.joints) {
			continue
		}
		name := t.naming.joints[j][pairsKey(f.Pairs)]
		if j == len(s.Fits)-1 {
			head = name
		} else if name != "" {
			parts = append(parts, name)
		}
	}
	return strings.Join(parts, "/"), head
}

// pairsKey tells the ways of bolting one joint apart.
func pairsKey(pairs []holes.Pair) string {
	key := make([]byte, 0, 8*len(pairs))
	for _, p := range pairs {
		key = append(key, byte(p.Lower), byte(p.Lower>>8), byte(p.Lower>>16), byte(p.Upper), byte(p.Upper>>8), byte(p.Upper>>16))
	}
	return string(key)
}

// jointNames names the ways of bolting each joint of a car.
func jointNames(c *Car) []map[string]string {
	all := make([]map[string]string, len(c.Joints))
	for j := range c.Joints {
		if j+1 >= len(c.Parts) {
			break
		}
		fits, err := holes.Fits(c.Parts[j].Part, c.Parts[j+1].Part, c.Joints[j].Joint)
		if err != nil {
			continue // more than can be listed: there are no settings to name
		}
		all[j] = fitNames(c.Parts[j].Part, c.Parts[j+1].Part, fits)
	}
	return all
}

// fitNames names the ways of bolting one joint, all in the same form: the first that tells all
// of them apart. A single way has no name.
func fitNames(lower, upper holes.Part, fits []holes.Fit) map[string]string {
	if len(fits) < 2 {
		return nil
	}
	forms := make([]func(holes.Fit) (string, bool), 0, len(upper.Holes)+3)
	for u := range upper.Holes { // the hole that one bolt of all the ways goes through
		forms = append(forms, func(f holes.Fit) (string, bool) {
			for _, p := range f.Pairs {
				if p.Upper == u {
					return lower.Holes[p.Lower].ID, true
				}
			}
			return "", false
		})
	}
	forms = append(forms,
		func(f holes.Fit) (string, bool) { // its first and last hole
			ids := frontToRear(lower, upper, f)
			return ids[0] + "–" + ids[len(ids)-1], true
		},
		func(f holes.Fit) (string, bool) { return strings.Join(frontToRear(lower, upper, f), "+"), true })
	for _, form := range forms {
		if named, ok := distinct(fits, form); ok {
			return named
		}
	}
	named, _ := distinct(fits, func(f holes.Fit) (string, bool) { return holes.FitID(lower, upper, f), true })
	return named
}

// frontToRear lists the lower part's holes of a fit from the upper part's front hole to its rear
// one, of those above one another from below.
func frontToRear(lower, upper holes.Part, f holes.Fit) []string {
	pairs := slices.Clone(f.Pairs)
	slices.SortStableFunc(pairs, func(a, b holes.Pair) int {
		return cmp.Or(cmp.Compare(upper.Holes[a.Upper].X, upper.Holes[b.Upper].X), cmp.Compare(upper.Holes[a.Upper].Z, upper.Holes[b.Upper].Z))
	})
	ids := make([]string, len(pairs))
	for i, p := range pairs {
		ids[i] = lower.Holes[p.Lower].ID
	}
	return ids
}

// distinct names fits in one form, and reports whether it tells all of them apart, in whatever
// case they are typed.
func distinct(fits []holes.Fit, form func(holes.Fit) (string, bool)) (map[string]string, bool) {
	named, met := make(map[string]string, len(fits)), make(map[string]bool, len(fits))
	apart := true
	for _, f := range fits {
		name, ok := form(f)
		if !ok {
			return nil, false
		}
		apart = apart && !met[plainName(name)]
		met[plainName(name)] = true
		named[pairsKey(f.Pairs)] = name
	}
	return named, apart
}

// plainName is a name as it may be typed: in any case, with a hyphen for the dash, the parts
// set apart by blanks or commas, with or without the word row.
func plainName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(strings.ReplaceAll(name, "–", "-")), func(r rune) bool { return r == ' ' || r == ',' })
	if len(words) > 1 && words[0] == "row" {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// byName returns the settings of a short name: one, or none.
func (t *Table) byName(words []string) []*Row {
	wanted := plainName(strings.Join(words, " "))
	if wanted == "" {
		return nil
	}
	var found []*Row
	for i := range t.Rows {
		ways := t.Rows[i].Ways()
		k := slices.IndexFunc(ways, func(s holes.Setting) bool { return plainName(t.Name(&s)) == wanted })
		if k >= 0 {
			found = append(found, t.as(i, ways[k].ID))
		}
	}
	if len(found) == 1 {
		return found
	}
	return t.byRowAndHoles(strings.Fields(wanted))
}

// byRowAndHoles returns the settings in a row of the table of holes, named first, whose wing has a bolt in each
// of the holes named after it: what a name says also once a further hole has made names longer.
func (t *Table) byRowAndHoles(words []string) []*Row {
	if len(words) < 2 {
		return nil
	}
	var found []*Row
	last := len(t.Car.Joints) - 1
	for i := range t.Rows {
		for _, s := range t.Rows[i].Ways() {
			below, _ := t.NameParts(&s)
			if plainName(below) != words[0] {
				continue
			}
			has := 0
			for _, w := range words[1:] {
				if slices.ContainsFunc(s.Fits[last].Pairs, func(p holes.Pair) bool {
					return strings.EqualFold(t.Car.Parts[last].Holes[p.Lower].ID, w)
				}) {
					has++
				}
			}
			if has == len(words)-1 {
				found = append(found, t.as(i, s.ID))
			}
		}
	}
	return found
}
