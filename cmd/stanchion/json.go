package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"unicode/utf16"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// field is one entry of a setting in JSON, and one column in CSV.
type field struct {
	key   string
	value any
}

// settingJSON is one setting as every command prints it: its bolts, the figures of
// figures.InMap with their uncertainties, and its limits. A figure that cannot be given is
// null.
type settingJSON = object

// object is a JSON object with its fields in order.
type object []field

// MarshalJSON writes the fields as an object, in their order.
func (s object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	for i, f := range s {
		b.WriteByte("{,"[min(i, 1)])
		if err := e.Encode(f.key); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := e.Encode(f.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func setting(t *model.Table, r *model.Row) settingJSON {
	budget := t.Budget(r)
	joints := []jointJSON{}
	for j, pairs := range t.Car.Bolts(r.Setting) {
		joints = append(joints, jointJSON{t.Car.Joints[j].Name, pairs})
	}
	s := settingJSON{{"id", r.ID}, {"bolts", joints}}
	for _, f := range figures.Pick(figures.InMap...) {
		if f.Key == figures.StallMargin {
			var stalled *bool
			if !math.IsNaN(r.StallMargin) {
				stalled = &r.Stalled
			}
			s = append(s, field{"stalled", stalled})
		}
		s = append(s, field{f.Key, number(f.InFile(f.Of(t, r)))})
		if f.StdInMap {
			std, _ := f.StdUncOf(budget.Contribution)
			s = append(s, field{f.StdKey(), number(f.InFile(std))})
		}
	}
	return append(s, field{"within_limits", r.Within()}, field{"outside", words.Outside(r, units.Metric)},
		field{"alternatives", r.AlternativeIDs()})
}

type jointJSON struct {
	Joint string      `json:"joint"`
	Pairs [][2]string `json:"pairs"`
}

// figure rounds x to n digits behind the point; nil for NaN.
func figure(x float64, n int) *float64 {
	p := math.Pow10(n)
	return number(math.Round(x*p)/p + 0) // no negative zero
}

// number is a figure in JSON: null where it cannot be given.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

type assumedJSON struct {
	What  string `json:"what"`
	Value string `json:"value"`
	Note  string `json:"note"`
}

func assumed(c *model.Car) []assumedJSON {
	all := []assumedJSON{}
	for _, a := range c.Assumed {
		all = append(all, assumedJSON{a.What, a.Value, a.Note})
	}
	return all
}

// jsonFormat is the number of the output's format: it goes up when what is there changes its meaning or goes.
const jsonFormat = 1

// writeJSON prints a document. Every one of them is an object that begins with its format.
func writeJSON(w io.Writer, v any) error {
	text, err := indented(v, "")
	if err == nil {
		_, err = w.Write(append(printable(withFormat(text)), '\n'))
	}
	return err
}

// withFormat puts the format at the beginning of an object that does not have it.
func withFormat(text []byte) []byte {
	rest, ok := bytes.CutPrefix(text, []byte("{\n  "))
	if !ok || bytes.HasPrefix(rest, []byte(`"format":`)) {
		return text
	}
	return append(fmt.Appendf(nil, "{\n  \"format\": %d,\n  ", jsonFormat), rest...)
}

// streamJSON writes a document whose last field is an empty list, with n elements in that list. They are encoded one after the other, so
// that a long list takes no more memory than a short one.
func streamJSON(w io.Writer, doc any, n int, element func(i int) any) error {
	head, err := indented(doc, "")
	if err != nil {
		return err
	}
	const empty = "[]\n}"
	if !bytes.HasSuffix(head, []byte(empty)) {
		panic("the document does not end with an empty list")
	}
	if n == 0 {
		return writeJSON(w, doc)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.Write(printable(withFormat(head[:len(head)-len(empty)])))
	for i := range n {
		text, err := indented(element(i), "    ")
		if err != nil {
			return err
		}
		out.WriteString([2]string{"[\n    ", ",\n    "}[min(i, 1)])
		out.Write(printable(text))
	}
	out.WriteString("\n  ]\n}\n")
	return out.Flush()
}

// indented encodes a value, whose lines after the first begin with a prefix.
func indented(v any, prefix string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, "  ")
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// printable escapes what acts on a terminal; in JSON it stands in strings only, where it can be escaped.
func printable(text []byte) []byte {
	hidden := func(r rune) bool { return r != '\n' && units.Hidden(r) }
	if bytes.IndexFunc(text, hidden) < 0 {
		return text
	}
	var b bytes.Buffer
	for _, r := range string(text) {
		switch {
		case !hidden(r):
			b.WriteRune(r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&b, "\\u%04x\\u%04x", high, low)
		default:
			fmt.Fprintf(&b, "\\u%04x", r)
		}
	}
	return b.Bytes()
}
