package tui

import (
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// painting is what the maps are painted by: a figure of each setting, as a number, a shade and a
// few letters in its cell.
type painting struct {
	key, name string
	about     string      // what its cells stand for, for the list of keys; "" where figures say it
	short     string      // the name where there is little room; "" for the same
	figure    figures.Key // that it is; "" for something else
	unit      func(units.System) string
	value     func(Model, *model.Row) float64 // NaN for none; shades go from the least to the most
	cell      func(Model, *model.Row, float64) string
	lines     bool                         // equal values are drawn as lines through the map of places
	slow      func(Model) func() []float64 // works out all values in the background; nil where value is quick
	whyNot    func(Model) string
	brief     string // what its cells mean in place of the name, where there is no room for the legend
}

// paintingCount is how many there are.
const paintingCount = 11

// paintings lists them, by their keys.
func paintings() [paintingCount]painting {
	of := func(key string, k figures.Key, lines bool) painting {
		f := figures.Get(k)
		return painting{key: key, name: f.Name, figure: k, unit: f.Unit, lines: lines,
			value: func(m Model, r *model.Row) float64 { return f.Of(m.table, r) },
			cell:  func(m Model, _ *model.Row, v float64) string { return f.Spell(v, m.units) }}
	}
	none := func(units.System) string { return "" }
	floored := func(_ Model, _ *model.Row, v float64) string { return units.Fixed(math.Floor(v+1e-6), 0) } // as words.Chance
	onCar := of("!", figures.OnCar, true)
	onCar.name, onCar.short, onCar.whyNot = "downforce on the car", "on the car", needsOnCar
	whole := func(_ Model, _ *model.Row, v float64) string { return units.Fixed(v, 0) }
	return [paintingCount]painting{
		of("1", figures.Downforce, true),
		of("2", figures.FrontShare, true),
		of("3", figures.Drag, true),
		of("4", figures.StallMargin, false),
		{key: "5", name: "strength used", unit: func(units.System) string { return "%" }, slow: Model.allStrengths, cell: whole, whyNot: needsFrame,
			brief: "strength used, %: – not checked"},
		{key: "6", name: "gap to body and lid", unit: units.System.LengthUnit, value: gapOf,
			cell: func(m Model, _ *model.Row, v float64) string { return m.units.LengthFigure(v) }, whyNot: needsBody},
		{key: "7", name: "± of the downforce", unit: units.System.ForceUnit, slow: Model.allUncertainties,
			cell: func(m Model, _ *model.Row, v float64) string { return m.units.ForceFigure(v) }},
		{key: "8", name: "bolts a side to move", unit: none, value: Model.movesTo, cell: whole, whyNot: needsReference},
		{key: "9", name: "what was run", about: ": o1-o3 oversteer, u1-u3 understeer, n", unit: none, value: Model.ranFelt,
			cell: func(_ Model, _ *model.Row, v float64) string { return spellFelt(v) }, whyNot: needsNotes,
			brief: "run: u under, o over, n neutral"},
		{key: "0", name: "chance of the target", short: "chance", unit: func(units.System) string { return "%" }, value: Model.chanceOf, cell: floored, whyNot: needsTarget},
		onCar,
	}
}

func gapOf(_ Model, r *model.Row) float64 {
	if !r.Gap.Known() || r.Gap.To == "" {
		return math.NaN()
	}
	return r.Gap.Distance
}

func (m Model) movesTo(r *model.Row) float64 {
	from, _ := m.reference()
	if from == nil {
		return math.NaN()
	}
	_, w := choose.LeastWork(from.Setting, r.Setting)
	return float64(w.Moved)
}

// allUncertainties works out the ± of the downforce of all rows.
func (m Model) allUncertainties() func() []float64 {
	t := m.table
	return func() []float64 {
		values := make([]float64, len(t.Rows))
		for i := range t.Rows {
			values[i] = t.Budget(&t.Rows[i]).Downforce
		}
		return values
	}
}

// allStrengths works out how much of its strength each row uses, as %; NaN where that is not checked.
func (m Model) allStrengths() func() []float64 {
	t, frame := m.table, m.frame
	return func() []float64 {
		values := make([]float64, len(t.Rows))
		for i := range t.Rows {
			values[i] = math.NaN()
			if frame == nil {
				continue
			}
			r, err := frame.Best(frame.Table.RowAt(t.Rows[i].Position))
			if used, ok := r.Used(); err == nil && ok && mayBeSaid(frame, r, t.Speed) {
				values[i] = 100 * used.Utilisation()
			}
		}
		return values
	}
}

// paintedMsg has the values of a painting that takes its time.
type paintedMsg struct {
	table  *model.Table
	paint  int
	values []float64
}

func (msg paintedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.table.Speed == m.table.Speed && msg.table.Car == m.table.Car && len(msg.table.Rows) == len(m.table.Rows) {
		m.slow = &msg // also when a place has been shown bolted another way meanwhile
	}
	return m, nil
}

// paintWith paints the maps by another figure.
func paintWith(i int) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		if why := paintings()[i].whyNot; why != nil {
			if text := why(m); text != "" {
				m.message = text
				return m, nil
			}
		}
		m.paint = i
		return m.workOutPaint()
	}
}

// slowFor reports whether the values of a painting that takes its time are those of the table: the same car at the
// same speed, however its places are bolted.
func (m Model) slowFor(paint int) bool {
	s := m.slow
	return s != nil && s.paint == paint && s.table.Car == m.table.Car && s.table.Speed == m.table.Speed && len(s.values) == len(m.table.Rows)
}

// workOutPaint asks for the values of a painting that takes its time.
func (m Model) workOutPaint() (Model, tea.Cmd) {
	by := paintings()[m.paint]
	if by.slow != nil && m.weak == checking {
		return m, nil // it follows
	}
	if by.whyNot != nil && by.whyNot(m) != "" {
		m.paint = 0 // what it rested on is gone
		return m, nil
	}
	if by.slow == nil || m.row() == nil || m.slowFor(m.paint) {
		return m, nil
	}
	table, paint, work := m.table, m.paint, by.slow(m)
	return m, func() tea.Msg { return paintedMsg{table, paint, work()} }
}

// painted is a painting's values of all rows, and their range.
type painted struct {
	of      paintedOf
	values  []float64
	lo, hi  float64
	contour *contours
	plot    *drawnPlot
}

// paintedOf is what a painting's values hang on.
type paintedOf struct {
	table  *model.Table
	paint  int
	from   string // id of the reference
	notes  int    // counts up with each reading of the notebook
	target *choose.Criteria
	picked int // the question that the chances answer; 0 while there is none
	slow   *paintedMsg
	units  units.System
}

// paintedNow returns the values of the painting that is shown. They are worked out once.
func (m Model) paintedNow() *painted {
	of := paintedOf{table: m.table, paint: m.paint, notes: m.bookRead, target: m.target, slow: m.slow, units: m.units}
	if from, _ := m.reference(); from != nil {
		of.from = from.ID
	}
	if m.chances != nil {
		of.picked = m.picks
	}
	if was := m.memo.painted; was != nil && was.of == of {
		return was
	}
	by := paintings()[m.paint]
	p := &painted{of: of, values: make([]float64, len(m.table.Rows)), lo: math.Inf(1), hi: math.Inf(-1)}
	for i := range m.table.Rows {
		v := math.NaN()
		switch {
		case by.value != nil:
			v = by.value(m, &m.table.Rows[i])
		case m.slowFor(m.paint):
			v = m.slow.values[i]
		}
		p.values[i] = v
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			p.lo, p.hi = min(p.lo, v), max(p.hi, v)
		}
	}
	m.memo.painted = p
	return p
}

// step is a value's place in the range, 0 to n-1; -1 where there is none.
func (p *painted) step(v float64, n int) int {
	switch {
	case math.IsNaN(v):
		return -1
	case !(p.hi > p.lo):
		return n / 2
	case math.IsInf(v, 1):
		return n - 1
	}
	return min(max(int(float64(n)*(v-p.lo)/(p.hi-p.lo)), 0), n-1)
}

// paintTitle names what a map is painted by, with its unit.
func (m Model) paintTitle() string {
	by := paintings()[m.paint]
	title := by.key + " " + by.name
	if by.short != "" && m.width < 100 && !m.words {
		title = by.key + " " + by.short
	}
	if by.figure != "" && figures.Get(by.figure).Assumed(m.car) {
		title += markAssumed
	}
	if unit := by.unit(m.units); unit != "" {
		title += ", " + unit
	}
	return title
}

func needsOnCar(m Model) string {
	if why := needsRows(m); why != "" {
		return why
	}
	switch {
	case m.car.TrackFit.Downforce.Known():
		return "the downforce is fitted on track: it is that on the car"
	case !m.table.DeckKnown(m.row()):
		return "the lift on the body is not known: give its outline as [body] in the car file"
	}
	return ""
}

func needsTarget(m Model) string {
	if m.target == nil {
		return "no target is set: i sets one"
	}
	return needsRows(m)
}
