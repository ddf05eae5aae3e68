package model

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

// drawn is how many times all inputs are drawn together.
const drawn = 128

// quantiles are the middles of equally likely strata, in standard deviations: of a normal
// distribution and of one that is the same everywhere.
var quantiles = func() (q struct{ normal, flat [drawn]float64 }) {
	for i := range drawn {
		p := (float64(i) + 0.5) / drawn
		q.normal[i] = distuv.UnitNormal.Quantile(p)
		q.flat[i] = math.Sqrt(3) * (2*p - 1)
	}
	return q
}()

// orders remembers the order of the strata of each source.
var orders sync.Map

// order returns the order in which a source's strata are drawn: always the same, and another
// for each source, so that two settings that share a source draw it alike.
// Source: M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979) 239-245, Latin
// hypercube sampling.
func order(source string) []int {
	if o, ok := orders.Load(source); ok {
		return o.([]int)
	}
	h := fnv.New64a()
	h.Write([]byte(source))
	o := rand.New(rand.NewPCG(h.Sum64(), 2008)).Perm(drawn)
	orders.Store(source, o)
	return o
}

// draw returns by how much the figures of a row move in each of the draws of its inputs.
func (t *Table) draw(r *Row, inputs []input) []Moved {
	by := make([]deviation, drawn)
	for _, in := range inputs {
		q := &quantiles.normal
		if in.rectangular {
			q = &quantiles.flat
		}
		for i, stratum := range order(in.same) {
			by[i].add(&in.by, q[stratum])
		}
	}
	at := t.outcome(r.Position, deviation{})
	base := at.moved()
	moved := make([]Moved, drawn)
	for i := range by {
		o := t.outcome(r.Position, by[i])
		moved[i] = o.moved().less(base)
	}
	return moved
}

// spread returns the standard uncertainty about the figures shown, or with two rows' draws
// about their difference: the root of the mean square. Draws beyond the data are left out;
// where that is more than a tenth of them, instead stays.
func spread(a, b []Moved, instead Moved) Moved {
	var sum Moved
	n := 0
	for i := range a {
		m := a[i]
		if b != nil {
			m = m.less(b[i])
		}
		if math.IsNaN(m.Downforce) {
			continue
		}
		n++
		sum.addSquares(&m)
	}
	if n < drawn*9/10 {
		return instead
	}
	for _, f := range sum.list() {
		*f = math.Sqrt(*f / float64(n))
	}
	return sum
}
