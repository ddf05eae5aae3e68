package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// forNotes refuses flags that belong to a note where none is made.
func (f *checksFlags) forNotes(cmd *cobra.Command) error {
	for _, flag := range []string{"done", "failed", "struck", "by", "found", "at"} {
		if cmd.Flags().Changed(flag) {
			return fmt.Errorf("--%s: nothing is noted; give --done ITEMS, --failed ITEMS or --struck kerb, spin or contact", flag)
		}
	}
	return nil
}

// note puts what was done into the notebook, and says what is left.
func (f *checksFlags) note(cmd *cobra.Command, args []string) error {
	if f.blank || f.out != "" || f.date != "" {
		return errors.New("--blank, --date and -o are for the list; note what was done first, then print it")
	}
	if _, demo := demoName(args[0]); demo {
		_, err := book(cmd, args[0])
		return err
	}
	car, err := loadCar(args[0])
	if err != nil {
		return err
	}
	r, err := f.report(cmd, args[0], car)
	if err != nil {
		return err
	}
	look := logbook.Inspection{Found: f.found, By: f.by, Struck: f.struck, Setting: r.OnCar}
	for _, k := range []struct {
		flag, text string
		keys       *[]string
	}{{"done", f.done, &look.Looked}, {"failed", f.failed, &look.Failed}} {
		wrong := ""
		if *k.keys, wrong = r.ReadItems(k.text); wrong != "" {
			return fmt.Errorf("--%s: no item %q; the car has %s", k.flag, wrong, strings.Join(itemKeys(*r), ", "))
		}
	}
	if len(args) > 1 {
		t, err := f.table(args[0])
		if err != nil {
			return err
		}
		row, err := pickRow(t, args[1:])
		if err != nil {
			return err
		}
		look.Setting = row.ID
	}
	n, err := r.Note(look)
	if words := (inspect.NeedsWords{}); errors.As(err, &words) {
		return fmt.Errorf("%w, --found \"...\"", err)
	}
	if err != nil {
		return err
	}
	n.At = time.Now()
	if f.at != "" {
		if n.At, err = time.ParseInLocation("2006-01-02T15:04", f.at, time.Local); err != nil || n.At.Year() < 1970 || n.At.After(time.Now()) {
			return fmt.Errorf("--at %q; give a time such as 2026-11-25T10:30, not in the future", f.at)
		}
	}
	saved, told, err := saveNote(args[0], n)
	if told != "" {
		fmt.Fprintf(cmd.ErrOrStderr(), "a note that was cut short is set aside in %s\n", told)
	}
	if err != nil {
		return err
	}
	if f.format == "json" {
		return writeJSON(cmd.OutOrStdout(), struct {
			ID string `json:"id"`
		}{saved.ID})
	}
	p := out(cmd)
	p.f("saved as %s\n", saved.ID)
	for _, fact := range saved.Facts(shown(car)) {
		p.f("  %-24s %s\n", fact.What, fact.Text)
	}
	now, err := f.report(cmd, args[0], car)
	if err != nil {
		return err
	}
	for _, line := range words.ChecksHead(*now) {
		p.f("%s\n", line)
	}
	return p.err
}

// itemKeys are the keys of all items.
func itemKeys(r inspect.Report) (all []string) {
	for _, s := range r.Items {
		all = append(all, units.Printable(s.Key))
	}
	return all
}
