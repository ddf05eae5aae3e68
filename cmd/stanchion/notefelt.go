package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model/logbook"
	"stanchion/model/units"
)

// feltFlags are how a setting felt, and what that may have hung on, on the command line.
type feltFlags struct {
	text  map[string]*string
	given func(name string) bool
}

// feltFlag is one of them.
type feltFlag struct {
	name, usage string
	read        func(n *logbook.Note, text string) error
	takeOut     func(n *logbook.Note)
}

// list gives them in the order of the help text.
func (feltFlags) list(u units.System) []feltFlag {
	blank := logbook.Blank()
	corner := func(name, kind string, to func(*logbook.Feel) *logbook.Corner) feltFlag {
		return feltFlag{name, "`FEEL` of " + kind + " corners, such as o2, \"u1 n o2\" (entry, middle, exit) or \"n g-2\"",
			func(n *logbook.Note, text string) (err error) {
				*to(&n.Feel), err = logbook.ReadCorner(text)
				return err
			}, func(n *logbook.Note) { *to(&n.Feel) = *to(&blank.Feel) }}
	}
	short := func(name, where string, to func(*logbook.Feel) *int) feltFlag {
		return feltFlag{name, "`STABILITY` " + where + ", 0 stable to -3 very unstable", func(n *logbook.Note, text string) (err error) {
			*to(&n.Feel), err = logbook.ReadShortfall(text)
			return err
		}, func(n *logbook.Note) { *to(&n.Feel) = logbook.NoFeel }}
	}
	grip := func(name string, to func(*logbook.Feel) *int) feltFlag {
		return feltFlag{name, "`GRIP` from -3 to 3 of that axle in corners of that kind", func(n *logbook.Note, text string) (err error) {
			*to(&n.Feel), err = logbook.ReadGrip(text)
			return err
		}, func(n *logbook.Note) { *to(&n.Feel) = logbook.NoFeel }}
	}
	text := func(name, usage string, to func(*logbook.Note) *string) feltFlag {
		return feltFlag{name, usage, func(n *logbook.Note, text string) error {
			*to(n) = text
			return nil
		}, func(n *logbook.Note) { *to(n) = "" }}
	}
	all := []feltFlag{
		corner("fast", "fast", func(f *logbook.Feel) *logbook.Corner { return &f.Fast }),
		corner("slow", "slow", func(f *logbook.Feel) *logbook.Corner { return &f.Slow }),
		short("braking", "under braking", func(f *logbook.Feel) *int { return &f.Braking }),
		short("straight", "on the straight", func(f *logbook.Feel) *int { return &f.Straight }),
		grip("front-slow", func(f *logbook.Feel) *int { return &f.FrontSlow }),
		grip("rear-slow", func(f *logbook.Feel) *int { return &f.RearSlow }),
		grip("front-fast", func(f *logbook.Feel) *int { return &f.FrontFast }),
		grip("rear-fast", func(f *logbook.Feel) *int { return &f.RearFast }),
		text("tyre-set", "type or set of the tyres, free `TEXT`", func(n *logbook.Note) *string { return &n.TyreSet }),
		text("driver", "who drove, free `TEXT`", func(n *logbook.Note) *string { return &n.Driver }),
		{"track", "how the `TRACK` was: dry, damp or wet", func(n *logbook.Note, text string) (err error) {
			n.Track, err = logbook.ReadTrack(text)
			return err
		}, func(n *logbook.Note) { n.Track = "" }},
	}
	for _, l := range logbook.Lines() {
		all = append(all, feltFlag{l.Flag, l.Usage, func(n *logbook.Note, text string) error { return l.Read(n, text, u) }, l.Clear})
	}
	return all
}

// add gives a command the flags.
func (f *feltFlags) add(c *cobra.Command) {
	f.text, f.given = map[string]*string{}, c.Flags().Changed
	for _, k := range f.list(units.Metric) {
		f.text[k.name] = c.Flags().String(k.name, "", k.usage)
	}
}

// read puts them into a note; one that was given empty is taken out.
func (f *feltFlags) read(n *logbook.Note, given func(flag string) bool, u units.System) error {
	for _, k := range f.list(u) {
		text := *f.text[k.name]
		if text == "" {
			if given(k.name) {
				k.takeOut(n)
			}
			continue
		}
		if err := k.read(n, text); err != nil {
			return fmt.Errorf("--%s %w", k.name, err)
		}
	}
	g := f.given
	n.Feel.Corrected(g("fast"), g("front-fast") || g("rear-fast"), g("slow"), g("front-slow") || g("rear-slow"))
	return n.Check()
}
