package words

import (
	"slices"
	"testing"
)

// By hand, at 10 cells.
func TestHang(t *testing.T) {
	for line, want := range map[string][]string{
		"":                {""},
		"short":           {"short"},
		"ten cells.":      {"ten cells."},
		"eleven cell":     {"eleven", "  cell"},
		"a b c d e f g":   {"a b c d e", "  f g"},
		"  in two three":  {"  in two", "    three"},
		"averylongword b": {"averylongword", "  b"},
		"± ± ± ± ± ±":     {"± ± ± ± ±", "  ±"},
		"a  b":            {"a  b"},
	} {
		if got := Hang(line, 10); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
}
