package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// Hit says in lines why hit i meets the criteria.
func Hit(t *model.Table, c choose.Criteria, hits []choose.Hit, i int, u units.System) []string {
	h := &hits[i]
	r := &t.Rows[h.Row]
	b := t.Budget(r)
	var lines []string
	add := func(text string, args ...any) { lines = append(lines, fmt.Sprintf(text, args...)) }
	if r.Stalled {
		add("STALLED, %s past maximum CL: little is known of its figures, and they are not steady", degrees(-r.StallMargin))
	} else if h.Unsafe && !r.Lifts() {
		add("STALLED at a speed that is asked about")
	}
	if r.Lifts() {
		add("LIFTS the car, by %s", u.Force(-r.Downforce))
	}
	if c.OfFigures() {
		add("chance to meet the target: %s", chanceMet(h.Chance, &c))
	}
	for _, s := range h.Shortfalls {
		add("misses by less than counts: %s", Shortfall(s, u))
	}
	if want, ok := c.FrontShare.Value.Get(); ok {
		add("front share %.1f ± %.1f %%, %.1f from the target of %.1f %%", 100*r.Share, 100*b.Share, 100*math.Abs(r.Share-want), 100*want)
	}
	for k, at := range h.At {
		want := c.ShareAt[k].Share.Value.Value()
		add("front share %.1f ± %.1f %% at %s, %.1f from the target of %.1f %%", 100*at.Share, 100*at.StdUnc, u.Speed(at.Speed), 100*math.Abs(at.Share-want), 100*want)
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
	add("stall: %s", stall(r, h.Tight))
	for _, l := range h.Tight {
		if l.Limit != model.LimitStall {
			add("not clearly within a limit: %s", tight(l, u))
		}
	}
	if _, onCar := t.Find(c.From); onCar {
		add("%s", Work(h.Work))
	}
	return lines
}

// HitInShort says in few words how a setting meets the target, for where its figures stand already: the chance, how
// far off it is, what it does not clearly keep, and the work.
func HitInShort(t *model.Table, c choose.Criteria, h *choose.Hit, u units.System) []string {
	r := &t.Rows[h.Row]
	var lines []string
	add := func(text string, args ...any) { lines = append(lines, fmt.Sprintf(text, args...)) }
	switch {
	case r.Lifts():
		add("LIFTS the car, by %s", u.Force(-r.Downforce))
	case r.Stalled:
		add("STALLED, %s past maximum CL", degrees(-r.StallMargin))
	case h.Unsafe:
		add("STALLED at a speed that is asked about")
	}
	if c.OfFigures() {
		add("chance %s", chanceMet(h.Chance, &c))
	}
	for _, s := range h.Shortfalls {
		add("just misses %s", Shortfall(s, u))
	}
	if want, ok := c.FrontShare.Value.Get(); ok {
		add("front share %.1f off", 100*math.Abs(r.Share-want))
	}
	for k, at := range h.At {
		add("%.1f off at %s", 100*math.Abs(at.Share-c.ShareAt[k].Share.Value.Value()), u.Speed(at.Speed))
	}
	if want, ok := c.BalanceShift.Value.Get(); ok {
		add("share shift %.1f off", 100*math.Abs(r.Shift-want))
	}
	for _, l := range h.Tight {
		if l.Limit == model.LimitStall {
			add("stall margin not clearly above %s", degrees(l.Allowed))
		} else {
			add("not clear of a limit: %s", tight(l, u))
		}
	}
	if _, onCar := t.Find(c.From); onCar {
		add("%s", Work(h.Work))
	}
	return lines
}

// Work says what it takes to change to a setting.
func Work(w choose.Work) string {
	text := ""
	switch w.Moved {
	case 0:
		return "it is on the car"
	case 1:
		text = "move one bolt a side"
	default:
		text = fmt.Sprintf("move %d bolts a side", w.Moved)
	}
	if w.Fewer > 0 {
		text += fmt.Sprintf("; a joint then has %s fewer than now", units.Count(w.Fewer, "bolt"))
	}
	return text
}

// tight says how a setting stands to a limit that it does not clearly keep.
func tight(l choose.Tight, u units.System) string {
	length := func(what, limit string) string {
		return fmt.Sprintf("%s %s ± %s %s, %s %s", what, u.LengthFigure(l.Have), u.LengthFigure(l.StdUnc), u.LengthUnit(), limit, u.Length(l.Allowed))
	}
	switch l.Limit {
	case model.LimitTop:
		return length("top", "maximum")
	case model.LimitRear:
		return length("rear behind the axle", "maximum")
	case model.LimitOverhang:
		return length("rear behind the body", "maximum")
	case model.LimitGap:
		if l.Allowed == 0 {
			return fmt.Sprintf("%s ± %s to body and shut lid", u.Length(l.Have), u.Length(l.StdUnc))
		}
		return length("gap to body and shut lid", "minimum")
	case model.LimitLid:
		return fmt.Sprintf("the lid opens to %s ± %s°, minimum %s°", units.Fixed(math.Floor(l.Have/plane.Deg), 0), units.Fixed(math.Ceil(l.StdUnc/plane.Deg), 0),
			units.Fixed(l.Allowed/plane.Deg, 0))
	}
	return string(l.Limit)
}

// stall is Stall with what is not clear of it.
func stall(r *model.Row, limits []choose.Tight) string {
	for _, l := range limits {
		switch {
		case l.Limit != model.LimitStall:
		case l.Allowed == 0:
			return fmt.Sprintf("margin %s ± %s, not clear of the stall", degrees(l.Have), degrees(l.StdUnc))
		default:
			return fmt.Sprintf("margin %s ± %s, not clearly above the minimum of %s", degrees(l.Have), degrees(l.StdUnc), degrees(l.Allowed))
		}
	}
	return Stall(r)
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

// Apart says how clear the difference between two settings is, and in which figure.
func Apart(t *model.Table, a, b *model.Row) string {
	force, share := choose.ApartIn(a, b, model.DifferenceStdUnc(t.Budget(a), t.Budget(b)))
	switch {
	case force == choose.NotKnown || share == choose.NotKnown:
		return "difference not known"
	case force == choose.Clear && share == choose.Clear:
		return "downforce and front share differ"
	case force == choose.Clear:
		return "downforce differs"
	case share == choose.Clear:
		return "front share differs"
	case force == choose.NotSure && share == choose.NotSure:
		return "difference uncertain"
	case force == choose.NotSure:
		return "difference uncertain, in downforce"
	case share == choose.NotSure:
		return "difference uncertain, in front share"
	}
	return "no clear difference"
}

// Narrow says that the targets are narrower than the figures are known, where no setting that meets them does so with
// more than even chance; "" where one does.
func Narrow(hits []choose.Hit) string {
	var best choose.Probability
	for _, h := range hits {
		if h.Chance.Of > best.Of {
			best = h.Chance
		}
	}
	if len(hits) == 0 || best.Of >= choose.HitFrom {
		return ""
	}
	return fmt.Sprintf("The target is narrower than the figures are known: the likeliest setting meets it with a chance of %s.", chance(best))
}

// TooNarrow says that targets ask for more than figures are known to, where the nearest setting misses for that
// alone; "" where it does not.
func TooNarrow(near []choose.Miss, c choose.Criteria) string {
	if len(near) == 0 || len(near[0].Shortfalls) != 1 || near[0].Shortfalls[0].Obstacle != choose.TooUnlikely {
		return ""
	}
	return fmt.Sprintf("Figures that meet the target are there, but known too little for it: the likeliest setting meets all of it with a chance of %s, "+
		"asked for is %s. Widen the target, or ask for less of a chance.", chance(near[0].Chance), chanceGiven(c.HitChance()))
}
