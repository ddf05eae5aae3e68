package words

import (
	"math"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// Each finding in words, by what it must say and what it must not.
func TestAdviceInWords(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		finding    choose.Finding
		felt, slow float64
		says, not  string
	}{
		{choose.TryNext, 2, none, "clear oversteer in fast corners, which asks for a smaller front share, that is for more wing.", "slow"},
		{choose.TryNext, -1, none, "slight understeer in fast corners, which asks for a larger front share, that is for less wing.", "more wing"},
		{choose.TryNext, 3, 1, "and slight oversteer in slow ones: what is worse in fast corners is the wing's", ""},
		{choose.AlikeInSlow, -2, -2, "it is not the wing", "less wing"},
		{choose.ShortAtBothEnds, -2, none, "asks for no less downforce", "less wing"},
		{choose.UnstableFirst, -2, none, "less wing makes it more so", ""},
		{choose.NotesContradict, 0, none, "Notes a and b are about one setting, or two that are no different, and say the opposite", ""},
		{choose.FeltNeutral, 0, none, "neutral in fast corners", ""},
		{choose.PhaseOnly, 0, none, "look elsewhere first. Note the middle", ""},
		{choose.SlowOnly, none, 2, "where the wing does little", ""},
		{choose.NotAboutCorners, none, none, "Nothing can be told", ""},
		{choose.NotedWithoutFigures, 1, none, "no figures", ""},
		{choose.OneEndOnly, none, none, "one end", ""},
		{choose.NoneBetween, 1, none, "slight oversteer in fast corners, note too-much the opposite", "try"},
		{choose.NoneFarEnough, 1, none, "No setting that keeps all limits", "try"},
		{choose.SettingMoved, none, none, "its setting was elsewhere then: nothing can be told from it", "fast corners"},
		{choose.SettingGone, none, none, "no longer gives its setting gone\\u001b", "\x1b"},
	} {
		a := choose.Advice{Finding: c.finding, Note: "n", Setting: "gone\x1b"}
		a.Felt, a.Slow, a.On, a.Contradicts, a.TooMuch = c.felt, c.slow, []string{"n"}, [2]string{"a", "b"}, "too-much"
		if got := Advice(a); !strings.Contains(got, c.says) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("finding %d: %q", c.finding, got)
		}
	}
	if got := Advice(choose.Advice{Finding: choose.PhaseOnly, Note: "n", Middle: true}); strings.Contains(got, "Note the middle") || !strings.Contains(got, "look elsewhere first") {
		t.Errorf("the middle noted: %q", got)
	}
	for want, p := range map[string]choose.Pointer{
		"Understeer at entry of slow corners, not in the middle: first brake balance":                                    {Symptom: choose.AtEntry, Slow: true},
		"first the rear tyres and their pressures, then the anti-roll bars (softer at the rear or stiffer at the front)": {Symptom: choose.AlikeInAllCorners, Oversteer: true},
		"softer at the front or stiffer at the rear":                                                                     {Symptom: choose.AlikeInAllCorners},
		"Understeer at entry, not in the middle: first brake balance (less to the front)":                                {Symptom: choose.AtEntry},
		"Oversteer at entry, not in the middle: first brake balance (less to the rear)":                                  {Symptom: choose.AtEntry, Oversteer: true},
		"Oversteer at exit, not in the middle: first rear tyres":                                                         {Symptom: choose.AtExit, Oversteer: true},
		"downforce at both ends":              {Symptom: choose.ShortInFast},
		"Unstable under braking":              {Symptom: choose.UnderBraking},
		"Unstable on the straight: first toe": {Symptom: choose.OnTheStraight},
	} {
		if got := pointer(p); !strings.Contains(got, want) || !strings.Contains(got, "ommon practice") {
			t.Errorf("%+v: %q", p, got)
		}
	}
}

// The lines name work, joints that lose bolts, a weaker verdict, and the notes that were left out.
func TestAdviceLines(t *testing.T) {
	table := modeltest.TableOf(t, modeltest.File(t, "hatch.toml"))
	row := func(id string) *model.Row {
		r, ok := table.Find(id)
		if !ok {
			t.Fatal(id)
		}
		return r
	}
	var a advise.Advice
	a.Note, a.From, a.To = "n", row("1:k1+2:k2+5:k3+6:k4/A:F+A1:R"), row("1:k2+5:k4/B:F+B2:R")
	a.Row, a.Work = a.To, choose.WorkOf(a.From.Setting, a.To.Setting)
	a.Change, a.StdUnc, a.Wanted, a.Smallest, a.Sizing = -0.0068, 0.0012, -0.008, -0.004, choose.MultipleOfIt
	a.Unit = 0.004
	a.Changed, a.Asked.Height, a.TooMuch = choose.AngleAndHeight, true, "m"
	a.LeftOut = []choose.LeftOut{{Note: "1", Why: choose.OtherTyres}, {Note: "2", Why: choose.OtherTrack}}
	a.Lighter = &choose.Candidate{Row: row("1:k1+2:k2+5:k3+6:k4/A:F+A2:R"), Change: -0.009, Work: choose.Work{Moved: 1}}
	a.Nearer = &choose.Candidate{Row: row("1:k1+2:k2+5:k3+6:k4/B:F+B2:R"), Change: -0.0081, Work: choose.Work{Moved: 2}}
	a.Equal = []choose.Candidate{*a.Nearer, {Row: row("5:k1+6:k2/B:F+B2:R"), Change: -0.0061, Work: choose.Work{Moved: 5, Fewer: 2}, Changed: choose.HeightAlone}}
	a.Now, a.Proposed = strength.Passes, strength.DoesNotHold
	lines := strings.Join(AdviceLines(table, &a, units.Metric), "\n")
	for _, want := range []string{
		"Step: front share −0.7 ± 0.1 pp (one standard uncertainty). Wanted is −0.8 pp, 2 times the smallest step that is clear",
		"Clear is a difference of 2 standard uncertainties. It stays short of what note m found too much.",
		"; angle and height change.", "FEWER BOLTS: joint foot would have 2 bolts a side, it has 4 now.", "Asked was a change of height alone: none is",
		"With less work, a larger step that is clear too: row 1–6, A2 (1 bolt, the angle alone, front share −0.9 pp).\n  head: R from A1 to A2\n",
		"Nearer to the wanted size: row 1–6, B2 (2 bolts, the angle alone, front share −0.8 pp).\n  head: F from A to B, R from A1 to B2\nOf that size too, with no less work: row 5–6, B2 (5",
		"Chosen: the least work of the clear steps between half and twice the wanted one, ",
		"(5 bolts, the height alone, front share −0.6 pp, fewer bolts in a joint).",
		"Notes left out: 1 (other tyres), 2 (dry and wet track).", `WEAKER THAN NOW: the strength verdict of the setting noted is "passes", of this one "does not hold".`,
		"IT DOES NOT HOLD: do not run it", "Strength NOT CHECKED", Caution,
	} {
		if !strings.Contains(lines, want) {
			t.Errorf("nothing says %q in\n%s", want, lines)
		}
	}
	if points(-0.0034, 0.0004) != "−0.34 ± 0.04 pp" || feltWord(0.3) != "a little oversteer" || feltWord(-1.5) != logbook.BalanceWord(-2) {
		t.Errorf("%s, %s, %s", points(-0.0034, 0.0004), feltWord(0.3), feltWord(-1.5))
	}
}

// What chose the step is said, each rule by its own words.
func TestStepRule(t *testing.T) {
	for rule, want := range map[choose.Rule]string{
		choose.LeastOfSize:   "Chosen: the least work of the clear steps between half and twice the wanted one, 2 bolts; then the nearest to it.",
		choose.NearestBeyond: "Chosen: the nearest clear step beyond, as none lies between half and twice the wanted one.",
		choose.NearestShort:  "Chosen: the nearest clear step short of it, as none lies between half and twice the wanted one, and none beyond.",
	} {
		var a advise.Advice
		a.Rule, a.Work.Moved, a.Setting = rule, 2, "x"
		if got := stepRule(&a); got != want {
			t.Errorf("rule %d: %q", rule, got)
		}
	}
	var a advise.Advice
	a.PassedOver = make([]choose.Candidate, 1)
	if got := stepRule(&a); !strings.Contains(got, "twice the wanted one that are no weaker than now, 0 bolts") {
		t.Errorf("with a weaker one passed over: %q", got)
	}
}
