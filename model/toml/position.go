package toml

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Spot is a place in a file, counted from 1, columns in characters.
type Spot struct{ Line, Col int }

// Positions says where the keys and values of a TOML document stand, by their
// paths: "part[1].holes[3].d". The library that decodes the document gives no
// positions for what it has decoded, and the parsers that do give none for the ends
// of arrays, which edits need.
type Positions struct {
	Key, Value map[string]Spot
	From, To   map[string]int // byte offsets of the values, for changing them
}

// Locate walks a document that is known to be valid TOML. On one that is not it
// ends somewhere, without harm.
func Locate(doc string) Positions {
	s := &scanner{text: doc, line: 1, col: 1, found: Positions{map[string]Spot{}, map[string]Spot{}, map[string]int{}, map[string]int{}},
		rows: map[string]int{}}
	s.document()
	return s.found
}

// scanner is a position in the text and what was found up to there.
type scanner struct {
	text      string
	at        int
	line, col int
	found     Positions
	rows      map[string]int // how many rows each array of tables has so far
}

func (s *scanner) document() {
	table := ""
	for s.space(true); s.at < len(s.text); s.space(true) {
		from := s.at
		if s.peek() == '[' {
			table = s.header()
		} else {
			s.pair(table)
		}
		if s.at == from { // not TOML after all
			s.next()
		}
	}
}

// header reads [a.b] or [[a.b]] and returns the path of the table it opens.
func (s *scanner) header() string {
	here := Spot{s.line, s.col}
	s.next()
	array := s.peek() == '['
	if array {
		s.next()
	}
	path := ""
	keys := s.keys()
	for i, k := range keys {
		path = Join(path, k)
		if i < len(keys)-1 || !array {
			if n := s.rows[path]; n > 0 { // a table below the last row of an array
				path += "[" + strconv.Itoa(n-1) + "]"
			}
		}
	}
	if array {
		s.rows[path]++
		path += "[" + strconv.Itoa(s.rows[path]-1) + "]"
	}
	for s.peek() == ']' {
		s.next()
	}
	s.mark(path, here, here)
	return path
}

// mark keeps the first place at which a path is met.
func (s *scanner) mark(path string, key, value Spot) {
	if _, met := s.found.Key[path]; !met {
		s.found.Key[path], s.found.Value[path] = key, value
	}
}

// pair reads key = value in the table with the given path.
func (s *scanner) pair(table string) {
	here := Spot{s.line, s.col}
	path := table
	for _, k := range s.keys() {
		path = Join(path, k)
	}
	s.space(false)
	if s.peek() != '=' {
		return
	}
	s.next()
	s.space(false)
	s.mark(path, here, Spot{s.line, s.col})
	s.val(path)
}

// keys reads a dotted key.
func (s *scanner) keys() []string {
	var keys []string
	for {
		s.space(false)
		switch c := s.peek(); {
		case c == '"' || c == '\'':
			keys = append(keys, s.quoted())
		default:
			from := s.at
			for s.at < len(s.text) && !strings.ContainsRune(" \t\r\n=.[]{},#\"'", rune(s.peek())) {
				s.next()
			}
			keys = append(keys, s.text[from:s.at])
		}
		s.space(false)
		if s.peek() != '.' {
			return keys
		}
		s.next()
	}
}

// list reads what stands between brackets, apart by commas, up to the one that
// closes. It gives up where an item takes nothing from the text.
func (s *scanner) list(closing byte, item func(i int)) {
	s.next()
	for i := 0; ; i++ {
		s.space(true)
		if s.at >= len(s.text) || s.peek() == closing {
			break
		}
		from := s.at
		item(i)
		s.space(true)
		if s.peek() == ',' {
			s.next()
		}
		if s.at == from {
			return
		}
	}
	s.next()
}

// val reads a value, marking where it stands and what stands inside of it.
func (s *scanner) val(path string) {
	if _, met := s.found.From[path]; !met {
		s.found.From[path] = s.at
		defer func() { s.found.To[path] = s.at }()
	}
	switch s.peek() {
	case '"', '\'':
		s.quoted()
	case '[':
		s.list(']', func(i int) {
			p := path + "[" + strconv.Itoa(i) + "]"
			here := Spot{s.line, s.col}
			s.mark(p, here, here)
			s.val(p)
		})
	case '{':
		s.list('}', func(int) { s.pair(path) })
	default:
		for s.at < len(s.text) && !strings.ContainsRune(" \t\r\n,]}#", rune(s.peek())) {
			s.next()
		}
	}
}

// quoted reads a string of any of the four kinds and returns what it holds;
// escapes are left as they stand, which serves for finding keys.
func (s *scanner) quoted() string {
	q := s.text[s.at : s.at+1]
	mark := q
	if strings.HasPrefix(s.text[s.at:], q+q+q) {
		mark = q + q + q
	}
	for range len(mark) {
		s.next()
	}
	from := s.at
	for s.at < len(s.text) && !strings.HasPrefix(s.text[s.at:], mark) {
		if q == `"` && s.peek() == '\\' {
			s.next()
		}
		if s.at < len(s.text) {
			s.next()
		}
	}
	held := s.text[from:s.at]
	for range len(mark) {
		s.next()
	}
	if len(mark) == 3 {
		for strings.HasPrefix(s.text[s.at:], q) { // quotes that belong to the string's end
			s.next()
		}
	}
	return held
}

// space passes over blanks and, with lines, line ends and comments.
func (s *scanner) space(lines bool) {
	for s.at < len(s.text) {
		switch c := s.peek(); {
		case c == ' ' || c == '\t' || c == '\r':
			s.next()
		case lines && c == '\n':
			s.next()
		case lines && c == '#':
			for s.at < len(s.text) && s.peek() != '\n' {
				s.next()
			}
		default:
			return
		}
	}
}

func (s *scanner) peek() byte {
	if s.at >= len(s.text) {
		return 0
	}
	return s.text[s.at]
}

// next passes over one character.
func (s *scanner) next() {
	if s.at >= len(s.text) {
		return
	}
	r, n := utf8.DecodeRuneInString(s.text[s.at:])
	s.at += n
	s.col++
	if r == '\n' {
		s.line, s.col = s.line+1, 1
	}
}

// Join appends a key to a path.
func Join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
