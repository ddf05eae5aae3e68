// Package plan answers: which settings in which order, on a day of so many sessions at the track, and what can be told at its end? It
// weighs what track and driver do over a day and from run to run against the difference of settings, keeps to the time of the breaks, and
// starts with the setting that is safest. It holds data; model/words makes sentences of it.
//
// Times are in seconds, sessions and breaks in minutes.
package plan

import (
	"context"
	"errors"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/strength"
)

// State is what became of a session.
type State int

// The states.
const (
	Planned State = iota
	Run
	LostSession // to rain, a red flag, a repair
)

var stateNames = []string{Planned: "planned", Run: "run", LostSession: "lost"}

// Key is its name in files and JSON.
func (s State) Key() string { return stateNames[s] }

// Past is what became of a session, from the first on.
type Past struct {
	State   State
	Setting string // id of what was run
}

// Limits of what may be asked for.
const (
	MostSessions = 16
	MostSettings = 6
	Installation = 3 // laps at the start of a day that do not count: out, in and a look; then two to build up speed
	leastLaps    = Installation + 2
	CheckMinutes = 5 // of each break for torque and a look at the plates. Common practice, no source
)

// Plan is a day.
type Plan struct {
	Wish
	Table      *model.Table
	Analysis   *strength.Analysis // nil where strength cannot be checked, and NoStrength says why
	NoStrength error

	Candidates []Candidate // the safest first
	Barred     []Barred    // named, and not planned
	Runs       []Session
	Contrasts  []Contrast // of each with the first; for the fastest of each pair
	Degree     int        // of the drift that is fitted
	Free       int        // degrees of freedom that are left
	Level      float64    // of each comparison
	Reading    *Reading   // what readings at speed narrow; nil where laps are what tells

	told [][]Tell // by candidate
}

// Session is one of a day.
type Session struct {
	Number  int // from 1
	State   State
	Setting int     // of Candidates; -1 where it is lost, or another was run
	Other   string  // id of what was run that is none of them
	Start   float64 // minutes after the first session's start
	Laps    int     // that count
	Settle  int     // laps at its start that do not
	Work    choose.Work
	Change  float64 // minutes that the change before it takes
	From    int     // what is on the car before it; -1 where that is not known
}

// Contrast is what the day tells of the laps of two settings.
type Contrast struct {
	A, B       int // of Candidates
	RunsA      int
	RunsB      int
	StdErr     float64 // s, expected, of the difference
	Critical   float64 // times as large a difference is clear
	Seen, Sure float64 // s, that is clear in 4 and in 9 of 10 such days at the same scatter; NaN where the runs do not tell
	Bend       float64 // s in the difference by a drift of which the day's middle is off its ends by 1 s
	Blocked    float64 // s that would be seen if each setting was run in one go; NaN where that tells nothing
}

// Errors that are answers.
var (
	ErrFew     = errors.New("there are no two settings to plan with: no other is clear of the first, within a third of its downforce and a change that fits the break, and may be run")
	ErrBarred  = errors.New("none of the settings that are named may be run, or one alone")
	ErrBreaks  = errors.New("no order keeps to the breaks")
	ErrNoRates = errors.New("ride heights tell nothing of the downforce without front_rate and rear_rate in the car file")
	ErrNoPower = errors.New("top speeds tell nothing of the drag without power and drag_area in the car file")
)

// Make plans a day, or what is left of it.
func Make(ctx context.Context, t *model.Table, w Wish) (*Plan, error) {
	if err := w.Check(); err != nil {
		return nil, err
	}
	if math.IsNaN(w.RunScatter.Of) {
		w.RunScatter = Value{Of: runsOfLaps * w.LapScatter.Of}
	}
	p := &Plan{Wish: w, Table: t}
	if p.Analysis = w.Known; p.Analysis == nil {
		p.Analysis, p.NoStrength = strength.Single(t.Car)
	}
	if err := p.candidates(ctx); err != nil {
		return nil, err
	}
	task := p.task()
	if w.Find.ByReadings() {
		if err := p.pick(task); err != nil {
			return nil, err
		}
	}
	order, ok := task.Order()
	if !ok {
		return nil, ErrBreaks
	}
	p.sessions(order)
	p.contrasts(task, order)
	for b := range p.Candidates {
		p.told = append(p.told, p.tells(0, b))
	}
	if w.Find.ByReadings() {
		if err := p.read(); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// past is what became of session i.
func (p *Plan) past(i int) Past {
	if i < len(p.Past) {
		return p.Past[i]
	}
	return Past{}
}

// index is the number of a candidate by its id; -1 for none.
func (p *Plan) index(id string) int {
	return slices.IndexFunc(p.Candidates, func(c Candidate) bool { return c.Row.ID == id })
}

// lapsOf is how many laps of session i count, and how many before them do not: those of the day's start fall to the first session that is
// not lost.
func (p *Plan) lapsOf(i int) (count, settle int) {
	for k := range i {
		if p.past(k).State != LostSession {
			return p.Laps, 0
		}
	}
	return p.Laps - Installation, Installation
}

// task is the order that is wanted of what is left.
func (p *Plan) task() *Task {
	t := &Task{Settings: len(p.Candidates), OnCar: Open, Change: func(from, to int) (int, bool) {
		w := p.work(from, to)
		return w.Moved, p.fits(w)
	}}
	for i := range p.Sessions {
		n, _ := p.lapsOf(i)
		s := Slot{Open, 1 / (p.RunScatter.Of*p.RunScatter.Of + p.LapScatter.Of*p.LapScatter.Of/float64(n))}
		switch past := p.past(i); past.State {
		case Run:
			if s.Setting = p.index(past.Setting); s.Setting < 0 {
				s.Setting = Lost
			}
			t.OnCar = s.Setting
		case LostSession:
			s.Setting = Lost
		}
		t.Slots = append(t.Slots, s)
	}
	t.OnCar = max(t.OnCar, Open)
	for b := range p.Candidates {
		for a := range b {
			if a == 0 || p.Find == Fastest {
				t.Pairs = append(t.Pairs, [2]int{a, b})
			}
		}
	}
	return t
}

// work is what a change takes, on one side.
func (p *Plan) work(from, to int) choose.Work {
	return choose.WorkOf(p.Candidates[from].Row.Setting, p.Candidates[to].Row.Setting)
}

// Uprights is how many uprights a change is done at: two where the car file does not say.
func Uprights(c *model.Car) float64 { return c.Mounting.Uprights.Or(2) }

// takes is how many minutes a change takes, the look at the plates with it.
func (p *Plan) takes(w choose.Work) float64 {
	return float64(w.Moved)*Uprights(p.Table.Car)*p.MinutesPerBolt.Of + CheckMinutes
}

// fits reports whether a change can be done in a break.
func (p *Plan) fits(w choose.Work) bool { return w.Moved == 0 || p.takes(w) <= p.Break }

// sessions writes an order down.
func (p *Plan) sessions(order []int) {
	on := -1
	if i := p.index(p.OnCar); i >= 0 && len(p.Past) == 0 {
		on = i
	}
	for i, s := range order {
		past := p.past(i)
		one := Session{Number: i + 1, State: past.State, Setting: s, Start: float64(i) * (p.Minutes + p.Break), From: -1}
		one.Laps, one.Settle = p.lapsOf(i)
		switch {
		case past.State == LostSession:
			one.Setting, one.Laps, one.Settle = -1, 0, 0
		case s < 0:
			one.Setting, one.Other, on = -1, past.Setting, -1
		default:
			one.From = on
			if on >= 0 {
				one.Work = p.work(on, s)
			}
			if one.Work.Moved > 0 {
				one.Change = p.takes(one.Work)
			}
			on = s
		}
		p.Runs = append(p.Runs, one)
	}
}

// contrasts works out what the laps of an order tell.
func (p *Plan) contrasts(task *Task, order []int) {
	f, told := task.FitOf(order)
	p.Degree, p.Free, p.Level = f.Degree, max(f.Free, 0), each(len(task.Pairs))
	blocked := slices.Clone(order)
	var runs []int
	for i, s := range order {
		if s >= 0 {
			runs = append(runs, i)
		}
	}
	sorted := make([]int, 0, len(runs))
	for _, i := range runs {
		sorted = append(sorted, order[i])
	}
	slices.Sort(sorted)
	for k, i := range runs {
		blocked[i] = sorted[k]
	}
	plain, also := task.FitOf(blocked)
	for _, pair := range task.Pairs {
		c := Contrast{A: pair[0], B: pair[1], StdErr: math.NaN(), Critical: math.NaN(), Seen: math.NaN(), Sure: math.NaN(), Bend: math.NaN(), Blocked: math.NaN()}
		for _, s := range order {
			switch s {
			case c.A:
				c.RunsA++
			case c.B:
				c.RunsB++
			}
		}
		if told {
			if v := f.Variance(c.A, c.B); !math.IsInf(v, 1) {
				c.StdErr, c.Bend = math.Sqrt(v), f.Bend(c.A, c.B)
				if f.Free > 0 {
					free := float64(f.Free)
					c.Critical = critical(free, p.Level)
					c.Seen, c.Sure = c.StdErr*Seen(free, p.Level, Power), c.StdErr*Seen(free, p.Level, 0.9)
				}
			}
		}
		if also && plain.Free > 0 {
			if v := plain.Variance(c.A, c.B); !math.IsInf(v, 1) {
				c.Blocked = math.Sqrt(v) * Seen(float64(plain.Free), p.Level, Power)
			}
		}
		p.Contrasts = append(p.Contrasts, c)
	}
}

// Next is the session that comes next; nil where none is left.
func (p *Plan) Next() *Session {
	for i := range p.Runs {
		if p.Runs[i].State == Planned {
			return &p.Runs[i]
		}
	}
	return nil
}
