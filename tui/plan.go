package tui

import (
	"context"
	"errors"
	"io/fs"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/units"
)

// planMode is the page of a day at the track: which session is next, and what became of those before.
type planMode struct {
	plan   *plan.Plan // nil until it is made
	kept   plan.Kept  // as it was read or made last
	asked  *int       // the question that is not answered yet; nil for none
	fault  string     // why there is no plan, or why it is not kept
	scroll int
}

func needsPlanning(m Model) string {
	if m.proposed != nil {
		return "not with a proposal: W writes it to a car file first"
	}
	return needsRows(m)
}

// openPlan opens the page with the plan that is kept, or a new one that is kept when the first session is marked.
func (m Model) openPlan() (Model, tea.Cmd) { return planMode{}.ask(m, false, nil) }

// planMsg is a plan as it was made in the background.
type planMsg struct {
	asked *int
	plan  *plan.Plan
	kept  plan.Kept
	err   error
}

// ask makes the plan in the background, after a change to what became of its sessions, nil for none; or one of a new day.
func (d planMode) ask(m Model, newDay bool, change func(*plan.Kept) error) (Model, tea.Cmd) {
	if d.asked != nil {
		m.message = "the plan is being worked out"
		return m, nil
	}
	d.asked, d.fault = new(int), ""
	m.message = ""
	asked, had, before := d.asked, d.plan, d.kept
	t, notes, src, frame := m.table, m.book, m.src, m.frame
	return m.with(d), func() tea.Msg {
		p, k, err := planOf(had, before, src, t, notes.Notes, newDay, change, func(w plan.Wish) (*plan.Plan, error) {
			w.Notes, w.OnCar, w.Known, w.Formulas = notes.Notes, notes.OnCar(), frame, !src.Solves
			return plan.Make(context.Background(), t, w)
		})
		return planMsg{asked, p, k, err}
	}
}

// planOf is the plan that is followed: that of its file, or the one there was, or a new one. What is changed is kept.
func planOf(had *plan.Plan, before plan.Kept, src Source, t *model.Table, notes []logbook.Note, newDay bool, change func(*plan.Kept) error,
	made func(plan.Wish) (*plan.Plan, error)) (p *plan.Plan, k plan.Kept, err error) {
	k = before
	there := had != nil
	if src.Plan != nil {
		read, err := src.Plan()
		switch {
		case err == nil:
			k, there = read, true
		case !errors.Is(err, fs.ErrNotExist):
			return had, before, err
		}
	}
	there = there && !newDay
	follow := func() error {
		w, gone := k.Follow(t)
		if len(gone) > 0 {
			return errors.New("the car file no longer gives a setting of the plan: stanchion plan --new plans anew")
		}
		p, err = made(w)
		return err
	}
	if there {
		if err = follow(); err != nil {
			return had, k, err
		}
	} else {
		w := plan.Usual()
		w.Date = time.Now()
		w.MinutesPerBolt, w.LapScatter, w.RunScatter = plan.LearnFrom(notes, "", plan.Uprights(t.Car))
		if p, err = made(w); err != nil {
			return nil, k, err
		}
		k = p.Keep(k)
	}
	if change == nil {
		return p, k, nil
	}
	if err = change(&k); err != nil {
		return p, k, err
	}
	if err = follow(); err != nil {
		return had, before, err
	}
	k = p.Keep(k)
	if src.KeepPlan == nil {
		return p, k, nil
	}
	if err = src.KeepPlan(k); err == nil {
		k, err = src.Plan()
	}
	return p, k, err
}

func (msg planMsg) take(m Model) (Model, tea.Cmd) {
	d, open := in[planMode](m)
	if !open || d.asked != msg.asked {
		return m, nil // the person has gone on
	}
	d.asked = nil
	if msg.err != nil {
		d.fault = units.Printable(msg.err.Error())
	}
	if msg.plan != nil {
		d.plan, d.kept = msg.plan, msg.kept
	}
	return m.with(d), nil
}

func (planMode) title() string { return "on the page of a day at the track" }

func (planMode) typing() bool { return false }
