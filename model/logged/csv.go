package logged

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
)

// Limits of lines.
const (
	longestLine = 64 << 10  // bytes; what is longer is no line of data
	peeked      = 256 << 10 // bytes that are looked at for head line and delimiter
	mostColumns = 2000
)

// lines reads a file line by line within a bound.
type lines struct {
	r    *bufio.Reader
	line int // number of the line read last
}

func newLines(r io.Reader) *lines { return &lines{r: bufio.NewReaderSize(r, peeked)} }

// next returns the next line without its end, valid until the next call; ok is false for one that is too long.
func (l *lines) next() (text []byte, ok bool, err error) {
	l.line++
	text, err = l.r.ReadSlice('\n')
	long := errors.Is(err, bufio.ErrBufferFull)
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = l.r.ReadSlice('\n')
	}
	if errors.Is(err, io.EOF) && (len(text) > 0 || long) {
		err = nil
	}
	return bytes.TrimRight(text, "\r\n"), !long && len(text) <= longestLine, err
}

// split parts a line into cells; quotes within a cell are doubled. Cells are valid until the line is.
func split(line string, comma byte, into []string) []string {
	into = into[:0]
	for len(into) < mostColumns {
		rest := strings.TrimLeft(line, " ")
		if strings.HasPrefix(rest, `"`) {
			end := 1
			for end < len(rest) {
				if rest[end] == '"' {
					if end+1 < len(rest) && rest[end+1] == '"' {
						end += 2
						continue
					}
					break
				}
				end++
			}
			cell := rest[1:min(end, len(rest))]
			if strings.Contains(cell, `""`) {
				cell = strings.ReplaceAll(cell, `""`, `"`)
			}
			into = append(into, cell)
			rest = rest[min(end+1, len(rest)):]
			at := strings.IndexByte(rest, comma)
			if at < 0 {
				return into
			}
			line = rest[at+1:]
			continue
		}
		at := strings.IndexByte(line, comma)
		if at < 0 {
			return append(into, strings.TrimSpace(line))
		}
		into = append(into, strings.TrimSpace(line[:at]))
		line = line[at+1:]
	}
	return into
}

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

// csvReader reads rows of a table.
type csvReader struct {
	lines *lines
	table table
	use   []Column
	clock clock
	cells []string
	sums  [Channels]int
}

// openCSV tells layout and columns of a table.
func openCSV(l *lines, named, kept map[string]string) (*csvReader, []string, error) {
	begin, _ := l.r.Peek(peeked)
	text := strings.TrimPrefix(string(begin), "\uFEFF")
	all := maps.Clone(kept)
	if all == nil {
		all = map[string]string{}
	}
	maps.Copy(all, named)
	t, err := layout(text, all)
	if err != nil {
		return nil, nil, err
	}
	for key, names := range kept { // one that another logger had does not count here
		for one := range strings.SplitSeq(names, "+") {
			if at, _ := find(t.head, one); at < 0 && named[key] == "" {
				delete(all, key)
			}
		}
	}
	use, unused, err := choose(t.head, t.units, all)
	if err != nil {
		return nil, nil, err
	}
	for l.line < t.first-1 {
		if _, _, err := l.next(); err != nil {
			return nil, nil, err
		}
	}
	return &csvReader{lines: l, table: t, use: use}, unused, nil
}

// read reads the next row; ok is false where its line is left out.
func (c *csvReader) read(told *Told) (s Sample, ok bool, err error) {
	text, fits, err := c.lines.next()
	if err != nil {
		return s, false, err
	}
	line := c.lines.line
	if len(bytes.TrimSpace(text)) == 0 {
		return s, false, nil
	}
	if !fits {
		told.leave(Fault{Line: line, Why: BadLine})
		return s, false, nil
	}
	row := string(text)
	c.cells = split(row, c.table.comma, c.cells)
	if len(c.cells) < 2 || len(c.cells) < len(c.table.head)/2 {
		told.leave(Fault{Line: line, Why: BadLine, Text: row})
		return s, false, nil
	}
	s = blank()
	s.Line = line
	c.sums = [Channels]int{}
	for i := range c.use {
		col := &c.use[i]
		if col.index >= len(c.cells) {
			continue
		}
		cell := c.cells[col.index]
		if col.Of == timeColumn {
			t, ok := c.clock.read(cell, c.table.comma, col.size)
			switch {
			case cell == "":
				told.leave(Fault{line, col.Name, NoTime, ""})
				return s, false, nil
			case !ok:
				told.leave(Fault{line, col.Name, BadNumber, cell})
				return s, false, nil
			}
			s.absolute = t
			continue
		}
		if cell == "" || cell == "-" || strings.EqualFold(cell, "nan") || strings.EqualFold(cell, "n/a") || strings.EqualFold(cell, "null") {
			continue
		}
		x, ok := number(cell, c.table.comma)
		if !ok {
			told.leave(Fault{line, col.Name, BadNumber, cell})
			continue
		}
		x *= col.size
		if n := c.sums[col.Of]; n > 0 { // left and right
			x = (s.At[col.Of]*float64(n) + x) / float64(n+1)
		}
		c.sums[col.Of]++
		s.At[col.Of] = x
	}
	for i := range c.use { // one side alone is no mean of both
		if of := c.use[i].Of; of >= 0 && c.sums[of] > 0 && c.sums[of] < c.sides(of) {
			s.At[of] = blank().At[of]
		}
	}
	return s, true, nil
}

// sides is how many columns a channel has.
func (c *csvReader) sides(of Channel) (n int) {
	for i := range c.use {
		if c.use[i].Of == of {
			n++
		}
	}
	return n
}
