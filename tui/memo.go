package tui

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// memo remembers what is dear to work out and hangs on what it was worked out from alone.
type memo struct {
	painted   *painted
	kept, car foundRow
	whole     wholeTable
	step      stepOf
	sure      sureOf
	fit       fitOf
	checks    checksOf
}

// sureOf is how sure a row's figures are, and what to measure next.
type sureOf struct {
	of      *model.Table
	id      string
	units   units.System
	budget  model.Budget
	measure string
}

// sure works out once how sure the figures of the setting shown are.
func (m Model) sure() *sureOf {
	r, k := m.row(), &m.memo.sure
	if k.of != m.table || k.id != r.ID || k.units != m.units {
		*k = sureOf{m.table, r.ID, m.units, m.table.Budget(r), words.MeasureFirst(m.table, r, figures.Get(figures.Downforce), m.units)}
	}
	return k
}

// wholeTable is what all rows of a table have in common.
type wholeTable struct {
	of                *model.Table
	lo, hi, low, high float64 // angle, degrees, and height, mm
	stalled           bool    // some keep all limits and are stalled
	gap               choose.Gap
	gaps              bool
}

// about looks through a table once.
func (k *memo) about(t *model.Table) *wholeTable {
	if k.whole.of != t {
		w := wholeTable{of: t, lo: math.Inf(1), hi: math.Inf(-1), low: math.Inf(1), high: math.Inf(-1)}
		w.gap, w.gaps = choose.WidestGap(t)
		for i := range t.Rows {
			r := &t.Rows[i]
			w.lo, w.hi = min(w.lo, r.Angle/plane.Deg), max(w.hi, r.Angle/plane.Deg)
			w.low, w.high = min(w.low, r.Height), max(w.high, r.Height)
			w.stalled = w.stalled || r.Stalled && r.Within()
		}
		k.whole = w
	}
	return &k.whole
}

func (k *memo) extents(t *model.Table) (lo, hi, low, high float64) {
	w := k.about(t)
	return w.lo, w.hi, w.low, w.high
}

// foundRow is a setting that was looked for in a table.
type foundRow struct {
	in  *model.Table
	id  string
	row *model.Row
}

func (f *foundRow) find(t *model.Table, id string) (*model.Row, bool) {
	if f.in != t || f.id != id {
		row, _ := t.Find(id)
		*f = foundRow{t, id, row}
	}
	return f.row, f.row != nil
}

func (k *memo) keptIn(t *model.Table, id string) (*model.Row, bool)  { return k.kept.find(t, id) }
func (k *memo) onCarIn(t *model.Table, id string) (*model.Row, bool) { return k.car.find(t, id) }
