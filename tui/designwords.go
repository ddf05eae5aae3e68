package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/model/design"
	"stanchion/model/units"
	"stanchion/model/words"
)

// said is all that there is to say of the marked proposal, in lines of a width.
func (p plateMode) said(m Model, w int) (lines []string) {
	one := m.marked()
	if one == nil {
		return nil
	}
	add := func(text string) { lines = append(lines, m.wrapped(text, w)...) }
	for _, l := range m.plateSays(m.plates.at) {
		add(l)
	}
	return lines
}

// plateSays is what there is to say of a proposal, a fact a line.
func (m Model) plateSays(n int) (lines []string) {
	d := m.plates.found
	one, told := &d.Proposals[n], m.plates.told[n]
	star := " (*)"
	if m.words {
		star = ""
	}
	if text := words.NothingKeeps(one); text != "" {
		lines = append(lines, outsideStyle.Render(text+"."))
	}
	if len(one.Merits) > 0 {
		lines = append(lines, upper(words.Merits(one))+" of those shown"+star+".")
	}
	if was := m.plates.asFound[n]; was != nil {
		lines = append(lines, m.drawnText(was, one)...)
	}
	if names := m.locked(n, one.Plate()); len(names) > 0 {
		lines = append(lines, "Locked for the next search: "+strings.Join(names, " ")+".")
	}
	if s, ok := m.plates.saved[n]; ok {
		lines = append(lines, "Written to "+units.Printable(s.name)+".")
	}
	if k := len(m.plates.holes[n]); k > 0 {
		lines = append(lines, units.Count(k, "hole")+" of your own added in it: figures here are without.")
	}
	for _, l := range words.Proposal(one, m.units) {
		lines = append(lines, upper(l)+".")
	}
	if m.plates.wish.lighten && one.Lightened == nil {
		lines = append(lines, "Cut-outs: being worked out…")
	}
	if told.holds == nil {
		lines = append(lines, "Strength: being worked out…")
	} else {
		lines = append(lines, told.holds.text+".")
	}
	if one.Empty() {
		return append(lines, words.DesignBound(d))
	}
	if told.accuracy == nil {
		lines = append(lines, "What errors of drilling do: being worked out…")
	} else {
		for _, l := range words.Accuracy(*told.accuracy, one, m.units) {
			lines = append(lines, upper(l)+".")
		}
	}
	for i := range one.Levels {
		lines = append(lines, words.DesignLevel(&one.Levels[i], one, m.units)+".")
	}
	return append(lines, words.DesignBound(d))
}

// drawnText says what the person changed of a proposal, and whether it still gives what is wanted.
func (m Model) drawnText(was, one *design.Proposal) (lines []string) {
	var moved []string
	for _, h := range one.Plate().Holes {
		n := slices.IndexFunc(was.Plate().Holes, func(o holes.Hole) bool { return o.ID == h.ID })
		switch {
		case n < 0:
			moved = append(moved, h.ID+" is new")
		case was.Plate().Holes[n].At() != h.At():
			o := was.Plate().Holes[n]
			moved = append(moved, fmt.Sprintf("%s moved by %s, %s %s", h.ID, signed(h.X-o.X, m.units), signed(h.Z-o.Z, m.units), m.units.LengthUnit()))
		}
	}
	if e := edgesText(one.Plate().Holes, one.Edges, m.units); e != "" {
		moved = append(moved, strings.ToLower(e[:1])+strings.TrimSuffix(e[1:], "."))
	}
	if moved == nil {
		return nil
	}
	for _, text := range brokenHoles(one, "", m.units) {
		lines = append(lines, outsideStyle.Render(text+"."))
	}
	lines = append(lines, "Reworked by you: "+strings.Join(moved, "; ")+".")
	if !one.Given() {
		lines = append(lines, outsideStyle.Render(words.WishMet(one, m.units)+"."))
	}
	return lines
}

func (f plateForm) tell(w *walker) {
	if f.fault == "" {
		w.say("New plates: what is wanted, line by line. An empty line leaves it as it is, a minus empties it, a full stop accepts all and looks for plates.")
		w.say("%s", words.Caution)
		f.form, _ = f.form.Jumped(0)
		w.m = w.m.with(f)
	}
	f.ask(w)
}

// ask asks for the line that is at.
func (f plateForm) ask(w *walker) {
	if f.fault != "" {
		w.say("%s.", plainText(units.Printable(f.fault)))
	}
	i := f.form.At
	text, now := f.form.Names[i], f.form.Fields[i].Value()
	if now != "" {
		text += ", now " + now
	}
	if note := f.note(w.m, i); note != "" {
		text += " (" + note + ")"
	}
	w.say("%s; %s, or esc:", plainText(text), f.form.Fields[i].Placeholder)
}

func (f plateForm) typed(w *walker, text string) {
	if text = strings.TrimSpace(text); text == "." {
		w.pass(tea.KeyMsg{Type: tea.KeyEnter})
		w.tell()
		return
	}
	if text != "" {
		if text == "-" {
			text = ""
		}
		f.form = f.form.Filled(text)
		f = f.echo(w.m)
		f.from = slices.Clone(f.from)
		f.from[f.form.At] = fromPerson
		w.m.plates.unlooked = true
		if err := wishFields()[f.form.At].check(f.form.Fields[f.form.At].Value(), w.m.units); err != nil {
			f.fault = err.Error()
			w.m = w.m.with(f)
			f.ask(w)
			return
		}
	}
	if f.form.At < len(f.form.Fields)-1 {
		f.form, _ = f.form.Jumped(f.form.At + 1)
		f.fault = ""
		w.m = w.m.with(f)
		f.ask(w)
		return
	}
	w.m = w.m.with(f)
	w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	w.tell()
}

func (p plateMode) tell(w *walker) {
	m := w.m
	if m.plates.found == nil {
		w.say("Trying plates, %.0f percent. esc stops.", 100*m.plates.part)
		return
	}
	if m.platesStale() {
		w.say("The car file has changed since these were looked for: i looks again.")
	}
	w.say("Limits at %s.", m.units.Speed(m.plates.found.Proposals[0].Table.Speed))
	w.say("New plates %s.", words.DesignWish(&m.plates.found.Wish, m.units))
	for i := range m.plates.found.Proposals {
		if m.plates.said && i != m.plates.at { // all were said already
			continue
		}
		mark := ""
		if i == m.plates.at {
			mark = ", marked"
		}
		w.say("Plate %d of %d%s:", i+1, len(m.plates.found.Proposals), mark)
		says := m.plateSays(i)
		for _, l := range says[:len(says)-1] {
			w.say("%s", plainText(strings.ReplaceAll(l, "..", ".")))
		}
	}
	w.m.plates.said = true
	w.say("%s", plainText(words.DesignBound(m.plates.found)))
	w.say("%s %s", words.PlateCaution, words.Caution)
	w.say("A number marks a plate; enter walks through it, W writes it to a new car file, i changes the wish, esc goes back.")
}
