package tui

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/drill"
	"stanchion/model/units"
)

// proposed is a proposal for a plate that is walked through as if it were the car.
type proposed struct {
	n, of int    // which of how many, from 0
	back  *Model // the explorer of the car itself, with the proposals open
}

// proposalLacks are the keys, by the first of each action, that need a car or a file that a proposal is not.
var proposalLacks = map[string]bool{"m": true, "M": true, "a": true, "@": true, "E": true, "N": true, "L": true, "S": true, "\"": true}

// why says why an action cannot be done now; "" when it can.
func (a action) why(m Model) string {
	if m.proposed != nil && proposalLacks[a.keys[0]] {
		return "not with a proposal: W writes it to a car file first, esc goes back to the car"
	}
	if a.whyNot == nil {
		return ""
	}
	return a.whyNot(m)
}

// walkProposal opens the marked proposal as a car of its own, with the holes that were added to it before.
func (m Model) walkProposal() (Model, tea.Cmd) {
	one := m.marked()
	if one == nil {
		return m, nil
	}
	if m.saving {
		m.message = "a note is still being saved: once more in a moment"
		return m, nil
	}
	if len(one.Table.Rows) == 0 {
		m.message = "nothing goes in with this plate any more: # reworks it"
		return m, nil
	}
	m = m.endSolving()
	m.message = ""
	back := m
	src := Source{Name: m.src.Name, Load: func() (*model.Car, error) { return one.Car, nil }, Copy: m.src.Copy, Solves: m.src.Solves}
	fresh := New(src, one.Car, m.speed, m.units)
	fresh.width, fresh.height, fresh.words, fresh.glyphs = m.width, m.height, m.words, m.glyphs
	fresh.proposed = &proposed{m.plates.at, len(m.plates.found.Proposals), &back}
	fresh.plates, fresh.unsaved = m.plates, m.plates.holes[m.plates.at]
	// No answer about the car before is taken for one about this.
	fresh.asked, fresh.trials, fresh.sweeps, fresh.picks = m.asked+1, m.trials+1, m.sweeps+1, m.picks+1
	fresh.message = "esc goes back to the proposals, W writes this one to a new car file, d adds a hole"
	fresh.car = fresh.laidOn(one.Car)
	fresh.wanted = fresh.car
	return fresh, solve(fresh.asked, fresh.car, nil, fresh.speed)
}

// leaveProposal goes back to the proposals; holes that were added stay with this one.
func (m Model) leaveProposal() (Model, tea.Cmd) {
	m = m.endSolving()
	if m.stop != nil {
		m.stop()
	}
	back, n := *m.proposed.back, m.proposed.n
	back.plates = m.plates
	back.plates.holes = maps.Clone(m.plates.holes)
	if back.plates.holes == nil {
		back.plates.holes = map[int][]drill.NewHole{}
	}
	back.plates.holes[n] = m.unsaved
	back.width, back.height, back.units, back.glyphs, back.message = m.width, m.height, m.units, m.glyphs, ""
	back.asked, back.trials, back.sweeps, back.picks = m.asked+1, m.trials+1, m.sweeps+1, m.picks+1
	back = back.with(plateMode{})
	if back.working || back.picking() || back.weak == checking { // its answer went by meanwhile
		return back.ask(back.wanted, nil)
	}
	return back, nil
}

// proposalText says for the first line that a proposal is shown; "" for the car itself.
func (m Model) proposalText() string {
	if m.proposed == nil {
		return ""
	}
	state := "not saved"
	if s, ok := m.plates.saved[m.proposed.n]; ok {
		state = "in " + units.Printable(filepath.Base(s.name))
		if s.holes != len(m.unsaved) {
			state = "changes not saved"
		}
	}
	return fmt.Sprintf("PROPOSAL %d of %d, %s", m.proposed.n+1, m.proposed.of, state)
}

// plateSource is where the car comes from that plates are proposed for.
func (m Model) plateSource() Source {
	if m.proposed != nil {
		return m.proposed.back.src
	}
	return m.src
}

// toWrite is the car that W writes: the marked proposal, or the one that is walked through, with the holes that were added.
func (m Model) toWrite() (car *model.Car, n, holes int) {
	if m.proposed != nil {
		return m.wanted, m.proposed.n, len(m.unsaved) // what is shown as soon as it is worked out
	}
	one, n := m.marked(), m.plates.at
	car = one.Car
	for _, h := range m.plates.holes[n] {
		car = drill.With(car, h)
	}
	return car, n, len(m.plates.holes[n])
}

// plateFile is the name that is offered for a proposal: beside the car file.
func (m Model) plateFile(n int) string {
	name := m.plateSource().Name
	if rest, ok := strings.CutPrefix(name, "demo:"); ok {
		name = rest + ".toml"
	}
	return fmt.Sprintf("%s-plate%d.toml", strings.TrimSuffix(name, filepath.Ext(name)), n+1)
}

// askPlateFile asks for the name of the file that a proposal is written to.
func (m Model) askPlateFile() (Model, tea.Cmd) { return m.askPlateFileAgain("", nil) }

// askPlateFileAgain asks for it with what was typed before and what was wrong with that.
func (m Model) askPlateFileAgain(typed string, fault error) (Model, tea.Cmd) {
	src := m.plateSource()
	if m.marked() == nil && m.proposed == nil {
		return m, nil
	}
	if src.Guide == nil || src.Text == nil {
		m.message = "no file can be made from here: stanchion design --out FILE"
		return m, nil
	}
	if m.proposed == nil && m.platesStale() {
		m.message = "the car file has changed since these were looked for: i looks again"
		return m, nil
	}
	_, n, _ := m.toWrite()
	hint := "a name, such as " + units.Printable(m.plateFile(n)) + "; no file is overwritten"
	take := func(m Model, text string) (Model, tea.Cmd, error) {
		if text = strings.TrimSpace(text); text == "" {
			return m, nil, errors.New("type a name for the new car file, or esc")
		}
		if m.proposed == nil {
			m = m.with(plateMode{})
		}
		m.message = "writing…"
		asked := m.plates.asked
		with := carfile.WithPlate
		if m.plates.found != nil && len(m.plates.found.Wish.Above) > 0 {
			with = carfile.WithPlateAndMounts
		}
		car, n, holes := m.toWrite() // by now it may have cut-outs
		return m, func() tea.Msg {
			was, err := src.Text()
			if err == nil {
				was, err = with(text, was, car)
			}
			name := text
			if err == nil {
				var next Source
				if next, err = src.Guide(text, was); err == nil && next.Name != "" {
					name = next.Name
				}
			}
			return plateWrittenMsg{asked, n, text, savedPlate{name, holes}, err}
		}, nil
	}
	var cmd tea.Cmd
	if m.proposed == nil {
		p, _ := in[plateMode](m)
		m, cmd = m.promptOver(p, "new car file", hint, take)
	} else {
		m, cmd = m.prompt("new car file", hint, take)
	}
	p, _ := in[promptMode](m)
	if typed == "" {
		typed = m.plateFile(n)
	}
	p.input.SetValue(typed)
	p.input.CursorEnd()
	if fault != nil {
		p.fault = "not written: " + units.Printable(strings.ReplaceAll(fault.Error(), "\n", "; "))
	}
	return m.with(p), cmd
}

// plateWrittenMsg says where a proposal was written to, or why not.
type plateWrittenMsg struct {
	asked, n int
	typed    string
	saved    savedPlate
	err      error
}

func (msg plateWrittenMsg) take(m Model) (Model, tea.Cmd) {
	_, listed := in[plateMode](m)
	if msg.err != nil && (listed || m.proposed != nil && m.walking()) {
		m.message = ""
		return m.askPlateFileAgain(msg.typed, msg.err)
	}
	if msg.err != nil {
		m.message = "not written: " + units.Printable(strings.ReplaceAll(msg.err.Error(), "\n", "; "))
		return m, nil
	}
	name := units.Printable(msg.saved.name)
	m.message = "wrote " + name + "; look at gaps and strength with stanchion " + name
	if msg.asked == m.plates.asked {
		saved := maps.Clone(m.plates.saved)
		if saved == nil {
			saved = map[int]savedPlate{}
		}
		saved[msg.n] = msg.saved
		m.plates.saved = saved
	}
	return m, nil
}

// proposalUnsaved reports whether the proposal that is shown, or a hole of it, is in no file.
func (m Model) proposalUnsaved() bool {
	s, ok := m.plates.saved[m.proposed.n]
	return !ok || s.holes != len(m.unsaved)
}

// writeOut writes a proposal to a new car file, or the correction of the car itself to its own.
func (m Model) writeOut() (Model, tea.Cmd) {
	if m.proposed != nil {
		return m.askPlateFile()
	}
	return m.writeTaken()
}

func needsToWrite(m Model) string {
	if m.proposed != nil {
		return ""
	}
	return needsCorrection(m)
}
