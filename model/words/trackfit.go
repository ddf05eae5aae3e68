package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/units"
)

// unknownNames name what measurements on track tell of.
var unknownNames = [model.UnknownsEnd]string{
	model.LiftFactor: "lift factor", model.FlowAngleOff: "flow angle, more than in the file", model.SpeedRatioOff: "speed ratio, more than in the file",
	model.FrontOwnArea: "own downforce area in front", model.RearOwnArea: "own downforce area at the rear", model.DragFactor: "drag factor",
	model.MaxLiftFactor: "maximum-CL factor", model.ZeroLiftOff: "zero-lift angle, lower by", model.StallAngleOff: "stall angle, higher by",
	model.SurfaceOff: "wing surface, cleaner by (times its ±)", model.GurneyOff: "Gurney flap's lift, more by (times its ±)", model.AngleReadingOff: "angle reading, too small by",
	model.BodyPartOff: "part of the lift on the body, more than 0.5", model.WakeFactor: "lift lost in the uprights' wake, factor", model.FrontAxleRate: "spring rate in front",
	model.RearAxleRate: "spring rate at the rear", model.OwnDragArea: "own drag area", model.WheelPower: "power at the wheels",
}

// UnknownName names an unknown of a fit to the track.
func UnknownName(u model.Unknown) string { return unknownNames[u] }

// ReadingName names a kind of reading on track.
func ReadingName(k calibrate.ReadingKind) string {
	return [...]string{calibrate.FrontSink: "front ride height", calibrate.RearSink: "rear ride height", calibrate.TopSpeed: "top speed",
		calibrate.CoastArea: "drag area from coast-downs"}[k]
}

// unknownFigure spells a value of an unknown and its standard uncertainty with two digits of the latter.
func unknownFigure(u model.Unknown, x, std float64) string {
	unit, size := u.FileUnit()
	if unit != "" && unit != "°" {
		unit = " " + unit
	}
	digits := 2
	if s := std / size; s > 0 {
		digits = min(max(1-int(math.Floor(math.Log10(s))), 0), 4)
	}
	return units.Fixed(x/size, digits) + " ± " + units.Fixed(std/size, digits) + unit
}

// FitReadings lists the readings of a fit, each measured and fitted, and how far it lies off what file and all
// others say.
func FitReadings(t *model.Table, l calibrate.Learned, u units.System) []string {
	var lines []string
	for _, r := range l.Readings {
		text := fmt.Sprintf("%s  %s at %s: %s, fit %s, %s", units.Printable(r.Note), ReadingName(r.Kind), u.Speed(r.Speed),
			trackFigure(r.Kind, r.Measured, u), trackFigure(r.Kind, r.Fitted, u), residual(r.Off))
		if !r.Kind.AtSpeed() {
			text = fmt.Sprintf("%s  %s: %s, fit %s, %s", units.Printable(r.Note), ReadingName(r.Kind),
				trackFigure(r.Kind, r.Measured, u), trackFigure(r.Kind, r.Fitted, u), residual(r.Off))
		}
		if r.Suspect {
			text += "  DOES NOT FIT, left out: look at it, at its setting, and at what the file says of springs, power and drag area"
		}
		lines = append(lines, text)
	}
	return lines
}

// residual spells how far a reading lies off the rest, in its standard uncertainties.
func residual(off float64) string {
	if math.Abs(off) < 0.05 {
		return "spot on"
	}
	side := "above"
	if off < 0 {
		side = "below"
	}
	return units.Fixed(math.Abs(off), 1) + " × ± " + side + " the rest"
}

// FitDisagrees says, before all else, that readings do not agree as a whole, and which; "" where they do.
func FitDisagrees(t *model.Table, l calibrate.Learned, u units.System) string {
	if !l.Disagree() {
		return ""
	}
	parts := readingsNamed(t, l.Disagreeing(), u)
	if len(parts) == 0 {
		return "The readings and the car file disagree. Measure again, or check what the file says; this fit is not worth writing."
	}
	return "These readings disagree: " + strings.Join(parts, "; ") + ". Measure again; this fit is not worth writing."
}

// readingsNamed names readings with what was measured.
func readingsNamed(t *model.Table, all []calibrate.TrackReading, u units.System) (parts []string) {
	for _, r := range all {
		text := fmt.Sprintf("note %s, %s with %s", units.Printable(r.Note), ReadingName(r.Kind), units.Printable(t.NameOf(r.Setting)))
		if r.Kind.AtSpeed() {
			text += " at " + u.Speed(r.Speed)
		}
		parts = append(parts, text+": "+trackFigure(r.Kind, r.Measured, u))
	}
	return parts
}

// FitWorse says that the downforce of the setting on the car would be less sure after a fit.
func FitWorse(before, after float64, u units.System) string {
	return fmt.Sprintf("With these readings the downforce would be less sure than without: ± %s %s, now ± %s. Measure again; this fit is not worth writing.",
		u.ForceFigure(after), u.ForceUnit(), u.ForceFigure(before))
}

// trackFigure spells a reading: a sink to 0.1 mm, a speed to 0.1, an area to 0.001 m².
func trackFigure(k calibrate.ReadingKind, x float64, u units.System) string {
	switch k {
	case calibrate.CoastArea:
		return units.Fixed(x, 3) + " m²"
	case calibrate.TopSpeed:
		return units.Fixed(u.SpeedFigure(x), 1) + " " + u.SpeedUnit()
	}
	return u.Dimension(x)
}

// little is the part by which an uncertainty must shrink for it to be said.
const little = 0.03

// FitUnknowns says how much readings narrowed each unknown, and of which they tell nothing.
func FitUnknowns(l calibrate.Learned) []string {
	var lines, nothing []string
	width := 0
	for _, x := range l.Unknowns {
		width = max(width, len([]rune(unknownNames[x.Of])))
	}
	for _, x := range l.Unknowns {
		narrowed := 1 - x.StdUnc/x.BeforeStdUnc
		if math.Abs(narrowed) < little && math.Abs(x.Value-x.Before) < 0.1*x.BeforeStdUnc {
			nothing = append(nothing, unknownNames[x.Of])
			continue
		}
		said := fmt.Sprintf("narrowed by %.0f %%", 100*narrowed)
		switch {
		case narrowed < -little:
			said = fmt.Sprintf("wider by %.0f %%", -100*narrowed)
		case narrowed < little:
			said = "as wide as before"
		}
		lines = append(lines, fmt.Sprintf("%-*s  %-18s → %-18s %s", width, unknownNames[x.Of], unknownFigure(x.Of, x.Before, x.BeforeStdUnc), unknownFigure(x.Of, x.Value, x.StdUnc), said))
	}
	if len(nothing) > 0 {
		lines = append(lines, "Nothing is told of: "+strings.Join(nothing, "; ")+".")
	}
	return lines
}

// FitRemarks says what stands in the way of readings telling more, and what does not agree.
func FitRemarks(l calibrate.Learned) []string {
	var lines []string
	if l.OneSetting {
		lines = append(lines, "All ride heights are of one setting: one setting, at one speed or at several, cannot tell the wing's lift from the car's own. Note a second setting with another angle.")
	}
	if l.Widened > 1 {
		moved, most := calibrate.Narrowed{}, 0.0
		for _, x := range l.Unknowns {
			if by := math.Abs(x.Value-x.Before) / x.BeforeStdUnc; by > most {
				moved, most = x, by
			}
		}
		text := fmt.Sprintf("Readings and car file do not agree as a whole (by chance that often: %s %%): every ± is widened by a factor of %.1f.", units.Fixed(100*l.Chance, 2), l.Widened)
		if most > 0 {
			text += fmt.Sprintf(" Furthest from the file is the %s, %.1f × its ± away: measure that first.", strings.Split(unknownNames[moved.Of], ",")[0], most)
		}
		lines = append(lines, text)
	}
	return lines
}

// NextReading says which reading on track would narrow a figure the most.
func NextReading(t *model.Table, n calibrate.NextReading, figure string, spell func(float64) string, u units.System) string {
	how := ReadingName(n.Kind) + " at " + u.Speed(n.Speed)
	if n.Kind == calibrate.TopSpeed {
		how = "the top speed (where that is allowed and safe)"
	}
	before, after := spell(n.Before), spell(n.After)
	if before == after || n.After > 0.98*n.Before {
		return fmt.Sprintf("%s: ±%s would hardly fall with any one reading, most with %s, %s (by %s %%): several are needed, or closer ones.", figure, before,
			how, t.Name(n.Row.Setting), units.Fixed(100*(1-n.After/n.Before), 1))
	}
	return fmt.Sprintf("%s: ±%s would fall to ±%s with %s, %s.", figure, before, after, how, t.Name(n.Row.Setting))
}

// Fitted says what a car's fit to the track has made of it; nothing where it has none.
func Fitted(c *model.Car) []string {
	e := c.TrackFit.Estimate
	if e == nil {
		return nil
	}
	var lines []string
	before := c.Unfitted()
	for i, u := range e.Of {
		lines = append(lines, fmt.Sprintf("%s: %s", unknownNames[u], unknownFigure(u, before.Nominal(u)+e.Value[i], math.Sqrt(e.Cov.At(i, i)))))
	}
	return lines
}
