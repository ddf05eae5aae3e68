package schema_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"stanchion/model/carfile"
	"stanchion/model/schema"
)

// compiled returns the schema of the car file, as a validator of its own takes it.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	text, err := schema.CarFile()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("carfile.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("carfile.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func decoded(t testing.TB, text []byte) map[string]any {
	t.Helper()
	var v map[string]any
	if err := toml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return plain(v).(map[string]any)
}

// plain has lists of tables as lists of anything, as JSON has them.
func plain(v any) any {
	switch x := v.(type) {
	case map[string]any:
		for k := range x {
			x[k] = plain(x[k])
		}
	case []map[string]any:
		all := make([]any, len(x))
		for i := range x {
			all[i] = plain(x[i])
		}
		return all
	case []any:
		for i := range x {
			x[i] = plain(x[i])
		}
	case int64:
		return float64(x)
	}
	return v
}

// Every car file here that is read without fault is one by the schema.
func TestCarFilesAreRight(t *testing.T) {
	s := compiled(t)
	files := map[string][]byte{"start": carfile.Start()}
	for _, pattern := range []string{"../../testdata/cars/*.toml", "../carfile/demo/*.toml"} {
		paths, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			text, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			files[p] = text
		}
	}
	n := 0
	for name, text := range files {
		open := func(file string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(name), file)) }
		if _, err := carfile.Parse(name, text, open); err != nil {
			continue
		}
		n++
		if err := s.Validate(decoded(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if n < 5 {
		t.Errorf("%d files only", n)
	}
}

// A key of another name, a text in the place of a number and a key that is missing are refused by the schema where the reader refuses them.
func TestRefusedAlike(t *testing.T) {
	s := compiled(t)
	rapid.Check(t, func(r *rapid.T) {
		doc := decoded(t, carfile.Start())
		table, path := doc, ""
		for { // down to a table at random
			var below []string
			for k, v := range table {
				switch x := v.(type) {
				case map[string]any:
					below = append(below, k)
				case []any:
					if _, ok := x[0].(map[string]any); ok {
						below = append(below, k)
					}
				}
			}
			slices.Sort(below)
			if len(below) == 0 || path != "" && rapid.Bool().Draw(r, "here") {
				break
			}
			k := rapid.SampledFrom(below).Draw(r, "table")
			path += "/" + k
			switch x := table[k].(type) {
			case map[string]any:
				table = x
			case []any:
				table = x[rapid.IntRange(0, len(x)-1).Draw(r, "entry")].(map[string]any)
			}
		}
		var keys []string
		for k := range table {
			keys = append(keys, k)
		}
		if len(keys) == 0 {
			return
		}
		slices.Sort(keys)
		key := rapid.SampledFrom(keys).Draw(r, "key")
		switch rapid.IntRange(0, 2).Draw(r, "fault") {
		case 0:
			table[key+"_x"] = table[key]
		case 1:
			if _, text := table[key].(string); text {
				table[key] = 4.5
			} else {
				table[key] = "a text"
			}
		case 2:
			delete(table, key)
		}
		var text bytes.Buffer
		if err := toml.NewEncoder(&text).Encode(doc); err != nil {
			r.Skip(err)
		}
		_, read := carfile.Parse("f", text.Bytes(), os.ReadFile)
		valid := s.Validate(doc)
		switch {
		case valid != nil && read == nil:
			r.Errorf("the schema refuses what is read: %s %s: %v", path, key, valid)
		case valid == nil && read != nil && (strings.Contains(read.Error(), "unknown key") || strings.Contains(read.Error(), "it must be a number")):
			r.Errorf("the schema lets pass: %s %s: %v", path, key, read)
		}
	})
}
