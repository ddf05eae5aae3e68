package fem

import (
	"errors"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

var (
	errApart = errors.New("the bolts at its head are in metal that does not hang together with its foot")
	// ErrBuckled is returned for loads that the plate cannot stand upright under.
	ErrBuckled = errors.New("it has buckled")
)

// Load is what acts on a plate, with the arms on which what loads the head stands away from the
// middle of its washers: the sum of force times arm, N·mm, forces first.
type Load struct {
	sheet.Load
	Lever [2][2]float64
}

// Stands adds a force whose place moves with the head to a load's levers.
func (l *Load) Stands(force, arm plane.Point) {
	for i, f := range [2]float64{force.X, force.Z} {
		l.Lever[i][0] += f * arm.X
		l.Lever[i][1] += f * arm.Z
	}
}

// ownShare is how much of a plate's own load counts as load at its head for its buckling: a
// column under its own weight buckles at 7.84 EI/L², under a load on top at 2.47 EI/L², so that
// 0.32 would do. Source: Timoshenko and Gere (1961), art. 2.12.
const ownShare = 0.5

// tangent is the geometric stiffness of a load in the basis.
func (r *Response) tangent(l Load) *mat.SymDense {
	m := len(r.basis)
	l = r.about(l)
	fx, fz := l.X+ownShare*l.OwnX, l.Z+ownShare*l.OwnZ
	g := mat.NewSymDense(m, nil)
	for j := range m {
		for k := j; k < m; k++ {
			v := fx*r.grown[unitX].At(j, k) + fz*r.grown[unitZ].At(j, k) + l.Turn*r.grown[unitTurn].At(j, k)
			// The load's place moves with the head: ½ (F rᵀ + r Fᵀ) on its slopes.
			a, b := [2]float64{r.moves[j].SX, r.moves[j].SZ}, [2]float64{r.moves[k].SX, r.moves[k].SZ}
			for p := range 2 {
				for q := range 2 {
					v += l.Lever[p][q] * (a[p]*b[q] + b[p]*a[q]) / 2
				}
			}
			g.SetSym(j, k, v)
		}
	}
	return g
}

// about moves a load to the middle of the head's washers.
func (r *Response) about(l Load) Load {
	dx, dz := l.At.X-r.Head.X, l.At.Z-r.Head.Z
	l.Turn += dx*l.Z - dz*l.X
	l.MX -= dz * l.Side
	l.MZ += dx * l.Side
	l.At = r.Head
	return l
}

// Buckling returns how many times a load the plate buckles at, out of its plane or in it; infinite where no
// multiple of it does. Loads across the plane do not count.
func (r *Response) Buckling(l Load) float64 {
	return min(factorOf(r.tangent(l)), r.planBuckling(r.about(l)))
}

// State is a plate under a load.
type State struct {
	Motion // of the head
	plan   []float64
	side   []float64
	r      *Response
}

// coordinates are the basis' coordinates of the side deflection under a load about the head, at first
// order and to second.
func (r *Response) coordinates(l Load, second bool) (*mat.VecDense, error) {
	m := len(r.basis)
	f := mat.NewVecDense(m, nil)
	for k, n := range [sideCases]float64{l.Side, l.MX, l.MZ, l.OwnSide} {
		for j := range m {
			f.SetVec(j, f.AtVec(j)+n*r.force[k][j])
		}
	}
	if !second {
		return f, nil
	}
	a := mat.NewSymDense(m, nil)
	a.CopySym(r.tangent(l))
	for j := range m {
		a.SetSym(j, j, 1+a.At(j, j))
	}
	var q mat.VecDense
	var factor mat.Cholesky
	if !factor.Factorize(a) {
		return nil, ErrBuckled
	}
	if err := factor.SolveVecTo(&q, f); err != nil {
		return nil, ErrBuckled
	}
	return &q, nil
}

// Sideways is how the head moves across the plane under a load, to second order. It returns ErrBuckled
// at or beyond the buckling load.
func (r *Response) Sideways(l Load) (Motion, error) {
	q, err := r.coordinates(r.about(l), true)
	if err != nil {
		return Motion{}, err
	}
	var m Motion
	for j, move := range r.moves {
		c := q.AtVec(j)
		m.Side += c * move.Side
		m.SX += c * move.SX
		m.SZ += c * move.SZ
	}
	return m, nil
}

// Under works out how the plate lies under a load, its side deflection at first order or to second. It
// returns ErrBuckled at or beyond the buckling load.
func (r *Response) Under(l Load, second bool) (State, error) {
	l = r.about(l)
	q, err := r.coordinates(l, second)
	if err != nil {
		return State{}, err
	}
	s := State{r: r, side: make([]float64, 3*r.nodes)}
	if s.plan, err = r.planState(l, second); err != nil {
		return State{}, err
	}
	for j, v := range r.basis {
		c := q.AtVec(j)
		for n, x := range v {
			s.side[n] += c * x
		}
	}
	s.Motion = r.head.across(s.side)
	in := r.head.inPlane(s.plan)
	s.X, s.Z, s.Turn = in.X, in.Z, in.Turn
	return s, nil
}

// TurnUnder is how much the head turns in the plane under a load, rad.
func (r *Response) TurnUnder(l Load) float64 {
	l = r.about(l)
	turn := 0.0
	for k, n := range [planCases]float64{l.X, l.Z, l.Turn, l.OwnX, l.OwnZ} {
		if n != 0 {
			turn += n * r.head.inPlane(r.plan[k]).Turn
		}
	}
	return turn
}
