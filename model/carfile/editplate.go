package carfile

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/model/toml"
)

// SetHoles returns the edit that gives a part other holes in a sound car file, all of them in the place of those that it has, with their comments.
// The error says why it cannot be done.
func SetHoles(text []byte, part string, hs []holes.Hole) (Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return Edit{}, err
	}
	at := toml.Locate(string(doc))
	path := fmt.Sprintf("part[%d].holes", index)
	from, listed := at.From[path]
	if !listed || doc[from] != '[' {
		return Edit{}, fmt.Errorf("the holes of part %q are written as tables [[part.holes]]: write holes = [ ] first", part)
	}
	nl := "\n"
	if bytes.Contains(doc, []byte("\r\n")) {
		nl = "\r\n"
	}
	var b strings.Builder
	b.WriteString("[" + nl)
	for _, l := range holeLines(doc, hs, nil) {
		b.WriteString("  " + l + "," + nl)
	}
	b.WriteString("]")
	offset := len(text) - len(doc)
	return Edit{from + offset, at.To[path] + offset, b.String()}, nil
}

// SetMinBolts returns the edit that gives a joint its fewest bolts: in the place of the number that it has, or on a line of its own below its name.
func SetMinBolts(text []byte, joint string, n int) (Edit, error) {
	doc := editable(text)
	values, err := decoded(doc)
	if err != nil {
		return Edit{}, err
	}
	offset := len(text) - len(doc)
	at := toml.Locate(string(doc))
	rows, _ := values["joint"].([]map[string]any)
	for i, row := range rows {
		if name, _ := row["name"].(string); strings.TrimSpace(name) != joint {
			continue
		}
		path := fmt.Sprintf("joint[%d].min_bolts", i)
		if from, ok := at.From[path]; ok {
			return Edit{from + offset, at.To[path] + offset, strconv.Itoa(n)}, nil
		}
		name := fmt.Sprintf("joint[%d].name", i)
		end, ok := at.To[name]
		if !ok {
			break
		}
		nl := "\n"
		if bytes.Contains(doc, []byte("\r\n")) {
			nl = "\r\n"
		}
		if line := bytes.IndexByte(doc[end:], '\n'); line >= 0 { // behind a comment on the name's line
			end += line + 1
			return Edit{end + offset, end + offset, "min_bolts = " + strconv.Itoa(n) + nl}, nil
		}
		return Edit{len(text), len(text), nl + "min_bolts = " + strconv.Itoa(n)}, nil
	}
	return Edit{}, fmt.Errorf("joint %q was not found where its fewest bolts can be written: add min_bolts = %d by hand", joint, n)
}
