// Package toml is the one door through which TOML gets into the program: it decodes
// text that may be hostile, says where keys and values stand, and spells strings.
// The decoding itself is the library's; this package keeps it from being given what
// it cannot take, and from telling the person less than it knows.
package toml

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	library "github.com/BurntSushi/toml"
)

// Error is what keeps a text from being read, at a place counted from 1.
type Error struct {
	Line, Col int
	What      string // what is wrong
	Do        string // what to do about it; "" when there is nothing to say
}

func (e *Error) Error() string {
	text := fmt.Sprintf("line %d: %s", e.Line, e.What)
	if e.Do != "" {
		text += "; " + e.Do
	}
	return text
}

// maxNesting is the deepest nesting of brackets, and of tables in a dotted key, that
// is read. The library's parser calls itself once for each level.
const maxNesting = 60

// Text returns a file's bytes as text without its byte-order mark, or an *Error when
// they are not UTF-8.
func Text(data []byte) (string, error) {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}) {
		return "", &Error{1, 1, "the file is UTF-16", "save it as UTF-8"}
	}
	if !utf8.Valid(data) {
		return "", &Error{1 + bytes.Count(data[:invalidAt(data)], []byte("\n")), 1, "the file is not UTF-8", "save it as UTF-8"}
	}
	return string(data), nil
}

// Decode decodes text into v, which is a pointer as for the library. Its error is an
// *Error.
func Decode(text string, v any) error {
	if line := tooDeep(text); line > 0 {
		return &Error{line, 1, fmt.Sprintf("brackets or tables nest more than %d deep", maxNesting), `write it flat, as "stanchion new" does`}
	}
	_, err := library.Decode(text, v)
	if err == nil {
		return nil
	}
	var pe library.ParseError
	if errors.As(err, &pe) {
		line, col := placed(text, pe)
		return &Error{line, col, "not TOML: " + pe.Message, ""}
	}
	return &Error{1, 1, strings.SplitN(err.Error(), "\n", 2)[0], ""}
}

// placed is where an error is. The library counts a header that is not closed to the line below it, and some columns beyond the line's
// end.
func placed(text string, e library.ParseError) (line, col int) {
	line, col = max(1, e.Position.Line), max(1, e.Position.Col)
	if line > 1 && strings.Contains(e.Message, "table") && strings.HasSuffix(e.Message, `but got '\n' instead`) {
		line--
	}
	if lines := strings.SplitN(text, "\n", line+1); line <= len(lines) {
		col = min(col, len(lines[line-1])+1)
	}
	return line, col
}

func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		c, n := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// tooDeep returns the line at which brackets, or tables in a dotted key, nest too
// deeply, or 0. Those in strings and comments do not count. On text that is not TOML
// the parser stops at or before the place where this reading and its own part.
func tooDeep(text string) int {
	depth, line, dots := 0, 1, 0
	for i := 0; i < len(text); {
		switch c := text[i]; c {
		case '\n':
			line++
			dots = 0
		case '#':
			for i < len(text) && text[i] != '\n' {
				i++
			}
			continue
		case '"', '\'':
			n := stringLength(text[i:])
			line += strings.Count(text[i:i+n], "\n")
			i += n
			continue
		case '=', ',':
			dots = 0
		case '.':
			if dots++; dots > maxNesting {
				return line
			}
		case '[', '{':
			if depth++; depth > maxNesting {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
		i++
	}
	return 0
}

// stringLength returns how many bytes a string of any of the four kinds takes with its
// marks. One on a single line that is not closed ends before the line does.
func stringLength(text string) int {
	q := text[:1]
	if long := q + q + q; strings.HasPrefix(text, long) {
		for i := 3; i < len(text); i++ {
			switch {
			case text[i] == '\\' && q == `"`:
				i++
			case strings.HasPrefix(text[i:], long):
				for i += 3; i < len(text) && text[i] == q[0]; i++ { // quotes that belong to the string's end
				}
				return i
			}
		}
		return len(text)
	}
	for i := 1; i < len(text); i++ {
		switch {
		case text[i] == '\n':
			return i
		case text[i] == '\\' && q == `"`:
			i++
		case text[i] == q[0]:
			return i + 1
		}
	}
	return len(text)
}

// Decimal spells a number with at most n digits behind the point.
func Decimal(x float64, n int) string {
	p := math.Pow10(n)
	return strconv.FormatFloat(math.Round(x*p)/p+0, 'f', -1, 64)
}

// Quote spells a text as a TOML string on one line. Bytes that are not UTF-8 are
// replaced.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
