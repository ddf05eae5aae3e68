package tui

import (
	"context"
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
type solvedMsg struct{ frame *strength.Analysis }

// helpsMsg says what would help a setting.
type helpsMsg struct{ helped }

func (msg solvedMsg) take(m Model) (Model, tea.Cmd) {
	if m.held != nil && msg.frame == m.frame {
		*m.held = holdings{}
	}
	return m, nil
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
	if from, _ := m.reference(); page.sheet == compareSheet && from != nil {
		if _, known := m.frame.Known(row); known {
			row = m.frame.Table.RowAt(from.Position) // both, so that like is compared with like
		}
	}
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
		return solvedMsg{frame}
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
func (m Model) beingSolved() bool { return m.solving != nil && !m.solving.helps }

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
