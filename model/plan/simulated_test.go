package plan

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
)

// day is a day that is drawn: a plan as the program makes it, and a truth that only the drawing knows.
type day struct {
	p     *Plan
	task  *Task
	order []int
	truth []float64 // s a lap, of each setting
}

// orders are those that were found for so many settings and sessions: the scatter of a day hardly matters to them.
var orders = map[[2]int][]int{}

func drawnDay(draw *rand.Rand, blocked bool) day {
	w := Usual()
	w.Sessions, w.Laps = 5+draw.IntN(6), 5+draw.IntN(6)
	w.LapScatter.Of = 0.2 + 0.6*draw.Float64()
	w.RunScatter.Of = (0.2 + draw.Float64()) * w.LapScatter.Of
	settings := 2
	if w.Sessions > 7 {
		settings += draw.IntN(2)
	}
	d := day{p: &Plan{Wish: w}, task: free(settings, w.Sessions), truth: make([]float64, settings)}
	d.task.Pairs = nil
	for b := range settings {
		for a := range b {
			d.task.Pairs = append(d.task.Pairs, [2]int{a, b})
		}
	}
	for i := range d.task.Slots {
		n, _ := d.p.lapsOf(i)
		d.task.Slots[i].Weight = 1 / (w.RunScatter.Of*w.RunScatter.Of + w.LapScatter.Of*w.LapScatter.Of/float64(n))
	}
	key := [2]int{settings, w.Sessions}
	if orders[key] == nil {
		orders[key], _ = d.task.Order()
	}
	d.order = slices.Clone(orders[key])
	if blocked {
		for i := range d.order {
			d.order[i] = i * settings / len(d.order)
		}
	}
	d.p.contrasts(d.task, d.order)
	return d
}

// driven are the means of the day's runs, lap by lap, with a drift that goes by a line and bends.
func (d *day) driven(draw *rand.Rand, line, bend float64) (means []float64) {
	for i, s := range d.order {
		n, settle := d.p.lapsOf(i)
		x := d.task.at(i)
		level := 100 + d.truth[s] + line*x + bend*(1-x*x) + d.p.RunScatter.Of*draw.NormFloat64()
		sum := 0.0
		for k := range settle + n {
			if lap := level + d.p.LapScatter.Of*draw.NormFloat64(); k >= settle {
				sum += lap
			}
		}
		means = append(means, sum/float64(n))
	}
	return means
}

// tally counts what came of days.
type tally struct{ days, seen, covered, off float64 }

// simulate drives so many days: a true difference is as large as the plan says that it would be seen in 4 of 5 days, either way; drift is
// drawn, with a bend of half of it where bends is set, else only where the fit takes one.
func simulate(n int, bends, blocked bool) (c tally) {
	draw := rand.New(rand.NewPCG(11, uint64(n)))
	for c.days < float64(n) {
		d := drawnDay(draw, blocked)
		pair := d.p.Contrasts[draw.IntN(len(d.p.Contrasts))]
		if math.IsNaN(pair.Seen) {
			continue
		}
		d.truth[pair.B] = d.truth[pair.A] + pair.Seen*float64(1-2*draw.IntN(2))
		line, bend := 0.6*draw.NormFloat64(), 0.0
		if bends || d.p.Degree == 2 {
			bend = 0.3 * draw.NormFloat64()
		}
		f, _ := d.task.FitOf(d.order)
		got, e := f.Of(d.driven(draw, line, bend), pair.A, pair.B)
		want := d.truth[pair.B] - d.truth[pair.A]
		c.days++
		if math.Abs(got) > pair.Critical*e && got*want > 0 {
			c.seen++
		}
		if math.Abs(got-want) <= pair.Critical*e {
			c.covered++
		}
		c.off += (got - want) * (got - want) / (pair.StdErr * pair.StdErr)
	}
	return c
}

// Days with a known truth: what a plan says would be seen in 4 of 5 days is, intervals hold the truth as often as they say, and the
// difference scatters as the plan expects. PLAN_DAYS draws more.
func TestSimulatedDays(t *testing.T) {
	n := 600
	if text := os.Getenv("PLAN_DAYS"); text != "" {
		n, _ = strconv.Atoi(text)
	}
	days := float64(n)
	near := func(what string, got, want float64) {
		t.Helper()
		if off := 3.3 * math.Sqrt(want*(1-want)/days); math.Abs(got/days-want) > off {
			t.Errorf("%s: in %.4f of %d days, want %.4f ± %.4f", what, got/days, n, want, off)
		}
	}
	c := simulate(n, false, false)
	near("seen", c.seen, Power)
	if least := 1 - Level; c.covered/days < least-3.3*math.Sqrt(least*Level/days) {
		t.Errorf("intervals hold the truth in %.4f of %d days, want %.2f", c.covered/days, n, least)
	}
	if r := c.off / days; math.Abs(r-1) > 3.3*math.Sqrt(2/days) {
		t.Errorf("the difference is off by %.3f times what the plan expects, squared", r)
	}
	// A bend that is not fitted makes a day see less, and intervals still hold the truth.
	b := simulate(n, true, false)
	if b.covered/days < 1-Level-0.03 {
		t.Errorf("with a drift that bends intervals hold the truth in %.4f of %d days", b.covered/days, n)
	}
	t.Logf("as fitted: seen %.3f, held %.3f; drift bends: seen %.3f, held %.3f", c.seen/days, c.covered/days, b.seen/days, b.covered/days)
	if x := simulate(n, false, true); !testing.Short() {
		t.Logf("one setting after the other: seen %.3f, held %.3f", x.seen/days, x.covered/days)
	}
}

// The same days in the planned order and with each setting in one go: the planned order sees a smaller difference, every time.
func TestOrderAgainstBlocks(t *testing.T) {
	draw := rand.New(rand.NewPCG(2, 2))
	var least, sum, n float64 = math.Inf(1), 0, 0
	for range 200 {
		d := drawnDay(draw, false)
		for _, c := range d.p.Contrasts {
			if math.IsNaN(c.Seen) || math.IsNaN(c.Blocked) {
				continue
			}
			least, sum, n = min(least, c.Blocked/c.Seen), sum+c.Blocked/c.Seen, n+1
		}
	}
	if least < 1 {
		t.Errorf("a day with each setting in one go sees %.3f of what the planned order sees", least)
	}
	t.Logf("in one go a difference must be %.2f times as large, %.2f times at least", sum/n, least)
}
