package words

import (
	"fmt"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// UncertaintyLines says in words what the bands are made from.
func UncertaintyLines(c *model.Car, w model.WingCurve, s units.System) []string {
	u := c.Uncertainty
	from := func(key string) string {
		if u.Default[key] {
			return "assumed"
		}
		return "given"
	}
	lift, origin := fmt.Sprintf("%.0f %%", 100*model.GivenLiftStdUnc), from("section_lift")
	switch {
	case u.SectionLift.Known():
		lift = fmt.Sprintf("%.0f %%", 100*u.SectionLift.Value())
	case w.Section != nil:
		origin = w.Section.Origin.String()
		lift = fmt.Sprintf("slope %.0f %%, maximum CL %.0f %%, zero-lift angle %.1f°", 100*w.Section.SlopeStdUnc,
			100*w.Section.MaxLiftStdUnc, w.Section.ZeroLiftStdUnc/plane.Deg)
	}
	hole := "hole position not given: holes are taken to be where the file says"
	if u.HolePosition > 0 {
		hole = fmt.Sprintf("hole position ±%s (given)", s.Fine(u.HolePosition))
	}
	return []string{
		fmt.Sprintf("angle reading ±%s° (%s)", units.Fixed(u.AngleReading/plane.Deg, 1), from("angle_reading")),
		fmt.Sprintf("flow angle ±%s° (%s)", units.Fixed(u.FlowAngle/plane.Deg, 1), from("flow_angle")),
		fmt.Sprintf("speed ratio ±%s (%s)", units.Fixed(u.SpeedRatio, 2), from("speed_ratio")),
		fmt.Sprintf("section lift ±%s (%s)", lift, origin),
		fmt.Sprintf("section drag ±%.0f %% (%s)", 100*u.SectionDrag, from("section_drag")),
		fmt.Sprintf("speed ±%s %% (%s)", units.Fixed(100*u.Speed, 1), from("speed")),
		hole,
		fmt.Sprintf("air density ±%s %% (%s)", units.Fixed(100*u.Air, 1), from("air")),
	}
}
