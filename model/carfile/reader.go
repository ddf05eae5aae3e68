package carfile

import (
	"fmt"
	"sort"
	"strings"
)

// reader collects the faults of one file while its values are taken out.
type reader struct {
	file   string
	dir    string // of the car file, for naming the files beside it
	pos    positions
	broken map[string]bool // keys whose lines are not TOML: not missing, but not to be had
	faults Faults
	units  fileUnits
	fixed  int           // index of the part that is fixed to the car, or -1
	joints []joint       // in the order of the file
	index  map[int][]int // by part: which entry of its holes each hole or position comes from

	warnings []string // what is odd but usable
}

// fileUnits says what one of the file's units is in the program's.
type fileUnits struct {
	length, mass, speed             float64 // mm, kg, m/s
	lengthName, massName, speedName string
}

// at records a fault at the value of a path, or at its key.
func (r *reader) at(path string, what, allowed string, args ...any) {
	place, ok := r.pos.value[path]
	for !ok && path != "" { // the nearest table that stands in the file
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			place = spot{1, 1}
			break
		}
		path = path[:cut]
		place, ok = r.pos.value[path]
	}
	if place.line == 0 {
		place = spot{1, 1}
	}
	r.faults = append(r.faults, Fault{r.file, place.line, place.col, fmt.Sprintf(what, args...), allowed})
}

func (r *reader) atKey(path string, what, allowed string) {
	if place, ok := r.pos.key[path]; ok {
		r.faults = append(r.faults, Fault{r.file, place.line, place.col, what, allowed})
		return
	}
	r.at(path, "%s", allowed, what)
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

func (t *table) fault(key, what, allowed string, args ...any) {
	t.r.at(join(t.path, key), t.prefix()+what, allowed, args...)
}

func (t *table) prefix() string {
	if t.name == "" {
		return ""
	}
	return strings.ReplaceAll(t.name, "%", "%%") + ": "
}

// missing records that a key is not there.
func (t *table) missing(key, allowed string) {
	if !t.r.broken[key] {
		t.noteMissing(key)
		t.r.at(t.path, "%s%s is missing", allowed, t.label(), key)
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
		asked := false
		for _, known := range t.known {
			asked = asked || k == known
		}
		if !asked {
			left = append(left, k)
		}
	}
	sort.Strings(left)
	for _, k := range left {
		allowed := ""
		if n := nearest(k, t.known); n != "" {
			allowed = fmt.Sprintf("%q, which is the nearest", n)
			if i, gone := t.missed[n]; gone {
				t.r.faults[i].What = "" // it is there, misspelt: one fault
			}
		} else {
			known := append([]string(nil), t.known...)
			sort.Strings(known)
			allowed = strings.Join(known, ", ")
		}
		t.r.atKey(join(t.path, k), fmt.Sprintf("%sunknown key %q", t.label(), k), allowed)
	}
}
