package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/choose"
	"stanchion/model/laps"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// LapsDropped says which laps are not counted, and by which rule; "" for none.
func LapsDropped(a *laps.Analysis) string {
	counts := map[laps.Reason]int{}
	for i := range a.Runs {
		for _, why := range a.Runs[i].Why {
			counts[why]++
		}
	}
	var parts []string
	for _, r := range []struct {
		why laps.Reason
		one string
	}{{laps.OutLap, "out-lap"}, {laps.InLap, "in-lap"}, {laps.Slow, "slow lap"}, {laps.Fast, "lap that is too fast to be one"}} {
		switch n := counts[r.why]; {
		case n == 1:
			parts = append(parts, "1 "+r.one)
		case n > 1 && r.why == laps.Fast:
			parts = append(parts, fmt.Sprintf("%d laps that are too fast to be one", n))
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", n, r.one))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	text := "Not counted: " + strings.Join(parts, ", ")
	if counts[laps.Slow]+counts[laps.Fast] > 0 {
		text += fmt.Sprintf("; slow or too fast is further than %.1f scaled median absolute deviations off the median of its run", laps.Spoilt)
	}
	return text + "."
}

// LapScatter says what was taken out of the laps and what is left.
func LapScatter(a *laps.Analysis) string {
	if math.IsNaN(a.Scatter) {
		return "Too few laps to say how much a lap scatters."
	}
	text := fmt.Sprintf("A lap scatters by %s s about its run.", seconds(a.Scatter))
	switch {
	case math.IsNaN(a.TrendStdUnc):
		return text + " Too few laps to tell a trend over a run: none is taken out."
	case !a.TakenOut():
		return fmt.Sprintf("Over a run no trend is clear, %s ± %s s a lap: none is taken out. ", units.Signed(a.Trend, 3), units.Fixed(a.TrendStdUnc, 3)) + text
	case a.Trend > 0:
		return fmt.Sprintf("Over a run laps get slower by %s ± %s s each, tyres and fuel together; that is taken out. ", units.Fixed(a.Trend, 3), units.Fixed(a.TrendStdUnc, 3)) + text
	}
	return fmt.Sprintf("Over a run laps get faster by %s ± %s s each, tyres and fuel together; that is taken out. ", units.Fixed(-a.Trend, 3), units.Fixed(a.TrendStdUnc, 3)) + text
}

func seconds(s float64) string { return units.Fixed(s, 2) }

// LapVerdict says what two settings differ by: the answer first, then what it rests on. name gives a setting's name.
func LapVerdict(d *laps.Difference, name func(string) string) []string {
	one, other := name(d.A), name(d.B)
	if d.Seconds < 0 {
		one, other = other, one
	}
	size := math.Abs(d.Seconds)
	from, to := size-d.Half, size+d.Half
	var lines []string
	switch d.Verdict {
	case laps.NoMeans:
		return []string{fmt.Sprintf("NOT TOLD: %s or %s has no run with two laps that count.", name(d.A), name(d.B))}
	case laps.OneRun:
		lines = append(lines, fmt.Sprintf("NOT TOLD whether %s is faster than %s: its laps were %s s faster, but one of them was run once only, and what track, tyres and driver do from run to run is in that.",
			one, other, seconds(size)))
		if !math.IsNaN(d.ByLaps) {
			lines = append(lines, fmt.Sprintf("The laps alone would give ±%s s. Run both again, in the order A B B A.", seconds(d.ByLaps)))
		}
	case laps.Clear:
		lines = append(lines, fmt.Sprintf("%s IS FASTER than %s by %s s a lap: %s to %s s (95 %% interval by runs).", one, other, seconds(size), seconds(from), seconds(to)))
	default:
		lines = append(lines, fmt.Sprintf("NOT YET: %s was faster than %s by %s s a lap, and the 95 %% interval by runs is %s to %s s.", one, other, seconds(size),
			units.Signed(from, 2), units.Signed(to, 2)))
		switch {
		case d.More > 0:
			lines = append(lines, fmt.Sprintf("A difference of that size would be clear with %s of each.", units.Count(d.More, "more run")))
		default:
			lines = append(lines, "Even 20 more runs of each would not make a difference of that size clear: look for another measure, or take them as equal.")
		}
	}
	if !math.IsNaN(d.Chance) {
		lines = append(lines, fmt.Sprintf("By dealing the runs out anew, %.0f %% of all ways differ by as much.", math.Ceil(100*d.Chance-1e-9)))
	}
	if d.OneAfter {
		lines = append(lines, "All runs of one were before all of the other: what the track and the day did in between is in the difference.")
	}
	return lines
}

// LapTime spells the time of a lap to hundredths.
func LapTime(s float64) string {
	text := logbook.SpellLap(math.Round(s*100) / 100)
	if dot := strings.IndexByte(text, '.'); dot >= 0 && len(text)-dot < 3 {
		text += "0"
	}
	return text
}

// LapsAnswer is what stands first: whether the two fastest settings differ.
func LapsAnswer(all []laps.Difference, name func(string) string) []string {
	if len(all) == 0 {
		return []string{"NOT TOLD: there are not two settings that have a run with two laps that count."}
	}
	return LapVerdict(&all[0], name)
}

// LapsRest is what stands below the runs: what was left out, what laps scatter by, and how the other settings differ that were run more than once. An
// empty line stands between them.
func LapsRest(a *laps.Analysis, all []laps.Difference, name func(string) string) (lines []string) {
	if text := LapsDropped(a); text != "" {
		lines = append(lines, text)
	}
	lines = append(lines, LapScatter(a))
	pairs := 0
	for i, d := range all {
		if d.Verdict == laps.OneRun || d.Verdict == laps.NoMeans {
			continue
		}
		if pairs++; i > 0 {
			lines = append(append(lines, ""), LapVerdict(&d, name)...)
		}
	}
	var once []string
	for _, s := range a.Fastest() {
		if _, runs, _, _ := a.Mean(s); runs == 1 {
			once = append(once, name(s))
		}
	}
	if len(all) > 1 && len(once) > 0 {
		lines = append(lines, "", "NOT TOLD of what was run once only: "+strings.Join(once, "; ")+".")
	}
	if pairs > 1 {
		lines = append(lines, "", fmt.Sprintf("Each interval is for its own pair: 1 in %d pairs that are alike looks clear by chance, and there are %d pairs here.", oneIn, pairs))
	}
	return lines
}

// oneIn is of how many 95 % intervals one does not hold the truth.
const oneIn = 20

// LapsOfNotes says which runs of the notebook are held against each other, and which notes are left out.
func LapsOfNotes(kept []logbook.Note, left []choose.LeftOut) (lines []string) {
	if len(kept) > 0 {
		lines = append(lines, fmt.Sprintf("From the notebook: %s, all that are comparable with the last, note %s.", units.Count(len(kept), "run"), units.Printable(kept[len(kept)-1].ID)))
	}
	if len(left) > 0 {
		lines = append(lines, leftOut(left))
	}
	return lines
}

// LapsOfTwo says what the laps of two notes tell of their settings; nil where one of them has none. One run of each
// tells of no difference, and one lap still less.
func LapsOfTwo(one, other logbook.Note, name func(string) string) []string {
	runs := laps.OfNotes([]logbook.Note{one, other})
	if len(runs) == 2 {
		a := laps.Analyse(runs)
		x, y := &a.Runs[0], &a.Runs[1]
		if x.Mean > 0 && y.Mean > 0 && one.Setting == other.Setting {
			return []string{fmt.Sprintf("The same setting: laps were %s s from one run to the other, by %s and %s that count. That is what track, tyres and driver do.",
				units.Signed(y.Mean-x.Mean, 2), units.Count(x.N, "lap"), units.Count(y.N, "lap"))}
		}
		if d := a.Compare(one.Setting, other.Setting); d.Verdict != laps.NoMeans && one.Setting != other.Setting {
			return LapVerdict(&d, name)
		}
	}
	if math.IsNaN(one.Lap) || math.IsNaN(other.Lap) {
		return nil
	}
	return []string{"Lap time " + units.Signed(other.Lap-one.Lap, 2) + " s. One lap says little: traffic alone can make that difference."}
}

// LapsCaution goes with every comparison of laps.
const LapsCaution = "A lap time tells of driver, tyres, traffic and weather as well. Change one thing at a time."
