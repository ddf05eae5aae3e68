package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Stall says how far a row is from the stall.
func Stall(r *model.Row) string {
	switch {
	case math.IsNaN(r.Attack) || math.IsNaN(r.CL):
		return units.NotGiven
	case math.IsNaN(r.StallMargin):
		return "not known: the data end before it"
	case r.Stalled:
		return fmt.Sprintf("STALLED, %.1f° past maximum CL", -r.StallMargin/plane.Deg)
	}
	return fmt.Sprintf("%.1f° margin", r.StallMargin/plane.Deg)
}

// stallWithStdUnc is Stall with one standard uncertainty of the margin, where that is known.
func stallWithStdUnc(t *model.Table, r *model.Row) string {
	text := Stall(r)
	if std := t.Budget(r).Margin; std > 0 && !math.IsNaN(r.StallMargin) && !math.IsNaN(r.CL) {
		text += " ± " + degrees(std)
	}
	return text
}

// Rough says why the uncertainties of a row are only a rough guide; "" where they are more.
func Rough(r *model.Row, b model.Budget) string {
	switch b.Rough {
	case model.PastStall:
		return "past the stall the flow is unsteady"
	case model.NearStall:
		return fmt.Sprintf("the stall is %.1f° ± %.1f° away", r.StallMargin/plane.Deg, b.Margin/plane.Deg)
	}
	return ""
}
