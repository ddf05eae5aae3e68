package model

import (
	"math"

	"stanchion/aero"
)

// Traced is an outline that was read off a section or a drawing, point by point, and what the
// reading leaves open of the section's figures.
type Traced struct {
	Points []aero.Vec // as read, in chords
	Fit    aero.OutlineFit
	Given  bool // the reading is the person's; else it is told by the points' scatter

	// One standard uncertainty by the reading: rad, rad and fractions.
	ZeroLift, MaxAngle, Slope, MaxLift float64
}

// readWell is the standard uncertainty of points, chords, up to which an outline is as good as
// exact, and is taken as it stands.
const readWell = 3e-4

// outlinesTried is how many outlines that the points could also mean are worked out, and
// tracedReynolds at which Reynolds number; what the reading leaves open hardly hangs on it.
const (
	outlinesTried  = 8
	tracedReynolds = 1e6
)

// Trace fits a smooth outline to points in chords that were read to a division of reading
// chords; 0 where nobody said. It is nil where the points are good enough to be taken as they
// are. The error says why no section can be told from them.
func Trace(points []aero.Vec, reading float64) (*Traced, error) {
	fit, err := aero.FitOutline(points, reading)
	if err != nil {
		return nil, err
	}
	if reading <= 0 && fit.Reading <= readWell && len(fit.Misread) == 0 {
		return nil, nil
	}
	tr := &Traced{Points: points, Fit: fit, Given: reading > 0}
	middle, err := aero.SectionFromShape("", fit.Points, tracedReynolds)
	if err != nil {
		return tr, nil // the section says so itself when it is asked for
	}
	var n, zero, angle, slope, lift float64
	for _, outline := range fit.Alternatives(outlinesTried, 1) {
		s, err := aero.SectionFromShape("", outline, tracedReynolds)
		if err != nil {
			continue
		}
		n++
		zero += square(s.ZeroLift - middle.ZeroLift)
		angle += square(s.MaxAngle - middle.MaxAngle)
		slope += square(s.Slope/middle.Slope - 1)
		lift += square(s.MaxLift/middle.MaxLift - 1)
	}
	if n > 0 {
		tr.ZeroLift, tr.MaxAngle, tr.Slope, tr.MaxLift = math.Sqrt(zero/n), math.Sqrt(angle/n), math.Sqrt(slope/n), math.Sqrt(lift/n)
	}
	return tr, nil
}

func square(x float64) float64 { return x * x }

// widen adds what the reading leaves open to a section computed from the outline.
func (tr *Traced) widen(s *aero.Section) {
	if tr == nil {
		return
	}
	s.ZeroLiftStdUnc = math.Hypot(s.ZeroLiftStdUnc, tr.ZeroLift)
	s.MaxAngleStdUnc = math.Hypot(s.MaxAngleStdUnc, tr.MaxAngle)
	s.SlopeStdUnc = math.Hypot(s.SlopeStdUnc, tr.Slope)
	s.MaxLiftStdUnc = math.Hypot(s.MaxLiftStdUnc, tr.MaxLift)
}
