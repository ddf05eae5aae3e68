package choose

import (
	"math"
	"slices"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/logbook"
)

// unsteady is a note on a setting with a balance, NoFeel for none, and a stability under braking.
func unsteady(id, setting string, balance, braking int) logbook.Note {
	n := felt(id, setting, balance)
	n.Feel.Braking = braking
	return n
}

// By hand on the plain car, where a degree is 0.2 pp and u1 at 5° wants 3.5°: no step goes to or past a
// setting with less wing that was unstable, and none is taken where one with as much wing was.
func TestUnstableBounds(t *testing.T) {
	table := tableAt(t, 5, 4, 3, 2, 8)
	other := unsteady("1", "3", 0, -3)
	other.TyreSet = "a"
	atExit := felt("1", "5", -1)
	atExit.Feel.Fast.Exit = 2
	worn := felt("n", "5", -1)
	worn.TyreSet = "b"
	for _, c := range []struct {
		what    string
		notes   []logbook.Note
		finding Finding
		to      string
		bound   string // the note that bounds it
		first   string // the note of UnstableFirst
	}{
		{"none", []logbook.Note{felt("n", "5", -1)}, TryNext, "3", "", ""},
		{"very unstable at 3°", []logbook.Note{unsteady("1", "3", 0, -3), felt("n", "5", -1)}, TryNext, "4", "1", ""},
		{"unstable at 3°, its balance not noted", []logbook.Note{unsteady("1", "3", unsaid, -2), felt("n", "5", -1)}, TryNext, "4", "1", ""},
		{"slightly at 3°", []logbook.Note{unsteady("1", "3", unsaid, -1), felt("n", "5", -1)}, TryNext, "3", "", ""},
		{"unstable at 4°", []logbook.Note{unsteady("1", "4", unsaid, -2), felt("n", "5", -1)}, NoneBetween, "", "1", ""},
		{"on other tyres", []logbook.Note{other, worn}, TryNext, "3", "", ""},
		{"unstable here, earlier", []logbook.Note{unsteady("1", "5", -2, -2), felt("n", "5", -2)}, UnstableFirst, "", "", "1"},
		{"unstable here, earlier, and stable now", []logbook.Note{unsteady("1", "5", -2, -2), unsteady("n", "5", -2, 0)}, UnstableFirst, "", "", "1"},
		{"slightly here, earlier", []logbook.Note{unsteady("1", "5", -1, -1), felt("n", "5", -1)}, TryNext, "3", "", ""},
		{"slightly here, now", []logbook.Note{unsteady("n", "5", -1, -1)}, UnstableFirst, "", "", "n"},
		{"with more wing", []logbook.Note{unsteady("1", "8", unsaid, -2), felt("n", "5", -1)}, UnstableFirst, "", "", "1"},
		{"with more wing, stable now", []logbook.Note{unsteady("1", "8", unsaid, -2), unsteady("n", "5", -1, 0)}, TryNext, "3", "", ""},
		{"oversteer", []logbook.Note{unsteady("1", "3", unsaid, -3), felt("n", "5", 2)}, TryNext, "8", "", ""},
		{"oversteered at exit, earlier", []logbook.Note{atExit, felt("n", "5", -1)}, PhaseAgainst, "", "", ""},
	} {
		a, err := Next(table, c.notes, Wish{})
		to := ""
		if a.To != nil {
			to = a.To.ID
		}
		if err != nil || a.Finding != c.finding || to != c.to || a.TooMuch != c.bound || a.BoundUnstable != (c.bound != "") || c.first != "" && a.UnstableNote() != c.first {
			t.Errorf("%s: finding %d to %q, bound by %q, unstable %q, %v", c.what, a.Finding, to, a.TooMuch, a.UnstableNote(), err)
		}
	}
	if a, _ := Next(table, []logbook.Note{other, worn}, Wish{}); !slices.Equal(a.LeftOut, []LeftOut{{"1", OtherTyres}}) {
		t.Errorf("left out: %+v", a.LeftOut)
	}
}

// A third of the downforce of 5° is 3.3°: 9° and 1° are more, but between two notes and on the car
// already, with more wing.
func TestMostOfWing(t *testing.T) {
	table := tableAt(t, 5, 9, 1)
	fitted := func(setting string) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting, n.Fitted = "f", setting, true
		return n
	}
	for _, c := range []struct {
		what         string
		notes        []logbook.Note
		finding      Finding
		to, tooLarge string
		onCar        bool
	}{
		{"more", []logbook.Note{felt("n", "5", 1)}, StepTooLarge, "", "9", false},
		{"less", []logbook.Note{felt("n", "5", -3)}, StepTooLarge, "", "1", false},
		{"driven", []logbook.Note{felt("1", "9", 0), felt("n", "5", 1)}, TryNext, "9", "", false},
		{"on the car", []logbook.Note{felt("n", "5", 1), fitted("9")}, TryNext, "9", "", true},
		{"less, on the car", []logbook.Note{felt("n", "5", -1), fitted("1")}, StepTooLarge, "", "1", false},
	} {
		a, err := Next(table, c.notes, Wish{})
		to, large := "", ""
		if a.To != nil {
			to = a.To.ID
		}
		if a.TooLarge != nil {
			large = a.TooLarge.Row.ID
		}
		if err != nil || a.Finding != c.finding || to != c.to || large != c.tooLarge || a.IsOnCar() != c.onCar || a.PastMost != c.onCar {
			t.Errorf("%s: finding %d to %q, too large %q, on the car %v, %v", c.what, a.Finding, to, large, a.IsOnCar(), err)
		}
	}
	// u3 at 5° and u2 at 3° ask for 4° less, no more than 2° past 3°: 0.5° is 0.5° more than that, 0.8° alike with it.
	for angle, want := range map[float64]Finding{0.5: StepTooLarge, 0.8: TryNext} {
		a, err := Next(tableAt(t, 5, 3, angle), []logbook.Note{felt("1", "5", -3), felt("n", "3", -2)}, Wish{})
		if err != nil || a.Finding != want || !a.Capped || (a.TooLarge != nil) != (want == StepTooLarge) || a.TooLarge != nil && a.TooLarge.Row.ID != name(angle) {
			t.Errorf("%g°, past what was driven: finding %d, capped %v, %v", angle, a.Finding, a.Capped, err)
		}
	}
	// Of steps that count as equal, 6°, 6.4° and 7°, the one that is on the car.
	table = tableAt(t, 5, 6, 6.4, 7)
	if a, _ := Next(table, []logbook.Note{felt("n", "5", 1), fitted("7")}, Wish{}); a.To == nil || a.To.ID != "7" || !a.IsOnCar() || a.PastMost || len(a.Equal) != 2 {
		t.Errorf("7° is on the car: %+v", a.To)
	}
	// 5° and 7° both o1, with nothing beyond; 5.5° tried too is no better either, and no different.
	table = tableAt(t, 5, 5.5, 6, 7)
	if a, _ := Next(table, []logbook.Note{felt("1", "7", 1), felt("n", "5", 1)}, Wish{}); a.Finding != TriedThatWay || !a.TriedSame || a.Tried.ID != "7" || a.Second != "1" {
		t.Errorf("tried at 7°: finding %d, %+v", a.Finding, a.Tried)
	}
	table = tableAt(t, 5, 5.5)
	if a, _ := Next(table, []logbook.Note{felt("1", "5.5", 1), felt("n", "5", 1)}, Wish{}); a.Finding != NoneFarEnough || a.Tried != nil {
		t.Errorf("nothing is far enough, tried or not: finding %d, %+v", a.Finding, a.Tried)
	}
}

// A note on a setting that is elsewhere now, by more than 0.5° or 5 mm, is left out; where it is the last, nothing
// can be told. u1 at 7° would be too much, so that without it the step of o1 at 5° is 7°, the least work.
func TestMovedSince(t *testing.T) {
	table := tableAt(t, 5, 6, 6.4, 7)
	for _, c := range []struct {
		angle, height float64 // degrees and mm by which it was elsewhere
		out           bool
	}{{0, 0, false}, {0.4, 4, false}, {-0.4, -4, false}, {0.6, 0, true}, {-0.6, 0, true}, {0, 6, true}, {0, -6, true}, {math.NaN(), math.NaN(), false}} {
		was := felt("1", "7", -1)
		was.Expected.Angle, was.Expected.Height = 7+c.angle, 1300+c.height
		a, err := Next(table, []logbook.Note{was, felt("n", "5", 1)}, Wish{})
		if err != nil || !a.Proposes() || (len(a.Moved) == 1) != c.out || (a.TooMuch == "1") == c.out || slices.Contains(a.LeftOut, LeftOut{"1", Elsewhere}) != c.out {
			t.Errorf("elsewhere by %g°, %g mm: moved %+v, left out %+v, too much %q, %v", c.angle, c.height, a.Moved, a.LeftOut, a.TooMuch, err)
		}
		was.Setting, was.Expected.Angle, was.Feel.Fast = "5", 5+c.angle, logbook.Whole(1)
		a, err = Next(table, []logbook.Note{was}, Wish{})
		if want := map[bool]Finding{true: SettingMoved, false: TryNext}[c.out]; err != nil || a.Finding != want || (len(a.Moved) == 1) != c.out || c.out && !math.IsNaN(a.Felt) {
			t.Errorf("the last, elsewhere by %g°, %g mm: finding %d, moved %+v, felt %g, %v", c.angle, c.height, a.Finding, a.Moved, a.Felt, err)
		}
		// The hole drilled anew and noted again: the earlier note, which says the opposite, counts no more.
		was.Feel.Fast = logbook.Whole(-2)
		a, err = Next(table, []logbook.Note{was, felt("n", "5", 1)}, Wish{})
		if err != nil || c.out && (a.Finding != TryNext || a.Felt != 1 || len(a.On) != 1) || !c.out && a.Finding != NotesContradict {
			t.Errorf("noted again, elsewhere by %g°, %g mm: finding %d, felt %g, %v", c.angle, c.height, a.Finding, a.Felt, err)
		}
	}
}

// A stalled setting is no place to work out a step from; of steps with equal work the one that is clear of
// the stall.
func TestOfTheNotedSetting(t *testing.T) {
	table := tableAt(t, 5, 6, 6.4, 7)
	at := func(id string) int { i, _ := table.Index(id); return i }
	n := felt("n", "5", 1)
	if a, _ := Next(table, []logbook.Note{n}, Wish{}); a.To == nil || a.To.ID != "6.4" || len(a.Moved)+len(a.Tight) != 0 {
		t.Errorf("%+v, moved %+v, tight %+v", a.To, a.Moved, a.Tight)
	}
	table.Rows[at("6.4")].StallMargin = 0.4 * plane.Deg // with 0.23° of its own
	a, _ := Next(table, []logbook.Note{n}, Wish{})
	if a.To == nil || a.To.ID == "6.4" || len(a.Tight) != 0 {
		t.Errorf("to %v, tight %+v", a.To, a.Tight)
	}
	if i := slices.IndexFunc(a.Equal, func(c Candidate) bool { return c.Row.ID == "6.4" }); i < 0 || len(a.Equal[i].Tight) != 1 || math.Abs(a.Equal[i].Tight[0].Have-0.4*plane.Deg) > 1e-9 {
		t.Errorf("equal are %+v", a.Equal)
	}
	table.Rows[at("5")].Stalled = true
	for _, felt := range []int{1, -1} {
		n.Feel.Fast = logbook.Whole(felt)
		if a, _ := Next(table, []logbook.Note{n}, Wish{}); a.Finding != NotedStalled || a.To != nil {
			t.Errorf("stalled: finding %d, %v", a.Finding, a.To)
		}
	}
	// 4° is as near to the stall as before; of 2° and 3°, both as much work, the one with more angle.
	table = tableAt(t, 5, 6, 4, 3, 2)
	table.Rows[at("5")].Stalled, table.Rows[at("4")].StallMargin = true, 0.4*plane.Deg
	if a, _ := Next(table, []logbook.Note{felt("n", "5", 1)}, Wish{}); a.Unstalled == nil || a.Unstalled.Row.ID != "3" {
		t.Errorf("less angle: %+v", a.Unstalled)
	}
}
