package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/schema"
)

// printedSchema has the schema of JSON documents as a validator takes it, part by part.
var printedSchema = sync.OnceValues(func() (*jsonschema.Compiler, error) {
	text, err := jsonSchema()
	if err != nil {
		return nil, err
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	return c, c.AddResource("mem:///json", doc)
})

// documentOf returns the name of the document that a command line prints; "" for none.
func documentOf(args []string) string {
	all, err := jsonDocuments()
	if err != nil {
		panic(err)
	}
	best, longest := "", 0
	for _, d := range all {
		for _, c := range d.Commands {
			words := strings.Fields(c)[1:]
			fits := len(words) > longest
			for i, w := range words {
				if strings.HasPrefix(w, "-") {
					fits = fits && slices.ContainsFunc(args, func(a string) bool { return a == w || strings.HasPrefix(a, w+"=") })
				} else {
					fits = fits && i < len(args) && args[i] == w
				}
			}
			if fits {
				best, longest = d.Name, len(words)
			}
		}
	}
	return best
}

// fitsSchema says what is wrong with what a command printed, by the definition of its document.
func fitsSchema(args []string, printed []byte) error {
	name := documentOf(args)
	if name == "" {
		return fmt.Errorf("%q prints JSON and is not in \"help json\"", args)
	}
	c, err := printedSchema()
	if err != nil {
		return err
	}
	s, err := c.Compile("mem:///json#/$defs/" + name)
	if err != nil {
		return err
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(printed))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

// asksJSON reports whether a command line asks for JSON.
func asksJSON(args []string) bool {
	i := slices.Index(args, "--format")
	return slices.Contains(args, "--format=json") || i >= 0 && i+1 < len(args) && args[i+1] == "json"
}

// checkPrinted holds what a script's command printed against the schema.
func checkPrinted(args []string, printed []byte) error {
	if !asksJSON(args) || len(printed) == 0 {
		return nil
	}
	return fitsSchema(args, printed)
}

// What every command prints of every demo car and of cars of the tests is as the schema says: no key that it does not know, none that is
// missing, and each of its type.
func TestPrintedJSON(t *testing.T) {
	secluded(t)
	cars := []string{"../../testdata/cars/hatch.toml"}
	for _, d := range carfile.Demos() {
		cars = append(cars, "demo:"+d)
	}
	seen := map[string]bool{}
	for _, car := range cars {
		table, err := tableOf(car, "")
		if err != nil {
			t.Fatal(err)
		}
		a, b := table.Rows[0].ID, table.Rows[len(table.Rows)-1].ID
		upright := table.Car.Parts[len(table.Car.Parts)-2].Name
		last := len(table.Car.Joints) - 1
		holes, hole := []string{}, table.Car.Parts[last].Holes[0]
		for _, p := range table.Car.Bolts(table.Rows[0].Setting)[last][:2] {
			holes = append(holes, p[0]+":"+p[1])
		}
		for _, args := range [][]string{
			{"map", car}, {"show", car, a}, {"pick", car, "--from", a}, {"pick", car, "--downforce-min", "9kN"}, {"compare", car, a, b, "--gurney", "4mm"},
			{"sweep", car, a, b}, {"front", car, a, "--share", "44"}, {"track", car, a}, {"claim", car, "--downforce", "1200N", "--at", "200km/h"},
			{"explain", "downforce", car, b}, {"parts", car, a}, {"strength", car, a}, {"clear", car}, {"cutting", car, "--price", "5"}, {"check", car},
			{"hole", "try", car, "--part", upright, "--at", "20,300"}, {"datum", car}, {"datum", car, "--tape"},
			{"why", car, holes[0], holes[1]}, {"why", car, upright + "." + table.Car.Parts[last].Holes[0].ID, upright + "." + table.Car.Parts[last].Holes[1].ID},
			{"hole", "built", car, "--part", upright, "--side", "left", "--hole", fmt.Sprintf("%s %.3fmm,%.3fmm", hole.ID, hole.X+0.2, hole.Z)},
		} {
			args = append(args, "--format", "json")
			var printed, said bytes.Buffer
			code := run(args, &printed, &said)
			if code == 2 && !strings.Contains(said.String(), "a table of the whole wing") {
				t.Errorf("%q: %s", args, &said)
			}
			if printed.Len() == 0 {
				continue
			}
			seen[documentOf(args)] = true
			if err := fitsSchema(args, printed.Bytes()); err != nil {
				t.Errorf("%q: %v", args, err)
			}
		}
	}
	for _, name := range []string{"map", "show", "pick", "compare", "sweep", "front", "track", "claim", "explain", "parts", "strength", "clear", "cutting", "check",
		"hole-try", "datum-tape", "why", "hole-built"} {
		if !seen[name] {
			t.Errorf("no car has a document %q", name)
		}
	}
}

// The schema notices what it is there for.
func TestSchemaNoticesWrongJSON(t *testing.T) {
	args := []string{"parts", "demo"}
	sound := `{"format": 1, "uprights": 2, "items": [{"count": 2, "what": "bolt", "size": "M8", "grade": "8.8", "length_mm": null}]}`
	if err := fitsSchema(args, []byte(sound)); err != nil {
		t.Fatal(err)
	}
	for _, change := range [][2]string{{`"uprights"`, `"upright"`}, {`"format": 1, `, ``}, {`2, "items"`, `2.5, "items"`}, {`null`, `"12"`}, {`"size": "M8", `, ``},
		{`"what"`, `"new": 1, "what"`}, {`"grade": "8.8"`, `"grade": null`}} {
		if err := fitsSchema(args, []byte(strings.Replace(sound, change[0], change[1], 1))); err == nil {
			t.Errorf("%q in the place of %q fits the schema", change[1], change[0])
		}
	}
}

// Every command that prints JSON has its document, every key of one stands in the program, and every key of the schema is described.
func TestDocumentsAreAll(t *testing.T) {
	all, err := jsonDocuments()
	if err != nil {
		t.Fatal(err)
	}
	var look func(c *cobra.Command)
	look = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			look(sub)
		}
		if f := c.Flags().Lookup("format"); f != nil && strings.Contains(f.Usage, "json") {
			if words := strings.Fields(c.CommandPath())[1:]; documentOf(words) == "" {
				t.Errorf("\"help json\" lacks %q", c.CommandPath())
			}
		}
	}
	look(newRoot())
	var program strings.Builder
	for _, pattern := range []string{"*.go", "../../model/figures/*.go", "../../model/logbook/*.go"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			program.Write(text)
		}
	}
	stands := regexp.MustCompile(`["` + "`" + `:][a-z0-9_]+["` + "`" + `,]|"[a-z0-9_]+"`)
	known := map[string]bool{}
	for _, word := range stands.FindAllString(program.String(), -1) {
		known[strings.Trim(word, "\"`:,")] = true
	}
	var hold func(where string, list []schema.Entry)
	hold = func(where string, list []schema.Entry) {
		keys := map[string]bool{}
		for _, e := range list {
			if keys[e.Key] {
				t.Errorf("%s: %s twice", where, e.Key)
			}
			keys[e.Key] = true
			if e.Means == "" {
				t.Errorf("%s: %s is not described", where, e.Key)
			}
			bare := strings.Replace(strings.Replace(e.Key, "_band", "", 1), "front_share_pp", "front_share_pct", 1)
			if !known[e.Key] && !known[bare] {
				t.Errorf("%s: no command prints %q", where, e.Key)
			}
			hold(where+"."+e.Key, e.Of)
		}
	}
	for _, d := range all {
		hold(d.Name, d.Entries)
	}
	for line := range strings.Lines(jsonText()) {
		if len([]rune(line)) > 100 {
			t.Errorf("wide: %s", line)
		}
		if strings.Contains(line, "*figures") || strings.Contains(line, "*changes") || strings.Contains(line, "*over") {
			t.Errorf("not spelt out: %s", line)
		}
	}
}

// The keys of a note are those that notes have in JSON and in the file, and the notebooks of the tests are sound by its schema.
func TestNotesSchema(t *testing.T) {
	all, err := jsonDocuments()
	if err != nil {
		t.Fatal(err)
	}
	note, _ := all.Find("note")
	var told, printed []string
	for _, e := range note.Entries {
		told = append(told, e.Key)
	}
	for _, c := range noteColumns() {
		printed = append(printed, c.name)
	}
	slices.Sort(told)
	slices.Sort(printed)
	if !slices.Equal(told, printed) {
		t.Errorf("the topic has %v, JSON %v", told, printed)
	}
	text, err := notesSchema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("notes.json", doc); err != nil {
		t.Fatal(err)
	}
	s := c.MustCompile("notes.json")
	sound := func(text string) error {
		var v map[string]any
		if err := toml.Unmarshal([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		inJSON, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		asJSON, err := jsonschema.UnmarshalJSON(bytes.NewReader(inJSON))
		if err != nil {
			t.Fatal(err)
		}
		return s.Validate(asJSON)
	}
	book, err := os.ReadFile("../../testdata/cars/hatch.notes.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := sound(string(book)); err != nil {
		t.Error(err)
	}
	for _, wrong := range []string{"notes_format = 2", "[[note]]\nid = \"n1\"", "notes_format = 1\n[[note]]\nid = \"n1\"", "notes_format = 1\n[[note]]\nid = \"n1\"\nat = 2026-05-31T14:05:00Z\nlap_s = \"fast\"",
		"notes_format = 1\n[[note]]\nid = \"n1\"\nat = 2026-05-31T14:05:00Z\ngrip_slow = 4"} {
		if sound(wrong) == nil {
			t.Errorf("is sound by the schema: %s", wrong)
		}
	}
}
