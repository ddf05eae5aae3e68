package strength

import (
	"fmt"
	"runtime"
	"slices"
	"sync"

	"stanchion/model"
)

// Scope is how all settings in question stand together, in every way that each can be
// bolted.
type Scope struct {
	Worst    Result // of the one that comes closest to not holding, the first where nothing can be checked; its Row is nil when none has loads
	Asked    int    // settings in question
	NoForces int    // of them, without forces at the design speed
	Open     []Open // what is not checked of any of them
}

// All checks the settings that break no limit, or every one at all.
func (f *Analysis) All(every bool) Scope {
	type found struct {
		row      *model.Row
		at       int
		check    Check // its What is "" when nothing of the row can be checked
		asked    int
		noForces int
		open     []Open
	}
	n := runtime.GOMAXPROCS(0)
	parts := make([]found, n)
	var wait sync.WaitGroup
	for w := range n {
		wait.Go(func() {
			var mine found
			for i := w; i < len(f.Table.Rows); i += n {
				r := &f.Table.Rows[i]
				if !every && r.Breaks() {
					continue
				}
				mine.asked++
				if loaded(r) != nil {
					mine.noForces++
					continue
				}
				for _, r := range f.Table.Ways(i) {
					c, open, ok := f.worstOf(r)
					for _, o := range open {
						if !slices.Contains(mine.open, o) {
							mine.open = append(mine.open, o)
						}
					}
					if mine.row == nil || ok && (mine.check.What == "" || c.gives(mine.check)) {
						mine.row, mine.at, mine.check = r, i, c
					}
				}
			}
			parts[w] = mine
		})
	}
	wait.Wait()
	var s Scope
	var first found
	for _, p := range parts {
		s.Asked += p.asked
		s.NoForces += p.noForces
		for _, o := range p.open {
			if !slices.Contains(s.Open, o) {
				s.Open = append(s.Open, o)
			}
		}
		switch {
		case p.row == nil:
		case first.row == nil, first.check.What == "" && p.check.What != "":
			first = p
		case p.check.What == "" && first.check.What != "":
		case p.check.gives(first.check), !first.check.gives(p.check) && p.at < first.at:
			first = p
		}
	}
	if first.row != nil {
		s.Worst, _ = f.Of(first.row)
	}
	if s.NoForces > 0 {
		s.Open = append([]Open{{fmt.Sprintf("%d of %d settings", s.NoForces, s.Asked),
			"no forces: outside the wing or flow data at the design speed"}}, s.Open...)
	}
	return s
}

// worstOf returns the check of a row that gives first in any load case, and what is
// open of the row.
func (f *Analysis) worstOf(r *model.Row) (worst Check, open []Open, ok bool) {
	st := f.stance(r)
	open = f.openOf(st)
	for k := range cases {
		_, bodies := f.bodies(st, cases[k])
		f.each(st, bodies, func(c Check) {
			if c.Weight() >= 0 && (!ok || c.gives(worst)) {
				worst, ok = c, true
				worst.Case = k
			}
		})
	}
	return worst, open, ok
}

// Verdict is that of all settings together: they pass when the worst does and nothing
// of any is open.
func (s Scope) Verdict() Verdict {
	if s.Worst.Row == nil {
		return NotChecked
	}
	v := s.Worst.Verdict()
	if v == Passes && len(s.Open) > 0 {
		return NotChecked
	}
	return v
}
