package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/plan"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// planAims are what a day is to find out.
var planAims = map[plan.Find]string{
	plan.Fastest: "which setting is faster", plan.Balance: "what a change of balance does", plan.Downforce: "how much downforce there is",
	plan.Drag: "how much drag there is",
}

// PlanTitle says what a day is for.
func PlanTitle(p *plan.Plan) string {
	return fmt.Sprintf("%s: a day to find out %s", p.Table.Car.Name, PlanAim(p))
}

// PlanHead says how the day is made up.
func PlanHead(p *plan.Plan) string {
	return fmt.Sprintf("%s of %s min and %d flying laps, %s min between.", units.Count(p.Sessions, "session"), units.Fixed(p.Minutes, 0), p.Laps, units.Fixed(p.Break, 0))
}

// PlanLetter is what a setting is called in the order of a plan: A for the first.
func PlanLetter(i int) string {
	if i < 0 || i >= 26 {
		return "–"
	}
	return string(rune('A' + i))
}

// PlanOrder spells the order of the sessions: "A B B A", a lost one as a dash.
func PlanOrder(p *plan.Plan) string {
	var all []string
	for _, s := range p.Runs {
		all = append(all, PlanLetter(s.Setting))
	}
	return strings.Join(all, " ")
}

// PlanSettings has a line for each setting: its letter, name, figures, and how it holds.
func PlanSettings(p *plan.Plan, u units.System) (lines []string) {
	for i, c := range p.Candidates {
		holds := map[strength.Verdict]string{strength.Passes: "strength passes", strength.NotChecked: "STRENGTH NOT CHECKED", strength.DoesNotHold: "DOES NOT HOLD"}[c.Verdict]
		line := fmt.Sprintf("%s: %s, %s°, downforce %s at %s, front share %s %%; %s", PlanLetter(i), p.Table.Name(c.Row.Setting), units.Fixed(c.Row.Angle*180/math.Pi, 1),
			u.Force(c.Row.Downforce), u.Speed(p.Table.Speed), units.Fixed(100*c.Row.Share, 1), holds)
		if len(c.Tight) > 0 {
			var limits []string
			for _, l := range c.Tight {
				limits = append(limits, string(l.Limit))
			}
			line += "; keeps, but not clearly: " + strings.Join(limits, ", ")
		}
		lines = append(lines, line)
	}
	return lines
}

// PlanBarred says why a setting that was named is not planned.
func PlanBarred(p *plan.Plan, b plan.Barred, name string, u units.System) string {
	why := map[plan.Bar]string{plan.FiguresUnknown: "its figures cannot be given", plan.WingLifts: "the wing lifts", plan.WingStalled: "the wing is stalled",
		plan.NotStrong: "it does not hold", plan.NoChangeInBreak: "no change to it can be done in a break"}[b.Why]
	if b.Why == plan.BreaksLimit {
		why = strings.Join(Outside(b.Row, u), ", ")
	}
	return fmt.Sprintf("NOT PLANNED: %s: %s.", name, why)
}

// PlanClock is a time of the day, from the start of the first session: "+1:00".
func PlanClock(minutes float64) string {
	m := int(math.Round(minutes))
	return fmt.Sprintf("+%d:%02d", m/60, m%60)
}

// PlanChange says what is moved before a session.
func PlanChange(p *plan.Plan, s *plan.Session) string {
	switch {
	case s.State == plan.LostSession:
		return "lost"
	case s.Other != "":
		return "another setting was run: it does not count"
	case s.From < 0:
		return "bolt it on, torque, look"
	case s.Work.Moved == 0:
		return "nothing: torque, look"
	}
	moves := MovesInShort(p.Table.Car, p.Candidates[s.From].Row.Setting, p.Candidates[s.Setting].Row.Setting)
	return fmt.Sprintf("%s a side, %s min: %s", units.Count(s.Work.Moved, "bolt"), units.Fixed(math.Ceil(s.Change-1e-9), 0), strings.Join(moves, ", "))
}

// PlanSession says in a sentence what a session is.
func PlanSession(p *plan.Plan, s *plan.Session) string {
	text := fmt.Sprintf("Session %d, %s: ", s.Number, PlanClock(s.Start))
	switch {
	case s.State == plan.LostSession:
		return text + "lost."
	case s.Other != "":
		return text + fmt.Sprintf("run with %s, which is not in the plan.", p.Table.NameOf(s.Other))
	}
	text += fmt.Sprintf("%s, %s, %s", PlanLetter(s.Setting), p.Table.Name(p.Candidates[s.Setting].Row.Setting), units.Count(s.Laps, "lap"))
	if s.Settle > 0 {
		text += fmt.Sprintf(" after %d to look and to build up speed", s.Settle)
	}
	if s.State == plan.Run {
		return text + "; run."
	}
	return text + "; before it: " + PlanChange(p, s) + "."
}

func scatterWords(p *plan.Plan) string {
	said := func(v plan.Value, what string) string {
		text := fmt.Sprintf("%s s %s", seconds(v.Of), what)
		switch {
		case v.From > 0:
			text += fmt.Sprintf(" (by %s noted)", units.Count(v.From, "run"))
		case !v.Given:
			text += " (assumed)"
		}
		return text
	}
	return said(p.LapScatter, "from lap to lap") + ", " + said(p.RunScatter, "from run to run beyond that")
}

// PlanTells says what the day can tell by laps.
func PlanTells(p *plan.Plan) (lines []string) {
	for _, c := range p.Contrasts {
		a, b := PlanLetter(c.A), PlanLetter(c.B)
		runs := fmt.Sprintf("%s of %s, %d of %s", units.Count(c.RunsA, "run"), a, c.RunsB, b)
		switch {
		case c.RunsA == 0 || c.RunsB == 0:
			lines = append(lines, fmt.Sprintf("NOT TOLD by laps: %s against %s: %s.", a, b, runs))
		case math.IsNaN(c.Seen):
			lines = append(lines, fmt.Sprintf("NOT TOLD by laps: %s against %s (%s): too few runs to know how much runs scatter beside the drift of the day.", a, b, runs))
		default:
			lines = append(lines, fmt.Sprintf("%s against %s (%s): a difference of %s s a lap or more would be seen in 4 of 5 such days, of %s s in 9 of 10.", a, b, runs,
				atLeastSeconds(c.Seen), atLeastSeconds(c.Sure)))
			if c.Blocked > 1.05*c.Seen {
				lines = append(lines, fmt.Sprintf("With all runs of one setting before those of the other it would have to be %s s: the drift of track and driver over the day goes into the difference.", atLeastSeconds(c.Blocked)))
			}
			if c.Bend = math.Abs(c.Bend); c.Bend > 0.1 {
				lines = append(lines, fmt.Sprintf("A drift that bends is not taken out: a middle of the day that is 0.5 s slower than its ends puts %s s into it.", seconds(0.5*c.Bend)))
			}
		}
	}
	fits := "a line"
	if p.Degree == 2 {
		fits = "a line and a bend"
	}
	level := fmt.Sprintf("two-sided %.0f %%", 100*plan.Level)
	if len(p.Contrasts) > 1 {
		level += fmt.Sprintf(" for all %d comparisons together", len(p.Contrasts))
	}
	lines = append(lines, fmt.Sprintf("That is %s with %s fitted over the day, at %s.", level, fits, scatterWords(p)))
	laps := p.LapsFor(p.Difference)
	text := fmt.Sprintf("A difference of %s s a lap takes %d laps of each setting where laps alone scatter (two-sided 5 %%, 4 of 5 days)", seconds(p.Difference), laps)
	if n := p.RunsFor(p.Difference); n > 0 {
		text += fmt.Sprintf("; with runs that differ too, %s of each.", units.Count(n, "run"))
	} else {
		text += "; with runs that differ too, more than 50 runs of each."
	}
	return append(lines, text)
}

// atLeastSeconds spells a time to hundredths, rounded up: what is said to be seen is.
func atLeastSeconds(s float64) string { return units.Fixed(math.Ceil(100*s-1e-6)/100, 2) }

// PlanCautions are what a day starts with.
func PlanCautions(p *plan.Plan) []string {
	lines := []string{
		"The first setting is the safest: strength first, then how clearly limits are kept, then the most load at the rear. Its first laps: out, in, torque of all bolts (stanchion checks), then build up speed.",
		"One change at a time: nothing but the wing changes between sessions; tyre pressures and fuel as at the session before.",
		"Closed course, by the event's rules. If a setting feels unstable, come in: it is over for the day.",
	}
	if p.NoStrength != nil {
		lines = append(lines, fmt.Sprintf("STRENGTH NOT CHECKED: %v.", p.NoStrength))
	}
	if p.MinutesPerBolt.Assumed() {
		lines = append(lines, fmt.Sprintf("A bolt takes %s min (assumed), with %d min for torque and a look.", units.Fixed(p.MinutesPerBolt.Of, 1), plan.CheckMinutes))
	} else {
		lines = append(lines, fmt.Sprintf("A bolt takes %s min, with %d min for torque and a look.", units.Fixed(p.MinutesPerBolt.Of, 1), plan.CheckMinutes))
	}
	return append(lines, Caution)
}

// PlanRunTells is what one run is for.
func PlanRunTells(p *plan.Plan, s *plan.Session, u units.System) []string {
	all := []string{}
	if s.Setting < 0 {
		return all
	}
	for _, c := range p.Contrasts {
		if (c.A == s.Setting || c.B == s.Setting) && !math.IsNaN(c.Seen) {
			all = append(all, fmt.Sprintf("laps of %s against %s, with the other runs: %s s or more", PlanLetter(c.A), PlanLetter(c.B), atLeastSeconds(c.Seen)))
		}
	}
	if s.Setting > 0 {
		for _, t := range p.Tells(s.Setting) {
			if t.Known && t.Runs == 1 {
				all = append(all, planTell(t, u))
			}
		}
	}
	return all
}

// PlanAim is what a day is to find out.
func PlanAim(p *plan.Plan) string { return planAims[p.Find] }

// PlanOutcomes says what the runs that are noted tell so far.
func PlanOutcomes(p *plan.Plan) (lines []string) {
	for _, o := range p.Outcomes() {
		fast, slow := PlanLetter(o.B), PlanLetter(o.A)
		if o.Difference > 0 {
			fast, slow = slow, fast
		}
		size := math.Abs(o.Difference)
		switch {
		case math.IsNaN(o.Difference):
			lines = append(lines, fmt.Sprintf("NOT YET CLEAR which of %s and %s is faster: too few runs, or runs in an order that does not separate the settings from the drift of the day.", slow, fast))
		case math.IsNaN(o.Half):
			lines = append(lines, fmt.Sprintf("So far %s was %s s a lap faster than %s, the drift of the day taken out, by %s; NOT YET CLEAR: too few runs to know the scatter from run to run.", fast,
				seconds(size), slow, units.Count(o.Runs, "run")))
		case o.Clear():
			lines = append(lines, fmt.Sprintf("%s IS FASTER than %s by %s s a lap: %s to %s s, the drift of the day taken out.", fast, slow, seconds(size), seconds(size-o.Half), seconds(size+o.Half)))
		default:
			lines = append(lines, fmt.Sprintf("NOT YET: %s was %s s a lap faster than %s, the drift of the day taken out; the interval is %s to %s s.", fast, seconds(size), slow,
				units.Signed(size-o.Half, 2), units.Signed(size+o.Half, 2)))
		}
	}
	if left := p.LeftOut(); len(left) > 0 {
		lines = append(lines, leftOut(left))
	}
	return lines
}
