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

// Behind a number, a name that blanks part from the text, or two blanks in; a number keeps its unit, and the last line
// is no single word.
func TestHangAtText(t *testing.T) {
	for line, want := range map[string][]string{
		"10. hold the upright against it":  {"10. hold the upright", "    against it"},
		"  drag    39 N and its own 41 N":  {"  drag    39 N and its", "          own 41 N"},
		"  drag  the wing costs 17 N more": {"  drag  the wing costs", "        17 N more"},
		"a long name before it  text":      {"a long name before it", "  text"},
		"  33 %  buckling   3.3 x load":    {"  33 %  buckling", "        3.3 x load"},
		"it is 1297 mm above the ± 3 N":    {"it is 1297 mm above", "  the ± 3 N"},
	} {
		if got := HangAtText(line, 22); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
	line := "An estimate, not approval: have a licensed engineer check what runs on track or road."
	if got := HangAtText(line, 80); len(got) != 2 || len(got[1])-2 < orphan {
		t.Errorf("%q", got)
	}
	if got := HangAtText("the places of all holes by EN 1993", 32); got[1] != "  EN 1993" {
		t.Errorf("%q", got)
	}
}
