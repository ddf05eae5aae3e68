package drill

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"sync"

	"stanchion/model"
	"stanchion/model/choose"
)

// Use is why a new setting is of use, or of none.
type Use int

// The answers.
const (
	OfUse Use = iota
	IsStalled
	LiftsTheCar
	OutsideLimits
	LikeAnother // it makes no clear difference to a setting that exists
)

// Like is why a new setting is of no use.
type Like struct {
	Use       Use
	ID, Name  string  // of LikeAnother: of the settings that it is like, the one nearest in downforce
	Downforce float64 // N, of the new one, and of the other
	Other     float64
	StdUnc    float64 // N, of the difference
}

// SameHeight is by how much heights must differ to count as different, mm:
// what a bolt in its hole and a tape leave open. Common practice, no source.
const SameHeight = 2.0

// alikes finds the settings of a table that a new one is like. A budget is worked out once, and only of settings
// that are near enough to be like one that was asked about.
type alikes struct {
	table   *model.Table
	byForce []int // rows that can be run, by downforce

	mu      sync.Mutex
	budgets map[int]model.Budget
	most    model.Moved // the largest uncertainties met
}

func newAlikes(t *model.Table) *alikes {
	a := &alikes{table: t, budgets: map[int]model.Budget{}}
	for i := range t.Rows {
		if r := &t.Rows[i]; r.Within() && !r.Stalled {
			a.byForce = append(a.byForce, i)
		}
	}
	slices.SortStableFunc(a.byForce, func(i, k int) int { return cmp.Compare(t.Rows[i].Downforce, t.Rows[k].Downforce) })
	return a
}

// use says whether a new row, of the table with the holes, is of use: it is clearly apart from every setting that
// exists, and its angle is by more than the play in the holes or its height by more than can be told.
func (a *alikes) use(with *model.Table, r *model.Row) Like {
	switch {
	case r.Stalled:
		return Like{Use: IsStalled}
	case r.Lifts():
		return Like{Use: LiftsTheCar}
	case !r.Within():
		return Like{Use: OutsideLimits}
	}
	own := with.Budget(r)
	i, ok := a.nearest(own, r)
	if !ok {
		return Like{Use: OfUse}
	}
	o := &a.table.Rows[i]
	return Like{LikeAnother, o.ID, a.table.Name(o.Setting), r.Downforce, o.Downforce, model.DifferenceStdUnc(own, a.budget(i)).Downforce}
}

// nearest returns the row nearest in downforce of those that a new one is like; of equals that nearest in height.
func (a *alikes) nearest(own model.Budget, r *model.Row) (row int, ok bool) {
	best := -1 // at first of those that are like it whatever the uncertainty
	for _, i := range a.byForce {
		if !a.felt(r, i) && (best < 0 || a.nearer(r, i, best)) {
			best = i
		}
	}
	off := func(i int) float64 { return math.Abs(a.table.Rows[i].Downforce - r.Downforce) }
	up := sort.Search(len(a.byForce), func(n int) bool { return a.table.Rows[a.byForce[n]].Downforce >= r.Downforce })
	down := up - 1
	for down >= 0 || up < len(a.byForce) { // from its own downforce outwards
		i := -1
		if up < len(a.byForce) {
			i = a.byForce[up]
		}
		if down >= 0 && (i < 0 || off(a.byForce[down]) < off(i)) {
			i = a.byForce[down]
			down--
		} else {
			up++
		}
		force, share := a.reach(own)
		if off(i) > force || best >= 0 && off(i) > off(best)+sameForce {
			break
		}
		if best >= 0 && !a.nearer(r, i, best) || math.Abs(a.table.Rows[i].Share-r.Share) > share {
			continue
		}
		if choose.Apart(r, &a.table.Rows[i], model.DifferenceStdUnc(own, a.budget(i))) != choose.Clear {
			best = i
		}
	}
	return best, best >= 0
}

// sameForce is how near downforces are that count as equal, N: what rounding leaves open.
const sameForce = 1e-6

// nearer reports whether row i is nearer to a new one than row k is.
func (a *alikes) nearer(r *model.Row, i, k int) bool {
	o, p := &a.table.Rows[i], &a.table.Rows[k]
	if d := math.Abs(o.Downforce-r.Downforce) - math.Abs(p.Downforce-r.Downforce); math.Abs(d) > sameForce {
		return d < 0
	}
	if d := math.Abs(o.Height-r.Height) - math.Abs(p.Height-r.Height); math.Abs(d) > 1e-6 {
		return d < 0
	}
	return i < k
}

// felt reports whether a new row's angle or height can be told from an existing one's, and whether their figures
// can be compared at all.
func (a *alikes) felt(r *model.Row, i int) bool {
	o := &a.table.Rows[i]
	if r.Deck.Known != o.Deck.Known {
		return false
	}
	if math.Abs(r.Height-o.Height) > SameHeight {
		return true
	}
	return turned(r, o)
}

// turned reports whether the angles of two rows differ by more than the play in their holes.
func turned(r, o *model.Row) bool {
	return choose.ClarityOf(r.Angle-o.Angle, math.Hypot(r.Play, o.Play)/math.Sqrt(3)) == choose.Clear
}

// reach is how far off in downforce, N, and in front share a row can be and not be clearly apart from one with
// the given budget: the uncertainty of a difference is at most the sum of both, and no row's is taken to be more
// than twice the largest met so far.
func (a *alikes) reach(own model.Budget) (force, share float64) {
	a.mu.Lock()
	defer a.mu.Unlock()
	return choose.ClearFrom * (own.Downforce + 2*max(own.Downforce, a.most.Downforce)), choose.ClearFrom * (own.Share + 2*max(own.Share, a.most.Share))
}

// budget is the budget of row i.
func (a *alikes) budget(i int) model.Budget {
	a.mu.Lock()
	b, ok := a.budgets[i]
	a.mu.Unlock()
	if ok {
		return b
	}
	b = a.table.Budget(&a.table.Rows[i])
	a.mu.Lock()
	defer a.mu.Unlock()
	a.budgets[i] = b
	a.most.Downforce, a.most.Share = max(a.most.Downforce, b.Downforce), max(a.most.Share, b.Share)
	return b
}
