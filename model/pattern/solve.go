package pattern

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// Place is where a hole is, and how surely.
type Place struct {
	ID     string
	At     plane.Point // mm
	StdUnc float64     // mm, one standard uncertainty in the direction in which it is largest; 0 of what is given
}

// Problem is holes that are told by the distances between them.
type Problem struct {
	Told
	Known   []Place // holes whose places are given; with none the first named is the origin
	Upwards bool    // with none or one of them known: the second hole named is straight above the first, else straight behind
}

// Why says why a hole's place is not told.
type Why int

// What distances may leave open.
const (
	Free     Why = iota // it can move
	TwoSides            // two places fit alike
	Mirrored            // all of it may as well be mirrored about the line of the first two holes
	Against             // by the distances it is on the other side than was said, or the sides of two holes contradict each other
)

// Open is a hole that the distances do not place, and what would.
type Open struct {
	Hole string
	Why  Why
	Ask  [2]string // the two holes whose distance would settle it; empty where a side must be said
	Side bool      // saying on which side of Solution.Line it is would settle it too
}

// Solution is where the holes are.
type Solution struct {
	Places []Place // in the order in which the holes were named, known ones left out
	Open   []Open
	Line   [2]string // the two holes whose line sides are said of
	Rises  bool      // that line goes up rather than back: sides are behind and ahead, else above and below
	Misfit *Misfit   // the distance that does not fit; nil for none
	Spare  int       // how many distances there are beyond those that are needed; below 0 some are missing
	RMS    float64   // mm, of what is left over between the places and the distances
}

// loose is the standard uncertainty in mm from which a hole counts as not placed: a bolt hole's
// clearance is a fifth of it.
const loose = 2.0

// anywhere is the standard uncertainty in mm that a hole has before anything is measured; what
// can move freely keeps about that.
const anywhere = 2000.0

// ErrNothing is returned where there is nothing to solve.
var ErrNothing = errors.New("no distances; write two holes and their distance, such as 1-2 60")

// net is the distances between numbered holes.
type net struct {
	p     Problem
	names []string
	index map[string]int
	known int // the first so many are held where they are
	from  []int
	to    []int
	long  []float64
	std   []float64
	scale float64
}

func newNet(p Problem) *net {
	n := &net{p: p, index: map[string]int{}}
	add := func(name string) {
		if _, ok := n.index[name]; !ok {
			n.index[name] = len(n.names)
			n.names = append(n.names, name)
		}
	}
	used := map[string]bool{}
	for _, name := range p.Names {
		used[name] = true
	}
	for _, k := range p.Known {
		if used[k.ID] {
			add(k.ID)
		}
	}
	if n.known = len(n.names); n.known < 2 {
		n.known = 0 // held when the whole is turned
	}
	for _, name := range p.Names {
		add(name)
	}
	for _, d := range p.Distances {
		n.from, n.to = append(n.from, n.index[d.From]), append(n.to, n.index[d.To])
		n.long, n.std = append(n.long, d.Centres), append(n.std, max(d.StdUnc, 1e-3))
		n.scale = max(n.scale, d.Centres)
	}
	return n
}

// without returns the net less one distance.
func (n *net) without(i int) *net {
	m := *n
	cut := func(s []float64) []float64 { return slices.Delete(slices.Clone(s), i, i+1) }
	m.from, m.to = slices.Delete(slices.Clone(n.from), i, i+1), slices.Delete(slices.Clone(n.to), i, i+1)
	m.long, m.std = cut(n.long), cut(n.std)
	return &m
}

// cost is the sum of squared residuals, each over its standard uncertainty.
func (n *net) cost(at []plane.Point) (sum float64) {
	for i := range n.long {
		r := (n.long[i] - at[n.from[i]].Distance(at[n.to[i]])) / n.std[i]
		sum += r * r
	}
	return sum
}

// row writes the derivative of a distance by the places: its direction, over its uncertainty.
func (n *net) row(i int, at []plane.Point, row []float64) {
	a, b := n.from[i], n.to[i]
	d := at[b].Sub(at[a])
	l := math.Hypot(d.X, d.Z)
	if l < 1e-9 {
		d, l = plane.Point{X: 1e-9}, 1e-9
	}
	x, z := d.X/l/n.std[i], d.Z/l/n.std[i]
	row[2*a] -= x
	row[2*a+1] -= z
	row[2*b] += x
	row[2*b+1] += z
}

// refine goes down to the nearest least sum of squares, by damped Gauss-Newton steps.
// Source: D. W. Marquardt, "An algorithm for least-squares estimation of nonlinear parameters",
// J. SIAM 11 (1963) 431.
func (n *net) refine(start []plane.Point) ([]plane.Point, float64) {
	at, cost := slices.Clone(start), n.cost(start)
	first, size := 2*n.known, 2*len(n.names)
	free := size - first
	if free == 0 {
		return at, cost
	}
	lambda, row := 1e-3, make([]float64, size)
	for range 60 {
		normal, right := mat.NewSymDense(free, nil), mat.NewVecDense(free, nil)
		for i := range n.long {
			clear(row)
			n.row(i, at, row)
			r := (n.long[i] - at[n.from[i]].Distance(at[n.to[i]])) / n.std[i]
			for _, j := range n.touched(i) {
				if j < first {
					continue
				}
				right.SetVec(j-first, right.AtVec(j-first)+row[j]*r)
				for _, k := range n.touched(i) {
					if k >= j {
						normal.SetSym(j-first, k-first, normal.At(j-first, k-first)+row[j]*row[k])
					}
				}
			}
		}
		better := false
		for !better && lambda < 1e9 {
			damped := mat.NewSymDense(free, nil)
			damped.CopySym(normal)
			for j := range free {
				damped.SetSym(j, j, normal.At(j, j)*(1+lambda)+1e-9)
			}
			var chol mat.Cholesky
			var step mat.VecDense
			if !chol.Factorize(damped) || chol.SolveVecTo(&step, right) != nil {
				lambda *= 10
				continue
			}
			next := slices.Clone(at)
			for j := range free {
				if k := j + first; k%2 == 0 {
					next[k/2].X += step.AtVec(j)
				} else {
					next[k/2].Z += step.AtVec(j)
				}
			}
			if c := n.cost(next); c < cost {
				done := cost-c < 1e-10*(1+cost)
				at, cost, better = next, c, true
				lambda = max(lambda/10, 1e-12)
				if done {
					return at, cost
				}
			} else {
				lambda *= 10
			}
		}
		if !better {
			break
		}
	}
	return at, cost
}

// touched lists the unknowns that a distance hangs on.
func (n *net) touched(i int) [4]int {
	a, b := min(n.from[i], n.to[i]), max(n.from[i], n.to[i])
	return [4]int{2 * a, 2*a + 1, 2 * b, 2*b + 1}
}

// knownPlaces returns where the held holes are, and all others at 0.
func (n *net) knownPlaces() []plane.Point {
	at := make([]plane.Point, len(n.names))
	for _, k := range n.p.Known {
		if i, ok := n.index[k.ID]; ok && i < n.known {
			at[i] = k.At
		}
	}
	return at
}

// best looks for the places that fit best, from several starts: one by classical scaling of
// the distances along the shortest ways, and holes put down one after the other where two
// circles meet, on sides by chance.
func (n *net) best() ([]plane.Point, float64) {
	best, cost := n.refine(n.scaled())
	chance := rand.New(rand.NewPCG(1, uint64(len(n.names))))
	dof := float64(len(n.long))
	for try := range 24 {
		if cost < 2*dof && try > 0 || cost < 1e-6 {
			break
		}
		if at, c := n.refine(n.built(chance)); c < cost {
			best, cost = at, c
		}
		if at, c := n.reflected(best, cost); c < cost {
			best, cost = at, c
		}
	}
	return best, cost
}

// Solve finds where the holes are.
func Solve(p Problem) (Solution, error) {
	if len(p.Distances) == 0 {
		return Solution{}, ErrNothing
	}
	n := newNet(p)
	at, cost := n.best()
	s := Solution{Spare: n.spare()}
	s.Misfit, at, cost, n = n.misfit(at, cost)
	at, alternatives := n.alternatives(at, cost)
	at = n.gauged(at)
	cov := n.covariance(at)
	for i, name := range n.names {
		if n.given(i) {
			continue
		}
		s.Places = append(s.Places, Place{name, at[i], largest(cov, i)})
	}
	slices.SortStableFunc(s.Places, func(a, b Place) int { return slices.Index(p.Names, a.ID) - slices.Index(p.Names, b.ID) })
	for i := range n.long {
		r := n.long[i] - at[n.from[i]].Distance(at[n.to[i]])
		s.RMS += r * r / float64(len(n.long))
	}
	s.RMS = math.Sqrt(s.RMS)
	s.Open = n.open(at, cov, alternatives)
	first, second := n.line()
	s.Line = [2]string{n.names[first], n.names[second]}
	s.Rises = math.Abs(at[second].Z-at[first].Z) > math.Abs(at[second].X-at[first].X)
	return s, nil
}

// given reports whether a hole's place is given.
func (n *net) given(i int) bool {
	return slices.ContainsFunc(n.p.Known, func(k Place) bool { return k.ID == n.names[i] })
}

// spare counts the distances beyond those that place all holes.
func (n *net) spare() int {
	need := 2 * (len(n.names) - n.known)
	if n.known == 0 {
		need = max(need-3, 0)
	}
	return len(n.long) - need
}
