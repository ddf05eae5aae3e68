package words

import (
	"fmt"
	"math"
	"strings"

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
	for i := range d.Residuals {
		add("%s", ResidualLine(t, d, i, u))
	}
	lines = append(lines, thresholdLine(d))
	for _, f := range d.Floors {
		add("%s", FloorLine(f))
	}
	if !math.IsNaN(d.Twist) {
		add("Left less right: %s ± %.2f° of twist in the wing or between its uprights.", signedDegrees(d.Twist), d.TwistStdUnc/plane.Deg)
	}
	if !math.IsNaN(d.Lean) {
		add("Left less right: %s ± %s in height.", u.Dimension(d.Lean), u.Dimension(d.LeanStdUnc))
	}
	if !math.IsNaN(d.Angle) {
		before := t.Car.Uncertainty.AngleReading
		if d.AngleStdUnc < before {
			add("The uncertainty of every angle from the bracket shrinks from ±%.2f° to ±%.2f°.", before/plane.Deg, d.AngleStdUnc/plane.Deg)
		}
	}
	return append(lines, datumNotes(d)...)
}

// ResidualLine is one reading against the fit.
func ResidualLine(t *model.Table, d calibrate.Datum, i int, u units.System) string {
	r := d.Residuals[i]
	var parts []string
	if !math.IsNaN(r.Off) {
		parts = append(parts, fmt.Sprintf("angle off by %s (read to ±%.1f°)", signedDegrees(r.Off), r.AngleStdUnc()/plane.Deg))
	}
	for _, h := range []struct {
		what string
		off  float64
	}{{"height", r.Heights.Quarter}, {"leading edge", r.Heights.Leading}, {"trailing edge", r.Heights.Trailing}} {
		if !math.IsNaN(h.off) {
			parts = append(parts, fmt.Sprintf("%s off by %s (read to ±%s)", h.what, u.Dimension(h.off), u.Dimension(r.HeightStdUnc())))
		}
	}
	text := fmt.Sprintf("%d  %s:  %s", i+1, readingName(t, r.Reading), strings.Join(parts, "  "))
	if !math.IsNaN(r.Times) {
		text += fmt.Sprintf("  %.1f times its uncertainty", r.Times)
	}
	switch {
	case r.Suspect && r.Slip == calibrate.SlipTurning:
		text += "  SUSPECT: the two ways round give another zero of the level than the other readings on this floor; left out; read it again"
	case r.Suspect:
		text += "  SUSPECT: does not fit the rest; left out; read it again, or check that these are its holes"
	case r.Disagree:
		text += "  DISAGREES with others"
	}
	return text
}

// readingName is the setting of a reading, its side and what the level lay on.
func readingName(t *model.Table, r model.Reading) string {
	text := units.Printable(t.NameOf(r.Setting))
	if r.Side != "" {
		text += " " + r.Side
	}
	if r.Face != "" {
		text += " on " + units.Printable(r.Face)
	}
	return text
}

// FloorLine is what is known of a floor.
func FloorLine(f calibrate.FloorFound) string {
	text := fmt.Sprintf("Floor %s: %s ± %.2f° along the car", units.Printable(f.Name), signedDegrees(f.Slope), f.SlopeStdUnc/plane.Deg)
	if math.IsNaN(f.Zero) {
		text += ", with the level's own zero in it, which goes out"
	} else {
		text += fmt.Sprintf("; the level's own zero %s ± %.2f°", signedDegrees(f.Zero), f.ZeroStdUnc/plane.Deg)
	}
	if f.Disagree {
		text += "  DISAGREES with the readings on it"
	}
	return text + "."
}

// thresholdLine says from when on a reading is suspect.
func thresholdLine(d calibrate.Datum) string {
	if d.Tests < 2 {
		return "Nothing checks these readings yet: another one would."
	}
	return fmt.Sprintf("A reading is suspect from %.1f times its uncertainty: of %d figures that check each other, good ones get there in at most %.0f cases of 100.", d.Threshold,
		d.Tests, 100*calibrate.FalseAlarm)
}

// datumNotes says what cannot be told, what is taken for granted, and what to do next.
func datumNotes(d calibrate.Datum) (lines []string) {
	note := func(format string, args ...any) { lines = append(lines, "Note: "+fmt.Sprintf(format, args...)+".") }
	suspects, disagree := 0, 0
	for _, r := range d.Residuals {
		if r.Suspect {
			suspects++
		}
		if r.Disagree {
			disagree++
		}
	}
	switch {
	case suspects == 1:
		note("the suspect reading is left out of the fit")
	case suspects > 1:
		note("the suspect readings are left out of the fit")
	}
	if disagree > 0 {
		note("readings disagree by more than their uncertainty, and nothing tells which is wrong: one more reading would")
	}
	for _, n := range d.Untold {
		switch {
		case n.What == calibrate.TheZ:
			note("no heights are read: the bracket's height cannot be told")
		case n.What == calibrate.TheAngle:
			note("no angles are read: the bracket's angle cannot be told")
		case n.What == calibrate.TheX:
			note("angles and heights do not give the bracket's position fore and aft")
		}
	}
	for _, a := range d.Taken {
		which := fmt.Sprintf("in %d of %s", a.Readings, units.Count(len(d.Residuals), "reading"))
		switch a.What {
		case calibrate.LevelFloor:
			note("the ground is taken as level %s: lay the level on it along the car, and type floor 0.3", which)
		case calibrate.TrueZero:
			note("the level is taken as true %s: turn it end for end, and type both, 6.4 6.6", which)
		case calibrate.OneSided:
			note("only one side is read %s: ±%.1f° of twist between left and right is allowed for; read the other side as well", which, calibrate.UsualTwist/plane.Deg)
		}
	}
	return lines
}

func signedDegrees(a float64) string { return units.Signed(a/plane.Deg, 2) + "°" }
