package calibrate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// trackProblem is readings, and what is known of the unknowns without them: normal about 0, independent.
type trackProblem struct {
	prior    []float64 // one standard uncertainty of each unknown
	measured []float64
	stdUnc   []float64 // of each reading by itself
	predict  func(off []float64) []float64
	// disturbed is by how much each reading is off by one standard uncertainty of what several share;
	// nil for nothing.
	disturbed func(off []float64) *mat.Dense
}

// trackSolution is the unknowns with the readings, and how the readings lie to it.
type trackSolution struct {
	off        []float64
	cov        *mat.SymDense
	fitted     []float64
	jac        *mat.Dense    // of the readings, in each unknown's own unit
	noise      *mat.SymDense // covariance of the readings for known unknowns
	loo        []float64     // each reading less what prior and all others say, in its standard uncertainties
	chiSquared float64       // of all readings against the prior; as many degrees of freedom as readings
	steps      int
}

// Steps of the iteration: it has settled where none moves by more than settled of its prior standard
// uncertainty; derivatives are differences over slopeStep of it either way.
const (
	maxSteps  = 40
	settled   = 1e-3
	slopeStep = 0.2
	fineStep  = 0.01 // where those tell no way down

	noiseSteps  = 15   // after so many the readings' covariance is held, so that the steps go down one sum
	settledGain = 1e-4 // of the sum of squares, which a step gains at least before it has settled
)

var errNotSettled = errors.New("the fit does not settle")

// solve finds the unknowns by Gauss-Newton: the mode of the posterior, and its covariance from the
// derivatives there,
//
//	C = (C₀⁻¹ + JᵀR⁻¹J)⁻¹, x ← C JᵀR⁻¹ (y − h(x) + J x)
//
// with the prior covariance C₀, and R the readings' own variances with what several share. A step that
// makes the sum of squares larger is damped, as by D. W. Marquardt, J. SIAM 11 (1963) 431-441.
// Source: A. Tarantola, "Inverse Problem Theory" (2005), eq. 3.51-3.53; R. C. Aster, B. Borchers,
// C. H. Thurber, "Parameter Estimation and Inverse Problems" (2013), ch. 9 and 11; JCGM 102:2011.
func (p trackProblem) solve() (trackSolution, error) {
	var used []int // unknowns that are uncertain at all
	for u, s := range p.prior {
		if s > 0 {
			used = append(used, u)
		}
	}
	n, m := len(used), len(p.measured)
	if n == 0 {
		return trackSolution{}, errors.New("the car file says that nothing is uncertain ([uncertainty]): readings cannot tell anything")
	}
	z := mat.NewVecDense(n, nil) // in prior standard uncertainties
	offOf := func(z *mat.VecDense) []float64 {
		off := make([]float64, len(p.prior))
		for i, u := range used {
			off[u] = z.AtVec(i) * p.prior[u]
		}
		return off
	}
	misfit := func(z *mat.VecDense, r *mat.Cholesky) float64 {
		left, w := p.left(offOf(z)), new(mat.VecDense)
		if m == 0 {
			return mat.Dot(z, z)
		}
		if err := r.SolveVecTo(w, left); err != nil {
			return math.Inf(1)
		}
		return mat.Dot(z, z) + mat.Dot(left, w)
	}
	s := trackSolution{off: offOf(z)}
	var r mat.Cholesky
	over := slopeStep
	for s.steps = 1; s.steps <= maxSteps; s.steps++ {
		jac := p.slopesOver(offOf(z), used, over)
		if held := s.steps > noiseSteps; !held {
			s.noise = p.noise(offOf(z))
			if m > 0 && !r.Factorize(s.noise) {
				return s, errNotSettled
			}
		}
		left, before := p.left(offOf(z)), misfit(z, &r)
		next, cov, err := trackStep(z, jac, left, &r, 0)
		if err != nil {
			return s, err
		}
		var step mat.VecDense
		step.SubVec(next, z)
		small := mat.Norm(&step, math.Inf(1)) < settled
		now := misfit(next, &r)
		for damping := 0.1; !small && !(now <= before*(1+1e-9)+1e-9) && damping < 1e7; damping *= 4 {
			if next, _, err = trackStep(z, jac, left, &r, damping); err != nil {
				return s, err
			}
			now = misfit(next, &r)
		}
		if !small && !(now <= before*(1+1e-9)+1e-9) {
			next, now = z, before // at a kink, or where the differences are too wide to tell
		}
		// With the noise held what is gained can only shrink, so that a fit that runs along a kink ends.
		z = next
		switch ended := small || s.steps > noiseSteps && before-now < settledGain; {
		case ended && !small && over == slopeStep:
			over = fineStep
		case ended && over != slopeStep: // what the readings tell is of more than a point
			jac = p.slopes(offOf(z), used)
			if _, cov, err = trackStep(z, jac, p.left(offOf(z)), &r, 0); err != nil {
				return s, err
			}
			fallthrough
		case ended:
			s.off = offOf(z)
			return s, p.finish(&s, used, z, jac, cov)
		}
	}
	return s, errNotSettled
}

// furthest returns the reading that lies furthest off what is predicted without any, in the standard
// uncertainties of that difference; −1 where there is none.
func (p trackProblem) furthest() (at int, off float64) {
	at = -1
	nothing := make([]float64, len(p.prior))
	left := p.left(nothing)
	if left.Len() == 0 {
		return at, 0
	}
	var used []int
	for u, s := range p.prior {
		if s > 0 {
			used = append(used, u)
		}
	}
	jac, noise := p.slopes(slices.Clone(nothing), used), p.noise(nothing)
	for i := range p.measured {
		row := jac.RawRowView(i)
		if x := left.AtVec(i) / math.Sqrt(floats.Dot(row, row)+noise.At(i, i)); at < 0 || !(math.Abs(x) <= math.Abs(off)) {
			at, off = i, x
		}
	}
	return at, off
}

// trackStep is one step: the unknowns and their covariance, in prior standard uncertainties. With damping,
// which keeps the unknowns near where they are, the covariance is none.
func trackStep(z *mat.VecDense, jac *mat.Dense, left *mat.VecDense, r *mat.Cholesky, damping float64) (*mat.VecDense, *mat.SymDense, error) {
	n := z.Len()
	inverse := mat.NewSymDense(n, nil)
	right := mat.NewVecDense(n, nil)
	if left.Len() > 0 {
		var weighted, product mat.Dense
		if err := r.SolveTo(&weighted, jac); err != nil {
			return nil, nil, err
		}
		product.Mul(jac.T(), &weighted)
		for i := range n {
			for k := i; k < n; k++ {
				inverse.SetSym(i, k, (product.At(i, k)+product.At(k, i))/2)
			}
		}
		var y mat.VecDense
		y.MulVec(jac, z)
		y.AddVec(&y, left)
		right.MulVec(weighted.T(), &y)
	}
	for i := range n {
		inverse.SetSym(i, i, inverse.At(i, i)+1+damping)
		right.SetVec(i, right.AtVec(i)+damping*z.AtVec(i))
	}
	var chol mat.Cholesky
	if !chol.Factorize(inverse) {
		return nil, nil, errNotSettled
	}
	cov, next := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	if err := chol.InverseTo(cov); err != nil {
		return nil, nil, err
	}
	next.MulVec(cov, right)
	return next, cov, nil
}

// finish gives the trackSolution its covariance in the unknowns' own units, and says how each reading lies to
// what the prior and all the others say. With S = J C₀ Jᵀ + R the covariance of what the prior alone
// leaves, e = y − h(x) + J x, that of reading i is (S⁻¹e)ᵢ/√(S⁻¹)ᵢᵢ, normal with standard deviation 1.
// Source: the residual of a case that is left out, as in R. D. Cook, S. Weisberg, "Residuals and
// Influence in Regression" (1982), ch. 2, for correlated errors.
func (p trackProblem) finish(s *trackSolution, used []int, z *mat.VecDense, jac *mat.Dense, cov *mat.SymDense) error {
	m := len(p.measured)
	s.cov = mat.NewSymDense(len(p.prior), nil)
	for i, u := range used {
		for k := i; k < len(used); k++ {
			s.cov.SetSym(u, used[k], cov.At(i, k)*p.prior[u]*p.prior[used[k]])
		}
	}
	s.fitted, s.loo = p.predict(s.off), make([]float64, m)
	if m == 0 {
		return nil
	}
	s.jac = mat.NewDense(m, len(p.prior), nil)
	for i, u := range used {
		for k := range m {
			s.jac.Set(k, u, jac.At(k, i)/p.prior[u])
		}
	}
	var jj mat.SymDense
	jj.SymOuterK(1, jac)
	jj.AddSym(&jj, s.noise)
	var chol mat.Cholesky
	if !chol.Factorize(&jj) {
		return errNotSettled
	}
	var e, w mat.VecDense
	e.MulVec(jac, z)
	e.AddVec(&e, p.left(s.off))
	inverse := mat.NewSymDense(m, nil)
	if err := chol.InverseTo(inverse); err != nil {
		return err
	}
	w.MulVec(inverse, &e)
	for i := range m {
		s.loo[i] = w.AtVec(i) / math.Sqrt(inverse.At(i, i))
	}
	s.chiSquared = mat.Dot(&e, &w)
	return nil
}
