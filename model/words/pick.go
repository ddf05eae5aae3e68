package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/units"
)

// Criteria spells a target with its units; "" when there is none.
func Criteria(c choose.Criteria, u units.System) string {
	var parts []string
	add := func(text string, args ...any) { parts = append(parts, fmt.Sprintf(text, args...)) }
	say := func(n given.Number, what string, spell func(float64) string) {
		if x, ok := n.Get(); ok {
			add("%s %s", what, spell(x))
		}
	}
	if x, ok := c.FrontShare.Value.Get(); ok {
		add("front share %s", shareTarget(x, c.FrontShare.Tolerance))
	}
	for _, a := range c.ShareAt {
		add("front share %s at %s", shareTarget(a.Share.Value.Value(), a.Share.Tolerance), u.Speed(a.Speed))
	}
	if x, ok := c.BalanceShift.Value.Get(); ok {
		add("share shift %s ± %s pp", units.Signed(100*x, 1), toleranceText(c.BalanceShift.Tolerance, 1))
	}
	say(c.MinDownforce, "downforce at least", u.Force)
	say(c.MaxDownforce, "downforce at most", u.Force)
	say(c.MinOnCar, "downforce on the car at least", u.Force)
	say(c.MaxOnCar, "downforce on the car at most", u.Force)
	say(c.MaxDrag, "drag at most", u.Force)
	say(c.MinStallMargin, "stall margin at least", degrees)
	say(c.MinAngle, "angle to the ground at least", degrees)
	say(c.MaxAngle, "angle to the ground at most", degrees)
	say(c.MinHeight, "height at least", u.Length)
	say(c.MaxHeight, "height at most", u.Length)
	if c.KeepHeight {
		add("height as it is on the car, to %s, as a tape tells", u.Length(choose.HeightKept))
	}
	if n, ok := c.MaxMoves.Get(); ok {
		add("at most %s a side to move", units.Count(int(n), "bolt"))
	}
	if c.FootStays {
		add("nothing changed below the wing's joint")
	}
	say(c.MinLid, "the lid opens to at least", func(a float64) string { return units.Fixed(a/plane.Deg, 0) + "°" })
	if x, ok := c.MaxUsed.Get(); ok {
		if x == 1 {
			add("strength passes these checks")
		} else {
			add("strength passes these checks with at most %s used", UsedPercent(x))
		}
	}
	if x, ok := c.MinChance.Get(); ok {
		add("chance to meet it at least %s", chanceGiven(x))
	}
	if c.Stalled {
		add("STALLED settings too")
	}
	if c.Lifting {
		add("settings that LIFT the car too")
	}
	return strings.Join(parts, "; ")
}

func shareTarget(x, tolerance float64) string {
	return units.Fixed(100*x, 1) + " ± " + toleranceText(tolerance, 1) + " %"
}

// toleranceText spells the tolerance of a share in per cent with so many decimals, or one more where it takes that.
func toleranceText(tolerance float64, digits int) string {
	if scaled := 100 * tolerance * math.Pow10(digits); digits < 2 && math.Abs(scaled-math.Round(scaled)) > 1e-6 {
		digits++
	}
	return units.Fixed(100*tolerance, digits)
}

// chance spells a probability, never more of it than there is; none is called certain or impossible, and one that
// comes from draws is called about.
func chance(p choose.Probability) string {
	percent := units.Fixed(100*p.Told(), 0) + " %"
	switch {
	case p.Of-2*p.StdUnc > 0.99:
		return "over 99 %"
	case p.Of+2*p.StdUnc < 0.01:
		return "under 1 %"
	case p.StdUnc > 0 && p.Told() == 0:
		return "under 5 %"
	case p.StdUnc > 0:
		return "about " + percent
	}
	return percent
}

// chanceGiven spells a chance that was asked for.
func chanceGiven(p float64) string { return chance(choose.Probability{Of: p}) }

// chanceMet spells the chance of a setting that meets the targets: not less than what was asked for by rounding.
func chanceMet(p choose.Probability, c *choose.Criteria) string {
	if least, ok := c.MinChance.Get(); ok && p.StdUnc > 0 && p.Told() < least && least <= p.Of {
		return "about " + chanceGiven(least)
	}
	return chance(p)
}

// Chance says how likely a setting meets the targets for its figures.
func Chance(p choose.Probability) string { return "chance to meet the target: " + chance(p) }

// degrees spells an angle in rad.
func degrees(a float64) string { return units.Fixed(a/plane.Deg, 1) + "°" }

// Shortfall says which criterion a setting does not meet, and by what.
func Shortfall(s choose.Shortfall, u units.System) string {
	at := ""
	if s.Speed > 0 {
		at = " at " + u.Speed(s.Speed)
	}
	switch s.Obstacle {
	case choose.Stalled:
		return fmt.Sprintf("stalled%s, %s past maximum CL", at, degrees(-s.Have))
	case choose.Lifts:
		return "it lifts, by " + u.Force(-s.Have)
	case choose.OffFrontShare:
		digits := balanceDigits(s)
		return fmt.Sprintf("front share%s %.*f %%, target %.*f ± %s %%", at, digits, 100*s.Have, digits, 100*s.Wanted, toleranceText(s.Tolerance, digits))
	case choose.OffBalanceShift:
		digits := balanceDigits(s)
		return fmt.Sprintf("share shift %s pp, target %s ± %s pp", units.Signed(100*s.Have, digits), units.Signed(100*s.Wanted, digits),
			toleranceText(s.Tolerance, digits))
	case choose.BelowMinDownforce:
		return short("downforce", s.Have, "minimum", s.Wanted, forces(u))
	case choose.AboveMaxDownforce:
		return short("downforce", s.Have, "maximum", s.Wanted, forces(u))
	case choose.BelowMinOnCar:
		return short("downforce on the car", s.Have, "minimum", s.Wanted, forces(u))
	case choose.AboveMaxOnCar:
		return short("downforce on the car", s.Have, "maximum", s.Wanted, forces(u))
	case choose.OnCarUnknown:
		return "downforce on the car not known: the body is not given"
	case choose.AboveMaxDrag:
		return short("drag", s.Have, "maximum", s.Wanted, forces(u))
	case choose.StallMarginUnknown:
		return "stall margin not known"
	case choose.BelowMinStallMargin:
		return short("stall margin", s.Have, "minimum", s.Wanted, angles())
	case choose.BelowMinAngle:
		return short("angle", s.Have, "minimum", s.Wanted, angles())
	case choose.AboveMaxAngle:
		return short("angle", s.Have, "maximum", s.Wanted, angles())
	case choose.BelowMinHeight:
		return short("height", s.Have, "minimum", s.Wanted, lengths(u))
	case choose.AboveMaxHeight:
		return short("height", s.Have, "maximum", s.Wanted, lengths(u))
	case choose.OtherHeight:
		return fmt.Sprintf("height %s, on the car it is %s", u.Length(s.Have), u.Length(s.Wanted))
	case choose.LidUnknown:
		return "opening of the lid not known: no lid is given"
	case choose.BelowMinLid:
		return fmt.Sprintf("the lid opens to %s°, minimum %s°", units.Fixed(math.Floor(s.Have/plane.Deg), 0), units.Fixed(s.Wanted/plane.Deg, 0))
	case choose.NothingOnCar:
		return "it is not known what is on the car"
	case choose.TooManyMoves:
		return fmt.Sprintf("%s a side to move, at most %s", units.Count(int(s.Have), "bolt"), units.Fixed(s.Wanted, 0))
	case choose.FootMoves:
		return units.Count(int(s.Have), "bolt") + " a side to move below the wing's joint"
	case choose.StrengthNotChecked:
		return "strength NOT CHECKED"
	case choose.DoesNotHold:
		return "strength: DOES NOT HOLD, " + UsedPercent(s.Have) + " used"
	case choose.AboveMaxUsed:
		return fmt.Sprintf("%s of the strength used, maximum %s", UsedPercent(s.Have), UsedPercent(s.Wanted))
	case choose.TooUnlikely:
		return fmt.Sprintf("the ± of its figures: a chance of %s, asked for is %s", chance(choose.Probability{Of: s.Have, StdUnc: s.StdUnc}), chanceGiven(s.Wanted))
	}
	return "it has no figures" + at
}

// balanceDigits is how many decimals show that a balance misses its target: one, or two where it
// would look as if it did not.
func balanceDigits(s choose.Shortfall) int {
	tenths := func(x float64) float64 { return math.Round(1000*x) / 10 }
	if math.Abs(tenths(s.Have)-tenths(s.Wanted)) > tenths(s.Tolerance)+1e-9 {
		return 1
	}
	return 2
}

// StoppedBy says what keeps a setting from being picked: limits first.
func StoppedBy(t *model.Table, m choose.Miss, u units.System) []string {
	var texts []string
	if r := &t.Rows[m.Row]; !r.Within() {
		texts = Outside(r, u)
	}
	for _, s := range m.Shortfalls {
		texts = append(texts, Shortfall(s, u))
	}
	return texts
}
