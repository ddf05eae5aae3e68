package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// action is one thing that keys do.
type action struct {
	keys    []string
	label   string // for the footer; "" leaves it to the help
	does    string
	command string // the command that does the same; "" for none
	finds   string // further words that it is found by in the list of jobs
	run     func(Model) (Model, tea.Cmd)
	whyNot  func(Model) string // "" when available; nil means always
}

// group is a set of actions with what they have in common.
type group struct {
	title   string
	actions []action
}

// keyGroups lists the keys of the explorer, by job. allGroups adds the others; footer, help and
// the list of jobs are printed from them. It is a function, so that an action may itself print the list.
func keyGroups() []group {
	walk := func(keys []string, label, does string, run func(Model) (Model, tea.Cmd), whyNot func(Model) string) action {
		return action{keys: keys, label: label, does: does, run: run, whyNot: whyNot}
	}
	return []group{
		{"walk through the settings", []action{
			walk([]string{"left", "h"}, "", "smaller angle with the same bolts below", across(-1), needsRows),
			walk([]string{"right", "l"}, "←→ angle", "larger angle with the same bolts below", across(1), needsRows),
			walk([]string{"up", "k"}, "↑↓ row", "higher with the same holes of the wing", upward(1), needsRows),
			walk([]string{"down", "j"}, "", "lower with the same holes of the wing", upward(-1), needsRows),
			walk([]string{"f"}, "", "next hole for the wing's front bolt", step(choose.FrontNext, "no further front hole"), needsRows),
			walk([]string{"F"}, "", "previous hole for the wing's front bolt", step(choose.FrontPrev, "no earlier front hole"), needsRows),
			walk([]string{"r"}, "", "next hole for the wing's rear bolt", step(choose.RearNext, "no further rear hole with this front hole"), needsRows),
			walk([]string{"R"}, "", "previous hole for the wing's rear bolt", step(choose.RearPrev, "no earlier rear hole with this front hole"), needsRows),
			walk([]string{"b"}, "", "next way to bolt the joints below the wing's", step(choose.BelowNext, "no further way to bolt the joints below"), needsLower),
			walk([]string{"B"}, "", "previous way to bolt the joints below the wing's", step(choose.BelowPrev, "no earlier way to bolt the joints below"), needsLower),
			walk([]string{"n", "pgdown"}, "", "next in the list, by height", along(1), needsRows),
			walk([]string{"p", "pgup"}, "", "previous in the list", along(-1), needsRows),
			walk([]string{"g", "home"}, "", "first in the list", along(-1<<30), needsRows),
			walk([]string{"G", "end"}, "", "last in the list", along(1<<30), needsRows),
			walk([]string{";"}, "", "the same place bolted another way", Model.nextWay, needsWays),
			{keys: []string{"/"}, label: "/ find", does: "find a setting by its name, its holes, or a figure: 4 B2, >500N, 7.5deg", finds: "search go to angle downforce slot", run: Model.typeFind, whyNot: needsRows},
		}},
		{"see", append(paintActions(),
			action{keys: []string{"t"}, label: "t map", does: "a large map by place, a large table of holes, and back", finds: "matrix", run: Model.enlarge, whyNot: needsRows},
			action{keys: []string{"H"}, does: "columns of the table by angle, or in the order of the holes", run: Model.reorder, whyNot: needsRows},
			action{keys: []string{"z"}, label: "z zoom", does: "side view: the joint that was changed, the whole rear, the uprights", finds: "picture", run: Model.zoom},
			action{keys: []string{"Z"}, does: "the side view over the whole screen, and back", finds: "picture large zoom", run: Model.enlargeSide, whyNot: needsRows},
			action{keys: []string{"."}, does: "open the boot lid by 5°, with a stop where this setting is nearest to it", finds: "tailgate", run: swing(1), whyNot: needsLid},
			action{keys: []string{","}, does: "shut the boot lid by 5°", finds: "tailgate", run: swing(-1), whyNot: needsLid},
		)},
		{"ask about this setting", []action{
			{keys: []string{"enter"}, label: "enter all", does: "all about it: steps to bolt it, figures, what the ± is made of", command: "show", finds: "card spanner", run: openPage("enter"), whyNot: needsRows},
			{keys: []string{"y"}, label: "y why", does: "why a figure is what it is: equation, inputs, what would narrow its ±", command: "explain", finds: "uncertainty measure source", run: Model.openWhy, whyNot: needsRows},
			{keys: []string{"s"}, label: "s strength", does: "will bolts and plates hold, and which would give first", command: "strength", finds: "safe break buckling", run: openPage("s"), whyNot: needsFrame},
			{keys: []string{"c"}, label: "c clear", does: "how near it comes to body and lid, and the slots it needs", command: "clear", finds: "boot lid touch gap", run: openPage("c"), whyNot: needsBody},
			{keys: []string{"w"}, label: "w compare", does: "what changes against the kept setting, bolts included", command: "compare", finds: "difference", run: openPage("w"), whyNot: needsReference},
			{keys: []string{"o"}, label: "o speeds", does: "this setting, and the kept one, over speed", command: "sweep", finds: "top speed power", run: Model.overSpeed, whyNot: needsRows},
			{keys: []string{"M"}, label: "M notes", does: "the notebook: what was run, show, compare, correct, export", command: "note list", finds: "notebook log history csv markdown", run: Model.openNotebook, whyNot: needsNotes},
			{keys: []string{"Y"}, label: "Y copy", does: "copy the setting and its figures, or the page that is open, as text", finds: "clipboard", run: Model.copySetting, whyNot: needsRows},
		}},
		{"choose", []action{
			{keys: []string{" "}, label: "space keep", does: "keep this setting to compare with, or forget it", run: Model.keep, whyNot: needsRows},
			{keys: []string{"x"}, does: "go to the kept setting, keeping this one", finds: "swap", run: Model.swap, whyNot: needsKept},
			{keys: []string{"@"}, label: "@ on car", does: "mark this setting as the one that is on the car", finds: "bolted fitted now", run: Model.markOnCar, whyNot: needsRows},
			{keys: []string{"i"}, label: "i target", does: "say what you want: the maps then show which settings meet it", command: "pick", finds: "target wish limit want downforce balance", run: Model.openTarget, whyNot: needsRows},
			{keys: []string{"]"}, does: "next setting that meets the target, from the best on", run: nextHit(1), whyNot: needsHits},
			{keys: []string{"["}, does: "previous setting that meets the target", run: nextHit(-1), whyNot: needsHits},
			{keys: []string{"+", "="}, label: "± speed", does: "faster", run: faster(1)},
			{keys: []string{"-", "_"}, does: "slower", run: faster(-1)},
			{keys: []string{"v"}, does: "type a speed", run: Model.typeSpeed},
			{keys: []string{"u"}, does: "switch units: the car file's own, mm N km/h, in lbf mph", finds: "imperial metric", run: Model.switchUnits},
		}},
		{"drill", []action{
			{keys: []string{"d"}, label: "d drill", does: "try a new hole: it starts at the best place and runs along the curve on which the bolts go in", command: "hole try", finds: "new trial", run: Model.startDrill, whyNot: needsRows},
			{keys: []string{"*"}, does: "design new plates from what is wanted: heights, angles, steps; within a proposal, back to the proposals", command: "design", finds: "new plates upright holes propose wish make bracket", run: Model.openPlates, whyNot: needsPlates},
			{keys: []string{"#"}, does: "rework a proposal for a plate: move its holes and its edge, lock what is settled", finds: "move hole edge outline lock proposal change plate", run: Model.startRedraw, whyNot: needsProposal},
			{keys: []string{"U"}, does: "undo the last change: a hole, a correction, or what was written to the car file, of an earlier day too", finds: "back", run: Model.undo, whyNot: needsUndo},
			{keys: []string{"ctrl+r"}, does: "redo what was undone", run: Model.redo, whyNot: needsRedo},
		}},
		{"log and measure", []action{
			{keys: []string{"m"}, label: "m note", does: "note how this setting was, into the notebook beside the car file", command: "note add", finds: "log feel lap tyre pressure fuel ride height suspension", run: Model.openNote, whyNot: needsNotebook},
			{keys: []string{"%"}, does: "checks between sessions: what is overdue; tick what was looked at, say what failed, a kerb strike or contact", command: "checks", finds: "torque crack inspect paint mark insert kerb strike spin contact overdue safe list", run: Model.openChecks, whyNot: needsRows},
			{keys: []string{"L"}, does: "which setting to try next, after the last note", command: "note next", finds: "advice recommend what to try", run: Model.openNext, whyNot: needsNotes},
			{keys: []string{"\""}, does: "laps of the notebook by setting: which was faster, or not clear yet", command: "laps", finds: "time faster compare runs", run: Model.openLaps, whyNot: needsNotes},
			{keys: []string{"S"}, does: "fit the figures to what was measured on track", command: "note fit", finds: "calibrate runs scale fitted measured", run: Model.openFit, whyNot: needsFit},
			{keys: []string{"a"}, does: "level readings: type angles or heights measured with this setting on the car, see all, take one back", command: "datum --read", finds: "level spirit tape measured bracket floor face", run: Model.typeReading, whyNot: needsRows},
			{keys: []string{"&"}, does: "a day at the track: which setting comes next, what was run or lost, and what can be told", command: "plan", finds: "session order rain test day abba", run: Model.openPlan, whyNot: needsPlanning},
			{keys: []string{"W"}, does: "write the correction that level readings gave, and that is applied, to the car file; of a proposal for a plate: all of it to a new car file", command: "datum --write", finds: "save bracket", run: Model.writeOut, whyNot: needsToWrite},
		}},
	}
}

// keyTable lists all actions.
func keyTable() []action {
	var all []action
	for _, g := range allGroups() {
		all = append(all, g.actions...)
	}
	return all
}

// footerOrder is what the footer shows first where there is no room for all: how to
// walk, and the answers.
var footerOrder = []string{"right", "up", "1", "t", "enter", "y", "s", " ", "d", "i", "m", "@", "c", "+", "w", "z", "/", "o", "M", "Y"}

// press does what a key is for; unavailable actions say why.
func (m Model) press(key string) (Model, tea.Cmd) {
	for _, a := range keyTable() {
		for _, k := range a.keys {
			if k != key {
				continue
			}
			m.message = ""
			if why := a.why(m); why != "" {
				m.message = why
				return m, nil
			}
			return a.run(m)
		}
	}
	return m, nil
}

// whyNot says why a key does nothing now; "" when it does.
func (m Model) whyNot(key string) string {
	for _, a := range keyTable() {
		if a.keys[0] == key {
			return a.why(m)
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

func (m Model) help() (Model, tea.Cmd) { return m.read(Model.helpText) }

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
	typed := m.saving || len(m.draft.lines) > 0
	switch {
	case typed && m.src.NoteDraft != nil:
		return "a note is not saved: m goes on with it, q again leaves and keeps it for next time"
	case typed:
		return "a note is not saved: m goes on with it, q again drops it"
	case m.redrawUnkept():
		return "the rework of the proposal is not kept: enter keeps it, q again drops it"
	case m.datum != nil && len(m.unsaved) > 0:
		return "the correction and the new holes are not in the car file: q again drops them"
	case m.datum != nil:
		return "the correction is not in the car file: q again drops it"
	case len(m.readings.Readings) > 0:
		return "the readings are not in a car file: q again drops them"
	case m.proposed != nil && m.proposalUnsaved():
		return "the proposal is not in a car file: W writes it to one, q again leaves without"
	case m.proposed != nil:
		return m.proposed.back.wouldLose()
	case len(m.unsaved) > 0:
		return "the new holes are not in the car file: q again drops them"
	case m.plates.unlooked:
		return "what is wanted of plates was not looked for: * goes on with it, q again drops it"
	case m.targetDraft != nil:
		return "the target that was typed is not taken: i goes on with it, q again drops it"
	}
	return ""
}

// leave closes what is open, or else a large picture.
func (m Model) leave() (Model, tea.Cmd) {
	if m.walking() {
		if m.picking() {
			return m.stopPicking()
		}
		if m.large == notLarge && m.proposed != nil {
			return m.leaveProposal()
		}
		m.large = notLarge
	}
	return closeMode(m, "")
}
