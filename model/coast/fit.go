package coast

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Run is one coast-down.
type Run struct {
	T, V    []float64 // s, m/s
	Heading float64   // rad from north to the east; NaN where it is not known
	Strip   int       // which piece of road: runs both ways over one share its slope
	Setting int       // which drag area counts, from 0
}

// Car is what is known beside the runs, each with its standard uncertainty as a fraction.
type Car struct {
	Mass, MassStdUnc       float64 // kg, as driven
	Factor, FactorStdUnc   float64 // of the mass, for what rotates: 1.03 for wheels and shafts. Its uncertainty is absolute
	Density, DensityStdUnc float64 // kg/m³
	SpeedStdUnc            float64 // of the speed's scale: tyres' circumference, receiver
}

// Usual values. Factor: SAE J1263 and ISO 10521-1 take 3 % of the mass for the wheels where it is not measured, out of gear; half of that as
// its uncertainty. The others: common practice, no source.
const (
	UsualFactor       = 1.03
	UsualFactorStdUnc = 0.01
	UsualMassStdUnc   = 0.01
	UsualSpeedStdUnc  = 0.005
)

// Air and road, as far as nobody measured them: standard uncertainties. Common practice, no source: light wind, a level straight.
const (
	windStdUnc  = 2.0   // m/s, each way
	gustStdUnc  = 0.4   // m/s, by which the wind along the road differs from run to run
	slopeStdUnc = 0.003 // rise over run
	gravity     = 9.80665
)

// Wind is a wind that somebody measured: m/s towards the east and the north, with its standard uncertainty.
type Wind struct{ East, North, StdUnc float64 }

// Result is what coast-downs tell.
type Result struct {
	A, AStdUnc      float64   // N, of rolling, common to all settings
	Areas, AreaUncs []float64 // m², drag areas C_D·A = 2·C/ρ of each setting, with everything that is not known
	Cov             *mat.SymDense
	Wind            [2]float64 // m/s towards east and north, as fitted
	WindStdUnc      [2]float64
	Slopes          []float64 // of each strip, in the direction of its first run
	Scatter         float64   // m/s, of a sample about the fit
	Effective       float64   // samples that count as independent, of all
	Samples         int
	BothWays        bool // runs both ways over one strip
	Widened         float64
	Steps           int
}

// ErrFew says that runs tell nothing.
var ErrFew = errors.New("there is no coast-down to fit")

// problem is a fit by least squares with what is known before.
type problem struct {
	runs     []Run
	car      Car
	settings int
	strips   []int
	along    []int // index into strips of each run, and the direction on it
	sign     []float64
	wind     Wind
	prior    []float64 // of each parameter, its value before
	priorStd []float64
}

// Parameters, in this order: A; wind east, north; C of each setting; slope of each strip; then of each run its speed at its first sample and
// its gust.
func (p *problem) size() int { return 3 + p.settings + len(p.strips) + 2*len(p.runs) }

func (p *problem) load(x []float64, r int) Load {
	run := &p.runs[r]
	c := x[3+run.Setting]
	tail := x[3+p.settings+len(p.strips)+2*r+1] // gust from behind
	if !math.IsNaN(run.Heading) {
		sin, cos := math.Sincos(run.Heading)
		tail += x[1]*sin + x[2]*cos
	} else {
		tail += x[1]
	}
	slope := p.sign[r] * x[3+p.settings+p.along[r]]
	// Drag is on the speed through the air, v − tail: C·(v − w)².
	m := p.car.Mass
	return Load{A: x[0] + c*tail*tail + m*gravity*slope, B: -2 * c * tail, C: c}
}

// Fit fits all runs together: rolling A and wind are common, each setting has its drag area, each strip its slope, each run a gust. What
// samples are off by hangs together over time: they count as fewer, by the integrated autocorrelation of what is left over.
func Fit(runs []Run, car Car, wind Wind) (Result, error) {
	p := &problem{runs: runs, car: car, wind: wind}
	n := 0
	for _, r := range runs {
		if len(r.T) < 5 || len(r.T) != len(r.V) {
			return Result{}, fmt.Errorf("a coast-down has %d samples; it needs 5", len(r.T))
		}
		p.settings, n = max(p.settings, r.Setting+1), n+len(r.T)
	}
	p.runs = condensed(runs)
	if n == 0 {
		return Result{}, ErrFew
	}
	res := Result{Samples: n, Widened: 1}
	p.lay(&res)
	weight := 1 / (0.1 * 0.1) // of a sample, to begin with
	x := append([]float64(nil), p.prior...)
	var normal *mat.SymDense
	for round := range 3 {
		var err error
		if x, normal, res.Steps, err = p.solve(x, weight); err != nil {
			return res, err
		}
		left := p.left(x)
		sigma, per := scatter(left, 3+p.settings+2*len(runs))
		res.Scatter, res.Effective = sigma, float64(total(left))/per
		if next := 1 / (max(sigma, leastScatter) * max(sigma, leastScatter) * per); round < 2 {
			weight = next
		}
	}
	var cov mat.SymDense
	var chol mat.Cholesky
	if !chol.Factorize(normal) || chol.InverseTo(&cov) != nil {
		return res, errors.New("the runs do not tell drag and rolling apart: they need a wider range of speeds")
	}
	res.A, res.Wind = x[0], [2]float64{x[1], x[2]}
	res.WindStdUnc = [2]float64{math.Sqrt(cov.At(1, 1)), math.Sqrt(cov.At(2, 2))}
	res.Slopes = x[3+p.settings : 3+p.settings+len(p.strips)]
	common := math.Hypot(math.Hypot(car.MassStdUnc, car.FactorStdUnc/car.Factor), car.SpeedStdUnc)
	res.AStdUnc = math.Hypot(math.Sqrt(cov.At(0, 0)), x[0]*common)
	scale := 2 / car.Density
	all := math.Hypot(common, car.DensityStdUnc)
	res.Cov = mat.NewSymDense(p.settings, nil)
	for i := range p.settings {
		res.Areas = append(res.Areas, scale*x[3+i])
	}
	for i := range p.settings {
		for k := i; k < p.settings; k++ { // mass, density and the speed's scale put all areas off alike
			res.Cov.SetSym(i, k, scale*scale*cov.At(3+i, 3+k)+all*all*res.Areas[i]*res.Areas[k])
		}
		res.AreaUncs = append(res.AreaUncs, math.Sqrt(res.Cov.At(i, i)))
	}
	for i, a := range res.Areas {
		if !(a > 0) || !(res.A > 0) {
			return res, fmt.Errorf("the runs give a drag area of %.2f m² and %.0f N of rolling resistance: they are no coast-downs, or wind and slope are in them; run both ways", res.Areas[i], res.A)
		}
	}
	return res, nil
}

// mostFitted is how many samples of a run are fitted at most.
const mostFitted = 100

// condensed averages samples that follow one another, so that no run has too many: over less than a second the speed is straight.
func condensed(runs []Run) []Run {
	out := make([]Run, len(runs))
	for i, r := range runs {
		out[i] = r
		k := (len(r.T) + mostFitted - 1) / mostFitted
		if k < 2 {
			continue
		}
		out[i].T, out[i].V = nil, nil
		for from := 0; from+k <= len(r.T); from += k {
			t, v := 0.0, 0.0
			for j := from; j < from+k; j++ {
				t, v = t+r.T[j], v+r.V[j]
			}
			out[i].T, out[i].V = append(out[i].T, t/float64(k)), append(out[i].V, v/float64(k))
		}
	}
	return out
}

func total(left [][]float64) (n int) {
	for _, r := range left {
		n += len(r)
	}
	return n
}

// Difference is by how much the drag area of one setting is more than that of another, m², with its standard uncertainty.
func (r *Result) Difference(of, less int) (d, stdUnc float64) {
	return r.Areas[of] - r.Areas[less], math.Sqrt(max(0, r.Cov.At(of, of)+r.Cov.At(less, less)-2*r.Cov.At(of, less)))
}

// lay sets strips and what is known before.
func (p *problem) lay(res *Result) {
	index := map[int]int{}
	firsts := map[int]float64{}
	known := true
	for _, r := range p.runs {
		k, met := index[r.Strip]
		if !met {
			k = len(p.strips)
			index[r.Strip], firsts[r.Strip] = k, r.Heading
			p.strips = append(p.strips, r.Strip)
		}
		sign := 1.0
		if math.Cos(r.Heading-firsts[r.Strip]) < 0 { // not for NaN
			sign = -1
			res.BothWays = true
		}
		known = known && !math.IsNaN(r.Heading)
		p.along, p.sign = append(p.along, k), append(p.sign, sign)
	}
	std := windStdUnc
	if p.wind.StdUnc > 0 {
		std = p.wind.StdUnc
	}
	me := p.car.Mass
	p.prior = append(p.prior, 0.015*me*gravity, p.wind.East, p.wind.North)
	p.priorStd = append(p.priorStd, math.Inf(1), std, std)
	for range p.settings {
		p.prior, p.priorStd = append(p.prior, 0.35), append(p.priorStd, math.Inf(1))
	}
	for range p.strips {
		p.prior, p.priorStd = append(p.prior, 0), append(p.priorStd, slopeStdUnc)
	}
	for _, r := range p.runs {
		p.prior, p.priorStd = append(p.prior, r.V[0], 0), append(p.priorStd, math.Inf(1), gustStdUnc)
	}
}

// model is the speeds of a run.
func (p *problem) model(x []float64, r int, into []float64) []float64 {
	l := p.load(x, r)
	m := p.car.Mass * p.car.Factor
	v0 := x[3+p.settings+len(p.strips)+2*r]
	into = into[:0]
	for _, t := range p.runs[r].T {
		into = append(into, l.Speed(m, v0, t-p.runs[r].T[0]))
	}
	return into
}

// left is what is left over of each run.
func (p *problem) left(x []float64) (all [][]float64) {
	for r := range p.runs {
		v := p.model(x, r, nil)
		for i := range v {
			v[i] = p.runs[r].V[i] - v[i]
		}
		all = append(all, v)
	}
	return all
}

// of lists the parameters that a run hangs on.
func (p *problem) of(r int) []int {
	own := 3 + p.settings + len(p.strips) + 2*r
	return []int{0, 1, 2, 3 + p.runs[r].Setting, 3 + p.settings + p.along[r], own, own + 1}
}

// solve does steps of Gauss and Newton, damped where one would make it worse (Levenberg and Marquardt), and returns the normal matrix.
func (p *problem) solve(x []float64, weight float64) ([]float64, *mat.SymDense, int, error) {
	damp := 1e-3
	cost := p.cost(x, weight)
	for step := 1; step <= 100; step++ {
		normal, right := p.normal(x, weight)
		damped := mat.NewSymDense(p.size(), nil)
		damped.CopySym(normal)
		for i := range p.size() {
			damped.SetSym(i, i, normal.At(i, i)*(1+damp))
		}
		var chol mat.Cholesky
		var move mat.VecDense
		if !chol.Factorize(damped) || chol.SolveVecTo(&move, right) != nil {
			damp *= 10
			continue
		}
		next := append([]float64(nil), x...)
		for i := range next {
			next[i] += move.AtVec(i)
		}
		now := p.cost(next, weight)
		if !(now <= cost) {
			if damp *= 10; damp > 1e12 {
				break
			}
			continue
		}
		done := cost-now < 1e-9*(1+now)
		x, cost, damp = next, now, max(damp/10, 1e-9)
		if done {
			normal, _ = p.normal(x, weight)
			return x, normal, step, nil
		}
	}
	normal, _ := p.normal(x, weight)
	return x, normal, 100, errors.New("the fit does not settle: these are no coast-downs")
}

func (p *problem) cost(x []float64, weight float64) (sum float64) {
	for _, run := range p.left(x) {
		for _, e := range run {
			sum += weight * e * e
		}
	}
	for i, std := range p.priorStd {
		if !math.IsInf(std, 1) {
			sum += (x[i] - p.prior[i]) * (x[i] - p.prior[i]) / (std * std)
		}
	}
	return sum
}

// steps by which parameters are moved for slopes.
const tiny = 1e-5

func (p *problem) normal(x []float64, weight float64) (*mat.SymDense, *mat.VecDense) {
	n := p.size()
	normal, right := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for r := range p.runs {
		of := p.of(r)
		base := p.model(x, r, nil)
		slopes := make([][]float64, len(of))
		for k, i := range of {
			h := tiny * max(1, math.Abs(x[i]))
			was := x[i]
			x[i] = was + h
			up := p.model(x, r, nil)
			x[i] = was - h
			down := p.model(x, r, nil)
			x[i] = was
			for j := range up {
				up[j] = (up[j] - down[j]) / (2 * h)
			}
			slopes[k] = up
		}
		for a, i := range of {
			sum := 0.0
			for j := range base {
				sum += slopes[a][j] * (p.runs[r].V[j] - base[j])
			}
			right.SetVec(i, right.AtVec(i)+weight*sum)
			for b, k := range of[a:] {
				dot := 0.0
				for j := range base {
					dot += slopes[a][j] * slopes[a+b][j]
				}
				normal.SetSym(i, k, normal.At(i, k)+weight*dot)
			}
		}
	}
	for i, std := range p.priorStd {
		if !math.IsInf(std, 1) {
			normal.SetSym(i, i, normal.At(i, i)+1/(std*std))
			right.SetVec(i, right.AtVec(i)+(p.prior[i]-x[i])/(std*std))
		}
	}
	return normal, right
}

// leastScatter is what a speed scatters by at least, m/s: it is shown to 0.1 km/h.
const leastScatter = 0.1 / 3.6 / 3.4641016151377544

// scatter is the standard deviation of what is left over, m/s, and for how many samples one that is independent stands: 1 + 2·Σρ(k), the sum
// up to the first lag at which it is five times the sum itself.
// Source: A. Sokal, "Monte Carlo Methods in Statistical Mechanics" (1996), sec. 3, for the window.
func scatter(left [][]float64, parameters int) (sigma, per float64) {
	n, square := 0, 0.0
	for _, run := range left {
		for _, e := range run {
			square += e * e
		}
		n += len(run)
	}
	if square == 0 {
		return 0, 1
	}
	per = 1
	for lag := 1; lag < 500; lag++ {
		sum, pairs := 0.0, 0
		for _, run := range left {
			for i := lag; i < len(run); i++ {
				sum += run[i] * run[i-lag]
			}
			pairs += max(0, len(run)-lag)
		}
		if pairs < 10 {
			break
		}
		per += 2 * (sum / float64(pairs)) / (square / float64(n))
		if float64(lag) >= 5*per/2 {
			break
		}
	}
	per = max(1, per)
	// Each fitted parameter takes one independent sample's worth of scatter away, and of the sum of correlations as well.
	independent := float64(n) / per
	lost := independent / max(1, independent-float64(parameters))
	return math.Sqrt(square / float64(n) * lost), per * lost
}
