package logged

import (
	"errors"
	"slices"
	"strings"
)

// table is how a CSV is laid out.
type table struct {
	comma byte
	head  []string
	units []string // cells of the line of units below the head; nil for none
	first int      // line of the first row, from 1
}

// errNoTable is that of a file without a head line over rows.
var errNoTable = errors.New("it has no table of numbers with a head line that names its columns")

// layout tells how a file is laid out from its beginning.
func layout(text string, named map[string]string) (table, error) {
	all := strings.Split(text, "\n")
	if len(text) >= peeked/2 {
		all = all[:len(all)-1] // may be cut
	}
	all = all[:min(len(all), 400)]
	for i := range all {
		all[i] = strings.TrimRight(all[i], "\r")
	}
	best, bestScore := table{}, 0.0
	for _, comma := range []byte{';', '\t', ','} {
		t, score := laid(all, comma, named)
		if score > bestScore {
			best, bestScore = t, score
		}
	}
	if bestScore == 0 {
		return best, errNoTable
	}
	return best, nil
}

// laid tells the layout by one delimiter, and how well that fits: the part of the rows' cells that are numbers, times a little for more columns.
func laid(all []string, comma byte, named map[string]string) (table, float64) {
	rows := make([][]string, len(all))
	counts := map[int]int{}
	for i, l := range all {
		if strings.TrimSpace(l) == "" {
			continue
		}
		rows[i] = split(l, comma, nil)
		if n := len(rows[i]); n > 1 {
			counts[n]++
		}
	}
	width, most := 0, 0
	for n, k := range counts {
		if k > most || k == most && n > width {
			width, most = n, k
		}
	}
	if width < 2 {
		return table{}, 0
	}
	head, score := -1, 0
	for i, r := range rows { // the head is the line with the most names that are known or asked for
		if len(r) < 2 || numeric(r) {
			continue
		}
		known := 1
		for _, h := range r {
			name, _ := parted(h)
			if _, _, ok := told(name); ok {
				known += 2
			}
			for _, n := range named {
				for one := range strings.SplitSeq(n, "+") {
					if at, _ := find([]string{h}, one); at == 0 {
						known += 4
					}
				}
			}
		}
		if abs(len(r)-width) > 1 {
			known = 0
		}
		if known > score && followed(rows, i, width) {
			head, score = i, known
		}
	}
	if head < 0 {
		return table{}, 0
	}
	t := table{comma: comma, head: rows[head], first: head + 2}
	for i := head + 1; i < len(rows); i++ {
		if rows[i] == nil {
			continue
		}
		if !numeric(rows[i]) && !slices.ContainsFunc(rows[i], func(c string) bool { return !isUnit(c) }) {
			t.units, t.first = rows[i], i+2
		}
		break
	}
	cells, numbers := 1, 0
	for i := t.first - 1; i < len(rows); i++ {
		if len(rows[i]) != width {
			continue
		}
		for _, c := range rows[i] {
			if c == "" {
				continue
			}
			cells++
			if isNumber(c, comma) {
				numbers++
			}
		}
	}
	if numbers == 0 {
		return table{}, 0
	}
	return t, float64(numbers)/float64(cells) + 1e-3*float64(min(width, 100)) + 0.05*float64(min(score, 20))
}

// followed reports whether rows of numbers stand below a line, units between them or not.
func followed(rows [][]string, i, width int) bool {
	seen := 0
	for _, r := range rows[i+1:] {
		if r == nil {
			continue
		}
		if numeric(r) && abs(len(r)-width) <= 1 {
			return true
		}
		if seen++; seen > 2 {
			return false
		}
	}
	return false
}

// numeric reports whether at least half of the cells that say something are numbers or times.
func numeric(cells []string) bool {
	said, numbers := 0, 0
	for _, c := range cells {
		if c == "" {
			continue
		}
		said++
		if isNumber(c, ';') || isTime(c) {
			numbers++
		}
	}
	return said > 0 && 2*numbers >= said
}

func isNumber(cell string, comma byte) bool {
	_, ok := number(cell, comma)
	return ok || isTime(cell)
}

func abs(n int) int { return max(n, -n) }
