package carfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// reader collects the faults of one file while its values are taken out.
type reader struct {
	file   string
	dir    string // of the car file, for naming the files beside it
	pos    toml.Positions
	broken map[string]bool // keys whose lines are not TOML: not missing, but not to be had
	faults Faults
	units  fileUnits
	fixed  int           // index of the part that is fixed to the car, or -1
	joints []joint       // in the order of the file
	index  map[int][]int // by part: which entry of its holes each hole or position comes from

	warnings []units.Phrase // what is odd but usable

	keys *keys // where the keys that are asked for are collected; nil in ordinary reading
}

// fileUnits says what one of the file's units is in the program's.
type fileUnits struct {
	length, mass, speed             float64 // mm, kg, m/s
	lengthName, massName, speedName string
}

// at records a fault at the value of a path, or at its key.
func (r *reader) at(path string, what, do string, args ...any) {
	place, ok := r.pos.Value[path]
	for !ok && path != "" { // the nearest table that stands in the file
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			place = toml.Spot{Line: 1, Col: 1}
			break
		}
		path = path[:cut]
		place, ok = r.pos.Value[path]
	}
	if place.Line == 0 {
		place = toml.Spot{Line: 1, Col: 1}
	}
	r.faults = append(r.faults, Fault{r.file, place.Line, place.Col, fmt.Sprintf(what, args...), do, NotSound})
}

// lastIs says of which kind the last fault is.
func (r *reader) lastIs(c Code) { r.faults[len(r.faults)-1].Code = c }

func (r *reader) atKey(path string, what, do string) {
	if place, ok := r.pos.Key[path]; ok {
		r.faults = append(r.faults, Fault{r.file, place.Line, place.Col, what, do, UnknownKey})
		return
	}
	r.at(path, "%s", do, what)
	r.lastIs(UnknownKey)
}

// table is one table of the file: its values, and which of them were asked for.
type table struct {
	r      *reader
	path   string
	name   string // in words, for faults: hole "A3" of part "upright"
	values map[string]any
	known  []string
	missed map[string]int // where the faults of missing keys are
}

func (t *table) has(key string) bool { _, ok := t.values[key]; return ok }

func (t *table) fault(key, what, do string, args ...any) {
	t.r.at(toml.Join(t.path, key), t.prefix()+what, do, args...)
}

func (t *table) prefix() string {
	if t.name == "" {
		return ""
	}
	return strings.ReplaceAll(t.name, "%", "%%") + ": "
}

// missing records that a key is not there.
func (t *table) missing(key, do string) {
	if !t.r.broken[key] {
		t.noteMissing(key)
		t.r.at(t.path, "%s%s is missing", do, t.label(), key)
		t.r.lastIs(MissingKey)
	}
}

// noteMissing remembers that the next fault is that of a missing key.
func (t *table) noteMissing(key string) {
	if t.missed == nil {
		t.missed = map[string]int{}
	}
	t.missed[key] = len(t.r.faults)
}

func (t *table) label() string {
	if t.name == "" {
		return ""
	}
	return t.name + ": "
}

// close records the keys that nobody asked for, each with the nearest known.
func (t *table) close() {
	var left []string
	for k := range t.values {
		if !slices.Contains(t.known, k) {
			left = append(left, k)
		}
	}
	if len(left) == 0 {
		return
	}
	slices.Sort(t.known)
	order := make(map[string]toml.Spot, len(left))
	for _, k := range left {
		order[k] = t.r.pos.Key[toml.Join(t.path, k)]
	}
	slices.SortFunc(left, func(a, b string) int {
		p, q := order[a], order[b]
		return cmp.Or(cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col), cmp.Compare(a, b))
	})
	for i, k := range left {
		do := ""
		switch n := t.nearest(k, i); {
		case i >= maxFaults: // it is counted, and not spelt out
		case n != "":
			do = fmt.Sprintf("did you mean %q?", n)
			if i, gone := t.missed[n]; gone {
				t.r.faults[i].What = "" // it is there, misspelt: one fault
			}
		default:
			do = "known here: " + strings.Join(t.known, ", ")
		}
		t.r.atKey(toml.Join(t.path, k), fmt.Sprintf("%sunknown key %q", t.label(), k), do)
	}
}

// nearest returns the known key that the i-th unknown one is likely to stand for.
func (t *table) nearest(key string, i int) string {
	if i >= maxFaults {
		return ""
	}
	return nearest(key, t.known)
}
