package logbook

import (
	"strings"
	"testing"
)

// What contradicts itself, by hand: a balance and the grip of the ends, front less rear.
func TestContradictoryFields(t *testing.T) {
	const none = NoFeel
	for _, c := range []struct {
		corner      Corner
		front, rear int
		says        string // "" for no contradiction
	}{
		{Whole(-2), 0, -3, "clear understeer in fast corners and grip 0/−3 front/rear, which is oversteer"},
		{Whole(-2), -3, 0, ""},
		{Whole(1), -1, 1, "which is understeer"},
		{Whole(1), 1, -1, ""},
		{Whole(0), 1, -1, "neutral in fast corners"},
		{Whole(0), 0, -1, ""},
		{Whole(2), 0, 0, "which is neutral"},
		{Whole(1), 0, 0, ""},
		{Whole(-1), none, -3, "which is oversteer"},
		{Whole(-1), none, -2, ""},
		{Whole(1), -3, none, "which is understeer"},
		{Whole(1), none, -3, ""},
		{Corner{3, -1, 3, none}, -1, 1, ""}, // the middle counts
		{Corner{none, none, none, 0}, -1, -1, "enough grip of both ends"},
		{Corner{none, none, none, -2}, 0, 1, "short of grip of both ends"},
		{Corner{none, none, none, -2}, 0, -1, ""},
		{Corner{none, none, none, none}, 0, -3, ""},
	} {
		f, s := noFeel, noFeel
		f.Fast, f.FrontFast, f.RearFast = c.corner, c.front, c.rear
		s.Slow, s.FrontSlow, s.RearSlow = c.corner, c.front, c.rear
		err, slow := f.Check(), s.Check()
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) || (err == nil) != (slow == nil) {
			t.Errorf("%+v, %d/%d: %v; in slow corners %v; want %q", c.corner, c.front, c.rear, err, slow, c.says)
		}
	}
	n := Blank()
	n.Fitted = true
	if err := n.Check(); err != nil {
		t.Error(err)
	}
	if n.Feel.Fast = Whole(0); n.Check() == nil {
		t.Error("bolted on, not run, and felt")
	}
}

// A stability is 0 to -3; a positive one is refused and not taken for its opposite.
func TestReadShortfall(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "-1": -1, "−3": -3, " -2 ": -2} {
		if g, err := ReadShortfall(text); err != nil || g != want {
			t.Errorf("%q: %d, %v", text, g, err)
		}
	}
	for _, text := range []string{"1", "+1", "3", "4", "-4", "", "x", " "} {
		if g, err := ReadShortfall(text); err == nil {
			t.Errorf("%q is read as %d", text, g)
		}
	}
}

// What is newly given stands in for what it says otherwise; the rest of the note stays.
func TestCorrectedFeel(t *testing.T) {
	was := noFeel
	was.Fast, was.FrontSlow, was.RearSlow, was.Braking = Whole(-2), 1, -1, -1
	f := was
	f.Corrected(true, false, false, false)
	if f != was {
		t.Errorf("fast corners given anew: %+v", f)
	}
	f.Corrected(false, true, true, false)
	if want := (Feel{NoFeel, NoFeel, NoFeel, NoFeel, noCorner, noCorner, -1, NoFeel}); f != want {
		t.Errorf("the other way of each: %+v", f)
	}
	f = was
	if f.Corrected(true, true, true, true); f != was {
		t.Errorf("both ways given: %+v", f)
	}
}
