package logbook

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model/units"
)

func TestReadCorner(t *testing.T) {
	for text, want := range map[string]Corner{
		"o2":                                   {2, 2, 2, NoFeel},
		"u":                                    {-1, -1, -1, NoFeel},
		"uuu":                                  {-3, -3, -3, NoFeel},
		"u1 n o2":                              {-1, 0, 2, NoFeel},
		"U2, N, OO g-2":                        {-2, 0, 2, -2},
		"- o1 -":                               {NoFeel, 1, NoFeel, NoFeel},
		"-1 0 +2":                              {-1, 0, 2, NoFeel},
		"g0":                                   {NoFeel, NoFeel, NoFeel, 0},
		"g3":                                   {NoFeel, NoFeel, NoFeel, -3},
		"Slight understeer":                    Whole(-1),
		"strong oversteer g-1":                 {3, 3, 3, -1},
		"clear understeer, neutral, oversteer": {-2, 0, 1, NoFeel},
		" n  g-1 ":                             {0, 0, 0, -1},
		"\u22122 0 1":                          {-2, 0, 1, NoFeel},
		"- \u2013 - g\u22121":                  {NoFeel, NoFeel, NoFeel, -1},
	} {
		if got, err := ReadCorner(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", " ", "u4", "o0", "uo", "uuuu", "u1 n", "n n n n", "g4", "g", "g-1 g-2", "4", "-", "- - -", "slight", "slight neutral", "clear o1", "very understeer", "u-1", "u+1", "ok"} {
		if c, err := ReadCorner(text); err == nil {
			t.Errorf("%q is read as %+v", text, c)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		balance := rapid.SampledFrom([]int{NoFeel, -3, -2, -1, 0, 1, 2, 3})
		c := Corner{balance.Draw(t, "entry"), balance.Draw(t, "middle"), balance.Draw(t, "exit"), rapid.SampledFrom([]int{NoFeel, -3, -2, -1, 0}).Draw(t, "grip")}
		if c == noCorner {
			return
		}
		if got, err := ReadCorner(SpellCorner(c)); err != nil || got != c {
			t.Fatalf("%+v spelt %q reads back as %+v, %v", c, SpellCorner(c), got, err)
		}
	})
}

func TestStepCorner(t *testing.T) {
	for _, c := range []struct {
		text string
		by   int
		want string
	}{
		{"", 1, "n"}, {"", -1, "n"}, {"n", 1, "o1"}, {"n", -1, "u1"}, {"u1", 1, "n"}, {"o3", 1, "o3"}, {"u3", -1, "u3"}, {"uu", 1, "u1"},
		{"u1 ", 1, "u1 n"}, {"u1 n", 1, "u1 o1"}, {"u1 -", -1, "u1 n"}, {"n g-1", -1, "n g-2"}, {"n g0", 1, "n g0"}, {"what", 1, "what"}, {"n gx", 1, "n gx"},
	} {
		if got := StepCorner(c.text, c.by); got != c.want {
			t.Errorf("StepCorner(%q, %d) = %q, want %q", c.text, c.by, got, c.want)
		}
	}
}

// What balance a note says, by hand: the middle of the corner before entry and exit, phases before
// the grips of the ends.
func TestBalances(t *testing.T) {
	ends := func(front, rear int) Feel {
		f := noFeel
		f.FrontFast, f.RearFast = front, rear
		return f
	}
	fast := func(c Corner) Feel {
		f := ends(-1, 3)
		f.Fast = c
		return f
	}
	for _, c := range []struct {
		what string
		f    Feel
		want float64
		ok   bool
	}{
		{"nothing", noFeel, 0, false},
		{"front 1, rear -1", ends(1, -1), 2, true},
		{"front -1, rear 0", ends(-1, 0), -1, true},
		{"front 3, rear -3", ends(3, -3), 3, true},
		{"one end", ends(1, NoFeel), 0, false},
		{"middle", fast(Corner{-3, 1, -3, NoFeel}), 1, true},
		{"entry and exit", fast(Corner{1, NoFeel, 2, NoFeel}), 1.5, true},
		{"entry against exit", fast(Corner{-1, NoFeel, 2, NoFeel}), 0, false},
		{"entry", fast(Corner{-2, NoFeel, NoFeel, NoFeel}), -2, true},
		{"exit", fast(Corner{NoFeel, NoFeel, 3, NoFeel}), 3, true},
		{"grip only", fast(Corner{NoFeel, NoFeel, NoFeel, -1}), -3, true},
	} {
		if got, ok := c.f.FastBalance(); ok != c.ok || ok && got != c.want {
			t.Errorf("%s: %g, %v; want %g, %v", c.what, got, ok, c.want, c.ok)
		}
	}
	f := noFeel
	f.FrontSlow, f.RearSlow = -2, 1
	if b, ok := f.Balance(); !ok || b != -3 {
		t.Errorf("slow corners alone: %g, %v", b, ok)
	}
	for _, c := range []struct {
		f     Feel
		short bool
	}{{ends(-1, -2), true}, {ends(-1, 0), false}, {ends(-1, NoFeel), false}, {fast(Corner{0, 0, 0, 0}), false}, {fast(Corner{0, 0, 0, -1}), true}} {
		if got := c.f.FastShort(); got != c.short {
			t.Errorf("%v: short of grip %v", c.f, got)
		}
	}
}

// What else a feel says, by hand.
func TestShortUnstableOneEnd(t *testing.T) {
	for _, c := range []struct {
		what                                string
		change                              func(*Feel)
		fast, slow, unstable, oneEnd, known bool
	}{
		{"nothing", func(*Feel) {}, false, false, false, false, false},
		{"slow corners short", func(f *Feel) { f.Slow.Grip = -1 }, false, true, false, false, true},
		{"slow ends short", func(f *Feel) { f.FrontSlow, f.RearSlow = -1, -3 }, false, true, false, false, true},
		{"slow front short", func(f *Feel) { f.FrontSlow, f.RearSlow = -1, 0 }, false, false, false, false, true},
		{"fast ends short, slow enough", func(f *Feel) { f.FrontFast, f.RearFast, f.Slow.Grip = -1, -1, 0 }, true, false, false, false, true},
		{"braking", func(f *Feel) { f.Braking = -1 }, false, false, true, false, true},
		{"straight", func(f *Feel) { f.Straight = -2 }, false, false, true, false, true},
		{"stable", func(f *Feel) { f.Braking, f.Straight = 0, 0 }, false, false, false, false, true},
		{"front of fast corners", func(f *Feel) { f.FrontFast = -1 }, false, false, false, true, true},
		{"rear of slow corners", func(f *Feel) { f.RearSlow = 1 }, false, false, false, true, true},
		{"one end beside the balance", func(f *Feel) { f.RearFast, f.Fast.Exit = 1, 0 }, false, false, false, false, true},
		{"both ends", func(f *Feel) { f.FrontFast, f.RearFast = 1, 0 }, false, false, false, false, true},
	} {
		f := noFeel
		c.change(&f)
		if f.FastShort() != c.fast || f.SlowShort() != c.slow || f.Unstable() != c.unstable || f.OneEnd() != c.oneEnd || f.Known() != c.known {
			t.Errorf("%s: short %v %v, unstable %v, one end %v, known %v", c.what, f.FastShort(), f.SlowShort(), f.Unstable(), f.OneEnd(), f.Known())
		}
	}
}

func TestFeelInWords(t *testing.T) {
	feel := func(change func(*Feel)) Feel {
		f := noFeel
		change(&f)
		return f
	}
	for want, f := range map[string]Feel{
		"clear oversteer in fast corners; neutral in slow corners, short of grip": feel(func(f *Feel) {
			f.Fast, f.Slow = Whole(2), Corner{0, 0, 0, -2}
		}),
		"fast corners: slight understeer at entry, strong oversteer at exit": feel(func(f *Feel) { f.Fast = Corner{-1, NoFeel, 3, NoFeel} }),
		"enough grip in slow corners; unstable under braking; stable on the straight": feel(func(f *Feel) {
			f.Slow.Grip, f.Braking, f.Straight = 0, -2, 0
		}),
		"understeer in fast corners (grip \u22121/+2)": feel(func(f *Feel) { f.FrontFast, f.RearFast = -1, 2 }),
		"fast corners: grip \u22121/\u2013":            feel(func(f *Feel) { f.FrontFast = -1 }),
	} {
		if got := f.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A notebook of the first version reads as it did, and nothing of it changes when a note with all
// that can be felt goes behind it.
func TestOlderNotesStay(t *testing.T) {
	old, err := os.ReadFile("../../testdata/cars/hatch.notes.toml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	if err := os.WriteFile(path, old, 0o644); err != nil {
		t.Fatal(err)
	}
	n := sample(3)
	n.Feel = Feel{NoFeel, NoFeel, NoFeel, NoFeel, Corner{1, 0, -1, -3}, Corner{3, -3, 2, 0}, -1, 0}
	n.TyreSet, n.Driver, n.Track = "set \"B\"", "the other", TrackDamp
	written, _, err := Append(path, n)
	if err != nil {
		t.Fatal(err)
	}
	data, _ := os.ReadFile(path)
	b, err := Read(path)
	if err != nil || !bytes.HasPrefix(data, old) || len(b.All) != 3 || len(b.Told) != 0 {
		t.Fatalf("%d notes, %v, %q", len(b.All), err, b.Told)
	}
	if b.All[0].Feel.FrontFast != -1 || b.All[0].Feel.RearFast != 1 || b.All[0].Feel.String() != "understeer in fast corners (grip \u22121/+1)" {
		t.Errorf("%+v", b.All[0].Feel)
	}
	if got := b.All[2]; got.Feel != n.Feel || got.TyreSet != n.TyreSet || got.Driver != n.Driver || got.Track != n.Track || got.ID != written.ID {
		t.Errorf("%+v", got)
	}
	var facts []string
	for _, f := range b.All[2].Facts(units.Metric) {
		facts = append(facts, f.What+": "+f.Text)
	}
	for _, want := range []string{"fast corners, entry: strong oversteer", "fast corners, middle: strong understeer", "fast corners, exit: clear oversteer",
		"fast corners, grip: enough grip", "slow corners, entry: slight oversteer", "slow corners, middle: neutral", "slow corners, exit: slight understeer",
		"slow corners, grip: very short of grip", "under braking: slightly unstable", "on the straight: stable", "driver: the other", "track: damp", "tyre set: set \"B\""} {
		if !strings.Contains(strings.Join(facts, "\n")+"\n", want+"\n") {
			t.Errorf("no fact %q in %q", want, facts)
		}
	}
}

// Values that cannot be are told and not used; keys of later versions are passed over.
func TestOddFeels(t *testing.T) {
	n, odd, wrong := decode([]byte("[[note]]\nid = \"a\"\nat = 2026-11-25T10:00:00Z\nbalance_fast_entry = 4\ngrip_fast = 1\nstability_braking = -3\ntrack = \"icy\"\nlater_key = 5\n"))
	if wrong != "" || strings.Join(odd, " ") != "balance_fast_entry grip_fast track" || n.Feel.Fast.Entry != NoFeel || n.Feel.Fast.Grip != NoFeel || n.Feel.Braking != -3 || n.Track != "" {
		t.Errorf("%+v, %q, %q", n.Feel, odd, wrong)
	}
}
