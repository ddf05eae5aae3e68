package aero

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// tracing is a fit under way: an outline through points, by least squares of
// their distances square to it, each point with its foot on the outline.
//
// Source: P. T. Boggs and J. E. Rogers, "Orthogonal distance regression",
// NISTIR 89-4197 (1989); from memory.
type tracing struct {
	points []Vec
	lead   int  // index of the foremost
	sharp  bool // both sides end in the same point

	division    float64 // of the scale that the points were read to, chords; 0 for not known
	least, most float64 // between which sigma is sought

	out       []bool    // points that do not count, being misread
	feet      []float64 // t of each point's foot
	off       []float64 // distance of each point, chords, positive outwards
	rows      *mat.Dense
	reads     []float64 // what the terms, with a row as factors, have to come to
	equations traceEquations

	sigma     float64 // standard uncertainty of a coordinate, chords
	departure float64 // scale of the departures from smooth forms, chords
	*outlinePosterior
}

// newTracing starts a tracing with points as far along as their x says, and with
// an outline 12 % thick.
func newTracing(points []Vec, reading float64) *tracing {
	n := len(points)
	w := &tracing{points: points, sharp: points[0] == points[n-1], division: reading, departure: usualDeparture,
		out: make([]bool, n), feet: make([]float64, n), off: make([]float64, n), reads: make([]float64, n), rows: mat.NewDense(n+1, nosedLen, nil)}
	if reading > 0 {
		w.least, w.most = roundingShare*reading, math.Inf(1)
		w.sigma = readingShare * reading
	} else {
		const coarse = 3e-4 // a guess to start from
		w.most = max(1.5*localScatter(points), leastScatter)
		w.least = min(max(roundingShare*scaleDivision(points), leastScatter), w.most)
		w.sigma = min(max(coarse, w.least), w.most)
	}
	for i, p := range points {
		if p.X < points[w.lead].X {
			w.lead = i
		}
	}
	nose := points[w.lead].X
	for i, p := range points {
		w.feet[i] = math.Sqrt(p.X - nose)
		if i > w.lead {
			w.feet[i] *= -1
		}
	}
	w.outlinePosterior = &outlinePosterior{mean: nosed{termNose: nose, termForm: 0.12, nosedLen - 1: 0}}
	return w
}

// aroundNose is how far beyond the nose the foot of a point of one side may lie
// on the other.
const aroundNose = 0.06

// linearise finds the points' feet and takes their distances as linear in the
// outline's terms. At first, when no outline is known, it takes heights above
// the chord line for distances, and the foremost point for the nose.
func (w *tracing) linearise(first bool) {
	var f, df [nosedLen]float64
	n := len(w.points)
	e := traceEquations{b: make([]float64, nosedLen)}
	take := func(row []float64, z float64) {
		for j, v := range row {
			e.b[j] += v * z
		}
		e.squares += z * z
		e.count++
	}
	for i, p := range w.points {
		t, m := w.feet[i], Vec{0, min(1, 10*math.Abs(w.feet[i]))}
		q, _ := w.mean.at(t)
		if !first {
			t, q, m = w.foot(i)
		}
		w.feet[i] = t
		w.off[i] = m.X*(p.X-q.X) + m.Y*(p.Y-q.Y)
		row := w.rows.RawRowView(i)
		if w.out[i] {
			clear(row)
			continue
		}
		noseTerms(t, &f, &df)
		row[termNose] = m.X
		for j := termForm; j < nosedLen; j++ {
			row[j] = m.Y * f[j]
		}
		w.reads[i] = m.X*(p.X-t*t) + m.Y*p.Y
		take(row, w.reads[i])
	}
	if w.sharp { // the sides meet, much closer than they were read
		const surer = 10
		row := w.rows.RawRowView(n)
		noseTerms(w.feet[0], &f, &df)
		for j := termForm; j < nosedLen; j++ {
			row[j] = surer * f[j]
		}
		noseTerms(w.feet[n-1], &f, &df)
		for j := termForm; j < nosedLen; j++ {
			row[j] -= surer * f[j]
		}
		take(row, 0)
	}
	e.a = blas64.Symmetric{N: nosedLen, Stride: nosedLen, Uplo: blas.Upper, Data: make([]float64, nosedLen*nosedLen)}
	blas64.Syrk(blas.Trans, 1, w.rows.RawMatrix(), 0, e.a)
	w.equations = e
}

// foot returns where a point's foot on the outline is, t and the place, and the
// direction from it in which the point's distance counts.
func (w *tracing) foot(i int) (t float64, q, m Vec) {
	p := w.points[i]
	nearest := w.mean.foot(p, w.feet[i])
	t = nearest
	switch { // not on the other side, though that may be nearer to a misread point
	case i > w.lead:
		t = min(t, aroundNose)
	case i < w.lead:
		t = max(t, -aroundNose)
	}
	q, d := w.mean.at(t)
	if l := math.Hypot(p.X-q.X, p.Y-q.Y); t != nearest && l > 0 {
		return t, q, Vec{(p.X - q.X) / l, (p.Y - q.Y) / l}
	}
	return t, q, outwards(d)
}

// logPrior is the logarithm of how likely an uncertainty of the readings and a
// scale of departures are before anything was read.
func (w *tracing) logPrior(sigma, departure float64) float64 {
	d := math.Log(departure/usualDeparture) / departureSpan
	if w.division <= 0 {
		return -d * d / 2
	}
	s := math.Log(sigma/(readingShare*w.division)) / readingSpan
	return -(d*d + s*s) / 2
}

// choose finds the readings' uncertainty and the scale of departures that are
// likeliest, and the outline with them.
func (w *tracing) choose() {
	best := math.Inf(-1)
	try := func(sigma, departure float64) bool {
		sigma, departure = min(max(sigma, w.least), w.most), min(max(departure, leastDeparture), mostDeparture)
		p, log := w.equations.posterior(sigma, departure)
		log += w.logPrior(sigma, departure)
		if p == nil || !(log > best) {
			return false
		}
		best, w.sigma, w.departure, w.outlinePosterior = log, sigma, departure, p
		return true
	}
	try(w.sigma, w.departure)
	for _, f := range []float64{4, 2, 1.4, 1.2} {
		for again := true; again; {
			again = false
			for _, g := range []float64{f, 1 / f} {
				again = try(w.sigma*g, w.departure) || again
				again = try(w.sigma, w.departure*g) || again
			}
		}
	}
	w.solve()
}

// settle goes on from the outline so far, in rounds of which each takes the last
// one's feet.
func (w *tracing) settle(rounds int) {
	for range rounds {
		w.linearise(false)
		w.choose()
	}
	w.linearise(false)
}

// fit finds the outline, its uncertainty and the misread points.
func (w *tracing) fit() {
	w.linearise(true)
	w.choose()
	w.settle(4)
	for range maxMisread {
		if !w.leaveOut() {
			break
		}
	}
}

// pull returns how much of a shift of a point the outline follows, 0 to 1.
func (w *tracing) pull(i int) float64 {
	return w.variance(w.rows.RawRowView(i)) / (w.sigma * w.sigma)
}
