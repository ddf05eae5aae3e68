package tui

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/words"
)

// checksMode is the list of what to look at between sessions: what was ticked and what was found is not saved yet.
type checksMode struct {
	at                int // the marked item
	scroll            int
	moved             bool            // the mark was moved, and is kept in sight
	ticked            map[string]bool // by key: true where it was found good, false where it failed
	found, by, struck string
	fault             string // why it was not saved
	leaving           bool   // esc was pressed once with something unsaved
}

// openChecks opens the list.
func (m Model) openChecks() (Model, tea.Cmd) { return m.with(checksMode{}), nil }

// checksNow is how the checks stand by the notebook; nil where there is none, or it was not read yet.
func (m Model) checksNow() *inspect.Report {
	if m.src.Notes == nil || m.bookRead == 0 || m.car == nil || m.proposed != nil {
		return nil
	}
	now := m.clock()
	k := &m.memo.checks
	if k.report == nil || k.car != m.car || k.read != m.bookRead || k.hour != now.Truncate(time.Hour) {
		r := inspect.Of(m.car, m.book, now)
		*k = checksOf{m.car, m.bookRead, now.Truncate(time.Hour), &r}
	}
	return k.report
}

// checksOf is how the checks stood when they were worked out last.
type checksOf struct {
	car    *model.Car
	read   int
	hour   time.Time
	report *inspect.Report
}

// clock is the time; that of the last note where nothing tells it.
func (m Model) clock() time.Time {
	if m.src.Now != nil {
		return m.src.Now()
	}
	var last time.Time
	for _, n := range m.book.All {
		if n.At.After(last) {
			last = n.At
		}
	}
	return last
}

// checksText says for the first line what is due, in room cells or else as short as can be; bad says that the car must not go out so.
func (m Model) checksText(room int) (text string, bad bool) {
	r := m.checksNow()
	if r == nil {
		return "", false
	}
	texts, bad := words.ChecksBrief(*r)
	for _, text = range texts {
		if ansi.StringWidth(text) <= room {
			break
		}
	}
	return text, bad
}

// items are what the list shows.
func (c checksMode) items(m Model) (all []words.CheckLine) {
	if m.row() == nil {
		return nil
	}
	for _, s := range words.CheckSections(m.lookOver()) {
		all = append(all, s.Lines...)
	}
	return all
}

// unsaved reports whether something is ticked or typed.
func (c checksMode) unsaved() bool { return len(c.ticked) > 0 || c.struck != "" || c.found != "" }

func (checksMode) title() string { return "in the list of checks" }

func (checksMode) typing() bool { return false }

func (c checksMode) withFault(fault string) mode {
	c.fault = fault
	return c
}

// changed puts the changed list in the place of the open one.
func (c checksMode) changed(m Model) (Model, tea.Cmd) {
	c.fault, c.leaving = "", false
	m.message = ""
	return m.with(c), nil
}

// tick marks an item; a second time takes that back.
func (c checksMode) tick(key string, good bool) checksMode {
	c.ticked = maps.Clone(c.ticked)
	if was, there := c.ticked[key]; there && was == good {
		delete(c.ticked, key)
		return c
	}
	if c.ticked == nil {
		c.ticked = map[string]bool{}
	}
	c.ticked[key] = good
	return c
}

func (checksMode) bindings(m Model) []binding {
	do := func(run func(c checksMode, m Model) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			c, _ := in[checksMode](m)
			return run(c, m)
		}
	}
	mark := func(by int) func(Model, string) (Model, tea.Cmd) {
		return do(func(c checksMode, m Model) (Model, tea.Cmd) {
			c.at, c.moved, c.scroll = min(max(c.at+by, 0), max(len(c.items(m))-1, 0)), true, 0
			return c.changed(m)
		})
	}
	back := binding{keys: []string{"esc", "q", "backspace"}, label: "esc back", does: "go back", run: do(checksMode.leave)}
	if m.saving {
		return []binding{back, quitting()}
	}
	return []binding{
		{keys: []string{"down", "j"}, label: "↑↓ mark", does: "mark the next thing to look at", run: mark(1)},
		{keys: []string{"up", "k"}, does: "mark the one before", run: mark(-1)},
		{keys: []string{" "}, label: "space good", does: "tick the marked one as looked at and found good, or take that back", run: do(checksMode.good)},
		{keys: []string{"f"}, label: "f failed", does: "say that the marked one failed, and what was found", run: do(checksMode.fail)},
		{keys: []string{"a"}, label: "a all", does: "tick all that did not fail", run: do(checksMode.all)},
		{keys: []string{"t"}, label: "t text", does: "type what was found or put right", run: do(checksMode.typeFound)},
		{keys: []string{"b"}, label: "b by", does: "type who looked", run: do(checksMode.typeBy)},
		{keys: []string{"s"}, label: "s struck", does: "a kerb strike, a spin, contact, none: what the car went through before this look", run: do(checksMode.strike)},
		{keys: []string{"enter"}, label: "enter saves", does: "save what was ticked as a note in the notebook", run: do(checksMode.save)},
		{keys: []string{"pgdown"}, does: "a page down", run: do(pageOfChecks(1))},
		{keys: []string{"pgup"}, does: "a page up", run: do(pageOfChecks(-1))},
		{keys: []string{"u"}, does: "switch units", run: func(m Model, _ string) (Model, tea.Cmd) { return m.switchUnits() }},
		{keys: []string{"Y"}, does: "copy the list as text", run: do(func(c checksMode, m Model) (Model, tea.Cmd) {
			return pageMode{lines: func(m Model) []string { lines, _ := c.lines(m); return lines }}.copyPage(m, "")
		})},
		back,
		quitting(),
	}
}

func pageOfChecks(by int) func(checksMode, Model) (Model, tea.Cmd) {
	return func(c checksMode, m Model) (Model, tea.Cmd) {
		lines, _ := c.wrapped(m)
		c.scroll, c.moved = min(max(c.scroll+by*max(m.height-5, 1), 0), max(0, len(lines)-c.room(m))), false
		return c.changed(m)
	}
}

// marked is the key of the marked item.
func (c checksMode) marked(m Model) (string, bool) {
	all := c.items(m)
	if c.at >= len(all) {
		return "", false
	}
	return all[c.at].Key, true
}

func (c checksMode) good(m Model) (Model, tea.Cmd) {
	if key, ok := c.marked(m); ok {
		c = c.tick(key, true)
		c.moved = true
	}
	return c.changed(m)
}

func (c checksMode) all(m Model) (Model, tea.Cmd) {
	for _, it := range c.items(m) {
		if _, there := c.ticked[it.Key]; !there && it.Kind != inspect.Gone {
			c = c.tick(it.Key, true)
		}
	}
	return c.changed(m)
}

// fail marks the item as failed, and asks for words.
func (c checksMode) fail(m Model) (Model, tea.Cmd) {
	key, ok := c.marked(m)
	if !ok {
		return c.changed(m)
	}
	if good, there := c.ticked[key]; there && !good {
		return c.tick(key, false).changed(m)
	}
	return m.promptOver(c, "what failed", "what was found, such as: crack at hole k3, 4 mm", func(m Model, text string) (Model, tea.Cmd, error) {
		if text = strings.TrimSpace(text); text == "" {
			return m, nil, errors.New("type what was found, or esc")
		}
		failed := c.tick(key, false)
		failed.found = strings.Trim(failed.found+"; "+text, "; ")
		m, cmd := failed.changed(m)
		return m, cmd, nil
	})
}

func (c checksMode) typeFound(m Model) (Model, tea.Cmd) {
	return c.ask(m, "found", "what was found or put right", c.found, func(c *checksMode, text string) { c.found = text })
}

func (c checksMode) typeBy(m Model) (Model, tea.Cmd) {
	return c.ask(m, "by", "who looked", c.by, func(c *checksMode, text string) { c.by = text })
}

// ask asks for one line.
func (c checksMode) ask(m Model, label, hint, now string, put func(*checksMode, string)) (Model, tea.Cmd) {
	m, cmd := m.promptOver(c, label, hint, func(m Model, text string) (Model, tea.Cmd, error) {
		put(&c, strings.TrimSpace(text))
		m, cmd := c.changed(m)
		return m, cmd, nil
	})
	p, _ := in[promptMode](m)
	p.input.CharLimit = 500
	p.input.SetValue(now)
	p.input.CursorEnd()
	return m.with(p), cmd
}

// strike goes through what the car may have gone through.
func (c checksMode) strike(m Model) (Model, tea.Cmd) {
	all := append([]string{""}, logbook.Strikes()...)
	c.struck = all[(slices.Index(all, c.struck)+1)%len(all)]
	return c.changed(m)
}

func (c checksMode) other(m Model, _ tea.KeyMsg) (Model, tea.Cmd) {
	m.message = "space ticks, f says that it failed, enter saves, esc goes back"
	return m.with(c), nil
}
