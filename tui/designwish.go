package tui

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/design"
	"stanchion/model/given"
	"stanchion/model/units"
)

// origin is where the text of a line of a wish for plates comes from.
type origin int

const (
	fromPerson origin = iota // typed, or accepted
	fromCar                  // the car is so at present
	fromUse                  // what is usual
)

// wishLine is one line of the wish as it stands in the form.
type wishLine struct {
	text string
	from origin
}

// plateWish is what is wanted of a plate, and by how much its holes are off when they are drilled, mm.
type plateWish struct {
	design.Wish
	off     float64
	lighten bool     // cut openings where there is little stress
	keep    []string // names of holes that stay
}

// mostOff is the largest error of a hole that is asked about, mm.
const mostOff = 5

// wishField is a line of the form for plates.
type wishField struct {
	name, brief string // brief for narrow screens
	blank       func(m Model) string
	hint        func(u units.System) string
	bare        func(u units.System) string // the unit of a bare number; "" for none
	many        bool                        // it holds several numbers
	faults      []design.Problem            // of the engine that are of this line
	present     func(m Model) string        // what the car has; nil where it has none
	usual       func(u units.System) string
	read        func(w *plateWish, xs []float64, u units.System) error
	words       func(w *plateWish, text string, u units.System) error // of a line that is no quantity, in the place of read
}

// length and angle are the units of bare numbers.
func bareLength(u units.System) string { return u.LengthUnit() }
func bareAngle(units.System) string    { return "°" }

// wishFields lists the lines of the form. The angles' ends and the step are of every height.
func wishFields() []wishField {
	one := func(put func(w *plateWish, x float64)) func(*plateWish, []float64, units.System) error {
		return func(w *plateWish, xs []float64, _ units.System) error {
			put(w, xs[0])
			return nil
		}
	}
	text := func(s string) func(units.System) string { return func(units.System) string { return s } }
	length := func(mm float64) func(units.System) string {
		return func(u units.System) string { return u.Dimension(mm) }
	}
	return append([]wishField{
		{name: "heights wanted", brief: "heights", hint: func(u units.System) string { return u.LengthFigure(1240) + ", " + u.LengthFigure(1280) }, bare: bareLength,
			many: true, faults: []design.Problem{design.NoHeights, design.TooManyHeights}, present: presentHeights,
			read: func(w *plateWish, xs []float64, _ units.System) error { w.Heights = xs; return nil }},
		{name: "height may be off by", brief: "height ±", hint: length(10), bare: bareLength, usual: length(10), faults: []design.Problem{design.Within},
			read: one(func(w *plateWish, x float64) { w.HeightWithin = x })},
		{name: "angles from", hint: text("0°"), bare: bareAngle, present: presentAngle(func(l choose.Level) float64 { return l.Low }, math.Min),
			read: one(func(w *plateWish, x float64) { w.Low = x * plane.Deg })},
		{name: "angles to", hint: text("12°"), bare: bareAngle, faults: []design.Problem{design.Angles},
			present: presentAngle(func(l choose.Level) float64 { return l.High }, math.Max), read: one(func(w *plateWish, x float64) { w.High = x * plane.Deg })},
		{name: "steps of at most", brief: "step", hint: text("3°"), bare: bareAngle, faults: []design.Problem{design.Steps},
			present: func(m Model) string {
				text := presentAngle(func(l choose.Level) float64 { return l.AngleStep }, math.Max)(m)
				if text == "0.0°" { // one angle at each height
					return ""
				}
				return text
			},
			read: one(func(w *plateWish, x float64) { w.Step = x * plane.Deg })},
		{name: "or these angles alone", brief: "or angles", hint: text("0°, 4°, 5°, 12°"), bare: bareAngle, many: true, faults: []design.Problem{design.NamedAngles},
			blank: func(Model) string { return "blank: from, to and steps" },
			read: func(w *plateWish, xs []float64, _ units.System) error {
				for _, x := range xs {
					w.Angles = append(w.Angles, x*plane.Deg)
				}
				return nil
			}},
		{name: "ends may fall short by", brief: "ends ±", hint: text("0.5°"), bare: bareAngle, usual: text("0.5°"),
			read: one(func(w *plateWish, x float64) { w.EndWithin = x * plane.Deg })},
		{name: "bolts at the foot", brief: "foot bolts", hint: text("4"), blank: func(Model) string { return "blank: 4, or min_bolts" }, faults: []design.Problem{design.FootBolts, design.FewBracketHoles},
			present: func(m Model) string {
				if m.row() == nil {
					return ""
				}
				return fmt.Sprint(len(m.row().Fits[len(m.base.Parts)-3].Pairs))
			},
			read: func(w *plateWish, xs []float64, _ units.System) error {
				if xs[0] != math.Trunc(xs[0]) || xs[0] < 1 {
					return errors.New("a whole number of bolts")
				}
				w.FootBolts = int(xs[0])
				return nil
			}},
		{name: "wing's bolts apart by", brief: "bolts apart", hint: func(u units.System) string { return u.DimensionFigure(150) + ", " + u.DimensionFigure(200) }, bare: bareLength,
			many: true, faults: []design.Problem{design.BadPitch}, blank: func(m Model) string {
				wing := m.base.Parts[len(m.base.Parts)-1].Holes
				if len(wing) != 2 {
					return "blank: as drilled"
				}
				return "blank: as drilled, " + m.units.Dimension(wing[0].At().Distance(wing[1].At()))
			},
			read: func(w *plateWish, xs []float64, _ units.System) error { w.Pitches = xs; return nil }},
		{name: "front bolt behind axle", brief: "behind axle", hint: length(150), bare: bareLength, blank: func(Model) string { return "blank: over the foot" },
			read: one(func(w *plateWish, x float64) { w.Behind = given.Is(x) })},
		{name: "that may be off by", brief: "  off by", hint: length(20), bare: bareLength, usual: length(20), read: one(func(w *plateWish, x float64) { w.BehindWithin = x })},
		{name: "holes are drilled off by", brief: "drilled off", hint: length(0.3), bare: bareLength, usual: func(u units.System) string { return u.Fine(0.3) },
			read: func(w *plateWish, xs []float64, u units.System) error {
				if w.off = xs[0]; w.off < 0 || w.off > mostOff {
					return errors.New("it must be 0 to " + u.Dimension(mostOff))
				}
				return nil
			}},
	}, textFields()...)
}

// numbers reads what a line holds.
func (f wishField) numbers(text string, u units.System) (xs []float64, err error) {
	unit, bare := units.Lengths, ""
	switch {
	case f.bare == nil:
		unit, bare = units.Unit{"bolts": 1}, "bolts"
	case f.bare(u) == "°":
		unit, bare = units.Unit{"deg": 1, "°": 1}, "°"
	default:
		bare = f.bare(u)
	}
	for _, piece := range f.pieces(text, unit, bare) {
		x, err := unit.Parse(piece, bare)
		if err != nil {
			return nil, err
		}
		xs = append(xs, x)
	}
	return xs, nil
}

// pieces parts a line into quantities: at commas and semicolons, or else at blanks, a unit of the whole line's end going to those before it.
func (f wishField) pieces(text string, unit units.Unit, bare string) []string {
	if !f.many {
		return []string{text}
	}
	if _, err := unit.Parse(text, bare); err == nil {
		return []string{text}
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' })
	if len(parts) == 1 {
		parts = nil
		for _, word := range strings.Fields(text) {
			if n := len(parts); n > 0 && !strings.ContainsAny(word[:1], "0123456789.+-−") {
				parts[n-1] += word
				continue
			}
			parts = append(parts, word)
		}
	}
	var all []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			all = append(all, p)
		}
	}
	if all == nil {
		return []string{text}
	}
	// 1240, 1280 mm: the last one's unit is that of all.
	last := all[len(all)-1]
	if i := strings.IndexFunc(last, func(r rune) bool { return !strings.ContainsRune("0123456789./+-− ", r) }); i > 0 {
		for k, p := range all[:len(all)-1] {
			if isBare(p) {
				all[k] = p + last[i:]
			}
		}
	}
	return all
}

// isBare reports whether a text is numbers without a unit.
func isBare(text string) bool { return text != "" && strings.Trim(text, "0123456789./+-−,; ") == "" }

// echoed is what is typed with its unit, so that it stays what it is when units change.
func (f wishField) echoed(text string, u units.System) string {
	text = strings.TrimSpace(text)
	if f.bare == nil || !isBare(text) {
		return text
	}
	if unit := f.bare(u); unit != "°" {
		return text + " " + unit
	}
	return text + "°"
}

// check reads one line.
func (f wishField) check(text string, u units.System) error {
	if text = strings.TrimSpace(text); text == "" {
		if f.blank == nil {
			return errors.New("give it, such as " + f.hint(u))
		}
		return nil
	}
	return f.take(new(plateWish), text, u)
}

// take puts what a line holds into a wish.
func (f wishField) take(w *plateWish, text string, u units.System) error {
	if f.words != nil {
		return f.words(w, text, u)
	}
	xs, err := f.numbers(text, u)
	if err != nil {
		return err
	}
	return f.read(w, xs, u)
}

// readWish reads the lines; at says which one is at fault.
func readWish(texts []string, u units.System) (w plateWish, at int, err error) {
	for i, f := range wishFields() {
		if err := f.check(texts[i], u); err != nil {
			return w, i, err
		}
		if text := strings.TrimSpace(texts[i]); text != "" {
			if err := f.take(&w, text, u); err != nil {
				return w, i, err
			}
		}
	}
	return w, 0, nil
}

// lineOf is the line of the form that a fault of the engine is of.
func lineOf(p design.Problem) int {
	return max(slices.IndexFunc(wishFields(), func(f wishField) bool { return slices.Contains(f.faults, p) }), 0)
}

// carToDesign is the car as its file has it, at the speed that is shown.
func (m Model) carToDesign() *model.Car {
	car := *m.base
	car.Speed = m.speed
	return &car
}
