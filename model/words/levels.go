package words

import (
	"fmt"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/units"
)

// heightSpread is from how far apart on the heights of a level are said, mm.
const heightSpread = 2.0

// LevelChange says what new holes do to the settings at a height.
func LevelChange(l drill.LevelChange, u units.System) string {
	without, height := "none", l.With.Height
	if l.Without != nil {
		without, height = Level(*l.Without, u), l.Without.Height
	}
	return fmt.Sprintf("at %s without it: %s; with it: %s", u.Length(height), without, Level(*l.With, u))
}

// Level says from which to which angle the settings of a level go, how wide its widest step is, and between which heights
// they are where those differ.
func Level(l choose.Level, u units.System) string {
	deg := func(rad float64) string { return units.Fixed(rad/plane.Deg, 1) + "°" }
	text := fmt.Sprintf("%s to %s, widest steps %s and %s %s", deg(l.Low), deg(l.High), deg(l.AngleStep), u.ForceFigure(l.ForceStep), u.ForceUnit())
	if l.Count == 1 {
		text = "one setting, " + deg(l.Low)
	}
	if l.Highest-l.Lowest >= heightSpread {
		text += fmt.Sprintf(", heights from %s to %s", u.LengthFigure(l.Lowest), u.Length(l.Highest))
	}
	return text
}
