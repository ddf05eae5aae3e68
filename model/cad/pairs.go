package cad

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// pair is one group of a DXF file: a code, and a value that the code gives a meaning
// to.
type pair struct {
	code  int
	value string
}

// entity is one thing in a drawing, with the vertices of a polyline of the old kind.
type entity struct {
	kind  string
	line  int // of the file
	pairs []pair
	inner []entity
}

// text returns the value of a code, or "".
func (e *entity) text(code int) string {
	for _, p := range e.pairs {
		if p.code == code {
			return p.value
		}
	}
	return ""
}

// number returns the value of a code, or otherwise; what is no finite number counts
// as 0 and is found out by sound.
func (e *entity) number(code int, otherwise float64) float64 {
	for _, p := range e.pairs {
		if p.code == code {
			return parse(p.value)
		}
	}
	return otherwise
}

// parse reads a number of a drawing; NaN for what is none.
func parse(s string) float64 {
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

func (e *entity) layer() string {
	if l := e.text(8); l != "" {
		return l
	}
	return "0"
}

// file is a DXF file taken apart.
type file struct {
	header    map[string]string // of each variable its first value
	blocks    map[string][]entity
	bases     map[string][2]float64
	entities  []entity
	hidden    map[string]bool   // layers that are off or frozen, in upper case
	lineTypes map[string]string // of layers, in upper case
	latin     bool              // text is in a code page, and not in UTF-8
}

// groups splits a file into its pairs. The error says in which line it stops making
// sense.
func groups(data []byte, each func(line int, p pair) error) error {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	line := 0
	next := func() (string, bool) {
		if len(data) == 0 {
			return "", false
		}
		line++
		end := bytes.IndexAny(data, "\r\n")
		var l []byte
		if end < 0 {
			l, data = data, nil
		} else {
			l = data[:end]
			if data[end] == '\r' && end+1 < len(data) && data[end+1] == '\n' {
				end++
			}
			data = data[end+1:]
		}
		return string(l), true
	}
	for {
		code, ok := next()
		if !ok {
			return nil
		}
		if strings.TrimSpace(code) == "" && len(bytes.TrimSpace(data)) == 0 {
			return nil // empty lines at the end
		}
		n, err := strconv.Atoi(strings.TrimSpace(code))
		if err != nil {
			return fmt.Errorf("line %d: %s is not a group code: this is not a DXF file, or it is broken there", line, short(code))
		}
		value, ok := next()
		if !ok {
			return fmt.Errorf("line %d: the file ends behind a group code: it was cut short", line)
		}
		if err := each(line, pair{n, value}); err != nil {
			return err
		}
	}
}

// short quotes the beginning of a line.
func short(s string) string {
	if len(s) > 24 {
		s = s[:24] + "…"
	}
	return strconv.QuoteToASCII(s)
}

var errCut = errors.New("the file has no end mark: it was cut short")
