package choose

import (
	"context"
	"runtime"
	"sync"

	"stanchion/model"
)

// picker is a table with what is asked of its settings.
type picker struct {
	t    *model.Table
	c    Criteria
	from *model.Row     // the setting on the car; nil for none
	at   []*model.Table // at the speeds of c.ShareAt, without rows; nil where there is no wing at a speed
}

func newPicker(t *model.Table, c Criteria) *picker {
	p := &picker{t: t, c: c}
	if r, ok := t.Find(c.From); ok && c.From != "" {
		p.from = r
	}
	for _, a := range c.ShareAt {
		var other *model.Table
		if w, err := t.Car.SolveWing(a.Speed); err == nil {
			other = model.NewTable(t.Car, nil, w, a.Speed)
		}
		p.at = append(p.at, other)
	}
	return p
}

// looked is a row with what was worked out of it: itself first, then at the speeds that are asked for.
type looked struct {
	p       *picker
	row     *model.Row
	rows    []*model.Row
	budgets []*model.Budget
}

func (p *picker) look(r *model.Row) *looked {
	s := &looked{p: p, row: r, rows: make([]*model.Row, 1+len(p.at)), budgets: make([]*model.Budget, 1+len(p.at))}
	s.rows[0] = r
	for k, t := range p.at {
		if t != nil {
			s.rows[k+1] = t.RowAt(r.Position)
		}
	}
	return s
}

// budget returns the uncertainty budget of the row in one of the tables.
func (s *looked) budget(table int) *model.Budget {
	if s.budgets[table] == nil {
		b := s.p.table(table).Budget(s.rows[table])
		s.budgets[table] = &b
	}
	return s.budgets[table]
}

// table returns one of the tables: 0 for that of the settings.
func (p *picker) table(i int) *model.Table {
	if i == 0 {
		return p.t
	}
	return p.at[i-1]
}

// each does something for 0 to n-1, on all processors, until the work is given up.
func each(ctx context.Context, n int, do func(i int)) {
	var wait sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), n)
	for w := range workers {
		wait.Go(func() {
			for i := w; i < n && ctx.Err() == nil; i += workers {
				do(i)
			}
		})
	}
	wait.Wait()
}
