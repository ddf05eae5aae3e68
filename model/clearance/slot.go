package clearance

import (
	"math"

	"stanchion/holes/plane"
)

// Panel is a sheet of bodywork that uprights pass through, a line in the side view.
type Panel struct {
	Name      string
	X, Z      float64 // mm, a place on its upper face, on the car as it was measured
	Slope     float64 // rad, positive when it rises to the rear
	Thickness float64 // mm
	Clearance float64 // mm wanted around the upright
}

// Slot is a slot that a panel needs for a part to pass through.
type Slot struct {
	Panel, Part    string
	From, To       float64 // mm along the panel from its given place, to the rear, without clearance: of all settings
	MinFrom, MinTo float64 // mm, what every setting needs: nothing when MinFrom is not less than MinTo
	Width          float64 // mm, with the clearance; NaN when the part's thickness is not known
	Clearance      float64 // mm around the part
	Settings       int     // how many pass through there
}

// Length is how long the slot is, mm, with the clearance at both ends.
func (s Slot) Length() float64 { return s.To - s.From + 2*s.Clearance }

// Slot returns the slot that the panel needs for a part of a thickness, mm, in the
// positions of its outline on the car that several settings give it; ok is false where it
// passes through in none. rake is the pose of the car now on the car as it was measured.
// The panel is a sheet between two straight lines; the slot spans what of the part is
// between them.
func (p Panel) Slot(part string, thickness float64, outlines [][]plane.Point, rake plane.Pose) (s Slot, ok bool) {
	onPanel := rake.Then(plane.Pose{X: p.X, Z: p.Z, Turn: p.Slope}).Inverse()
	s = Slot{
		Panel: p.Name, Part: part, Width: thickness + 2*p.Clearance, Clearance: p.Clearance,
		From: math.Inf(1), To: math.Inf(-1), MinFrom: math.Inf(-1), MinTo: math.Inf(1),
	}
	for _, o := range outlines {
		lo, hi, through := within(onPanel.ApplyAll(o), -p.Thickness)
		if !through {
			continue
		}
		s.From, s.To = min(s.From, lo), max(s.To, hi)
		s.MinFrom, s.MinTo = max(s.MinFrom, lo), min(s.MinTo, hi)
		s.Settings++
	}
	return s, s.Settings > 0
}

// within returns from where to where an outline reaches in the strip from z = low to
// z = 0.
func within(outline []plane.Point, low float64) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, z := range [2]float64{low, 0} {
		for _, s := range plane.Cut(outline, plane.Level, z) {
			lo, hi = min(lo, s.From), max(hi, s.To)
		}
	}
	for _, a := range outline {
		if a.Z <= 0 && a.Z >= low {
			lo, hi = min(lo, a.X), max(hi, a.X)
		}
	}
	return lo, hi, lo <= hi
}
