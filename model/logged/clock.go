package logged

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// number reads a number with a decimal point or, where commas do not part the cells, or the cell was quoted, a decimal comma.
func number(cell string, comma byte) (float64, bool) {
	if strings.IndexByte(cell, ',') >= 0 {
		if strings.IndexByte(cell, '.') >= 0 || strings.Count(cell, ",") > 1 {
			return 0, false
		}
		cell = strings.Replace(cell, ",", ".", 1)
	}
	if cell == "" || cell[0] > '9' { // no Inf, NaN, hexadecimal
		return 0, false
	}
	if strings.ContainsAny(cell, "xX_pPnN") {
		return 0, false
	}
	x, err := strconv.ParseFloat(cell, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// day is the seconds of a day.
const day = 86400.0

// clock reads stamps: seconds, times of day, dates with times. Times of day go on over midnight.
type clock struct {
	last  float64
	days  float64
	dated time.Time // of the first stamp with a date
	begun bool
}

// isTime reports whether a cell is a time of day or a date with one.
func isTime(cell string) bool {
	var c clock
	_, ok := c.colons(cell)
	if !ok {
		_, ok = dated(cell)
	}
	return ok
}

// read returns a stamp in seconds, from 1970 where it has a date.
func (c *clock) read(cell string, comma byte, size float64) (float64, bool) {
	if x, ok := number(cell, comma); ok {
		x *= size
		if size == 1 && x > 1e11 { // milliseconds from 1970
			x /= 1000
		}
		if !c.begun {
			c.begun = true
			if x > 1e8 { // seconds from 1970, not from midnight or from the start
				c.dated = time.UnixMicro(int64(x * 1e6)).UTC()
			}
		}
		return x, true
	}
	if x, ok := c.colons(cell); ok {
		if c.begun && x < c.last-day/2 {
			c.days++
		}
		c.begun, c.last = true, x
		return x + c.days*day, true
	}
	if t, ok := dated(cell); ok {
		if !c.begun {
			c.begun, c.dated = true, t
		}
		return float64(t.Unix()) + float64(t.Nanosecond())*1e-9, true
	}
	return 0, false
}

// colons reads 1:02:03.45 and 02:03.45, in seconds.
func (c *clock) colons(cell string) (float64, bool) {
	n := strings.Count(cell, ":")
	if n < 1 || n > 2 || len(cell) > 20 {
		return 0, false
	}
	sum := 0.0
	for i, part := range strings.SplitN(cell, ":", 3) {
		x, ok := number(part, ';')
		if !ok || x < 0 || x >= 60 && i > 0 || i < n && x != math.Trunc(x) {
			return 0, false
		}
		sum = sum*60 + x
	}
	return sum, true
}

// dated reads a date with a time by ISO 8601, with a T or a blank between them.
func dated(cell string) (time.Time, bool) {
	if len(cell) < 16 || len(cell) > 40 || cell[4] != '-' && cell[4] != '/' {
		return time.Time{}, false
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02 15:04:05Z07:00", "2006/01/02 15:04:05"} {
		if t, err := time.Parse(layout, cell); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}
