package schema

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
)

// Entry is a key of a JSON document.
type Entry struct {
	Key   string
	Type  string // as the text spells it
	Means string
	May   bool    // it may be left out
	Of    []Entry // what an object of the type holds
}

// Document is an object that stands in JSON: all that a command prints, or what stands in several of them.
type Document struct {
	Name     string   // in $defs
	Commands []string // that print it; nil where it is part of others
	Entries  []Entry
}

// Documents are objects as a text tells them, in its order.
type Documents []Document

var (
	documentLine = regexp.MustCompile(`^([a-z-]+): (stanchion .*)$`)
	objectLine   = regexp.MustCompile(`^\(([a-z ]+)\)$`)
	entryLine    = regexp.MustCompile(`^( +)(\S+?)(\??)  +(\S.*?)  +(\S.*)$`)
	groupLine    = regexp.MustCompile(`^( +)\*(.+)$`)
)

// ReadDocuments reads the text of "help json". A line "NAME: stanchion COMMAND" begins a command's document and "(NAME)" an object of
// several; below it each line has a key, its type and what it means, and further in what an object holds. "*NAME" stands for all keys of a
// group or of another object.
func ReadDocuments(text string, groups map[string][]Entry) (Documents, error) {
	var all Documents
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); {
		doc := Document{}
		if m := documentLine.FindStringSubmatch(lines[i]); m != nil {
			doc.Name, doc.Commands = m[1], strings.Split(m[2], ", ")
		} else if m := objectLine.FindStringSubmatch(lines[i]); m != nil {
			doc.Name = m[1]
		}
		i++
		if doc.Name == "" {
			continue
		}
		var err error
		if doc.Entries, i, err = entries(lines, i, 2, groups); err != nil {
			return nil, err
		}
		all = append(all, doc)
	}
	for i := range all {
		grown, err := all.spread(all[i].Entries)
		if err != nil {
			return nil, err
		}
		all[i].Entries = grown
	}
	return all, nil
}

// entries reads lines that are so far in, from line i on, and returns the first line that is not.
func entries(lines []string, i, indent int, groups map[string][]Entry) (all []Entry, next int, err error) {
	for i < len(lines) {
		group := groupLine.FindStringSubmatch(lines[i])
		m := entryLine.FindStringSubmatch(lines[i])
		if group != nil {
			m = group
		}
		if m == nil && strings.HasPrefix(lines[i], " ") {
			return nil, i, fmt.Errorf("line %d: %q is no key with its type and meaning", i+1, lines[i])
		}
		if m == nil || len(m[1]) < indent {
			return all, i, nil
		}
		if len(m[1]) > indent {
			if len(all) == 0 {
				return nil, i, fmt.Errorf("line %d: %q is part of no object", i+1, lines[i])
			}
			if all[len(all)-1].Of, i, err = entries(lines, i, len(m[1]), groups); err != nil {
				return nil, i, err
			}
			continue
		}
		i++
		if group == nil {
			all = append(all, Entry{Key: m[2], May: m[3] != "", Type: m[4], Means: m[5]})
		} else if of, ok := groups[group[2]]; ok {
			all = append(all, of...)
		} else {
			all = append(all, Entry{Key: "*" + group[2]})
		}
	}
	return all, i, nil
}

// spread puts the keys of objects in the place of their names.
func (all Documents) spread(list []Entry) (grown []Entry, err error) {
	for _, e := range list {
		if name, ok := strings.CutPrefix(e.Key, "*"); ok {
			of, ok := all.Find(name)
			if !ok {
				return nil, fmt.Errorf("there is no object %q", name)
			}
			grown = append(grown, of.Entries...)
			continue
		}
		if e.Of, err = all.spread(e.Of); err != nil {
			return nil, err
		}
		grown = append(grown, e)
	}
	return grown, nil
}

// Find returns the document with a name.
func (all Documents) Find(name string) (Document, bool) {
	for _, d := range all {
		if d.Name == name {
			return d, true
		}
	}
	return Document{}, false
}

// Schema is the JSON Schema of the documents: one that any of them fits, each with its definition. Formats are of the given number.
func (all Documents) Schema(format int) ([]byte, error) {
	defs, of := node{}, []node{}
	for _, d := range all {
		list := d.Entries
		if d.Commands != nil {
			of = append(of, reference(d.Name))
		}
		n, err := all.object(list)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.Name, err)
		}
		if d.Commands != nil {
			n["description"] = "printed by " + strings.Join(d.Commands, " and ") + ", --format json"
			n["properties"].(node)["format"] = node{"const": format, "description": "number of the output's format"}
			n["required"] = append([]string{"format"}, n["required"].([]string)...)
		}
		defs[defName(d.Name)] = n
	}
	root := node{"$schema": Draft, "title": fmt.Sprintf("What commands of stanchion print with --format json, format %d", format), "$defs": defs, "anyOf": of}
	text, err := json.MarshalIndent(root, "", "  ")
	return append(text, '\n'), err
}

func defName(name string) string { return strings.ReplaceAll(name, " ", "-") }

func reference(name string) node { return node{"$ref": "#/$defs/" + defName(name)} }

// object is the schema of an object with these keys and no others.
func (all Documents) object(list []Entry) (node, error) {
	n, must := object(""), []string{}
	for _, e := range list {
		v, err := all.typed(e.Type, e.Of)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Key, err)
		}
		v["description"] = e.Means
		if unit := unitOf(e.Key); unit != "" {
			v["unit"] = unit
		}
		n["properties"].(node)[e.Key] = v
		if !e.May {
			must = append(must, e.Key)
		}
	}
	n["required"] = must
	return n, nil
}

// typed is the schema of a type.
func (all Documents) typed(kind string, of []Entry) (node, error) {
	for _, several := range []struct{ word, kind, under string }{{"list", "array", "items"}, {"map", "object", "additionalProperties"}} {
		for word, may := range map[string]bool{several.word + " of ": false, several.word + "? of ": true} {
			inner, ok := strings.CutPrefix(kind, word)
			if !ok {
				continue
			}
			items, err := all.typed(inner, of)
			return node{"type": orNull(several.kind, may), several.under: items}, err
		}
	}
	name, may := strings.CutSuffix(kind, "?")
	simple := map[string]string{"text": "string", "number": "number", "whole number": "integer", "yes or no": "boolean"}
	switch {
	case name == "anything":
		return node{}, nil
	case simple[name] != "":
		return node{"type": orNull(simple[name], may)}, nil
	case name == "object":
		n, err := all.object(of)
		if err == nil {
			n["type"] = orNull("object", may)
		}
		return n, err
	}
	if _, ok := all.Find(name); !ok {
		return nil, fmt.Errorf("%q is no type", kind)
	}
	if may {
		return node{"anyOf": []node{reference(name), {"type": "null"}}}, nil
	}
	return reference(name), nil
}

func orNull(kind string, may bool) any {
	if may {
		return []string{kind, "null"}
	}
	return kind
}

// unitOf is the unit that a key ends in; "" for none.
func unitOf(key string) string {
	for _, u := range []struct{ end, unit string }{
		{"_kg_m3", "kg/m³"}, {"_m_s", "m/s"}, {"_mm2", "mm²"}, {"_m2", "m²"}, {"_mm", "mm"}, {"_deg", "°"}, {"_nm", "N·m"}, {"_n", "N"}, {"_pct", "%"},
		{"_pp", "percentage points"}, {"_hz", "Hz"}, {"_kg", "kg"}, {"_mpa", "MPa"}, {"_hpa", "hPa"}, {"_bar", "bar"}, {"_kw", "kW"}, {"_w", "W"},
		{"_s", "s"}, {"_c", "°C"},
	} {
		if strings.HasSuffix(key, u.end) {
			return u.unit
		}
	}
	return ""
}
