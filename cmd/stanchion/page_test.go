package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// laid is text as it is printed on an extent.
func laid(e extent, text string) string {
	var b bytes.Buffer
	p := newPage(&b, e)
	for _, r := range text { // however it comes
		_ = p.print(string(r))
	}
	_ = p.end(&b, nil)
	return b.String()
}

// Prose hangs where its text begins; a table's row is one line in a pipe, and stacked on a narrow terminal, headings
// with their units.
func TestPageByHand(t *testing.T) {
	pipe, narrow := extent{30, endless.rows, 0}, terminalExtent(30, 0)
	const table = "  name       downforce   drag\n                     N      N\n  row 1, A1        149     12\n  row 2, A1        144     13\n"
	for _, c := range []struct {
		what, text, want string
		on               extent
	}{
		{"prose", "one two three four five six seven\n", "one two three four five six\n  seven\n", pipe},
		{"a step", "10. one two three four five six\n", "10. one two three four five\n    six\n", pipe},
		{"a named line", "  limits    one two three four five\n", "  limits    one two three four\n            five\n", pipe},
		{"no end of line", "file.toml", "file.toml", pipe},
		{"a long word", "see /a/path/that/cannot/be/broken/anywhere\n", "see\n  /a/path/that/cannot/be/broken/anywhere\n", pipe},
		{"a table that fits", table, table, narrow},
		{"a table in a pipe", "  a   b   c " + strings.Repeat("d", 40) + "\n", "  a   b   c " + strings.Repeat("d", 40) + "\n", pipe},
		{"a table", table, "  name       downforce\n                     N\n      drag\n         N\n  row 1, A1        149\n        12\n  row 2, A1        144\n        13\n", terminalExtent(25, 0)},
		{"below the second column", "  1  name a   1200   1300\n  2  name b   1201   1301\n", "  1  name a   1200\n     1300\n  2  name b   1201\n     1301\n", terminalExtent(20, 0)},
	} {
		if got := laid(c.on, c.text); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.what, got, c.want)
		}
	}
}

// On a terminal that is too narrow for a laid-out paragraph the whole of it is broken anew; tables, files and commands keep their lines.
func TestReflowByHand(t *testing.T) {
	const (
		a = "one two three four five six seven eight nine ten eleven twelve thirteen"
		b = "fourteen fifteen"
	)
	for _, c := range []struct{ what, text, want string }{
		{"a paragraph", a + "\n" + b + "\n", "one two three four five six seven eight nine ten eleven\ntwelve thirteen fourteen fifteen\n"},
		{"an item", "- " + a + "\n  " + b + "\n- next\n", "- one two three four five six seven eight nine ten eleven\n  twelve thirteen fourteen fifteen\n- next\n"},
		{"a short line ends a paragraph", "one two\n" + a + "\n", "one two\none two three four five six seven eight nine ten eleven\n  twelve thirteen\n"},
		{"a car file", "# " + a + "\n# " + b + "\n", "# one two three four five six seven eight nine ten eleven\n  twelve thirteen\n# " + b + "\n"},
		{"behind a name", "  1  " + a + "\n     " + b + "\n", "  1  one two three four five six seven eight nine ten eleven\n     twelve thirteen fourteen fifteen\n"},
		{"rows of a table", "  1  " + a + "\n  2  " + b + "\n", "  1  one two three four five six seven eight nine ten eleven\n     twelve thirteen\n  2  " + b + "\n"},
		{"a command", "  stanchion " + a + "\n  stanchion " + b + "\n", "  stanchion one two three four five six seven eight nine ten\n    eleven twelve thirteen\n  stanchion " + b + "\n"},
		{"a sentence about the program", "stanchion " + a + "\n" + b + "\n", "stanchion one two three four five six seven eight nine ten\neleven twelve thirteen fourteen fifteen\n"},
		{"a blank line", a + "\n\n" + b + "\n", "one two three four five six seven eight nine ten eleven\n  twelve thirteen\n\n" + b + "\n"},
	} {
		var out bytes.Buffer
		if err := newPage(&out, terminalExtent(60, 0)).verbatim(c.text); err != nil || out.String() != c.want {
			t.Errorf("%s: %v\n%s\nwant\n%s", c.what, err, out.String(), c.want)
		}
		out.Reset()
		if err := newPage(&out, terminalExtent(90, 0)).verbatim(c.text); err != nil || out.String() != c.text {
			t.Errorf("%s, with room: %v\n%s", c.what, err, out.String())
		}
	}
}

// Columns of the map give way in their order, and it is said which.
func TestMapGivesWay(t *testing.T) {
	var wide, narrow bytes.Buffer
	runOn([]string{"map", "demo"}, &wide, &wide, terminalExtent(200, 0))
	runOn([]string{"map", "demo"}, &narrow, &narrow, terminalExtent(80, 0))
	if strings.Contains(wide.String(), "no room") || !strings.Contains(wide.String(), "attack") {
		t.Errorf("200 cells:\n%.600s", wide.String())
	}
	if !strings.Contains(narrow.String(), "no room for attack, CL, Δrear, Δfront: a wider terminal") || !strings.Contains(narrow.String(), "\n    ✗ ") {
		t.Errorf("80 cells:\n%.600s", narrow.String())
	}
}

// A long answer goes through $PAGER, a short one does not; a pager that cannot be started, or is left early, takes
// nothing from the answer or its exit code.
func TestPager(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the pager of this test is a shell script")
	}
	dir := t.TempDir()
	script := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("#!/bin/sh\n"+text), 0o700); err != nil {
			t.Fatal(err)
		}
		return path
	}
	t.Setenv("TERM", "xterm")
	marks := script("marks", "sed 's/^/> /'\nexit 3\n")
	early := script("early", "head -n 1\n")
	for _, c := range []struct {
		what, pager string
		args        []string
		height      int
		code        int
		begins      string
		lines       int // of what is shown; 0 for all
	}{
		{"long", marks, []string{"map", "demo"}, 24, 0, "> Demo coup", 0},
		{"long with an exit code", marks, []string{"clear", "demo"}, 24, 1, "> Demo coup", 0},
		{"short", marks, []string{"map", "demo"}, 500, 0, "Demo coup", 0},
		{"left early", early, []string{"map", "demo"}, 10, 0, "Demo coup", 1},
		{"not there", filepath.Join(dir, "none"), []string{"map", "demo"}, 10, 0, "Demo coup", 0},
		{"cat", "cat", []string{"map", "demo"}, 10, 0, "Demo coup", 0},
		{"empty", "", []string{"map", "demo"}, 10, 0, "Demo coup", 0},
		{"not wanted", marks, []string{"map", "demo", "--no-pager"}, 10, 0, "Demo coup", 0},
		{"data", marks, []string{"map", "demo", "--format", "csv"}, 10, 0, "id,", 0},
		{"a file", marks, []string{"map", "demo"}, 0, 0, "Demo coup", 0},
	} {
		t.Setenv("PAGER", c.pager)
		var out, fault bytes.Buffer
		code := runOn(c.args, &out, &fault, terminalExtent(80, c.height))
		n := strings.Count(out.String(), "\n")
		if code != c.code || !strings.HasPrefix(out.String(), c.begins) || c.lines > 0 && n != c.lines || c.lines == 0 && n < 15 {
			t.Errorf("%s: code %d, %d lines: %.60q, %s", c.what, code, n, out.String(), fault.String())
		}
	}
	os.Unsetenv("PAGER")
	if _, err := exec.LookPath("less"); err == nil && !slices.Equal(pagerSaid(), []string{"less"}) {
		t.Errorf("without $PAGER: %v", pagerSaid())
	}
	t.Setenv("TERM", "dumb")
	if pagerSaid() != nil {
		t.Error("a terminal without a screen has a pager")
	}
}

// A terminal that knows no escape sequences gets none.
func TestWiped(t *testing.T) {
	t.Setenv("TERM", "dumb")
	if got := wiped("abc …"); got != "\r     \r" {
		t.Errorf("%q", got)
	}
	t.Setenv("TERM", "xterm")
	if got := wiped("abc …"); got != "\r\x1b[K" {
		t.Errorf("%q", got)
	}
}
