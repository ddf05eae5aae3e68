package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

var shellWord = regexp.MustCompile(`"[^"]*"|\S+`)

// Every command that does something has an example, and every example is one: the command is there, its flags are known and take what they are
// given, and the arguments are as many as they may be.
func TestEveryCommandHasExamples(t *testing.T) {
	var look func(c *cobra.Command)
	n := 0
	look = func(c *cobra.Command) {
		if c.Runnable() && !c.HasSubCommands() && !c.Hidden && c.Parent().Name() != "completion" && c.Name() != "help" && c.Example == "" {
			t.Errorf("%s has no example", c.CommandPath())
		}
		for _, line := range strings.Split(c.Example, "\n") {
			line = strings.TrimSpace(line)
			command, _, _ := strings.Cut(line, "   ") // what it is for stands behind
			var words []string
			for _, w := range shellWord.FindAllString(command, -1) {
				words = append(words, strings.Trim(w, `"`))
			}
			if len(words) == 0 {
				continue
			}
			n++
			root := newRoot()
			at, rest, err := root.Find(words[1:])
			if words[0] != "stanchion" || err != nil || c.HasParent() && at.CommandPath() != c.CommandPath() {
				t.Errorf("%s: %q is of another command: %v", c.CommandPath(), line, err)
				continue
			}
			if err := at.ParseFlags(rest); err != nil {
				t.Errorf("%q: %v", line, err)
				continue
			}
			if err := at.ValidateArgs(at.Flags().Args()); err != nil && at.HasParent() {
				t.Errorf("%q: %v", line, err)
			}
		}
		for _, sub := range c.Commands() {
			look(sub)
		}
	}
	look(newRoot())
	if n < 60 {
		t.Errorf("%d examples are found", n)
	}
}
