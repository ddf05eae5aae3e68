package carfile

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"stanchion/holes/plane"
	"stanchion/model/given"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// rule is what a number may be.
type rule struct {
	allows func(float64) bool // of the number as it stands in the file
	says   string
	bounds bounds // that it is within for certain, whatever the file's units
}

var (
	anything    = rule{func(float64) bool { return true }, "a finite number", bounds{}}
	positive    = rule{func(x float64) bool { return x > 0 }, "more than 0", above(0)}
	notNegative = rule{func(x float64) bool { return x >= 0 }, "0 or more", from(0)}
)

func between(lo, hi float64) rule {
	return rule{func(x float64) bool { return x >= lo && x <= hi }, fmt.Sprintf("%g to %g", lo, hi), from(lo).to(hi)}
}

// unit is what a number is in: its name in the file, and what one of it is in
// the program.
type unit struct {
	name string
	size float64
}

var (
	plain   = unit{"", 1}
	degrees = unit{"°", plane.Deg}
)

func (t *table) lengths() unit { return unit{t.r.units.lengthName, t.r.units.length} }

// within is a rule on a length of lo to hi mm, said in the file's unit.
func (t *table) within(lo, hi float64) rule {
	size := t.r.units.length
	return rule{func(x float64) bool { return x*size >= lo && x*size <= hi }, fmt.Sprintf("%.4g to %.4g %s", lo/size, hi/size, t.r.units.lengthName), bounds{}}
}

func (t *table) masses() unit { return unit{t.r.units.massName, t.r.units.mass} }
func (t *table) speeds() unit { return unit{t.r.units.speedName, t.r.units.speed} }

// number takes a number that must be there; it is NaN when it can't be used.
func (t *table) number(key string, u unit, allowed rule) float64 {
	t.note(Key{Kind: Number, Must: true, Unit: u.name, bounds: allowed.bounds}, key)
	if !t.has(key) {
		t.known = append(t.known, key)
		t.missing(key, "give a number"+inUnit(u))
		return math.NaN()
	}
	return t.optional(key, u, allowed, math.NaN())
}

func inUnit(u unit) string {
	if u.name == "" {
		return ""
	}
	return " in " + u.name
}

// maybe reads a number that may be left out; one that is wrong counts as left out, and is
// a fault.
func (t *table) maybe(key string, u unit, allowed rule) given.Number {
	if x := t.optional(key, u, allowed, math.NaN()); !math.IsNaN(x) {
		return given.Is(x)
	}
	return given.Number{}
}

// optional takes a number that may be left out.
func (t *table) optional(key string, u unit, allowed rule, otherwise float64) float64 {
	t.note(Key{Kind: Number, Unit: u.name, bounds: allowed.bounds}, key)
	t.known = append(t.known, key)
	v, ok := t.values[key]
	if !ok {
		return otherwise
	}
	var x float64
	switch n := v.(type) {
	case int64:
		x = float64(n)
	case float64:
		x = n
	default:
		t.fault(key, "%s is %s", "it must be a number"+inUnit(u), key, kind(v))
		t.r.lastIs(WrongKind)
		return math.NaN()
	}
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		t.fault(key, "%s is %g", "it must be a finite number"+inUnit(u), key, x)
		t.r.lastIs(OutOfRange)
		return math.NaN()
	case math.Abs(x*u.size) > 1e6 && u.name != "":
		t.fault(key, "%s is %g%s", fmt.Sprintf("it must be between -%g and %g", 1e6/u.size, 1e6/u.size), key, x, spaced(u.name))
		t.r.lastIs(OutOfRange)
		return math.NaN()
	case !allowed.allows(x):
		t.fault(key, "%s is %g%s", "it must be "+allowed.says, key, x, spaced(u.name))
		t.r.lastIs(OutOfRange)
		return math.NaN()
	}
	return x * u.size
}

func spaced(unit string) string {
	if unit == "" || unit == "°" {
		return unit
	}
	return " " + unit
}

// text takes a string; what to give is for the caller to say, save that it is
// printable, not empty and of bearable length.
func (t *table) text(key string, must bool, give string) string {
	t.note(Key{Kind: Text, Must: must}, key)
	t.known = append(t.known, key)
	v, ok := t.values[key]
	if !ok {
		if must {
			t.missing(key, "give "+give)
		}
		return ""
	}
	s, ok := v.(string)
	switch {
	case !ok:
		t.fault(key, "%s is %s", "give "+give, key, kind(v))
		t.r.lastIs(WrongKind)
	case strings.TrimSpace(s) == "":
		t.fault(key, "%s is empty", "give "+give, key)
	case utf8.RuneCountInString(s) > maxText:
		t.fault(key, "%s is %d characters long", fmt.Sprintf("use at most %d", maxText), key, utf8.RuneCountInString(s))
	case strings.IndexFunc(s, units.Hidden) >= 0:
		t.fault(key, "%s is %q, with characters that do not print", "use printable characters only", key, s)
	default:
		return strings.TrimSpace(s)
	}
	return ""
}

// maxText is the longest name or file name that is taken, characters.
const maxText = 200

// flag takes true or false.
func (t *table) flag(key string, otherwise bool) bool {
	t.note(Key{Kind: Flag}, key)
	t.known = append(t.known, key)
	v, ok := t.values[key]
	if !ok {
		return otherwise
	}
	b, ok := v.(bool)
	if !ok {
		t.fault(key, "%s is %s", "it must be true or false", key, kind(v))
		t.r.lastIs(WrongKind)
	}
	return b
}

// child takes a sub-table; nil when it is not there or not a table.
func (t *table) child(key, name string) *table {
	t.known = append(t.known, key)
	if t.note(Key{Kind: Table}, key) {
		return &table{r: t.r, path: toml.Join(t.path, key), name: name}
	}
	v, ok := t.values[key]
	if !ok {
		return nil
	}
	m, ok := v.(map[string]any)
	if !ok {
		t.fault(key, "%s is %s", "it must be a table", key, kind(v))
		t.r.lastIs(WrongKind)
		return nil
	}
	return &table{r: t.r, path: toml.Join(t.path, key), name: name, values: m}
}

// children takes an array of tables.
func (t *table) children(key string) []*table {
	t.known = append(t.known, key)
	if t.note(Key{Kind: Tables}, key) {
		return []*table{{r: t.r, path: toml.Join(t.path, key) + "[]"}}
	}
	v, ok := t.values[key]
	if !ok {
		return nil
	}
	var rows []map[string]any
	switch a := v.(type) {
	case []map[string]any:
		rows = a
	case []any:
		for i, e := range a {
			m, ok := e.(map[string]any)
			if !ok {
				t.r.at(fmt.Sprintf("%s[%d]", toml.Join(t.path, key), i), "%s%s holds %s", "it must hold tables only", t.label(), key, kind(e))
				t.r.lastIs(WrongKind)
				continue
			}
			rows = append(rows, m)
		}
	default:
		t.fault(key, "%s is %s", "it must be a list of tables", key, kind(v))
		t.r.lastIs(WrongKind)
		return nil
	}
	all := make([]*table, len(rows))
	for i, m := range rows {
		all[i] = &table{r: t.r, path: fmt.Sprintf("%s[%d]", toml.Join(t.path, key), i), values: m}
	}
	return all
}

// list takes an array of values.
func (t *table) list(key string) []any {
	t.known = append(t.known, key)
	t.note(Key{Kind: List}, key)
	v, ok := t.values[key]
	if !ok {
		return nil
	}
	if tables, ok := v.([]map[string]any); ok {
		a := make([]any, len(tables))
		for i, m := range tables {
			a[i] = m
		}
		return a
	}
	a, ok := v.([]any)
	if !ok {
		t.fault(key, "%s is %s", "it must be a list", key, kind(v))
		t.r.lastIs(WrongKind)
	}
	return a
}

// kind names the type of a value in words.
func kind(v any) string {
	switch x := v.(type) {
	case string:
		if utf8.RuneCountInString(x) > 40 {
			return "a text"
		}
		return fmt.Sprintf("the text %q", x)
	case bool:
		return fmt.Sprintf("%v", x)
	case int64, float64:
		return fmt.Sprintf("the number %v", x)
	case map[string]any:
		return "a table"
	case []map[string]any, []any:
		return "a list"
	}
	return "a date or time"
}
