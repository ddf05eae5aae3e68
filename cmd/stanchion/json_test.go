package main

import (
	"bytes"
	"encoding/json"
	"testing"

	"pgregory.net/rapid"
)

// A document whose list is streamed is, byte for byte, the one that is encoded at once, and what acts on a terminal is escaped in it.
func TestStreamedAsAtOnce(t *testing.T) {
	type document struct {
		Format int      `json:"format"`
		Name   string   `json:"name"`
		List   []object `json:"list"`
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"\x1b[31m", "\u202e", "<&>", "\U000E0041"}))
		doc := document{1, text.Draw(t, "name"), []object{}}
		var all []object
		for range rapid.IntRange(0, 4).Draw(t, "n") {
			all = append(all, object{{"id", text.Draw(t, "id")}, {"list", []string{text.Draw(t, "a")}}, {"none", (*float64)(nil)}})
		}
		var streamed, whole bytes.Buffer
		if err := streamJSON(&streamed, doc, len(all), func(i int) any { return all[i] }); err != nil {
			t.Fatal(err)
		}
		if len(all) > 0 {
			doc.List = all
		}
		if err := writeJSON(&whole, doc); err != nil {
			t.Fatal(err)
		}
		if streamed.String() != whole.String() {
			t.Fatalf("streamed\n%s\nat once\n%s", &streamed, &whole)
		}
		if !json.Valid(streamed.Bytes()) || bytes.ContainsAny(streamed.Bytes(), "\x1b\u202e\U000E0041") {
			t.Fatalf("not sound, or not safe for a terminal:\n%s", &streamed)
		}
	})
}
