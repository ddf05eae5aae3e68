package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/model/words"
)

// datumFlags are the flags of datum.
type datumFlags struct {
	write, tape   bool
	force         bool
	read, setting string
	takeBack      int
}

func newDatum() *cobra.Command {
	var o options
	var f datumFlags
	c := &cobra.Command{
		Use:   "datum CARFILE",
		Short: "what the bracket's angle and place really are, from readings with the wing on",
		Long: `datum fits the fixed part's angle and height to readings with a level or a tape, kept as
[[measured]] tables in the car file. Type them in one go, in any order, with --read and
the setting that is bolted on; they are added to the file, and what was understood is said:

  stanchion datum car.toml --setting "row 4, B2" --read "floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4"

Angles are in degrees, up at the rear positive, for the floor too. Two numbers are one level
turned end for end: half their sum is the slope, half their difference the level's own
zero. Lay the level on the floor along the car first (or on a sill that is parallel to the
ground), then the same way round on the wing; the angle to the ground is the reading
less the floor's. "floor" without a number is the floor read last. left and right are the
sides of the car; leave them out for the middle. The level lies on the chord line, from leading to trailing edge; for any
other place declare a face once, "face top 4.5" with its slope less the chord's, and then
type "on top 10.9 11.1".

A tape: le 1312 te 1340 are the heights of leading and trailing edge above the ground, and tell
the angle to about half a degree; h 1319, or a number alone above 30, is the height of the
quarter-chord point, which lies on the chord line a quarter of the chord behind the
leading edge. --tape goes the other way: what a tape must read for each setting.

  [[floor]]                     # once for all readings taken there
  name    = "1"
  angle   = 0.3
  turned  = 0.5
  [[measured]]
  setting = "A:F+A2:R"
  side    = "left"
  angle   = 6.4
  turned  = 6.6
  floor   = "1"

All readings of a setting have its play in common, as long as nobody turns a bolt: reading
again makes the level's scatter smaller, not the play. Where bolts were out or slack since
the line before, type "rebolted" in it.

One reading tells the angle; three on two settings tell one that does not fit. The angle is
taken together with the car file's own, each by its ± ([uncertainty] angle_reading, 0.3°
where it is not given). Where settings agree that the file's is wrong, it does not count.
--take-back N takes the Nth reading out of the file again; so does "stanchion undo".
--write puts the corrected angle and height in the car file, how well the angle is known now
(angle_reading), and what it was before ([datum]), from which readings are worked out again,
so that none counts twice; "stanchion undo" takes it back. It writes nothing and leaves with
exit code 1 where a reading does not fit, where left and right clearly differ, so that the
wing is twisted or one side was misread, and where one setting alone is as far off the car
file as a reading that does not fit is off others. For a wing that is known to be twisted,
or a file that is known to be wrong, --force writes all the same.
Exit code 1 also means that there are no readings.`,
		Example: `  stanchion datum car.toml
  stanchion datum car.toml --setting A2+1 --read "floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4"
  stanchion datum car.toml --setting A2+1 --read "le 1312 te 1340"
  stanchion datum car.toml --tape
  stanchion datum car.toml --write`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return o.datum(cmd, args[0], f) },
	}
	o.add(c, "", "text", "json")
	c.Flags().BoolVar(&f.write, "write", false, "put the corrected place in the car file")
	c.Flags().BoolVar(&f.force, "force", false, "with --write: write although left and right clearly differ, or one setting alone is far off the car file")
	c.Flags().StringVar(&f.read, "read", "", "`READING` to add to the car file, such as \"left 6.4 6.6\"")
	c.Flags().StringVar(&f.setting, "setting", "", "`ID` of the setting that was bolted on for it (with --tape: the only one to list)")
	c.Flags().IntVar(&f.takeBack, "take-back", 0, "take the reading with this number out of the car file")
	c.Flags().BoolVar(&f.tape, "tape", false, "what a tape must read at leading and trailing edge for each setting")
	return c
}

// datum fits the fixed part's place to a car file's readings, shows it, and if asked to puts it
// in the file.
func (o *options) datum(cmd *cobra.Command, path string, f datumFlags) error {
	t, err := o.table(path)
	if err != nil {
		return err
	}
	if one := oneOf(f.tape, f.read != "", cmd.Flags().Changed("take-back"), f.write); one != nil {
		return one
	}
	switch {
	case f.force && !f.write:
		return errors.New("--force goes with --write")
	case f.tape:
		return o.tape(cmd, t, f.setting)
	case f.read != "":
		if t, err = o.addReading(cmd, t, path, f); err != nil {
			return err
		}
		if len(t.Car.Readings) == 0 { // a floor or a face alone
			return nil
		}
	case f.setting != "":
		return errors.New("--setting goes with --read or --tape")
	case cmd.Flags().Changed("take-back"):
		if err := takeBack(cmd, t, path, f.takeBack); err != nil {
			return err
		}
		if t, err = o.table(path); err != nil {
			return err
		}
	}
	if len(t.Car.Readings) == 0 {
		return noAnswer("%s: no readings; add [[measured]] tables with a setting and its angle or height", path)
	}
	d, err := calibrate.FitDatum(t, t.Car.Readings)
	if err != nil {
		return placed(path, t.Car, err)
	}
	if o.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), datumJSON(t, d))
	} else {
		p := out(cmd)
		for _, l := range words.DatumLines(t, d, shown(t.Car)) {
			p.f("%s\n", l)
		}
		err = p.err
	}
	if err != nil || !f.write {
		return err
	}
	if why := notClean(t, d); why != "" {
		return fmt.Errorf("%s is not changed: %s: read again, or take it out with --take-back", path, why)
	}
	if why := words.SidesDiffer(d, shown(t.Car)); why != "" && !f.force {
		return noAnswer("%s is not changed: %s; --write --force writes their middle all the same", path, why)
	}
	if why := words.OffTheFile(t, d); why != "" && !f.force {
		return noAnswer("%s is not changed: %s; --write --force writes it all the same", path, why)
	}
	if words.Written(t.Car, d) {
		fmt.Fprintln(cmd.ErrOrStderr(), "the car file has this already: nothing to write")
		return nil
	}
	corrected := calibrate.Corrected(t.Car, d)
	if err := rewrite(cmd, path, "the correction of the fixed part", func(text []byte) ([]carfile.Edit, error) { return carfile.SetDatum(text, corrected) }); err != nil {
		return err
	}
	text := "the corrected place is in the car file"
	if !d.Checked() {
		text += "; " + words.NothingChecks
	}
	hintUndo(cmd, path, text)
	return nil
}

// hintUndo says what was written and how it is taken back.
func hintUndo(cmd *cobra.Command, path, what string) {
	fmt.Fprintf(cmd.ErrOrStderr(), "%s; \"stanchion undo %s\" takes it back\n", what, units.Printable(path))
}

// oneOf returns what is wrong where more than one job is asked for.
func oneOf(jobs ...bool) error {
	n := 0
	for _, asked := range jobs {
		if asked {
			n++
		}
	}
	if n > 1 {
		return errors.New("give one of --tape, --read, --take-back and --write at a time")
	}
	return nil
}

// placed says the file of an error about readings, with the line of each where it is known.
func placed(path string, car *model.Car, err error) error {
	var all calibrate.Strange
	if !errors.As(err, &all) {
		return fmt.Errorf("%s: %w", path, err)
	}
	var lines []error
	for _, s := range all {
		at := path
		if line := car.Readings[s.Reading].Line; line > 0 {
			at = fmt.Sprintf("%s:%d:1", path, line)
		}
		lines = append(lines, fmt.Errorf("%s: %w", at, s))
	}
	return errors.Join(lines...)
}

// notClean says which reading keeps the correction from being written; "" when none does.
func notClean(t *model.Table, d calibrate.Datum) string {
	for i, r := range d.Residuals {
		switch name := units.Printable(t.NameOf(r.Setting)); {
		case r.Suspect:
			return fmt.Sprintf("reading %d with %s does not fit the rest", i+1, name)
		case r.Disagree:
			return fmt.Sprintf("reading %d with %s disagrees with others", i+1, name)
		}
	}
	return ""
}
