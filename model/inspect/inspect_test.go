package inspect_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stanchion/model/given"
	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

var start = time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC)

// writer writes a notebook, a note an hour.
type writer struct {
	book logbook.Book
	at   time.Time
}

func (w *writer) note(n logbook.Note) {
	if w.at.IsZero() {
		w.at = start
	}
	n.At, n.ID = w.at, fmt.Sprint(len(w.book.All)+1)
	w.at = w.at.Add(time.Hour)
	w.book.All = append(w.book.All, n)
	if n.Inspecting() {
		w.book.Checks = append(w.book.Checks, n)
	} else {
		w.book.Notes = append(w.book.Notes, n)
	}
}

func (w *writer) run(setting string, laps float64) {
	n := logbook.Blank()
	n.Setting = setting
	if laps > 0 {
		n.LapsRun = laps
	}
	w.note(n)
}

func (w *writer) fitted(setting string) {
	n := logbook.Blank()
	n.Setting, n.Fitted = setting, true
	w.note(n)
}

func (w *writer) looked(i logbook.Inspection) {
	n := logbook.Blank()
	n.Inspected = i
	w.note(n)
}

func (w *writer) done(keys ...string) {
	w.looked(logbook.Inspection{Looked: keys, By: "A. Smith (invented)"})
}

func (w *writer) report(t testing.TB, now time.Time) inspect.Report {
	return inspect.Of(modeltest.Car(t, "coupe"), w.book, now)
}

func state(t interface {
	Helper()
	Fatalf(string, ...any)
}, r inspect.Report, key string) inspect.State {
	t.Helper()
	s, ok := r.Find(key)
	if !ok {
		t.Fatalf("no item %q", key)
	}
	return s
}

// Nothing noted is not known, and never "not due".
func TestNothingNotedIsNotKnown(t *testing.T) {
	r := new(writer).report(t, start)
	if r.Noted || r.Level() != inspect.NotKnown || r.Count(inspect.NotKnown) != len(r.Items) || len(r.Items) < 6 {
		t.Errorf("%+v", r)
	}
}

// Worked by hand with the usual intervals: 40 laps, one run, 30 days, 5 first laps, 10 laps for a run that says none.
func TestDueByHand(t *testing.T) {
	all := func(w *writer) []string {
		var keys []string
		for _, s := range w.report(t, start).Items {
			keys = append(keys, s.Key)
		}
		return keys
	}
	for _, c := range []struct {
		name, key string
		write     func(*writer)
		days      int // after the start
		level     inspect.Level
		reason    inspect.Reason
		left      int
		since     int // hours after the start; -1 for none
	}{
		{"looked at, not run", "cracks upright", func(w *writer) { w.done(all(w)...) }, 0, inspect.NotDue, inspect.ByLaps, 40, -1},
		{"30 days later it is due", "cracks upright", func(w *writer) { w.done(all(w)...) }, 30, inspect.Due, inspect.ByDays, 0, 720},
		{"31 days later overdue", "cracks upright", func(w *writer) { w.done(all(w)...) }, 31, inspect.Overdue, inspect.ByDays, 0, 720},
		{"40 laps: due", "cracks upright", func(w *writer) { w.done(all(w)...); w.run("a", 40) }, 0, inspect.Due, inspect.ByLaps, 0, 1},
		{"39 laps: one is left", "cracks upright", func(w *writer) { w.done(all(w)...); w.run("a", 39) }, 0, inspect.NotDue, inspect.ByLaps, 1, -1},
		{"62 laps: overdue since the second run", "cracks upright", func(w *writer) { w.done(all(w)...); w.run("a", 22); w.run("a", 20); w.run("a", 20) }, 0,
			inspect.Overdue, inspect.ByLaps, 0, 2},
		{"runs without laps count as 10: five are 50", "cracks upright", func(w *writer) {
			w.done(all(w)...)
			for range 5 {
				w.run("a", 0)
			}
		}, 0, inspect.Overdue, inspect.ByLaps, 0, 4},
		{"quick looks are due after a run", "paint marks", func(w *writer) { w.done(all(w)...); w.run("a", 2) }, 0, inspect.Due, inspect.BySessions, 0, 1},
		{"and overdue after the next", "play", func(w *writer) { w.done(all(w)...); w.run("a", 2); w.run("a", 2) }, 0, inspect.Overdue, inspect.BySessions, 0, 1},
		{"first laps: due after the first run", "torque head", func(w *writer) { w.fitted("a"); w.done(all(w)...); w.run("a", 5) }, 0, inspect.Due, inspect.ByFirstLaps, 0, 2},
		{"first laps: not yet", "torque head", func(w *writer) { w.fitted("a"); w.done(all(w)...); w.run("a", 4) }, 0, inspect.NotDue, inspect.ByFirstLaps, 1, -1},
		{"first laps: out again", "torque head", func(w *writer) { w.fitted("a"); w.done(all(w)...); w.run("a", 4); w.run("a", 4) }, 0, inspect.Overdue, inspect.ByFirstLaps, 0, 3},
		{"checked after the first laps", "torque head", func(w *writer) { w.fitted("a"); w.run("a", 6); w.done(all(w)...); w.run("a", 6) }, 0, inspect.NotDue, inspect.ByLaps, 34, -1},
		{"a run with another setting is newly bolted", "torque head", func(w *writer) { w.run("a", 6); w.done(all(w)...); w.run("b", 6) }, 0, inspect.Due, inspect.ByFirstLaps, 0, 2},
		{"bolted anew the same way", "torque head", func(w *writer) { w.run("a", 6); w.done(all(w)...); w.fitted("a"); w.run("a", 6) }, 0, inspect.Due, inspect.ByFirstLaps, 0, 3},
		{"only torque asks for first laps", "cracks upright", func(w *writer) { w.fitted("a"); w.done(all(w)...); w.run("a", 6) }, 0, inspect.NotDue, inspect.ByLaps, 34, -1},
		{"a kerb: at once", "end plates", func(w *writer) { w.done(all(w)...); w.looked(logbook.Inspection{Struck: "kerb"}) }, 0, inspect.Overdue, inspect.ByStrike, 0, 1},
		{"a kerb, and looked at after it", "end plates", func(w *writer) { w.looked(logbook.Inspection{Struck: "kerb", Looked: all(w)}) }, 0, inspect.NotDue, inspect.ByLaps, 40, -1},
		{"a kerb says nothing of an item that was never looked at", "end plates", func(w *writer) { w.looked(logbook.Inspection{Struck: "spin"}) }, 0, inspect.Overdue, inspect.ByStrike, 0, 0},
		{"a crack: stop", "cracks upright", func(w *writer) {
			w.looked(logbook.Inspection{Looked: all(w), Failed: []string{"cracks upright"}, Found: "crack at k3"})
		}, 0, inspect.Stop, inspect.ByFailure, 0, 0},
		{"others of that look passed", "play", func(w *writer) {
			w.looked(logbook.Inspection{Looked: all(w), Failed: []string{"cracks upright"}, Found: "crack at k3"})
		}, 0, inspect.NotDue, inspect.BySessions, 1, -1},
		{"it stays, whatever else is looked at", "cracks upright", func(w *writer) {
			w.looked(logbook.Inspection{Failed: []string{"cracks upright"}})
			w.done("play", "paint marks")
			w.run("a", 1)
		}, 0, inspect.Stop, inspect.ByFailure, 0, 0},
		{"until it is found good", "cracks upright", func(w *writer) {
			w.looked(logbook.Inspection{Failed: []string{"cracks upright"}})
			w.done("cracks upright")
		}, 0, inspect.NotDue, inspect.ByLaps, 40, -1},
		{"never looked at, and few laps", "cracks upright", func(w *writer) { w.run("a", 12) }, 0, inspect.NotKnown, inspect.Never, 0, -1},
		{"never looked at, and many", "cracks upright", func(w *writer) { w.run("a", 30); w.run("a", 30) }, 0, inspect.Overdue, inspect.ByLaps, 0, 1},
	} {
		w := new(writer)
		c.write(w)
		s := state(t, w.report(t, start.AddDate(0, 0, c.days).Add(6*time.Hour)), c.key)
		want := time.Time{}
		if c.since >= 0 {
			want = start.Add(time.Duration(c.since) * time.Hour)
		}
		if s.Level != c.level || s.Reason != c.reason || s.Left != c.left || !s.Since.Equal(want) {
			t.Errorf("%s: %s by %s, %d left, since %v; want %s by %s, %d left, since %v", c.name, s.Level.Word(), s.Reason.Word(), s.Left, s.Since,
				c.level.Word(), c.reason.Word(), c.left, want)
		}
	}
}

// A clock that was wrong: a look that is dated ahead does not count, a failure does, and is put right by a look written after it.
func TestWrongClock(t *testing.T) {
	w := &writer{at: start.AddDate(10, 0, 0)}
	w.done("play")
	r := w.report(t, start)
	if s := state(t, r, "play"); s.Last != nil || s.Level != inspect.NotKnown || len(r.Future) != 1 {
		t.Errorf("%+v, %v", s, r.Future)
	}
	w.looked(logbook.Inspection{Failed: []string{"play"}, Struck: "contact"})
	if s := state(t, w.report(t, start), "play"); s.Level != inspect.Stop {
		t.Errorf("%+v", s)
	}
	w.at = start
	w.done("play")
	if s := state(t, w.report(t, start), "play"); s.Level != inspect.NotDue {
		t.Errorf("%+v", s)
	}
}

// A failed item that the car file has no more is still there, until it is found good.
func TestFailedItemOutlivesItsName(t *testing.T) {
	w := new(writer)
	w.looked(logbook.Inspection{Failed: []string{"cracks old plate"}})
	r := w.report(t, start)
	if s := state(t, r, "cracks old plate"); s.Level != inspect.Stop || s.Kind != inspect.Gone || r.Worst()[0].Key != s.Key {
		t.Errorf("%+v", s)
	}
	if slices.Contains(r.Named(inspect.Everything), "cracks old plate") {
		t.Error("\"all\" puts right what the car file does not have")
	}
	w.done("cracks old plate")
	if s, ok := w.report(t, start).Find("cracks old plate"); ok {
		t.Errorf("%+v", s)
	}
}

// A car file's own intervals take the place of the usual ones.
func TestOwnIntervals(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.Checks.Laps, car.Checks.RunLaps = given.Is(15), given.Is(16)
	w := new(writer)
	w.done("end plates")
	w.run("a", 0)
	r := inspect.Of(car, w.book, start)
	if s := state(t, r, "end plates"); s.Level != inspect.Overdue || r.Intervals.Sessions != 1 || r.Intervals.Days != 30 {
		t.Errorf("%+v of %+v", s, r.Intervals)
	}
}

func TestReadItems(t *testing.T) {
	r := new(writer).report(t, start)
	for _, c := range []struct {
		text string
		want []string
	}{
		{"torque foot", []string{"torque foot"}}, {"Torque", []string{"torque foot", "torque head"}},
		{"play, lid pins,play", []string{"play", "lid pins"}}, {"torq", nil}, {"play,wings", nil},
	} {
		if got, _ := r.ReadItems(c.text); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
	if all, wrong := r.ReadItems("all"); len(all) != len(r.Items) || wrong != "" {
		t.Errorf("all: %q, %q", all, wrong)
	}
	if _, wrong := r.ReadItems("play,wings"); wrong != "wings" {
		t.Errorf("wrong is %q", wrong)
	}
}

func TestNoteNeedsWords(t *testing.T) {
	w := new(writer)
	w.looked(logbook.Inspection{Failed: []string{"play"}, Found: "click"})
	r := w.report(t, start)
	for _, c := range []struct {
		is logbook.Inspection
		ok bool
	}{
		{logbook.Inspection{}, false}, {logbook.Inspection{Found: "words alone"}, false}, {logbook.Inspection{Looked: []string{"inserts"}}, true},
		{logbook.Inspection{Failed: []string{"inserts"}}, false}, {logbook.Inspection{Failed: []string{"inserts"}, Found: "one turns"}, true},
		{logbook.Inspection{Looked: []string{"play"}}, false}, {logbook.Inspection{Looked: []string{"play"}, Found: "new bush"}, true},
		{logbook.Inspection{Looked: []string{"play"}, Failed: []string{"play"}}, false},
		{logbook.Inspection{Struck: "kerb"}, true}, {logbook.Inspection{Struck: "wall"}, false},
	} {
		n, err := r.Note(c.is)
		if (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.is, err)
		}
		if err == nil && !n.Inspecting() {
			t.Errorf("%+v makes a run", n)
		}
	}
}

// The levels against a plain recount from the last look on, over notebooks drawn at random.
func TestLevelsAgainstRecount(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	keys := []string{"torque foot", "play", "cracks upright"}
	rapid.Check(t, func(t *rapid.T) {
		w := new(writer)
		type event struct {
			kind, key int
			laps      int
			setting   string
		}
		var events []event
		for range rapid.IntRange(0, 12).Draw(t, "notes") {
			e := event{rapid.IntRange(0, 4).Draw(t, "kind"), rapid.IntRange(0, 2).Draw(t, "key"), rapid.IntRange(0, 30).Draw(t, "laps"),
				rapid.SampledFrom([]string{"a", "b"}).Draw(t, "setting")}
			events = append(events, e)
			switch e.kind {
			case 0:
				w.run(e.setting, float64(e.laps))
			case 1:
				w.done(keys[e.key])
			case 2:
				w.looked(logbook.Inspection{Failed: []string{keys[e.key]}})
			case 3:
				w.looked(logbook.Inspection{Struck: "kerb"})
			case 4:
				w.fitted(e.setting)
			}
		}
		r := inspect.Of(car, w.book, w.at)
		for k, key := range keys {
			last := -1
			for i, e := range events {
				if e.kind == 1 && e.key == k {
					last = i
				}
			}
			stop, struck, laps, runs := false, false, 0, 0
			for _, e := range events[last+1:] {
				stop = stop || e.kind == 2 && e.key == k
				struck = struck || e.kind == 3
				if e.kind == 0 {
					runs++
					if laps += e.laps; e.laps == 0 {
						laps += 10
					}
				}
			}
			s := state(t, r, key)
			over := laps > 40
			if k == 1 {
				over = runs > 1
			}
			switch {
			case stop && s.Level != inspect.Stop, !stop && struck && s.Level != inspect.Overdue, !stop && over && s.Level != inspect.Overdue:
				t.Fatalf("%s: %s; stop %v, struck %v, %d laps, %d runs", key, s.Level.Word(), stop, struck, laps, runs)
			case !stop && !struck && !over && k != 0 && s.Level > inspect.NotKnown:
				t.Fatalf("%s: %s after %d laps, %d runs", key, s.Level.Word(), laps, runs)
			case last < 0 && s.Level == inspect.NotDue || s.Driven.Laps != laps || s.Driven.Runs != runs:
				t.Fatalf("%s: %s, %+v; %d laps, %d runs", key, s.Level.Word(), s.Driven, laps, runs)
			}
		}
	})
}
