package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/coast"
	"stanchion/model/laps"
	"stanchion/model/pace"
	"stanchion/model/ride"
	"stanchion/model/units"
)

// clearly reports whether a difference is clear: beyond two standard uncertainties, as everywhere.
func clearly(d, std float64) bool { return math.Abs(d) > 2*std }

// AreaDifference says by how much the drag area of a setting differs from another's.
func AreaDifference(of, from string, d, std float64) string {
	text := fmt.Sprintf("%s less %s: %s ± %s m²", of, from, units.Signed(d, 3), units.Fixed(std, 3))
	if !clearly(d, std) {
		return text + ": NOT CLEAR, more runs of each are needed."
	}
	if d > 0 {
		return text + ": clearly more drag."
	}
	return text + ": clearly less drag."
}

// NoCoastDown says that a rolling resistance, N, of a car of a mass, kg, is not that of tyres alone.
func NoCoastDown(a, mass float64) string {
	return fmt.Sprintf("DOUBTFUL AS COAST-DOWNS: a rolling resistance of %s %% of the weight is not that of tyres alone (about 0.6 to 2.5 %%). A gear left in or a brake that drags looks like more, a slope or the wind like less. Look at the runs; nothing is noted.",
		units.Fixed(100*a/(mass*units.Gravity), 1))
}

// CoastPairs are the pairs of runs, there and back, of one setting.
type CoastPairs struct {
	Name     string
	Times    []float64 // s, harmonic means
	From, To float64   // m/s
}

// PairsOf takes the pairs out of runs of one setting.
func PairsOf(name string, runs []coast.Run) (p CoastPairs) {
	p.Name = name
	p.Times, p.From, p.To = coast.PairTimes(runs)
	return p
}

func (p CoastPairs) line(u units.System) string {
	n := units.Count(len(p.Times), "pair")
	s := coast.Spread(p.Times)
	switch {
	case len(p.Times) == 0:
		return ""
	case math.IsNaN(s):
		return fmt.Sprintf("%s: %s; the rule of ISO 10521-1 needs three.", p.Name, n)
	}
	text := fmt.Sprintf("%s: %s between %s and %s, statistical precision %s %%, ", p.Name, n, u.Speed(p.To), u.Speed(p.From), units.Fixed(100*s, 1))
	if s <= coast.MostSpread {
		return text + "within the 3 % of ISO 10521-1."
	}
	return text + "more than the 3 % of ISO 10521-1: run more pairs, or wait for less wind."
}

// CoastRemarks says what a fit of coast-downs rests on.
func CoastRemarks(r *coast.Result, how coast.How, given bool, pairs []CoastPairs, u units.System) (lines []string) {
	if !r.BothWays {
		lines = append(lines, "ONE WAY ONLY, as far as is known: wind and slope cannot be told from drag and rolling, and are in the ±. Run both ways on the same road, with positions in the recording.")
	} else {
		lines = append(lines, fmt.Sprintf("Both ways: wind of %s along the road is taken out, with its slope.", u.Speed(math.Hypot(r.Wind[0], r.Wind[1]))))
	}
	var lacks []string
	for _, c := range []struct {
		has  bool
		name string
	}{{how.Throttle, "throttle"}, {how.Brake, "brake"}, {how.Straight, "lateral acceleration or positions"}} {
		if !c.has {
			lacks = append(lacks, c.name)
		}
	}
	if len(lacks) > 0 && !given {
		lines = append(lines, "Found without a channel for "+strings.Join(lacks, ", ")+": look at each run below; a gear left in or a touch of the brake looks like drag.")
	}
	for _, p := range pairs {
		if line := p.line(u); line != "" {
			lines = append(lines, line)
		}
	}
	return append(lines, fmt.Sprintf("Speeds scatter by %s about the fit; %s samples count as %.0f that are independent. The ± has the errors of mass (1 %%), rotating mass, air, speed and the growth of rolling with speed in it.",
		units.Fixed(u.SpeedFigure(r.Scatter), 2)+" "+u.SpeedUnit(), units.Fixed(float64(r.Samples), 0), r.Effective))
}

// SinkRemarks says what a sink rests on.
func SinkRemarks(name string, s ride.Sink, u units.System) (lines []string) {
	text := fmt.Sprintf("%s: %s of straight from %s to %s", name, units.Count(s.Pieces, "piece"), u.Speed(s.Slow), u.Speed(s.Fast))
	if s.Squat != 0 {
		way := "lowers"
		if s.Squat < 0 {
			way = "raises"
		}
		text += fmt.Sprintf("; each m/s² of speeding up %s it by %s, which is taken out", way, u.Dimension(math.Abs(s.Squat)))
	}
	if s.Inflated > 10 {
		text += "; SINK AND SQUAT CANNOT BE SEPARATED WELL: coast through the same speeds as well, off the throttle"
	}
	return append(lines, text+".")
}

// TopRemarks says what a top speed rests on.
func TopRemarks(t *pace.Top, u units.System) (lines []string) {
	text := fmt.Sprintf("%s on which it no longer gained", units.Count(len(t.Plateaus), "stretch"))
	if len(t.Plateaus) > 1 {
		text = strings.Replace(text, "stretchs", "stretches", 1)
	}
	if t.BothWays {
		return append(lines, text+fmt.Sprintf(", both ways: a wind of %s along the road is taken out.", u.Speed(t.Wind)))
	}
	return append(lines, text+", ONE WAY ONLY: a wind of 2 m/s moves it by two thirds of that, and is in the ±. Run both ways.")
}

// CornerDifference says by how much faster one setting was in a corner than another, and what downforce alone would do; gain is that, NaN where
// it is not known.
func CornerDifference(d *laps.Difference, name func(string) string, gain float64, u units.System) string {
	signed := func(v float64) string { return units.Signed(u.SpeedFigure(v), 1) }
	text := fmt.Sprintf("%s less %s: %s %s", name(d.B), name(d.A), signed(d.Seconds), u.SpeedUnit())
	switch d.Verdict {
	case laps.NoMeans:
		return fmt.Sprintf("NOT TOLD: %s or %s has no run with two passes that count.", name(d.A), name(d.B))
	case laps.OneRun:
		text += ", NOT TOLD: one of them was run once only; run both again, in the order A B B A"
	case laps.Clear:
		text += fmt.Sprintf(", %s to %s (95 %% interval by runs): CLEAR", signed(d.Seconds-d.Half), signed(d.Seconds+d.Half))
	default:
		text += fmt.Sprintf(", %s to %s (95 %% interval by runs): NOT YET", signed(d.Seconds-d.Half), signed(d.Seconds+d.Half))
	}
	if !math.IsNaN(gain) {
		text += fmt.Sprintf("; downforce alone would change it by %s %s", signed(gain), u.SpeedUnit())
	}
	return text + "."
}
