// Package table reads tables as people and spreadsheets save them: a head line and rows, with commas, semicolons or
// tabs between columns, with or without a byte-order mark. It knows no meaning of a column.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"stanchion/model/toml"
)

// Table is a table as it was read.
type Table struct {
	Comma rune // between columns
	Head  Row
	Rows  []Row
	Torn  []Fault // lines that are no rows of it
}

// Row is a row with the places of its cells.
type Row struct {
	Line  int // in the file, counted from 1
	Cells []string
	Cols  []int // of each cell, in bytes of its line, counted from 1
	Lines []int // of each cell: one before it may have several lines
}

// Cell is the text of a column without blanks around it; "" where the row ends before it.
func (r Row) Cell(i int) string {
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return strings.TrimSpace(r.Cells[i])
}

// Fault is what is wrong with a line.
type Fault struct {
	Line int
	What string
}

func (f Fault) Error() string { return fmt.Sprintf("line %d: %s", f.Line, f.What) }

// ErrNoHead says that a table has no head line.
var ErrNoHead = errors.New("it has no head line")

// Separator is what stands between the columns, by the head line: what it has most of.
func Separator(data []byte) rune {
	head, _, _ := bytes.Cut(data, []byte("\n"))
	comma, most := ',', bytes.Count(head, []byte(","))
	for _, c := range []rune{';', '\t'} {
		if n := bytes.Count(head, []byte(string(c))); n > most {
			comma, most = c, n
		}
	}
	return comma
}

// Read reads a table of at most max rows. A line that is no row costs that line, and is among Torn; rows without
// text are left out.
func Read(data []byte, max int) (*Table, error) {
	text, err := toml.Text(data) // UTF-8, without its mark
	if err != nil {
		return nil, err
	}
	t := &Table{Comma: Separator([]byte(text))}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = t.Comma, -1, t.Comma != '\t'
	read := func() (row Row, err error) {
		if row.Cells, err = r.Read(); err != nil {
			return row, err
		}
		row.Cols, row.Lines = make([]int, len(row.Cells)), make([]int, len(row.Cells))
		for i := range row.Cells {
			row.Lines[i], row.Cols[i] = r.FieldPos(i)
		}
		row.Line = row.Lines[0]
		return row, nil
	}
	if t.Head, err = read(); err != nil {
		return nil, ErrNoHead
	}
	for {
		row, err := read()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		if err != nil {
			var at *csv.ParseError
			line := 0
			if errors.As(err, &at) {
				line = at.StartLine
			}
			t.Torn = append(t.Torn, Fault{line, "the line is not a row of the table"})
		} else if strings.TrimSpace(strings.Join(row.Cells, "")) != "" {
			t.Rows = append(t.Rows, row)
		}
		if len(t.Rows) > max || len(t.Torn) > max {
			return nil, fmt.Errorf("more than %d rows", max)
		}
	}
}
