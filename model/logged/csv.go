package logged

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"maps"
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
