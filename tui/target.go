package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/choose"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// targetField is one line of the form for a target.
type targetField struct {
	choose.Asked
	tolerance bool // it is the tolerance of the line before
}

// targetFields lists the lines of the form: all that may be asked, the tolerance of the front share on a line of
// its own, and two lines for shares at other speeds.
func targetFields() (all []targetField) {
	for _, a := range choose.AskedList() {
		all = append(all, targetField{Asked: a})
		switch a.Flag {
		case "front-share":
			tolerance := choose.Asked{Name: "  give or take", Hint: func(units.System) string { return "0.5%" }, Bare: a.Bare,
				Read: func(c *choose.Criteria, text string, _ units.System) (err error) {
					if !c.FrontShare.Value.Known() {
						return errors.New("give the front share that it is of")
					}
					c.FrontShare.Tolerance, err = choose.ReadTolerance(text)
					return err
				}}
			all = append(all, targetField{tolerance, true})
		case "front-share-at":
			a.Name = "and at another speed"
			all = append(all, targetField{Asked: a})
		}
	}
	return all
}

// targetMode is the form for a target.
type targetMode struct {
	form widgets.Form
	old  []bool // lines that hold what they held before: typing puts something else in their place
}

// openTarget opens the form, with the last target.
func (m Model) openTarget() (Model, tea.Cmd) {
	var f widgets.Form
	var old []bool
	for i, field := range targetFields() {
		was := ""
		if i < len(m.targetTyped) {
			was = m.targetTyped[i]
		}
		if i < len(m.targetDraft) {
			was = m.targetDraft[i]
		}
		f.Add(field.Name, "such as "+field.Hint(m.units), was, 24)
		old = append(old, was != "")
	}
	f.Fields[0].Focus()
	return m.with(targetMode{f, old}), nil
}

func (targetMode) title() string { return "in the form for a target" }

func (targetMode) typing() bool { return true }

// moving are the keys that go from line to line of a form.
func moving(move func(m Model, by int) (Model, tea.Cmd)) []binding {
	return []binding{
		{keys: []string{"tab", "down"}, label: "tab and arrows move", does: "next line", run: func(m Model, _ string) (Model, tea.Cmd) { return move(m, 1) }},
		{keys: []string{"shift+tab", "up"}, does: "previous line", run: func(m Model, _ string) (Model, tea.Cmd) { return move(m, -1) }},
	}
}

func (targetMode) bindings(m Model) []binding {
	move := func(m Model, by int) (Model, tea.Cmd) {
		t, _ := in[targetMode](m)
		var cmd tea.Cmd
		t.form, cmd = t.form.Moved(by)
		return m.with(t), cmd
	}
	return append(moving(move),
		binding{keys: []string{"enter"}, label: "enter takes it", does: "take the target; with nothing in it there is none",
			run: func(m Model, _ string) (Model, tea.Cmd) {
				t, _ := in[targetMode](m)
				m, pick := t.take(m)
				m, paint := m.workOutPaint()
				return m, tea.Batch(pick, paint)
			}},
		binding{keys: []string{"esc"}, label: "esc goes back", does: "go back",
			run: func(m Model, _ string) (Model, tea.Cmd) {
				t, _ := in[targetMode](m)
				return t.leave(m), nil
			}},
		quitting(),
	)
}

// leave keeps what is typed for the next time that the form is opened.
func (t targetMode) leave(m Model) Model {
	m = m.closed()
	if m.targetDraft = nil; t.changed(m) {
		m.targetDraft = t.texts(m)
		m.message = "the target is as before; i goes on with what is typed"
	}
	return m
}

// changed reports whether something is typed that is not in the target.
func (t targetMode) changed(m Model) bool {
	texts, before := t.texts(m), m.targetTyped
	if before == nil {
		before = make([]string, len(texts))
	}
	return !slices.Equal(texts, before)
}

// texts are what is typed, bare numbers with their unit, so that they stay what they are when units change.
func (t targetMode) texts(m Model) []string {
	var texts []string
	for i, f := range targetFields() {
		text := strings.TrimSpace(t.form.Fields[i].Value())
		if text != "" && strings.Trim(text, "0123456789.+- ") == "" {
			text += f.Bare(m.units)
		}
		texts = append(texts, text)
	}
	return texts
}

// other types into a line: what it held before goes, unless the cursor was moved in it first.
func (t targetMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if f := targetFields()[t.form.At]; f.Yes && (key.Type == tea.KeyLeft || key.Type == tea.KeyRight) {
		text := "yes"
		if strings.TrimSpace(t.form.Fields[t.form.At].Value()) != "" {
			text = ""
		}
		t.form = t.form.Filled(text)
		t.form.Fault = ""
		return m.with(t), nil
	}
	var cmd tea.Cmd
	if t.old[t.form.At] {
		t.old = slices.Clone(t.old)
		t.old[t.form.At] = false
		if key.Type == tea.KeyRunes {
			t.form = t.form.Filled("")
		}
	}
	t.form, cmd = t.form.Typed(key)
	return m.with(t), cmd
}

// take reads the form; with nothing in it there is no target.
func (t targetMode) take(m Model) (Model, tea.Cmd) {
	var c choose.Criteria
	texts := t.texts(m)
	fault := func(i int, why string) (Model, tea.Cmd) {
		t.form, _ = t.form.Jumped(i)
		t.form.Fault = strings.TrimSpace(t.form.Names[i]) + ": " + why
		return m.with(t), nil
	}
	any := false
	for i, f := range targetFields() {
		text := texts[i]
		if text == "" {
			continue
		}
		any = true
		if err := f.Read(&c, text, m.units); err != nil {
			return fault(i, err.Error())
		}
		if from, _ := m.reference(); from == nil && c.NeedsFrom() {
			return fault(i, "nothing is kept or on the car: go back, and mark a setting with @ first")
		}
	}
	if least, most, clash := c.Clash(); clash {
		at := func(flag string) int {
			return slices.IndexFunc(targetFields(), func(f targetField) bool { return f.Flag == flag })
		}
		return fault(at(most), "it is below \""+targetFields()[at(least)].Name+"\": nothing lies between")
	}
	m, m.targetTyped, m.targetDraft = m.closed(), texts, nil
	if !any {
		m.target, m.targetTyped = nil, nil
		m.message = "no target"
		return m.pick()
	}
	m.target, m.goToBest, m.message = &c, true, looking
	return m.pick()
}

// toBestHit goes to the best setting that meets the target, or to the nearest that does
// not. Where something was opened meanwhile that is about the setting on the screen, that stays.
func (m Model) toBestHit(near []choose.Miss) Model {
	understood := ": " + words.Criteria(*m.target, m.units)
	if n := len(m.hits); !m.walking() {
		m.message = fmt.Sprintf("%d meet the target%s", n, understood)
		return m
	} else if n > 0 {
		m = m.show(m.hits[0].Way)
		m.message = "1 setting meets the target, this one" + understood
		if n > 1 {
			m.message = fmt.Sprintf("%d meet the target, this is the best, ] goes to the next%s", n, understood)
		}
		if m.hits[0].Unsafe {
			m.message = "STALLED OR LIFTING: " + m.message
		}
		return m
	}
	m.message = "none meets the target" + understood
	if len(near) > 0 {
		m.current = near[0].Row
		by := words.StoppedBy(m.table, near[0], m.units)[0]
		m.message = "none meets the target; the nearest is ruled out by " + by
		if near[0].Near() {
			m.message = fmt.Sprintf("none meets the target; the nearest misses it by %s; %s", by, words.Chance(near[0].Chance))
		}
	}
	return m
}

// view draws the form over the whole screen: as many of its lines as there is room for, around the one that is
// typed into.
func (t targetMode) view(m Model) (string, bool) {
	above := []string{titleStyle.Render("target for a setting"), ""}
	above = append(above, widgets.Wrap("Leave open what does not matter; all open shows every setting again. Typing replaces what a line holds; ← and → move in it, or switch a yes.", m.width)...)
	f := t.form
	const around = 4 // the foot, an empty line and two for a fault
	room := max(m.height-len(above)-around-2, 3)
	if n := len(f.Names); n > room {
		first := min(max(f.At-room/2, 0), n-room)
		above = append(above, fmt.Sprintf("Lines %d to %d of %d.", first+1, first+room, n))
		f.Names, f.Fields, f.At = f.Names[first:first+room], f.Fields[first:first+room], f.At-first
	}
	return f.View(append(above, ""), m.footerOf(t), m.width, m.height, m.glyphs), true
}

func (t targetMode) tell(w *walker) {
	w.say("A full stop takes what is there so far.")
	w.tellForm(t.form, t.with)
}

func (t targetMode) with(f widgets.Form) mode {
	t.form = f
	return t
}

func (t targetMode) typed(w *walker, text string) {
	if strings.TrimSpace(text) == "." {
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
		w.tell()
		return
	}
	w.typeInForm(t.form, text, t.with, nil)
}
