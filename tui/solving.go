package tui

import (
	"context"
	"math"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/strength"
)

// solveDelay is how long a setting stays on the screen before its plates are solved.
const solveDelay = 150 * time.Millisecond

// solving is what is worked out in the background of the setting on the screen: its plates as they are
// drawn, and what would help where its page asks for it.
type solving struct {
	frame *strength.Analysis
	id    string
	helps bool
	stop  context.CancelFunc
}

// helped is what would help a setting.
type helped struct {
	frame *strength.Analysis
	id    string
	helps []strength.Help
}

// solvedMsg says that the plates of a setting are solved; the frame remembers what was found.
type solvedMsg struct {
	frame *strength.Analysis
	id    string
}

// helpsMsg says what would help a setting.
type helpsMsg struct{ helped }

func (msg solvedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.frame != m.frame {
		return m, nil
	}
	if m.held != nil {
		*m.held = holdings{}
	}
	return m.repaint(msg.id), nil
}

// repaint takes what was found of a setting into the maps that are painted by strength.
func (m Model) repaint(id string) Model {
	if paintings()[m.paint].key != strengthPaint || !m.slowFor(m.paint) {
		return m
	}
	for i := range m.table.Rows {
		r := &m.table.Rows[i]
		if r.ID != id {
			continue
		}
		slow := *m.slow
		slow.values = slices.Clone(slow.values)
		slow.values[i] = math.NaN()
		if used, ok := m.usedAt(r); ok {
			slow.values[i] = 100 * used
		}
		m.slow = &slow
		break
	}
	return m
}

// strengthPaint is the key of the painting by strength.
const strengthPaint = "5"

// nextToSolve is the setting to solve next: the one on the screen, what it is compared with, and where the maps
// are painted by strength the others, as many as a command solves.
func (m Model) nextToSolve(row *model.Row) *model.Row {
	if _, known := m.frame.Known(row); !known {
		return row
	}
	if from, _ := m.reference(); from != nil {
		if other := m.frame.Table.RowAt(from.Position); !m.wasSolved(other) {
			return other
		}
	}
	if paintings()[m.paint].key != strengthPaint || len(m.table.Rows) > strength.MostSolved {
		return row
	}
	for i := range m.table.Rows {
		if other := m.frame.Table.RowAt(m.table.Rows[i].Position); !m.wasSolved(other) {
			return other
		}
	}
	return row
}

// wasSolved reports whether a setting is solved or cannot be.
func (m Model) wasSolved(row *model.Row) bool {
	if _, known := m.frame.Known(row); known {
		return true
	}
	_, err := m.frame.Best(row)
	return err != nil
}

// solvedAlike reports whether two settings are both solved or both known by formulas alone, so that their
// strengths can be compared.
func (m Model) solvedAlike(a, b *model.Row) bool {
	if m.frame == nil {
		return false
	}
	_, first := m.frame.Known(m.frame.Table.RowAt(a.Position))
	_, second := m.frame.Known(m.frame.Table.RowAt(b.Position))
	return first == second
}

func (msg helpsMsg) take(m Model) (Model, tea.Cmd) {
	if msg.frame == m.frame {
		m.helped = &msg.helped
	}
	return m, nil
}

// keepSolving starts what the screen asks for and ends what it no longer does: the next setting or car
// ends the work on the one before.
func (m Model) keepSolving() (Model, tea.Cmd) {
	if !m.src.Solves || m.words {
		return m, nil
	}
	row := m.frameRow()
	if row == nil {
		return m.endSolving(), nil
	}
	page, _ := in[pageMode](m)
	row = m.nextToSolve(row)
	_, known := m.frame.Known(row)
	helps := known && page.sheet == strengthSheet && (m.helped == nil || m.helped.frame != m.frame || m.helped.id != row.ID)
	if known && !helps {
		return m.endSolving(), nil
	}
	if s := m.solving; s != nil && s.frame == m.frame && s.id == row.ID && s.helps == helps {
		return m, nil
	}
	m = m.endSolving()
	ctx, stop := context.WithCancel(context.Background())
	m.solving = &solving{m.frame, row.ID, helps, stop}
	frame := m.frame
	return m, func() tea.Msg {
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(solveDelay):
		}
		r, err := frame.Solve(ctx, row)
		switch {
		case err != nil:
			return nil
		case helps:
			found := frame.Helps(ctx, r)
			if ctx.Err() != nil {
				return nil
			}
			return helpsMsg{helped{frame, row.ID, found}}
		}
		return solvedMsg{frame, row.ID}
	}
}

// frameRow is the setting on the screen at the design speed; nil where there is none, or no forces.
func (m Model) frameRow() *model.Row {
	if m.frame == nil || m.table == nil || m.row() == nil {
		return nil
	}
	row := m.frame.Table.RowAt(m.row().Position)
	if _, err := m.frame.Best(row); err != nil {
		return nil
	}
	return row
}

func (m Model) endSolving() Model {
	if m.solving != nil {
		m.solving.stop()
		m.solving = nil
	}
	return m
}

// beingSolved reports whether the plates of the setting on the screen are being solved.
func (m Model) beingSolved() bool {
	row := m.row()
	return m.solving != nil && !m.solving.helps && row != nil && m.solving.id == row.ID
}

// helpsNow is what would help the setting on the screen, as far as that is known, and whether it is being
// worked out.
func (m Model) helpsNow(r strength.Result) (helps []strength.Help, waiting bool) {
	switch h := m.helped; {
	case !m.src.Solves || m.words:
		return m.frame.Helps(context.Background(), r), false
	case h != nil && h.frame == m.frame && h.id == r.Row.ID:
		return h.helps, false
	}
	return nil, true
}
