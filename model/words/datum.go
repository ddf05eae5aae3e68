package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/units"
)

// DatumLines says in words what the readings say.
func DatumLines(t *model.Table, d calibrate.Datum, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	fixed := t.Car.Parts[0].Name
	if !math.IsNaN(d.Angle) {
		add("The %s is at %s° instead of %s°: correction %s ± %.2f°.", fixed, units.Fixed((t.Car.Fixed.Turn+d.Angle)/plane.Deg, 2),
			units.Fixed(t.Car.Fixed.Turn/plane.Deg, 2), signedDegrees(d.Angle), d.AngleStdUnc/plane.Deg)
	}
	if !math.IsNaN(d.Z) {
		add("Its origin is at z %s instead of %s: correction %s ± %s.", u.Length(t.Car.Fixed.Z+d.Z), u.Length(t.Car.Fixed.Z),
			u.Dimension(d.Z), u.Dimension(d.ZStdUnc))
	}
	for _, r := range d.Residuals {
		text := ""
		if !math.IsNaN(r.Angle) {
			text += fmt.Sprintf("  angle off by %s (read to ±%.1f°)", signedDegrees(r.Angle), r.AngleStdUnc()/plane.Deg)
		}
		if !math.IsNaN(r.Height) {
			text += "  height off by " + u.Dimension(r.Height)
		}
		if r.Suspect {
			text += "  SUSPECT: does not fit the rest; read it again, or check that these are its holes"
		}
		side := ""
		if r.Side != "" {
			side = " " + r.Side
		}
		add("%s%s:%s", units.Printable(t.NameOf(r.Setting)), side, text)
	}
	if !math.IsNaN(d.Twist) {
		add("Left less right: %s of twist in the wing or between its uprights.", signedDegrees(d.Twist))
	}
	if !math.IsNaN(d.Angle) {
		before := t.Car.Uncertainty.AngleReading
		if d.AngleStdUnc < before {
			add("The uncertainty of every angle from the bracket shrinks from ±%.2f° to ±%.2f°.", before/plane.Deg, d.AngleStdUnc/plane.Deg)
		}
	}
	for _, n := range d.Notes {
		add("Note: %s.", n)
	}
	return lines
}

func signedDegrees(a float64) string { return units.Signed(a/plane.Deg, 2) + "°" }
