package words

import (
	"fmt"
	"strings"

	"stanchion/model/plan"
	"stanchion/model/units"
)

// PlanReadings says what ride heights, top speed and coast-downs tell of the settings, each against the first.
func PlanReadings(p *plan.Plan, u units.System) (lines []string) {
	for b := 1; b < len(p.Candidates); b++ {
		var parts []string
		for _, t := range p.Tells(b) {
			if text := planTell(t, u); text != "" {
				parts = append(parts, text)
			}
		}
		if len(parts) > 0 {
			lines = append(lines, fmt.Sprintf("%s against %s by readings at speed, one run of each: %s.", PlanLetter(b), PlanLetter(0), strings.Join(parts, "; ")))
		}
	}
	if lacks := planLacks(p); lacks != "" {
		lines = append(lines, lacks)
	}
	if r := p.Reading; r != nil {
		what := "downforce"
		if p.Find == plan.Drag {
			what = "drag"
		}
		lines = append(lines, fmt.Sprintf("The readings of the day would narrow the %s of A from ± %s to ± %s (note fit).", what, u.Force(r.Before), u.Force(r.After)))
	}
	return lines
}

func planTell(t plan.Tell, u units.System) string {
	if !t.Known {
		return ""
	}
	name, spell := "", func(x float64) string { return units.Signed(x/u.LengthSize(), 1) + " " + u.LengthUnit() }
	plain := func(x float64) string { return units.Fixed(x/u.LengthSize(), 1) + " " + u.LengthUnit() }
	if u.Inches() {
		spell = func(x float64) string { return units.Signed(x/u.LengthSize(), 2) + " " + u.LengthUnit() }
		plain = func(x float64) string { return units.Fixed(x/u.LengthSize(), 2) + " " + u.LengthUnit() }
	}
	switch t.Kind {
	case plan.FrontRide:
		name = "front ride height at " + u.Speed(t.Speed)
		x := spell
		spell = func(s float64) string { return x(-s) } // it sinks: the height is less
	case plan.RearRide:
		name = "rear ride height at " + u.Speed(t.Speed)
		x := spell
		spell = func(s float64) string { return x(-s) }
	case plan.Top:
		name = "top speed"
		spell = func(v float64) string { return units.Signed(u.SpeedFigure(v), 1) + " " + u.SpeedUnit() }
		plain = func(v float64) string { return units.Fixed(u.SpeedFigure(v), 1) + " " + u.SpeedUnit() }
	case plan.Coast:
		name = "coast-downs both ways"
		spell = func(a float64) string { return units.Signed(a, 3) + " m²" }
		plain = func(a float64) string { return units.Fixed(a, 3) + " m²" }
	}
	text := fmt.Sprintf("%s %s expected, read to ± %s: ", name, spell(t.Expect), plain(t.Noise))
	switch {
	case t.Runs == 1:
		return text + "TELLS them apart"
	case t.Runs == 0:
		return text + "does not"
	}
	return text + fmt.Sprintf("takes %d runs of each", t.Runs)
}

// planLacks says what the car file lacks for readings.
func planLacks(p *plan.Plan) string {
	c := p.Table.Car
	var all []string
	if !c.FrontRate.Known() || !c.RearRate.Known() {
		all = append(all, "front_rate and rear_rate for ride heights")
	}
	switch {
	case !c.DragArea.Known():
		all = append(all, "drag_area (and power) for top speeds and coast-downs")
	case !c.Power.Known():
		all = append(all, "power for top speeds")
	}
	if len(all) == 0 {
		return ""
	}
	return "The car file lacks " + strings.Join(all, "; ") + ": what they would tell is not known."
}

// PlanCannot says what the day does not tell.
func PlanCannot(p *plan.Plan) (lines []string) {
	switch p.Find {
	case plan.Balance:
		lines = append(lines, "How it feels is the driver's word, not a figure: note it after each run (note add --fast), before the stopwatch is looked at.")
	case plan.Downforce, plan.Drag:
		lines = append(lines, "Lap times do not show "+p.Find.Key()+"; readings at speed do.")
	}
	return append(lines, "The lap time difference is not known beforehand; seeing none does not mean that there is none.")
}
