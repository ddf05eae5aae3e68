package model

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/units"
)

// Figure is one figure of a setting in words.
type Figure struct {
	Name string
	Text string // with its unit
}

// Figures lists the figures of a row, in the order in which they are asked for
// in the garage.
func (t *Table) Figures(r *Row, u units.System) []Figure {
	b := t.Bands(r)
	limits := "keeps all"
	if !r.Within() {
		limits = "✗ " + strings.Join(r.Outside, "; ")
	}
	return []Figure{
		{"height", u.Length(r.Height) + " above ground, of the quarter-chord point"},
		{"top", u.Length(r.Top) + " above ground, of the highest point"},
		{"rear", u.Length(r.Rear) + " behind the rear axle, of the rearmost point"},
		{"angle to ground", fmt.Sprintf("%s° ± %s° (play in the holes: up to %s° either way)", units.Fixed(r.Angle/Deg, 1), units.Fixed(b.Angle/Deg, 1), units.Fixed(r.Play/Deg, 1))},
		{"angle of attack", fmt.Sprintf("%s° (flow angle %s°, %s)", units.Fixed(r.Attack/Deg, 1), units.Fixed(r.FlowAngle/Deg, 1), t.flowOrigin())},
		{"CL", units.Fixed(r.CL, 2) + " ± " + units.Fixed(b.CL, 2)},
		{"CD", units.Fixed(r.CD, 3)},
		{"stall", t.StallText(r)},
		{"downforce", withBand(u.Force(r.Downforce), b.Downforce, u)},
		{"drag", withBand(u.Force(r.Drag), b.Drag, u) + ", along the car's path"},
		{"front axle", withBand(signedForce(r.Change.Front, u), b.Contribution.Change.Front, u)},
		{"rear axle", withBand(signedForce(r.Change.Rear, u), b.Contribution.Change.Rear, u)},
		{"front share", fmt.Sprintf("%s %% of the load on the axles (%s %% without the wing's forces)", units.Fixed(100*r.Share, 1), units.Fixed(100*t.Without.FrontShare(), 1))},
		{"balance shift", fmt.Sprintf("%s ± %s percentage points of front share", units.Signed(100*r.Shift, 1), units.Fixed(100*b.Shift, 1))},
		{"limits", limits},
	}
}

func (t *Table) flowOrigin() string {
	if t.Car.Flow.Known() {
		return "given"
	}
	return "assumed"
}

// StallText says how far a row is from the stall.
func (t *Table) StallText(r *Row) string {
	switch {
	case math.IsNaN(r.Attack) || math.IsNaN(r.CL):
		return units.NotGiven
	case math.IsNaN(r.StallMargin):
		return "not known: the data end before it"
	case r.Stalled:
		return fmt.Sprintf("STALLED, %.1f° past the largest lift", -r.StallMargin/Deg)
	}
	return fmt.Sprintf("%.1f° margin", r.StallMargin/Deg)
}

func signedForce(n float64, u units.System) string {
	if n > 0 {
		return "+" + u.Force(n)
	}
	return u.Force(n)
}

// withBand puts a force's band behind it.
func withBand(text string, band float64, u units.System) string {
	return text + " ± " + u.ForceFigure(band) + " " + u.ForceUnit()
}
