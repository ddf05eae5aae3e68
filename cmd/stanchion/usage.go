package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
)

// oneCarFile allows no more than a car file. A word that neither is a file nor looks
// like the path of one is a mistyped command.
func oneCarFile(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if len(args) > 1 || !looksLikeFile(args[0]) {
		return unknown(root, args[0])
	}
	return nil
}

// looksLikeFile reports whether a word is meant as a car file: it is there, it has a
// folder or an ending, or it names a demo car.
func looksLikeFile(word string) bool {
	if _, demo := demoName(word); demo {
		return true
	}
	_, err := os.Stat(word)
	return err == nil || filepath.Ext(word) != "" || filepath.Base(word) != word || strings.HasPrefix(word, "demo:")
}

// needSubcommands makes every command that only holds others print its help when it
// is alone, and refuse a word that is none of them, which cobra would pass over.
func needSubcommands(c *cobra.Command) {
	for _, sub := range c.Commands() {
		needSubcommands(sub)
	}
	if c.Runnable() || !c.HasSubCommands() {
		return
	}
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknown(c, args[0])
		}
		return c.Help()
	}
}

// newHelp is "stanchion help WORDS". Cobra's own succeeds with a command that there
// is not.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND | TOPIC]",
		Short: "help on a command, or on a topic such as carfile, measuring or keys",
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			at, _, err := c.Root().Find(args)
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			names := subcommands(at)
			if len(args) == 0 {
				for _, t := range topics() {
					names = append(names, t.name+"\t"+t.short)
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				if t, ok := findTopic(args[0]); ok {
					p := out(c)
					return p.on.verbatim(t.text())
				}
			}
			at := c.Root()
			for _, word := range args {
				next, _, err := at.Find([]string{word})
				if err != nil || next == at {
					return unknown(at, word)
				}
				at = next
			}
			at.InitDefaultHelpFlag()
			at.InitDefaultVersionFlag()
			return at.Help()
		},
	}
}

// unknown says that a command has no subcommand of that name, and which is nearest.
func unknown(c *cobra.Command, word string) error {
	if c.SuggestionsMinimumDistance <= 0 {
		c.SuggestionsMinimumDistance = 2
	}
	fault := fmt.Sprintf("%s: unknown command %q", c.CommandPath(), word)
	if c.HasParent() {
		fault = fmt.Sprintf("%s: unknown subcommand %q", c.CommandPath(), word)
	} else if _, err := os.Stat(word); err != nil {
		fault += ", and there is no file of that name"
	}
	if near := c.SuggestionsFor(word); len(near) > 0 {
		return fmt.Errorf("%s; did you mean %s?", fault, strings.Join(near, " or "))
	}
	return fmt.Errorf("%s; use one of %s", fault, strings.Join(subcommands(c), ", "))
}

// subcommands are the names of a command's subcommands that are meant for people.
func subcommands(c *cobra.Command) []string {
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	return names
}

// many is no upper limit of words.
const many = 1 << 30

// arguments allows from least to most words behind a command, and names what is missing or
// too many by the command's own usage.
func arguments(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		names := strings.Fields(c.Use)[1:]
		usage := fmt.Sprintf("give \"%s %s\"", c.CommandPath(), strings.Join(names, " "))
		switch {
		case len(args) > most:
			return fmt.Errorf("%s: unexpected argument %q; %s", c.CommandPath(), args[most], usage)
		case len(args) < least:
			is := "is"
			if least-len(args) > 1 {
				is = "are"
			}
			return fmt.Errorf("%s: %s %s missing; %s", c.CommandPath(), strings.Join(names[len(args):least], " and "), is, usage)
		}
		return nil
	}
}
