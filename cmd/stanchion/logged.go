package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/files"
	"stanchion/model/logged"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newLogged() *cobra.Command {
	c := &cobra.Command{
		Use:   "logged",
		Short: "what a recording of the logger or the phone tells: laps, drag, downforce, top speed",
		Long: `logged reads what was recorded on track: CSV of any logger, GPX and NMEA 0183. Broken lines
are left out and counted. See "stanchion help logged".`,
	}
	c.AddCommand(newLoggedRead(), newLoggedLaps(), newLoggedCoast(), newLoggedRide(), newLoggedTop(), newLoggedCorner())
	return c
}

// loggedFlags are what all commands on recordings take.
type loggedFlags struct {
	options
	columns  map[string]string
	settings []string
	note     bool
}

func (f *loggedFlags) add(c *cobra.Command, formats ...string) {
	c.Flags().StringToStringVar(&f.columns, "columns", nil, "a table's own names, `speed=NAME,...`, \"NAME [km/h]\" with a unit, A+B for left and right; they are kept for the next time")
	c.Flags().Lookup("columns").DefValue = "" // none, which the library spells []
	f.options.add(c, "", formats...)
}

// ofSettings adds the flags of what belongs to a setting.
func (f *loggedFlags) ofSettings(c *cobra.Command, note string) {
	c.Flags().StringArrayVar(&f.settings, "setting", nil, "the setting as bolted, by `ID` or enough of its holes: one for all files, or one for each in their order")
	if note != "" {
		c.Flags().BoolVar(&f.note, "note", false, note)
	}
}

// recording is one file that was read, with its setting.
type recording struct {
	name string // of the file, without its folder where that tells it apart
	log  *logged.Log
	row  *model.Row // nil where no setting was given
}

// read reads all files; t is where their settings are looked for, nil for none.
func (f *loggedFlags) read(t *model.Table, car string, names []string) ([]recording, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	if n := len(f.settings); n > 1 && n != len(names) {
		return nil, fmt.Errorf("--setting is given %d times for %d files; give it once for all, or once for each", n, len(names))
	}
	for key := range f.columns {
		if !isKey(key) {
			return nil, fmt.Errorf("--columns %s; the columns are %s", units.Printable(key), strings.Join(logged.Keys(), ", "))
		}
	}
	_, demo := demoName(car)
	var kept map[string]string
	if !demo {
		var err error
		if kept, err = logged.KeptColumns(logged.PathFor(car)); err != nil {
			return nil, fmt.Errorf("%s: %w; correct it or delete it", logged.PathFor(car), plain(err))
		}
	}
	var all []recording
	short := shortNames(names)
	for i, name := range names {
		r := recording{name: short[i]}
		if n := len(f.settings); n > 0 && t != nil {
			row, err := pickRow(t, strings.Fields(strings.ReplaceAll(f.settings[min(i, n-1)], ",", " ")))
			if err != nil {
				return nil, fmt.Errorf("--setting: %w", err)
			}
			r.row = row
		}
		var err error
		if r.log, err = readLog(name, f.columns, kept); err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	if len(f.columns) > 0 && !demo {
		next := maps.Clone(f.columns)
		for key, name := range kept {
			if _, ok := next[key]; !ok {
				next[key] = name
			}
		}
		if !maps.Equal(next, kept) {
			if err := logged.KeepColumns(logged.PathFor(car), next); err != nil {
				return nil, fmt.Errorf("%s: the columns cannot be kept: %w", logged.PathFor(car), plain(err))
			}
		}
	}
	return all, nil
}

// shortNames are files' names without their folders, unless two would be alike.
func shortNames(names []string) []string {
	short := make([]string, len(names))
	for i, n := range names {
		short[i] = filepath.Base(n)
		if slices.Contains(short[:i], short[i]) {
			return names
		}
	}
	return short
}

func isKey(key string) bool {
	for _, k := range logged.Keys() {
		if k == key {
			return true
		}
	}
	return false
}

// counted reports how far reading is.
type counted struct {
	r    io.Reader
	done int64
	size int64
	show func(float64)
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.done += int64(n)
	if c.show != nil && c.size > 0 {
		c.show(float64(c.done) / float64(c.size))
	}
	return n, err
}

// readLog reads one file as a stream.
func readLog(name string, named, kept map[string]string) (*logged.Log, error) {
	file, size, err := files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", units.Printable(name), plain(err))
	}
	defer file.Close()
	show, done := progress("reading " + units.Printable(name))
	l, err := logged.Read(&counted{r: file, size: size, show: show}, named, kept)
	done()
	var need *logged.NeedColumns
	if errors.As(err, &need) {
		return nil, fmt.Errorf("%s: %s", units.Printable(name), words.NeedColumns(need))
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %s", units.Printable(name), units.Printable(err.Error()))
	}
	return l, nil
}

// loggedLeft says what is odd about recordings.
func loggedLeft(p *printer, all []recording) {
	for _, r := range all {
		for _, line := range words.LoggedLeft(r.log) {
			p.f("%s: %s\n", units.Printable(r.name), line)
		}
	}
}

// numbersOf reads numbers that commas part.
func numbersOf(flag, text string, least, most int, example string) (out []float64, err error) {
	for part := range strings.SplitSeq(text, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || x != x || x > 1e6 || x < -1e6 {
			return nil, fmt.Errorf("--%s %q; give it such as %s", flag, text, example)
		}
		out = append(out, x)
	}
	if len(out) < least || len(out) > most {
		return nil, fmt.Errorf("--%s %q; give it such as %s", flag, text, example)
	}
	return out, nil
}

// closedCourse stands under everything that is read from driving.
const closedCourse = "On a closed course only, not faster than you drive anyway; the driver looks at the track, not at the logger."

// onRecordings runs what a command does with a car's settings and recordings that it is given.
func (f *loggedFlags) onRecordings(run func(cmd *cobra.Command, args []string, t *model.Table, all []recording) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		t, err := tableOf(args[0], "")
		if err != nil {
			return err
		}
		all, err := f.read(t, args[0], args[1:])
		if err != nil {
			return err
		}
		return run(cmd, args, t, all)
	}
}
