package aero

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// A point is misread when it lies this many standard uncertainties off the
// outline that the others give and at least this far, chords, while its
// neighbours lie within fewer.
const (
	misreadSigmas   = 5
	neighbourSigmas = 4
	misreadOff      = 0.002
	cornerOff       = 0.005 // where no reading is given, and it may be a corner
	maxMisread      = 4     // points
)

// leaveOut leaves out the point that fits the others least, if it is misread,
// and reports whether it was.
func (w *tracing) leaveOut() bool {
	before := *w
	before.feet, before.off = slices.Clone(w.feet), slices.Clone(w.off)
	at := w.suspect()
	if at < 0 {
		return false
	}
	row := slices.Clone(w.rows.RawRowView(at))
	w.out[at] = true
	w.settle(3)
	d, least := math.Abs(w.off[at]), misreadOff
	if w.division <= 0 {
		least = max(cornerOff, misreadSigmas*w.most)
	}
	if d > least && d > misreadSigmas*math.Sqrt(w.sigma*w.sigma+w.variance(row)) && max(w.strange(at-1), w.strange(at+1)) < neighbourSigmas {
		return true
	}
	*w = before
	w.out[at] = false
	w.linearise(false)
	return false
}

// suspect returns the point that lies furthest off an outline of no more than usual
// departures, which does not follow a single point, or -1 for none; the fit goes on
// from that outline then. The two ends are no suspects, and where no reading is
// given nor is the foremost point, which may be the corner of a plate.
func (w *tracing) suspect() int {
	const coarse, usual = 3e-4, 3 // chords, and standard uncertainties
	sigma, departure := max(w.sigma, coarse), min(w.departure, usualDeparture)
	p, _ := w.equations.posterior(sigma, departure)
	if p == nil {
		return -1
	}
	p.solve()
	worst, at := float64(usual), -1
	for i := 1; i < len(w.points)-1; i++ {
		row := w.rows.RawRowView(i)
		if w.out[i] || i == w.lead && w.division <= 0 {
			continue
		}
		free := max(sigma*sigma-p.variance(row), 1e-3*sigma*sigma)
		if z := math.Abs(w.reads[i]-floats.Dot(row, p.mean)) / math.Sqrt(free); z > worst {
			worst, at = z, i
		}
	}
	if at >= 0 {
		w.outlinePosterior, w.sigma, w.departure = p, sigma, departure
	}
	return at
}

// strange returns by how many standard uncertainties a point lies off, allowing
// for its own pull on the outline.
func (w *tracing) strange(i int) float64 {
	if w.out[i] {
		return 0
	}
	return math.Abs(w.off[i]) / (w.sigma * math.Sqrt(max(1-w.pull(i), 1e-3)))
}
