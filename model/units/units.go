// Package units reads quantities that people type with their units, and spells
// figures for people with the unit beside them, rounded to what they are good
// for. Inside the program lengths are mm, all else SI.
package units

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// Conversion factors, exact by definition. Source: the international yard and
// pound agreement (1959) and the standard acceleration of free fall.
const (
	Inch  = 25.4            // mm
	Pound = 0.45359237      // kg
	Mile  = 1609.344        // m
	KPH   = 1 / 3.6         // m/s
	MPH   = Mile / 3600     // m/s
	KGF   = 9.80665         // N
	LBF   = Pound * 9.80665 // N
)

// System is the set of units that figures are shown in.
type System int

// The systems.
const (
	Metric   System = iota // mm, N, km/h
	Imperial               // in, lbf, mph
)

// NotGiven stands where a figure cannot be given.
const NotGiven = "–"

// Length spells a length in mm.
func (s System) Length(mm float64) string { return s.LengthFigure(mm) + " " + s.LengthUnit() }

// LengthFigure is Length without the unit.
func (s System) LengthFigure(mm float64) string {
	if s == Imperial {
		return Fixed(mm/Inch, 2)
	}
	return Fixed(mm, 0)
}

// LengthUnit names the unit of Length.
func (s System) LengthUnit() string {
	if s == Imperial {
		return "in"
	}
	return "mm"
}

// Place spells a place in a part, or a diameter, mm, to a tenth or finer.
func (s System) Place(mm float64) string {
	if s == Imperial {
		return Fixed(mm/Inch, 3) + " in"
	}
	return Fixed(mm, 1) + " mm"
}

// LengthSize is the unit of Length in mm.
func (s System) LengthSize() float64 {
	if s == Imperial {
		return Inch
	}
	return 1
}

// Force spells a force in N; in metric with kgf beside it.
func (s System) Force(n float64) string {
	if s == Imperial {
		return Fixed(n/LBF, 0) + " lbf"
	}
	if math.IsNaN(n) {
		return NotGiven + " N"
	}
	return fmt.Sprintf("%s N (%s kgf)", Fixed(n, 0), Fixed(n/KGF, 0))
}

// ForceFigure is a force without its unit, ForceUnit.
func (s System) ForceFigure(n float64) string {
	if s == Imperial {
		return Fixed(n/LBF, 0)
	}
	return Fixed(n, 0)
}

// SignedForce is ForceFigure with a plus sign in front of positive figures.
func (s System) SignedForce(n float64) string { return Signed(n/s.ForceSize(), 0) }

// ForceUnit names the unit of ForceFigure.
func (s System) ForceUnit() string {
	if s == Imperial {
		return "lbf"
	}
	return "N"
}

// ForceSize is the unit of ForceFigure in N.
func (s System) ForceSize() float64 {
	if s == Imperial {
		return LBF
	}
	return 1
}

// SpeedFigure is a speed in m/s in SpeedUnit.
func (s System) SpeedFigure(v float64) float64 {
	if s == Imperial {
		return v / MPH
	}
	return v / KPH
}

// SpeedUnit names the unit of Speed.
func (s System) SpeedUnit() string {
	if s == Imperial {
		return "mph"
	}
	return "km/h"
}

// Speed spells a speed in m/s.
func (s System) Speed(v float64) string {
	if s == Imperial {
		return Fixed(v/MPH, 0) + " mph"
	}
	return Fixed(v/KPH, 0) + " km/h"
}

// NextSpeed returns the speed in m/s that lies steps of 5 km/h or 5 mph from v,
// on a multiple of 5.
func (s System) NextSpeed(v, steps float64) float64 {
	unit := 5 * KPH
	if s == Imperial {
		unit = 5 * MPH
	}
	if steps > 0 {
		return (math.Floor(v/unit+1e-6) + steps) * unit
	}
	return (math.Ceil(v/unit-1e-6) + steps) * unit
}

// Fixed spells x with n digits behind the point and without a negative zero;
// NaN as NotGiven.
func Fixed(x float64, n int) string {
	if math.IsNaN(x) {
		return NotGiven
	}
	t := strconv.FormatFloat(x, 'f', n, 64)
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
	}
	return strings.Replace(t, "-", "−", 1)
}

// Signed is Fixed with a plus sign in front of positive figures.
func Signed(x float64, n int) string {
	t := Fixed(x, n)
	if x > 0 && strings.Trim(t, "0.") != "" {
		return "+" + t
	}
	return t
}

// Unit maps the spellings of a kind of unit to its size.
type Unit map[string]float64

// The kinds of quantity that can be typed.
var (
	Speeds  = Unit{"km/h": KPH, "kmh": KPH, "kph": KPH, "mph": MPH, "m/s": 1}
	Lengths = Unit{"mm": 1, "cm": 10, "m": 1000, "in": Inch, "\"": Inch}
	Forces  = Unit{"N": 1, "kN": 1000, "kgf": KGF, "kg": KGF, "lbf": LBF, "lb": LBF}
	Angles  = Unit{"deg": math.Pi / 180, "°": math.Pi / 180}
)

// Parse reads a number with a unit, "160km/h" or "53 in"; a bare number is in
// the unit given. The result is in mm or SI. The error says what is allowed.
func (u Unit) Parse(text, bare string) (float64, error) {
	t := strings.TrimSpace(text)
	end := strings.LastIndexAny(t, "0123456789.") + 1
	unit := strings.TrimSpace(t[end:])
	if unit == "" {
		unit = bare
	}
	size, ok := u[unit]
	x, err := strconv.ParseFloat(strings.TrimSpace(t[:end]), 64)
	switch {
	case strings.Contains(t, ","):
		return 0, fmt.Errorf("%q; use a decimal point, not a comma", text)
	case err != nil || math.IsNaN(x) || math.IsInf(x, 0):
		return 0, fmt.Errorf("%q is not a number with a unit; type for example %s", text, u.example())
	case math.IsInf(x*size, 0):
		return 0, fmt.Errorf("%q is too large", text)
	case !ok:
		return 0, fmt.Errorf("%q has the unit %q; use one of %s", text, unit, u.names())
	}
	return x * size, nil
}

func (u Unit) example() string {
	for _, one := range []string{"km/h", "mm", "N", "deg"} {
		if _, ok := u[one]; ok {
			return "120" + one
		}
	}
	return "120"
}

func (u Unit) names() string {
	var all []string
	for n := range u {
		all = append(all, n)
	}
	sort.Strings(all)
	return strings.Join(all, ", ")
}
