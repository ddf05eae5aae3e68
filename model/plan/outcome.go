package plan

import (
	"math"

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

// Clear reports whether one is faster.
func (o Outcome) Clear() bool { return math.Abs(o.Difference) > o.Half }

// Outcomes fits settings and the drift of the day to the laps that the day's notes have of the sessions that were run: the fit that the plan
// is made for. Notes and sessions go together in their order, by the setting; nil where no laps are noted.
func (p *Plan) Outcomes() (all []Outcome) {
	var runs []laps.Run
	var session []int
	notes, day := p.Notes, p.Date.Format("2006-01-02")
	for i, s := range p.Runs {
		if s.State != Run || s.Setting < 0 {
			continue
		}
		n, rest, ok := nextOf(notes, day, p.Candidates[s.Setting].Row.ID)
		if !ok {
			continue
		}
		notes = rest
		one := laps.Run{Name: n.ID, Setting: n.Setting}
		for _, l := range n.Laps {
			one.Laps = append(one.Laps, laps.Lap{Time: l.Seconds, Mark: l.Mark})
		}
		runs, session = append(runs, one), append(session, i)
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
			if o.Difference, e = f.Of(means, c.A, c.B); f.Free > 0 {
				o.Half = critical(float64(f.Free), p.Level) * e
			}
		}
		all = append(all, o)
	}
	return all
}

// nextOf is the next note of a day with laps of a setting, and the notes behind it.
func nextOf(notes []logbook.Note, day, setting string) (n logbook.Note, rest []logbook.Note, ok bool) {
	for i, n := range notes {
		if n.At.Format("2006-01-02") == day && n.Setting == setting && !n.Fitted && len(n.Laps) > 1 {
			return n, notes[i+1:], true
		}
	}
	return n, notes, false
}
