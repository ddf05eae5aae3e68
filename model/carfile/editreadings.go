package carfile

import (
	"bytes"
	"fmt"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/toml"
)

// AddReadings returns the edit that puts readings, and the faces and floors that they are the first to
// name, at the end of a car file, in the file's own units.
func AddReadings(text []byte, faces []model.Face, floors []model.Floor, readings []model.Reading) ([]Edit, error) {
	doc := editable(text)
	at := toml.Locate(string(doc))
	for _, key := range []string{"measured", "floor", "face"} {
		if _, list := at.From[key]; list {
			return nil, fmt.Errorf("%s is written as a list: write its entries as tables [[%s]] first", key, key)
		}
	}
	unit, digits := lengthUnit(doc)
	nl := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		nl = "\r\n"
	}
	var b strings.Builder
	if len(text) > 0 && text[len(text)-1] != '\n' {
		b.WriteString(nl)
	}
	line := func(key, value string) { fmt.Fprintf(&b, "%-7s = %s%s", key, value, nl) }
	angle := func(key string, n given.Number) {
		if a, ok := n.Get(); ok {
			line(key, toml.Decimal(a/plane.Deg, 3))
		}
	}
	length := func(key string, n given.Number) {
		if l, ok := n.Get(); ok {
			line(key, toml.Decimal(l/unit, digits-2))
		}
	}
	name := func(key, text string) {
		if text != "" {
			line(key, toml.Quote(text))
		}
	}
	table := func(key string) { b.WriteString(nl + "[[" + key + "]]" + nl) }
	for _, f := range faces {
		table("face")
		name("name", f.Name)
		angle("angle", given.Is(f.Angle))
		angle("reading", f.StdUnc)
	}
	for _, f := range floors {
		table("floor")
		name("name", f.Name)
		angle("angle", given.Is(f.Angle))
		angle("turned", f.Turned)
		angle("reading", f.ReadingStdUnc)
	}
	for _, r := range readings {
		table("measured")
		name("setting", r.Setting)
		name("side", r.Side)
		if r.Rebolted {
			line("rebolted", "true")
		}
		angle("angle", r.Angle)
		angle("turned", r.Turned)
		name("face", r.Face)
		name("floor", r.Floor)
		length("height", r.Height)
		length("leading", r.Leading)
		length("trailing", r.Trailing)
		angle("reading", r.ReadingStdUnc)
		length("tape", r.TapeStdUnc)
	}
	return []Edit{{len(text), len(text), b.String()}}, nil
}

// RemoveReading returns the edit that takes the table of a reading out of a car file, counted from 0,
// with the comments on its own lines. What stands above it and below it stays. was is the reading that
// is meant: where the file has another one there by now, nothing is taken out.
func RemoveReading(text []byte, index int, was model.Reading) ([]Edit, error) {
	doc := editable(text)
	at := toml.Locate(string(doc))
	path := fmt.Sprintf("measured[%d]", index)
	head, ok := at.Key[path]
	if _, inList := at.From[path]; !ok || inList {
		return nil, fmt.Errorf("reading %d is not a table [[measured]] of its own: take it out by hand", index+1)
	}
	values, err := decoded(doc)
	if err != nil {
		return nil, err
	}
	if rows, ok := values["measured"].([]map[string]any); !ok || index >= len(rows) || !same(rows[index], was) {
		return nil, fmt.Errorf("the file has another reading %d by now: look again", index+1)
	}
	from := lineStart(doc, head.Line)
	to := from
	for p, end := range at.To {
		if strings.HasPrefix(p, path+".") {
			to = max(to, end)
		}
	}
	if end := bytes.IndexByte(doc[to:], '\n'); end >= 0 {
		to += end + 1
	} else {
		to = len(doc)
	}
	// An empty line above goes with it, so that adding and taking back leave the file as it was.
	if before := bytes.TrimSuffix(bytes.TrimSuffix(doc[:from], []byte("\n")), []byte("\r")); from > 0 && bytes.HasSuffix(before, []byte("\n")) {
		from = len(before)
	}
	offset := len(text) - len(doc)
	return []Edit{{from + offset, to + offset, ""}}, nil
}

// same reports whether a table of the file is the reading that is meant.
func same(row map[string]any, was model.Reading) bool {
	setting, _ := row["setting"].(string)
	side, _ := row["side"].(string)
	if strings.TrimSpace(setting) != was.Setting || strings.TrimSpace(side) != was.Side {
		return false
	}
	number := func(key string) given.Number {
		switch x := row[key].(type) {
		case int64:
			return given.Is(float64(x))
		case float64:
			return given.Is(x)
		}
		return given.Number{}
	}
	angle := number("angle")
	return angle.Known() == was.Angle.Known() && (!angle.Known() || toml.Decimal(angle.Value(), 6) == toml.Decimal(was.Angle.Value()/plane.Deg, 6))
}
