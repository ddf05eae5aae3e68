package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newNoteRecover() *cobra.Command {
	var o options
	var write bool
	var confirm []string
	c := &cobra.Command{
		Use:   "recover CARFILE",
		Short: "put notes back that were cut short by a power cut",
		Long: `recover takes what can be read of notes that were cut short, in the notebook and in the files
.torn-N beside it, and makes notes of it again: every line up to the cut is a whole key. Such
a note says in its text that it was recovered, gets a new id where its own is taken, and is
not put back where the notebook has it already. A correction that was cut short takes what is
behind the cut from the note that it corrects.

Nothing is written before --write. Files of torn notes are kept: once all that they hold is in
the notebook they are called .recovered-N.

A note that was changed by hand is left as the person changed it. --confirm ID says that the
change is right: a new note with a checksum replaces it.`,
		Example:           "  stanchion note recover car.toml\n  stanchion note recover car.toml --write",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: onNotebook(&o, func(cmd *cobra.Command, args []string, path string) error {
			r, err := logbook.Recover(path, confirm, write, time.Now())
			if err != nil {
				return fmt.Errorf("%s: %w", path, plain(err))
			}
			if o.format == "json" {
				return recoveredJSON(cmd, &r, write)
			}
			return recoveredText(cmd, &r, write)
		}),
	}
	c.Flags().BoolVar(&write, "write", false, "write it into the notebook")
	c.Flags().StringArrayVar(&confirm, "confirm", nil, "`ID` of a note changed by hand whose change is right; may be repeated")
	o.add(c, "", "text", "json")
	return c
}

func recoveredText(cmd *cobra.Command, r *logbook.Recovery, written bool) error {
	p := out(cmd)
	for i := range r.Notes {
		for _, l := range words.PutBack(&r.Notes[i]) {
			p.f("%s\n", l)
		}
	}
	for _, name := range r.Held {
		p.f("%s: in the notebook already\n", heldIn(name))
	}
	for _, name := range r.Empty {
		p.f("%s: no key that can be read\n", heldIn(name))
	}
	for _, n := range r.Confirmed {
		p.f("note %s confirms what was changed by hand\n", n.ID)
	}
	if r.Aside != "" {
		p.f("what was cut short is set aside in %s\n", units.Printable(r.Aside))
	}
	for _, name := range r.Renamed {
		p.f("kept as %s\n", units.Printable(name))
	}
	switch n := len(r.Notes) + len(r.Confirmed); {
	case n == 0 && len(r.Held)+len(r.Empty) == 0:
		p.f("nothing to put back\n")
	case written && n > 0:
		p.f("Written; taken back one by one by: stanchion note undo CARFILE\n")
	case !written:
		p.f("Nothing is written yet: --write does it.\n")
	}
	return p.err
}

// heldIn is where a torn piece is.
func heldIn(name string) string {
	if name == "" {
		return "cut short in the notebook"
	}
	return units.Printable(filepath.Base(name))
}

func recoveredJSON(cmd *cobra.Command, r *logbook.Recovery, written bool) error {
	notes, confirmed := []object{}, []object{}
	for i := range r.Notes {
		n := &r.Notes[i]
		var was *string
		if n.WasID != "" {
			was = &n.WasID
		}
		notes = append(notes, object{{"note", noteJSON(n.Note)}, {"from", textOrNull(n.From)}, {"was_id", was}, {"keys", append([]string{}, n.Keys...)},
			{"cut_off_at", textOrNull(n.Cut)}, {"not_readable", append([]string{}, n.Unread...)}, {"time_not_known", n.Guessed},
			{"as_in_corrected", append([]string{}, n.Filled...)}, {"corrected_by", textOrNull(n.TakenBy)}})
	}
	for _, n := range r.Confirmed {
		confirmed = append(confirmed, object{{"note", n.ID}, {"confirms", textOrNull(n.Replaces)}})
	}
	return writeJSON(cmd.OutOrStdout(), object{{"file", r.Path}, {"written", written}, {"recovered", notes}, {"confirmed", confirmed},
		{"in_the_notebook", inFiles(r.Held, r.Path)}, {"no_key", inFiles(r.Empty, r.Path)}, {"set_aside", textOrNull(r.Aside)},
		{"renamed", append([]string{}, r.Renamed...)}})
}

// inFiles puts the notebook's path where a piece is in itself.
func inFiles(names []string, path string) []string {
	all := []string{}
	for _, n := range names {
		if n == "" {
			n = path
		}
		all = append(all, n)
	}
	return all
}
