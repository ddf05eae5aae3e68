package calibrate

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// StrangeReading is a reading that cannot be of its setting, by its index.
type StrangeReading struct {
	Reading int
	Err     error
}

func (s StrangeReading) Error() string { return fmt.Sprintf("reading %d: %v", s.Reading+1, s.Err) }

// Strange is all readings that cannot be of their settings.
type Strange []StrangeReading

func (s Strange) Error() string {
	var lines []string
	for _, r := range s {
		lines = append(lines, r.Error())
	}
	return strings.Join(lines, "\n")
}

// Readings further than this from what the holes give are taken for slips.
const (
	strangeAngle  = 15 * plane.Deg // rad
	strangeHeight = 150.0          // mm
	swapFar       = 6 * plane.Deg  // rad, from here on two edges may be swapped
	swapNear      = 3 * plane.Deg  // rad, and up to here they are where that fits
)

// strange returns what is wrong with a reading that cannot be of its setting.
func strange(t *model.Table, r model.Reading) error {
	k, ok := t.Find(r.Setting)
	if !ok {
		return fmt.Errorf("there is no setting %q", r.Setting)
	}
	u := t.Car.System()
	f := Understand(t.Car, r)
	if swapped(f.TapeAngle, k.Angle) {
		return fmt.Errorf("%s measured with the tape where the holes give %s: leading and trailing edge look swapped; type le %s te %s, or check the setting",
			degrees(f.TapeAngle), degrees(k.Angle), u.LengthFigure(r.Trailing.Value()), u.LengthFigure(r.Leading.Value()))
	}
	for _, angle := range []float64{f.Angle, f.TapeAngle} {
		if math.Abs(angle-k.Angle) > strangeAngle {
			return fmt.Errorf("%s measured where the holes give %s; more than %.0f° apart: is it this setting?",
				degrees(angle), degrees(k.Angle), strangeAngle/plane.Deg)
		}
	}
	for _, h := range []struct{ read, drawn float64 }{
		{r.Height.Value(), k.Height},
		{r.Leading.Value(), LeadingEdge(k.Position).Z},
		{r.Trailing.Value(), TrailingEdge(t.Car, k.Position).Z},
	} {
		if math.Abs(h.read-h.drawn) > strangeHeight {
			return fmt.Errorf("%s measured where the holes give %s; more than %s apart: is it this setting?",
				u.Length(h.read), u.Length(h.drawn), u.Length(strangeHeight))
		}
	}
	return nil
}

// swapped reports whether an angle by tape is far off what the holes give, and near it with the heights of
// the two edges the other way round.
func swapped(taped, drawn float64) bool {
	return math.Abs(taped-drawn) > swapFar && math.Abs(-taped-drawn) < swapNear
}

// degrees spells an angle in rad.
func degrees(a float64) string { return units.Fixed(a/plane.Deg, 1) + "°" }
