package laps

import (
	"math"
	"math/big"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Verdict is what a comparison of two settings comes to.
type Verdict int

// Verdicts.
const (
	NotYet  Verdict = iota // the interval holds no difference
	Clear                  // it does not
	OneRun                 // one of them has a single run: what changes from run to run is in the difference
	NoMeans                // one of them has no run that says anything
)

// Key is what the verdict is called in machine-readable output.
func (v Verdict) Key() string { return [...]string{"not_yet", "clear", "one_run_each", "no_laps"}[v] }

// Level is of the intervals.
const Level = 0.95

// Difference is what two settings differ by.
type Difference struct {
	A, B    string
	Seconds float64 // a lap, B less A: more than 0 where A is faster
	Half    float64 // s, half of the 95 % interval; NaN where the runs do not tell it
	Free    float64 // degrees of freedom of it
	ByLaps  float64 // s, half of the interval that laps alone give, as if nothing changed between runs
	Chance  float64 // how often runs that are alike differ so much or more, by swapping them; NaN where there are too few
	Verdict Verdict

	More     int  // further runs of each, as long as now, from which a difference as large as this would be clear; 0 where it is, or none would do
	OneAfter bool // all runs of one setting were before all of the other: what the track did is in the difference
}

// Compare compares two settings by their runs.
// Source: B. L. Welch, "The generalization of 'Student's' problem when several different population variances are involved",
// Biometrika 34 (1947), p. 28; the degrees of freedom by Satterthwaite (1946).
func (a *Analysis) Compare(one, other string) Difference {
	d := Difference{A: one, B: other, Half: math.NaN(), ByLaps: math.NaN(), Chance: math.NaN()}
	x, y := a.means(one), a.means(other)
	if len(x) == 0 || len(y) == 0 {
		d.Verdict, d.Seconds = NoMeans, math.NaN()
		return d
	}
	d.Seconds = mean(y) - mean(x)
	d.OneAfter = apart(a.of(one), a.of(other))
	if !math.IsNaN(a.Scatter) {
		d.ByLaps = quantile(float64(a.free)) * a.Scatter * math.Sqrt(a.lapShare(one)+a.lapShare(other))
	}
	if len(x) < 2 || len(y) < 2 {
		d.Verdict = OneRun
		return d
	}
	// Runs cannot agree better than their laps let them: a few that happen to lie together are no proof.
	vx := max(variance(x)/float64(len(x)), a.byLaps(one))
	vy := max(variance(y)/float64(len(y)), a.byLaps(other))
	d.Free = (vx + vy) * (vx + vy) / (vx*vx/float64(len(x)-1) + vy*vy/float64(len(y)-1))
	if vx+vy == 0 {
		d.Free = float64(len(x) + len(y) - 2)
	}
	d.Half = quantile(d.Free) * math.Sqrt(vx+vy)
	d.Chance = swapped(x, y)
	if math.Abs(d.Seconds) > d.Half {
		d.Verdict = Clear
		return d
	}
	d.More = further(math.Abs(d.Seconds), math.Sqrt((vx*float64(len(x))+vy*float64(len(y)))/2), min(len(x), len(y)))
	return d
}

// byLaps is the variance of the mean of a setting's runs by the scatter of laps alone, s²; 0 where that is not known.
func (a *Analysis) byLaps(setting string) float64 {
	if math.IsNaN(a.Scatter) {
		return 0
	}
	return a.Scatter * a.Scatter * a.lapShare(setting)
}

// lapShare is the sum by which the scatter of laps goes into the mean of a setting's runs.
func (a *Analysis) lapShare(setting string) (sum float64) {
	runs := a.of(setting)
	for _, i := range runs {
		sum += 1 / float64(a.Runs[i].N)
	}
	return sum / float64(len(runs)*len(runs))
}

func (a *Analysis) means(setting string) (all []float64) {
	for _, i := range a.of(setting) {
		all = append(all, a.Runs[i].Mean)
	}
	return all
}

// apart reports whether all of one list come before all of the other.
func apart(a, b []int) bool { return slices.Max(a) < slices.Min(b) || slices.Max(b) < slices.Min(a) }

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func variance(x []float64) float64 {
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return sum / float64(len(x)-1)
}

// quantile is how many standard errors the 95 % interval reaches either way.
func quantile(free float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: free}.Quantile((1 + Level) / 2)
}

// mostFurther is up to how many further runs of each are looked at.
const mostFurther = 20

// further is how many more runs of each setting would make a difference clear whose runs scatter so; 0 where so many more would not.
func further(difference, scatter float64, have int) int {
	for n := 1; n <= mostFurther; n++ {
		runs := float64(have + n)
		if difference > quantile(2*runs-2)*scatter*math.Sqrt(2/runs) {
			return n
		}
	}
	return 0
}

// rare is what the smallest chance that a permutation test can come to must be for it to tell anything.
const rare = 0.06

// mostSwaps is how many ways of dealing runs out are counted at most.
const mostSwaps = 200_000

// swapped is the share of all ways of dealing the runs out to the two settings in which their means differ by as much or more: an exact
// permutation test. NaN where there are so few runs that no difference could be rare, or too many ways.
// Source: R. A. Fisher, "The Design of Experiments" (1935), sec. 21.
func swapped(x, y []float64) float64 {
	all := slices.Concat(x, y)
	ways := new(big.Int).Binomial(int64(len(all)), int64(len(x)))
	if !ways.IsInt64() || ways.Int64() > mostSwaps || 2/float64(ways.Int64()) > rare {
		return math.NaN()
	}
	total, limit := mean(all)*float64(len(all)), math.Abs(mean(y)-mean(x))
	hits, count := 0, 0
	var deal func(from, left int, sum float64)
	deal = func(from, left int, sum float64) {
		if left == 0 {
			count++
			if math.Abs((total-sum)/float64(len(y))-sum/float64(len(x))) >= limit-1e-12 {
				hits++
			}
			return
		}
		for i := from; i <= len(all)-left; i++ {
			deal(i+1, left-1, sum+all[i])
		}
	}
	deal(0, len(x), 0)
	return float64(hits) / float64(count)
}
