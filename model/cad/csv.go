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

// readCSV reads a table with a head line: id, x, z (or y) and d; to_x and to_z for
// the other end of a slot, arc_x, arc_z and arc_turn_deg for one along an arc.
// Columns may say their unit, x_mm or x_in; a semicolon or a tab between them is as
// good as a comma.
func readCSV(data []byte, o Options) (Found, error) {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if !utf8.Valid(data) {
		return Found{}, errors.New("the file is not UTF-8; save it as UTF-8")
	}
	head, _, _ := bytes.Cut(data, []byte("\n"))
	comma := ','
	for _, c := range []rune{';', '\t'} {
		if bytes.ContainsRune(head, c) {
			comma = c
		}
	}
	r := csv.NewReader(bytes.NewReader(bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = comma, -1, true
	rows, err := r.ReadAll()
	if err != nil {
		return Found{}, fmt.Errorf("it is no table: %w", err)
	}
	if len(rows) == 0 {
		return Found{}, errNothing
	}
	at := map[string]int{}
	unit := 0.0
	var f Found
	for i, c := range rows[0] {
		name := strings.ToLower(strings.TrimSpace(c))
		for suffix, size := range map[string]float64{"_mm": 1, "_in": units.Inch} {
			if n, ok := strings.CutSuffix(name, suffix); ok {
				name = n
				if unit != 0 && unit != size {
					return Found{}, errors.New("columns in mm and in inches; use one of them")
				}
				unit = size
			}
		}
		if known, ok := csvNames[name]; ok {
			at[known] = i
		} else {
			f.Ignored = append(f.Ignored, fmt.Sprintf("the column %s", short(c)))
		}
	}
	if o.Unit != 0 {
		unit = o.Unit
	}
	for _, must := range []string{"x", "z", "d"} {
		if _, ok := at[must]; !ok {
			return Found{}, fmt.Errorf("there is no column %s; begin with a line that names the columns: id, x, z and d", must)
		}
	}
	if unit == 0 {
		return Found{}, ErrNoUnit
	}
	var faults []error
	for n, row := range rows[1:] {
		cell := func(name string) string {
			if i, ok := at[name]; ok && i < len(row) {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		number := func(name string) float64 {
			text := cell(name)
			if comma != ',' {
				text = strings.Replace(text, ",", ".", 1)
			}
			return parse(text)
		}
		h := holes.Hole{ID: clean(units.Uncell(cell("id"))), X: number("x"), Z: number("z"), D: number("d"), Joint: clean(units.Uncell(cell("joint")))}
		if math.IsNaN(h.X+h.Z+h.D) || !(h.D > 0) || math.Abs(h.X) > 1e5 || math.Abs(h.Z) > 1e5 || h.D > 1e5 {
			if faults = append(faults, fmt.Errorf("row %d: x %s, z %s, d %s; give numbers, d more than 0", n+2, short(cell("x")), short(cell("z")), short(cell("d")))); len(faults) > 20 {
				break
			}
			continue
		}
		if given := cell("id"); given != "" && h.ID == "" {
			f.Notes = append(f.Notes, fmt.Sprintf("row %d: %s is no name for a hole: it gets another", n+2, short(given)))
		}
		if len(faults) > 20 {
			break
		}
		p := o.place(h.At(), unit)
		h.X, h.Z, h.D = p.X, p.Z, h.D*unit*o.Scale
		switch {
		case cell("arc_turn") != "":
			s := holes.Slot{Hole: h, Turn: number("arc_turn") * plane.Deg, Centre: o.place(plane.Point{X: number("arc_x"), Z: number("arc_z")}, unit)}
			if math.IsNaN(s.Turn+s.Centre.X+s.Centre.Z) || s.Turn == 0 || far(s.Centre) {
				faults = append(faults, fmt.Errorf("row %d: the arc of a slot wants arc_x, arc_z and arc_turn_deg", n+2))
				continue
			}
			f.Slots = append(f.Slots, s)
		case cell("to_x") != "" || cell("to_z") != "":
			s := holes.Slot{Hole: h, To: o.place(plane.Point{X: number("to_x"), Z: number("to_z")}, unit)}
			if math.IsNaN(s.To.X+s.To.Z) || far(s.To) {
				faults = append(faults, fmt.Errorf("row %d: the end of a slot wants to_x and to_z", n+2))
				continue
			}
			f.Slots = append(f.Slots, s)
		default:
			f.Holes = append(f.Holes, h)
		}
	}
	if len(faults) > 0 {
		return Found{}, errors.Join(faults...)
	}
	if len(f.Holes)+len(f.Slots) == 0 {
		return f, errNothing
	}
	if len(f.Holes)+len(f.Slots) > maxFound {
		return Found{}, fmt.Errorf("%d holes; a part may have %d at most", len(f.Holes)+len(f.Slots), maxFound)
	}
	f.tidy()
	return f, nil
}
