package words

import (
	"strings"
	"testing"

	"stanchion/model/laps"
	"stanchion/model/logbook"
)

// Two notes: one run of each tells of no difference, one lap still less, and of one setting no difference is looked for.
func TestLapsOfTwo(t *testing.T) {
	note := func(setting string, best float64, laps ...float64) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting, n.Lap = setting, setting, best
		for _, s := range laps {
			n.Laps = append(n.Laps, logbook.LapTime{Seconds: s})
		}
		return n
	}
	name := func(id string) string { return "setting " + id }
	for _, c := range []struct {
		one, other logbook.Note
		want       string
	}{
		{note("1", 102, 103, 103.2, 103.1), note("2", 101.5, 102, 102.2, 102.1), "NOT TOLD whether setting 2 is faster than setting 1: its laps were 1.00 s faster, but one of them was run once only"},
		{note("1", 102, 103, 103.2, 103.1), note("1", 101.5, 102, 102.2, 102.1), "The same setting: laps were −1.00 s from one run to the other, by 3 laps and 3 laps that count."},
		{note("1", 102), note("2", 101.5), "Lap time −0.50 s. One lap says little"},
		{note("1", 102, 103), note("2", 101.5, 102, 102.2), "Lap time −0.50 s. One lap says little"},
	} {
		if got := strings.Join(LapsOfTwo(c.one, c.other, name), "\n"); !strings.HasPrefix(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	blank := logbook.Blank()
	if got := LapsOfTwo(blank, note("1", 100), name); got != nil {
		t.Errorf("of a note without laps: %q", got)
	}
}

// What was run once is named in one line, and pairs that have intervals are counted.
func TestLapsRest(t *testing.T) {
	run := func(setting string, at float64) laps.Run {
		return laps.Run{Setting: setting, Laps: []laps.Lap{{Time: at}, {Time: at + 0.1}}}
	}
	a := laps.Analyse([]laps.Run{run("1", 100), run("2", 101), run("3", 102), run("1", 100.1), run("2", 101.1), run("3", 102.1), run("4", 104)})
	all := a.Differences()
	text := strings.Join(LapsRest(a, all, func(id string) string { return "row " + id }), "\n")
	for _, want := range []string{"row 1 IS FASTER than row 3 by 2.00 s", "row 2 IS FASTER than row 3", "NOT TOLD of what was run once only: row 4.", "1 in 20 pairs that are alike looks clear by chance, and there are 3 pairs here."} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, "row 2 by") || strings.Contains(text, "than row 4") {
		t.Errorf("the first answer is there again, or one run is held against others:\n%s", text)
	}
	if answer := LapsAnswer(nil, nil); len(answer) != 1 || !strings.HasPrefix(answer[0], "NOT TOLD: there are not two") {
		t.Errorf("%q", answer)
	}
}
