package words

import (
	"fmt"
	"math"
	"unicode/utf8"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/units"
)

// TypedLines says what was understood of readings that were typed, on a car that has them.
func TypedLines(t *model.Table, c *model.Car, typed calibrate.Typed, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	for _, f := range typed.Faces {
		add("Face %s: %s to the chord ± %.1f°, trailing edge up positive.", units.Printable(f.Name), signedDegrees(f.Angle), f.AngleStdUnc()/plane.Deg)
	}
	for _, f := range typed.Floors {
		if back, ok := f.Turned.Get(); ok {
			add("Floor %s: %s and turned %s: slope %s, up to the rear positive; the level's own zero %s.", units.Printable(f.Name),
				fineDegrees(f.Angle), fineDegrees(back), fineDegrees((f.Angle+back)/2), signedDegrees((f.Angle-back)/2))
			lines = append(lines, signHint(f.Angle, back)...)
		} else {
			add("Floor %s: %s, up to the rear positive.", units.Printable(f.Name), fineDegrees(f.Angle))
		}
	}
	for _, r := range typed.Readings {
		lines = append(lines, ReadingLines(t, c, r, u)...)
	}
	return lines
}

// ReadingLines says what was understood of one reading: what was read, with units, and the angle of the
// chord to the ground that it comes to.
func ReadingLines(t *model.Table, c *model.Car, r model.Reading, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	f := calibrate.Understand(c, r)
	where := "chord"
	if r.Face != "" {
		where = "face " + units.Printable(r.Face)
	}
	side := "Wing, "
	if r.Side != "" {
		side = upperFirst(r.Side) + ", "
	}
	if first, ok := r.Angle.Get(); ok {
		text := fmt.Sprintf("%slevel on the %s %s", side, where, fineDegrees(first))
		back, turned := r.Turned.Get()
		if turned {
			text += fmt.Sprintf(" and turned %s: slope %s; the level's own zero %s", fineDegrees(back), fineDegrees(f.OnFace), signedDegrees(f.Zero))
		} else if !math.IsNaN(f.FloorZero) {
			text += fmt.Sprintf(", less the level's own zero %s", fineDegrees(f.OnFace))
		}
		add("%s.", text)
		if turned {
			lines = append(lines, signHint(first, back)...)
		}
		sum := fineDegrees(f.OnFace)
		if !math.IsNaN(f.Floor) {
			sum += " less the floor " + fineDegrees(f.Floor)
		}
		if !math.IsNaN(f.Face) {
			sum += " less the face " + fineDegrees(f.Face)
		}
		if sum != fineDegrees(f.OnFace) {
			sum += " = " + fineDegrees(f.Angle)
		}
		add("  Angle of the chord to the ground: %s ± %.2f°%s.", sum, f.StdUnc/plane.Deg, drawnAs(t, r, f.Angle))
	}
	if h, ok := r.Height.Get(); ok {
		add("%sheight of the quarter-chord point: %s above the ground ± %s.", side, u.Dimension(h), u.Dimension(r.HeightStdUnc()))
	}
	lead, atLead := r.Leading.Get()
	trail, atTrail := r.Trailing.Get()
	switch {
	case atLead && atTrail:
		add("%stape: leading edge %s, trailing edge %s above the ground, each ± %s.", side, u.Dimension(lead), u.Dimension(trail), u.Dimension(r.HeightStdUnc()))
		add("  Over the chord of %s: %s ± %.2f° to the ground%s.", u.Dimension(c.Wing.Chord), fineDegrees(f.TapeAngle), f.TapeUnc/plane.Deg, drawnAs(t, r, f.TapeAngle))
	case atLead:
		add("%stape: leading edge %s above the ground ± %s.", side, u.Dimension(lead), u.Dimension(r.HeightStdUnc()))
	case atTrail:
		add("%stape: trailing edge %s above the ground ± %s.", side, u.Dimension(trail), u.Dimension(r.HeightStdUnc()))
	}
	return lines
}

// drawnAs says what the holes give for an angle that was measured.
func drawnAs(t *model.Table, r model.Reading, angle float64) string {
	row, ok := t.Find(r.Setting)
	if !ok {
		return ""
	}
	return fmt.Sprintf("; by the holes %s, so far off by %s", fineDegrees(row.Angle), signedDegrees(angle-row.Angle))
}

// signHint asks about the signs of two readings that differ in them.
func signHint(first, turned float64) []string {
	if first*turned >= 0 {
		return nil
	}
	return []string{"  Their signs differ: where the display changes sign when the level is turned, type the second with its sign changed."}
}

// TapeLine says what a tape must read for a setting: how high leading edge, quarter-chord point and
// trailing edge are above the ground, and how well the angle is set by that.
func TapeLine(t *model.Table, r *model.Row, u units.System) string {
	lead, trail := calibrate.LeadingEdge(r.Position), calibrate.TrailingEdge(t.Car, r.Position)
	_, unc := calibrate.TapeAngle(lead.Z, trail.Z, t.Car.Wing.Chord, model.DefaultTape)
	return fmt.Sprintf("By tape above the ground: leading edge %s, trailing edge %s, %s from one to the other; quarter-chord point %s, %s behind the leading edge. Each read to ±%s, they tell the angle to ±%.1f°.",
		u.Length(lead.Z), u.Length(trail.Z), u.SignedLength(trail.Z-lead.Z)+" "+u.LengthUnit(), u.Length(r.Height), u.Length(t.Car.Wing.QuarterChord().X),
		u.Dimension(model.DefaultTape), unc/plane.Deg)
}

// TapeStands says whether a correction that is applied and not in the file is in what a tape must read.
func TapeStands(t *model.Table, applied bool) string {
	if applied {
		return fmt.Sprintf("the %s as corrected, which is not in the car file yet", t.Car.Parts[0].Name)
	}
	return fmt.Sprintf("the %s where the car file has it, no correction made", t.Car.Parts[0].Name)
}

// WhereHeights says where the heights of a reading are measured.
func WhereHeights(c *model.Car, u units.System) string {
	return fmt.Sprintf("A height is that of the quarter-chord point, on the chord line %s behind the leading edge; le and te are the ends of the chord, %s apart, at mid-span or on the side named.",
		u.Length(c.Wing.QuarterChord().X), u.Length(c.Wing.Chord))
}

func fineDegrees(a float64) string { return units.Fixed(a/plane.Deg, 2) + "°" }

func upperFirst(s string) string { return string(s[0]-'a'+'A') + s[1:] }

// TapeTable says what a tape must read for each of some settings.
func TapeTable(t *model.Table, rows []*model.Row, u units.System) []string {
	heads := []string{"angle °", "leading " + u.LengthUnit(), "trailing " + u.LengthUnit(), "difference " + u.LengthUnit(), "quarter chord " + u.LengthUnit()}
	w := len("setting")
	for _, r := range rows {
		w = max(w, utf8.RuneCountInString(t.Name(r.Setting)))
	}
	line := func(first string, cells []string) string {
		text := fmt.Sprintf("%-*s", w, first)
		for i, c := range cells {
			text += fmt.Sprintf("  %*s", utf8.RuneCountInString(heads[i]), c)
		}
		return text
	}
	lines := []string{
		"What a tape must read above the ground, the fixed part standing where the car file has it.",
		WhereHeights(t.Car, u), "", line("setting", heads),
	}
	spread := 0.0
	for _, r := range rows {
		lead, trail := calibrate.LeadingEdge(r.Position).Z, calibrate.TrailingEdge(t.Car, r.Position).Z
		_, unc := calibrate.TapeAngle(lead, trail, t.Car.Wing.Chord, model.DefaultTape)
		spread = max(spread, unc)
		lines = append(lines, line(t.Name(r.Setting), []string{units.Fixed(r.Angle/plane.Deg, 1), u.LengthFigure(lead), u.LengthFigure(trail), u.SignedLength(trail - lead), u.LengthFigure(r.Height)}))
	}
	return append(lines, "", fmt.Sprintf("Each read to ±%s, the two tell the angle to ±%.1f°; a level tells it to ±%.1f°.", u.Dimension(model.DefaultTape), spread/plane.Deg,
		model.DefaultReading/plane.Deg))
}
