package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// DatumLines says in words what the readings say: first what is wrong with them and the correction, then
// how they come to it.
func DatumLines(t *model.Table, d calibrate.Datum, u units.System) []string {
	lines := append(DatumAlarms(t, d, u), DatumAnswer(t, d, u)...)
	lines = append(lines, numberedReadings(t, d)...)
	return append(lines, DatumDetails(t, d, u)...)
}

// DatumAlarms says why a correction is not to be trusted; none where nothing speaks against it.
func DatumAlarms(t *model.Table, d calibrate.Datum, u units.System) []string {
	var lines []string
	for _, text := range []string{SidesDiffer(d, u), OffTheFile(t, d)} {
		if text != "" {
			lines = append(lines, upperFirst(text)+".")
		}
	}
	for i, r := range d.Residuals {
		switch {
		case r.Suspect:
			lines = append(lines, fmt.Sprintf("Reading %d, %s, does not fit the rest and is left out: read it again.", i+1, readingName(t, r.Reading)))
		case r.Disagree:
			lines = append(lines, fmt.Sprintf("Reading %d, %s, disagrees with others: read again.", i+1, readingName(t, r.Reading)))
		}
	}
	return lines
}

// SidesDiffer says by how much left and right are clearly apart; "" where they are not.
func SidesDiffer(d calibrate.Datum, u units.System) string {
	switch {
	case d.Twisted():
		return fmt.Sprintf("left and right differ by %s°: the wing is twisted, or one side was misread: read both again", units.Fixed(math.Abs(d.Twist)/plane.Deg, 1))
	case d.Leaning():
		return fmt.Sprintf("left and right differ by %s in height: the car or the wing leans, or one side was misread: read both again", u.Dimension(math.Abs(d.Lean)))
	}
	return ""
}

// OffTheFile says what to do where the readings are so far off the car file that a correction is not to be written;
// "" where they are not.
func OffTheFile(t *model.Table, d calibrate.Datum) string {
	switch d.Standing {
	case calibrate.Flipped:
		return fmt.Sprintf("the readings are %s off the car file, and with their signs changed they would agree: type angles up at the rear positive, and check with a second setting", fileApart(t, d))
	case calibrate.AgainstFile:
		return fmt.Sprintf("the readings, all with one setting, are %s off the car file: check the sign and that these are its holes, then read a second setting", fileApart(t, d))
	}
	return ""
}

// fileApart is by how much the readings are off the car file.
func fileApart(t *model.Table, d calibrate.Datum) string {
	return fmt.Sprintf("%s°, %.1f times the ± of the difference,", units.Fixed(math.Abs(d.Read-d.File)/plane.Deg, 1), d.Times)
}

// withTheFile says what became of the angle that the car file had before the readings.
func withTheFile(t *model.Table, d calibrate.Datum) string {
	at := func(by, stdUnc float64) string {
		return fmt.Sprintf("%s° ± %.2f°", units.Fixed((t.Car.Fixed.Turn+by)/plane.Deg, 2), stdUnc/plane.Deg)
	}
	if d.Standing == calibrate.FileAssumed {
		text := "The car file's angle is assumed, so it does not count"
		if !d.SignShows(t) {
			text += ": a sign turned in these readings would not show; one more on a setting at least 2° off would tell"
		}
		return text + "."
	}
	read, file := at(d.Read, d.ReadStdUnc), at(d.File, d.FileStdUnc)
	if _, written := t.Car.Before.Turn.Get(); written {
		file += " before any reading"
	}
	switch d.Standing {
	case calibrate.WithFile:
		return fmt.Sprintf("By the readings alone %s, by the car file %s: together, each by its ±, %s.", read, file, at(d.Angle, d.AngleStdUnc))
	case calibrate.WithoutFile:
		return fmt.Sprintf("The car file's own %s is %.1f times the ± of the difference off what %d settings agree on: it does not count.", file, d.Times, d.Settings)
	}
	return fmt.Sprintf("The car file has %s.", file)
}

// DatumAnswer is the correction, how clear it is, and whether anything checks it.
func DatumAnswer(t *model.Table, d calibrate.Datum, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if !math.IsNaN(d.Angle) {
		is := "The " + t.Car.Parts[0].Name + " is"
		if d.Refused() && math.Abs(d.Angle) >= leastCorrected {
			is = "By the readings alone the " + t.Car.Parts[0].Name + " would be"
		}
		if !(math.Abs(d.Angle) >= leastCorrected) {
			add("%s at %s° ± %.2f°, as the car file has it.", is, units.Fixed(t.Car.Fixed.Turn/plane.Deg, 2), d.AngleStdUnc/plane.Deg)
		} else {
			add("%s at %s° instead of %s°: correction %s ± %.2f°%s.", is, units.Fixed((t.Car.Fixed.Turn+d.Angle)/plane.Deg, 2),
				units.Fixed(t.Car.Fixed.Turn/plane.Deg, 2), signedDegrees(d.Angle), d.AngleStdUnc/plane.Deg, unlessClear(d.Angle, d.AngleStdUnc))
		}
		add("%s", withTheFile(t, d))
	}
	if !math.IsNaN(d.Z) {
		add("Its origin is at z %s instead of %s: correction %s ± %s%s.", u.Length(t.Car.Fixed.Z+d.Z), u.Length(t.Car.Fixed.Z),
			signedLength(d.Z, u), u.Dimension(d.ZStdUnc), unlessClear(d.Z, d.ZStdUnc))
	}
	if !d.Checked() && !d.Refused() {
		add("%s.", upperFirst(NothingChecks))
	}
	return lines
}

// NothingChecks says that a small slip would not be noticed.
const NothingChecks = "nothing checks these readings yet, a small slip would not show: one more on another setting would"

// unlessClear says that a correction is not clearly different from none; "" where it is.
func unlessClear(by, stdUnc float64) string {
	switch choose.ClarityOf(by, stdUnc) {
	case choose.NoClearDifference:
		return ", not clearly different from none"
	case choose.NotSure:
		return ", perhaps different from none, not sure"
	}
	return ""
}

// DatumInForce says that a correction is taken and not in the file.
func DatumInForce(t *model.Table, d calibrate.Datum, u units.System) string {
	var parts []string
	if !math.IsNaN(d.Angle) {
		parts = append(parts, signedDegrees(d.Angle))
	}
	if !math.IsNaN(d.Z) {
		parts = append(parts, signedLength(d.Z, u)+" in height")
	}
	return fmt.Sprintf("A correction of the %s by %s is applied and not in the car file yet: W writes it.", t.Car.Parts[0].Name, strings.Join(parts, ", "))
}

// leastCorrected is the smallest correction of an angle that lines spell, rad.
const leastCorrected = 0.005 * plane.Deg

// Settled reports whether a fit asks for no correction, as far as its lines spell it.
func Settled(d calibrate.Datum) bool {
	return !(math.Abs(d.Angle) >= leastCorrected) && !(math.Abs(d.Z) >= 0.05)
}

// Written reports whether the car file has a fit already, its uncertainty too, and does not call the angle
// assumed that was read.
func Written(c *model.Car, d calibrate.Datum) bool {
	return Settled(d) && (math.IsNaN(d.Angle) || !c.AngleAssumed()) && !(math.Abs(c.Uncertainty.AngleReading-d.AngleStdUnc) >= leastCorrected)
}

// DatumDetails says how the readings come to their correction.
func DatumDetails(t *model.Table, d calibrate.Datum, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if !math.IsNaN(d.Twist) {
		text := fmt.Sprintf("Left less right: %s ± %.2f° of twist in the wing or between its uprights%s", signedDegrees(d.Twist), d.TwistStdUnc/plane.Deg,
			unlessClear(d.Twist, d.TwistStdUnc))
		if play := calibrate.PlayInTwist(t, d); play > d.TwistStdUnc/2 {
			text += fmt.Sprintf("; about ±%.2f° of that is play in the holes, which each side may take up its own way", min(play, d.TwistStdUnc)/plane.Deg)
		}
		add("%s.", text)
	}
	if !math.IsNaN(d.Lean) {
		add("Left less right: %s ± %s in height%s.", signedLength(d.Lean, u), u.Dimension(d.LeanStdUnc), unlessClear(d.Lean, d.LeanStdUnc))
	}
	lines = append(lines, residualLines(t, d, u)...)
	for _, f := range d.Floors {
		add("%s", FloorLine(f))
	}
	if !math.IsNaN(d.Angle) {
		before, now := fmt.Sprintf("%.2f", t.Car.Uncertainty.AngleReading/plane.Deg), fmt.Sprintf("%.2f", d.AngleStdUnc/plane.Deg)
		goes := "shrinks"
		if d.AngleStdUnc > t.Car.Uncertainty.AngleReading {
			goes = "grows"
		}
		if t.Car.AngleAssumed() {
			add("Every angle from the bracket is then known to ±%s°, from the readings alone; it is written with the correction, as angle_reading.", now)
		} else if now != before && !d.Refused() {
			add("The uncertainty of every angle from the bracket %s from ±%s° to ±%s°; it is written with the correction, as angle_reading.", goes, before, now)
		}
	}
	return append(lines, datumNotes(d)...)
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
	if r.Rebolted {
		text += " bolted anew"
	}
	return text
}

// FloorLine is what is known of a floor.
func FloorLine(f calibrate.FloorFound) string {
	text := fmt.Sprintf("Floor %s: %s ± %.2f° along the car", units.Printable(f.Name), signedDegrees(f.Slope), f.SlopeStdUnc/plane.Deg)
	if math.IsNaN(f.Zero) {
		text += ", with the level's own zero still in it, which cancels against that on the wing"
	} else {
		text += fmt.Sprintf("; the level's own zero %s ± %.2f°", signedDegrees(f.Zero), f.ZeroStdUnc/plane.Deg)
	}
	text += " (by all readings together)"
	if f.Disagree {
		text += "  DISAGREES with the readings on it"
	}
	return text + "."
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
			note("the ground is taken as level %s: ±%.1f° is allowed for that; lay the level on it along the car, and type floor 0.3", which, calibrate.UsualSlope/plane.Deg)
		case calibrate.TrueZero:
			note("the level is taken as true %s: ±%.1f° is allowed for its zero; turn it end for end, and type both, 6.4 6.6", which, calibrate.UsualZero/plane.Deg)
		case calibrate.OneSided:
			note("only one side is read %s: ±%.1f° of twist between left and right is allowed for; read the other side as well", which, calibrate.UsualTwist/plane.Deg)
		}
	}
	return lines
}

// signedLength is a length with its sign and unit.
func signedLength(mm float64, u units.System) string {
	text := u.Dimension(math.Abs(mm))
	switch {
	case text == u.Dimension(0):
		return text
	case mm < 0:
		return "−" + text
	}
	return "+" + text
}

func signedDegrees(a float64) string { return units.Signed(a/plane.Deg, 2) + "°" }
