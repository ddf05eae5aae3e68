package coast

import (
	"errors"
	"fmt"
	"math"
	"slices"

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
	Growth, GrowthStdUnc   float64 // s/m, of the rolling resistance with speed: A·(1 + Growth·v)
}

// Usual values. Factor: SAE J1263 and ISO 10521-1 take 3 % of the mass for the wheels where it is not measured, out of gear; half of that as
// its uncertainty. The growth: from standstill to 130 km/h the rolling resistance of radial tyres rises by some 5 to 25 %; by 5 % after J. Y. Wong,
// "Theory of Ground Vehicles", 0.0136 + 0.4e-7·V² with V in km/h (from memory). The others: common practice, no source.
const (
	UsualGrowth       = 0.004
	UsualGrowthStdUnc = 0.003

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
	driftStdUnc = 1.0   // m/s, each way, by which the wind is another one when the next setting runs
	tyreStdUnc  = 0.03  // of the rolling resistance, by which tyres are warmer or colder then
	gravity     = 9.80665
)

// Wind is a wind that somebody measured: m/s towards the east and the north, with its standard uncertainty.
type Wind struct{ East, North, StdUnc float64 }

// Result is what coast-downs tell.
type Result struct {
	A, AStdUnc      float64   // N, of rolling at next to no speed, common to all settings
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

// Parameters, in this order: A; wind east, north; growth; C of each setting; by how much A and wind are others with each setting; slope of each strip;
// then of each run its speed at its first sample and its gust.
func (p *problem) size() int { return p.run(len(p.runs)) }

const growth, area0 = 3, 4

func (p *problem) other(setting int) int { return area0 + p.settings + 3*setting }
func (p *problem) slope(strip int) int   { return area0 + 4*p.settings + strip }
func (p *problem) run(r int) int         { return area0 + 4*p.settings + len(p.strips) + 2*r }

func (p *problem) load(x []float64, r int) Load {
	run := &p.runs[r]
	c := x[area0+run.Setting]
	k := p.other(run.Setting)
	tail := x[p.run(r)+1] // gust from behind
	if !math.IsNaN(run.Heading) {
		sin, cos := math.Sincos(run.Heading)
		tail += (x[1]+x[k+1])*sin + (x[2]+x[k+2])*cos
	} else {
		tail += x[1] + x[k+1]
	}
	slope := p.sign[r] * x[p.slope(p.along[r])]
	// Drag is on the speed through the air, v − tail: C·(v − w)².
	m := p.car.Mass
	return Load{A: x[0] + x[k] + c*tail*tail + m*gravity*slope, B: (x[0]+x[k])*x[growth] - 2*c*tail, C: c}
}

// Fit fits all runs together: rolling A and wind are common, each setting has its drag area, each strip its slope, each run a gust; tyres and wind are a little
// different ones with each setting. What
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
		sigma, per := scatter(left, p.size())
		res.Scatter, res.Effective = sigma, float64(total(left))/per
		if next := 1 / (max(sigma, leastScatter) * max(sigma, leastScatter) * per); round < 2 {
			weight = next
		}
	}
	var cov mat.SymDense
	var chol mat.Cholesky
	if !chol.Factorize(normal) || chol.InverseTo(&cov) != nil {
		return res, errors.New("drag and rolling resistance cannot be separated: the runs need a wider range of speeds")
	}
	res.A, res.Wind = x[0], [2]float64{x[1], x[2]}
	res.WindStdUnc = [2]float64{math.Sqrt(cov.At(1, 1)), math.Sqrt(cov.At(2, 2))}
	res.Slopes = x[p.slope(0):p.run(0)]
	common := math.Hypot(math.Hypot(car.MassStdUnc, car.FactorStdUnc/car.Factor), car.SpeedStdUnc)
	res.AStdUnc = math.Hypot(math.Sqrt(cov.At(0, 0)), x[0]*common)
	if slices.ContainsFunc(runs, func(r Run) bool { return math.IsNaN(r.Heading) }) { // they may all have been down one slope
		res.AStdUnc = math.Hypot(res.AStdUnc, slopeStdUnc*car.Mass*gravity)
	}
	scale := 2 / car.Density
	all := math.Hypot(common, car.DensityStdUnc)
	res.Cov = mat.NewSymDense(p.settings, nil)
	for i := range p.settings {
		res.Areas = append(res.Areas, scale*x[area0+i])
	}
	for i := range p.settings {
		for k := i; k < p.settings; k++ { // mass, density and the speed's scale put all areas off alike
			res.Cov.SetSym(i, k, scale*scale*cov.At(area0+i, area0+k)+all*all*res.Areas[i]*res.Areas[k])
		}
		res.AreaUncs = append(res.AreaUncs, math.Sqrt(res.Cov.At(i, i)))
	}
	for i, a := range res.Areas {
		if !(a > 0) || !(res.A > 0) {
			return res, fmt.Errorf("the runs give a drag area of %.2f m² and %.0f N of rolling resistance: these are not coast-downs, or wind and slope are in them; run both ways", res.Areas[i], res.A)
		}
	}
	return res, nil
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
	p.prior = append(p.prior, 0.015*me*gravity, p.wind.East, p.wind.North, p.car.Growth)
	p.priorStd = append(p.priorStd, math.Inf(1), std, std, max(p.car.GrowthStdUnc, 1e-7))
	for range p.settings {
		p.prior, p.priorStd = append(p.prior, 0.35), append(p.priorStd, math.Inf(1))
	}
	for range p.settings {
		tyres, drift := tyreStdUnc*p.prior[0], driftStdUnc
		if p.settings == 1 { // there is no other
			tyres, drift = 1e-6, 1e-6
		}
		p.prior, p.priorStd = append(p.prior, 0, 0, 0), append(p.priorStd, tyres, drift, drift)
	}
	for range p.strips {
		p.prior, p.priorStd = append(p.prior, 0), append(p.priorStd, slopeStdUnc)
	}
	for _, r := range p.runs {
		gust := gustStdUnc
		if math.IsNaN(r.Heading) { // it may have gone either way
			gust = math.Hypot(gust, windStdUnc)
		}
		p.prior, p.priorStd = append(p.prior, r.V[0], 0), append(p.priorStd, math.Inf(1), gust)
	}
}

// model is the speeds of a run.
func (p *problem) model(x []float64, r int, into []float64) []float64 {
	l := p.load(x, r)
	m := p.car.Mass * p.car.Factor
	v0 := x[p.run(r)]
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
	own, k := p.run(r), p.other(p.runs[r].Setting)
	return []int{0, 1, 2, growth, area0 + p.runs[r].Setting, k, k + 1, k + 2, p.slope(p.along[r]), own, own + 1}
}
