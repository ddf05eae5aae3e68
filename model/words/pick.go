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
	say := func(n given.Number, what string, spell func(float64) string) {
		if x, ok := n.Get(); ok {
			parts = append(parts, what+" "+spell(x))
		}
	}
	percent := func(within float64, unit string, spell func(float64, int) string) func(float64) string {
		return func(x float64) string { return spell(100*x, 1) + " ± " + units.Fixed(100*within, 1) + unit }
	}
	say(c.FrontShare.Value, "front share", percent(c.FrontShare.Tolerance, " %", units.Fixed))
	say(c.BalanceShift.Value, "share shift", percent(c.BalanceShift.Tolerance, " pp", units.Signed))
	say(c.MinDownforce, "downforce at least", u.Force)
	say(c.MaxDownforce, "downforce at most", u.Force)
	say(c.MaxDrag, "drag at most", u.Force)
	say(c.MinStallMargin, "stall margin at least", degrees)
	say(c.MinHeight, "height at least", u.Length)
	say(c.MaxHeight, "height at most", u.Length)
	return strings.Join(parts, "; ")
}

// degrees spells an angle in rad.
func degrees(a float64) string { return units.Fixed(a/plane.Deg, 1) + "°" }

// Shortfall says which criterion a setting does not meet, and by what.
func Shortfall(s choose.Shortfall, u units.System) string {
	switch s.Obstacle {
	case choose.Stalled:
		return fmt.Sprintf("stalled, %s past maximum CL", degrees(-s.Have))
	case choose.Lifts:
		return "it lifts, by " + u.Force(-s.Have)
	case choose.OffFrontShare:
		digits := balanceDigits(s)
		return fmt.Sprintf("front share %.*f %%, target %.*f ± %.*f %%", digits, 100*s.Have, digits, 100*s.Wanted, digits, 100*s.Tolerance)
	case choose.OffBalanceShift:
		digits := balanceDigits(s)
		return fmt.Sprintf("share shift %s pp, target %s ± %.*f pp", units.Signed(100*s.Have, digits), units.Signed(100*s.Wanted, digits),
			digits, 100*s.Tolerance)
	case choose.BelowMinDownforce:
		return fmt.Sprintf("downforce %s, minimum %s", u.Force(s.Have), u.Force(s.Wanted))
	case choose.AboveMaxDownforce:
		return fmt.Sprintf("downforce %s, maximum %s", u.Force(s.Have), u.Force(s.Wanted))
	case choose.AboveMaxDrag:
		return fmt.Sprintf("drag %s, maximum %s", u.Force(s.Have), u.Force(s.Wanted))
	case choose.StallMarginUnknown:
		return "stall margin not known"
	case choose.BelowMinStallMargin:
		return fmt.Sprintf("stall margin %s, minimum %s", degrees(s.Have), degrees(s.Wanted))
	case choose.BelowMinHeight:
		return fmt.Sprintf("height %s, minimum %s", u.Length(s.Have), u.Length(s.Wanted))
	case choose.AboveMaxHeight:
		return fmt.Sprintf("height %s, maximum %s", u.Length(s.Have), u.Length(s.Wanted))
	}
	return "it has no figures"
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

// Hit says in lines why hit i meets the criteria, and how far the next one is.
func Hit(t *model.Table, c choose.Criteria, hits []choose.Hit, i int, u units.System) []string {
	h := &hits[i]
	r := &t.Rows[h.Row]
	b := t.Budget(r)
	var lines []string
	add := func(text string, args ...any) { lines = append(lines, fmt.Sprintf(text, args...)) }
	if want, ok := c.FrontShare.Value.Get(); ok {
		add("front share %.1f ± %.1f %%, %.1f from the target of %.1f %%", 100*r.Share, 100*b.Share, 100*math.Abs(r.Share-want), 100*want)
	}
	if want, ok := c.BalanceShift.Value.Get(); ok {
		add("share shift %s ± %.1f pp, %.1f from the target of %s pp", units.Signed(100*r.Shift, 1), 100*b.Shift,
			100*math.Abs(r.Shift-want), units.Signed(100*want, 1))
	}
	onCar := ""
	if t.DeckKnown(r) {
		onCar = fmt.Sprintf(", %s ± %s on the car,", u.ForceFigure(r.OnCar), u.ForceFigure(b.OnCar))
	}
	add("downforce %s ± %s %s%s for %s ± %s %s of drag", u.ForceFigure(r.Downforce), u.ForceFigure(b.Downforce), u.ForceUnit(), onCar,
		u.ForceFigure(r.Drag), u.ForceFigure(b.Drag), u.ForceUnit())
	add("stall: %s", Stall(r))
	if _, onCar := t.Find(c.From); onCar {
		switch h.Work.Moved {
		case 0:
			add("it is on the car")
		case 1:
			add("move one bolt a side")
		default:
			add("move %d bolts a side", h.Work.Moved)
		}
	}
	return lines
}

// Next says how far the hit after hit i is from it; "" for the last.
func Next(t *model.Table, hits []choose.Hit, i int, u units.System) string {
	if i+1 >= len(hits) {
		return ""
	}
	r, o := &t.Rows[hits[i].Row], &t.Rows[hits[i+1].Row]
	return fmt.Sprintf("the next has %s %s and %s pp: %s", u.SignedForce(o.Downforce-r.Downforce), u.ForceUnit(),
		units.Signed(100*(o.Share-r.Share), 1), Apart(t, r, o))
}

// Apart says how clear the difference between two settings is.
func Apart(t *model.Table, a, b *model.Row) string {
	switch choose.Apart(a, b, model.DifferenceStdUnc(t.Budget(a), t.Budget(b))) {
	case choose.NoClearDifference:
		return "no clear difference"
	case choose.NotSure:
		return "difference uncertain"
	case choose.Clear:
		return "differs"
	}
	return "difference not known"
}
