package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/units"
	"stanchion/model/words"
)

// textFields are the lines of the form for plates that are words, not quantities.
func textFields() []wishField {
	text := func(s string) func(units.System) string { return func(units.System) string { return s } }
	return []wishField{
		{name: "shape of the plate", brief: "shape", hint: text("convex, slim or swan neck"), usual: text("convex"), words: func(w *plateWish, s string, _ units.System) error {
			switch strings.ToLower(s) {
			case "convex":
			case "slim":
				w.Slim = true
			case "swan neck", "swan-neck", "swanneck":
				w.SwanNeck = true
			default:
				return errors.New("convex, slim or swan neck")
			}
			return nil
		}},
		{name: "its bands, or its neck", brief: "bands", hint: func(u units.System) string { return u.Dimension(design.SlimBand) }, bare: bareLength, faults: []design.Problem{design.BadBand},
			usual: func(u units.System) string { return u.Dimension(design.SlimBand) },
			read: func(w *plateWish, xs []float64, u units.System) error {
				if w.Band = xs[0]; w.Band < design.LeastBand || w.Band > design.MostBand {
					return errors.New("it must be " + u.Dimension(design.LeastBand) + " to " + u.Dimension(design.MostBand))
				}
				return nil
			}},
		{name: "mounts above the chord", brief: "mounts above", hint: func(u units.System) string { return u.DimensionFigure(60) + ", " + u.DimensionFigure(80) }, bare: bareLength,
			many: true, faults: []design.Problem{design.BadAbove}, blank: func(Model) string { return "blank: as drilled; to order, for a swan neck" },
			read: func(w *plateWish, xs []float64, _ units.System) error { w.Above = xs; return nil }},
		{name: "sheet that there is", brief: "sheet", hint: func(u units.System) string { return u.LengthFigure(400) + " x " + u.LengthFigure(600) },
			faults: []design.Problem{design.BadBlank}, blank: func(Model) string { return "blank: any" }, words: readBlank},
		{name: "cut-outs for less weight", brief: "cut-outs", hint: text("yes or no"), usual: text("no"), words: func(w *plateWish, s string, _ units.System) error {
			switch strings.ToLower(s) {
			case "no", "n":
			case "yes", "y":
				w.lighten = true
			default:
				return errors.New("yes or no")
			}
			return nil
		}},
		{name: "holes kept as they are", brief: "kept holes", hint: text("F1, R2 or all"), faults: []design.Problem{design.KeptHoles}, blank: func(m Model) string {
			switch plate := m.keptFrom(); {
			case plate == nil:
				return "blank: none"
			case m.marked() != nil && plate == m.marked().Table:
				return fmt.Sprintf("blank: none of plate %d", m.plates.at+1)
			}
			return "blank: none of the car's"
		}, words: func(w *plateWish, s string, _ units.System) error {
			w.keep = strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == ' ' })
			return nil
		}},
	}
}

// keptFrom is the table of the plate whose holes a wish may keep: the proposal's that is marked, or else the car's own; nil where there is none.
func (m Model) keptFrom() *model.Table {
	switch one := m.marked(); {
	case one != nil && !m.platesStale():
		return one.Table
	case m.plates.from != nil && m.plates.car == m.base:
		return m.plates.from
	case len(m.base.Parts) < 3 || len(plateOf(m.base).Holes) == 0:
		return nil
	case m.table != nil && plateOf(m.table.Car).Name == plateOf(m.base).Name:
		return m.table
	}
	return &model.Table{Car: m.base}
}

// keepHoles reads which holes are kept; the error says what is wrong with their line.
func (m Model) keepHoles(names []string) (k design.Kept, err error) {
	if len(names) == 0 {
		return k, nil
	}
	from := m.keptFrom()
	if from == nil {
		return k, errors.New("there is no plate yet whose holes could be kept: leave it blank")
	}
	plate := plateOf(from.Car)
	if len(names) == 1 && strings.EqualFold(names[0], "all") && !hasHole(plate, names[0]) {
		names = nil
	}
	var fault *design.KeepFault
	if k, err = design.Keep(from, names); errors.As(err, &fault) {
		return k, errors.New(words.KeepFault(fault, plate.Name))
	}
	return k, err
}

func hasHole(p *model.Part, id string) bool {
	for _, h := range p.Holes {
		if h.ID == id {
			return true
		}
	}
	return false
}

// keptLine is which line of the form names the holes that are kept.
func keptLine() int { return len(wishFields()) - 1 }

// withLocks puts the locks of the marked proposal into the line for them.
func (m Model) withLocks(lines []wishLine) []wishLine {
	one := m.marked()
	if one == nil || m.platesStale() {
		return lines
	}
	at := keptLine()
	lines = slices.Clone(lines)
	lines[at] = wishLine{text: strings.Join(m.locked(m.plates.at, one.Plate()), ", ")}
	return lines
}

// lockAsTyped locks what the line for them names, of the marked proposal.
func (m Model) lockAsTyped(text string) Model {
	one := m.marked()
	if one == nil || m.platesStale() {
		return m
	}
	w := plateWish{}
	_ = textFields()[len(textFields())-1].words(&w, text, m.units)
	k, err := m.keepHoles(w.keep)
	if err != nil {
		return m // the line stays as it is typed
	}
	m = m.lock(m.plates.at, false, m.locked(m.plates.at, one.Plate())...)
	for _, h := range k.Holes {
		m = m.lock(m.plates.at, true, h.ID)
	}
	return m
}

// readBlank takes the size of a piece of sheet, 400 x 600 mm.
func readBlank(w *plateWish, text string, u units.System) error {
	first, second := units.Sides(text)
	a, err := units.Lengths.Parse(first, u.LengthUnit())
	b, err2 := units.Lengths.Parse(second, u.LengthUnit())
	if err != nil || err2 != nil {
		return errors.New("give both sides, such as " + u.LengthFigure(400) + " x " + u.LengthFigure(600))
	}
	w.Blank = design.Blank{W: a, H: b}
	return nil
}
