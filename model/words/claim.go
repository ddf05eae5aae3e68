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

// ClaimLines says what can be said of a claim over speeds: the answer first.
func ClaimLines(c *model.Car, a calibrate.ClaimAnswer, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s: the maker's %s", units.Printable(c.Name), u.Force(c.Claim.Downforce.Value()))
	last := u.Speed(a.Rows[len(a.Rows)-1].Speed)
	switch from, to, ok := a.LikelyRange(); {
	case !ok:
		add("Likely at no speed up to %s.", last)
	default:
		add("Likely from %s to %s.", u.Speed(from), u.Speed(to))
	}
	if r, ok := a.Own(); ok {
		add("At the maker's own %s: %s, %s. That is %.0f %% of the maximum; %s.", u.Speed(r.Speed), ClaimVerdict(r.Verdict()), Claim(r), 100*r.Needed/r.MaxCL, claimUse(c, r))
	}
	add("")
	for _, r := range a.Rows {
		add("%9s  %-13s %s", u.Speed(r.Speed), ClaimVerdict(r.Verdict())+":", Claim(r))
	}
	add("")
	return append(lines, ClaimRules()...)
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
