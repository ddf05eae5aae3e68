// Package laps says whether one setting was faster than another, or whether the laps do not tell: laps that were spoilt are dropped by
// a stated rule, tyres and fuel are taken out as a trend over a run, and runs, not laps, are what two settings are compared by.
//
// Times are in seconds.
package laps

import (
	"cmp"
	"math"
	"slices"
)

// Lap is one lap as it was timed.
type Lap struct {
	Time float64 // s
	Line int     // of the file that it is from; 0 for none
	Mark string  // "in" or "out" for a lap into or out of the pits; "" for a flying one
}

// Run is what was driven in one go, from leaving the pits to coming back.
type Run struct {
	Name    string
	Setting string
	Laps    []Lap
}

// Reason is why a lap is not counted.
type Reason int

// Reasons.
const (
	Counted Reason = iota
	OutLap
	InLap
	Slow // further above the run's median than scatter explains: traffic, a slip, a flag
	Fast // further below it: a short cut, or a wrong time
)

// Key is what the reason is called in machine-readable output.
func (r Reason) Key() string { return [...]string{"counted", "out_lap", "in_lap", "slow", "fast"}[r] }

// Spoilt is from how many scaled median absolute deviations off the run's median a lap is dropped.
// Source: B. Iglewicz and D. C. Hoaglin, "How to Detect and Handle Outliers" (ASQC, 1993): modified z-scores above 3.5.
const Spoilt = 3.5

// toSigma makes a standard deviation of a median absolute deviation where times scatter normally: 1/Φ⁻¹(¾).
const toSigma = 1.4826

// leastScatter is what the scatter of a run is taken for at least when laps are dropped, s: a few laps can lie together by chance, and
// watches read to hundredths. Common practice, no source.
const leastScatter = 0.05

// leastLaps is how many laps of a run must count for it to say anything.
const leastLaps = 2

// Judged is a run with what was made of its laps.
type Judged struct {
	Run
	Why []Reason // for each lap

	Mean float64 // s, of the laps that count, as if driven in the middle of a run of the usual length
	N    int     // laps that count
}

// judge drops the laps of a run that do not count.
func judge(r Run) Judged {
	j := Judged{Run: r, Why: make([]Reason, len(r.Laps))}
	var flying []float64
	for i, l := range r.Laps {
		switch l.Mark {
		case "out":
			j.Why[i] = OutLap
		case "in":
			j.Why[i] = InLap
		default:
			flying = append(flying, l.Time)
		}
	}
	if len(flying) == 0 {
		return j
	}
	mid := median(flying)
	var off []float64
	for _, t := range flying {
		off = append(off, math.Abs(t-mid))
	}
	scatter := max(toSigma*median(off), leastScatter)
	for i, l := range r.Laps {
		if j.Why[i] != Counted {
			continue
		}
		switch z := (l.Time - mid) / scatter; {
		case z > Spoilt:
			j.Why[i] = Slow
		case z < -Spoilt:
			j.Why[i] = Fast
		default:
			j.N++
		}
	}
	return j
}

// each visits the laps that count, with their number in the run, from 1.
func (j *Judged) each(visit func(number int, time float64)) {
	for i, l := range j.Laps {
		if j.Why[i] == Counted {
			visit(i+1, l.Time)
		}
	}
}

func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	n := len(x)
	return (x[(n-1)/2] + x[n/2]) / 2
}

// Analysis is what the laps of some runs tell.
type Analysis struct {
	Runs     []Judged // in the order in which they were driven
	Settings []string // in the order in which they came first

	Trend       float64 // s a lap, by which laps of a run get slower; 0 where it cannot be told. It is taken out where it is clear
	TrendStdUnc float64 // NaN where there are too few laps to tell
	Scatter     float64 // s, standard deviation of a lap about its run's own line; NaN where there are too few laps
	free        int     // degrees of freedom of Scatter
	middle      float64 // number of the lap that means are given for
}

// Analyse judges laps and takes the trend of runs out of them. Runs with fewer than two laps that count have no mean.
func Analyse(runs []Run) *Analysis {
	a := &Analysis{Trend: 0, TrendStdUnc: math.NaN(), Scatter: math.NaN()}
	for _, r := range runs {
		a.Runs = append(a.Runs, judge(r))
		if !slices.Contains(a.Settings, r.Setting) {
			a.Settings = append(a.Settings, r.Setting)
		}
	}
	a.fitTrend()
	return a
}

// fitTrend fits one slope over the number of the lap to all runs, each with a level of its own, by least squares.
func (a *Analysis) fitTrend() {
	var xx, xy, yy, numbers float64
	laps, levels := 0, 0
	for i := range a.Runs {
		j := &a.Runs[i]
		if j.N < leastLaps {
			continue
		}
		x, y := j.middle()
		j.each(func(n int, t float64) {
			dx, dy := float64(n)-x, t-y
			xx, xy, yy = xx+dx*dx, xy+dx*dy, yy+dy*dy
		})
		numbers += x * float64(j.N)
		laps, levels = laps+j.N, levels+1
	}
	if laps == 0 {
		return
	}
	a.middle = numbers / float64(laps)
	rest := yy
	if a.free = laps - levels; a.free > 3 && xx > 0 { // one more for the slope, and some to judge it by
		a.Trend = xy / xx
		straight := max(0, yy-xy*xy/xx)
		a.TrendStdUnc = math.Sqrt(straight / float64(a.free-1) / xx)
		if a.TakenOut() {
			rest, a.free = straight, a.free-1
		}
	}
	if a.free > 0 {
		a.Scatter = math.Sqrt(rest / float64(a.free))
	}
	for i := range a.Runs {
		j := &a.Runs[i]
		if j.N >= leastLaps {
			x, y := j.middle()
			if j.Mean = y; a.TakenOut() {
				j.Mean += a.Trend * (a.middle - x)
			}
		}
	}
}

// TakenOut reports whether the trend is clear, so that it is taken out: an unclear one would bring its own error into the means.
func (a *Analysis) TakenOut() bool { return math.Abs(a.Trend) >= 2*a.TrendStdUnc }

// middle is the mean number and time of the laps that count.
func (j *Judged) middle() (number, time float64) {
	j.each(func(n int, t float64) { number, time = number+float64(n), time+t })
	return number / float64(j.N), time / float64(j.N)
}

// of lists the runs of a setting that have a mean, by their number in the order driven.
func (a *Analysis) of(setting string) (all []int) {
	for i := range a.Runs {
		if a.Runs[i].Setting == setting && a.Runs[i].N >= leastLaps {
			all = append(all, i)
		}
	}
	return all
}

// Mean is the mean of a setting's runs, s, and how many runs and laps are in it; not ok where it has none.
func (a *Analysis) Mean(setting string) (mean float64, runs, laps int, ok bool) {
	for _, i := range a.of(setting) {
		mean, runs, laps = mean+a.Runs[i].Mean, runs+1, laps+a.Runs[i].N
	}
	return mean / float64(runs), runs, laps, runs > 0
}

// Fastest lists the settings that have a mean, the fastest first.
func (a *Analysis) Fastest() []string {
	all := slices.DeleteFunc(slices.Clone(a.Settings), func(s string) bool { return len(a.of(s)) == 0 })
	slices.SortStableFunc(all, func(s, t string) int {
		x, _, _, _ := a.Mean(s)
		y, _, _, _ := a.Mean(t)
		return cmp.Compare(x, y)
	})
	return all
}

// Free is the number of degrees of freedom of Scatter.
func (a *Analysis) Free() int { return a.free }
