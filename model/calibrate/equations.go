package calibrate

import (
	"errors"
	"fmt"
	"math"

	"stanchion/model"

	"gonum.org/v1/gonum/mat"
)

// equation is one reading's angle or height in terms of the unknown corrections.
type equation struct {
	of      [unknowns]float64 // coefficients; of the twist half of it either way
	off     float64           // measured less predicted
	stdUnc  float64
	reading int
	height  bool
	used    bool // in the fit, not only compared with it
}

// equations lists what the readings say; one of them may be left out of the fit, or none
// with -1.
func equations(t *model.Table, readings []model.Reading, leaveOut int) []equation {
	var eqs []equation
	side := map[string]float64{"left": 0.5, "right": -0.5}
	for i, r := range readings {
		row, _ := t.Find(r.Setting)
		// The wing may sit anywhere within the play of its holes.
		play := row.Play / math.Sqrt(3)
		lever := row.X - t.Car.Ground().X // mm of height per rad
		if angle, ok := r.Angle.Get(); ok {
			eqs = append(eqs, equation{
				of: [unknowns]float64{unknownAngle: 1, unknownTwist: side[r.Side]}, off: angle - row.Angle,
				stdUnc: math.Hypot(r.AngleStdUnc(), play), reading: i, used: i != leaveOut,
			})
		}
		if height, ok := r.Height.Get(); ok {
			eqs = append(eqs, equation{
				of: [unknowns]float64{unknownAngle: lever, unknownZ: 1}, off: height - row.Height,
				stdUnc: math.Hypot(heightReading, play*lever), reading: i, height: true, used: i != leaveOut,
			})
		}
	}
	return eqs
}

// told lists the unknowns that the equations in use tell: the angle where an angle is
// read, the height where one is read, the twist where both sides are.
func told(eqs []equation) (columns []int, angles, heights int) {
	left, right := 0, 0
	for _, e := range eqs {
		switch twist := e.of[unknownTwist]; {
		case !e.used:
			continue
		case e.height:
			heights++
			continue
		case twist > 0:
			left++
		case twist < 0:
			right++
		}
		angles++
	}
	for c, n := range [unknowns]int{unknownAngle: angles, unknownZ: heights, unknownTwist: min(left, right)} {
		if n > 0 {
			columns = append(columns, c)
		}
	}
	return columns, angles, heights
}

// solution is the unknowns by weighted least squares, with their covariances; those that
// are not told are 0.
type solution struct {
	x   [unknowns]float64
	cov [unknowns][unknowns]float64
}

// maxCondition is that of a system of equations which still tells its unknowns.
const maxCondition = 1e12

// solve finds the unknowns of the columns by QR decomposition of the weighted equations;
// with A = QR their covariance is (AᵀA)⁻¹ = R⁻¹R⁻ᵀ.
func solve(eqs []equation, columns []int) (solution, error) {
	var s solution
	var rows, right []float64
	for _, e := range eqs {
		if !e.used {
			continue
		}
		for _, c := range columns {
			rows = append(rows, e.of[c]/e.stdUnc)
		}
		right = append(right, e.off/e.stdUnc)
	}
	n := len(columns)
	var qr mat.QR
	qr.Factorize(mat.NewDense(len(right), n, rows))
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, mat.NewVecDense(len(right), right)); err != nil || qr.Cond() > maxCondition {
		return s, errors.New("the readings do not determine the position of the fixed part; measure another setting as well")
	}
	var r, inverse, cov mat.Dense
	qr.RTo(&r)
	if err := inverse.Inverse(r.Slice(0, n, 0, n)); err != nil {
		return s, fmt.Errorf("the readings do not determine the position of the fixed part: %w", err)
	}
	cov.Mul(&inverse, inverse.T())
	for i, c := range columns {
		s.x[c] = x.AtVec(i)
		for k, d := range columns {
			s.cov[c][d] = cov.At(i, k)
		}
	}
	return s, nil
}

// residual returns what is left of an equation, and how many of its own standard
// uncertainties that is: its variance is the reading's less what the fit took.
func (s solution) residual(e equation) (left, off float64) {
	left = e.off
	taken := 0.0
	for c := range s.x {
		left -= s.x[c] * e.of[c]
		for d := range s.x {
			taken += e.of[c] * s.cov[c][d] * e.of[d]
		}
	}
	if spread := math.Sqrt(max(e.stdUnc*e.stdUnc-taken, 0)); spread > 1e-6*e.stdUnc {
		off = math.Abs(left) / spread
	}
	return left, off
}
