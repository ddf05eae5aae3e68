package carfile

import (
	"slices"
	"strings"

	"stanchion/model/toml"
)

// Kind is what stands behind a key of a car file.
type Kind int

// Kinds of values.
const (
	Number Kind = iota
	Text
	Flag
	Table
	Tables // one table or more, [[so]]
	List
)

// Key is a key that the reader takes.
type Key struct {
	Path string // such as part[].holes[].d
	Kind Kind
	Must bool   // its table cannot do without it
	Unit string // of a number, in the file's own units; "" for none

	OneOf    []string // the texts that it may be; nil for any
	Examples []string // texts that it often is
	Items    []Kind   // of a list: what it holds, and what these hold where they are lists
	Places   bool     // its innermost lists are of two numbers, x and z

	bounds
}

// Name is the key itself.
func (k *Key) Name() string { return k.Path[strings.LastIndexByte(k.Path, '.')+1:] }

// In is the path of the table that the key stands in; "" for the file's own.
func (k *Key) In() string { return k.Path[:max(0, strings.LastIndexByte(k.Path, '.'))] }

// bounds are what a number is within.
type bounds struct {
	least, most float64
	low, high   bool // that they are given
	open        bool // it is above least, not least itself
	integer     bool
}

func from(x float64) bounds  { return bounds{least: x, low: true} }
func above(x float64) bounds { return bounds{least: x, low: true, open: true} }

func (b bounds) to(x float64) bounds { b.most, b.high = x, true; return b }
func (b bounds) whole() bounds       { b.integer = true; return b }

// Least is the bound below, and whether the number may be that; ok says that there is one.
func (b bounds) Least() (x float64, may, ok bool) { return b.least, !b.open, b.low }

// Most is the bound above; ok says that there is one.
func (b bounds) Most() (x float64, ok bool) { return b.most, b.high }

// Whole says that the number is a whole one.
func (b bounds) Whole() bool { return b.integer }

// keys collects the keys that a reader asks for, in their order.
type keys struct {
	all []*Key
	at  map[string]*Key
}

// note collects a key, and says whether keys are collected. A key that is asked for twice is one; what either says of it stands.
func (t *table) note(k Key, key string) bool {
	ks := t.r.keys
	if ks == nil {
		return false
	}
	k.Path = toml.Join(t.path, key)
	before, ok := ks.at[k.Path]
	if !ok {
		ks.at[k.Path] = &k
		ks.all = append(ks.all, &k)
		return true
	}
	before.Must = before.Must || k.Must
	return true
}

// noteTexts says which texts a key may have.
func (t *table) noteTexts(key string, texts ...string) {
	if t.r.keys != nil {
		t.r.keys.at[toml.Join(t.path, key)].OneOf = texts
	}
}

// noteExamples says which texts a key often has.
func (t *table) noteExamples(key string, texts ...string) {
	if t.r.keys != nil {
		t.r.keys.at[toml.Join(t.path, key)].Examples = texts
	}
}

// noteItems says what a list holds; place says that its innermost lists are places, of two numbers.
func (t *table) noteItems(key string, place bool, items ...Kind) {
	if t.r.keys != nil {
		k := t.r.keys.at[toml.Join(t.path, key)]
		k.Items, k.Places = items, place
	}
}

// Keys lists the keys that a car file may have, as the reader itself asks for them: it is run on a file in which every table is there
// and empty.
func Keys() []Key {
	r := &reader{file: "keys", index: map[int][]int{}, keys: &keys{at: map[string]*Key{}}}
	root := &table{r: r}
	r.format(root)
	r.car(root, func(string) ([]byte, error) { return nil, nil })
	all := make([]Key, 0, len(r.keys.all))
	for _, k := range r.keys.all {
		all = append(all, *k)
	}
	return all
}

// sortedTexts are the keys of a map.
func sortedTexts[V any](m map[string]V) []string {
	var all []string
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}
