package main

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// noteLogged writes what a recording tells into the notebook: a note of its setting, or of the last note's, at the time of the recording.
func noteLogged(cmd *cobra.Command, path string, t *model.Table, r recording, into func(*logbook.Note)) error {
	b, err := book(cmd, path)
	if err != nil {
		return err
	}
	n := logbook.Blank()
	n.At = time.Now()
	if begun := r.log.Begun; !begun.IsZero() && begun.Year() >= 1970 && begun.Before(time.Now()) {
		n.At = begun.Local()
	}
	row := r.row
	if len(b.Notes) > 0 {
		last := &b.Notes[len(b.Notes)-1]
		n.Adjustments = slices.Clone(last.Adjustments)
		if last.At.Format("2006-01-02") == n.At.Format("2006-01-02") {
			n.Venue = last.Venue
		}
		if row == nil && last.Setting != "" {
			row, _ = t.Find(last.Setting)
		}
	}
	if row == nil {
		return fmt.Errorf("--note needs --setting: there is no note yet to take it from")
	}
	n.Setting, n.Speed, n.Expected = row.ID, t.Speed, calibrate.Expected(t, row)
	into(&n)
	saved, told, err := saveNote(path, n)
	if told != "" {
		fmt.Fprintf(cmd.ErrOrStderr(), "a note that was cut short is set aside in %s\n", told)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "noted as %s with %s; \"stanchion note show\" shows it\n", saved.ID, units.Printable(t.Name(row.Setting)))
	return nil
}
