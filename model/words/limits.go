package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
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
	case model.LimitBuilt:
		return fmt.Sprintf("as built, the bolts of the %s do not go in on the %s: they miss by %s", b.To, b.From, u.Fine(b.Have))
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
func LimitCounts(t *model.Table) string { return limitCounts(t.LimitCounts()) }

// LimitCountsOf is LimitCounts for some of a table's rows.
func LimitCountsOf(t *model.Table, rows []int) string { return limitCounts(t.LimitCountsOf(rows)) }

func limitCounts(counts []model.LimitCount) string {
	var parts []string
	for _, c := range counts {
		parts = append(parts, fmt.Sprintf("%s excludes %d", c.Limit, c.Count))
	}
	return strings.Join(parts, ", ")
}

// Limits reads back the limits that a car file gives.
func Limits(c *model.Car, u units.System) string {
	var all []string
	if l, ok := c.Limits.Top.Get(); ok {
		all = append(all, "nothing higher than "+u.Length(l))
	}
	if l, ok := c.Limits.Rear.Get(); ok {
		all = append(all, "nothing further back than "+u.Length(l)+" behind the rear axle")
	}
	if l, ok := c.Limits.Overhang.Get(); ok {
		all = append(all, "nothing further back than "+u.Length(l)+" behind the body")
	}
	if l, ok := c.Limits.Width.Get(); ok {
		all = append(all, "a wing no wider than "+u.Length(l))
	}
	if l, ok := c.Limits.Gap.Get(); ok {
		all = append(all, "at least "+u.Length(l)+" to body and lid")
	}
	if l, ok := c.Limits.LidOpening.Get(); ok {
		all = append(all, fmt.Sprintf("a lid that opens to at least %s°", units.Fixed(l/plane.Deg, 0)))
	}
	if l, ok := c.Limits.StallMargin.Get(); ok {
		all = append(all, fmt.Sprintf("a stall margin of at least %.1f°", l/plane.Deg))
	}
	if len(all) == 0 {
		return "Limits: none given."
	}
	return "Limits, as copied from your rules, which differ by event and country: " + strings.Join(all, "; ") + "."
}

// sizes says of each limit on height, length and width what a row has of it.
func sizes(c *model.Car, r *model.Row, u units.System) (lines []string) {
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	limit := func(what string, have float64, maximum given.Number) {
		most, limited := maximum.Get()
		switch {
		case math.IsNaN(have):
		case !limited:
			say("%s %s, no limit given.", what, u.Length(have))
		case have > most:
			say("%s %s: MORE than the limit of %s.", what, u.Length(have), u.Length(most))
		default:
			say("%s %s, within the limit of %s.", what, u.Length(have), u.Length(most))
		}
	}
	limit("Top", r.Top, c.Limits.Top)
	limit("Rearmost point behind the axle", r.Rear, c.Limits.Rear)
	limit("Rearmost point behind the body", r.Overhang(c), c.Limits.Overhang)
	limit("Width of the wing", c.Wing.Span, c.Limits.Width)
	return lines
}
