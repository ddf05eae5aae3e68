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

// Draw is by how much the figures of a row move in one draw of its inputs.
type Draw struct {
	Moved
	Angle  float64 // rad, to the ground
	Margin float64 // rad, of the stall margin, to first order as in the budget
}

// strata are the middles of equally likely strata, in standard deviations: of a normal
// distribution and of one that is the same everywhere.
type strata struct{ normal, flat []float64 }

// stratified remembers strata by their number, and orders the order of those of each source.
var stratified, orders sync.Map

func strataOf(n int) strata {
	if q, ok := stratified.Load(n); ok {
		return q.(strata)
	}
	q := strata{make([]float64, n), make([]float64, n)}
	for i := range n {
		p := (float64(i) + 0.5) / float64(n)
		q.normal[i] = distuv.UnitNormal.Quantile(p)
		q.flat[i] = math.Sqrt(3) * (2*p - 1)
	}
	stratified.Store(n, q)
	return q
}

// ordered is the order of so many strata of a source.
type ordered struct {
	source string
	n      int
}

// order returns the order in which a source's strata are drawn: always the same, and another
// for each source, so that two settings that share a source draw it alike.
// Source: M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979) 239-245, Latin
// hypercube sampling.
func order(source string, n int) []int {
	key := ordered{source, n}
	if o, ok := orders.Load(key); ok {
		return o.([]int)
	}
	h := fnv.New64a()
	h.Write([]byte(source))
	o := rand.New(rand.NewPCG(h.Sum64(), 2008)).Perm(n)
	orders.Store(key, o)
	return o
}

// Beyond reports whether the draw is beyond the data, so that it has no figures.
func (d *Draw) Beyond() bool { return math.IsNaN(d.Downforce) }

// Draws returns the draws that the budget rests on near the stall.
func (b *Budget) Draws() []Draw { return b.draws() }

// Draws returns n draws of all inputs of a row, always the same. Rows of one car draw a source that they share
// alike, at any speed.
func (t *Table) Draws(r *Row, n int) []Draw { return t.draw(r, t.inputs(r), n) }

func (t *Table) draw(r *Row, inputs []input, n int) []Draw {
	q := strataOf(n)
	return t.drawBy(r, inputs, n, func(source string, rectangular bool) []float64 {
		from, x := q.normal, make([]float64, n)
		if rectangular {
			from = q.flat
		}
		for i, stratum := range order(source, n) {
			x[i] = from[stratum]
		}
		return x
	})
}

// DrawsBy is Draws with values of the caller's own for each source, in standard deviations.
func (t *Table) DrawsBy(r *Row, n int, values func(source string, rectangular bool) []float64) []Draw {
	return t.drawBy(r, t.inputs(r), n, values)
}

func (t *Table) drawBy(r *Row, inputs []input, n int, values func(source string, rectangular bool) []float64) []Draw {
	by := make([]deviation, n)
	for _, in := range inputs {
		for i, x := range values(in.same, in.rectangular) {
			by[i].add(&in.by, x)
		}
	}
	at := t.outcome(r.Position, deviation{})
	base := at.moved()
	all := make([]Draw, n)
	for i := range by {
		o := t.outcome(r.Position, by[i])
		all[i] = Draw{o.moved().less(base), by[i].turn, -by[i].marginLost()}
	}
	return all
}

// marginLost is by how much the stall margin is smaller.
func (d *deviation) marginLost() float64 { return d.turn + d.flowAngle + d.zero - d.stall }

// spread returns the standard uncertainty about the figures shown, or with two rows' draws
// about their difference: the root of the mean square. Draws beyond the data are left out;
// where that is more than a tenth of them, instead stays.
func spread(a, b []Draw, instead Moved) Moved {
	var sum Moved
	n := 0
	for i := range a {
		if a[i].Beyond() || b != nil && b[i].Beyond() {
			continue
		}
		m := a[i].Moved
		if b != nil {
			m = m.less(b[i].Moved)
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
