package carfile

import (
	"bytes"
	"fmt"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/toml"
)

// SetOutline returns the edit that gives a part an outline in a sound car file, in
// the file's own units: in the place of the one that it has, or on a line of its own
// above its holes. The error says why it cannot be done.
func SetOutline(text []byte, part string, outline []plane.Point) (Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return Edit{}, err
	}
	offset := len(text) - len(doc)
	unit, digits := lengthUnit(doc)
	nl := "\n"
	if bytes.Contains(doc, []byte("\r\n")) {
		nl = "\r\n"
	}
	var b strings.Builder
	b.WriteString("[")
	for i, p := range outline {
		if i > 0 {
			b.WriteString(",")
			if i%6 == 0 {
				b.WriteString(nl + "           ")
			}
		}
		fmt.Fprintf(&b, " [%s, %s]", toml.Decimal(p.X/unit, digits), toml.Decimal(p.Z/unit, digits))
	}
	b.WriteString(" ]")
	at := toml.Locate(string(doc))
	path := fmt.Sprintf("part[%d].outline", index)
	if from, ok := at.From[path]; ok {
		return Edit{from + offset, at.To[path] + offset, b.String()}, nil
	}
	key, ok := at.Key[fmt.Sprintf("part[%d].holes", index)]
	if !ok {
		return Edit{}, fmt.Errorf("the holes of part %q are written as tables [[part.holes]]: add its outline by hand", part)
	}
	from := 0
	for range key.Line - 1 {
		from += bytes.IndexByte(doc[from:], '\n') + 1
	}
	return Edit{from + offset, from + offset, "outline = " + b.String() + nl}, nil
}

// PartsOf reads the parts of a car file that need not be sound yet, such as one whose
// part has no holes so far. The error is a Faults when it is not even TOML.
func PartsOf(name string, data []byte) ([]model.Part, error) {
	r := &reader{file: name, index: map[int][]int{}}
	if len(data) > MaxSize {
		return nil, fmt.Errorf("%s is larger than %d MiB", name, MaxSize>>20)
	}
	doc, err := toml.Text(data)
	if err != nil {
		return nil, err
	}
	text, values := r.syntax(doc)
	if values == nil || len(r.faults) > 0 {
		return nil, r.faults.sorted()
	}
	r.pos = toml.Locate(text)
	root := &table{r: r, values: values}
	if !r.format(root) {
		return nil, r.faults.sorted()
	}
	var c model.Car
	r.parts(root, &c)
	return c.Parts, nil
}
