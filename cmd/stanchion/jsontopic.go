package main

import (
	_ "embed"
	"fmt"
	"strings"

	"stanchion/model/figures"
	"stanchion/model/schema"
)

//go:embed topics/json.txt
var aboutJSON string

// figureGroups are the keys of JSON that come from the list of figures, by their names in the topic.
func figureGroups() map[string][]schema.Entry {
	means := func(f figures.Figure) string {
		if f.How == "" {
			return f.Name
		}
		return f.Name + ": " + f.How
	}
	var ofSetting, changes, swept []schema.Entry
	for _, f := range figures.Pick(figures.InMap...) {
		if f.Key == figures.StallMargin {
			ofSetting = append(ofSetting, schema.Entry{Key: "stalled", Type: "yes or no?", Means: "the wing is past maximum CL"})
		}
		ofSetting = append(ofSetting, schema.Entry{Key: f.Key, Type: "number?", Means: means(f)})
		if f.StdInMap {
			ofSetting = append(ofSetting, schema.Entry{Key: f.StdKey(), Type: "number?", Means: "standard uncertainty of the " + f.Name})
		}
	}
	for _, f := range figures.Pick(figures.InCompare...) {
		key, std := f.ChangeKeys()
		may := f.Key == figures.OnCar // of cars whose lift on the body is worked out
		changes = append(changes, schema.Entry{Key: key, Type: "number?", Means: "change of: " + means(f), May: may},
			schema.Entry{Key: std, Type: "number?", Means: "standard uncertainty of that change", May: may})
	}
	for _, f := range figures.Pick(figures.InSweep...) {
		swept = append(swept, schema.Entry{Key: f.Key, Type: "list of number?", Means: "at each speed, " + means(f)})
	}
	return map[string][]schema.Entry{"figures": ofSetting, "changes": changes, "over speed": swept}
}

// jsonText is the topic, with the figures in it.
func jsonText() string {
	groups := figureGroups()
	var b strings.Builder
	for line := range strings.Lines(aboutJSON) {
		group, ok := groups[strings.TrimPrefix(strings.TrimSpace(line), "*")]
		if !ok || !strings.HasPrefix(strings.TrimSpace(line), "*") {
			b.WriteString(line)
			continue
		}
		indent := line[:strings.Index(line, "*")]
		for _, e := range group {
			key := indent + e.Key
			if e.May {
				key += "?"
			}
			short, _, _ := strings.Cut(e.Means, ": ")
			if name, change := strings.CutPrefix(e.Means, "change of: "); change {
				name, _, _ = strings.Cut(name, ": ")
				short = "change of the " + name
			}
			fmt.Fprintf(&b, "%-21s  %-14s  %s\n", key, e.Type, short)
		}
	}
	return b.String()
}

// jsonDocuments are what commands print in JSON.
func jsonDocuments() (schema.Documents, error) {
	return schema.ReadDocuments(aboutJSON, figureGroups())
}

func jsonSchema() ([]byte, error) {
	all, err := jsonDocuments()
	if err != nil {
		return nil, err
	}
	return all.Schema(jsonFormat)
}

func notesSchema() ([]byte, error) {
	all, err := jsonDocuments()
	if err != nil {
		return nil, err
	}
	note, _ := all.Find("note")
	return schema.Notes(note, 1)
}
