package design

import (
	"context"
	"math"
	"math/rand/v2"

	"stanchion/holes/plane"
)

// effort is how much is searched: tries for each number of front holes.
type effort struct{ tries, restarts int }

// patience is with how many more front holes in a row there must be no progress before a search ends.
const patience = 2

// search looks for a head with as few holes as it can find, for one step: front holes are moved about by simulated annealing, rear holes
// chosen for them each time. most is how many holes are worth looking at.
func (c *cover) search(ctx context.Context, seed uint64, e effort, most int) (best head, found bool, err error) {
	bound := max(c.bound(c.turns), len(c.kept.head()))
	rng := rand.New(rand.NewPCG(seed, 19))
	best.open = math.Inf(1)
	idle := 0
	for k := max(1, len(c.kept.fronts)); k < most && idle < patience; k++ {
		if c.tooFew(k) || k+c.leastRears(k) > most || found && k+c.leastRears(k) >= best.holes() {
			continue
		}
		before, open := best.cost()+float64(len(best.fronts)), best.open
		for range e.restarts {
			h, err := c.anneal(ctx, rng, k, e.tries)
			if err != nil {
				return best, found, err
			}
			if h.open == 0 && h.holes() <= most && (!found || h.holes() < best.holes()) || !found && h.open < best.open {
				best, found = h, h.open == 0 && h.holes() <= most
			}
			if found && best.holes() <= bound {
				return best, found, nil
			}
		}
		if idle++; best.cost()+float64(len(best.fronts)) < before-0.05 || !found && best.open < open-0.05 {
			idle = 0
		}
	}
	return best, found, nil
}

// tooFew reports whether so few front holes cannot do, however many rear holes there are.
func (c *cover) tooFew(k int) bool { return k*c.perArc(c.turns)*len(c.turns) < c.wish.fewestAngles() }

// leastRears is how many rear holes so many front holes need at least.
func (c *cover) leastRears(k int) int {
	m, single, angles := c.perArc(c.turns), c.oneInCommon(c.turns), c.wish.fewestAngles()
	for r := max(1, len(c.kept.rears)); r < 200; r++ {
		if mostPairs(k, r, m, single)*len(c.turns) >= angles {
			return r
		}
	}
	return 200
}

// anneal moves k front holes about. Source: S. Kirkpatrick, C. D. Gelatt and M. P. Vecchi, "Optimization by simulated annealing",
// Science 220 (1983) 671-680.
func (c *cover) anneal(ctx context.Context, rng *rand.Rand, k, tries int) (head, error) {
	at, ok := c.scatter(rng, k)
	if !ok {
		return head{open: math.Inf(1)}, nil
	}
	now := c.weigh(at)
	best := now
	fixed := len(c.kept.fronts) // the first ones stay
	if k == fixed {
		return best, ctx.Err()
	}
	for i := range tries {
		if i%32 == 0 {
			if err := ctx.Err(); err != nil {
				return best, err
			}
		}
		cool := 1 - float64(i)/float64(tries)
		next := append([]plane.Point{}, at...)
		j := fixed + rng.IntN(k-fixed)
		if len(c.wish.Angles) > 0 && len(now.rears) > 0 && rng.Float64() < 0.4 {
			next[j] = c.moveOnto(now.rears[rng.IntN(len(now.rears))], c.wish.Angles[rng.IntN(len(c.wish.Angles))], c.turns[rng.IntN(len(c.turns))])
		} else if rng.Float64() < 0.1*cool {
			next[j] = c.somewhere(rng)
		} else {
			next[j] = tenth(next[j].Add(plane.Point{X: rng.NormFloat64() * (0.5 + 12*cool), Z: rng.NormFloat64() * (0.5 + 8*cool)}))
		}
		if !c.allowed(next, j) {
			continue
		}
		h := c.weigh(next)
		if d := h.cost() - now.cost(); d <= 0 || rng.Float64() < math.Exp(-d/(0.02+0.8*cool)) {
			at, now = next, h
		}
		if h.cost() < best.cost() {
			best = h
		}
	}
	return best, nil
}

// cost is what the search makes small: holes, and steps that are open.
func (h *head) cost() float64 { return float64(len(h.rears)) + 3*h.open }

func (c *cover) weigh(fronts []plane.Point) head {
	all := c.candidates(fronts)
	rears := c.needed(fronts, c.rears(fronts, all))
	return head{fronts, rears, float64(c.left(fronts, rears)) / float64(c.inStep)}
}

// somewhere is any place for a front hole.
func (c *cover) somewhere(rng *rand.Rand) plane.Point {
	if n := len(c.kept.rears); n > 0 && rng.IntN(2) == 0 {
		a, b := c.kept.rears[rng.IntN(n)], c.kept.rears[rng.IntN(n)]
		if p, ok := c.ahead(a, b); ok && a != b {
			return p
		}
		return c.onto(a, rng.Float64())
	}
	z := c.zs[rng.IntN(len(c.zs))]
	return tenth(plane.Point{X: c.lo + rng.Float64()*(c.hi-c.lo), Z: z + (2*rng.Float64()-1)*c.wish.HeightWithin})
}

// allowed reports whether the front hole j is where it may be.
func (c *cover) allowed(ps []plane.Point, j int) bool {
	p := ps[j]
	if p.X < c.lo || p.X > c.hi || !apart(p, c.foot.holes, c.mixedRoom) || !apart(p, c.kept.rears, c.headRoom) {
		return false
	}
	near := false
	for _, z := range c.zs {
		near = near || math.Abs(p.Z-z) <= c.wish.HeightWithin
	}
	if !near {
		return false
	}
	for i, o := range ps {
		if i != j && p.Distance(o) < c.headRoom {
			return false
		}
	}
	return true
}

// scatter puts k front holes anywhere that they may be.
func (c *cover) scatter(rng *rand.Rand, k int) ([]plane.Point, bool) {
	ps := append([]plane.Point{}, c.kept.fronts...)
	for tries := 0; len(ps) < k && tries < 2000; tries++ {
		next := append(append([]plane.Point{}, ps...), c.somewhere(rng))
		if c.allowed(next, len(next)-1) {
			ps = next
		}
	}
	return ps, len(ps) == k
}
