package aero

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// strips is the state of all strips at one angle of attack of the wing, rad.
type strips struct {
	alpha float64
	theta []float64 // angles in the lattice
	felt  []float64 // effective angles of attack of the sections
	cl    []float64
}

// coupling solves for the strips of one wing.
type coupling struct {
	lattice *lattice
	section Curve
	n       int
	slope   float64   // of the section's lift about zero lift, per rad
	delta   []float64 // the last solution, rad
}

// start returns an angle of attack on the step grid close to zero lift, or to the least lift that the
// section has with the flow attached.
func (s *coupling) start() float64 {
	lo, hi := s.section.Range()
	low, high := s.section.attached()
	lo, hi = max(lo, s.section.alpha[low]), min(hi, s.section.alpha[high])
	best, at := math.Inf(1), math.NaN()
	for a := lowestAngle; a <= highestAngle; a += angleStep {
		if a < lo || a > hi {
			continue
		}
		if k, ok := s.section.At(a); ok && math.Abs(k.CL) < best {
			best, at = math.Abs(k.CL), a
		}
	}
	return math.Round(at/angleStep) * angleStep
}

// walk solves from one angle of attack on until an end, and says why it ended.
func (s *coupling) walk(from, step, end float64) (all []strips, why string) {
	s.delta = make([]float64, s.n)
	if k, ok := s.section.At(from); ok {
		for j := range s.delta {
			s.delta[j] = k.CL/(2*math.Pi) - from
		}
	}
	for i := 0; ; i++ {
		alpha := from + float64(i)*step
		if (end-alpha)/step < -1e-9 {
			return all, fmt.Sprintf("no angle beyond %.0f° is worked out", end/deg)
		}
		st, why := s.solve(alpha)
		if why != "" {
			return all, why
		}
		all = append(all, st)
	}
}

// solve finds the strips at one angle of attack of the wing, starting from the
// last solution: by Newton's method, or where the curve's kinks throw that off,
// by small steps against the residual. why is empty when it has.
func (s *coupling) solve(alpha float64) (st strips, why string) {
	for _, method := range []func(float64, []float64) ([]float64, bool){s.byNewton, s.bySmallSteps} {
		if delta, ok := method(alpha, append([]float64(nil), s.delta...)); ok {
			s.delta = delta
			st, _, _ = s.state(alpha, delta)
			return st, ""
		}
	}
	return s.together(alpha)
}

// solved is the size of the residual at which a solution is reached, in lift
// coefficient over all strips.
const solved = 1e-6

func (s *coupling) byNewton(alpha float64, delta []float64) ([]float64, bool) {
	st, residual, out := s.state(alpha, delta)
	for range 30 {
		size := floats.Norm(residual, 2)
		if out || size < solved {
			return delta, !out
		}
		step, ok := s.newton(st, residual)
		if !ok {
			return nil, false
		}
		for cut := 1.0; ; cut /= 2 {
			if cut < 1e-2 {
				return nil, false
			}
			trial := append([]float64(nil), delta...)
			floats.AddScaled(trial, -cut, step)
			next, r, beyond := s.state(alpha, trial)
			if !beyond && floats.Norm(r, 2) < size*(1-0.1*cut) {
				delta, st, residual = trial, next, r
				break
			}
		}
	}
	return nil, false
}

func (s *coupling) bySmallSteps(alpha float64, delta []float64) ([]float64, bool) {
	const step = 0.3 / (2 * math.Pi)
	for range 1500 {
		_, residual, out := s.state(alpha, delta)
		if out {
			return nil, false
		}
		if floats.Norm(residual, 2) < solved {
			return delta, true
		}
		floats.AddScaled(delta, -step, residual)
	}
	return nil, false
}

// state works out the strips for given δ: their lift in the lattice and how far
// it is from the section's own. out reports that a strip feels an angle that
// the section's curve does not reach.
func (s *coupling) state(alpha float64, delta []float64) (st strips, residual []float64, out bool) {
	st = strips{alpha: alpha, theta: make([]float64, s.n), felt: make([]float64, s.n), cl: make([]float64, s.n)}
	residual = make([]float64, s.n)
	for j := range s.n {
		st.theta[j] = alpha + s.lattice.twist[j] + delta[j]
	}
	for j := range s.n {
		st.cl[j] = floats.Dot(s.lattice.lift.RawRowView(j), st.theta)
		st.felt[j] = st.cl[j]/(2*math.Pi) - delta[j]
		k, ok := s.section.At(st.felt[j])
		if !ok {
			return st, residual, true
		}
		residual[j] = st.cl[j] - k.CL
	}
	for j := range s.n {
		residual[j] += s.smoothing(st.felt[j]) * s.curvature(st.felt, j)
	}
	return st, residual, false
}

// smoothing is the artificial viscosity at a strip, per rad: none where the
// section's lift is straight, more the further it falls off, so that strips
// beyond the stall do not jump between the two sides of the curve's top.
// Source: J.-J. Chattot's viscous lifting line (from memory); the factor is
// ours, the solution goes smoothly through the stall of all published sections with it.
func (s *coupling) smoothing(felt float64) float64 {
	lo, hi := s.section.Range()
	a, b := max(felt-smoothOver, lo), min(felt+smoothOver, hi)
	before, _ := s.section.At(a)
	after, _ := s.section.At(b)
	return viscosity * max(0, s.slope-(after.CL-before.CL)/(b-a))
}

// smoothOver is half the range over which the section's slope is taken for the
// viscosity, rad: over less, the kinks of a curve of straight lines would show.
const smoothOver = 2 * deg

const viscosity = 0.6

// curvature is the second difference of the strips' effective angles: even
// about the middle of the wing, level at its tip.
func (s *coupling) curvature(felt []float64, j int) float64 {
	return felt[max(j-1, 0)] - 2*felt[j] + felt[min(j+1, s.n-1)]
}

// newton returns the step that takes the residual to zero if the section's
// curve is straight.
func (s *coupling) newton(st strips, residual []float64) ([]float64, bool) {
	jac := mat.NewDense(s.n, s.n, nil)
	felt := func(j, k int) float64 { // how the angle that strip j feels moves with δ of strip k
		d := s.lattice.lift.At(j, k) / (2 * math.Pi)
		if j == k {
			d--
		}
		return d
	}
	for j := range s.n {
		slope, mu := s.section.Slope(st.felt[j]), s.smoothing(st.felt[j])
		for k := range s.n {
			bend := felt(max(j-1, 0), k) - 2*felt(j, k) + felt(min(j+1, s.n-1), k)
			jac.Set(j, k, s.lattice.lift.At(j, k)-slope*felt(j, k)+mu*bend)
		}
	}
	var step mat.VecDense
	if err := step.SolveVec(jac, mat.NewVecDense(s.n, residual)); err != nil {
		return nil, false
	}
	return step.RawVector().Data, true
}

// together solves with one δ for all strips, which has a solution wherever the
// section has lift: past the stall neighbouring strips would otherwise jump
// between the two sides of the curve's peak. Bisection on the effective angle
// of the mean strip.
func (s *coupling) together(alpha float64) (strips, string) {
	sum := 0.0 // mean lift per rad of all strips together
	for j := range s.n {
		sum += s.lattice.share[j] * floats.Sum(s.lattice.lift.RawRowView(j))
	}
	twist := floats.Dot(s.lattice.twist, s.lattice.share)
	// felt = cl/2π − δ and cl = sum·(α + twist + δ) give, for a section lift f:
	// felt = α + twist − f(felt)·(1/sum − 1/2π).
	gap := func(felt float64) float64 {
		k, _ := s.section.At(felt)
		return alpha + twist - k.CL*(1/sum-1/(2*math.Pi)) - felt
	}
	lo, hi := s.section.Range()
	if gap(lo) < 0 || gap(hi) > 0 {
		return strips{}, "the section's data end there"
	}
	for range 60 {
		if mid := (lo + hi) / 2; gap(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	felt := (lo + hi) / 2
	k, _ := s.section.At(felt)
	st := strips{alpha: alpha, theta: make([]float64, s.n), felt: make([]float64, s.n), cl: make([]float64, s.n)}
	delta := k.CL/(2*math.Pi) - felt
	for j := range s.n {
		st.theta[j] = alpha + twist + delta
		st.felt[j] = felt
		s.delta[j] = delta
	}
	for j := range s.n {
		st.cl[j] = floats.Dot(s.lattice.lift.RawRowView(j), st.theta)
	}
	return st, ""
}
