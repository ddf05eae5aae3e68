package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/units"
)

// planFlags are what plan takes.
type planFlags struct {
	options
	wish                                                         plan.Wish
	find, minutes, pause, perBolt, by, lap, run, difference, out string
	date                                                         string
	done, lost                                                   []int
	fromNotes, keep, anew, replace                               bool
}

// planWishFlags are those that ask for a plan of their own, not for the one that is kept.
var planWishFlags = []string{"find", "sessions", "laps", "minutes", "break", "minutes-per-bolt", "changed-by", "lap-scatter", "run-scatter", "difference", "settings", "new"}

// quantity reads a number with a unit that may be left out.
func quantity(flag, text string, size map[string]float64) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	at := len(t)
	for at > 0 && (t[at-1] >= 'a' && t[at-1] <= 'z' || t[at-1] == ' ') {
		at--
	}
	x, err := strconv.ParseFloat(t[:at], 64)
	by, known := size[strings.TrimSpace(t[at:])]
	if err != nil || !known || math.IsNaN(x) || math.IsInf(x, 0) {
		example := "40min"
		if _, short := size["ms"]; short {
			example = "0.4s"
		}
		return 0, fmt.Errorf("--%s %q; write it as %s", flag, text, example)
	}
	return x * by, nil
}

var (
	inMinutes = map[string]float64{"": 1, "min": 1, "m": 1, "h": 60, "s": 1.0 / 60}
	inSeconds = map[string]float64{"": 1, "s": 1, "ms": 1e-3, "min": 60}
)

// read takes the flags into the wish, with what notes tell.
func (f *planFlags) read(notes []logbook.Note, uprights float64) error {
	var wrong []error
	w := &f.wish
	var err error
	if w.Find, err = plan.FindOf(f.find); err != nil {
		wrong = append(wrong, fmt.Errorf("--find %w", err))
	}
	take := func(to *float64, flag, text string, size map[string]float64) {
		x, err := quantity(flag, text, size)
		if wrong = append(wrong, err); err == nil {
			*to = x
		}
	}
	take(&w.Minutes, "minutes", f.minutes, inMinutes)
	take(&w.Break, "break", f.pause, inMinutes)
	take(&w.Difference, "difference", f.difference, inSeconds)
	w.MinutesPerBolt, w.LapScatter, w.RunScatter = plan.LearnFrom(notes, f.by, uprights)
	for _, v := range []struct {
		to   *plan.Value
		flag string
		text string
		size map[string]float64
	}{{&w.MinutesPerBolt, "minutes-per-bolt", f.perBolt, inMinutes}, {&w.LapScatter, "lap-scatter", f.lap, inSeconds}, {&w.RunScatter, "run-scatter", f.run, inSeconds}} {
		if v.text != "" {
			*v.to = plan.Value{Given: true}
			take(&v.to.Of, v.flag, v.text, v.size)
		}
	}
	if err := errors.Join(wrong...); err != nil {
		return err
	}
	return w.Check()
}

// mark says what became of sessions.
func (f *planFlags) mark(k *plan.Kept, notes []logbook.Note) error {
	type one struct {
		n     int
		state plan.State
	}
	var all []one
	for _, n := range f.done {
		all = append(all, one{n, plan.Run})
	}
	for _, n := range f.lost {
		if slices.Contains(f.done, n) {
			return fmt.Errorf("session %d cannot be both run and lost", n)
		}
		all = append(all, one{n, plan.LostSession})
	}
	slices.SortFunc(all, func(a, b one) int { return a.n - b.n })
	ids := []string{}
	if f.fromNotes {
		ids = plan.RunsNoted(notes, k.Date.Format("2006-01-02"))
		if len(ids) == 0 {
			return noAnswer("no note of %s says that something was run", k.Date.Format("2006-01-02"))
		}
	}
	at := 0
	for n := 1; n <= len(k.Planned); n++ {
		i := slices.IndexFunc(all, func(o one) bool { return o.n == n })
		state, setting := plan.Planned, ""
		switch {
		case i >= 0:
			state = all[i].state
		case f.fromNotes && n <= len(k.Past) && k.Past[n-1].State == plan.LostSession:
			continue
		case at < len(ids):
			state = plan.Run
		default:
			continue
		}
		if state == plan.Run && at < len(ids) {
			setting = ids[at]
			at++
		}
		if err := k.Mark(n, state, setting); err != nil {
			return err
		}
	}
	for _, o := range all {
		if o.n < 1 || o.n > len(k.Planned) {
			return k.Mark(o.n, o.state, "")
		}
	}
	if at < len(ids) {
		return fmt.Errorf("the notes of the day have %s more than the plan has sessions", units.Count(len(ids)-at, "run"))
	}
	return nil
}
