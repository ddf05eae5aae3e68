package aero

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// OutlineFit is the smooth outline that points read off a section or its drawing
// make likeliest, and how sure it is.
type OutlineFit struct {
	Points    []Vec   // 161 points of the smooth outline, as NewPanels takes them; the chord from (0, 0) to (1, 0)
	Reading   float64 // standard uncertainty of a coordinate as read, chords
	Estimated bool    // no reading was given: it comes from the scatter alone
	Residual  float64 // root mean square distance of the points from the outline, without those misread, chords
	Worst     int     // index of the point that lies furthest off
	WorstOff  float64 // by how much, chords
	Misread   []int   // points that do not fit the others and were left out, indices
	Turned    float64 // angle of the fitted chord line over the one that the points were given in, rad
	Chord     float64 // length of the fitted chord over the one that the points were given in
	Freedom   float64 // number of parameters that the readings determine

	posterior *outlinePosterior
	ends      [2]float64          // x of the trailing edge, upper and lower side
	exact     *interp.AkimaSpline // of points that are exact, what they lie off the posterior's mean, over t; else nil
}

// outlineHalf is the number of panels on each side of a fitted outline.
const outlineHalf = 80

// mostScatter is the standard uncertainty of a coordinate, chords, from which a
// section cannot be told from its readings, and mostReading the division of the
// scale.
const (
	mostScatter = 0.005
	mostReading = 0.01
)

// FitOutline fits a smooth outline to points that were read off, in chords, at
// least 20, in the order of Naca.Outline. reading is the finest division that
// they were read to, chords: 0.002 for half a millimetre on a drawing 250 mm
// long. The points' standard uncertainty is then sought about 0.45 of it, at
// least 0.29 of it, the rounding. With a reading of 0 it comes from the scatter
// alone; points to five digits come back as they are, within 1e-4.
//
// The outline is the mean of a Gaussian process whose scale and noise maximise
// the evidence; a point that lies far off the outline of the others is left out.
// Of twelve sections on drawings of 250 and 300 mm, readings to 0.5 mm leave 1.5 %
// of the largest lift, 0.6° of the stall, 0.1° of the angle of zero lift and 0.003
// of the moment, one standard deviation; to 1 mm, 2.5 %, 0.7°, 0.15° and 0.005.
// Corners are rounded. The error says why points cannot be used.
func FitOutline(points []Vec, reading float64) (OutlineFit, error) {
	if err := checkTrace(points, reading); err != nil {
		return OutlineFit{}, err
	}
	w := newTracing(points, reading)
	w.fit()
	if w.sigma > mostScatter {
		return OutlineFit{}, fmt.Errorf("the points scatter by %.1f %% of the chord about a smooth outline, of which %.1f %% can be borne; "+
			"read them again and finer, off a larger drawing or a tracing", 100*w.sigma, 100*mostScatter)
	}
	f := OutlineFit{Reading: w.sigma, Estimated: reading <= 0, posterior: w.outlinePosterior, ends: w.trailing()}
	count := 0.0
	for i, d := range w.off {
		if math.Abs(d) > f.WorstOff {
			f.Worst, f.WorstOff = i, math.Abs(d)
		}
		if w.out[i] {
			f.Misread = append(f.Misread, i)
			continue
		}
		f.Residual += d * d
		f.Freedom += w.pull(i)
		count++
	}
	f.Residual = math.Sqrt(f.Residual / count)
	if f.Estimated && (w.most < exactScatter || w.most < nearlyExact && f.WorstOff > nearlyExact) {
		f.exact = w.remainder()
	}
	f.Points, f.Turned, f.Chord = f.outline(f.posterior.mean, outlineHalf)
	if f.Residual > mostScatter || !sound(f.Points) {
		return OutlineFit{}, fmt.Errorf("no smooth outline goes through the points; see whether point %d is in its place in the order, and read as meant", f.Worst+1)
	}
	return f, nil
}

// checkTrace says why points cannot be a section's outline.
func checkTrace(points []Vec, reading float64) error {
	n := len(points)
	switch {
	case n < 20:
		return fmt.Errorf("%d points; at least 20 are needed", n)
	case reading > mostReading:
		return fmt.Errorf("points read to %.1f %% of the chord do not tell a section; read them to %.1f %% or finer, off a larger drawing or a tracing",
			100*reading, 100*mostReading)
	}
	lo, hi, area := math.Inf(1), math.Inf(-1), 0.0
	for i, p := range points {
		if math.IsNaN(p.X-p.X) || math.IsNaN(p.Y-p.Y) {
			return fmt.Errorf("point %d is not a number", i+1)
		}
		lo, hi = min(lo, p.X), max(hi, p.X)
		q := points[(i+1)%n]
		area += (p.X*q.Y - q.X*p.Y) / 2
	}
	switch {
	case math.Abs(lo) > 0.05 || math.Abs(hi-1) > 0.05:
		return fmt.Errorf("the points run from %.2f to %.2f chords; they must run from 0 to 1", lo, hi)
	case area < 0.002:
		return fmt.Errorf("the points do not go from the trailing edge over the upper side to the leading edge and back below")
	}
	return nil
}

// sound reports whether an outline stays where sections are, which one through
// points in disorder need not do.
func sound(outline []Vec) bool {
	for _, p := range outline {
		if !(p.X > -0.05 && p.X < 1.05 && math.Abs(p.Y) < 0.5) {
			return false
		}
	}
	return true
}

// trailing returns where the sides end, chords. Ends that differ by no more than
// they were read to are one.
func (w *tracing) trailing() [2]float64 {
	a, b := w.points[0].X, w.points[len(w.points)-1].X
	if math.Abs(a-b) < 4*w.sigma || math.Abs(a-b) > 0.02 {
		a = (a + b) / 2
		b = a
	}
	return [2]float64{a, b}
}

// exactScatter is the uncertainty, chords, below which points are taken as exact;
// nearlyExact that below which they are if they have corners that the fit misses by
// more.
const (
	exactScatter = 1e-5
	nearlyExact  = 1e-4
)

// remainder returns what points that are exact lie off the outline, over t.
func (w *tracing) remainder() *interp.AkimaSpline {
	var t, d []float64
	for i := len(w.points) - 1; i >= 0; i-- {
		if k := len(t); !w.out[i] && (k == 0 || w.feet[i] > t[k-1]+1e-6) {
			t, d = append(t, w.feet[i]), append(d, w.off[i])
		}
	}
	var s interp.AkimaSpline
	if len(t) < 5 || s.Fit(t, d) != nil {
		return nil
	}
	return &s
}

// Outline returns the fitted outline with another number of panels a side.
func (f OutlineFit) Outline(half int) []Vec {
	points, _, _ := f.outline(f.posterior.mean, half)
	return points
}

// outline panels a curve, and turns and scales it so that the chord runs from
// (0, 0) to (1, 0): from the place nearest to the leading edge as drawn to the
// middle of the trailing edge.
func (f OutlineFit) outline(c nosed, half int) (points []Vec, turned, chord float64) {
	at := func(t float64) Vec {
		p, d := c.at(t)
		if f.exact != nil {
			m, off := outwards(d), f.exact.Predict(t)
			p.X += off * m.X
			p.Y += off * m.Y
		}
		return p
	}
	points = make([]Vec, 2*half+1)
	points[half] = at(0)
	for i := 1; i <= half; i++ {
		th := math.Pi * float64(i) / float64(half)
		x := (1 - math.Cos(th-0.35*math.Sin(th))) / 2 // as in Naca.Outline
		up := at(math.Sqrt(x * (f.ends[0] - c[termNose])))
		low := at(-math.Sqrt(x * (f.ends[1] - c[termNose])))
		points[half-i], points[half+i] = f.thick(up, low, x)
	}
	nose, tail := at(c.foot(Vec{}, 0)), points[0]
	tail.X, tail.Y = (tail.X+points[2*half].X)/2, (tail.Y+points[2*half].Y)/2
	dx, dy := tail.X-nose.X, tail.Y-nose.Y
	square := dx*dx + dy*dy
	for i, p := range points {
		x, y := p.X-nose.X, p.Y-nose.Y
		points[i] = Vec{(x*dx + y*dy) / square, (y*dx - x*dy) / square}
	}
	return points, math.Atan2(dy, dx), math.Sqrt(square)
}

// thick keeps the sides from crossing where a thin section's thickness is less
// than it was read to: at x chords, half of it is at least about half the
// standard uncertainty, and nothing at the trailing edge.
func (f OutlineFit) thick(up, low Vec, x float64) (Vec, Vec) {
	h := (up.Y - low.Y) / 2
	least := f.Reading * (1 - x*x) * min(1, 20*x)
	more := (h+math.Hypot(h, least))/2 - h
	up.Y += more
	low.Y -= more
	return up, low
}
