package aero

import (
	"math"
	"slices"
)

// A ruler read to its finest division is off by at least the rounding, 1/√12 of
// the division, and by parallax and the width of the line besides. readingShare
// is the usual standard uncertainty over the division, readingSpan the standard
// deviation of its logarithm. Ours, to be taken as a rule of thumb.
const (
	roundingShare = 0.2887
	readingShare  = 0.45
	readingSpan   = 0.35
)

// leastScatter is the least standard uncertainty of a coordinate, chords: that
// of points to six digits.
const leastScatter = 1e-6

// localScatter returns an upper bound of the points' standard uncertainty, chords,
// from how far each lies off the cubic through its two neighbours on either side:
// the upper quartile over all, so that neither one misread point nor a few kinks
// count, nor straight sides, along which rounding does not show. Sparse points on a
// curved side raise it.
func localScatter(points []Vec) float64 {
	s := []float64{0}
	for i := 1; i < len(points); i++ {
		s = append(s, s[i-1]+math.Hypot(points[i].X-points[i-1].X, points[i].Y-points[i-1].Y))
	}
	var off []float64
	for i := 2; i < len(points)-2; i++ {
		var q Vec
		sum := 1.0
		for _, j := range []int{i - 2, i - 1, i + 1, i + 2} {
			w := 1.0
			for _, k := range []int{i - 2, i - 1, i + 1, i + 2} {
				if k != j {
					w *= (s[i] - s[k]) / (s[j] - s[k])
				}
			}
			q.X += w * points[j].X
			q.Y += w * points[j].Y
			sum += w * w
		}
		if d := math.Hypot(q.X-points[i].X, q.Y-points[i].Y) / math.Sqrt(sum); !math.IsNaN(d) && !math.IsInf(d, 0) {
			off = append(off, d)
		}
	}
	if len(off) == 0 {
		return math.Inf(1)
	}
	slices.Sort(off)
	const quartileOfNormal = 1.1503 // that a normal distribution's distances exceed by a quarter
	return off[len(off)*3/4] / quartileOfNormal
}

// scaleDivision returns the division of the scale that heights were read to,
// chords: the largest of which all are multiples, or 0 where there is none coarser
// than 1e-4.
func scaleDivision(points []Vec) float64 {
	least := math.Inf(1)
	for _, p := range points {
		if a := math.Abs(p.Y); a > 1e-5 {
			least = min(least, a)
		}
	}
	for n := 1.0; n <= 12; n++ {
		q := least / n
		if q < 1e-4 {
			break
		}
		fits := true
		for _, p := range points {
			k := p.Y / q
			fits = fits && math.Abs(k-math.Round(k)) < 0.01
		}
		if fits {
			return q
		}
	}
	return 0
}
