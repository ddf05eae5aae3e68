package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/choose"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

func newNote() *cobra.Command {
	c := &cobra.Command{
		Use:   "note",
		Short: "the garage notebook: what was run, how it felt, what to try next",
		Long: `note keeps a notebook next to the car file: CARNAME.notes.toml, plain TOML that is
only ever added to. A note is on the disk before it is called saved. Correct one by
a new note with --replaces.`,
	}
	c.AddCommand(newNoteAdd(), newNoteList(), newNoteShow(), newNoteCompare(), newNoteExport(), newNoteNext(), newNoteFit())
	return c
}

// book opens a car file's notebook and says what is odd about it.
func book(cmd *cobra.Command, carFile string) (logbook.Book, error) {
	if _, demo := demoName(carFile); demo {
		return logbook.Book{}, errors.New("a demo car has no notebook: \"stanchion new FILE --demo NAME\" makes a car file to note about")
	}
	b, err := logbook.Read(logbook.PathFor(carFile))
	if err != nil {
		return b, fmt.Errorf("the notebook cannot be read: %w", err)
	}
	for _, t := range b.Told {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s: %s\n", b.Path, t)
	}
	return b, nil
}

// noteFlags are what a note can hold on the command line.
type noteFlags struct {
	setting, text, place, speed, top, lap, fuel, tyres, replaces, at string
	temperature, pressure, humidity                                  string
	sinkSpeed, sinkFront, sinkRear                                   string
	fitted                                                           bool
	given                                                            func(flag string) bool
	felt                                                             feltFlags
}

func newNoteAdd() *cobra.Command {
	var f noteFlags
	var o options
	c := &cobra.Command{
		Use:   "add CARFILE",
		Short: "write a note; what is left out comes from the last one or stays open",
		Long: `add writes a note with the time, the setting (the last note's if not given), what
stanchion predicts for it now, and whatever else is given.

How it felt, in fast corners and in slow ones: u1 slight, u2 clear, u3 strong
understeer, n neutral, o1 to o3 oversteer; once for the whole corner, or three times
for entry, middle and exit, with - for what you cannot tell. g0 is enough grip of both
ends together, g-1 to g-3 short of it. Under braking and on the straight 0 is stable,
-1 to -3 ever less. The grip of one end, -3 (none) to +3 (more than wanted), can be
given instead.

A note that --replaces another keeps what is not given as it was noted there; an empty
value, such as --sink-front "", takes that out. Ride heights need --sink-speed.

Tyre set, driver, track, place, pressures, fuel and other adjustments decide which notes
"note next" holds against each other. Other adjustments, such as --adjust "front bar = 2",
stay as noted last until they are noted anew.`,
		Example: `  stanchion note add car.toml --setting A2+1 --place "north circuit" --fast "o1 o2 n" --slow n
  stanchion note add car.toml --fast "n g-2" --braking -1 --tyre-set "set B" --track damp
  stanchion note add car.toml --lap 1:42.3 --top-speed 196km/h --text "calm in the fast left"
  stanchion note add car.toml --replaces 2026-11-25.1 --sink-rear ""`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return o.addNote(cmd, args[0], &f) },
	}
	f.add(c)
	o.add(c, "", "text", "json")
	f.given = c.Flags().Changed
	return c
}

// says reports whether the flags give a note anything to say: a value, or in a correction an empty one that
// takes something out.
func (f *noteFlags) says() bool {
	texts := map[string]string{"setting": f.setting, "text": f.text, "place": f.place, "top-speed": f.top, "lap": f.lap, "fuel": f.fuel, "tyres": f.tyres,
		"temperature": f.temperature, "pressure": f.pressure, "humidity": f.humidity, "sink-front": f.sinkFront, "sink-rear": f.sinkRear}
	for name, text := range f.felt.text {
		texts[name] = *text
	}
	if f.replaces != "" {
		texts["sink-speed"], texts["speed"], texts["at"] = f.sinkSpeed, f.speed, f.at
	}
	for name, text := range texts {
		if strings.TrimSpace(text) != "" || f.replaces != "" && f.given(name) {
			return true
		}
	}
	return f.fitted
}

// takenOut reports whether a flag was given empty.
func (f *noteFlags) takenOut(flag, text string) bool { return text == "" && f.given(flag) }

// add gives a command the flags of a note.
func (f *noteFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.setting, "setting", "", "the setting as bolted, by `ID` or enough of its holes (default: the last note's)")
	c.Flags().StringVar(&f.text, "text", "", "free `TEXT`")
	c.Flags().StringVar(&f.place, "place", "", "where, free `TEXT` (default: the last note's of the same day)")
	c.Flags().StringVar(&f.speed, "speed", "", "`SPEED` that the prediction is for (default: the car file's)")
	c.Flags().StringVar(&f.top, "top-speed", "", "top `SPEED` seen")
	c.Flags().StringVar(&f.lap, "lap", "", "lap `TIME` such as 1:42.3")
	c.Flags().StringVar(&f.fuel, "fuel", "", "`MASS` of fuel, such as 25kg, 55lb or 30l")
	c.Flags().StringVar(&f.tyres, "tyres", "",
		"`PRESSURES`, such as \"1.9 1.9 2.0 2.0\" or \"28 28 29 29 psi\": front left, front right, rear left, rear right")
	c.Flags().StringVar(&f.temperature, "temperature", "", "of the air, `TEMPERATURE` such as 22C or 72F")
	c.Flags().StringVar(&f.pressure, "pressure", "", "of the air, in `hPa`")
	c.Flags().StringVar(&f.humidity, "humidity", "", "of the air, in `%`")
	c.Flags().StringVar(&f.sinkSpeed, "sink-speed", "", "`SPEED` at which ride heights were measured")
	c.Flags().StringVar(&f.sinkFront, "sink-front", "", "by how much the front axle sank at it, `LENGTH`; a rear wing lifts the nose: front is usually negative")
	c.Flags().StringVar(&f.sinkRear, "sink-rear", "", "by how much the rear axle sank at it, `LENGTH`")
	f.felt.add(c)
	c.Flags().StringVar(&f.replaces, "replaces", "", "`ID` of the note that this one corrects; what is not given stays as noted there, \"\" takes it out")
	c.Flags().BoolVar(&f.fitted, "fitted", false, "it was bolted on and not run yet: marks what is on the car")
	c.Flags().StringVar(&f.at, "at", "", "`TIME` such as 2026-11-25T10:30 (default: now)")
}

// addNote saves a note and prints what was understood of it.
func (o *options) addNote(cmd *cobra.Command, path string, f *noteFlags) error {
	if err := o.check(); err != nil {
		return err
	}
	b, err := book(cmd, path)
	if err != nil {
		return err
	}
	car, err := loadCar(path)
	if err != nil {
		return err
	}
	n, err := f.note(b, car)
	if err != nil {
		return err
	}
	saved, told, err := saveNote(path, n)
	if told != "" {
		fmt.Fprintf(cmd.ErrOrStderr(), "a note that was cut short is set aside in %s\n", told)
	}
	if err != nil {
		return err
	}
	if o.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), struct {
			ID string `json:"id"`
		}{saved.ID})
	} else {
		p := out(cmd)
		p.f("saved as %s\n", saved.ID)
		for _, fact := range saved.Facts(shown(car)) {
			p.f("  %-24s %s\n", fact.What, fact.Text)
		}
		if f.replaces != "" {
			p.f("What was not given is as in note %s; an empty value, such as --sink-front \"\", takes it out.\n", units.Printable(f.replaces))
		}
		err = p.err
	}
	if err != nil { // so that nobody writes it twice
		return fmt.Errorf("the note is saved as %s; only this could not be printed: %w", saved.ID, err)
	}
	return nil
}

// note makes a note of the flags.
func (f *noteFlags) note(b logbook.Book, car *model.Car) (logbook.Note, error) {
	n := logbook.Blank()
	n.At = time.Now()
	var last *logbook.Note
	if len(b.Notes) > 0 {
		last = &b.Notes[len(b.Notes)-1]
	}
	if f.replaces != "" {
		old, err := b.Replaceable(f.replaces)
		if err != nil {
			return n, fmt.Errorf("--replaces: %w", err)
		}
		n, last = old, &old // what is not given stays as it was noted
		n.Replaces = f.replaces
	}
	if !f.says() {
		return n, errors.New("nothing to note: give how it felt (--fast u1, --slow n), --lap, --top-speed, --sink-speed with --sink-front and --sink-rear, --text, or --setting alone for a setting that was run; --fitted marks one that is bolted on and not run yet")
	}
	if last != nil && f.replaces == "" {
		n.Adjustments = slices.Clone(last.Adjustments) // they are as they were until someone turns them
	}
	if f.at != "" {
		at, err := time.ParseInLocation("2006-01-02T15:04", f.at, time.Local)
		if err != nil || at.Year() < 1970 || at.After(time.Now().AddDate(0, 0, 1)) {
			return n, fmt.Errorf("--at %q; give a time such as 2026-11-25T10:30, not in the future", f.at)
		}
		n.At = at
	}
	if f.text != "" || f.takenOut("text", f.text) {
		n.Text = f.text
	}
	n.Fitted = f.fitted
	switch {
	case f.place != "" || f.takenOut("place", f.place):
		n.Venue = f.place
	case last != nil && last.At.Format("2006-01-02") == n.At.Format("2006-01-02"):
		n.Venue = last.Venue
	}
	if f.replaces != "" && f.setting == "" && f.speed == "" {
		err := f.numbers(&n, car)
		return n, err // with what was predicted then
	}
	v, err := chosenSpeed(car, f.speed)
	if err != nil {
		return n, err
	}
	n.Speed = v
	if err := f.expect(&n, car, last); err != nil {
		return n, err
	}
	return n, f.numbers(&n, car)
}

// expect puts the setting into a note, and what is predicted for it now.
func (f *noteFlags) expect(n *logbook.Note, car *model.Car, last *logbook.Note) error {
	words := strings.Fields(f.setting)
	if len(words) == 0 && last != nil && last.Setting != "" {
		words = []string{last.Setting}
	}
	if len(words) == 0 {
		return errors.New("--setting is missing, and there is no note yet to take it from: \"stanchion map\" lists them")
	}
	t, err := car.Map(n.Speed)
	if err != nil {
		return err
	}
	r, err := pickRow(t, words)
	if err != nil && f.setting == "" {
		return fmt.Errorf("the setting of the note before: %w; give --setting", err)
	}
	if err != nil {
		return fmt.Errorf("--setting: %w", err)
	}
	n.Car = ""
	if last != nil && f.replaces == "" {
		n.BoltsMoved = choose.BoltsMoved(t, []logbook.Note{*last}, r.ID)
	}
	n.Setting, n.Expected = r.ID, calibrate.Expected(t, r)
	return nil
}

// saveNote puts a note into a car file's notebook, with the car file's digest.
func saveNote(carFile string, n logbook.Note) (saved logbook.Note, setAside string, err error) {
	if n.Car == "" { // a correction may keep what was predicted then, from the car file then
		n.Car = digest(carFile)
	}
	return logbook.Append(logbook.PathFor(carFile), n)
}

// digest names a car file's content, so that a later change of it does not
// rewrite history.
func digest(name string) string {
	data, err := files.Read(name, carfile.MaxSize)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}
