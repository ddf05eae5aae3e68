package units

import (
	"testing"

	"pgregory.net/rapid"
)

func TestCells(t *testing.T) {
	for _, c := range []struct{ text, cell, exact string }{
		{"=1+1", "'=1+1", "'=1+1"},
		{"calm", "calm", "calm"},
		{"'=quoted", "''=quoted", "''=quoted"},
		{"x;=1\n - y", "x;'=1\n '- y", "x;'=1\n '- y"},
		{"a\tb", "a b", `a\u0009b`},
		{"\x1b[2J", `\u001b[2J`, `\u001b[2J`},
		{`C:\u0041`, `C:\u0041`, `C:\u005cu0041`},
		{"\U000e0001", `\ue0001`, `\U000e0001`},
		{"O'Neill's", "O'Neill's", "O'Neill's"},
	} {
		if got := Cell(c.text); got != c.cell {
			t.Errorf("Cell(%q) = %q, want %q", c.text, got, c.cell)
		}
		if got := ExactCell(c.text, ""); got != c.exact {
			t.Errorf("ExactCell(%q) = %q, want %q", c.text, got, c.exact)
		}
		if got := FromExactCell(c.exact); got != c.text {
			t.Errorf("FromExactCell(%q) = %q, want %q", c.exact, got, c.text)
		}
	}
}

// What a cell is made of comes back, and no spreadsheet takes a line of it for a formula.
func TestExactCellComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("'=-+@;\n\t\r \\uU0001005c\x1b\u00a0\u2028")))).Draw(t, "text")
		also := rapid.SampledFrom([]string{"", ";\n"}).Draw(t, "also")
		cell := ExactCell(text, also)
		if got := FromExactCell(cell); got != text {
			t.Fatalf("%q became %q by way of %q", text, got, cell)
		}
		for _, m := range formula.FindAllStringSubmatch(cell, -1) {
			if m[3][0] != '\'' {
				t.Fatalf("%q of %q may be a formula", m[3], cell)
			}
		}
	})
}
