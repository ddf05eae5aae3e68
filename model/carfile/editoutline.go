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
	return setShape(text, part, "outline", func(k shapeSpeller) string { return k.polygon(outline, "           ") })
}

// SetCutouts is SetOutline for a part's cut-outs: all of them, in the place of those that it has.
func SetCutouts(text []byte, part string, cutouts [][]plane.Point) (Edit, error) {
	return setShape(text, part, "cutouts", func(k shapeSpeller) string {
		if len(cutouts) == 0 {
			return "[]"
		}
		var b strings.Builder
		b.WriteString("[")
		for i, c := range cutouts {
			if i > 0 {
				b.WriteString("," + k.nl + "           ")
			}
			b.WriteString(" " + k.polygon(c, "              "))
		}
		b.WriteString(" ]")
		return b.String()
	})
}

// setShape returns the edit that gives a part a key whose value is spelt as the file spells
// lengths and ends lines.
func setShape(text []byte, part, key string, value func(shapeSpeller) string) (Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return Edit{}, err
	}
	offset := len(text) - len(doc)
	k := shapeSpeller{nl: "\n"}
	k.unit, k.digits = lengthUnit(doc)
	if bytes.Contains(doc, []byte("\r\n")) {
		k.nl = "\r\n"
	}
	at := toml.Locate(string(doc))
	path := fmt.Sprintf("part[%d].%s", index, key)
	if from, ok := at.From[path]; ok {
		return Edit{from + offset, at.To[path] + offset, value(k)}, nil
	}
	holes, ok := at.Key[fmt.Sprintf("part[%d].holes", index)]
	if !ok {
		return Edit{}, fmt.Errorf("the holes of part %q are written as tables [[part.holes]]: add its %s by hand", part, key)
	}
	from := 0
	for range holes.Line - 1 {
		from += bytes.IndexByte(doc[from:], '\n') + 1
	}
	return Edit{from + offset, from + offset, key + " = " + value(k) + k.nl}, nil
}

// shapeSpeller spells corners as a car file has them.
type shapeSpeller struct {
	unit   float64 // mm
	digits int
	nl     string
}

// polygon spells a list of corners, six on a line; those after the first begin with an indent.
func (k shapeSpeller) polygon(corners []plane.Point, indent string) string {
	var b strings.Builder
	b.WriteString("[")
	for i, p := range corners {
		if i > 0 {
			b.WriteString(",")
			if i%6 == 0 {
				b.WriteString(k.nl + indent)
			}
		}
		fmt.Fprintf(&b, " [%s, %s]", toml.Decimal(p.X/k.unit, k.digits), toml.Decimal(p.Z/k.unit, k.digits))
	}
	b.WriteString(" ]")
	return b.String()
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
