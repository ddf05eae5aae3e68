package words

import (
	"fmt"
	"strings"

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
	lift, liftFrom := fmt.Sprintf("±%.0f %%", 100*model.GivenLiftStdUnc), from("section_lift")
	drag, dragFrom := u.SectionDrag, from("section_drag")
	if x := w.Section; x != nil {
		if !u.SectionLift.Known() {
			liftFrom = x.Origin.String()
			lift = fmt.Sprintf("slope ±%.0f %%, maximum cl ±%.0f %%, zero-lift angle ±%.1f°, stall angle ±%.1f°", 100*x.SlopeStdUnc,
				100*x.MaxLiftStdUnc, x.ZeroLiftStdUnc/plane.Deg, x.MaxAngleStdUnc/plane.Deg)
		}
		if x.DragStdUnc > 0 && u.Default["section_drag"] {
			drag, dragFrom = x.DragStdUnc, "the section's own"
		}
	}
	if u.SectionLift.Known() {
		lift = fmt.Sprintf("±%.0f %%", 100*u.SectionLift.Value())
	}
	lines := []string{
		fmt.Sprintf("angle reading ±%s° (%s)", units.Fixed(u.AngleReading/plane.Deg, 1), from("angle_reading")),
	}
	lines = append(lines, flowLines(c, from)...)
	lines = append(lines,
		fmt.Sprintf("the car's own downforce area ±%s m² in front (%s), ±%s m² at the rear (%s)", units.Fixed(u.FrontOwn, 2), from("front_downforce_area"),
			units.Fixed(u.RearOwn, 2), from("rear_downforce_area")),
		fmt.Sprintf("section lift: %s (%s)", lift, liftFrom),
		fmt.Sprintf("section drag ±%.0f %% (%s)", 100*drag, dragFrom))
	if w.Worn.MaxLiftStdUnc > 0 {
		lines = append(lines, fmt.Sprintf("dirt on the wing ±%.0f %% of maximum cl and ±%.0f %% of profile drag", 100*w.Worn.MaxLiftStdUnc, 100*w.Worn.DragStdUnc))
	}
	hole := "hole position not given: holes are taken to be where the file says"
	if u.HolePosition > 0 {
		hole = fmt.Sprintf("hole position ±%s (given)", s.Fine(u.HolePosition))
	}
	play := "play in the holes counts in full; set_with_level = true says that you set each setting with a level"
	if u.SetWithLevel {
		play = "play in the holes does not count: each setting is set with a level (given)"
	}
	lines = append(lines,
		fmt.Sprintf("speed ±%s %% (%s)", units.Fixed(100*u.Speed, 1), from("speed")),
		hole, play,
		fmt.Sprintf("air density ±%s %% (%s)", units.Fixed(100*u.Air, 1), from("air")))
	if fitted := Fitted(c); len(fitted) > 0 {
		lines = append(lines, "in the place of these, fitted to the track ([fit]): "+strings.Join(fitted, "; "))
	}
	return lines
}

// flowLines says how well the flow at the wing is known: by its points, by the body's shape, or
// by what is given or assumed for all heights.
func flowLines(c *model.Car, from func(key string) string) []string {
	u := c.Uncertainty
	p, _ := c.Flow.At(0)
	if lo, hi := c.Flow.Range(); lo > 0 || hi < 0 {
		p, _ = c.Flow.At((lo + hi) / 2)
	}
	line := func(what, key string, own, all float64, spell func(float64) string) string {
		switch {
		case own > 0 && c.FlowGuessed:
			return fmt.Sprintf("%s ±%s (assumed, for a %s)", what, spell(own), c.BodyShape)
		case own > 0:
			return fmt.Sprintf("%s as each point of [[flow]] says", what)
		}
		return fmt.Sprintf("%s ±%s (%s)", what, spell(all), from(key))
	}
	return []string{
		line("flow angle", "flow_angle", p.AngleStdUnc, u.FlowAngle, func(x float64) string { return units.Fixed(x/plane.Deg, 1) + "°" }),
		line("speed ratio", "speed_ratio", p.RatioStdUnc, u.SpeedRatio, func(x float64) string { return units.Fixed(x, 2) }),
	}
}
