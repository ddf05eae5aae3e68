package tui

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/strength"
	"stanchion/model/words"
)

// pickedMsg answers which settings meet the target.
type pickedMsg struct {
	asked int
	table *model.Table
	hits  []choose.Hit
	near  []choose.Miss
	err   error
}

// pick asks in the background which settings of the table as it now is meet the target, and how likely each does;
// an earlier question is given up. What others are compared with, the kept setting or else what is on the car, is
// taken for the one to change from.
func (m Model) pick() (Model, tea.Cmd) {
	m = m.endPick()
	m.hits, m.chances = nil, nil
	if m.target == nil || m.table == nil {
		return m, nil
	}
	m.picks++
	ctx, stop := context.WithCancel(context.Background())
	m.stopPick = stop
	asked, table, wanted := m.picks, m.table, m.wantedNow()
	return m, func() tea.Msg {
		hits, near, err := choose.PickUnder(ctx, table, wanted)
		return pickedMsg{asked, table, hits, near, err}
	}
}

// take keeps the answer to the last question; older ones are dropped.
func (msg pickedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.picks || m.stopPick == nil || msg.err != nil {
		return m, nil
	}
	goTo := m.goToBest
	m = m.endPick()
	m.goToBest = false
	m.hits, m.chances = msg.hits, make(map[string]float64, len(msg.table.Rows))
	for _, h := range msg.hits {
		m.chances[msg.table.Rows[h.Row].ID] = h.Chance.Told()
	}
	for _, n := range msg.near {
		if r := &msg.table.Rows[n.Row]; r.Within() {
			m.chances[r.ID] = n.Chance.Told()
		}
	}
	if goTo {
		m = m.toBestHit(msg.near)
	}
	return m, nil
}

// looking says that settings are being looked for.
const looking = "looking for settings that meet the target… esc stops"

// picking reports whether it is being worked out which settings meet the target.
func (m Model) picking() bool { return m.stopPick != nil }

// endPick ends the work on a question that has no answer yet.
func (m Model) endPick() Model {
	if m.stopPick != nil {
		m.stopPick()
		m.stopPick = nil
	}
	return m
}

// stopPicking gives the question up, and the target with it, so that no setting looks as if it missed it.
func (m Model) stopPicking() (Model, tea.Cmd) {
	m = m.endPick()
	m.target, m.targetDraft, m.targetTyped, m.goToBest = nil, m.targetTyped, nil, false
	m.message = "stopped: no target is set; i goes on with what was typed"
	return m.workOutPaint()
}

// wantedNow is the target with what the explorer knows besides.
func (m Model) wantedNow() choose.Criteria {
	c := *m.target
	if from, _ := m.reference(); from != nil {
		c.From = from.ID
	}
	if c.MaxUsed.Known() {
		c.Holds = m.holding(c.MaxUsed.Value())
	}
	return c
}

// holding tells how settings hold as far as is known without waiting.
func (m Model) holding(most float64) func(*model.Row) choose.Strength {
	known, car, speed := m.frame, m.car, m.table.Speed
	ready := sync.OnceValue(func() *strength.Analysis {
		if known == nil {
			known, _ = strength.Single(car)
		}
		return known
	})
	return func(r *model.Row) choose.Strength {
		frame := ready()
		if frame == nil {
			return choose.Strength{}
		}
		res, err := frame.Best(frame.Table.RowAt(r.Position))
		if err != nil {
			return choose.Strength{}
		}
		return choose.StrengthOf(frame, res, most, speed)
	}
}

// chanceOf is the chance of a row to meet the target, in %; NaN where it breaks a limit.
func (m Model) chanceOf(r *model.Row) float64 {
	for _, id := range append([]string{r.ID}, r.AlternativeIDs()...) {
		if p, ok := m.chances[id]; ok {
			return 100 * p
		}
	}
	return math.NaN()
}

// nextHit steps through the hits, from the best on.
func nextHit(by int) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		at := -1
		for i, h := range m.hits {
			if h.Row == m.current {
				at = i
			}
		}
		to := at + by
		if at < 0 {
			to = 0
		}
		if to < 0 || to >= len(m.hits) {
			m.message = "no further setting meets the target"
			return m, nil
		}
		m = m.show(m.hits[to].Way)
		how := m.whyHit(to)
		if !m.words {
			hold, _ := m.holdText()
			how = append(words.HitInShort(m.table, m.wantedNow(), &m.hits[to], m.units), hold)
		}
		m.message = fmt.Sprintf("%d of %d that meet the target: %s", to+1, len(m.hits), strings.Join(how, "; "))
		return m, nil
	}
}

// whyHit says why hit i meets the target.
func (m Model) whyHit(i int) []string {
	return words.Hit(m.table, m.wantedNow(), m.hits, i, m.units)
}

func needsHits(m Model) string {
	switch {
	case m.target == nil:
		return "no target is set: i sets one"
	case m.picking():
		return looking
	case len(m.hits) == 0:
		return "no setting meets the target"
	}
	return needsRows(m)
}
