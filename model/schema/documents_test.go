package schema_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"stanchion/model/schema"
)

const told = `What commands print

Prose, and a line with a colon: this one.

one: stanchion one, stanchion two --more
  name                 text            its name
  size_mm?             number?         how large
  parts                list? of object  what is in it
    *(many)
    weight_kg          number          of a part
    at                 list of number?  where
  like                 thing?          another
  by_key               map of thing    by key
  any                  anything        whatever

(thing)
  good                 yes or no       it is good
  count                whole number    how many
`

func documents(t *testing.T, text string) schema.Documents {
	t.Helper()
	all, err := schema.ReadDocuments(text, map[string][]schema.Entry{"(many)": {{Key: "a", Type: "number", Means: "a"}, {Key: "b_n", Type: "number", Means: "b"}}})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestReadDocuments(t *testing.T) {
	all := documents(t, told)
	if len(all) != 2 || !slices.Equal(all[0].Commands, []string{"stanchion one", "stanchion two --more"}) || all[1].Commands != nil {
		t.Fatalf("%+v", all)
	}
	var keys []string
	for _, e := range all[0].Entries[2].Of {
		keys = append(keys, e.Key)
	}
	if !slices.Equal(keys, []string{"a", "b_n", "weight_kg", "at"}) {
		t.Errorf("an object of %v", keys)
	}
	for _, wrong := range []string{"x: stanchion x\n  key text\n", "x: stanchion x\n    key  text  deep\n", "x: stanchion x\n  *nothing\n"} {
		if _, err := schema.ReadDocuments(wrong, nil); err == nil {
			t.Errorf("is read: %q", wrong)
		}
	}
	if _, err := documents(t, "x: stanchion x\n  key  nonsense  of no type\n").Schema(1); err == nil {
		t.Error("a type that is none has a schema")
	}
}

// What the types stand for, by a validator: one document that is right, and changes of it that are not.
func TestDocumentsSchema(t *testing.T) {
	text, err := documents(t, told).Schema(3)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("mem:///x", doc); err != nil {
		t.Fatal(err)
	}
	s := c.MustCompile("mem:///x")
	holds := func(text string) bool {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return s.Validate(v) == nil
	}
	const right = `{"format": 3, "name": "x", "size_mm": null, "parts": [{"a": 1, "b_n": 2, "weight_kg": 3, "at": [null, 1.5]}], "like": null,
		"by_key": {"k": {"good": true, "count": 2}}, "any": [1, "x"]}`
	if !holds(right) {
		t.Fatal("what is right does not fit")
	}
	for _, c := range []struct {
		from, to string
		fits     bool
	}{
		{`"size_mm": null, `, ``, true}, {`"size_mm": null`, `"size_mm": 2.5`, true}, {`[{"a": 1, "b_n": 2, "weight_kg": 3, "at": [null, 1.5]}]`, `null`, true},
		{`"like": null`, `"like": {"good": false, "count": 0}`, true}, {`[1, "x"]`, `null`, true},
		{`"format": 3`, `"format": 2`, false}, {`"format": 3, `, ``, false}, {`"name": "x"`, `"name": null`, false}, {`"name"`, `"nam"`, false},
		{`"weight_kg": 3`, `"weight_kg": null`, false}, {`[null, 1.5]`, `null`, false}, {`[null, 1.5]`, `["x"]`, false}, {`"a": 1, `, ``, false},
		{`"count": 2`, `"count": 2.5`, false}, {`"good": true`, `"good": 1`, false}, {`"like": null`, `"like": 1`, false}, {`"by_key": {`, `"by_key": null, "x": {`, false},
	} {
		if !strings.Contains(right, c.from) {
			t.Fatal(c.from)
		}
		if holds(strings.Replace(right, c.from, c.to, 1)) != c.fits {
			t.Errorf("%s in the place of %s: fits %v", c.to, c.from, !c.fits)
		}
	}
	for _, want := range []string{`"unit": "mm"`, `"unit": "kg"`, `"unit": "N"`, `"description": "how large"`, "printed by stanchion one and stanchion two --more"} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("lacks %s", want)
		}
	}
}
