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
	Without  []int  // which those are, of the table's rows
	Solved   int    // ways of bolting whose plates were solved as they are drawn
	Open     []Open // what is not checked of any of them
}

// found is what one run through settings finds.
type found struct {
	row      *model.Row // the one that comes closest to not holding, or the first
	at       int        // its place in the table
	check    Check      // its What is "" when nothing of the row can be checked
	asked    int
	noForces int
	without  []int
	open     []Open
}

// All checks the settings that break no limit, or every one at all.
func (f *Analysis) All(every bool) Scope {
	n := runtime.GOMAXPROCS(0)
	parts := make([]found, n)
	var wait sync.WaitGroup
	for w := range n {
		wait.Go(func() {
			for i := w; i < len(f.Table.Rows); i += n {
				parts[w].look(f, i, every)
			}
		})
	}
	wait.Wait()
	var all found
	for _, p := range parts {
		all.join(p)
	}
	slices.Sort(all.without)
	s := Scope{Asked: all.asked, NoForces: all.noForces, Without: all.without, Open: all.open}
	if all.row != nil {
		s.Worst, _ = f.Of(all.row)
	}
	if s.NoForces > 0 {
		without := Open{fmt.Sprintf("%d of %d settings", s.NoForces, s.Asked), "no forces: outside the wing or flow data at the design speed"}
		s.Open = append([]Open{without}, s.Open...)
	}
	return s
}

// look checks every way of bolting the place of row i.
func (m *found) look(f *Analysis, i int, every bool) {
	r := &f.Table.Rows[i]
	if !every && r.Breaks() {
		return
	}
	m.asked++
	if loaded(r) != nil {
		m.noForces++
		m.without = append(m.without, i)
		return
	}
	for _, r := range f.Table.Ways(i) {
		c, open, ok := f.worstOf(r)
		m.leave(open)
		if m.row == nil || ok && (m.check.What == "" || c.gives(m.check)) {
			m.row, m.at, m.check = r, i, c
		}
	}
}

// leave adds what is not checked, each once.
func (m *found) leave(open []Open) {
	for _, o := range open {
		if !slices.Contains(m.open, o) {
			m.open = append(m.open, o)
		}
	}
}

// join takes in what another run found: of two that come equally close the first in the table.
func (m *found) join(p found) {
	m.asked += p.asked
	m.noForces += p.noForces
	m.without = append(m.without, p.without...)
	m.leave(p.open)
	switch {
	case p.row == nil:
		return
	case m.row == nil, m.check.What == "" && p.check.What != "":
	case p.check.What == "" && m.check.What != "":
		return
	case p.check.gives(m.check), !m.check.gives(p.check) && p.at < m.at:
	default:
		return
	}
	m.row, m.at, m.check = p.row, p.at, p.check
}

// worstOf returns the check of a row that gives first in any load case, and what is
// open of the row.
func (f *Analysis) worstOf(r *model.Row) (worst Check, open []Open, ok bool) {
	st := f.stance(r)
	open = f.openOf(st)
	for k := range cases {
		_, bodies := f.bodies(st, cases[k])
		f.each(st, cases[k], bodies, func(c Check) {
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
