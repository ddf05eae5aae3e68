package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/model/words"
)

// figureLines is how many lines the figures take with their title and limits.
const figureLines = 18

// tightBody is the height of the body up to which less pressing figures are
// left out, so that the bolts have room.
const tightBody = 26

// markAssumed stands behind the name of a figure that rests on a value which
// nobody gave.
const markAssumed = "*"

// figure is one line of the figures: how to take it from a row and spell it.
type figure struct {
	name, unit string
	of         func(*model.Row) float64
	band       func(model.Contribution) float64 // nil for none
	digits     int
	signed     bool
	assumed    bool // rests on something that nobody gave

	beside func(*model.Row) float64 // a second number on the line; nil for none
}

// figures lists the lines of the figures pane.
func (m Model) figures() []figure {
	u := m.units
	length, force, lengthDigits := 1/u.LengthSize(), 1/u.ForceSize(), 0
	if u.Inches() {
		lengthDigits = 2
	}
	inN := func(of func(*model.Row) float64) func(*model.Row) float64 {
		return func(r *model.Row) float64 { return of(r) * force }
	}
	bandN := func(of func(model.Contribution) float64) func(model.Contribution) float64 {
		return func(c model.Contribution) float64 { return of(c) * force }
	}
	down := func(r *model.Row) float64 { return r.Downforce }
	drag := func(r *model.Row) float64 { return r.Drag }
	downBand := func(c model.Contribution) float64 { return c.Downforce }
	dragBand := func(c model.Contribution) float64 { return c.Drag }
	kgf := func(r func(*model.Row) float64, b func(model.Contribution) float64) figure {
		return figure{unit: "kgf", of: func(row *model.Row) float64 { return r(row) / units.KGF }, band: func(c model.Contribution) float64 { return b(c) / units.KGF }}
	}
	flow := !m.car.Flow.Known() // all that the air does then rests on an assumed flow
	all := []figure{
		{"height", u.LengthUnit(), func(r *model.Row) float64 { return r.Height * length }, nil, lengthDigits, false, false, nil},
		{"angle to ground", "°", func(r *model.Row) float64 { return r.Angle / model.Deg }, nil, 1, false, false, nil},
		{"play either way", "°", func(r *model.Row) float64 { return r.Play / model.Deg }, nil, 1, false, false, nil},
		{"angle of attack", "°", func(r *model.Row) float64 { return r.Attack / model.Deg }, nil, 1, false, flow, nil},
		{"stall margin", "°", func(r *model.Row) float64 { return r.StallMargin / model.Deg }, nil, 1, true, flow, nil},
		{"CL", "", func(r *model.Row) float64 { return r.CL }, func(c model.Contribution) float64 { return c.CL }, 2, false, flow, nil},
		{"downforce", u.ForceUnit(), inN(down), bandN(downBand), 0, false, flow, nil},
		kgf(down, downBand),
		{"drag", u.ForceUnit(), inN(drag), bandN(dragBand), 0, false, flow, nil},
		{name: " own, lean", unit: u.ForceUnit(), of: inN(func(r *model.Row) float64 { return r.OwnDrag }), assumed: flow, beside: inN(func(r *model.Row) float64 { return r.Lean })},
		{"front axle", u.ForceUnit(), inN(func(r *model.Row) float64 { return r.Change.Front }), bandN(func(c model.Contribution) float64 { return c.Change.Front }), 0, true, flow, nil},
		{"rear axle", u.ForceUnit(), inN(func(r *model.Row) float64 { return r.Change.Rear }), bandN(func(c model.Contribution) float64 { return c.Change.Rear }), 0, true, flow, nil},
		{"front share", "%", func(r *model.Row) float64 { return 100 * r.Share }, func(c model.Contribution) float64 { return 100 * c.Share }, 1, false, flow, nil},
		{"balance shift", "pp", func(r *model.Row) float64 { return 100 * r.Shift }, func(c model.Contribution) float64 { return 100 * c.Shift }, 1, true, flow, nil},
		{"top", u.LengthUnit(), func(r *model.Row) float64 { return r.Top * length }, nil, lengthDigits, false, false, nil},
	}
	if m.height-2 <= tightBody {
		all = all[:len(all)-1] // the top: the limits say when it is too high
	}
	if u.Pounds() {
		kept := all[:0]
		for _, f := range all {
			if f.unit != "kgf" {
				kept = append(kept, f)
			}
		}
		return kept
	}
	return all
}

// figuresView draws the figures of the current setting with their bands, or
// beside those of the kept one with the difference.
func (m Model) figuresView(w, h int) []string {
	r, k := m.row(), m.keptRow()
	if r == nil {
		return nil
	}
	const name, column = 18, 7
	bands := m.table.Bands(r)
	var lines []string
	if k != nil {
		lines = append(lines, quietStyle.Render(fmt.Sprintf("%*s%*s%*s", name+column, "now", column, "kept", column+1, "change")))
	}
	for _, f := range m.figures() {
		label := f.name
		if f.assumed {
			label += markAssumed
		}
		left := fmt.Sprintf("%-*s%*s", name-3, label, 3, f.unit)
		if f.assumed {
			left = assumedStyle.Render(left)
		}
		line := left + figureStyle.Render(pad(" "+f.show(r), column))
		switch {
		case k != nil:
			line += keptStyle.Render(pad(" "+f.show(k), column)) + pad(" "+difference(f, r, k), column+1)
			if f.band != nil && math.Abs(f.of(r)-f.of(k)) < f.band(m.differenceBand(r, k)) {
				line += " ≈"
			}
		case f.name == "angle to ground":
			line += " ± " + units.Fixed(bands.Angle/model.Deg, 1)
		case f.band != nil && !math.IsNaN(f.of(r)):
			line += " ± " + units.Fixed(f.band(bands.Contribution), f.digits)
		}
		lines = append(lines, line)
	}
	lines = append(lines, m.limitLine(r, bands))
	return lines[:min(len(lines), h)]
}

// difference spells how a figure changes from a kept row to this one.
func difference(f figure, r, k *model.Row) string {
	return units.Signed(rounded(f.of(r), f.digits)-rounded(f.of(k), f.digits), f.digits)
}

// differenceBand is how uncertain the difference of two rows is.
func (m Model) differenceBand(r, k *model.Row) model.Contribution {
	return model.DifferenceBand(m.table.Bands(r), m.table.Bands(k))
}

// rounded is x as it is shown, so that differences agree with what they are of.
func rounded(x float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(x*p) / p
}

func spell(f figure, x float64) string {
	if f.signed {
		return units.Signed(x, f.digits)
	}
	return units.Fixed(x, f.digits)
}

// show spells a row's figure, with the second number beside it.
func (f figure) show(r *model.Row) string {
	text := spell(f, f.of(r))
	if f.beside != nil {
		text += "," + units.Fixed(f.beside(r), f.digits)
	}
	return text
}

// pad sets text to the right of a column.
func pad(text string, w int) string {
	return strings.Repeat(" ", max(0, w-ansi.StringWidth(text))) + text
}

// limitLine says at a glance whether the setting can be run: limits, and strength.
func (m Model) limitLine(r *model.Row, b model.Bands) string {
	text, bad := m.holdText()
	style := quietStyle
	if bad {
		style, text = outsideStyle, "× "+text
	}
	hold := style.Render(text)
	switch {
	case !math.IsNaN(r.StallMargin) && r.Stalled:
		return outsideStyle.Render("× STALLED, ± rough") + "  " + hold
	case !r.Within():
		return outsideStyle.Render("× breaks a limit") + "  " + hold
	}
	if b.Doubtful != "" {
		return withinStyle.Render("• allowed, ± rough") + "  " + hold
	}
	return withinStyle.Render("• keeps all limits") + "  " + hold
}

// boltsView says in words which bolts go where, what is outside the limits, and
// what was assumed.
func (m Model) boltsView(w, h int) []string {
	r := m.row()
	if r == nil {
		return nil
	}
	var lines []string
	if n := len(m.faults); n > 0 {
		what := fmt.Sprintf("The car file has %d faults: e lists them. Shown is the car as it last was.", n)
		if n == 1 {
			what = "The car file has a fault: e says which. Shown is the car as it last was."
		}
		for _, l := range wrap(what, w) {
			lines = append(lines, faultStyle.Render(l))
		}
	}
	for _, l := range words.BoltLines(m.car, r.Setting) {
		lines = append(lines, wrap(l, w)...)
	}
	for _, o := range words.Outside(r, m.units) {
		for _, l := range wrap("× "+o, w) {
			lines = append(lines, outsideStyle.Render(l))
		}
	}
	if ran := m.ranLine(r); ran != "" {
		lines = append(lines, wrap(ran, w)...)
	}
	if ids := r.AlternativeIDs(); len(ids) > 0 {
		lines = append(lines, wrap(fmt.Sprintf("the same place (; bolts it so): %s", strings.Join(ids, ", ")), w)...)
	}
	if r.Gap.Known() && r.Within() {
		lines = append(lines, wrap("clear: "+words.Gap(r.Gap, m.units), w)...)
	}
	for _, a := range m.car.Assumed {
		for _, l := range wrap(markAssumed+" assumed: "+a.What+" "+a.Value, w) {
			lines = append(lines, assumedStyle.Render(l))
		}
	}
	for _, l := range wrap("wing: "+m.table.Wing.From, w) {
		lines = append(lines, quietStyle.Render(l))
	}
	if room := h - len(lines); room >= leastMore {
		lines = append(lines, m.moreLines(w, room)...)
	}
	if len(lines) > h && h > 0 {
		lines = append(lines[:h-1], quietStyle.Render("… enter shows all"))
	}
	return lines
}

// wrapped is wrap, but for the walk in words, which says a text in one piece.
func (m Model) wrapped(text string, w int) []string {
	if m.words {
		return []string{text}
	}
	return wrap(text, w)
}

// wrap breaks text into lines of at most w cells, at spaces where it can.
func wrap(text string, w int) []string {
	if w < 1 {
		return nil
	}
	return strings.Split(ansi.Wrap(text, w, ""), "\n")
}
