package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// action is one thing that keys do.
type action struct {
	keys   []string
	label  string // for the footer; "" leaves it to the help
	does   string
	run    func(Model) (Model, tea.Cmd)
	whyNot func(Model) string // "" when available; nil means always
}

// group is a set of actions with what they have in common.
type group struct {
	title   string
	actions []action
}

// keyGroups lists the keys of the explorer. Footer and help are printed from it. It
// is a function, so that an action may itself print the list.
func keyGroups() []group {
	return []group{
		{"walk through the settings", []action{
			{[]string{"left", "h"}, "", "smaller angle at about this height", step(choose.AngleDown, "no smaller angle"), needsRows},
			{[]string{"right", "l"}, "←→ angle", "larger angle at about this height", step(choose.AngleUp, "no larger angle"), needsRows},
			{[]string{"up", "k"}, "↑↓ height", "higher at about this angle", step(choose.HeightUp, "none is higher"), needsRows},
			{[]string{"down", "j"}, "", "lower at about this angle", step(choose.HeightDown, "none is lower"), needsRows},
			{[]string{"f"}, "f r holes", "next hole for the wing's front bolt", step(choose.FrontNext, "no further front hole"), needsRows},
			{[]string{"F"}, "", "previous hole for the wing's front bolt", step(choose.FrontPrev, "no earlier front hole"), needsRows},
			{[]string{"r"}, "", "next hole for the wing's rear bolt", step(choose.RearNext, "no further rear hole with this front hole"), needsRows},
			{[]string{"R"}, "", "previous hole for the wing's rear bolt", step(choose.RearPrev, "no earlier rear hole with this front hole"), needsRows},
			{[]string{"b"}, "", "next way to bolt the joints below the wing's", step(choose.BelowNext, "no further way to bolt the joints below"), needsLower},
			{[]string{"B"}, "", "previous way to bolt the joints below the wing's", step(choose.BelowPrev, "no earlier way to bolt the joints below"), needsLower},
			{[]string{"n", "pgdown"}, "", "next in the list, by height", along(1), needsRows},
			{[]string{"p", "pgup"}, "", "previous in the list", along(-1), needsRows},
			{[]string{"g", "home"}, "", "first in the list", along(-1 << 30), needsRows},
			{[]string{"G", "end"}, "", "last in the list", along(1 << 30), needsRows},
			{[]string{";"}, "", "the same place bolted another way", Model.nextWay, needsWays},
			{[]string{"/"}, "/ find", "find a setting by its id or its holes", Model.typeFind, needsRows},
		}},
		{"look at this setting", []action{
			{[]string{"enter"}, "enter all", "all about it: steps to bolt it, figures, what the ± is made of", openPage("enter"), needsRows},
			{[]string{"y"}, "y why", "how its figures are worked out: equations, numbers, where inputs come from", openPage("y"), needsRows},
			{[]string{"s"}, "s strength", "will bolts and plates hold, and which would give first", openPage("s"), needsFrame},
			{[]string{"c"}, "c clear", "how near it comes to body and lid, and the slots it needs", openPage("c"), needsBody},
			{[]string{"w"}, "w compare", "what changes against the kept setting, bolts included", openPage("w"), needsKept},
			{[]string{"o"}, "o speeds", "this setting, and the kept one, over speed", Model.overSpeed, needsRows},
			{[]string{"M"}, "M notes", "what was run, this setting first", openPage("M"), needsNotes},
			{[]string{"."}, "", "open the boot lid by 5°, with a stop where this setting is nearest to it", swing(1), needsLid},
			{[]string{","}, "", "shut the boot lid by 5°", swing(-1), needsLid},
			{[]string{"z"}, "z zoom", "side view: both, the whole rear, the uprights", Model.zoom, nil},
		}},
		{"choose", []action{
			{[]string{" "}, "space keep", "keep this setting to compare with, or forget it", Model.keep, needsRows},
			{[]string{"x"}, "", "go to the kept setting, keeping this one", Model.swap, needsKept},
			{[]string{"i"}, "i target", "say what you want: the map then shows which settings meet it", Model.openTarget, needsRows},
			{[]string{"]"}, "", "next setting that meets the target, from the best on", nextHit(1), needsHits},
			{[]string{"["}, "", "previous setting that meets the target", nextHit(-1), needsHits},
			{[]string{"+", "="}, "± speed", "faster", faster(1), nil},
			{[]string{"-", "_"}, "", "slower", faster(-1), nil},
			{[]string{"v"}, "", "type a speed", Model.typeSpeed, nil},
			{[]string{"u"}, "u units", "switch units: the car file's own, mm N km/h, in lbf mph", Model.switchUnits, nil},
		}},
		{"change", []action{
			{[]string{"d"}, "d drill", "try a new hole: move it with the arrows and see what it adds", Model.startDrill, needsRows},
			{[]string{"m"}, "m note", "note how this setting was, into the notebook beside the car file", Model.openNote, needsNotebook},
			{[]string{"a"}, "", "enter the angle measured with this setting on the car", Model.typeReading, needsRows},
			{[]string{"U"}, "", "undo the last change: a hole, a correction, or what was written to the car file", Model.undo, needsUndo},
			{[]string{"N"}, "", "make a car file of your own, step by step", Model.startGuide, needsGuide},
		}},
		{"help and leave", []action{
			{[]string{"e"}, "", "list the faults of the car file", Model.listFaults, needsFaults},
			{[]string{"?"}, "? help", "list all keys", Model.help, nil},
			{[]string{"esc"}, "", "leave help, a page, a prompt or a message", Model.leave, nil},
			{[]string{"q", "ctrl+c"}, "q quit", "leave stanchion", Model.quit, nil},
		}},
	}
}

// keyTable lists all actions.
func keyTable() []action {
	var all []action
	for _, g := range keyGroups() {
		all = append(all, g.actions...)
	}
	return all
}

// footerOrder is what the footer shows first where there is no room for all: how to
// walk, and the answers.
var footerOrder = []string{"right", "up", "f", "enter", "s", "c", " ", "w", "+", "i", "y", "d", "m", "M", "o", "/", "u", "z"}

// press does what a key is for; unavailable actions say why.
func (m Model) press(key string) (Model, tea.Cmd) {
	for _, a := range keyTable() {
		for _, k := range a.keys {
			if k != key {
				continue
			}
			m.message = ""
			if a.whyNot != nil {
				if why := a.whyNot(m); why != "" {
					m.message = why
					return m, nil
				}
			}
			return a.run(m)
		}
	}
	return m, nil
}

// whyNot says why a key does nothing now; "" when it does.
func (m Model) whyNot(key string) string {
	for _, a := range keyTable() {
		if a.keys[0] == key && a.whyNot != nil {
			return a.whyNot(m)
		}
	}
	return ""
}

func needsRows(m Model) string {
	if m.row() == nil {
		return "there are no settings to walk through"
	}
	return ""
}

func needsLower(m Model) string {
	if len(m.car.Joints) < 2 {
		return "this car has one joint only"
	}
	return needsRows(m)
}

func needsKept(m Model) string {
	if m.keptRow() == nil {
		return "no setting is kept: space keeps this one"
	}
	return ""
}

// step walks to a neighbour, or says that there is none.
func step(way choose.Step, none string) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		if i, ok := choose.StepFrom(m.table, m.current, way); ok {
			from, to := m.row().Position, m.table.Rows[i].Position
			m.current = i
			switch off := to.Height - from.Height; {
			case (way == choose.AngleUp || way == choose.AngleDown) && math.Abs(off) > 10:
				m.message = fmt.Sprintf("height changed by %s mm: %s there", units.Signed(off, 0), none)
			case (way == choose.HeightUp || way == choose.HeightDown) && math.Abs(to.Angle-from.Angle) > plane.Deg:
				m.message = fmt.Sprintf("angle changed by %s°: %s there", units.Signed((to.Angle-from.Angle)/plane.Deg, 1), none)
			}
		} else {
			m.message = none
		}
		return m, nil
	}
}

// along moves in the list.
func along(by int) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		to := min(max(m.current+by, 0), len(m.table.Rows)-1)
		if to == m.current {
			m.message = "the list ends here"
		}
		m.current = to
		return m, nil
	}
}

func (m Model) keep() (Model, tea.Cmd) {
	if m.keptID == m.row().ID {
		m.keptID, m.message = "", "no setting kept"
	} else {
		m.keptID, m.message = m.row().ID, "kept: walk on to compare with it"
	}
	return m.pick(), nil
}

func (m Model) swap() (Model, tea.Cmd) {
	to := m.keptID
	m.keptID = m.row().ID
	return m.show(to).pick(), nil
}

func faster(steps float64) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		return m.setSpeed(m.units.NextSpeed(m.speed, steps))
	}
}

func speedInRange(v float64, u units.System) error {
	if v < model.MinSpeed || v > model.MaxSpeed {
		return fmt.Errorf("the speed must be %s to %s", u.Speed(model.MinSpeed), u.Speed(model.MaxSpeed))
	}
	return nil
}

func (m Model) setSpeed(v float64) (Model, tea.Cmd) {
	if err := speedInRange(v, m.units); err != nil {
		m.message = err.Error()
		return m, nil
	}
	m.speed = v
	if m.wanted != m.car { // another car is being worked out: it is to have this speed
		return m.ask(m.wanted, nil)
	}
	return m.ask(m.car, m.places)
}

func (m Model) switchUnits() (Model, tea.Cmd) {
	own := m.car.System()
	switch { // the file's own, then the others
	case m.units == own && own != units.Metric:
		m.units = units.Metric
	case m.units == own || m.units == units.Metric && own != units.Imperial:
		m.units = units.Imperial
	default:
		m.units = own
	}
	m.message = fmt.Sprintf("units: %s, %s, %s", m.units.LengthUnit(), m.units.ForceUnit(), m.units.SpeedUnit())
	return m, nil
}

func (m Model) zoom() (Model, tea.Cmd) {
	m.sight = (m.sight + 1) % sight(len(sightNames))
	return m, nil
}

func (m Model) help() (Model, tea.Cmd) { return m.read(Model.helpText) }

func (m Model) listFaults() (Model, tea.Cmd) {
	return m.read(func(m Model) []string {
		return append([]string{titleStyle.Render("what is wrong with the car file as it now is"), ""}, m.faults...)
	})
}

func needsFaults(m Model) string {
	if len(m.faults) == 0 {
		return "the car file has no faults"
	}
	return ""
}

// quit leaves, after a warning if something would be lost.
func (m Model) quit() (Model, tea.Cmd) {
	if why := m.wouldLose(); why != "" && !m.warned {
		m.warned = true
		m.message = why
		return m, nil
	}
	return m, tea.Quit
}

// wouldLose says what is typed or tried and not written; "" when nothing is.
func (m Model) wouldLose() string {
	typed := m.saving
	for i, text := range m.draft.texts {
		typed = typed || text != "" && noteFields()[i].name != placeField
	}
	switch {
	case typed && m.src.NoteDraft != nil:
		return "a note is not saved: m goes on with it, q again leaves and keeps it for next time"
	case typed:
		return "a note is not saved: m goes on with it, q again drops it"
	case m.datum != nil && len(m.unsaved) > 0:
		return "the correction and the new holes are not in the car file: q again drops them"
	case m.datum != nil:
		return "the correction is not in the car file: q again drops it"
	case len(m.unsaved) > 0:
		return "the new holes are not in the car file: q again drops them"
	}
	return ""
}

func (m Model) leave() (Model, tea.Cmd) {
	return closeMode(m, "")
}
