package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/measure"
	"stanchion/model/units"
)

// howToMeasure says what each measurement is and how it is taken. Common practice, no source.
var howToMeasure = map[measure.Kind][2]string{
	measure.FlowAngle:      {"flow angle", "tufts or a vane at the height of the wing, filmed on a straight against a level; best at two heights"},
	measure.SpeedRatio:     {"speed ratio", "a pitot tube at the height of the wing against GPS speed, both ways; best at two heights"},
	measure.Level:          {"angle set with a level", "hold the wing at its angle with a level while the bolts are tightened, and put set_with_level = true into the car file"},
	measure.FittedBolts:    {"fitted bolts", "bolts that fill their holes: reamed holes, or bushes"},
	measure.HolePositions:  {"hole positions", "a caliper from hole to hole; put the distances as drilled into the file"},
	measure.AngleReading:   {"angle reading", "a digital level on the chord line, read both ways round on level ground"},
	measure.SatelliteSpeed: {"speed", "GPS speed over a long straight, the mean of both ways"},
	measure.Weather:        {"air density", "temperature and pressure in the paddock at the time"},
	measure.RideHeights:    {"downforce on track", "ride heights at speed over several runs, then \"stanchion note fit\""},
	measure.CoastDown:      {"drag on track", "coasting down both ways or top speed with two settings, then \"stanchion note fit\""},
	measure.CleanSurface:   {"a clean wing", "wash and polish the wing's leading edge before the run, and put surface = \"clean\" into the car file"},
}

// reached spells what a measurement reaches; "" where it is no number.
func reached(g measure.Gain) string {
	switch g.Kind {
	case measure.FlowAngle, measure.AngleReading:
		return " to ±" + units.Fixed(g.Reached/plane.Deg, 1) + "°"
	case measure.SpeedRatio:
		return " to ±" + units.Fixed(g.Reached, 2)
	case measure.SatelliteSpeed, measure.Weather:
		return " to ±" + units.Fixed(100*g.Reached, 1) + " %"
	case measure.RideHeights, measure.CoastDown:
		return " to ±" + units.Fixed(100*g.Reached, 0) + " %"
	}
	return ""
}

// MeasureNext says which measurements would narrow the ± of a figure the most, or that of its
// difference to another setting, and to what; at most so many.
func MeasureNext(t *model.Table, r, from *model.Row, f figures.Figure, u units.System, most int) []string {
	gains := gainsOf(t, r, from, f)
	var lines []string
	for _, g := range gains[:min(most, len(gains))] {
		how := howToMeasure[g.Kind]
		lines = append(lines, fmt.Sprintf("±%s with %s%s. How: %s", NarrowStdUnc(f, math.Abs(f.StdUnc(g.After)), u), how[0],
			reached(g), how[1]))
	}
	return lines
}

// MeasureFirst is the first of MeasureNext in few words, without how it is taken; "" where there is
// none.
func MeasureFirst(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	for _, g := range gainsOf(t, r, nil, f) {
		return fmt.Sprintf("%s%s, ±%s left", howToMeasure[g.Kind][0], reached(g), NarrowStdUnc(f, math.Abs(f.StdUnc(g.After)), u))
	}
	return ""
}

func gainsOf(t *model.Table, r, from *model.Row, f figures.Figure) []measure.Gain {
	switch {
	case f.StdUnc == nil || math.IsNaN(r.Downforce):
		return nil
	case from == nil:
		return measure.One(t, r, f.StdUnc)
	}
	return measure.Between(t, r, from, f.StdUnc)
}

// NarrowStdUnc spells an uncertainty where two are compared: shares, shifts and numbers with one
// digit more than the figure has.
func NarrowStdUnc(f figures.Figure, std float64, u units.System) string {
	digits := f.Digits
	switch f.Quantity {
	case figures.Share, figures.Shift, figures.Number, figures.Angle:
		digits++
	}
	return withUnit(f.Quantity.Spell(std, digits, u), f.Unit(u))
}

// BestMeasurement is the first of MeasureNext in one line, with what the ± is now; "" where no
// measurement would tell.
func BestMeasurement(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	std, ok := f.StdUncOf(t.Budget(r).Contribution)
	next := MeasureNext(t, r, nil, f, u, 1)
	if !ok || len(next) == 0 {
		return ""
	}
	return fmt.Sprintf("%s: ±%s would fall to %s", f.Name, NarrowStdUnc(f, std, u), next[0])
}
