package cad

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// csvNames are the columns that a table may have, with other words for them.
var csvNames = map[string]string{
	"id": "id", "name": "id", "hole": "id", "mark": "id", "x": "x", "z": "z", "y": "z", "d": "d", "dia": "d", "diameter": "d", "joint": "joint",
	"to_x": "to_x", "to_z": "to_z", "arc_x": "arc_x", "arc_z": "arc_z", "arc_turn_deg": "arc_turn", "new": "new",
}

// holeTable is a table of holes while it is read.
type holeTable struct {
	Found
	at     map[string]int // column of each name
	comma  rune           // between columns
	unit   float64        // mm; 0 when the columns do not say
	o      Options
	faults []error
}

// maxFaults is how many faults of a table are told.
const maxFaults = 20

// readCSV reads a table with a head line: id, x, z (or y) and d; to_x and to_z for
// the other end of a slot, arc_x, arc_z and arc_turn_deg for one along an arc.
// Columns may say their unit, x_mm or x_in; a semicolon or a tab between them is as
// good as a comma.
func readCSV(data []byte, o Options) (Found, error) {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if !utf8.Valid(data) {
		return Found{}, errors.New("the file is not UTF-8; save it as UTF-8")
	}
	t := holeTable{at: map[string]int{}, comma: separator(data), o: o}
	r := csv.NewReader(bytes.NewReader(bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = t.comma, -1, true
	rows, err := r.ReadAll()
	if err != nil {
		return Found{}, fmt.Errorf("it is not a table: %w", err)
	}
	if len(rows) == 0 {
		return Found{}, errNothing
	}
	if err := t.head(rows[0]); err != nil {
		return Found{}, err
	}
	for n, row := range rows[1:] {
		if len(t.faults) > maxFaults {
			break
		}
		t.row(n+2, row)
	}
	switch n := len(t.Holes) + len(t.Slots); {
	case len(t.faults) > 0:
		return Found{}, errors.Join(t.faults...)
	case n == 0:
		return t.Found, errNothing
	case n > maxFound:
		return Found{}, fmt.Errorf("%d holes; a part may have %d at most", n, maxFound)
	}
	t.tidy()
	return t.Found, nil
}

// separator is what stands between the columns of a table, by its first line.
func separator(data []byte) rune {
	head, _, _ := bytes.Cut(data, []byte("\n"))
	comma := ','
	for _, c := range []rune{';', '\t'} {
		if bytes.ContainsRune(head, c) {
			comma = c
		}
	}
	return comma
}

// head takes the names of the columns.
func (t *holeTable) head(names []string) error {
	for i, c := range names {
		name := strings.ToLower(strings.TrimSpace(c))
		for suffix, size := range map[string]float64{"_mm": 1, "_in": units.Inch} {
			if n, ok := strings.CutSuffix(name, suffix); ok {
				name = n
				if t.unit != 0 && t.unit != size {
					return errors.New("columns in mm and in inches; use one of them")
				}
				t.unit = size
			}
		}
		if known, ok := csvNames[name]; ok {
			t.at[known] = i
		} else {
			t.Ignored = append(t.Ignored, fmt.Sprintf("the column %s", short(c)))
		}
	}
	if t.o.Unit != 0 {
		t.unit = t.o.Unit
	}
	for _, must := range []string{"x", "z", "d"} {
		if _, ok := t.at[must]; !ok {
			return fmt.Errorf("there is no column %s; begin with a line that names the columns: id, x, z and d", must)
		}
	}
	if t.unit == 0 {
		return ErrNoUnit
	}
	return nil
}

// tableRow is one row, by the names of its columns.
type tableRow struct {
	t     *holeTable
	cells []string
}

func (r tableRow) cell(name string) string {
	if i, ok := r.t.at[name]; ok && i < len(r.cells) {
		return strings.TrimSpace(r.cells[i])
	}
	return ""
}

// number reads a cell; where columns are not parted by commas a comma may be the decimal
// sign.
func (r tableRow) number(name string) float64 {
	text := r.cell(name)
	if r.t.comma != ',' {
		text = strings.Replace(text, ",", ".", 1)
	}
	return parse(text)
}

// point reads a place from two columns, scaled and placed as wanted.
func (r tableRow) point(x, z string) plane.Point {
	return r.t.o.place(plane.Point{X: r.number(x), Z: r.number(z)}, r.t.unit)
}

// row takes one row, a hole or a slot.
func (t *holeTable) row(n int, cells []string) {
	r := tableRow{t, cells}
	fault := func(text string, args ...any) {
		t.faults = append(t.faults, fmt.Errorf("row %d: "+text, append([]any{n}, args...)...))
	}
	h := holes.Hole{ID: clean(units.Uncell(r.cell("id"))), X: r.number("x"), Z: r.number("z"), D: r.number("d"),
		Joint: clean(units.Uncell(r.cell("joint")))}
	if math.IsNaN(h.X+h.Z+h.D) || !(h.D > 0) || far(h.At()) || h.D > 1e5 {
		fault("x %s, z %s, d %s; give numbers, d more than 0", short(r.cell("x")), short(r.cell("z")), short(r.cell("d")))
		return
	}
	if given := r.cell("id"); given != "" && h.ID == "" {
		t.Notes = append(t.Notes, fmt.Sprintf("row %d: %s cannot be the name of a hole: it gets another", n, short(given)))
	}
	p := t.o.place(h.At(), t.unit)
	h.X, h.Z, h.D = p.X, p.Z, h.D*t.unit*t.o.Scale
	switch {
	case r.cell("arc_turn") != "":
		s := holes.Slot{Hole: h, Turn: r.number("arc_turn") * plane.Deg, Centre: r.point("arc_x", "arc_z")}
		if math.IsNaN(s.Turn+s.Centre.X+s.Centre.Z) || s.Turn == 0 || far(s.Centre) {
			fault("a slot along an arc needs arc_x, arc_z and arc_turn_deg")
			return
		}
		t.Slots = append(t.Slots, s)
	case r.cell("to_x") != "" || r.cell("to_z") != "":
		s := holes.Slot{Hole: h, To: r.point("to_x", "to_z")}
		if math.IsNaN(s.To.X+s.To.Z) || far(s.To) {
			fault("a slot needs to_x and to_z for its end")
			return
		}
		t.Slots = append(t.Slots, s)
	default:
		t.Holes = append(t.Holes, h)
	}
}
