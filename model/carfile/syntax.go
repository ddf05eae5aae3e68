package carfile

import (
	"errors"
	"regexp"
	"strings"

	"stanchion/model/toml"
)

// decoded returns the values of a document that is known to be sound.
func decoded(doc []byte) (map[string]any, error) {
	values := map[string]any{}
	err := toml.Decode(string(doc), &values)
	return values, err
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
		err := toml.Decode(strings.Join(lines, "\n"), &values)
		if err == nil {
			if values == nil {
				values = map[string]any{}
			}
			return strings.Join(lines, "\n"), values
		}
		var e *toml.Error
		if !errors.As(err, &e) {
			r.faults = append(r.faults, Fault{r.file, 1, 1, err.Error(), "", NotTOML})
			return "", nil
		}
		n := e.Line - 1
		if n >= len(lines) || n == last+1 {
			return "", nil // an earlier fault carries on
		}
		line := lines[n]
		what, do := e.What, e.Do
		if decimalComma.MatchString(line) {
			what, do = "a comma inside a number", "use a decimal point, not a comma"
		}
		r.faults = append(r.faults, Fault{r.file, n + 1, e.Col, what, do, NotTOML})
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
