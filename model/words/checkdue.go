package words

import (
	"fmt"
	"strings"
	"time"

	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// ItemName is what a thing to look at is called; nothing in it can act on a terminal.
func ItemName(it inspect.Item) string {
	switch it.Kind {
	case inspect.Torque:
		return units.Printable("joint " + it.Joint + ": torque")
	case inspect.Inserts:
		return "inserts of the wing"
	case inspect.Play:
		return "play of the wing by hand"
	case inspect.Cracks:
		return units.Printable("cracks in the " + it.Part)
	case inspect.Gone:
		return units.Printable(it.Key) + ", which the car file does not have any more"
	}
	return it.Key
}

// checkDay spells the day of a check.
func checkDay(t time.Time) string { return t.Format("2 Jan 2006") }

// strikeOf is what struck the car, as something that was.
func strikeOf(n *logbook.Note) string {
	switch n.Inspected.Struck {
	case logbook.StruckKerb:
		return "the kerb strike"
	case logbook.StruckSpin:
		return "the spin"
	}
	return "the contact"
}

// lapsDriven spells how many laps were driven; those of runs that say none are a guess.
func lapsDriven(d inspect.Driven) string {
	if d.Silent > 0 {
		return "about " + units.Count(d.Laps, "lap")
	}
	return units.Count(d.Laps, "lap")
}

// every spells an interval.
func every(n int, what string) string {
	if n == 1 {
		return "every " + what
	}
	return fmt.Sprintf("every %d %ss", n, what)
}

// Standing says how one thing stands: when it was looked at last, and when that is due.
func Standing(s inspect.State, k inspect.Intervals) string { return ItemName(s.Item) + standing(s, k) }

// standing is what is said of it, without its name.
func standing(s inspect.State, k inspect.Intervals) string {
	const last = " last checked "
	switch {
	case s.Level == inspect.Stop:
		found := ""
		if f := strings.TrimSpace(s.Failed.Inspected.Found); f != "" {
			found = ": " + units.PrintableLines(f, " / ")
		}
		return fmt.Sprintf(" FAILED on %s%s", checkDay(s.Failed.At), found)
	case s.Reason == inspect.ByStrike:
		return fmt.Sprintf(" not checked since %s of %s", strikeOf(s.Struck), checkDay(s.Struck.At))
	case s.Level == inspect.NotKnown:
		return " never noted as checked"
	case s.Level == inspect.NotDue:
		return last + checkDay(s.Last.At) + ", due " + dueIn(s)
	case s.Reason == inspect.ByFirstLaps:
		return fmt.Sprintf(" not checked since it was bolted on %s, %s ago; due after the first %s", checkDay(s.Bolted.At),
			lapsDriven(s.First), units.Count(k.FirstLaps, "lap"))
	case s.Last == nil && s.Reason == inspect.BySessions:
		return fmt.Sprintf(" never noted as checked in %s, due after %s", units.Count(s.Driven.Runs, "run"), every(k.Sessions, "run"))
	case s.Last == nil:
		return fmt.Sprintf(" never noted as checked in %s, due %s", lapsDriven(s.Driven), every(k.Laps, "lap"))
	case s.Reason == inspect.BySessions:
		return fmt.Sprintf("%s%s ago, due after %s", last, units.Count(s.Driven.Runs, "run"), every(k.Sessions, "run"))
	case s.Reason == inspect.ByDays:
		return fmt.Sprintf("%s%s ago, due %s", last, units.Count(s.Days, "day"), every(k.Days, "day"))
	}
	return fmt.Sprintf("%s%s ago, due %s", last, lapsDriven(s.Driven), every(k.Laps, "lap"))
}

// dueIn says after how much more a thing is due.
func dueIn(s inspect.State) string {
	switch s.Reason {
	case inspect.ByFirstLaps:
		return "after " + units.Count(s.Left, "more lap") + ", newly bolted"
	case inspect.BySessions:
		return "after " + units.Count(s.Left, "more run")
	case inspect.ByDays:
		return "in " + units.Count(s.Left, "day")
	}
	return "in " + units.Count(s.Left, "lap")
}

// History says of the list under a thing when it was looked at last, by whom, how much was driven since, and how it stands. name is
// what a setting is called.
func History(s inspect.State, k inspect.Intervals, name func(id string) string) string {
	var parts []string
	if n := s.Last; n != nil {
		text := "last " + checkDay(n.At)
		if n.Inspected.By != "" {
			text += " by " + n.Inspected.By
		}
		if n.Inspected.Setting != "" {
			text += " on " + name(n.Inspected.Setting)
		}
		since := fmt.Sprintf("%s in %s since", lapsDriven(s.Driven), units.Count(s.Driven.Runs, "run"))
		if s.Driven.Runs == 0 {
			since = "no run noted since"
		}
		parts = append(parts, text, since)
	} else if s.Failed == nil {
		parts = append(parts, "never noted")
	}
	switch s.Level {
	case inspect.Stop:
		parts = append(parts, "STOP: FAILED on "+checkDay(s.Failed.At))
		if n := s.Failed.Inspected; n.By != "" {
			parts[len(parts)-1] += ", by " + n.By
		}
		if f := strings.TrimSpace(s.Failed.Inspected.Found); f != "" {
			parts[len(parts)-1] += ": " + f
		}
	case inspect.Overdue, inspect.Due:
		word := map[inspect.Level]string{inspect.Overdue: "OVERDUE", inspect.Due: "DUE"}[s.Level]
		since := ""
		if !s.Since.IsZero() {
			since = " since " + checkDay(s.Since)
		}
		parts = append(parts, word+since+", "+cause(s, k))
	case inspect.NotDue:
		parts = append(parts, "due "+dueIn(s))
	}
	return units.PrintableLines(strings.Join(parts, "; "), " / ")
}

// cause says in a few words why a thing is due.
func cause(s inspect.State, k inspect.Intervals) string {
	switch s.Reason {
	case inspect.ByStrike:
		return strikeOf(s.Struck) + " of " + checkDay(s.Struck.At)
	case inspect.ByFirstLaps:
		return fmt.Sprintf("first %s of a newly bolted setting", units.Count(k.FirstLaps, "lap"))
	case inspect.BySessions:
		return every(k.Sessions, "run")
	case inspect.ByDays:
		return every(k.Days, "day")
	}
	return every(k.Laps, "lap")
}

// ChecksStop says what failed and was not found good since; nil for nothing. It stands before whatever sends the car out.
func ChecksStop(r inspect.Report) (lines []string) {
	for _, s := range r.Worst() {
		if s.Level == inspect.Stop {
			lines = append(lines, "STOP: "+Standing(s, r.Intervals)+". The car stays in until it is put right and checked again.")
		}
	}
	return lines
}

// ChecksHead says first what must not wait, then how far the answer may be trusted. It never says that all is well: what was driven
// and not noted is not known.
func ChecksHead(r inspect.Report) (lines []string) {
	worst := r.Worst()
	lines = ChecksStop(r)
	if !r.Noted {
		lines = append(lines, "NOT KNOWN when anything was checked: no check is noted. Do all of the list before the car goes out.")
	} else if text := countsOf(r); text != "" {
		lines = append(lines, text+":")
		lines = append(lines, alike(worst, r.Intervals)...)
	} else if len(worst) == 0 {
		lines = append(lines, "By the notebook no check is due yet. "+nextDue(r))
	}
	return append(lines, howKnown(r)...)
}

// alike says how things stand, those that stand alike in one line.
func alike(worst []inspect.State, k inspect.Intervals) (lines []string) {
	var said []string
	names := map[string][]string{}
	for _, s := range worst {
		if s.Level == inspect.Stop {
			continue
		}
		text := standing(s, k)
		if !s.Since.IsZero() && s.Reason != inspect.ByStrike {
			text += "; since " + checkDay(s.Since)
		}
		if names[text] == nil {
			said = append(said, text)
		}
		names[text] = append(names[text], ItemName(s.Item))
	}
	for _, text := range said {
		lines = append(lines, "  "+strings.Join(names[text], ", ")+text)
	}
	return lines
}

// countsOf counts what is overdue, due and never noted; "" where there is none of them.
func countsOf(r inspect.Report) string {
	var parts []string
	if n := r.Count(inspect.Overdue); n > 0 {
		parts = append(parts, units.Count(n, "check")+" OVERDUE")
	}
	if n := r.Count(inspect.Due); n > 0 {
		parts = append(parts, units.Count(n, "check")+" due before the car goes out again")
	}
	if n := r.Count(inspect.NotKnown); n > 0 {
		parts = append(parts, fmt.Sprintf("%d NOT KNOWN", n))
	}
	return strings.Join(parts, ", ")
}

// nextDue says what comes next.
func nextDue(r inspect.Report) string {
	var next inspect.State
	for _, s := range r.Items {
		if next.Key == "" || s.Over > next.Over {
			next = s
		}
	}
	if next.Key == "" {
		return ""
	}
	return "Next: " + ItemName(next.Item) + ", " + dueIn(next) + "."
}

// howKnown says what the counts of laps rest on.
func howKnown(r inspect.Report) (lines []string) {
	switch d := r.All; {
	case d.Runs == 0:
		lines = append(lines, "No run is noted, so it is NOT KNOWN how many laps the car did.")
	case d.Silent > 0:
		lines = append(lines, fmt.Sprintf("Laps are at least those of the notes: %d of %s say none and count as %d each; what was driven and not noted is not in them.",
			d.Silent, units.Count(d.Runs, "run"), r.Intervals.RunLaps))
	default:
		lines = append(lines, "Laps are at least those of the notes; what was driven and not noted is not in them.")
	}
	if len(r.Future) > 0 {
		lines = append(lines, units.Printable("NOT COUNTED, dated after today: note "+strings.Join(r.Future, ", ")+". Set the computer's clock, and note the check again."))
	}
	if r.Unread {
		lines = append(lines, "The notebook has notes that are damaged: laps, failures and strikes in them may be missing here.")
	}
	return lines
}

// ChecksBrief says in a few words what is due, for one line, and then in ever fewer; bad says that the car must not go out so. There are
// none where nothing is.
func ChecksBrief(r inspect.Report) (texts []string, bad bool) {
	worst := r.Worst()
	over, due, unknown := r.Count(inspect.Overdue), r.Count(inspect.Due), r.Count(inspect.NotKnown)
	counted := func(n int, what string) []string {
		name := units.Printable(worst[0].Key)
		return []string{fmt.Sprintf("%s %s: %s", units.Count(n, "check"), what, name), fmt.Sprintf("%d %s: %s", n, what, name), fmt.Sprintf("%d %s", n, what)}
	}
	switch {
	case r.Level() == inspect.Stop:
		return []string{units.Printable("STOP: " + worst[0].Key + " failed"), "STOP"}, true
	case !r.Noted && r.All.Runs == 0:
		return nil, false
	case !r.Noted:
		return []string{"no check noted", "no check"}, false
	case over > 0:
		return counted(over, "overdue"), true
	case unknown > 0:
		return counted(unknown, "never noted"), true
	case due > 0:
		return counted(due, "due"), false
	}
	return nil, false
}
