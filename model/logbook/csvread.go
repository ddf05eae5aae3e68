package logbook

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"stanchion/model/table"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// maxRows is how many notes a table may have.
const maxRows = 100_000

// Fault is what is wrong at a place of a table, counted from 1.
type Fault struct {
	Line, Col int
	Key       string // the column; "" where it is about the whole line
	What      string // what is wrong, and what to do
	Unlikely  bool   // it can be read, and hardly be so
}

// Rows are the notes of a table as they were read.
type Rows struct {
	rows    []incoming
	Len     int
	Unknown []string // columns that are no keys of a note
	Faults  []Fault
}

// Setting reads what a row says of the setting: the id of what a person may have written.
type Setting func(text string) (id string, err error)

// ReadCSV reads notes from a table with a head line of their keys, as WriteCSV writes it or as a person may make it: at is
// needed, what else there is as far as there are columns for it. Between semicolons or tabs numbers may have a decimal comma.
func ReadCSV(data []byte, setting Setting, now time.Time) (Rows, error) {
	var r Rows
	if len(data) > MaxSize {
		return r, fmt.Errorf("is larger than %d MiB", MaxSize>>20)
	}
	t, err := table.Read(data, maxRows)
	if errors.Is(err, table.ErrNoHead) {
		return r, errors.New("it has no head line; name its columns, such as at, setting, lap_s")
	}
	if err != nil {
		return r, err
	}
	columns := map[string]int{}
	for i, name := range t.Head.Cells {
		key := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "_")
		_, is := allKnown().place[key]
		switch _, twice := columns[key]; {
		case !is && strings.TrimSpace(name) != "":
			r.Unknown = append(r.Unknown, strings.TrimSpace(name))
		case is && twice:
			r.Faults = append(r.Faults, Fault{Line: 1, Col: t.Head.Cols[i], Key: key, What: "the column is there twice; keep one"})
		case is:
			columns[key] = i
		}
	}
	if _, is := columns["at"]; !is {
		return r, fmt.Errorf("it has no column at, when each note was; its columns are %s", units.Printable(strings.Join(t.Head.Cells, ", ")))
	}
	for _, f := range t.Torn {
		r.Faults = append(r.Faults, Fault{Line: f.Line, Col: 1, What: f.What + "; look at its quotation marks"})
	}
	read := reading{columns: columns, setting: setting, now: now, comma: t.Comma != ','}
	for i := range t.Rows {
		read.decimal = read.decimal || read.hasComma(&t.Rows[i])
	}
	for i := range t.Rows {
		n, faults := read.row(&t.Rows[i])
		r.Faults = append(r.Faults, faults...)
		if n != nil {
			r.rows = append(r.rows, *n)
		}
	}
	r.Len = len(t.Rows)
	slices.SortStableFunc(r.Faults, func(a, b Fault) int { return a.Line - b.Line })
	return r, nil
}

// Import puts the notes of a table at the end of a notebook that are not in it. A note whose id is
// taken gets a new one. Without write it says what it would do and changes nothing.
func Import(path string, r Rows, write bool) (Merged, error) {
	return realDisk.take(path, r.rows, true, write)
}

// reading is a table while it is read.
type reading struct {
	columns map[string]int
	setting Setting
	now     time.Time
	comma   bool // numbers may have a decimal comma
	decimal bool // one of them has
}

func (t *reading) cell(row *table.Row, key string) string {
	i, is := t.columns[key]
	if !is || i >= len(row.Cells) {
		return ""
	}
	return row.Cells[i]
}

var commaNumber = regexp.MustCompile(`^[-+−']*[0-9]+,[0-9]+$`)

// hasComma reports whether a number of a row has a decimal comma.
func (t *reading) hasComma(row *table.Row) bool {
	for key := range t.columns {
		if _, number := numeric(allKnown().of[key]); number && t.comma && commaNumber.MatchString(strings.TrimSpace(t.cell(row, key))) {
			return true
		}
	}
	return false
}

// row makes a note of a row; nil where it cannot be read.
func (t *reading) row(row *table.Row) (n *incoming, faults []Fault) {
	fault := func(key, format string, args ...any) {
		f := Fault{Line: row.Line, Col: 1, Key: key, What: fmt.Sprintf(format, args...)}
		if i, is := t.columns[key]; is && i < len(row.Cells) {
			f.Line, f.Col = row.Lines[i], row.Cols[i]
		}
		faults = append(faults, f)
	}
	var body strings.Builder
	body.WriteString(opening + "\n")
	for _, key := range allKnown().keys {
		cell := t.cell(row, key)
		if cell == "" || strings.TrimSpace(cell) == "" && !free(key) {
			if key == "at" {
				fault(key, "it has no time; give one such as 2026-11-25 10:30")
			}
			continue
		}
		value, err := t.value(key, cell)
		if err != nil {
			fault(key, "%s", err)
		} else if value != "" {
			body.WriteString(key + " = " + value + "\n")
		}
	}
	of, wrong := values([]byte(body.String()))
	if wrong != "" {
		fault("", "%s", wrong)
		return nil, faults
	}
	if _, timed := of["at"]; !timed {
		of["at"] = t.now // it is said already: so that the others are, too
	}
	id, hasID := of["id"].(string)
	if !hasID {
		of["id"] = "none"
	}
	note, odd, wrong := noteOf(of)
	if note.ID = id; !hasID {
		delete(of, "id")
	}
	for _, key := range odd {
		fault(key, "%q cannot be used: \"stanchion help notes\" says what it can be", units.Printable(strings.TrimSpace(t.cell(row, key))))
	}
	if wrong != "" {
		fault("", "%s", wrong)
	}
	t.unlikely(&note, of, func(key, format string, args ...any) {
		fault(key, format, args...)
		faults[len(faults)-1].Unlikely = true
	})
	for _, f := range faults {
		if !f.Unlikely {
			return nil, faults
		}
	}
	return &incoming{body: []byte(body.String()), of: of, note: note, sound: true, row: row.Line}, faults
}

// free reports whether a key's text is the person's own, of which blanks are kept.
func free(key string) bool {
	_, text := allKnown().of[key].(string)
	return text && !slices.Contains([]string{"id", "replaces", "restores", "setting", "track", "rain"}, key)
}

// numeric reports whether a key holds a number.
func numeric(v any) (x float64, is bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// value spells a cell as it stands in the notebook; "" for what says nothing.
func (t *reading) value(key, cell string) (string, error) {
	trimmed := strings.TrimSpace(cell)
	switch like := allKnown().of[key].(type) {
	case string:
		text := units.FromExactCell(cell)
		switch key {
		case "id", "replaces", "restores":
			if text = strings.TrimSpace(text); !plainID(text) {
				return "", fmt.Errorf("%q cannot be an id; it must be without blanks", units.Printable(text))
			}
		case "setting":
			id, err := t.setting(text)
			if err != nil {
				return "", err
			}
			text = id
		}
		return toml.Quote(text), nil
	case bool:
		switch strings.ToLower(trimmed) {
		case "true", "yes", "1", "x":
			return "true", nil
		case "false", "no", "0":
			return "", nil
		}
		return "", fmt.Errorf("%q; give true or false", units.Printable(trimmed))
	case time.Time:
		at, err := readTime(strings.TrimPrefix(trimmed, "'"))
		return at, err
	case []any:
		var parts []string
		for _, part := range listOf(cell) {
			if _, text := like[0].(string); text {
				parts = append(parts, toml.Quote(units.FromExactCell(part)))
				continue
			}
			x, err := t.number(key, part)
			if err != nil {
				return "", err
			}
			parts = append(parts, x)
		}
		return "[" + strings.Join(parts, ", ") + "]", nil
	}
	return t.number(key, trimmed)
}

var grouped = regexp.MustCompile(`^[-+]?[0-9]{1,3}(\.[0-9]{3})+$`)

// number reads a number, of laps also with minutes.
func (t *reading) number(key, cell string) (string, error) {
	text := strings.ReplaceAll(strings.TrimPrefix(strings.TrimSpace(cell), "'"), "−", "-")
	switch commas := strings.Count(text, ","); {
	case t.comma && commas == 1 && !strings.Contains(text, "."):
		text = strings.Replace(text, ",", ".", 1)
	case commas > 0:
		return "", fmt.Errorf("%q is not clear; write a number with a decimal point and nothing between thousands", units.Printable(cell))
	case t.decimal && key != "laps_s" && grouped.MatchString(text): // a list stays as it was written
		return "", fmt.Errorf("%q is not clear beside numbers with a decimal comma; write it with a comma, and nothing between thousands", units.Printable(cell))
	}
	if strings.Contains(text, ":") && (key == "lap_s" || key == "laps_s") {
		s, err := ReadLap(text)
		return strconv.FormatFloat(s, 'f', -1, 64), err
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.Abs(x) >= 1e12 {
		return "", fmt.Errorf("%q is not a number", units.Printable(cell))
	}
	return strconv.FormatFloat(x, 'f', -1, 64), nil
}

// readTime reads a time and spells it as it stands in the notebook. One without an offset is of here.
func readTime(text string) (string, error) {
	if at, err := time.Parse(time.RFC3339Nano, text); err == nil {
		return at.Format(time.RFC3339Nano), nil
	}
	for _, layout := range []string{"2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02",
		"2.1.2006 15:04:05", "2.1.2006 15:04", "2.1.2006", "2006-01-02 15:04:05Z07:00"} {
		if at, err := time.ParseInLocation(layout, text, time.Local); err == nil {
			return at.Format(time.RFC3339Nano), nil
		}
	}
	return "", fmt.Errorf("%q is not a time; write it as 2026-11-25 10:30", units.Printable(text))
}
