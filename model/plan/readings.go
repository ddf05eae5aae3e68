package plan

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/model"
	"stanchion/model/calibrate"
)

// Reading is what readings at speed narrow on a day that is for them.
type Reading struct {
	Speed         float64 // m/s that ride heights are read at; 0 for top speeds
	Before, After float64 // N, one standard uncertainty of the first setting's downforce or drag
}

// possible works out what runs with the candidates would tell.
func (p *Plan) possible() (*calibrate.Possible, error) {
	kinds, lacks := calibrate.Sinks, ErrNoRates
	at := []float64{p.Table.Speed}
	if p.Find == Drag {
		kinds, lacks = calibrate.Fast, ErrNoPower
	}
	var rows []*model.Row
	for _, c := range p.Candidates {
		rows = append(rows, c.Row)
	}
	all, err := calibrate.Possibilities(p.Table, p.Notes, rows, at, kinds)
	if err != nil {
		return nil, err
	}
	if len(all.Runs) == 0 {
		return nil, lacks
	}
	return all, nil
}

// pick finds how often each candidate is to be run so that the readings narrow the unknowns the most, leaves those out that are not, and
// puts that into the task.
func (p *Plan) pick(task *Task) error {
	all, err := p.possible()
	if err != nil {
		return err
	}
	var runs []*mat.Dense
	of := make([]int, len(p.Candidates)) // run by candidate; -1 where nothing is predicted
	for i, c := range p.Candidates {
		of[i] = slices.IndexFunc(all.Runs, func(r calibrate.PossibleRun) bool { return r.Row.ID == c.Row.ID })
	}
	for _, r := range all.Runs {
		runs = append(runs, r.Slopes)
	}
	before := mat.NewSymDense(all.Before.SymmetricDim(), nil)
	before.CopySym(all.Before)
	was := make([]int, len(p.Candidates))
	for _, s := range task.Slots {
		if s.Setting >= 0 {
			was[s.Setting]++
			if k := of[s.Setting]; k >= 0 {
				before.SymRankK(before, 1, runs[k].T())
			}
		}
	}
	open := len(task.open())
	if open == 0 {
		return nil
	}
	first := -1
	if task.OnCar < 0 {
		first = of[0]
	}
	picked, _ := DOptimal(before, runs, open, first)
	counts := make([]int, len(p.Candidates))
	for _, k := range picked {
		counts[slices.Index(of, k)]++
	}
	var kept []Candidate
	task.Counts = nil
	for i, c := range p.Candidates {
		if counts[i]+was[i] > 0 || i == 0 {
			kept, task.Counts = append(kept, c), append(task.Counts, counts[i])
		}
	}
	counted := task.Counts
	p.Candidates = kept
	*task = *p.task()
	task.Counts = counted
	if order, ok := task.Order(); !ok || order == nil { // the changes do not fit the breaks as often: any number of each
		task.Counts = nil
	}
	return nil
}

// read works out what the readings of the plan narrow.
func (p *Plan) read() error {
	all, err := p.possible()
	if err != nil {
		return err
	}
	times := make([]int, len(all.Runs))
	for _, s := range p.Runs {
		if s.Setting < 0 || s.State == Run && p.noted(s) {
			continue
		}
		if k := slices.IndexFunc(all.Runs, func(r calibrate.PossibleRun) bool { return r.Row.ID == p.Candidates[s.Setting].Row.ID }); k >= 0 {
			times[k]++
		}
	}
	figure := func(c model.Contribution) float64 { return c.Downforce }
	p.Reading = &Reading{Speed: p.Table.Speed}
	if p.Find == Drag {
		figure = func(c model.Contribution) float64 { return c.Drag }
		p.Reading.Speed = 0
	}
	p.Reading.Before, p.Reading.After = all.After(times, p.Candidates[0].Row, figure)
	return nil
}

// noted reports whether a session that was run is in the notes already, so that its readings do not count twice: there is a note of its
// setting on the day of the plan.
func (p *Plan) noted(s Session) bool {
	day := p.Date.Format("2006-01-02")
	for _, n := range p.Notes {
		if n.Setting == p.Candidates[s.Setting].Row.ID && n.At.Format("2006-01-02") == day {
			return true
		}
	}
	return false
}

// Setups counts the candidates that are planned or run.
func (p *Plan) Setups() (n int) {
	for i := range p.Candidates {
		if slices.ContainsFunc(p.Runs, func(s Session) bool { return cmp.Compare(s.Setting, i) == 0 }) {
			n++
		}
	}
	return n
}
