package units

import (
	"fmt"
	"math"
)

// System is the set of units that figures are shown in, and that a bare number is in.
// The zero System is Metric.
type System struct {
	inches, pounds bool
	kgf            bool   // forces in kgf, for a second line beside newtons
	speed          string // "" for km/h, else "mph" or "m/s"
}

// The systems. A car file may mix them.
var (
	Metric   = System{}                                         // mm, N, km/h
	Imperial = System{inches: true, pounds: true, speed: "mph"} // in, lbf, mph
)

// SystemOf returns the system of a car file's units: lengths in mm or in, masses in kg
// or lb, with forces to suit, speeds in km/h, mph or m/s.
func SystemOf(length, mass, speed string) System {
	s := System{inches: length == "in", pounds: mass == "lb"}
	if speed != "km/h" {
		s.speed = speed
	}
	return s
}

// Inches reports whether lengths are in inches, Pounds whether forces and masses are in
// pounds.
func (s System) Inches() bool { return s.inches }

// Pounds reports whether forces and masses are in pounds.
func (s System) Pounds() bool { return s.pounds }

// InKGF returns the system with forces in kgf.
func (s System) InKGF() System {
	s.kgf = true
	return s
}

// NotGiven stands where a figure cannot be given.
const NotGiven = "–"

// Length spells a length in mm.
func (s System) Length(mm float64) string { return s.LengthFigure(mm) + " " + s.LengthUnit() }

// LengthFigure is Length without the unit.
func (s System) LengthFigure(mm float64) string {
	if s.inches {
		return Fixed(mm/Inch, 2)
	}
	return Fixed(mm, 0)
}

// SignedLength is LengthFigure with a plus sign in front of positive figures.
func (s System) SignedLength(mm float64) string {
	if s.inches {
		return Signed(mm/Inch, 2)
	}
	return Signed(mm, 0)
}

// LengthUnit names the unit of Length.
func (s System) LengthUnit() string {
	if s.inches {
		return "in"
	}
	return "mm"
}

// LengthSize is the unit of Length in mm.
func (s System) LengthSize() float64 {
	if s.inches {
		return Inch
	}
	return 1
}

// Dimension spells a place in a part, or a diameter, mm, to a tenth or finer.
func (s System) Dimension(mm float64) string { return s.DimensionFigure(mm) + " " + s.LengthUnit() }

// DimensionFigure is Place without the unit.
func (s System) DimensionFigure(mm float64) string {
	if s.inches {
		return Fixed(mm/Inch, 3)
	}
	return Fixed(mm, 1)
}

// Fine spells a length in mm to a hundredth or finer, as clearances of bolts are.
func (s System) Fine(mm float64) string { return s.FineFigure(mm) + " " + s.LengthUnit() }

// FineFigure is Fine without the unit.
func (s System) FineFigure(mm float64) string {
	if s.inches {
		return Fixed(mm/Inch, 4)
	}
	return Fixed(mm, 2)
}

// Mass spells a mass in kg.
func (s System) Mass(kg float64) string {
	if s.pounds {
		return Fixed(kg/Pound, 0) + " lb"
	}
	return Fixed(kg, 0) + " kg"
}

// MassUnit names the unit of Mass.
func (s System) MassUnit() string {
	if s.pounds {
		return "lb"
	}
	return "kg"
}

// PressureUnit names the unit of tyre pressures.
func (s System) PressureUnit() string {
	if s.pounds {
		return "psi"
	}
	return "bar"
}

// Pressure spells a tyre's pressure in bar, without its unit.
func (s System) Pressure(bar float64) string {
	if s.pounds {
		return Fixed(bar/PSI, 1)
	}
	return Fixed(bar, 2)
}

// TemperatureUnit names the unit of temperatures.
func (s System) TemperatureUnit() string {
	if s.pounds {
		return "°F"
	}
	return "°C"
}

// Temperature spells a temperature in °C.
func (s System) Temperature(c float64) string {
	if s.pounds {
		return Fixed(32+1.8*c, 0) + " °F"
	}
	return Fixed(c, 0) + " °C"
}

// Force spells a force in N; in metric with kgf beside it.
func (s System) Force(n float64) string {
	if s.pounds {
		return Fixed(n/LBF, 0) + " lbf"
	}
	if math.IsNaN(n) {
		return NotGiven + " N"
	}
	return fmt.Sprintf("%s N (%s kgf)", Fixed(n, 0), Fixed(n/KGF, 0))
}

// ForceFigure is a force without its unit, ForceUnit.
func (s System) ForceFigure(n float64) string { return Fixed(n/s.ForceSize(), 0) }

// SignedForce is ForceFigure with a plus sign in front of positive figures.
func (s System) SignedForce(n float64) string { return Signed(n/s.ForceSize(), 0) }

// ForceUnit names the unit of ForceFigure.
func (s System) ForceUnit() string {
	switch {
	case s.kgf:
		return "kgf"
	case s.pounds:
		return "lbf"
	}
	return "N"
}

// ForceSize is the unit of ForceFigure in N.
func (s System) ForceSize() float64 {
	switch {
	case s.kgf:
		return KGF
	case s.pounds:
		return LBF
	}
	return 1
}

// Moment spells a moment in N·mm without its unit, MomentUnit.
func (s System) Moment(nmm float64) string {
	if s.pounds {
		return Fixed(nmm/(LBF*12*Inch), 1)
	}
	return Fixed(nmm/1000, 1)
}

// MomentUnit names the unit of Moment.
func (s System) MomentUnit() string {
	if s.pounds {
		return "lbf·ft"
	}
	return "N·m"
}

// SpeedFigure is a speed in m/s in SpeedUnit.
func (s System) SpeedFigure(v float64) float64 { return v / Speeds[s.SpeedUnit()] }

// SpeedUnit names the unit of Speed.
func (s System) SpeedUnit() string {
	if s.speed == "" {
		return "km/h"
	}
	return s.speed
}

// Speed spells a speed in m/s.
func (s System) Speed(v float64) string {
	digits := 0
	if s.speed == "m/s" {
		digits = 1
	}
	return Fixed(s.SpeedFigure(v), digits) + " " + s.SpeedUnit()
}

// NextSpeed returns the speed in m/s that lies steps of 5 km/h, 5 mph or 1 m/s from v,
// on a multiple of that.
func (s System) NextSpeed(v, steps float64) float64 {
	unit := 5 * Speeds[s.SpeedUnit()]
	if s.speed == "m/s" {
		unit = 1
	}
	if steps > 0 {
		return (math.Floor(v/unit+1e-6) + steps) * unit
	}
	return (math.Ceil(v/unit-1e-6) + steps) * unit
}
