package strength

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"stanchion/model"
)

// settled is how much of its strength a setting may use by the formulas of beams for them alone to
// say that it holds: near loaded holes the plate itself was found to use up to 1.3 times as much.
const settled = 0.65

// MostSolved is how many ways of bolting are solved as they are drawn when all settings are asked about, up to
// a second each.
const MostSolved = 60

// askedWay is one way of bolting in question.
type askedWay struct {
	row  *model.Row
	used float64 // by the formulas
	must bool    // the formulas do not settle it
	foot string
}

// SolveAll checks the settings that break no limit, or every one at all, as All does, and solves as
// they are drawn the plates of those that the formulas of beams do not settle, and of the most
// critical one in any case, up to most. What it leaves is named as open.
func (f *Analysis) SolveAll(ctx context.Context, every bool, most int) (Scope, error) {
	s := f.All(every)
	if s.Worst.Row == nil {
		return s, nil
	}
	ways := f.ways(every)
	slices.SortStableFunc(ways, func(a, b askedWay) int {
		if a.must != b.must {
			if a.must {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.used, a.used)
	})
	n := 1
	for n < len(ways) && ways[n].must {
		n++
	}
	left := max(0, n-most)
	n = min(n, most)
	solve := ways[:n]
	slices.SortStableFunc(solve, func(a, b askedWay) int { return cmp.Compare(a.foot, b.foot) }) // which is made ready once
	var open []Open
	for _, o := range s.Open {
		if !isAsDrawn(o) {
			open = append(open, o)
		}
	}
	worst := Result{}
	for i, w := range solve {
		r, err := f.Solve(ctx, w.row)
		if err != nil {
			return s, err
		}
		for _, o := range r.Open {
			if !slices.Contains(open, o) {
				open = append(open, o)
			}
		}
		if i == 0 || r.gives(worst) {
			worst = r
		}
	}
	s.Solved = n
	if left > 0 {
		open = append(open, Open{fmt.Sprintf("%d of %d ways of bolting", left, len(ways)), "not solved as they are drawn: ask for them by name"})
	}
	s.Worst, s.Open = worst, open
	return s, nil
}

func isAsDrawn(o Open) bool { return len(o.Why) >= len(asDrawn) && o.Why[:len(asDrawn)] == asDrawn }

// gives reports whether one result is nearer to not holding than another.
func (r Result) gives(than Result) bool {
	a, ok := r.Governing()
	b, other := than.Governing()
	return ok && (!other || a.gives(b))
}

// ways lists every way of bolting in question that has forces.
func (f *Analysis) ways(every bool) []askedWay {
	var all []askedWay
	for i := range f.Table.Rows {
		r := &f.Table.Rows[i]
		if !every && r.Breaks() || loaded(r) != nil {
			continue
		}
		for _, r := range f.Table.Ways(i) {
			res, err := f.Of(r)
			if err != nil {
				continue
			}
			used, _ := res.Used()
			w := askedWay{row: r, used: min(used.Utilisation(), 1e9)}
			w.must = w.used > settled || slices.ContainsFunc(res.Open, isAsDrawn)
			for _, fit := range r.Fits[:len(r.Fits)-1] {
				w.foot += fmt.Sprint(fit.Pairs)
			}
			all = append(all, w)
		}
	}
	return all
}
