package main

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// noteFilter says which notes are wanted.
type noteFilter struct {
	place, from, to, setting string
	all                      bool // also those that were corrected or taken back
}

func (f *noteFilter) add(c *cobra.Command) {
	c.Flags().StringVar(&f.place, "place", "", "notes whose place has this `TEXT`")
	c.Flags().StringVar(&f.from, "from", "", "notes from this `DATE` on, 2026-11-25")
	c.Flags().StringVar(&f.to, "to", "", "notes up to this `DATE`")
	c.Flags().StringVar(&f.setting, "setting", "", "notes whose setting's id has this `TEXT`")
}

// of returns the notes that pass.
func (f *noteFilter) of(notes []logbook.Note, called func(id string) string) ([]logbook.Note, error) {
	for _, d := range []string{f.from, f.to} {
		if _, err := time.Parse("2006-01-02", d); d != "" && err != nil {
			return nil, fmt.Errorf("date %q; write it as 2026-11-25", d)
		}
	}
	var kept []logbook.Note
	for _, n := range notes {
		day := n.At.Format("2006-01-02")
		if strings.Contains(strings.ToLower(n.Venue), strings.ToLower(f.place)) && (strings.Contains(n.Setting, f.setting) || strings.Contains(called(n.Setting), f.setting)) &&
			(f.from == "" || day >= f.from) && (f.to == "" || day <= f.to) {
			kept = append(kept, n)
		}
	}
	return kept, nil
}

// listWidth is how wide a list of notes is at most, without what hangs.
const listWidth = 76

func newNoteList() *cobra.Command {
	var f noteFilter
	var o options
	c := &cobra.Command{
		Use:               "list CARFILE",
		Example:           "  stanchion note list car.toml\n  stanchion note list car.toml --format csv",
		Short:             "list the notes",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			notes, err := filtered(cmd, args[0], &f, &o)
			if err != nil {
				return err
			}
			if o.format == "json" {
				return notesJSON(cmd, notes)
			}
			p, called, u := out(cmd), settingNames(args[0]), unitsBeside(args[0])
			for _, n := range notes {
				p.f("%s\n", strings.Join(widgets.Flow(n.Parts(called(n.Setting), u), listWidth), "\n    "))
			}
			if len(notes) == 0 {
				return noAnswer("%s: no notes", args[0])
			}
			return p.err
		},
	}
	f.add(c)
	o.add(c, "", "text", "json")
	return c
}

// settingNames says what settings of a car file are called, by their ids; a setting that the file no longer has, or
// all where it cannot be read, by its id.
func settingNames(carFile string) func(id string) string {
	var names map[string]string
	if car, err := loadCar(carFile); err == nil {
		names, _ = car.SettingNames()
	}
	return func(id string) string { return cmp.Or(names[id], id) }
}

func filtered(cmd *cobra.Command, name string, f *noteFilter, o *options) ([]logbook.Note, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	b, err := book(cmd, name)
	if err != nil {
		return nil, err
	}
	notes := b.InForce()
	if f.all {
		notes = b.All
	}
	return f.of(notes, settingNames(name))
}

func newNoteShow() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:               "show CARFILE ID",
		Example:           "  stanchion note show car.toml 2026-05-31.1",
		Short:             "one note, whole, with what was predicted then",
		Args:              arguments(2, 2),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			notes, b, err := theNotes(cmd, &o, args[0], args[1])
			if err != nil {
				return err
			}
			n := notes[0]
			if o.format == "json" {
				return writeJSON(cmd.OutOrStdout(), noteJSON(n))
			}
			u := unitsBeside(args[0])
			p := out(cmd)
			p.f("note %s\n", units.Printable(n.ID))
			if by := b.ReplacedBy(n.ID); by.Withdrawn {
				p.f("TAKEN BACK by note %s: it counts nowhere.\n", by.ID)
			} else if by.ID != "" {
				p.f("CORRECTED by note %s: it counts nowhere.\n", by.ID)
			}
			called := settingNames(args[0])
			n.Setting = called(n.Setting)
			for _, f := range n.Facts(u) {
				p.f("  %-24s %s\n", f.What, f.Text)
			}
			if d := digest(args[0]); d != n.Car {
				p.f("\nThe car file has changed since: what was predicted then stands above.\n")
			}
			return p.err
		},
	}
	o.add(c, "", "text", "json")
	return c
}

// theNotes returns the notes with the ids, and their notebook.
func theNotes(cmd *cobra.Command, o *options, name string, ids ...string) ([]logbook.Note, logbook.Book, error) {
	if err := o.check(); err != nil {
		return nil, logbook.Book{}, err
	}
	b, err := book(cmd, name)
	if err != nil {
		return nil, logbook.Book{}, err
	}
	var notes []logbook.Note
	for _, id := range ids {
		n, ok := b.Find(id)
		if !ok {
			return nil, b, noAnswer("%s: there is no note %q: \"stanchion note list\" lists them", name, id)
		}
		notes = append(notes, n)
	}
	return notes, b, nil
}

func newNoteCompare() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:               "compare CARFILE ID ID",
		Example:           "  stanchion note compare car.toml 2026-05-31.1 2026-05-31.2",
		Short:             "two notes: what changed, and what it did",
		Args:              arguments(3, 3),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			notes, _, err := theNotes(cmd, &o, args[0], args[1:]...)
			if err != nil {
				return err
			}
			a, b := notes[0], notes[1]
			type change struct {
				What string `json:"what"`
				From any    `json:"from"`
				To   any    `json:"to"`
			}
			changes := []change{}
			for _, c := range noteColumns() {
				if x, y := c.of(a), c.of(b); !reflect.DeepEqual(x, y) && !slices.Contains([]string{"id", "replaces", "withdrawn", "restores", "confirms"}, c.name) {
					changes = append(changes, change{c.name, x, y})
				}
			}
			if o.format == "json" {
				return writeJSON(cmd.OutOrStdout(), struct {
					Changes []change `json:"changes"`
				}{changes})
			}
			p := out(cmd)
			p.f("%s → %s\n", units.Printable(a.ID), units.Printable(b.ID))
			called := settingNames(args[0])
			said := words.LapsOfTwo(a, b, called)
			a.Setting, b.Setting = called(a.Setting), called(b.Setting)
			for _, c := range logbook.Changes(a, b, unitsBeside(args[0])) {
				p.f("  %-24s %s → %s\n", c.What, c.From, c.To)
			}
			for _, l := range said {
				p.f("%s\n", l)
			}
			return p.err
		},
	}
	o.add(c, "", "text", "json")
	return c
}

// tableAndBook opens a car file's settings and its notebook.
func tableAndBook(cmd *cobra.Command, o *options, name string) (*model.Table, logbook.Book, error) {
	t, err := o.table(name)
	if err != nil {
		return nil, logbook.Book{}, err
	}
	b, err := book(cmd, name)
	return t, b, err
}
