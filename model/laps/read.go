package laps

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stanchion/model/logbook"
	"stanchion/model/table"
	"stanchion/model/units"
)

// Limits of a file.
const (
	MaxSize = 16 << 20 // bytes
	maxLaps = 20_000
)

// Columns are the names of a table's columns; "" for the usual ones.
type Columns struct{ Run, Setting, Time, Mark string }

// usual are the names that columns go by where none is given.
var usual = map[string][]string{
	"run":     {"run", "stint", "outing"},
	"setting": {"setting"},
	"time":    {"time", "lap_s", "lap time", "laptime", "lap_time", "time_s"},
	"mark":    {"mark", "pit", "in_out"},
}

// Fault is what is wrong with a line.
type Fault = table.Fault

// ReadCSV reads runs from a table with a head line: a setting and a time on each line, and where a run is named, its name; without names a run
// ends where the setting changes. A line that cannot be read costs that line, and is among the faults.
func ReadCSV(data []byte, names Columns) (runs []Run, faults []Fault, err error) {
	if len(data) > MaxSize {
		return nil, nil, fmt.Errorf("%d bytes; the file may have %d MiB at most", len(data), MaxSize>>20)
	}
	t, err := table.Read(data, maxLaps)
	if errors.Is(err, table.ErrNoHead) {
		return nil, nil, errors.New("it has no head line; name its columns: run, setting, time")
	}
	if err != nil {
		return nil, nil, err
	}
	at, err := columns(t.Head.Cells, names)
	if err != nil {
		return nil, nil, err
	}
	faults = t.Torn
	for i := range t.Rows {
		if runs, err = at.add(runs, &t.Rows[i]); err != nil {
			faults = append(faults, Fault{Line: t.Rows[i].Line, What: err.Error()})
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int { return a.Line - b.Line })
	return runs, faults, nil
}

// places are where a table's columns stand; -1 for one that it does not have.
type places struct{ run, setting, time, mark int }

func columns(head []string, names Columns) (at places, err error) {
	find := func(what, name string, must bool) int {
		known := usual[what]
		if name != "" {
			known = []string{strings.ToLower(name)}
		}
		i := slices.IndexFunc(head, func(h string) bool { return slices.Contains(known, strings.ToLower(strings.TrimSpace(h))) })
		if i < 0 && (must || name != "") && err == nil {
			err = fmt.Errorf("no column %s; its columns are %s: say which with --columns %s=NAME", what, units.Printable(strings.Join(head, ", ")), what)
		}
		return i
	}
	at = places{find("run", names.Run, false), find("setting", names.Setting, true), find("time", names.Time, true), find("mark", names.Mark, false)}
	return at, err
}

// add takes a row.
func (at places) add(runs []Run, row *table.Row) ([]Run, error) {
	l, err := lap(row.Cell(at.time), row.Cell(at.mark))
	if err != nil {
		return runs, err
	}
	l.Line = row.Line
	name, setting := row.Cell(at.run), row.Cell(at.setting)
	if setting == "" {
		return runs, errors.New("it has no setting")
	}
	if n := len(runs); n > 0 && runs[n-1].Name == name && runs[n-1].Setting == setting {
		runs[n-1].Laps = append(runs[n-1].Laps, l)
		return runs, nil
	}
	return append(runs, Run{name, setting, []Lap{l}}), nil
}

// lap reads a time and what it is marked with.
func lap(time, mark string) (l Lap, err error) {
	switch m := strings.ToLower(mark); m {
	case "", "in", "out":
		l.Mark = m
	default:
		return l, fmt.Errorf("%q; a lap may be marked in or out", units.Printable(mark))
	}
	l.Time, err = logbook.ReadLap(time)
	return l, err
}

// ReadTyped reads a run as it is typed: a setting, a colon and times, "row 1, B2: out 1:52.1 1:43.2 1:43.0 in 1:58". The word before a time marks it.
func ReadTyped(text string) (Run, error) {
	setting, times, ok := strings.Cut(text, ":")
	// A setting has no colon with a space behind it; a time has none.
	if i := strings.Index(text, ": "); i >= 0 {
		setting, times, ok = text[:i], text[i+2:], true
	}
	r := Run{Setting: strings.TrimSpace(setting)}
	if !ok || r.Setting == "" {
		return r, fmt.Errorf("%q; write it as SETTING: TIMES, such as \"row 1, B2: out 1:52.1 1:43.2 1:43.0\"", units.Printable(text))
	}
	mark := ""
	for _, word := range strings.FieldsFunc(times, func(r rune) bool { return r == ' ' || r == ';' }) {
		if w := strings.ToLower(word); w == "in" || w == "out" {
			mark = w
			continue
		}
		l, err := lap(word, mark)
		if err != nil {
			return r, err
		}
		r.Laps, mark = append(r.Laps, l), ""
	}
	if len(r.Laps) == 0 {
		return r, fmt.Errorf("%q has no times", units.Printable(text))
	}
	return r, nil
}
