package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"stanchion/model/carfile"
)

// jobLine is a command of the jobs script that prints for people.
var jobLine = regexp.MustCompile(`(?m)^!? ?exec stanchion (.*)$`)

// On a terminal no command prints a line that is wider than it: each command at one of two widths, at both with WIDTHS=all.
func TestNoLineOverTheWidth(t *testing.T) {
	script, err := os.ReadFile("../../testdata/scripts/jobs.txtar")
	if err != nil {
		t.Fatal(err)
	}
	cars, err := filepath.Abs("../../testdata/cars")
	if err != nil {
		t.Fatal(err)
	}
	var all [][]string
	for _, m := range jobLine.FindAllStringSubmatch(string(script), -1) {
		if !strings.Contains(m[1], "--format") {
			all = append(all, strings.Fields(strings.ReplaceAll(strings.ReplaceAll(m[1], "$CARS", cars), "'1 A2'", "1+A2")))
		}
	}
	if len(all) < 15 {
		t.Fatalf("%d commands in the jobs script", len(all))
	}
	for _, demo := range carfile.Demos() {
		car := "demo:" + demo
		for _, line := range []string{"check " + car, "map " + car, "map " + car + " --each", "pick " + car + " --downforce most", "why " + car, "clear " + car,
			"strength " + car, "parts " + car, "cutting " + car, "sweep " + car, "track " + car, "datum " + car, "note list " + car, "front " + car + " --share 50"} {
			words := strings.Fields(line)
			if solves := slices.Contains([]string{"check", "strength", "pick"}, words[0]); solves && os.Getenv("WIDTHS") == "" {
				continue // the jobs have one of each
			}
			all = append(all, words)
		}
	}
	for _, c := range newRoot().Commands() {
		all = append(all, []string{c.Name(), "--help"})
	}
	all = append(all, []string{"--help"}, []string{"help", "carfile"}, []string{"help", "measuring"}, []string{"help", "method"}, []string{"help", "exit-codes"})
	t.Chdir(t.TempDir())
	for i, args := range all {
		for k, cells := range []int{80, 60} {
			if i%2 != k && os.Getenv("WIDTHS") == "" {
				continue
			}
			var out, fault bytes.Buffer
			runOn(args, &out, &fault, terminalExtent(cells, 0))
			for _, l := range strings.Split(out.String(), "\n") {
				if n := utf8.RuneCountInString(l); n > cells {
					t.Errorf("stanchion %s: %d cells on a terminal of %d: %s", strings.Join(args, " "), n, cells, l)
				}
			}
		}
	}
}

// A usage has no bracket followed by a parenthesis: the man pages take the two for a link and lose the bracket.
func TestUsageIsNoLink(t *testing.T) {
	for _, c := range newRoot().Commands() {
		if strings.Contains(c.Use, "] (") || strings.Contains(c.Use, "](") {
			t.Errorf("%s", c.Use)
		}
	}
}
