package tui

import (
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/design"
	"stanchion/model/drill"
)

// kept puts the proposal as it is drawn in the place of the one before.
func (d redrawMode) kept(m Model) Model {
	own, others := m.addedHoles(d.n)
	if !d.changed() && len(own) == 0 {
		return m
	}
	p := m.plates
	if p.asFound == nil {
		p.asFound = map[int]*design.Proposal{}
	}
	p.asFound = maps.Clone(p.asFound)
	if p.asFound[d.n] == nil {
		was := p.found.Proposals[d.n]
		p.asFound[d.n] = &was
	}
	found := *p.found
	found.Proposals = slices.Clone(found.Proposals)
	found.Proposals[d.n] = *d.one
	p.found = &found
	p.told = slices.Clone(p.told)
	p.told[d.n] = plateTold{}
	p.saved = maps.Clone(p.saved)
	delete(p.saved, d.n)
	p.holes = maps.Clone(p.holes)
	if p.holes == nil {
		p.holes = map[int][]drill.NewHole{}
	}
	p.holes[d.n], p.said = others, false
	m.plates = p
	return m
}

// back goes back to where the drawing was opened from, which shows the proposal as it is now.
func (d redrawMode) back(m Model) (Model, tea.Cmd) {
	m, told := m.tellPlates()
	if m.proposed == nil {
		return m.with(plateMode{}), told
	}
	m = m.closed()
	one := m.plates.found.Proposals[d.n].Car
	if one == m.base {
		return m, told
	}
	m.unsaved = m.plates.holes[d.n]
	m.changes, m.undone = nil, nil // they are of holes that are the proposal's own by now
	m, asked := m.rebased(one)
	return m, tea.Batch(told, asked)
}

func (d redrawMode) keep(m Model) (Model, tea.Cmd) {
	changed := d.changed()
	m, cmd := d.back(d.kept(m))
	if m.message = ""; changed {
		m.message = "kept as reworked; W writes it to a new car file"
	}
	return m, cmd
}

// toWish keeps it and opens the form.
func (d redrawMode) toWish(m Model) (Model, tea.Cmd) {
	m, cmd := d.back(d.kept(m))
	if m.proposed != nil {
		var left tea.Cmd
		m, left = m.leaveProposal()
		cmd = tea.Batch(cmd, left)
	}
	return m.with(newPlateForm(m)), cmd
}

// write keeps it and asks for the name of a file. What is walked through is worked out anew meanwhile.
func (d redrawMode) write(m Model) (Model, tea.Cmd) {
	m, cmd := d.back(d.kept(m))
	m, asked := m.askPlateFile()
	return m, tea.Batch(cmd, asked)
}

// drop goes back without what is changed, after it has said so.
func (d redrawMode) drop(m Model, _ string) (Model, tea.Cmd) {
	if d.changed() && !d.dropping {
		d.dropping = true
		m.message = "esc again drops what is changed; enter keeps it"
		return m.with(d), nil
	}
	dropped := d.changed()
	m, cmd := d.back(m)
	if m.message = ""; dropped {
		m.message = "the proposal is as it was"
	}
	return m, cmd
}

// redrawUnkept reports whether a drawing of a proposal is open that would be lost.
func (m Model) redrawUnkept() bool {
	d, ok := m.redrawing()
	return ok && d.changed()
}
