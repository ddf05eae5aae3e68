package laps

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// flat is a run of laps that are all alike.
func flat(setting string, time float64, n int) Run {
	r := Run{Setting: setting}
	for range n {
		r.Laps = append(r.Laps, Lap{Time: time})
	}
	return r
}

// By hand: of 100.0 100.2 100.4 100.1 100.3 the median is 100.2 and the median deviation 0.1, so that 3.5 times 1.4826 · 0.1 is 0.519 s: 100.8 is dropped
// and 100.7 is not; with one lap 1 s too short it is dropped too. Laps marked in or out never count.
func TestDroppedByHand(t *testing.T) {
	times := []float64{100.0, 100.2, 100.4, 100.1, 100.3}
	run := func(more ...Lap) Run {
		r := Run{Setting: "a"}
		for _, s := range times {
			r.Laps = append(r.Laps, Lap{Time: s})
		}
		r.Laps = append(r.Laps, more...)
		return r
	}
	for _, c := range []struct {
		lap  Lap
		want Reason
	}{{Lap{Time: 100.7}, Counted}, {Lap{Time: 101.3}, Slow}, {Lap{Time: 99.0}, Fast}, {Lap{Time: 100.2, Mark: "in"}, InLap}, {Lap{Time: 130, Mark: "out"}, OutLap}} {
		j := judge(run(c.lap))
		if got := j.Why[5]; got != c.want {
			t.Errorf("%+v is %s, not %s", c.lap, got.Key(), c.want.Key())
		}
	}
}

// By hand: runs of 100 101 102 and 110 111 112 s get 1 s a lap slower; their means are those of the middle lap, and nothing is left over. A third run
// that begins a lap later, 200 at lap 2 and 201 at lap 3, is given for lap 2 as well.
func TestTrendByHand(t *testing.T) {
	r := func(first float64, marks ...string) Run {
		one := Run{Setting: "a"}
		for i, m := range marks {
			one.Laps = append(one.Laps, Lap{Time: first + float64(i), Mark: m})
		}
		return one
	}
	a := Analyse([]Run{r(100, "", "", ""), r(110, "", "", ""), r(199, "out", "", "")})
	if math.Abs(a.Trend-1) > 1e-9 || a.Scatter > 1e-9 {
		t.Errorf("trend %g, scatter %g", a.Trend, a.Scatter)
	}
	// The laps that count are at 1 2 3, 1 2 3 and 2 3: on the mean 2.125.
	for i, want := range []float64{101.125, 111.125, 200.125} {
		if got := a.Runs[i].Mean; math.Abs(got-want) > 1e-9 {
			t.Errorf("run %d: mean %g, want %g", i, got, want)
		}
	}
}

// Student's sleep data (1908), as R's own example of its test has them: t.test(extra ~ group, data = sleep) gives t = -1.8608, 17.776 degrees of freedom
// and -3.3654832 to 0.2054832. Source: R Core Team, "R: A Language and Environment for Statistical Computing", help page of t.test.
func TestWelchAgainstR(t *testing.T) {
	one := []float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0}
	two := []float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}
	var runs []Run
	for i := range one {
		runs = append(runs, flat("one", 100+one[i], 3), flat("two", 100+two[i], 3))
	}
	d := Analyse(runs).Compare("one", "two")
	if math.Abs(d.Free-17.776) > 5e-4 || math.Abs(d.Seconds+d.Half-3.3654832) > 5e-7 || math.Abs(d.Seconds-d.Half+0.2054832) > 5e-7 || d.Verdict != NotYet || d.OneAfter {
		t.Errorf("%+v", d)
	}
}

// By hand: of 1 2 3 4 against 7 8 9 10 the means differ by 6, and of the 70 ways to deal eight runs out only that and its mirror image do: 1/35. With three of
// each there are 20 ways, so that nothing could be rarer than 1/10: nothing is told.
func TestSwappedByHand(t *testing.T) {
	if got := swapped([]float64{1, 2, 3, 4}, []float64{7, 8, 9, 10}); math.Abs(got-1.0/35) > 1e-12 {
		t.Errorf("%g, want 1/35", got)
	}
	if got := swapped([]float64{1, 2, 3}, []float64{7, 8, 9}); !math.IsNaN(got) {
		t.Errorf("%g", got)
	}
}

// By hand: two runs of each, all laps 0.4 s apart, with means of 103.4 twice and 103.6 twice. The runs agree exactly and would make any difference clear; by the
// laps, which scatter by √(8 · 0.04 / 4) = 0.283 s, each mean is known to 0.283 · √(2/2)/2 = 0.141 s, so that the interval is 4.303 · 0.2 = 0.861 s.
func TestRunsThatAgreeByChance(t *testing.T) {
	r := func(setting string, one, two float64) Run {
		return Run{Setting: setting, Laps: []Lap{{Time: one}, {Time: two}}}
	}
	d := Analyse([]Run{r("a", 103.2, 103.6), r("b", 103.4, 103.8), r("b", 103.8, 103.4), r("a", 103.6, 103.2)}).Compare("a", "b")
	if d.Verdict != NotYet || math.Abs(d.Half-0.861) > 0.01 {
		t.Errorf("%+v", d)
	}
}

// By hand: runs that scatter by 0.2 s and differ by 0.3 s. With n of each the interval reaches t(2n-2) · 0.2 · √(2/n): for n = 4 2.447 · 0.1414 = 0.346, for
// n = 5 2.306 · 0.1265 = 0.292. From two of each it takes three more.
func TestFurtherByHand(t *testing.T) {
	if got := further(0.3, 0.2, 2); got != 3 {
		t.Errorf("%d more, want 3", got)
	}
	if got := further(0.001, 0.2, 2); got != 0 {
		t.Errorf("%d more for next to nothing", got)
	}
}

// One run of each never tells, however fast its laps.
func TestOneRunTellsNothing(t *testing.T) {
	d := Analyse([]Run{flat("a", 100, 9), flat("b", 105, 9)}).Compare("a", "b")
	if d.Verdict != OneRun || !math.IsNaN(d.Half) || math.Abs(d.Seconds-5) > 1e-9 || !d.OneAfter {
		t.Errorf("%+v", d)
	}
	if d := Analyse([]Run{flat("a", 100, 9), flat("b", 105, 1)}).Compare("a", "b"); d.Verdict != NoMeans {
		t.Errorf("%+v", d)
	}
}

// Days with known truth: the 95 % interval holds the true difference as often as it says, and runs that are alike are called different no more often than that.
// LAP_DAYS sets how many are driven.
func TestSimulatedDays(t *testing.T) {
	days := 400
	if n, err := strconv.Atoi(os.Getenv("LAP_DAYS")); err == nil {
		days = n
	}
	rng := rand.New(rand.NewPCG(21, 9))
	held, alarms := 0, 0
	for day := range days {
		truth := 0.0
		if day%2 == 0 {
			truth = 0.4 * rng.NormFloat64()
		}
		var runs []Run
		for i, s := range strings.Split("abbaabba", "") {
			level := 100 + 0.25*rng.NormFloat64() - 0.02*float64(i) // the track gets quicker
			if s == "b" {
				level += truth
			}
			r := Run{Setting: s}
			for k := range 8 {
				lap := level + 0.03*float64(k) + 0.3*rng.NormFloat64()
				if rng.Float64() < 0.08 {
					lap += 1 + 4*rng.Float64() // traffic
				}
				r.Laps = append(r.Laps, Lap{Time: lap})
			}
			runs = append(runs, r)
		}
		d := Analyse(runs).Compare("a", "b")
		if math.Abs(d.Seconds-truth) <= d.Half {
			held++
		}
		if truth == 0 && d.Verdict == Clear {
			alarms++
		}
	}
	share, false1 := float64(held)/float64(days), float64(alarms)/float64((days+1)/2)
	t.Logf("%d days: the interval holds the truth in %.1f %%, alike runs called different in %.1f %%", days, 100*share, 100*false1)
	if share < 0.925 || share > 0.985 || false1 > 0.085 {
		t.Errorf("the interval holds the truth in %.1f %%, alike runs are called different in %.1f %%", 100*share, 100*false1)
	}
}

// A table with columns of any order; a line that cannot be read costs that line; without names of runs one ends where the setting changes.
func TestReadCSV(t *testing.T) {
	runs, faults, err := ReadCSV([]byte("\uFEFFStint;Lap time;setting;pit\n1;1:52.5;1 b2;out\n1;1:43.2;1 b2;\n1;x;1 b2;\n2;1:44;2 b2\n2;103.9;2 b2\n\n"), Columns{})
	if err != nil || len(runs) != 2 || len(faults) != 1 || faults[0].Line != 4 || !strings.Contains(faults[0].What, "such as 1:42.3") {
		t.Fatalf("%+v %+v %v", runs, faults, err)
	}
	if r := runs[0]; r.Name != "1" || r.Setting != "1 b2" || len(r.Laps) != 2 || r.Laps[0].Mark != "out" || r.Laps[1].Time != 103.2 || r.Laps[1].Line != 3 {
		t.Errorf("%+v", r)
	}
	runs, _, err = ReadCSV([]byte("setting,time\na,100\na,101\nb,102\na,103\n"), Columns{})
	if err != nil || len(runs) != 3 {
		t.Errorf("%+v %v", runs, err)
	}
	if _, _, err = ReadCSV([]byte("a,b\n1,2\n"), Columns{}); err == nil || !strings.Contains(err.Error(), "its columns are a, b: say which with --columns setting=NAME") {
		t.Error(err)
	}
	if runs, _, err = ReadCSV([]byte("a,b\nx,2\n"), Columns{Setting: "A", Time: "b"}); err != nil || len(runs) != 1 {
		t.Errorf("%+v %v", runs, err)
	}
}

func TestReadTyped(t *testing.T) {
	r, err := ReadTyped("row 1, B2: out 1:52.1 1:43.2 103.4 in 1:58")
	if err != nil || r.Setting != "row 1, B2" || fmt.Sprint(r.Laps) != "[{112.1 0 out} {103.2 0 } {103.4 0 } {118 0 in}]" {
		t.Errorf("%+v %v", r, err)
	}
	for _, bad := range []string{"", "1 b2", ": 100", "1 b2: ", "1 b2: 1:43,2", "1 b2: fast"} {
		if _, err := ReadTyped(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// Whatever the times are, nothing is lost: every lap has a reason, means lie between the least and the largest lap that counts where there is no trend, and swapping
// the settings turns the sign.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var runs []Run
		for i := range rapid.IntRange(1, 7).Draw(t, "runs") {
			r := Run{Name: fmt.Sprint(i), Setting: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "setting")}
			for range rapid.IntRange(1, 9).Draw(t, "laps") {
				r.Laps = append(r.Laps, Lap{Time: rapid.Float64Range(60, 200).Draw(t, "time"), Mark: rapid.SampledFrom([]string{"", "", "in", "out"}).Draw(t, "mark")})
			}
			runs = append(runs, r)
		}
		a := Analyse(runs)
		for _, j := range a.Runs {
			if len(j.Why) != len(j.Laps) {
				t.Fatal("laps are lost")
			}
		}
		d, back := a.Compare("a", "b"), a.Compare("b", "a")
		if d.Verdict != back.Verdict || d.Verdict != NoMeans && math.Abs(d.Seconds+back.Seconds) > 1e-9 || !math.IsNaN(d.Half) && math.Abs(d.Half-back.Half) > 1e-9*d.Half {
			t.Fatalf("%+v and %+v", d, back)
		}
	})
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte("run,setting,time\n1,a,1:40\n1,a,1:41\n2,b,100\n"))
	f.Add([]byte("setting;time;pit\na;\"1:40\";out\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		runs, _, err := ReadCSV(data, Columns{})
		if err != nil {
			return
		}
		a := Analyse(runs)
		for _, s := range a.Settings {
			for _, o := range a.Settings {
				if d := a.Compare(s, o); d.Half < 0 || d.Verdict == Clear && math.IsNaN(d.Half) {
					t.Fatalf("%+v", d)
				}
			}
		}
	})
}
