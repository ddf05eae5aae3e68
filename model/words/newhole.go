package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/units"
)

// Searched says what a search for holes looked at, and how far from the best what it found may be.
func Searched(f *drill.Found, w drill.Goal, u units.System) []string {
	s := f.Search
	best := fmt.Sprintf("of those that can be drilled the best %d were worked out in full", s.Weighed)
	if s.Weighed == 0 {
		best = "none of them can be drilled and helps"
	}
	lines := []string{fmt.Sprintf("Searched: %s on a %s grid where bolts go in; %s.", units.Count(s.Places, "place"), u.Fine(s.Step), best)}
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if s.Step > w.Grid+1e-9 {
		add("The drill's grid of %s is finer: between the places searched a hole may do a little better.", u.Fine(w.Grid))
	}
	if s.Coarse {
		add("The other joints go together in more ways than were looked at for every place; what is shown is worked out with all.")
	}
	switch {
	case w.MaxStep.Known() && s.Fewest > 1:
		add("Fewer than %d holes cannot do it: none adds more angles at a height. Holes were taken one by one, the best first, and then exchanged; "+
			"not every set of holes was compared.", s.Fewest)
	case w.MaxStep.Known():
		add("Holes were taken one by one, the best first, and then exchanged; not every set of holes was compared.")
	case w.Fill && w.Count == 2:
		add("No two of these places narrow the widest steps by more than %s together (%d pairs compared); settings with a bolt in each of the new "+
			"holes were looked for with the best %s only.", degrees(roundedUp(s.Bound)), s.Pairs, units.Count(s.Mutual, "first hole"))
	case w.Fill:
		add("No hole at these places narrows the widest steps by more than %s.", degrees(roundedUp(s.Bound)))
	case w.Count == 2:
		add("Not every pair was compared (%d were): from good first holes the best second, then one exchanged while there was a better one.", s.Pairs)
	}
	return lines
}

// roundedUp rounds an angle up to a tenth of a degree, so that it stays a bound as it is spelt.
func roundedUp(rad float64) float64 { return math.Ceil(rad/plane.Deg*10-1e-6) / 10 * plane.Deg }

// NothingFound says why no hole is suggested.
func NothingFound(f *drill.Found, e *drill.Existing, w drill.Goal, u units.System) string {
	car := e.Table.Car
	part := car.Parts[w.Part].Name
	switch {
	case w.MaxStep.Known() && f.Lacking == 0:
		return fmt.Sprintf("no new hole is needed: no step between neighbouring angles is wider than %s", degrees(w.MaxStep.Value()))
	case w.Between != nil && f.Weighed > 0:
		return fmt.Sprintf("no hole in part %s gives a setting that lies between the two and is clearly apart from both: %s", part, TwoApart(e, w.Between, u))
	case f.Alike != nil:
		return fmt.Sprintf("no new hole in part %s would make a clear difference: %s", part, Alike(f.Alike, u))
	case f.Places == 0:
		return fmt.Sprintf("no bolts go in with a new hole anywhere in part %s", part)
	case len(f.Near) > 0:
		return fmt.Sprintf("no position in part %s can be drilled that would do it", part)
	case w.Fill && !steps(e.Levels):
		return "every height has one angle only, so that there is no step to narrow; name what is wanted with --angle, --downforce or --between"
	case w.Fill:
		return fmt.Sprintf("no hole in part %s narrows the widest step of any height", part)
	}
	return fmt.Sprintf("no hole in part %s gives that", part)
}

func steps(levels []choose.Level) bool {
	for _, l := range levels {
		if l.AngleStep > 0 {
			return true
		}
	}
	return false
}

// Alike says of a place which setting it would be like, and by how much it would differ.
func Alike(s *drill.Suggestion, u units.System) string {
	v := s.Verdict
	r, h := &s.Table.Rows[v.Row], s.Holes[0]
	at := fmt.Sprintf("the best place is x %s, z %s", u.Dimension(h.X), u.Dimension(h.Z))
	if v.Unlike.Use != drill.LikeAnother {
		return fmt.Sprintf("%s; at %s and %s %s", at, degrees(r.Angle), u.Length(r.Height), NoUse(r, v.Unlike, u))
	}
	return fmt.Sprintf("%s, and a hole there would differ by %s ± %s %s from %s", at, u.ForceFigure(math.Abs(v.Unlike.Downforce-v.Unlike.Other)),
		u.ForceFigure(v.Unlike.StdUnc), u.ForceUnit(), v.Unlike.Name)
}

// FigureName is what a setting lies between two others by.
func FigureName(f drill.Figure) string {
	return map[drill.Figure]string{drill.ByDownforce: "downforce", drill.ByAngle: "angle", drill.ByHeight: "height", drill.ByShare: "front share"}[f]
}

// TwoApart says how far apart the two settings are that one is wanted between.
func TwoApart(e *drill.Existing, b *drill.Between, u units.System) string {
	d := b.Difference(e)
	return fmt.Sprintf("they are %s ± %s %s apart in downforce and %.2f ± %.2f pp in front share, and what is clear of both needs %g standard uncertainties from each",
		u.ForceFigure(math.Abs(b.A.Downforce-b.B.Downforce)), u.ForceFigure(d.Downforce), u.ForceUnit(),
		100*math.Abs(b.A.Share-b.B.Share), 100*d.Share, choose.ClearFrom)
}

// Fewest says what holes leave of the steps that are wanted.
func Fewest(s *drill.Suggestion, w drill.Goal) string {
	most := degrees(w.MaxStep.Value())
	if s.Lacking == 0 {
		return fmt.Sprintf("with %s no step between neighbouring angles is wider than %s", units.Count(len(s.Holes), "hole"), most)
	}
	return fmt.Sprintf("NOT all steps are %s or less: with %s %s still lacking of %d", most, units.Count(len(s.Holes), "hole"), are(s.Lacking, "angle"), s.Lacking+s.Hits)
}

func are(n int, what string) string {
	if n == 1 {
		return units.Count(n, what) + " is"
	}
	return units.Count(n, what) + " are"
}

// AllBolts says which bolts holes give a setting.
func AllBolts(b *drill.AllBolts, c *drill.Existing, u units.System) string {
	joint := c.Table.Car.Joints[b.Joint]
	at := fmt.Sprintf("%s and %s", u.Length(b.Height), degrees(b.Angle))
	if b.Setting != "" {
		return fmt.Sprintf("%s, at %s, gets all %d bolts at joint %s; now it has %d", b.Name, at, b.Takes, joint.Name, b.Have)
	}
	return fmt.Sprintf("at %s all %d bolts of joint %s go in; now %d do, fewer than its minimum of %d, so that it is no setting", at, b.Takes,
		joint.Name, b.Have, max(2, joint.MinBolts))
}
