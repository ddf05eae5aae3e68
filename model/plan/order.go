package plan

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Slot is a session of the day, as the search for an order sees it.
type Slot struct {
	Setting int     // Open, Lost, or what was run in it
	Weight  float64 // 1/variance of the mean of a run in it, s⁻²
}

// What a slot may be besides a setting.
const (
	Open = -1
	Lost = -2 // nothing can be told from it
)

// Task is what is wanted of the order of a day's runs.
type Task struct {
	Settings int
	Slots    []Slot
	Pairs    [][2]int                                // differences that are wanted
	First    int                                     // what the first open slot is run with where nothing was run before
	OnCar    int                                     // what the last run before the first open slot was; Open for none
	Counts   []int                                   // how often each setting is run in open slots; nil where that is free
	Change   func(from, to int) (bolts int, ok bool) // ok: the change can be done in the break
}

// What an order is worth less by, in parts of the variance: where a bend of the drift is not kept out at all, by each bolt that is moved on
// one side, and by each setting that is driven before one with a lower number, which is safer. Common practice, no source.
const (
	bendWorth = 0.1
	boltWorth = 0.01
	soonWorth = 0.02
)

// mostListed is how many orders are looked at one by one; where there are more, the search goes by exchange.
const mostListed = 20_000

// starts of the exchange. With them it finds the best of all orders in every case that was tried (order_test.go).
const starts = 12

// at is where in the day a slot is.
func (t *Task) at(i int) float64 {
	if len(t.Slots) < 2 {
		return 0
	}
	return 2*float64(i)/float64(len(t.Slots)-1) - 1
}

// driven are the runs of an order, those in slots that are lost left out.
func (t *Task) driven(order []int) (all []Driven) {
	for i, s := range order {
		if s >= 0 {
			all = append(all, Driven{s, t.at(i), t.Slots[i].Weight})
		}
	}
	return all
}

// FitOf is the fit that an order leads to, with as much drift as it can take; ok is false where that tells nothing.
func (t *Task) FitOf(order []int) (*Fit, bool) {
	all := t.driven(order)
	return fitted(all, t.Settings, DriftOf(len(all), settingsOf(all, t.Settings)))
}

func settingsOf(all []Driven, settings int) (n int) {
	seen := make([]bool, settings)
	for _, d := range all {
		if !seen[d.Setting] {
			seen[d.Setting] = true
			n++
		}
	}
	return n
}

// worth is by how much an order is to be avoided: first the differences that it does not tell, then the mean variance of the others with
// a drift fitted also, a little more where a bend would go into them, and by every bolt. ok is false where a change does not fit its break.
func (t *Task) worth(order []int) (untold int, value float64, ok bool) {
	bolts, last := 0, t.OnCar
	for i, s := range order {
		if t.Slots[i].Setting != Open || s < 0 {
			continue
		}
		if last >= 0 && s != last {
			n, can := t.Change(last, s)
			if !can {
				return 0, 0, false
			}
			bolts += n
		}
		last = s
	}
	all := t.driven(order)
	degree := DriftOf(len(all), settingsOf(all, t.Settings))
	f, told := fitted(all, t.Settings, degree)
	mean := t.mean(f, &untold)
	if !told || untold == len(t.Pairs) { // nothing is told: at least each is driven
		untold = len(t.Pairs)
		for _, p := range t.Pairs {
			if f.column[p[0]] < 0 || f.column[p[1]] < 0 {
				untold++
			}
		}
		return untold, float64(bolts), true
	}
	value = mean
	if degree == 1 {
		kept := 0.0
		if bent, also := fitted(all, t.Settings, 2); also {
			left := 0
			kept = mean / t.mean(bent, &left)
		}
		value *= 1 + bendWorth*(1-kept)
	}
	return untold, value * (1 + boltWorth*float64(bolts) + soonWorth*float64(soon(order))), true
}

// soon counts the settings that come before one with a lower number is met.
func soon(order []int) (n int) {
	for i, s := range order {
		if s >= 0 && !slices.Contains(order[:i], s) {
			for lower := range s {
				if !slices.Contains(order[:i], lower) {
					n++
				}
			}
		}
	}
	return n
}

// mean is the mean variance of the differences that are told; it counts those that are not.
func (t *Task) mean(f *Fit, untold *int) float64 {
	sum, n := 0.0, 0
	for _, p := range t.Pairs {
		if v := f.Variance(p[0], p[1]); math.IsInf(v, 1) {
			*untold++
		} else {
			sum, n = sum+v, n+1
		}
	}
	return sum / float64(n)
}

// bestOrder is the best order so far.
type bestOrder struct {
	order  []int
	untold int
	value  float64
}

// better reports whether an order is better than what was found, by more than rounding.
func (f *bestOrder) better(untold int, value float64) bool {
	return f.order == nil || untold < f.untold || untold == f.untold && value < f.value*(1-1e-9)-1e-15
}

// Order finds the order of runs: of all that can be driven the one whose differences have the least variance when a drift is fitted
// also, with few bolts moved. ok is false where no order keeps to the breaks.
// Source: D. R. Cox, "Some systematic experimental designs", Biometrika 38 (1951) 312-323; C. Daniel, F. Wilcoxon, "Factorial 2^(p-q)
// plans robust against linear and quadratic trends", Technometrics 8 (1966) 259-278. Theirs are constructed; here all orders are tried.
func (t *Task) Order() (order []int, ok bool) {
	open := t.open()
	if len(open) == 0 {
		return t.started(), true
	}
	ways := 1.0
	for range open {
		ways *= float64(t.Settings)
	}
	var best bestOrder
	if ways <= mostListed {
		best = t.listed(open)
	} else {
		best = t.exchanged(open)
	}
	return best.order, best.order != nil
}

func (t *Task) open() (all []int) {
	for i, s := range t.Slots {
		if s.Setting == Open {
			all = append(all, i)
		}
	}
	return all
}

func (t *Task) started() []int {
	order := make([]int, len(t.Slots))
	for i, s := range t.Slots {
		order[i] = s.Setting
	}
	return order
}

// first reports whether an order begins as it has to.
func (t *Task) first(order, open []int) bool { return t.OnCar >= 0 || order[open[0]] == t.First }

// counted reports whether every setting is run as often as wanted.
func (t *Task) counted(order, open []int) bool {
	if t.Counts == nil {
		return true
	}
	left := slices.Clone(t.Counts)
	for _, i := range open {
		left[order[i]]--
	}
	return !slices.ContainsFunc(left, func(n int) bool { return n != 0 })
}

// listed looks at all orders, in the order of their settings' numbers.
func (t *Task) listed(open []int) (best bestOrder) {
	order := t.started()
	for _, i := range open {
		order[i] = 0
	}
	for {
		if t.first(order, open) && t.counted(order, open) {
			t.take(&best, order)
		}
		k := len(open) - 1
		for ; k >= 0; k-- {
			if order[open[k]]++; order[open[k]] < t.Settings {
				break
			}
			order[open[k]] = 0
		}
		if k < 0 {
			return best
		}
	}
}

// take keeps an order that is better, and reports whether it is.
func (t *Task) take(best *bestOrder, order []int) bool {
	untold, value, ok := t.worth(order)
	if !ok || !best.better(untold, value) {
		return false
	}
	*best = bestOrder{slices.Clone(order), untold, value}
	return true
}

// exchanged starts from some orders at random, always the same, and changes a slot or swaps two as long as that is better.
func (t *Task) exchanged(open []int) (best bestOrder) {
	draw := rand.New(rand.NewPCG(1, 2))
	for start := range starts {
		order := t.started()
		for k, i := range open {
			order[i] = (k + draw.IntN(2)) % t.Settings
			if start == 0 { // without a change, which keeps to all breaks
				if order[i] = t.First; t.OnCar >= 0 {
					order[i] = t.OnCar
				}
			}
		}
		if t.Counts != nil {
			var all []int
			for s, n := range t.Counts {
				all = append(all, slices.Repeat([]int{s}, n)...)
			}
			draw.Shuffle(len(all), func(a, b int) { all[a], all[b] = all[b], all[a] })
			for k, i := range open {
				order[i] = all[k%len(all)]
			}
		}
		if t.OnCar < 0 {
			for _, i := range open {
				if order[i] == t.First {
					order[i], order[open[0]] = order[open[0]], order[i]
					break
				}
			}
			if t.Counts == nil {
				order[open[0]] = t.First
			}
		}
		var here bestOrder
		t.take(&here, order)
		for t.improved(&here, order, open) {
			copy(order, here.order)
		}
		if here.order != nil && best.better(here.untold, here.value) {
			best = here
		}
	}
	return best
}

// improved tries every change of a slot, and every swap of two, from an order.
func (t *Task) improved(here *bestOrder, order, open []int) (any bool) {
	from := slices.Clone(order)
	try := func() {
		if t.first(order, open) && t.counted(order, open) && t.take(here, order) {
			any = true
		}
	}
	for k, i := range open {
		for s := range t.Settings {
			if order[i] = s; s != from[i] {
				try()
			}
			order[i] = from[i]
		}
		for _, j := range open[k+1:] {
			order[i], order[j] = from[j], from[i]
			try()
			order[i], order[j] = from[i], from[j]
		}
	}
	return any
}
