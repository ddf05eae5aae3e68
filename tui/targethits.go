package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/strength"
	"stanchion/model/words"
)

// pick finds the hits in the table as it now is, and the chance of each setting. What others are compared
// with, the kept setting or else what is on the car, is taken for the one to change from.
func (m Model) pick() Model {
	m.hits, m.chances = nil, nil
	if m.target == nil || m.table == nil {
		return m
	}
	hits, near := choose.Pick(m.table, m.wantedNow())
	m.hits, m.chances = hits, make(map[string]float64, len(m.table.Rows))
	for _, h := range hits {
		m.chances[m.table.Rows[h.Row].ID] = h.Chance
	}
	for _, n := range near {
		if r := &m.table.Rows[n.Row]; r.Within() {
			m.chances[r.ID] = n.Chance
		}
	}
	return m
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
	frame := m.frame
	if frame == nil {
		frame, _ = strength.Single(m.car)
	}
	return func(r *model.Row) choose.Strength {
		if frame == nil {
			return choose.Strength{}
		}
		res, err := frame.Best(frame.Table.RowAt(r.Position))
		if err != nil {
			return choose.Strength{}
		}
		return choose.StrengthOf(frame, res, most, m.table.Speed)
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
	case len(m.hits) == 0:
		return "no setting meets the target"
	}
	return needsRows(m)
}
