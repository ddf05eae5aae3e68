package choose

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

const unsaid = logbook.NoFeel

// felt is a note on a setting that had so much oversteer in the middle of fast corners.
func felt(id, setting string, balance int) logbook.Note {
	n := logbook.Blank()
	n.ID, n.Setting, n.Feel.Fast = id, setting, logbook.Whole(balance)
	return n
}

// What each way of feeling asks for, by hand.
func TestFindingsByHand(t *testing.T) {
	table := tableAt(t, 5, 8, 11, 2)
	corner := func(entry, middle, exit, grip int) logbook.Corner {
		return logbook.Corner{Entry: entry, Middle: middle, Exit: exit, Grip: grip}
	}
	whole := logbook.Whole
	blank := logbook.Blank().Feel
	for _, c := range []struct {
		what     string
		feel     func(*logbook.Feel)
		want     Finding
		pointers []Pointer
	}{
		{"oversteer", func(f *logbook.Feel) { f.Fast = whole(1) }, TryNext, nil},
		{"neutral", func(f *logbook.Feel) { f.Fast = whole(0) }, FeltNeutral, nil},
		{"the middle counts", func(f *logbook.Feel) { f.Fast = corner(-1, 2, -1, unsaid) }, TryNext, []Pointer{{AtEntry, false, false}, {AtExit, false, false}}},
		{"entry and exit against the middle", func(f *logbook.Feel) { f.Fast = corner(3, -1, 3, unsaid) }, PhaseAgainst, []Pointer{{AtEntry, true, false}, {AtExit, true, false}}},
		{"entry against the middle", func(f *logbook.Feel) { f.Fast = corner(1, -2, -2, unsaid) }, PhaseAgainst, []Pointer{{AtEntry, true, false}}},
		{"understeer at entry, less of it", func(f *logbook.Feel) { f.Fast = corner(0, -1, -1, unsaid) }, TryNext, nil},
		{"worse in fast corners", func(f *logbook.Feel) { f.Fast, f.Slow = whole(2), whole(1) }, TryNext, []Pointer{{InSlowCorners, true, false}}},
		{"alike", func(f *logbook.Feel) { f.Fast, f.Slow = whole(2), whole(2) }, AlikeInSlow, []Pointer{{AlikeInAllCorners, true, false}}},
		{"understeer alike", func(f *logbook.Feel) { f.Fast, f.Slow = whole(-1), whole(-2) }, AlikeInSlow, []Pointer{{AlikeInAllCorners, false, false}}},
		{"the other way in slow corners", func(f *logbook.Feel) { f.Fast, f.Slow = whole(1), whole(-2) }, TryNext, []Pointer{{InSlowCorners, false, false}}},
		{"slow corners only", func(f *logbook.Feel) { f.Slow = whole(-2) }, SlowOnly, []Pointer{{InSlowCorners, false, false}}},
		{"entry only", func(f *logbook.Feel) { f.Fast = corner(-2, 0, 0, unsaid) }, PhaseOnly, []Pointer{{AtEntry, false, false}}},
		{"exit only, the middle not noted", func(f *logbook.Feel) { f.Fast = corner(0, unsaid, 2, unsaid) }, PhaseOnly, []Pointer{{AtExit, true, false}}},
		{"entry against exit", func(f *logbook.Feel) { f.Fast = corner(-1, unsaid, 2, unsaid) }, PhaseOnly, []Pointer{{AtEntry, false, false}, {AtExit, true, false}}},
		{"entry only, middle and exit right", func(f *logbook.Feel) { f.Fast = corner(1, 0, 0, unsaid) }, PhaseOnly, []Pointer{{AtEntry, true, false}}},
		{"slow corners at entry only", func(f *logbook.Feel) { f.Fast, f.Slow = corner(1, 2, 0, unsaid), corner(-2, 0, 0, unsaid) }, TryNext, []Pointer{{AtEntry, false, true}}},
		{"slow corners at exit, the middle off too", func(f *logbook.Feel) { f.Fast, f.Slow = whole(2), corner(0, 1, 2, unsaid) }, TryNext, []Pointer{{InSlowCorners, true, false}}},
		{"entry as exit", func(f *logbook.Feel) { f.Fast = corner(1, unsaid, 1, unsaid) }, TryNext, nil},
		{"understeer and short", func(f *logbook.Feel) { f.Fast = corner(-1, -1, -1, -2) }, ShortAtBothEnds, []Pointer{{ShortInFast, false, false}}},
		{"neutral and short everywhere", func(f *logbook.Feel) { f.Fast, f.Slow = corner(0, 0, 0, -1), corner(0, 0, 0, -1) }, ShortAtBothEnds, []Pointer{{ShortInAll, false, false}}},
		{"only short", func(f *logbook.Feel) { f.Fast.Grip = -1 }, ShortAtBothEnds, []Pointer{{ShortInFast, false, false}}},
		{"oversteer and short", func(f *logbook.Feel) { f.Fast = corner(1, 1, 1, -1) }, TryNext, []Pointer{{ShortInFast, false, false}}},
		{"understeer, unstable under braking", func(f *logbook.Feel) { f.Fast, f.Braking = whole(-1), -1 }, UnstableFirst, []Pointer{{UnderBraking, false, false}}},
		{"understeer, unstable on the straight", func(f *logbook.Feel) { f.Fast, f.Straight = whole(-3), -2 }, UnstableFirst, []Pointer{{OnTheStraight, false, false}}},
		{"oversteer, unstable", func(f *logbook.Feel) { f.Fast, f.Braking = whole(1), -1 }, TryNext, []Pointer{{UnderBraking, false, false}}},
		{"stable", func(f *logbook.Feel) { f.Fast, f.Braking, f.Straight = whole(-1), 0, 0 }, TryNext, nil},
		{"braking only", func(f *logbook.Feel) { f.Braking = -1 }, NotAboutCorners, []Pointer{{UnderBraking, false, false}}},
		{"older: oversteer", func(f *logbook.Feel) { f.FrontFast, f.RearFast = 1, -1 }, TryNext, nil},
		{"older: one end", func(f *logbook.Feel) { f.FrontFast = 1 }, OneEndOnly, nil},
		{"older: both short, the front more", func(f *logbook.Feel) { f.FrontFast, f.RearFast = -2, -1 }, ShortAtBothEnds, []Pointer{{ShortInFast, false, false}}},
		{"older: slow corners", func(f *logbook.Feel) { f.FrontSlow, f.RearSlow = -1, 1 }, SlowOnly, []Pointer{{InSlowCorners, false, false}}},
	} {
		n := logbook.Blank()
		n.ID, n.Setting, n.Feel = "n", "5", blank
		c.feel(&n.Feel)
		a, err := Next(table, []logbook.Note{n}, Wish{})
		if err != nil || a.Finding != c.want || !slices.Equal(a.Pointers, c.pointers) {
			t.Errorf("%s: finding %d, %+v, %v; want %d, %+v", c.what, a.Finding, a.Pointers, err, c.want, c.pointers)
		}
		if a.Proposes() != (a.To != nil && a.To != a.From) || a.Proposes() && (a.To.Share < a.From.Share) != (a.Felt > 0) {
			t.Errorf("%s: proposes %v to %v", c.what, a.Proposes(), a.To)
		}
	}
	if _, err := Next(table, []logbook.Note{logbook.Blank()}, Wish{}); err == nil {
		t.Error("notes that say nothing give advice")
	}
	gone := felt("2", "gone", 1)
	if a, err := Next(table, []logbook.Note{felt("1", "5", 1), gone}, Wish{}); err != nil || a.Finding != SettingGone || a.To != nil {
		t.Errorf("the setting is gone: %+v, %v", a, err)
	}
	now := logbook.Blank()
	now.Setting = "8"
	if a, _ := Next(table, []logbook.Note{felt("1", "5", 1), now}, Wish{}); a.OnCar != "8" || a.From.ID != "5" {
		t.Errorf("on the car is %q, from %s", a.OnCar, a.From.ID)
	}
}

// Which notes are not held against each other, by hand; what is not said is alike.
func TestUnlikeByHand(t *testing.T) {
	for _, c := range []struct {
		what string
		a, b func(*logbook.Note)
		want Unlike
	}{
		{"nothing said", func(*logbook.Note) {}, func(*logbook.Note) {}, Alike},
		{"one place said", func(n *logbook.Note) { n.Venue = "x" }, func(*logbook.Note) {}, Alike},
		{"place by another case", func(n *logbook.Note) { n.Venue = "North " }, func(n *logbook.Note) { n.Venue = "north" }, Alike},
		{"place", func(n *logbook.Note) { n.Venue = "north" }, func(n *logbook.Note) { n.Venue = "south" }, OtherPlace},
		{"wet", func(n *logbook.Note) { n.Track = logbook.TrackWet }, func(*logbook.Note) {}, OtherTrack},
		{"damp and wet", func(n *logbook.Note) { n.Track = logbook.TrackWet }, func(n *logbook.Note) { n.Track = logbook.TrackDamp }, OtherTrack},
		{"both wet", func(n *logbook.Note) { n.Track = logbook.TrackWet }, func(n *logbook.Note) { n.Track = logbook.TrackWet }, Alike},
		{"dry", func(n *logbook.Note) { n.Track = logbook.TrackDry }, func(*logbook.Note) {}, Alike},
		{"tyres", func(n *logbook.Note) { n.TyreSet = "a" }, func(n *logbook.Note) { n.TyreSet = "b" }, OtherTyres},
		{"driver", func(n *logbook.Note) { n.Driver = "a" }, func(n *logbook.Note) { n.Driver = "b" }, OtherDriver},
		{"0.15 bar", func(n *logbook.Note) { n.Tyres[3] = 2 }, func(n *logbook.Note) { n.Tyres[3] = 1.85 }, Alike},
		{"0.2 bar", func(n *logbook.Note) { n.Tyres[3] = 2 }, func(n *logbook.Note) { n.Tyres[3] = 1.8 }, OtherPressures},
		{"15 kg", func(n *logbook.Note) { n.Fuel = 35 }, func(n *logbook.Note) { n.Fuel = 20 }, Alike},
		{"front bar", func(n *logbook.Note) { n.SetAdjustment("front bar", "2") }, func(n *logbook.Note) { n.SetAdjustment("front bar", "3") }, OtherAdjustments},
		{"splitter by another hand", func(n *logbook.Note) { n.SetAdjustment("splitter", "20 mm") }, func(n *logbook.Note) { n.SetAdjustment("Splitter", "20mm") }, Alike},
		{"one bar said", func(n *logbook.Note) { n.SetAdjustment("front bar", "2") }, func(n *logbook.Note) { n.SetAdjustment("rear bar", "3") }, Alike},
		{"20 kg", func(n *logbook.Note) { n.Fuel = 40 }, func(n *logbook.Note) { n.Fuel = 20 }, OtherFuel},
	} {
		a, b := logbook.Blank(), logbook.Blank()
		c.a(&a)
		c.b(&b)
		if got, back := unlike(&a, &b), unlike(&b, &a); got != c.want || back != c.want {
			t.Errorf("%s: %d, the other way %d; want %d", c.what, got, back, c.want)
		}
	}
}

// Notes on one setting: the mean, unless they say the opposite and not twice as many say the one.
func TestContradictionByHand(t *testing.T) {
	table := tableAt(t, 5, 8, 11, 2)
	for _, c := range []struct {
		balances []int
		want     Finding
		felt     float64
		told     bool
	}{
		{[]int{1}, TryNext, 1, false},
		{[]int{1, 2}, TryNext, 1.5, false},
		{[]int{0, 1}, TryNext, 0.5, false},
		{[]int{-1, 1}, NotesContradict, 0, true},
		{[]int{-1, 2}, NotesContradict, 0, true},
		{[]int{-1, 1, 1}, TryNext, 1.0 / 3, true},
		{[]int{1, 1, -1}, NotesContradict, 0, true},
		{[]int{-3, 1, 1}, NotesContradict, 0, true},
		{[]int{-2, 1, 1}, NotesContradict, 0, true},
		{[]int{-1, 3, 1, 1, -1}, NotesContradict, 0, true},
		{[]int{1, 0}, FeltNeutral, 0, false},
		{[]int{-1, 1, 0}, FeltNeutral, 0, true},
	} {
		var notes []logbook.Note
		for i, b := range c.balances {
			notes = append(notes, felt(strconv.Itoa(i), "5", b))
		}
		a, err := Next(table, notes, Wish{})
		if err != nil || a.Finding != c.want || math.Abs(a.Felt-c.felt) > 1e-12 || (a.Contradicts != [2]string{}) != c.told {
			t.Errorf("%v: %d, felt %g, contradict %q, %v", c.balances, a.Finding, a.Felt, a.Contradicts, err)
		}
	}
	// On other tyres the opposite is no contradiction, and is named.
	other := felt("0", "5", -1)
	other.TyreSet = "a"
	now := felt("1", "5", 1)
	now.TyreSet = "b"
	if a, _ := Next(table, []logbook.Note{other, now}, Wish{}); a.Finding != TryNext || a.Felt != 1 || !slices.Equal(a.LeftOut, []LeftOut{{"0", OtherTyres}}) {
		t.Errorf("other tyres: %d, %g, %+v", a.Finding, a.Felt, a.LeftOut)
	}
}

// tableAt is a table of the plain car at 45 m/s with the wing at angles in degrees, 450 mm behind
// the axle, each bolted in its own way, with 0.4° of play.
func tableAt(t *testing.T, angles ...float64) *model.Table {
	t.Helper()
	car := modeltest.Plain(t)
	car.Parts, car.Joints = make([]model.Part, 2), make([]model.Joint, 1)
	car.Parts[1].Holes = []holes.Hole{{ID: "F"}, {ID: "R"}}
	for i := range 2 * len(angles) {
		car.Parts[0].Holes = append(car.Parts[0].Holes, holes.Hole{ID: strconv.Itoa(i)})
	}
	const play = 0.4 * plane.Deg
	var all []model.Position
	for i, a := range angles {
		fit := &holes.Fit{Pairs: []holes.Pair{{Lower: 2 * i, Upper: 0}, {Lower: 2*i + 1, Upper: 1}}, Play: play}
		s := &holes.Setting{ID: name(a), Play: play, Fits: []*holes.Fit{fit}}
		all = append(all, model.Position{Setting: s, X: 450, Height: 1300, Angle: a * plane.Deg})
	}
	w, err := car.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	return model.NewTable(car, all, w, 45)
}

func name(angle float64) string { return strconv.FormatFloat(angle, 'f', -1, 64) }
