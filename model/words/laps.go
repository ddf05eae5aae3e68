package words

import (
	"fmt"
	"math"
	"strings"

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
