// Package schema describes files in JSON Schema, draft 2020-12, so that editors complete and check their keys.
package schema

import (
	"encoding/json"
	"strings"

	"stanchion/model/carfile"
)

// Draft is what the schemas are written in.
const Draft = "https://json-schema.org/draft/2020-12/schema"

// node is a schema, or a part of one.
type node map[string]any

// CarFile describes the car file, from the keys that its reader takes. It is no stricter than the reader: what hangs on other keys, such
// as lengths in inches, is left to "stanchion check".
func CarFile() ([]byte, error) {
	meanings := carfile.Meanings()
	root := object("Car file of stanchion, format 1")
	at := map[string]node{"": root}
	for _, k := range carfile.Keys() {
		in := at[k.In()]
		n := value(&k)
		if text := describe(&k, meanings[strings.TrimSuffix(k.Path, "[]")], meanings[k.Path+"[]"]); text != "" {
			n["description"] = text
		}
		switch k.Kind {
		case carfile.Table:
			at[k.Path] = n
		case carfile.Tables:
			at[k.Path+"[]"] = n["items"].(node)
		}
		in["properties"].(node)[k.Name()] = n
		if k.Must {
			must, _ := in["required"].([]string)
			in["required"] = append(must, k.Name())
		}
	}
	root["properties"].(node)["format"] = node{"const": 1, "description": "of this file"}
	oneOrMore(root["properties"].(node), "panel")
	root["$schema"] = Draft
	text, err := json.MarshalIndent(root, "", "  ")
	return append(text, '\n'), err
}

// object is a table with no keys yet and none beside those that it gets.
func object(title string) node {
	n := node{"type": "object", "properties": node{}, "additionalProperties": false}
	if title != "" {
		n["title"] = title
	}
	return n
}

// oneOrMore lets a key be a single table where several are read.
func oneOrMore(properties node, key string) {
	n := properties[key].(node)
	properties[key] = node{"description": n["description"], "anyOf": []node{{"type": "array", "items": n["items"]}, n["items"].(node)}}
}

// value is what a key may have.
func value(k *carfile.Key) node {
	switch k.Kind {
	case carfile.Table:
		return object("")
	case carfile.Tables:
		return node{"type": "array", "items": object("")}
	case carfile.Flag:
		return node{"type": "boolean"}
	case carfile.Text:
		n := node{"type": "string"}
		if k.OneOf != nil {
			n["enum"] = k.OneOf
		}
		if k.Examples != nil {
			n["examples"] = k.Examples
		}
		return n
	case carfile.List:
		return list(k.Items, k.Places)
	}
	return number(k)
}

func number(k *carfile.Key) node {
	n := node{"type": "number"}
	if x, may, ok := k.Least(); ok {
		n[map[bool]string{true: "minimum", false: "exclusiveMinimum"}[may]] = x
	}
	if x, ok := k.Most(); ok {
		n["maximum"] = x
	}
	if k.Whole() {
		n["multipleOf"] = 1
	}
	return n
}

// list is a list of lists, as deep as there are kinds; places are two numbers.
func list(of []carfile.Kind, places bool) node {
	n := node{"type": "array"}
	if len(of) == 0 {
		return n
	}
	switch of[0] {
	case carfile.List:
		n["items"] = list(of[1:], places)
	case carfile.Text:
		n["items"] = node{"type": "string"}
	case carfile.Number:
		n["items"] = node{"type": "number"}
		if places {
			n["minItems"], n["maxItems"] = 2, 2
		}
	}
	return n
}

// describe says what a key is, with its unit where the words have none.
func describe(k *carfile.Key, texts ...string) string {
	text := ""
	for _, t := range texts {
		if text == "" {
			text = t
		}
	}
	unit := k.Unit
	switch unit {
	case "mm":
		unit = "in [units] length"
	case "kg":
		unit = "in [units] mass"
	case "km/h":
		unit = "in [units] speed"
	case "":
		return text
	default:
		if strings.HasPrefix(text, unit) {
			return text
		}
		unit = "in " + unit
	}
	if text == "" {
		return unit
	}
	return text + "; " + unit
}
