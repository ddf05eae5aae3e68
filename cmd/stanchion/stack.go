package main

import (
	"strings"
	"unicode"

	"stanchion/model/words"
)

// stackIndent is how much further in than its beginning a row of a table goes on in its next line.
const stackIndent = 4

// indentOf is where rows go on: below their second column, where that leaves room.
func indentOf(columns []span, cells int) int {
	if len(columns) > 1 && columns[1].from <= cells/4 {
		return columns[1].from
	}
	return columns[0].from + stackIndent
}

// span is the cells of a column, from the first up to the last, which is not in it.
type span struct{ from, to int }

// stacked lays the rows of a table out in at most so many cells: columns that have no room stand in a further line of
// their row, all rows alike, the headings too. Nothing is left out, and a column is broken only where it alone is wider.
func stacked(rows []string, cells int) []string {
	all, wide := make([][]rune, len(rows)), 0
	for i, r := range rows {
		all[i] = []rune(r)
		wide = max(wide, len(all[i]))
	}
	if wide <= cells {
		return rows
	}
	columns := columnsOf(all, wide)
	indent := indentOf(columns, cells)
	bands := bandsOf(columns, cells, indent)
	heads := 0
	for heads < len(rows) && strings.IndexFunc(rows[heads], unicode.IsDigit) < 0 {
		heads++
	}
	var lines []string
	for n, b := range bands { // headings and their units stand together
		for _, r := range all[:heads] {
			lines = append(lines, bandLines(r, b, min(n, 1)*indent, cells)...)
		}
	}
	for _, r := range all[heads:] {
		for n, b := range bands {
			lines = append(lines, bandLines(r, b, min(n, 1)*indent, cells)...)
		}
	}
	return lines
}

// columnsOf finds the columns of rows: between them two cells or more are blank in every row.
func columnsOf(rows [][]rune, wide int) (all []span) {
	blank := func(x int) bool {
		for _, r := range rows {
			if x < len(r) && r[x] != ' ' {
				return false
			}
		}
		return true
	}
	for x := 0; x < wide; x++ {
		if blank(x) {
			continue
		}
		s := span{x, x}
		for s.to < wide && !(blank(s.to) && (s.to+1 >= wide || blank(s.to+1))) {
			s.to++
		}
		all, x = append(all, s), s.to
	}
	return all
}

// bandsOf shares columns out among lines of at most so many cells, those after the first set in.
func bandsOf(columns []span, cells, indent int) (all []span) {
	for _, c := range columns {
		last := len(all) - 1
		room := cells - indent
		from := c.from
		if last >= 0 {
			from = all[last].from
		}
		if last <= 0 {
			room = cells
			if last == 0 {
				from = 0
			}
		}
		if last >= 0 && c.to-from <= room {
			all[last].to = c.to
			continue
		}
		all = append(all, c)
	}
	if len(all) > 0 {
		all[0].from = 0
	}
	return all
}

// bandLines are the lines of one row in a band, set in; none where it is blank there.
func bandLines(row []rune, b span, indent, cells int) []string {
	if b.from >= len(row) {
		return nil
	}
	text := strings.TrimRight(string(row[b.from:min(b.to, len(row))]), " ")
	if strings.TrimSpace(text) == "" {
		return nil
	}
	return words.HangAtText(strings.Repeat(" ", indent)+text, cells)
}
