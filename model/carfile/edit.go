package carfile

import (
	"bytes"
	"fmt"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Edit is one change of a car file's text: what stands between two byte offsets
// is replaced.
type Edit struct {
	From, To int
	Text     string
}

// Apply returns the text with the edits, which are in order and do not overlap;
// all other bytes stay what they are.
func Apply(text []byte, edits []Edit) []byte {
	var b bytes.Buffer
	at := 0
	for _, e := range edits {
		b.Write(text[at:e.From])
		b.WriteString(e.Text)
		at = e.To
	}
	b.Write(text[at:])
	return b.Bytes()
}

// AddHoles returns the edit that puts holes at the end of a part's list in a
// sound car file, in the file's own units. Nothing else changes, comments and
// line ends included. The error says why it cannot be done.
func AddHoles(text []byte, part string, hs []holes.Hole) (Edit, error) {
	return AddHolesAndSlots(text, part, hs, nil)
}

// AddHolesAndSlots is AddHoles for slots too.
func AddHolesAndSlots(text []byte, part string, hs []holes.Hole, slots []holes.Slot) (Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return Edit{}, err
	}
	path := fmt.Sprintf("part[%d].holes", index)
	at := toml.Locate(string(doc))
	from, listed := at.From[path]
	if !listed {
		return Edit{}, fmt.Errorf("the holes of part %q are written as tables [[part.holes]]: add these by hand: %s", part,
			strings.Join(holeLines(doc, hs, slots), ", "))
	}
	if doc[from] != '[' {
		return Edit{}, fmt.Errorf("the holes of part %q are no list; write holes = [ ] first", part)
	}
	to := at.To[path]
	last := from + 1 // behind the bracket
	empty := true
	for n := 0; ; n++ {
		end, ok := at.To[fmt.Sprintf("%s[%d]", path, n)]
		if !ok {
			break
		}
		last, empty = end, false
	}
	nl, lead := "\n", "  "
	if bytes.Contains(doc, []byte("\r\n")) {
		nl = "\r\n"
	}
	comma := bytes.IndexByte(stripComments(doc[last:to]), ',')
	insert := last
	if !empty && comma >= 0 {
		insert = last + comma + 1
	}
	// What stands behind the last hole on its line, such as a comment, stays there.
	end := insert
	if line := bytes.IndexByte(stripComments(doc[insert:to]), '\n'); line >= 0 &&
		len(bytes.TrimSpace(stripComments(doc[insert:insert+line]))) == 0 {
		end = insert + line
		if end > insert && doc[end-1] == '\r' {
			end--
		}
	}
	var b strings.Builder
	if !empty && comma < 0 {
		b.WriteString(",")
	}
	b.Write(doc[insert:end])
	lines := holeLines(doc, hs, slots)
	for i, l := range lines {
		b.WriteString(nl + lead + l)
		if i < len(lines)-1 || comma >= 0 {
			b.WriteString(",")
		}
	}
	offset := len(text) - len(doc)
	return Edit{insert + offset, end + offset, b.String()}, nil
}

// editable is the text behind a byte-order mark.
func editable(text []byte) []byte { return bytes.TrimPrefix(text, []byte("\uFEFF")) }

// stripComments blanks comments, so that a comma in one is not taken for one
// between values.
func stripComments(text []byte) []byte {
	out := bytes.Clone(text)
	comment := false
	for i, c := range out {
		switch {
		case c == '\n':
			comment = false
		case c == '#':
			comment = true
		}
		if comment {
			out[i] = ' '
		}
	}
	return out
}

// partIndex finds a part by name in the order of the file.
func partIndex(doc []byte, part string) (int, error) {
	values, err := decoded(doc)
	if err != nil {
		return 0, err
	}
	if rows, ok := values["part"].([]map[string]any); ok {
		for i, row := range rows {
			if name, _ := row["name"].(string); strings.TrimSpace(name) == part {
				return i, nil
			}
		}
	}
	return 0, fmt.Errorf("the file has no part %q", part)
}

// lengthUnit returns what a car file's lengths are in, mm, and how many digits
// behind the point keep them to a thousandth of a mm.
func lengthUnit(doc []byte) (unit float64, digits int) {
	if values, err := decoded(doc); err == nil {
		if u, ok := values["units"].(map[string]any); ok && u["length"] == "in" {
			return units.Inch, 5
		}
	}
	return 1, 4
}

// holeLines spells holes and slots as the file would have them.
func holeLines(doc []byte, hs []holes.Hole, slots []holes.Slot) []string {
	unit, digits := lengthUnit(doc)
	length := func(mm float64) string { return toml.Decimal(mm/unit, digits) }
	var lines []string
	line := func(h holes.Hole, end string) {
		l := fmt.Sprintf("{ id = %s, x = %s, z = %s, d = %s%s", toml.Quote(h.ID), length(h.X), length(h.Z), length(h.D), end)
		if h.Joint != "" {
			l += ", joint = " + toml.Quote(h.Joint)
		}
		lines = append(lines, l+" }")
	}
	for _, h := range hs {
		line(h, "")
	}
	for _, s := range slots {
		if s.Turn != 0 {
			line(s.Hole, fmt.Sprintf(", arc = { x = %s, z = %s, turn = %s }", length(s.Centre.X), length(s.Centre.Z),
				toml.Decimal(s.Turn/plane.Deg, 5)))
		} else {
			line(s.Hole, fmt.Sprintf(", to = { x = %s, z = %s }", length(s.To.X), length(s.To.Z)))
		}
	}
	return lines
}
