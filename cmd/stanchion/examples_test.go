package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// exampleID finds ids of settings in examples.
var exampleID = regexp.MustCompile(`^([A-C][0-9](\+[0-9])?|[A-Z]:[^ ]*)$`)

// An id in an example tells one setting of the demo car from the others, so that the example runs as it is printed.
func TestExamplesNameOneSetting(t *testing.T) {
	table, err := tableOf("demo", "")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		for _, line := range strings.Split(c.Example, "\n") {
			for _, word := range strings.Fields(line) {
				if !exampleID.MatchString(word) || c.Name() == "why" || strings.Contains(line, "row ") { // holes, and an id in several words
					continue
				}
				found++
				if _, err := pickRow(table, []string{word}); err != nil {
					t.Errorf("%s: %v", strings.TrimSpace(line), err)
				}
			}
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	if walk(newRoot()); found < 10 {
		t.Errorf("%d ids in all examples", found)
	}
}
