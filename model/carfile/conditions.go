package carfile

import (
	"fmt"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/units"
)

// air takes the weather; what is left out is the standard sea-level day's.
func (r *reader) air(root *table, c *model.Car) {
	temperature, pressure, humidity := 15.0, 1013.25, 0.0
	t := root.child("air", "air")
	if t != nil {
		temperature = t.optional("temperature", unit{"°C", 1}, between(-50, 60), temperature)
		humidity = t.optional("humidity", unit{"%", 1}, between(0, 100), humidity)
		if t.has("altitude") && t.has("pressure") {
			t.fault("altitude", "both pressure and altitude are given", "give one of them")
		}
		pressure = t.optional("pressure", unit{"hPa", 1}, between(500, 1100), pressure)
		if h, ok := t.maybe("altitude", unit{"m", 1}, between(-450, 3000)).Get(); ok {
			pressure = aero.StandardAir(aero.Geopotential(h)).Pressure / 100
			c.Assumed = append(c.Assumed, model.Assumption{What: "air pressure", Value: fmt.Sprintf("%.0f hPa", pressure), On: model.OnAir,
				Note: "the standard atmosphere's at the altitude given; weather moves it by 2 %"})
		}
		t.close()
	}
	given := func(key string) bool { return t != nil && t.has(key) }
	if !given("temperature") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "air temperature", Value: "15 °C", On: model.OnAir, Note: "10 °C more is 3.4 % less downforce"})
	}
	if !given("pressure") && !given("altitude") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "air pressure", Value: "1013 hPa", On: model.OnAir,
			Note: "sea level; every 100 m up is 1.2 % less downforce"})
	}
	c.Air = aero.Air{Pressure: pressure * 100, Temperature: temperature + aero.Celsius, Humidity: humidity / 100}
}

// uncertainty takes how well the inputs are known.
func (r *reader) uncertainty(root *table, c *model.Car) {
	c.Uncertainty = model.DefaultUncertainty(c.Flow.Known())
	u := &c.Uncertainty
	for _, a := range c.Assumed {
		switch model.UnknownOf(a.What) {
		case model.FrontOwnArea:
			u.FrontOwn = model.MissingOwnStdUnc
		case model.RearOwnArea:
			u.RearOwn = model.MissingOwnStdUnc
		}
	}
	t := root.child("uncertainty", "uncertainty")
	for _, row := range []struct {
		key   string
		unit  unit
		most  float64
		value *float64
	}{
		{"angle_reading", degrees, 10, &u.AngleReading},
		{"flow_angle", degrees, 20, &u.FlowAngle},
		{"speed_ratio", plain, 0.5, &u.SpeedRatio},
		{"section_drag", unit{"%", 0.01}, 100, &u.SectionDrag},
		{"speed", unit{"%", 0.01}, 20, &u.Speed},
		{"air", unit{"%", 0.01}, 20, &u.Air},
		{"hole_position", unit{r.units.lengthName, r.units.length}, 5, &u.HolePosition},
		{"front_downforce_area", unit{"m²", 1}, 2, &u.FrontOwn},
		{"rear_downforce_area", unit{"m²", 1}, 2, &u.RearOwn},
		{"axle_rate", unit{"%", 0.01}, 50, &u.AxleRate},
		{"drag_area", unit{"%", 0.01}, 50, &u.DragArea},
		{"power", unit{"%", 0.01}, 50, &u.Power},
		{"top_speed", unit{"%", 0.01}, 20, &u.TopSpeed},
	} {
		if t != nil {
			allowed := between(0, row.most)
			if row.key == "top_speed" { // a reading without uncertainty would outweigh all else
				allowed = rule{func(x float64) bool { return x > 0 && x <= row.most }, fmt.Sprintf("more than 0, no more than %g", row.most), above(0).to(row.most)}
			}
			*row.value = t.optional(row.key, row.unit, allowed, *row.value)
		}
		u.Default[row.key] = t == nil || !t.has(row.key)
	}
	u.Default["section_lift"] = t == nil || !t.has("section_lift")
	u.Default["ride_height"] = t == nil || !t.has("ride_height")
	if t != nil {
		u.RideHeight = t.optional("ride_height", t.lengths(), rule{func(x float64) bool { return x > 0 && x*r.units.length <= 50 }, "more than 0, no more than " + units.SystemOf(r.units.lengthName, "", "").Fine(50), above(0)}, u.RideHeight)
		u.SectionLift = t.maybe("section_lift", unit{"%", 0.01}, between(0, 50))
		u.SetWithLevel = t.flag("set_with_level", false)
		t.close()
	}
}

// What the flow is assumed to be is listed under these names.
const (
	assumedFlowAngle  = "flow angle at the wing"
	assumedSpeedRatio = "speed ratio at the wing"
)

// bandOnAll reports where some of the flow's points have a band and others have none: between
// them nobody could tell how well the flow is known.
func (r *reader) bandOnAll(root *table, key string) {
	rows := root.list("flow")
	with, without := 0, -1
	for i, row := range rows {
		if m, ok := row.(map[string]any); ok && m[key] != nil {
			with++
		} else if without < 0 {
			without = i
		}
	}
	if with > 0 && without >= 0 {
		r.at(fmt.Sprintf("flow[%d]", without), "flow %d: %s is missing", "give it on all points of the flow or on none", without+1, key)
	}
}

// flow takes the local flow over height.
func (r *reader) flow(root *table, c *model.Car) {
	var points []aero.FlowPoint
	for i, t := range root.children("flow") {
		t.name = fmt.Sprintf("flow %d", i+1)
		points = append(points, aero.FlowPoint{
			Above: t.number("above_roof", t.lengths(), anything) / 1000,
			Angle: t.optional("flow_angle", degrees, between(-45, 45), 0),
			Ratio: t.optional("speed_ratio", plain, between(0.1, 2), 1),

			AngleStdUnc: t.optional("flow_angle_band", degrees, between(0.05, 20), 0),
			RatioStdUnc: t.optional("speed_ratio_band", plain, between(0.001, 0.5), 0),
		})
		t.close()
	}
	for _, key := range []string{"flow_angle_band", "speed_ratio_band"} {
		r.bandOnAll(root, key)
	}
	var err error
	if c.Flow, err = aero.NewFlow(points); err != nil {
		r.at(fmt.Sprintf("flow[%d]", len(points)-1), "%v", "give each height once", err)
	}
	switch len(points) {
	case 0:
		c.Assumed = append(c.Assumed,
			model.Assumption{What: assumedFlowAngle, Value: "0°", On: model.OnAir | model.OnAxles,
				Note: "behind a cabin the flow comes down by some degrees, which adds to the angle of attack"},
			model.Assumption{What: assumedSpeedRatio, Value: "1.00", On: model.OnAir | model.OnAxles,
				Note: "a wing in the wake of the roof sees less: 0.9 is 19 % less downforce"})
	case 1:
		c.Assumed = append(c.Assumed, model.Assumption{What: "flow at other heights", Value: "the same as at the one given", On: model.OnAir,
			Note: "measure at two heights to replace it"})
	}
}
