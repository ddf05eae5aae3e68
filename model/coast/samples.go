package coast

import "math"

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
