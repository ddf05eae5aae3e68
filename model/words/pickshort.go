package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// spelling is what a figure is spelt in.
type spelling struct {
	size   float64 // of its unit
	unit   string  // with what is before it
	digits int
	spell  func(float64) string // as everywhere
}

// The spellings of what may be short of a limit.
func forces(u units.System) spelling { return spelling{u.ForceSize(), " " + u.ForceUnit(), 0, u.Force} }
func angles() spelling               { return spelling{plane.Deg, "°", 1, degrees} }
func lengths(u units.System) spelling {
	digits := 0
	if u.LengthUnit() == "in" {
		digits = 2
	}
	return spelling{u.LengthSize(), " " + u.LengthUnit(), digits, u.Length}
}

// short says that a figure is short of a minimum or beyond a maximum. Where both would be spelt alike the figure has
// as many more digits as show that it is, up to three.
func short(what string, have float64, limit string, wanted float64, in spelling) string {
	if in.spell(have) != in.spell(wanted) {
		return fmt.Sprintf("%s %s, %s %s", what, in.spell(have), limit, in.spell(wanted))
	}
	side := "above"
	if limit == "minimum" {
		side = "below"
	}
	fixed := func(x float64, digits int) string { return units.Fixed(x/in.size, digits) }
	for digits := in.digits + 1; digits <= in.digits+3; digits++ {
		if fixed(have, digits) == fixed(wanted, digits) {
			continue
		}
		at := fixed(wanted, digits)
		if x := wanted / in.size * math.Pow10(in.digits); math.Abs(x-math.Round(x)) < 1e-6 {
			at = fixed(wanted, in.digits) // there is no more of it
		}
		return fmt.Sprintf("%s %s%s, %s the %s of %s%s", what, fixed(have, digits), in.unit, side, limit, at, in.unit)
	}
	return fmt.Sprintf("%s just %s the %s of %s", what, side, limit, in.spell(wanted))
}
