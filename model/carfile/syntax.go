package carfile

import (
	"errors"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// decoded returns the values of a document that is known to be sound.
func decoded(doc []byte) (map[string]any, error) {
	values := map[string]any{}
	_, err := toml.Decode(string(doc), &values)
	return values, err
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

// maxSyntax is how many faults of syntax are looked for: the library stops at
// the first, so each line that has one is blanked and the rest read again.
const maxSyntax = 20

var keyOfLine = regexp.MustCompile(`^\s*["']?([A-Za-z0-9_-]+)["']?\s*=`)

// syntax decodes the text. Lines that are not TOML are recorded and blanked in
// the text that it returns; values is nil when nothing can be made of the rest.
func (r *reader) syntax(text string) (kept string, values map[string]any) {
	r.broken = map[string]bool{}
	lines := strings.Split(text, "\n")
	last := -2
	for range maxSyntax {
		values = nil
		_, err := toml.Decode(strings.Join(lines, "\n"), &values)
		if err == nil {
			if values == nil {
				values = map[string]any{}
			}
			return strings.Join(lines, "\n"), values
		}
		var pe toml.ParseError
		if !errors.As(err, &pe) {
			r.faults = append(r.faults, Fault{r.file, 1, 1, err.Error(), ""})
			return "", nil
		}
		n := pe.Position.Line - 1
		if n < 0 || n >= len(lines) || n == last+1 {
			return "", nil // an earlier fault carries on
		}
		line := lines[n]
		what, allowed := "not TOML: "+pe.Message, ""
		if decimalComma.MatchString(line) {
			what, allowed = "a comma inside a number", "a point before decimals"
		}
		r.faults = append(r.faults, Fault{r.file, n + 1, max(1, pe.Position.Col), what, allowed})
		key := keyOfLine.FindStringSubmatch(line)
		if trimmed := strings.TrimSpace(line); trimmed == "" || strings.HasPrefix(trimmed, "[") || key == nil && !strings.Contains(line, "{") {
			return "", nil
		}
		if key != nil {
			r.broken[key[1]] = true
		} else {
			r.broken[""] = true
		}
		lines[n], last = "", n
	}
	return "", nil
}

// decimalComma finds "= 1,5" where a value ends: at the end of the line, or
// before the next of an inline table.
var decimalComma = regexp.MustCompile(`=\s*-?[0-9]+,[0-9]+\s*(#.*|[,}].*)?$`)

// maxNesting is the deepest nesting of brackets that is read.
const maxNesting = 60

// nesting returns the line at which brackets, or tables in a dotted key, nest too
// deeply, or 0. Brackets in strings and comments count too, which no sensible file
// notices.
func nesting(text string) int {
	depth, line, dots := 0, 1, 0
	comment := false
	for i := range len(text) {
		switch c := text[i]; c {
		case '\n':
			line++
			dots, comment = 0, false
		case '#':
			comment = true
		case '=':
			dots = 0
		case '.':
			if dots++; dots > maxNesting && !comment {
				return line
			}
		case '[', '{':
			if depth++; depth > maxNesting {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		case ',':
			dots = 0 // between numbers
		}
	}
	return 0
}
