package logbook

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"stanchion/model/units"
)

// WriteCSV writes notes as a table with a head line of the keys in columns, nothing of them rounded. Of text that
// a spreadsheet would take for a formula it keeps that off with an apostrophe.
func WriteCSV(w io.Writer, columns []string, notes []Note) error {
	c := csv.NewWriter(w)
	if err := c.Write(columns); err != nil {
		return err
	}
	for _, n := range notes {
		of, wrong := values(encode(n))
		if wrong != "" {
			return fmt.Errorf("note %s: %s", n.ID, wrong)
		}
		row := make([]string, len(columns))
		for i, key := range columns {
			row[i] = cellOf(of[key])
		}
		if err := c.Write(row); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// cellOf spells a value of a note in a table; "" for what was not noted.
func cellOf(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return units.ExactCell(v, "")
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case time.Time:
		return v.Format(time.RFC3339Nano)
	case []any:
		parts := make([]string, len(v))
		for i, one := range v {
			parts[i] = cellOf(one)
			if text, ok := one.(string); ok {
				parts[i] = units.ExactCell(text, ";\n")
			}
		}
		return strings.Join(parts, "; ")
	}
	return fmt.Sprint(v)
}

// listOf takes a list's cell apart.
func listOf(cell string) (parts []string) {
	for i, part := range strings.Split(cell, ";") {
		if i > 0 {
			part = strings.TrimPrefix(part, " ")
		}
		parts = append(parts, part)
	}
	return parts
}
