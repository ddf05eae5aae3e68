package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Breach says which limit a setting breaks, and by what.
func Breach(b model.Breach, u units.System) string {
	degrees := func(a float64) string { return units.Fixed(a/plane.Deg, 1) + "°" }
	switch b.Limit {
	case model.LimitTop:
		return fmt.Sprintf("top %s: the limit is %s", u.Length(b.Have), u.Length(b.Allowed))
	case model.LimitRear:
		return fmt.Sprintf("rear %s behind the axle: the limit is %s", u.Length(b.Have), u.Length(b.Allowed))
	case model.LimitWidth:
		return fmt.Sprintf("the wing is %s wide: the limit is %s", u.Length(b.Have), u.Length(b.Allowed))
	case model.LimitOverhang:
		return fmt.Sprintf("%s behind the body: the limit is %s", u.Length(b.Have), u.Length(b.Allowed))
	case model.LimitGap:
		switch {
		case b.Have == 0 && b.To == "lid":
			return fmt.Sprintf("the %s touches the shut lid", b.From)
		case b.Have == 0:
			return fmt.Sprintf("the %s touches the %s", b.From, b.To)
		}
		return fmt.Sprintf("%s to the %s, minimum %s", u.Length(b.Have), b.To, u.Length(b.Allowed))
	case model.LimitLid:
		return fmt.Sprintf("the lid opens to %s°, stopped by the %s; minimum %s°", units.Fixed(math.Floor(b.Have/plane.Deg), 0), b.From,
			units.Fixed(b.Allowed/plane.Deg, 0))
	case model.LimitStall:
		switch {
		case math.IsNaN(b.Have):
			return "stall margin not known, minimum " + degrees(b.Allowed)
		case b.Have < 0:
			return fmt.Sprintf("stalled by %s; minimum margin %s", degrees(-b.Have), degrees(b.Allowed))
		}
		return fmt.Sprintf("stall margin %s, minimum %s", degrees(b.Have), degrees(b.Allowed))
	case model.LimitAxle:
		return "an axle would carry no load at this speed"
	}
	return string(b.Limit)
}

// Missing says why figures of a setting cannot be given.
func Missing(m model.Missing, u units.System) string {
	switch m.Cause {
	case model.BeyondFlow:
		return fmt.Sprintf("no figures: the flow is given from %s to %s above the roof, the wing is at %s", u.Length(m.Low),
			u.Length(m.High), u.Length(m.Have))
	case model.BeyondCurve:
		return fmt.Sprintf("no figures: the wing's curve reaches from %s° to %s°, the angle of attack is %s°",
			units.Fixed(m.Low/plane.Deg, 1), units.Fixed(m.High/plane.Deg, 1), units.Fixed(m.Have/plane.Deg, 1))
	}
	return "stall margin not known: the data on the wing end before it stalls"
}

// Outside says why a setting is not within the limits, or a figure is not given.
func Outside(r *model.Row, u units.System) []string {
	texts := []string{}
	for _, b := range r.Breaches {
		texts = append(texts, Breach(b, u))
	}
	for _, m := range r.Missing {
		texts = append(texts, Missing(m, u))
	}
	return texts
}

// LimitCounts says which limit excludes how many settings; "" when none does.
func LimitCounts(t *model.Table) string {
	var parts []string
	for _, c := range t.LimitCounts() {
		parts = append(parts, fmt.Sprintf("%s excludes %d", c.Limit, c.Count))
	}
	return strings.Join(parts, ", ")
}
