package drill

import (
	"context"
	"sync"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
)

// Existing is what there is before anything is drilled: the settings of a car, with what every question about a
// new hole comes back to, worked out when it is first asked for. It may be used by several at a time.
type Existing struct {
	Table  *model.Table
	Levels []choose.Level

	bolted func() (*holes.Bolted, error)
	ids    func() map[string]bool // of settings and alternatives
	like   *alikes
	steps  func() *steps
	row    func() func(*holes.Setting) model.Row
}

// NewExisting prepares a table.
func NewExisting(t *model.Table) *Existing {
	e := &Existing{Table: t, Levels: choose.Levels(t), like: newAlikes(t)}
	e.bolted = sync.OnceValues(func() (*holes.Bolted, error) {
		settings := make([]*holes.Setting, len(t.Rows))
		for i := range t.Rows {
			settings[i] = t.Rows[i].Setting
		}
		return holes.NewBolted(t.Car.Chain(), settings)
	})
	e.ids = sync.OnceValue(func() map[string]bool {
		ids := make(map[string]bool, len(t.Rows))
		for i := range t.Rows {
			ids[t.Rows[i].ID] = true
			for k := range t.Rows[i].Alternatives {
				ids[t.Rows[i].Alternatives[k].ID] = true
			}
		}
		return ids
	})
	e.row = sync.OnceValue(t.Rower)
	e.steps = sync.OnceValue(func() *steps { return stepsOf(t) })
	return e
}

// change is what holes change of a table: rows that give way, and those that come in their place or are new.
type change struct {
	car     *model.Car
	gone    []int
	rows    []model.Row
	added   []int    // of rows, those that use a new hole and were not to be had before
	further []string // ids of settings that get a further bolt
}

// change works out what holes change, without making a table of it.
func (e *Existing) change(hs []NewHole) (change, error) {
	c := change{car: With(e.Table.Car, hs...)}
	bolted, err := e.bolted()
	if err != nil {
		return c, err
	}
	by, err := bolted.With(c.car.Chain())
	if err != nil {
		return c, err
	}
	c.gone = by.Gone
	row := e.row()
	c.rows = make([]model.Row, len(by.Settings))
	for i := range by.Settings {
		c.rows[i] = row(&by.Settings[i])
		if !uses(e.Table.Car, &c.rows[i]) {
			continue
		}
		if id := withoutNew(e.Table.Car, c.car, &c.rows[i]); e.ids()[id] {
			c.further = append(c.further, id)
		} else {
			c.added = append(c.added, i)
		}
	}
	return c, nil
}

// Try works out what further holes would change. The wing's curve stays what it is in the table. It ends with the
// context's error when that is cancelled.
func (e *Existing) Try(ctx context.Context, hs ...NewHole) (Trial, error) {
	if err := ctx.Err(); err != nil {
		return Trial{Holes: hs}, err
	}
	c, err := e.change(hs)
	if err != nil {
		return Trial{Holes: hs, Before: e.Levels}, err
	}
	return e.trial(ctx, hs, c)
}

// usefulCount is how many settings of use a hole gives.
func (e *Existing) usefulCount(ctx context.Context, h NewHole) (n int, err error) {
	c, err := e.change([]NewHole{h})
	if err != nil {
		return 0, err
	}
	with := e.Table.Bare(c.car)
	for _, i := range c.added {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if e.like.use(with, &c.rows[i]).Use == OfUse {
			n++
		}
	}
	return n, ctx.Err()
}

// trial makes the whole answer of a change.
func (e *Existing) trial(ctx context.Context, hs []NewHole, c change) (Trial, error) {
	tr := Trial{Holes: hs, Before: e.Levels, Table: e.Table.With(c.car, c.gone, c.rows)}
	for _, h := range hs {
		tr.Rules = append(tr.Rules, HoleRules(&c.car.Parts[h.Part], h.Hole)...)
	}
	for i := range tr.Table.Rows {
		r := &tr.Table.Rows[i]
		if !uses(e.Table.Car, r) {
			continue
		}
		if id := withoutNew(e.Table.Car, c.car, r); e.ids()[id] {
			tr.Further = append(tr.Further, id)
			continue
		}
		tr.Added = append(tr.Added, i)
	}
	tr.After = choose.Levels(tr.Table)
	new := e.steps().fresh()
	for _, p := range c.runnable() {
		new.add(p)
	}
	tr.Shrink = new.gain(true)
	return tr, tr.judge(ctx, e)
}

// Try works out what further holes would change of a table, for one question; Existing is for several.
func Try(ctx context.Context, t *model.Table, hs ...NewHole) (Trial, error) {
	return NewExisting(t).Try(ctx, hs...)
}
