package plan

import (
	"math"
	"slices"

	"stanchion/model/choose"
	"stanchion/model/laps"
	"stanchion/model/logbook"
)

// Outcome is what the runs that were driven and noted say of the laps of two settings.
type Outcome struct {
	A, B       int     // of Candidates
	Difference float64 // s a lap, b less a; NaN where they do not tell
	Half       float64 // s, half of the interval; NaN where too few runs are noted
	Runs       int     // with laps noted, of the two
}

// leastTold is from how many degrees of freedom on an interval is given: with one, two runs that happen to be alike would make a winner.
const leastTold = 2

// Clear reports whether one is faster.
func (o Outcome) Clear() bool { return math.Abs(o.Difference) > o.Half }

// timedRun is a note with laps of a session that was run.
type timedRun struct {
	session int // of Runs
	note    logbook.Note
}

// timed pairs the sessions that were run with the day's notes that have laps, in their order, by the setting; what cannot be held against the
// last of them, another track or other tyres, is left out.
func (p *Plan) timed() (all []timedRun, left []choose.LeftOut) {
	notes, day := p.Notes, p.Date.Format("2006-01-02")
	var found []logbook.Note
	for i, s := range p.Runs {
		if s.State != Run || s.Setting < 0 {
			continue
		}
		if n, rest, ok := p.nextOf(notes, day, p.Candidates[s.Setting].Row.ID); ok {
			notes = rest
			all, found = append(all, timedRun{i, n}), append(found, n)
		}
	}
	_, left = choose.LapNotes(p.Table, found)
	return slices.DeleteFunc(all, func(one timedRun) bool {
		return slices.ContainsFunc(left, func(l choose.LeftOut) bool { return l.Note == one.note.ID })
	}), left
}

// LeftOut lists the notes of sessions whose laps do not count in Outcomes, and why.
func (p *Plan) LeftOut() []choose.LeftOut {
	_, left := p.timed()
	return left
}

// Outcomes fits settings and the drift of the day to the laps that the day's notes have of the sessions that were run: the fit that the plan
// is made for. Notes and sessions go together in their order, by the setting; nil where no laps are noted.
func (p *Plan) Outcomes() (all []Outcome) {
	var runs []laps.Run
	var session []int
	found, _ := p.timed()
	for _, f := range found {
		one := laps.Run{Name: f.note.ID, Setting: p.Candidates[p.Runs[f.session].Setting].Row.ID}
		for _, l := range f.note.Laps {
			one.Laps = append(one.Laps, laps.Lap{Time: l.Seconds, Mark: l.Mark})
		}
		runs, session = append(runs, one), append(session, f.session)
	}
	a := laps.Analyse(runs)
	var driven []Driven
	var means []float64
	count := make([]int, len(p.Candidates))
	task := p.task()
	for k, i := range session {
		if j := &a.Runs[k]; j.N >= 2 {
			s := p.Runs[i].Setting
			driven = append(driven, Driven{s, task.at(i), 1 / (p.RunScatter.Of*p.RunScatter.Of + p.LapScatter.Of*p.LapScatter.Of/float64(j.N))})
			means = append(means, j.Mean)
			count[s]++
		}
	}
	if len(driven) == 0 {
		return nil
	}
	f, told := fitted(driven, len(p.Candidates), DriftOf(len(driven), settingsOf(driven, len(p.Candidates))))
	for _, c := range p.Contrasts {
		o := Outcome{A: c.A, B: c.B, Difference: math.NaN(), Half: math.NaN(), Runs: count[c.A] + count[c.B]}
		if told {
			var e float64
			if o.Difference, e = f.Of(means, c.A, c.B); f.Free >= leastTold {
				o.Half = critical(float64(f.Free), p.Level) * e
			}
		}
		all = append(all, o)
	}
	return all
}

// nextOf is the next note of a day with laps of a setting, however it was bolted, and the notes behind it.
func (p *Plan) nextOf(notes []logbook.Note, day, setting string) (n logbook.Note, rest []logbook.Note, ok bool) {
	for i, n := range notes {
		if n.At.Format("2006-01-02") != day || n.Fitted || len(n.Laps) < 2 {
			continue
		}
		if k, there := p.Table.Index(n.Setting); there && p.Table.Rows[k].ID == setting {
			return n, notes[i+1:], true
		}
	}
	return n, notes, false
}
