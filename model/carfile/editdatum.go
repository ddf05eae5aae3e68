package carfile

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/toml"
)

// SetFixed returns the edits that give the fixed part a new place, in the file's
// own units; NaN leaves a value as it is.
func SetFixed(text []byte, fixed plane.Pose) ([]Edit, error) {
	doc := editable(text)
	at := toml.Locate(string(doc))
	unit, digits := lengthUnit(doc)
	digits -= 2 // a hundredth of a mm, or finer
	var edits []Edit
	for i := range maxParts {
		for _, v := range []struct {
			key   string
			value float64
		}{{"x", fixed.X / unit}, {"z", fixed.Z / unit}, {"angle", fixed.Turn / plane.Deg}} {
			path := fmt.Sprintf("part[%d].fixed.%s", i, v.key)
			from, ok := at.From[path]
			if !ok || math.IsNaN(v.value) {
				continue
			}
			offset := len(text) - len(doc)
			edits = append(edits, Edit{from + offset, at.To[path] + offset, toml.Decimal(v.value, digits)})
		}
	}
	if len(edits) == 0 {
		return nil, fmt.Errorf("the fixed part's place was not found in the file")
	}
	for i := range edits { // in the order of the text
		for k := i; k > 0 && edits[k].From < edits[k-1].From; k-- {
			edits[k], edits[k-1] = edits[k-1], edits[k]
		}
	}
	return edits, nil
}

// before takes what the fixed part's angle was before readings were put into it.
func (r *reader) before(root *table, c *model.Car) {
	t := root.child("datum", "datum")
	if t == nil {
		return
	}
	c.Before = model.AngleBefore{Turn: t.maybe("before", degrees, between(-180, 180)), StdUnc: t.number("before_reading", degrees, between(0, 10)),
		Written: t.number("angle", degrees, between(-180, 180)), Assumed: t.flag("before_assumed", false)}
	if !t.has("before") {
		t.missing("before", "give a number in °, or remove the table [datum]")
	}
	t.close()
}

// SetDatum returns the edits that put a corrected car's place of the fixed part into its file, and where its angle was
// corrected how well that is known now, [uncertainty] angle_reading, and what it was before, [datum]; the line that
// called it assumed goes. All else stays, comments included. The error says why it cannot be done.
func SetDatum(text []byte, car *model.Car) ([]Edit, error) {
	edits, err := SetFixed(text, car.Fixed)
	before, corrected := car.Before.Turn.Get()
	if err != nil || !corrected {
		return edits, err
	}
	doc := editable(text)
	at, shift := toml.Locate(string(doc)), len(text)-len(doc)
	nl := "\n"
	if bytes.Contains(doc, []byte("\r\n")) {
		nl = "\r\n"
	}
	_, digits := lengthUnit(doc)
	type row struct{ key, value, comment string }
	tables := []struct {
		name, comment string
		rows          []row
	}{
		{"uncertainty", "", []row{{"angle_reading", toml.Decimal(angleReading(car.Uncertainty.AngleReading), 3), "°, of the fixed part's angle, readings with the wing on included"}}},
		{"datum", "by stanchion datum --write: readings are worked out from here, so that none counts twice", []row{
			{"angle", toml.Decimal(car.Fixed.Turn/plane.Deg, digits-2), "°, of the fixed part with the readings; another one there was measured anew"},
			{"before", toml.Decimal(before/plane.Deg, 6), "°, before any of them"},
			{"before_reading", toml.Decimal(car.Before.StdUnc/plane.Deg, 4), "°, how well that was known"},
		}},
	}
	var end bytes.Buffer
	if car.Before.Assumed || at.From["datum.before_assumed"] > 0 {
		tables[1].rows = append(tables[1].rows, row{"before_assumed", strconv.FormatBool(car.Before.Assumed), "whether that was never measured, and so does not count"})
	}
	if !car.AngleAssumed() {
		out, err := takeOutAngle(doc, at)
		if err != nil {
			return nil, err
		}
		for _, e := range out {
			edits = append(edits, Edit{e.From + shift, e.To + shift, ""})
		}
	}
	for _, t := range tables {
		var add bytes.Buffer
		for _, r := range t.rows {
			path := t.name + "." + r.key
			if from, ok := at.From[path]; ok {
				edits = append(edits, Edit{from + shift, at.To[path] + shift, r.value})
				continue
			}
			fmt.Fprintf(&add, "%-14s = %-6s # %s%s", r.key, r.value, r.comment, nl)
		}
		header, there := at.Key[t.name]
		switch {
		case add.Len() == 0:
		case !there && has(at, t.name):
			return nil, errors.New(t.name + " is written as dotted keys: write it as a table [" + t.name + "] first")
		case !there:
			fmt.Fprintf(&end, "%s[%s]", nl, t.name)
			if t.comment != "" {
				end.WriteString(" # " + t.comment)
			}
			end.WriteString(nl)
			end.Write(add.Bytes())
		default:
			from := lineStart(doc, header.Line)
			if !bytes.HasPrefix(bytes.TrimSpace(doc[from:]), []byte("[")) {
				return nil, errors.New(t.name + " is written on one line: write it as a table [" + t.name + "] first")
			}
			next, lead := len(doc), nl
			if n := bytes.IndexByte(doc[from:], '\n'); n >= 0 {
				next, lead = from+n+1, ""
			}
			edits = append(edits, Edit{next + shift, next + shift, lead + add.String()})
		}
	}
	if end.Len() > 0 {
		lead := ""
		if len(doc) > 0 && doc[len(doc)-1] != '\n' {
			lead = nl
		}
		edits = append(edits, Edit{len(text), len(text), lead + end.String()})
	}
	slices.SortStableFunc(edits, func(a, b Edit) int { return cmp.Compare(a.From, b.From) })
	return edits, nil
}

// angleReading is an uncertainty as it is written, °.
func angleReading(rad float64) float64 { return math.Min(rad/plane.Deg, 10) }

// has reports whether a table has keys.
func has(at toml.Positions, table string) bool {
	for path := range at.From {
		if len(path) > len(table) && path[:len(table)+1] == table+"." {
			return true
		}
	}
	return false
}
