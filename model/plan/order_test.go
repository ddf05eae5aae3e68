package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// free is a day without anything in the way of an order.
func free(settings, runs int) *Task {
	t := &Task{Settings: settings, OnCar: Open, Change: func(int, int) (int, bool) { return 0, true }}
	for range runs {
		t.Slots = append(t.Slots, Slot{Open, 1})
	}
	for b := 1; b < settings; b++ {
		t.Pairs = append(t.Pairs, [2]int{0, b})
	}
	return t
}

func ordered(text string) (order []int) {
	for _, c := range text {
		order = append(order, int(c-'A'))
	}
	return order
}

func spelled(order []int) string {
	var b strings.Builder
	for _, s := range order {
		b.WriteByte("A-ABCDEF"[max(s, -1)+2])
	}
	return b.String()
}

// By hand, with unit variance of a run and a drift of one unit a run. AABB: mean(A) − mean(B) = (1+2)/2 − (3+4)/2 = −2, ABAB −1, ABBA 0.
// A drift that goes with the square of the distance from the middle of the day, (i − 2.5)² = 2.25, 0.25, 0.25, 2.25, leaves
// 2.25 − 0.25 = +2 in ABBA. With a line fitted also, the variance is 1 + (shift of the middles)²/(1/x² sums): 5, 1.25 and 1.
func ExampleTask_FitOf() {
	for _, text := range []string{"AABB", "ABAB", "ABBA"} {
		day := free(2, 4)
		order := ordered(text)
		f, _ := day.FitOf(order)
		bias, bend := 0.0, 0.0
		for i, s := range order {
			sign := 0.5 - float64(s) // 1/2 for A, −1/2 for B
			x := float64(i) + 1
			bias, bend = bias+sign*x, bend+sign*(x-2.5)*(x-2.5)
		}
		fmt.Printf("%s: drift leaves %+.0f, a bend %+.0f; variance with the drift fitted %.2f\n", text, bias, bend, f.Variance(0, 1))
	}
	// Output:
	// AABB: drift leaves -2, a bend +0; variance with the drift fitted 5.00
	// ABAB: drift leaves -1, a bend +0; variance with the drift fitted 1.25
	// ABBA: drift leaves +0, a bend +2; variance with the drift fitted 1.00
}

// What a fit makes of runs that lie exactly on settings and a drift is those settings; its shares leave nothing of the drift, and their
// squares are its variance.
func TestFitByHand(t *testing.T) {
	day := free(3, 9)
	order := ordered("ABCCBABCA")
	f, ok := day.FitOf(order)
	if !ok || f.Degree != 2 || f.Free != 9-3-2 {
		t.Fatalf("degree %d, free %d", f.Degree, f.Free)
	}
	level := []float64{100, 100.5, 99.7}
	var means []float64
	for i, s := range order {
		x := day.at(i)
		means = append(means, level[s]+0.7*x-0.4*x*x)
	}
	for _, p := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
		d, e := f.Of(means, p[0], p[1])
		if want := level[p[1]] - level[p[0]]; math.Abs(d-want) > 1e-9 || e > 1e-6 {
			t.Errorf("difference %v = %.6f ± %.6f, want %.6f ± 0", p, d, e, want)
		}
		sum := 0.0
		for _, s := range f.shares(p[0], p[1]) {
			sum += s * s
		}
		if v := f.Variance(p[0], p[1]); math.Abs(sum-v) > 1e-9 {
			t.Errorf("variance %v = %.6f, the shares' squares are %.6f", p, v, sum)
		}
		if b := f.Bend(p[0], p[1]); math.Abs(b) > 1e-9 {
			t.Errorf("a bend of 1 goes into %v with %.6f though one is fitted", p, b)
		}
	}
	// ABBA with a line: at −1, −1/3, 1/3, 1 a bend is worth 0, 8/9, 8/9, 0; it goes into B − A in full.
	f, _ = free(2, 4).FitOf(ordered("ABBA"))
	if b := f.Bend(0, 1); math.Abs(b-8.0/9) > 1e-9 {
		t.Errorf("bend in ABBA = %.6f, want 8/9", b)
	}
	// Weights: A at −1 of weight 4 and B at 1 of weight 1, A at 1 … by hand: two runs of A and B each without drift between.
	w := []Driven{{0, 0, 4}, {1, 0, 1}, {0, 0.5, 1e-12}, {1, -0.5, 1e-12}}
	if f, ok := fitted(w, 2, 0); !ok || math.Abs(f.Variance(0, 1)-1.25) > 1e-6 {
		t.Errorf("variance of runs of weight 4 and 1 = %.6f, want 1/4 + 1", f.Variance(0, 1))
	}
}

// Known orders: of four runs of two settings ABBA, of eight one that a line and a bend both leave alone.
func TestOrdersKnown(t *testing.T) {
	for _, c := range []struct {
		settings, runs int
		want           string
		variance       float64 // of B − A, with the drift fitted that the runs can take; 0: not asked
	}{{2, 4, "ABBA", 1}, {2, 8, "", 0.5}, {2, 6, "", 0.7}} {
		day := free(c.settings, c.runs)
		order, ok := day.Order()
		f, told := day.FitOf(order)
		if !ok || !told || c.want != "" && spelled(order) != c.want {
			t.Errorf("%d settings, %d runs: %s, want %s", c.settings, c.runs, spelled(order), c.want)
			continue
		}
		if v := f.Variance(0, 1); v > c.variance+1e-9 {
			t.Errorf("%s: variance %.4f, want %.4f at most", spelled(order), v, c.variance)
		}
		t.Logf("%d settings, %d runs: %s, variance %.4f, bend %.3f, drift of degree %d", c.settings, c.runs, spelled(order), f.Variance(0, 1), f.Bend(0, 1), f.Degree)
	}
}

// The exchange finds what looking at all orders finds, with runs behind it, sessions lost, changes that take work and some that do not fit.
func TestExchangeByBruteForce(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 9))
	for range 40 {
		settings := 2 + draw.IntN(2)
		day := free(settings, 4+draw.IntN(4))
		day.Slots[0].Weight = 0.7
		work := make([]int, settings*settings)
		for i := range work {
			work[i] = 1 + draw.IntN(3)
		}
		day.Change = func(from, to int) (int, bool) {
			return work[min(from, to)*settings+max(from, to)], work[min(from, to)*settings+max(from, to)] < 3 || settings == 2
		}
		if draw.IntN(2) == 0 {
			day.Slots[0].Setting, day.OnCar = 0, 0
			day.Slots[1].Setting = Lost
		}
		open := day.open()
		brute, quick := day.listed(open), day.exchanged(open)
		if (brute.order == nil) != (quick.order == nil) {
			t.Fatalf("brute force %v, exchange %v", brute.order, quick.order)
		}
		if brute.untold != quick.untold || quick.value > brute.value*(1+1e-9) {
			t.Errorf("exchange %s (%d, %.5f), the best is %s (%d, %.5f)", spelled(quick.order), quick.untold, quick.value, spelled(brute.order), brute.untold, brute.value)
		}
	}
}

// What an order must keep: the first run, what was run, what was lost, breaks, counts.
func TestOrderKeeps(t *testing.T) {
	day := free(3, 7)
	day.Slots[0].Setting, day.Slots[1].Setting, day.Slots[2].Setting, day.OnCar = 0, 2, Lost, 2
	day.Change = func(from, to int) (int, bool) { return 1, from == 0 || to == 0 } // from B to C only by A
	order, ok := day.Order()
	if !ok || order[0] != 0 || order[1] != 2 || order[2] != Lost {
		t.Fatalf("order %s", spelled(order))
	}
	last := 2
	for _, s := range order[3:] {
		if s != last && s != 0 && last != 0 {
			t.Errorf("%s: a change that does not fit its break", spelled(order))
		}
		last = s
	}
	counts := free(3, 6)
	counts.Counts = []int{1, 2, 3}
	order, _ = counts.Order()
	var n [3]int
	for _, s := range order {
		n[s]++
	}
	if n != [3]int{1, 2, 3} || order[0] != 0 {
		t.Errorf("counted order %s", spelled(order))
	}
	day.Change = func(int, int) (int, bool) { return 1, false }
	day.Slots[0].Setting, day.Slots[1].Setting, day.OnCar = Open, Open, Open
	if order, ok := day.Order(); !ok || !slices.Equal(order, []int{0, 0, -2, 0, 0, 0, 0}) {
		t.Errorf("without a change that fits: %s, %v", spelled(order), ok)
	}
}
