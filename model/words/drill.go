package words

import (
	"fmt"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/units"
)

// Why says whether bolts go in, and if not, by how much they miss.
func Why(c *model.Car, l drill.WhyLine, u units.System) string {
	say := func(text string, args ...any) string { return units.Say(text, args...).In(u) }
	j, pairs, v := l.Joint, l.Pairs, l.Verdict
	lower, upper, joint := c.Parts[j], c.Parts[j+1], c.Joints[j]
	var names []string
	for _, p := range pairs {
		names = append(names, lower.Holes[p.Lower].ID+":"+upper.Holes[p.Upper].ID)
	}
	head := say("joint %s, %s: ", joint.Name, strings.Join(names, " "))
	pair := pairs[v.Pair]
	switch v.Reason {
	case holes.Fine:
		if n := max(2, joint.MinBolts); len(pairs) < n {
			return head + say("they go in, with %s to spare, but %d bolts are fewer than the joint's minimum of %d", units.ThinMM(v.Slack),
				len(pairs), n)
		}
		return head + say("they go in, with %s to spare; the %s turns %s° and has %.1f° of play either way", units.ThinMM(v.Slack),
			upper.Name, units.Fixed(v.Turn/plane.Deg, 1), v.Play/plane.Deg)
	case holes.Reserved:
		for _, h := range []holes.Hole{lower.Holes[pair.Lower], upper.Holes[pair.Upper]} {
			if h.Joint != "" && h.Joint != joint.Name {
				return head + say("hole %s is reserved for joint %s", h.ID, h.Joint)
			}
		}
	case holes.Small:
		l, u := lower.Holes[pair.Lower], upper.Holes[pair.Upper]
		if u.D < l.D {
			l = u
		}
		return head + say("the %s bolt does not pass through hole %s of %s: %s too thick", joint.Bolt, l.ID, units.FineMM(l.D),
			units.ThinMM(joint.Shank-l.D))
	case holes.Shared:
		return head + say("two bolts would be in one hole, or overlap")
	case holes.Spacing:
		return head + say("the holes are %s apart in the %s and %s in the %s: they miss by %s", units.ThinMM(v.Lower), lower.Name,
			units.ThinMM(v.Upper), upper.Name, units.ThinMM(-v.Slack))
	case holes.Crowded:
		return head + say("every two of the bolts go in, but not all at once: they miss by %s", units.ThinMM(-v.Slack))
	case holes.TurnedOff:
		return head + say("they go in, but with the %s turned by %s°: the joint allows %.0f°", upper.Name, units.Fixed(v.Turn/plane.Deg, 1),
			joint.MaxTurn/plane.Deg)
	}
	return head
}

// Rule names a rule about where a hole may be.
func Rule(r drill.RuleCheck) string {
	name := "edge distance"
	if r.To != "" {
		name = "spacing to hole " + r.To
	}
	if !r.Must {
		name += ", common practice"
	}
	return name
}

// Broken says which minimum is not kept.
func Broken(r drill.RuleCheck, u units.System) string {
	switch {
	case r.Out:
		return "it lies in a cut-out of the part"
	case r.To == "" && r.Have < 0:
		return "it lies outside of the part's outline"
	}
	return fmt.Sprintf("%s %s, minimum %s", Rule(r), u.Dimension(r.Have), u.Dimension(r.Need))
}

// Trial says whether holes are worth drilling, and why.
func Trial(tr *drill.Trial, u units.System) string {
	v := tr.Verdict
	more := ""
	if n := len(tr.Useful) - 1; n > 0 {
		more = fmt.Sprintf(", and %s of use", units.Count(n, "more setting"))
	}
	switch v.Worth {
	case drill.CannotDrill:
		return "cannot be drilled there: " + Broken(v.Broken, u)
	case drill.WorthDrilling:
		return "worth drilling: " + Gain(v.Gain, u) + more
	case drill.NotChecked:
		return fmt.Sprintf("NOT CHECKED whether part %s has metal there (no outline given); if it has, the hole %s%s", v.Part,
			Gain(v.Gain, u), more)
	case drill.FurtherBolts:
		return fmt.Sprintf("adds no setting, but a further bolt to %d", len(tr.Further))
	case drill.NothingFits:
		text := "adds nothing: no bolting that uses it gives a new position"
		if v.Miss.Pairs != nil {
			text += "; nearest is " + Why(tr.Table.Car, v.Miss, u)
		}
		return text
	}
	r := &tr.Table.Rows[v.Row]
	return fmt.Sprintf("adds nothing you can feel: at %s and %s %s", degrees(r.Angle), u.Length(r.Height), NoUse(r, v.Unlike, u))
}

// Gain says what a new setting does to the range of angles at its height.
func Gain(g drill.Gain, u units.System) string {
	height := u.Length(g.Height)
	switch g.Effect {
	case drill.ExtendsUp:
		return fmt.Sprintf("extends the range at %s from %s up to %s", height, degrees(g.From), degrees(g.To))
	case drill.ExtendsDown:
		return fmt.Sprintf("extends the range at %s from %s down to %s", height, degrees(g.From), degrees(g.To))
	case drill.FillsStep:
		return fmt.Sprintf("fills the gap between %s and %s at %s", degrees(g.From), degrees(g.To), height)
	}
	return fmt.Sprintf("opens %s, at %s", height, degrees(g.To))
}

// NoUse says why a new setting is of no use.
func NoUse(r *model.Row, l drill.Like, u units.System) string {
	switch l.Use {
	case drill.IsStalled:
		return "it is stalled"
	case drill.LiftsTheCar:
		return "it lifts"
	case drill.OutsideLimits:
		return Outside(r, u)[0]
	}
	force := func(n float64) string { return u.ForceFigure(n) + " " + u.ForceUnit() }
	return fmt.Sprintf("there is no clear difference from %s (%s against %s, difference known to ±%s)", l.Name, force(l.Downforce),
		force(l.Other), force(l.StdUnc))
}

// Suggestion says in a line what suggested holes give.
func Suggestion(s *drill.Suggestion, w drill.Goal, u units.System) string {
	if s.Short != nil {
		return "cannot be drilled: " + Broken(*s.Short, u)
	}
	new := fmt.Sprintf("%s that differ clearly from what exists", units.Count(len(s.Useful), "new setting"))
	switch len(s.Useful) {
	case 0:
		new = "none of the new settings differs clearly from all that exist"
	case 1:
		new = "1 new setting that differs clearly from what exists"
	}
	switch {
	case w.MaxStep.Known():
		return Fewest(s, w)
	case w.Fill && s.Gain > 0:
		return fmt.Sprintf("the widest steps shrink by %s in all; %s", degrees(s.Gain), new)
	case w.Fill:
		return new
	case w.Between != nil:
		if s.Hits == 1 {
			return fmt.Sprintf("1 setting lies between in %s and differs clearly from both; %s", FigureName(w.Between.By), new)
		}
		return fmt.Sprintf("%d settings lie between in %s and differ clearly from both; %s", s.Hits, FigureName(w.Between.By), new)
	}
	meet := "meet"
	if s.Hits == 1 {
		meet = "meets"
	}
	return fmt.Sprintf("%s %s the target; %s", units.Count(s.Hits, "setting"), meet, new)
}
