package pattern

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
	"stanchion/model/calibrate"
)

// Misfit is a distance that does not fit the others.
type Misfit struct {
	Distance
	Times    float64  // standard uncertainties that it is off by
	ShouldBe float64  // mm between centres, by all the others
	Std      float64  // mm, standard uncertainty of that
	Or       []string // other distances that could as well be the wrong one, "2-4"
}

// tellable is the smallest redundancy of a distance with which a slip in it can be told.
const tellable = 1e-4

// twins is the correlation of two distances' tests above which nobody can tell which is wrong.
const twins = 0.97

// misfit returns the distance that does not fit, and the places without it; nil for none. The
// first look is at the largest normalised residual; which distance it is, is then decided by
// what each of the suspects leaves when it is left out.
// Source: W. Baarda, "A testing procedure for use in geodetic networks" (Netherlands Geodetic
// Commission, 1968); the threshold is that of calibrate.Threshold.
func (n *net) misfit(at []plane.Point, cost float64) (*Misfit, []plane.Point, float64, *net) {
	if n.spare() < 1 {
		return nil, at, cost, n
	}
	times, between := n.normalised(at)
	worst, tests := -1, 0
	for i, t := range times {
		if math.IsNaN(t) {
			continue
		}
		tests++
		if worst < 0 || math.Abs(t) > math.Abs(times[worst]) {
			worst = i
		}
	}
	if worst < 0 || math.Abs(times[worst]) <= calibrate.Threshold(tests) {
		return nil, at, cost, n
	}
	// Far from the true places the residuals are not those of a straight line: leave each suspect out in turn.
	drop, least, places := worst, math.Inf(1), at
	var suspects []int
	for i, t := range times {
		if !math.IsNaN(t) && math.Abs(t) >= math.Abs(times[worst])/3 {
			suspects = append(suspects, i)
		}
	}
	slices.SortFunc(suspects, func(a, b int) int { return cmp.Compare(math.Abs(times[b]), math.Abs(times[a])) })
	for _, i := range suspects {
		if next, c := n.without(i).refine(at); c < least {
			drop, least, places = i, c, next
		}
	}
	// None fits: the places themselves are on a wrong side somewhere.
	for _, i := range suspects[:min(len(suspects), 5)] {
		if enough := float64(n.spare()-1) + 4*math.Sqrt(2*float64(n.spare())) + 4; least < enough {
			break
		}
		if next, c := n.without(i).best(); c < least {
			drop, least, places = i, c, next
		}
	}
	rest := n.without(drop)
	m := &Misfit{Distance: n.p.Distances[drop], Times: math.Sqrt(max(cost-least, 0))}
	m.ShouldBe = places[n.from[drop]].Distance(places[n.to[drop]])
	m.Std = rest.stdUncOf(places, n.from[drop], n.to[drop])
	for i := range times {
		if i != drop && !math.IsNaN(times[i]) && math.Abs(between.At(drop, i)) > twins {
			m.Or = append(m.Or, n.p.Distances[i].Pair())
		}
	}
	rest.p.Distances = slices.Delete(slices.Clone(n.p.Distances), drop, drop+1)
	return m, places, least, rest
}

// normalised returns each distance's residual over the standard uncertainty that the fit leaves
// it, NaN where none is left, and how the tests hang together.
func (n *net) normalised(at []plane.Point) (times []float64, between *mat.SymDense) {
	at = n.gauged(at)
	cov, lines := n.covariance(at), len(n.long)
	left := mat.NewSymDense(lines, nil) // I − J C Jᵀ, whitened
	rows := make([][]float64, lines)
	for i := range rows {
		rows[i] = make([]float64, 2*len(n.names))
		n.row(i, at, rows[i])
	}
	for i := range rows {
		half := make([]float64, 2*len(n.names))
		for j := range half {
			for _, k := range n.touched(i) {
				half[j] += cov.At(j, k) * rows[i][k]
			}
		}
		for k := i; k < lines; k++ {
			x := 0.0
			for _, j := range n.touched(k) {
				x -= half[j] * rows[k][j]
			}
			if k == i {
				x++
			}
			left.SetSym(i, k, x)
		}
	}
	times, between = make([]float64, lines), mat.NewSymDense(lines, nil)
	for i := range times {
		times[i] = math.NaN()
		if r := left.At(i, i); r > tellable {
			times[i] = (n.long[i] - at[n.from[i]].Distance(at[n.to[i]])) / n.std[i] / math.Sqrt(r)
		}
		for k := i; k < lines; k++ {
			if a, b := left.At(i, i), left.At(k, k); a > tellable && b > tellable {
				between.SetSym(i, k, left.At(i, k)/math.Sqrt(a*b))
			}
		}
	}
	return times, between
}

// stdUncOf is the standard uncertainty of the distance of two holes, mm.
func (n *net) stdUncOf(at []plane.Point, a, b int) float64 {
	at = n.gauged(at)
	cov := n.covariance(at)
	d := at[b].Sub(at[a])
	l := max(math.Hypot(d.X, d.Z), 1e-9)
	g := map[int]float64{2 * a: -d.X / l, 2*a + 1: -d.Z / l, 2 * b: d.X / l, 2*b + 1: d.Z / l}
	variance := 0.0
	for i, x := range g {
		for j, y := range g {
			variance += x * y * cov.At(i, j)
		}
	}
	return math.Sqrt(max(variance, 0))
}
