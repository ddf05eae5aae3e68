package inspect

import (
	"slices"
	"time"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Level is how an item stands, worse ones higher.
type Level int

// Levels.
const (
	NotDue   Level = iota
	Due            // before the car goes out again
	NotKnown       // it was never noted, and what is noted does not make it overdue
	Overdue        // the car went out after it was due, or something struck it
	Stop           // it failed, and was not found good since
)

// levels are what levels are called in machine-readable output.
var levels = map[Level]string{NotDue: "not_due", Due: "due", NotKnown: "not_known", Overdue: "overdue", Stop: "stop"}

// Word is what a level is called in machine-readable output.
func (l Level) Word() string { return levels[l] }

// Reason is why an item is due, or what will make it so.
type Reason int

// Reasons, those that weigh more first.
const (
	ByFailure Reason = iota
	ByStrike
	ByFirstLaps
	ByLaps
	BySessions
	ByDays
	Never // nothing makes it due, and nobody noted a look
)

// reasons are what reasons are called in machine-readable output.
var reasons = map[Reason]string{ByFailure: "failed", ByStrike: "struck", ByFirstLaps: "first_laps", ByLaps: "laps", BySessions: "sessions",
	ByDays: "days", Never: "never_noted"}

// Word is what a reason is called in machine-readable output.
func (r Reason) Word() string { return reasons[r] }

// State is how one item stands.
type State struct {
	Item
	Level  Level
	Reason Reason
	Last   *logbook.Note // when it was found good last; nil for never
	Failed *logbook.Note // since when it is not; nil where it is, or nobody looked
	Struck *logbook.Note // what struck the car since Last; nil for nothing
	Bolted *logbook.Note // when the setting was bolted, of Torque; nil where no note says
	Driven Driven        // since Last, or all that is noted
	First  Driven        // since Bolted
	Days   int           // since Last; 0 where there is none
	Since  time.Time     // when it came to be due; zero where it is not, or nobody knows
	Left   int           // laps, runs or days, by Reason, until it is due; 0 where it is
	Over   float64       // how many times its interval has gone by
}

// Report is how all items of a car stand.
type Report struct {
	Items     []State // in the order in which a person goes around the car
	Intervals Intervals
	Now       time.Time
	Noted     bool     // a look, a failure or a strike is in the notebook
	All       Driven   // what is noted
	OnCar     string   // id of the setting that is on the car; "" where no note says
	Future    []string // ids of looks that are dated after now: they do not count
	Unread    bool     // the notebook has notes that were torn, changed or cannot be read
}

// clockSlack is how far a note may be dated after now: clocks of two computers, and time zones.
const clockSlack = 24 * time.Hour

// Of goes through a notebook.
func Of(c *model.Car, b logbook.Book, now time.Time) Report {
	r := Report{Intervals: IntervalsOf(c), Now: now, OnCar: b.OnCar(), Unread: len(b.Told) > 0}
	notes := b.InForce()
	place := map[string]int{} // in the file
	for i, n := range b.All {
		place[n.ID] = i
	}
	late := func(n *logbook.Note) bool { return n.At.After(now.Add(clockSlack)) }
	for i := range notes {
		n := &notes[i]
		r.Noted = r.Noted || n.Inspected.Says()
		r.All = r.All.and(n, r.Intervals)
		if len(n.Inspected.Looked) > 0 && late(n) {
			r.Future = append(r.Future, n.ID)
		}
	}
	items := Items(c)
	for i := range notes {
		for _, key := range notes[i].Inspected.Failed {
			if !slices.ContainsFunc(items, func(it Item) bool { return it.Key == key }) {
				items = append(items, Item{Key: key, Kind: Gone})
			}
		}
	}
	for _, it := range items {
		s := State{Item: it}
		s.walk(notes, r.Intervals, late, func(n *logbook.Note) int { return place[n.ID] })
		if it.Kind == Gone && s.Failed == nil {
			continue // it was put right
		}
		s.stand(notes, r.Intervals, now)
		r.Items = append(r.Items, s)
	}
	return r
}

// walk goes through the notes, the oldest first, and keeps what matters of an item.
func (s *State) walk(notes []logbook.Note, every Intervals, late func(*logbook.Note) bool, place func(*logbook.Note) int) {
	bolted := "" // id of the setting
	for i := range notes {
		n := &notes[i]
		if n.Setting != "" && (n.Fitted || n.Setting != bolted) {
			bolted, s.Bolted, s.First = n.Setting, n, Driven{}
		}
		s.First, s.Driven = s.First.and(n, every), s.Driven.and(n, every)
		k := n.Inspected
		if k.Struck != "" {
			s.Struck = n
		}
		switch {
		case k.FailedAt(s.Key):
			s.Failed = n
		case !k.Passed(s.Key):
		case late(n): // a look that is still to come says nothing of now
		default:
			s.Last, s.Failed, s.Struck, s.Driven = n, nil, nil, Driven{}
			if s.First.Runs > 0 {
				s.First = Driven{Checked: true}
			}
		}
	}
	// What has a wrong date lies behind every look: it is put right by one that was written after it.
	after := func(n *logbook.Note) bool { return n != nil && late(n) && s.Last != nil && place(s.Last) > place(n) }
	if after(s.Failed) {
		s.Failed = nil
	}
	if after(s.Struck) {
		s.Struck = nil
	}
}

// stand says how the item stands after what was found.
func (s *State) stand(notes []logbook.Note, every Intervals, now time.Time) {
	s.Reason, s.Level = Never, NotKnown
	if s.Last != nil {
		s.Level, s.Days = NotDue, max(days(s.Last.At, now), 0)
	}
	if s.Kind == Gone {
		s.Level, s.Reason, s.Since = Stop, ByFailure, s.Failed.At
		return
	}
	nearest := -1.0 // how much of the interval has gone, of what is nearest to its end
	for _, d := range s.dues(notes, every, now) {
		s.Over = max(s.Over, d.gone)
		switch {
		case d.level > s.Level:
			s.Level, s.Reason, s.Since, s.Left = d.level, d.reason, d.since, 0
		case s.Level == NotDue && d.gone > nearest:
			s.Reason, s.Left, nearest = d.reason, d.left, d.gone
		}
	}
}

// due is one thing that makes an item due.
type due struct {
	reason Reason
	level  Level
	since  time.Time
	left   int
	gone   float64
}

// dues lists what makes the item due, what weighs more first.
func (s *State) dues(notes []logbook.Note, every Intervals, now time.Time) (all []due) {
	if s.Failed != nil {
		all = append(all, due{reason: ByFailure, level: Stop, since: s.Failed.At})
	}
	if s.Struck != nil {
		all = append(all, due{reason: ByStrike, level: Overdue, since: s.Struck.At})
	}
	count := func(reason Reason, have, limit int, since func() time.Time) {
		d := due{reason: reason, left: limit - have, gone: float64(have) / float64(limit)}
		switch {
		case have > limit:
			d.level = Overdue
		case have == limit:
			d.level = Due
		}
		if d.level >= Due {
			d.since, d.left = since(), 0
		}
		all = append(all, d)
	}
	if f := s.First; s.Kind == Torque && s.Bolted != nil && !f.Checked {
		d := due{reason: ByFirstLaps, left: every.FirstLaps - f.Laps, gone: float64(f.Laps) / float64(every.FirstLaps)}
		if f.Laps >= every.FirstLaps {
			if d.level = Due; f.Runs > 1 { // it went out again after its first run
				d.level = Overdue
			}
			d.since, d.left = reached(notes, s.Bolted, true, every, func(x Driven) bool { return x.Laps >= every.FirstLaps }), 0
		}
		all = append(all, d)
	}
	if s.Kind.quick() {
		count(BySessions, s.Driven.Runs, every.Sessions, func() time.Time {
			return reached(notes, s.Last, false, every, func(x Driven) bool { return x.Runs >= every.Sessions })
		})
	} else {
		count(ByLaps, s.Driven.Laps, every.Laps, func() time.Time {
			return reached(notes, s.Last, false, every, func(x Driven) bool { return x.Laps >= every.Laps })
		})
	}
	if s.Last != nil {
		count(ByDays, s.Days, every.Days, func() time.Time { return s.Last.At.AddDate(0, 0, every.Days) })
	}
	return all
}

// reached is when enough was driven after a note, or from it on where it counts itself; zero where it was not.
func reached(notes []logbook.Note, from *logbook.Note, itself bool, every Intervals, enough func(Driven) bool) time.Time {
	var d Driven
	after := from == nil
	for i := range notes {
		n := &notes[i]
		if from != nil && n.ID == from.ID {
			after = true
			if !itself {
				continue
			}
		}
		if after {
			if d = d.and(n, every); enough(d) {
				return n.At
			}
		}
	}
	return time.Time{}
}

// days is how many midnights lie between two times, where the second is.
func days(from, to time.Time) int {
	day := func(t time.Time) time.Time {
		y, m, d := t.In(to.Location()).Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(day(to).Sub(day(from)).Hours() / 24)
}
