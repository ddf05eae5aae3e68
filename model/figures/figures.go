// Package figures is the list of the figures that a setting has: each with its key in files,
// its name, its unit and digits, where its value and its uncertainty are found, the equation
// that it follows from, and the source of that. Tables, pages, CSV and JSON are printed from
// the list; a new figure is one row of it.
//
// Values are in mm, rad and SI units; shares are fractions. Spell and Unit turn them into
// what people read.
package figures

import (
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Quantity is what a figure measures, which decides its unit and its digits.
type Quantity int

// The quantities.
const (
	Length   Quantity = iota // mm
	Angle                    // rad
	Force                    // N
	Share                    // fraction, in per cent
	Shift                    // fraction, in percentage points
	Number                   // no unit
	Power                    // W
	Pressure                 // Pa
	Speed                    // m/s
	Area                     // m²
	Metres                   // m
	Density                  // kg/m³
	Mass                     // kg
	Moment                   // N·m
	Gravity                  // m/s²
)

// Setting is one setting of a table, for which figures are asked.
type Setting struct {
	Table *model.Table
	Row   *model.Row
}

// Figure is one figure of a setting.
type Figure struct {
	Key      string // in JSON and CSV, with its unit there
	Name     string
	Head     string // over a narrow column
	Was      string // a longer name that it is found by too; "" for none
	Quantity Quantity
	Digits   int  // of angles, shares and numbers, for people
	Signed   bool // a plus sign stands in front
	FileDec  int  // decimals in JSON and CSV
	Value    func(Setting) float64
	StdUnc   func(model.Contribution) float64 // one standard uncertainty; nil where none is worked out
	StdInMap bool                             // it is printed with a setting in JSON and CSV
	ByFlow   bool                             // it rests on the flow at the wing

	Equation func(Setting) string // in the symbols of this package, each in braces; nil where How says it all
	How      string               // what it is and how it is found, where that is not one equation
	Source   string               // of the equation
	In       string               // the function that works it out
}

// Key names a figure.
type Key = string

// Get returns the figure with a key; it panics on a key that is not in the list, which is a
// constant of the program's own.
func Get(key Key) Figure {
	f, ok := Find(key)
	if !ok {
		panic("no figure " + key)
	}
	return f
}

// Find returns the figure with a key or a name.
func Find(word string) (Figure, bool) {
	for _, f := range List {
		if f.Key == word || f.Name == word || word != "" && (f.Was == word || strings.ReplaceAll(f.Was, " ", "-") == word) {
			return f, true
		}
	}
	return Figure{}, false
}

// Pick returns the figures with the keys, in their order.
func Pick(keys ...Key) []Figure {
	all := make([]Figure, len(keys))
	for i, k := range keys {
		all[i] = Get(k)
	}
	return all
}

// Of returns a figure's value for a setting; NaN where it cannot be given.
func (f Figure) Of(t *model.Table, r *model.Row) float64 { return f.Value(Setting{t, r}) }

// Heading is what stands over a column of the figure.
func (f Figure) Heading() string {
	if f.Head != "" {
		return f.Head
	}
	return f.Name
}

// Unit names the unit of Spell.
func (f Figure) Unit(u units.System) string { return f.Quantity.Unit(u) }

// ChangeUnit names the unit of Change: that of percentages is the percentage point.
func (f Figure) ChangeUnit(u units.System) string {
	if f.Quantity == Share {
		return Shift.Unit(u)
	}
	return f.Unit(u)
}

// Size is what a value is divided by to be in Unit.
func (f Figure) Size(u units.System) float64 { return f.Quantity.size(u) }

// Spell spells a value of the figure without its unit.
func (f Figure) Spell(x float64, u units.System) string {
	text := f.Quantity.Spell(x, f.Digits, u)
	if f.Signed && x > 0 && !math.IsNaN(x) && text != units.Fixed(0, f.digits(u)) {
		return "+" + text
	}
	return text
}

// StdKey is the key of the figure's standard uncertainty in JSON and CSV.
func (f Figure) StdKey() Key { return stdKey(f.Key) }

func stdKey(k Key) Key {
	i := strings.LastIndex(k, "_")
	return k[:i] + "_band" + k[i:]
}

// ChangeKeys are the keys of a difference of two values of the figure, and of its standard
// uncertainty: a difference of percentages is in percentage points.
func (f Figure) ChangeKeys() (change, std Key) {
	change = strings.Replace(f.Key, "_pct", "_pp", 1)
	return change, stdKey(change)
}

// SpellStdUnc spells a standard uncertainty of the figure without its unit.
func (f Figure) SpellStdUnc(x float64, u units.System) string {
	return f.Quantity.Spell(x, f.Digits, u)
}

// Change spells a difference of two values of the figure as they are shown, so that it
// agrees with what it is the difference of.
func (f Figure) Change(now, before float64, u units.System) string {
	size, digits := f.Quantity.size(u), f.digits(u)
	return units.Signed(rounded(now/size, digits)-rounded(before/size, digits), digits)
}

// StdUncOf returns one standard uncertainty of the figure, and whether it is worked out.
func (f Figure) StdUncOf(c model.Contribution) (float64, bool) {
	if f.StdUnc == nil {
		return 0, false
	}
	return f.StdUnc(c), true
}

// InFile returns a value of the figure in the unit of its key, rounded as it stands in JSON
// and CSV; NaN where it cannot be given.
func (f Figure) InFile(x float64) float64 {
	switch f.Quantity {
	case Angle:
		x /= plane.Deg
	case Share, Shift:
		x *= 100
	}
	return rounded(x, f.FileDec) + 0 // no negative zero
}

func rounded(x float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(x*p) / p
}

// digits are the decimals that Spell gives.
func (f Figure) digits(u units.System) int { return f.Quantity.digits(f.Digits, u) }

// digits are the decimals of a quantity; those of angles, shares and numbers are the
// figure's own.
func (q Quantity) digits(own int, u units.System) int {
	switch q {
	case Length:
		if u.Inches() {
			return 2
		}
		return 0
	case Force:
		return 0
	}
	return own
}

// size is the unit of Spell in that of values.
func (q Quantity) size(u units.System) float64 {
	switch q {
	case Length:
		return u.LengthSize()
	case Angle:
		return plane.Deg
	case Force:
		return u.ForceSize()
	case Share, Shift:
		return 0.01
	case Power:
		return 1000
	case Speed:
		return 1 / u.SpeedFigure(1)
	}
	return 1
}

// Spell spells a value of the quantity without its unit.
func (q Quantity) Spell(x float64, digits int, u units.System) string {
	return units.Fixed(x/q.size(u), q.digits(digits, u))
}

// Unit names the unit of Spell; "" for a number.
func (q Quantity) Unit(u units.System) string {
	switch q {
	case Length:
		return u.LengthUnit()
	case Angle:
		return "°"
	case Force:
		return u.ForceUnit()
	case Share:
		return "%"
	case Shift:
		return "pp"
	case Power:
		return "kW"
	case Pressure:
		return "Pa"
	case Speed:
		return u.SpeedUnit()
	case Area:
		return "m²"
	case Metres:
		return "m"
	case Density:
		return "kg/m³"
	case Mass:
		return "kg"
	case Moment:
		return "N·m"
	case Gravity:
		return "m/s²"
	}
	return ""
}
