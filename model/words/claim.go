package words

import (
	"fmt"
	"strings"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/units"
)

// Claim says what a maker's figure would need at one speed, and why it is judged so.
func Claim(r model.ClaimRow) string {
	from, to := r.Likely()
	need := fmt.Sprintf("needs CL %.2f, the maximum is %.2f ± %.2f: ", r.Needed, r.MaxCL, r.StdUnc)
	switch r.Verdict() {
	case model.ClaimNotCredible:
		return need + fmt.Sprintf("over the limit of %.2f", r.Most())
	case model.ClaimAbove:
		return need + fmt.Sprintf("over the likely %.2f, under the limit of %.2f", to, r.Most())
	case model.ClaimBelow:
		return need + fmt.Sprintf("under the likely %.2f, the wing makes more", from)
	}
	return need + fmt.Sprintf("within the likely %.2f to %.2f", from, to)
}

// ClaimVerdict names a verdict.
func ClaimVerdict(v model.ClaimVerdict) string {
	return map[string]string{"likely": "likely", "possible": "possible", "not_credible": "not credible"}[v.Key()]
}

// ClaimRules says what the verdicts mean.
func ClaimRules() []string {
	return []string{
		"likely        the CL needed is from 80 % of the wing's maximum to one standard uncertainty (±) above it",
		"possible      it is from one to two above it, or below 80 %, where the wing makes more than the maker says",
		"not credible  it is more than two above it",
	}
}

// ClaimLines says what can be said of a claim: at which speeds it is likely, what it is at the maker's own, and
// whether the car reaches them.
func ClaimLines(c *model.Car, a calibrate.ClaimAnswer, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	force, last := c.Claim.Downforce.Value(), a.Rows[len(a.Rows)-1].Speed
	add("%s: the maker's %s", units.Printable(c.Name), u.Force(force))
	from, to, ok := a.LikelyRange()
	switch {
	case ok:
		add("Likely from %s to %s.", u.Speed(from), u.Speed(to))
		add("Not credible below %s; above %s the wing makes more than that.", u.Speed(a.From), u.Speed(to))
	case a.From > last:
		add("Likely at no speed up to %s, and not credible either.", u.Speed(last))
	case a.Rows[0].Verdict() == model.ClaimBelow:
		add("Likely at no speed from %s to %s: the wing makes more than that.", u.Speed(a.Rows[0].Speed), u.Speed(last))
	default:
		add("Likely at no speed up to %s; not credible below %s.", u.Speed(last), u.Speed(a.From))
	}
	if beyond := a.Top.Below(from); ok && beyond {
		add("BEYOND %s, %s: on this car the claim is likely at no speed.", topSpeed(a.Top), spellTop(a.Top, u))
	}
	r, ok := a.Own()
	if !ok {
		return lines
	}
	add("At the maker's own %s: %s, %s. That is %.0f %% of the maximum; %s.", u.Speed(r.Speed), ClaimVerdict(r.Verdict()), Claim(r), 100*r.Needed/r.MaxCL, claimUse(c, r))
	if a.Top.Below(r.Speed) {
		part := a.Top.Speed / r.Speed
		add("BEYOND %s, %s: there the same wing would make %s.", topSpeed(a.Top), spellTop(a.Top, u), u.Force(force*part*part))
	}
	return lines
}

// topSpeed names a top speed by what it is known from.
func topSpeed(t calibrate.Top) string {
	return map[calibrate.TopFrom]string{calibrate.TopByPower: "THE CAR'S TOP SPEED", calibrate.TopByDesign: "THE DESIGN SPEED OF STRENGTH",
		calibrate.TopAsUsual: "WHAT CARS ON TRACK DAYS REACH"}[t.By]
}

// spellTop spells a top speed with its uncertainty, where it has one, and what it is known from.
func spellTop(t calibrate.Top, u units.System) string {
	switch t.By {
	case calibrate.TopByPower:
		return fmt.Sprintf("%s ± %s without the wing", u.Speed(t.Speed), u.Speed(t.StdUnc))
	case calibrate.TopAsUsual:
		return fmt.Sprintf("%s (common practice; power and drag_area in the car file tell it)", u.Speed(t.Speed))
	}
	return u.Speed(t.Speed)
}

// claimUse says whether figures are scaled to a claim at its own speed.
func claimUse(c *model.Car, r model.ClaimRow) string {
	switch {
	case c.Wing.Table != nil:
		return "it is not used: the car file has a table of the wing"
	case r.Verdict() == model.ClaimAbove:
		return "with figure and speed in [claim] of the car file no figure is scaled to it, but strength takes the larger loads that it means"
	case r.Verdict() == model.ClaimBelow:
		return "no figure is scaled to it: a maker may mean a smaller angle than that of the maximum"
	case !r.Credible():
		return "it is not used"
	}
	return fmt.Sprintf("with figure and speed in [claim] of the car file all figures are scaled to it, lift by %.2f", r.Needed/r.MaxCL)
}

// Scaled says in a few words what the figures of a table are scaled to; "" where they are as worked out.
func Scaled(t *model.Table) string {
	var parts []string
	if t.ScaledToClaim() {
		parts = append(parts, "scaled to maker's claim")
	}
	if t.Car.TrackFit.Known() {
		parts = append(parts, "fitted to the track")
	}
	return strings.Join(parts, ", ")
}
