package words

import (
	"math"
	"strings"
	"testing"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// What a finding says of its figures, by hand: 200 N from 300 N is 67 %.
func TestAdviceFound(t *testing.T) {
	from := &model.Row{StallMargin: -3 * plane.Deg}
	from.Downforce = 300
	to := &model.Row{}
	to.Downforce = 100
	for _, c := range []struct {
		finding choose.Finding
		same    bool
		says    string
	}{
		{choose.PhaseAgainst, false, "No wing is taken off."},
		{choose.NotedStalled, false, "STALLED, by 3.0° past maximum CL"},
		{choose.NotedStalled, false, "more downforce comes from less angle too"},
		{choose.StepTooLarge, false, "the smallest is 67 % of the wing's downforce at once, and no more than 33 % is proposed. Whether to take it is yours"},
		{choose.TriedThatWay, true, "felt the same, and none lies clearly beyond them that can be run: the wing is not it"},
		{choose.TriedThatWay, false, "the wing does no more"},
	} {
		a := choose.Advice{Finding: c.finding, From: from}
		a.Felt, a.TooLarge, a.TriedSame = -2, &choose.Candidate{Row: to}, c.same
		if got := Advice(a); !strings.Contains(got, c.says) || !strings.Contains(got, "clear understeer in fast corners, which asks for a larger front share") {
			t.Errorf("finding %d: %q", c.finding, got)
		}
	}
	past := choose.Advice{Finding: choose.StepTooLarge, From: from}
	past.Felt, past.TooLarge, past.Capped, past.Second = -2, &choose.Candidate{Row: to}, true, "m"
	if got := Advice(past); !strings.Contains(got, "goes further past what was driven than this setting and that of note m are apart") || strings.Contains(got, "%") {
		t.Errorf("past what was driven: %q", got)
	}
	a := choose.Advice{Finding: choose.NoneBetween}
	a.Felt, a.TooMuch, a.BoundUnstable = -1, "m", true
	if got := Advice(a); !strings.Contains(got, "with less wing the car was unstable in note m") || strings.Contains(got, "the opposite") {
		t.Errorf("%q", got)
	}
}

// What is odd about the setting noted and the one proposed is named.
func TestAdviceFoundLines(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	row := func(words ...string) *model.Row { r := *table.Named(words)[0]; return &r }
	var a advise.Advice
	a.Note, a.Felt, a.From, a.To = "n", -1, row("3", "B2"), row("3", "B1")
	a.From.Downforce, a.From.Stalled, a.From.StallMargin = -20, true, -2*plane.Deg
	a.Tried, a.Second = row("3", "B1"), "m"
	a.TooLarge = &choose.Candidate{Row: row("3", "B1"), Change: 0.012, Work: choose.Work{Moved: 1}}
	a.Unstable = []choose.Unstable{{Note: "1", Row: a.To, Braking: -2, Straight: -1}, {Note: "2", Row: a.From, Braking: -1, Straight: -3}, {Note: "3", Row: a.To, Braking: -1, Straight: -1},
		{Note: "n", Row: a.From, Braking: -3}}
	a.Moved = []choose.Moved{{Note: "4", Row: row("3", "B1"), Height: 1300, Angle: 4.6}}
	a.Tight = []choose.Tight{{Limit: model.LimitStall, Have: plane.Deg, StdUnc: 2 * plane.Deg}, {Limit: model.LimitTop, Have: 1479, Allowed: 1480, StdUnc: 2}}
	lines := strings.Join(append(adviceFoundLines(table, &a, units.Metric), AdviceReasons(table, &a, units.Metric)...), "\n")
	for _, want := range []string{
		"STALLED: the setting that was noted is 2.0° past maximum CL. It wants less angle.", "LIFTS: the setting that was noted pulls the car up, by 20 N",
		"Noted that way: row 3, B1, +287 N (note m).", "The smallest that can be told: row 3, B1 (1 bolt, the angle alone, front share +1.2 pp), +287 N.",
		"In note 1 the car was unstable under braking: row 3, B1, +287 N.", "In note 2 the car was very unstable on the straight: row 3, B2, this setting.",
		"In note 3 the car was slightly unstable under braking and on the straight:", "Note 4 was of row 3, B1 at 1300 mm, 4.6°; the file now gives 1296 mm, 2.3°: holes were moved since, or the car measured anew.",
		"Stall: margin 1.0° ± 2.0° (now STALLED, 2.0° past maximum CL), not clear of the stall.", "Not clearly within a limit: top 1479 ± 2 mm, maximum 1480 mm.",
	} {
		if !strings.Contains(lines, want) {
			t.Errorf("nothing says %q in\n%s", want, lines)
		}
	}
	if strings.Contains(lines, "In note n") {
		t.Error("the note itself is named twice")
	}
	a.Finding = choose.StepTooLarge
	if got := strings.Join(adviceFoundLines(table, &a, units.Metric), "\n"); strings.Contains(got, "Stall:") {
		t.Errorf("of a step that is not proposed:\n%s", got)
	}
}

// Capitals only for a step that is not clear of the stall and has less margin than what is run now: by hand, with
// ± 2°, 1° and 3.9° are not clear of the stall (4° is), 1° and 5° not of a minimum of 1.5° (5.5° is).
func TestStepStall(t *testing.T) {
	for _, c := range []struct {
		now, margin, least float64 // degrees
		want               string
	}{
		{3, 1, 0, "NOT CLEAR OF THE STALL: margin 1.0° ± 2.0° (now 3.0°), not clear of the stall."},
		{0.5, 1, 0, "Stall: margin 1.0° ± 2.0° (now 0.5°), not clear of the stall."},
		{1, 1, 0, "Stall: margin 1.0° ± 2.0° (now 1.0°), not clear of the stall."},
		{-2, 1, 0, "Stall: margin 1.0° ± 2.0° (now STALLED, 2.0° past maximum CL), not clear of the stall."},
		{math.NaN(), 1, 0, "NOT CLEAR OF THE STALL: margin 1.0° ± 2.0°, not clear of the stall."},
		{4.1, 3.9, 1.5, "NOT CLEAR OF THE STALL: margin 3.9° ± 2.0° (now 4.1°), not clearly above the minimum of 1.5°."},
		{3.5, 3.9, 1.5, "Stall: margin 3.9° ± 2.0° (now 3.5°), not clearly above the minimum of 1.5°."},
		{6, 5, 1.5, "Stall: margin 5.0° ± 2.0° (now 6.0°), not clearly above the minimum of 1.5°."},
		{math.NaN(), 5, 1.5, "Stall: margin 5.0° ± 2.0°, not clearly above the minimum of 1.5°."},
	} {
		now := &model.Row{Outcome: model.Outcome{Coefficients: aero.Coefficients{CL: 1}}, StallMargin: c.now * plane.Deg, Stalled: c.now < 0}
		l := choose.Tight{Limit: model.LimitStall, Have: c.margin * plane.Deg, Allowed: c.least * plane.Deg, StdUnc: 2 * plane.Deg}
		if got := stepStall(l, now); got != c.want {
			t.Errorf("%g° now, %g° then, at least %g°:\n%s, want\n%s", c.now, c.margin, c.least, got, c.want)
		}
	}
}
