package schema

import (
	"encoding/json"
	"strings"
)

// Notes describes the notebook's file, whose notes have the keys that notes have in JSON, none of them null. Keys that are not known are
// kept by whoever reads the file, and are no fault.
func Notes(note Document, format int) ([]byte, error) {
	of := object("")
	delete(of, "additionalProperties")
	for _, e := range note.Entries {
		kind, _ := strings.CutSuffix(e.Type, "?")
		n, err := Documents{}.typed(kind, nil)
		if err != nil {
			return nil, err
		}
		n["description"] = e.Means
		if unit := unitOf(e.Key); unit != "" {
			n["unit"] = unit
		}
		switch {
		case e.Key == "at":
			n["format"] = "date-time"
		case kind == "whole number": // what was felt
			n["minimum"], n["maximum"] = -3, 3
		}
		of["properties"].(node)[e.Key] = n
	}
	of["required"] = []string{"id", "at"}
	root := object("Notebook of stanchion, format 1")
	root["$schema"] = Draft
	root["required"] = []string{"notes_format"}
	root["properties"] = node{
		"notes_format": node{"const": format, "description": "of this file"},
		"note":         node{"type": "array", "items": of, "description": "one table for each note, ended by its closing line with a checksum"},
	}
	text, err := json.MarshalIndent(root, "", "  ")
	return append(text, '\n'), err
}
