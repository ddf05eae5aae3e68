package model

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// Struts is what the uprights of a setting do to the air, all of them together. The zero value
// is of plates that are not known.
type Struts struct {
	Known     bool
	DragArea  float64 // m², drag over dynamic pressure
	Middle    float64 // mm above ground, where the drag acts
	LostLift  float64 // of the wing's lift, as a fraction, in their wake
	FromBelow bool    // the plates reach the wing across its lower side, which is its suction side
}

// plateDrag is the drag coefficient on the frontal area of a plate along the flow with square
// edges, and strutsStdUnc one standard uncertainty, as a fraction: rounded edges halve it.
// Source: S. F. Hoerner, "Fluid-Dynamic Drag" (1965), ch. III, rectangular sections longer than
// four times their thickness (from memory).
const (
	plateDrag    = 0.9
	strutsStdUnc = 0.3
)

// wakeWidening is by how much more of the span loses lift than the width that the wake's loss
// of momentum makes up: circulation falls off to both sides of it. Between nothing and twice
// that, a rectangular distribution. From above the wake passes over the pressure side, which
// has a fifth of the lift or so.
// Common practice, no source.
const (
	wakeWidening = 2
	hungPart     = 0.2
)

var wakeStdUnc = 1 / math.Sqrt(3)

// struts works out what the plates of a setting do, each above the body or above what holds it.
func (on site) struts(p *Position, s *holes.Setting) Struts {
	c := on.car
	poses := c.PartPoses(s)
	n := c.Mounting.Uprights.Or(2)
	var out Struts
	var moment, width float64
	for i, part := range c.Parts[:len(c.Parts)-1] {
		if part.Outline == nil || !part.Thickness.Known() {
			if i == len(c.Parts)-2 { // the plate that carries the wing
				return Struts{}
			}
			continue
		}
		placed := poses[i].ApplyAll(part.Outline)
		lo, hi := plane.Box(placed)
		from := max(lo.Z, on.bodyTop((lo.X+hi.X)/2))
		if exposed := hi.Z - from; exposed > 0 {
			area := part.Thickness.Value() * exposed * mm * mm * n * plateDrag
			side, _ := plane.Area(placed)
			area += 2 * math.Abs(side) * exposed / (hi.Z - lo.Z) * mm * mm * n * sheetFriction
			out.DragArea += area
			moment += area * (from + exposed/2)
		}
		width = part.Thickness.Value() // of the last, which meets the wing
		out.FromBelow = on.fromBelow(p, placed)
	}
	out.Known = true
	if out.DragArea > 0 {
		out.Middle = moment / out.DragArea
	}
	out.LostLift = min(0.5, wakeWidening*n*plateDrag*width/c.Wing.Span)
	switch {
	case c.Wing.Table != nil: // measured as a whole, on its mounting
		out.LostLift = 0
	case !out.FromBelow:
		out.LostLift *= hungPart
	}
	out.LostLift *= 1 + c.TrackFit.Off(WakeFactor)
	return out
}

// sheetFriction is the friction coefficient of the plates' sides.
// Source: H. Schlichting, "Boundary-Layer Theory", Prandtl-Schlichting formula at 1e6.
var sheetFriction = skinFriction(1e6)

// bodyTop is the height of the body's upper side at x, mm; −∞ where there is none.
func (on site) bodyTop(x float64) float64 {
	top := math.Inf(-1)
	for a, b := range plane.Edges(on.around.Body) {
		if (a.X-x)*(b.X-x) <= 0 && a.X != b.X {
			top = max(top, a.Z+(x-a.X)/(b.X-a.X)*(b.Z-a.Z))
		}
	}
	return top
}

// fromBelow reports whether a plate's outline reaches below the middle part of the chord.
func (on site) fromBelow(p *Position, plate []plane.Point) bool {
	const under = -0.15 // chords below the chord line, clear of the section
	w := on.car.Wing
	for _, at := range []float64{0.2, 0.35, 0.5, 0.65, 0.8} {
		if plane.Inside(plate, p.Pose.Apply(plane.Point{X: at * w.Chord, Z: under * w.Chord})) {
			return true
		}
	}
	return false
}

// strutsDrag returns the uprights' drag, N, at a dynamic pressure in Pa; NaN where not known.
func (s Struts) strutsDrag(q float64, d deviation) float64 {
	if !s.Known {
		return math.NaN()
	}
	return s.DragArea * q * (1 + d.struts)
}

// kept is what the uprights' wake leaves of the wing's lift.
func (s Struts) kept(d deviation) float64 { return 1 - s.LostLift*(1+d.wake) }

// bodyInputs lists what body and uprights leave open.
func (t *Table) bodyInputs(r *Row) (all []input) {
	if t.DeckKnown(r) {
		all = append(all, input{what: FromDeck, rectangular: true, by: deviation{deck: deckPartStdUnc},
			of: InputUncertainty{"κ", "", deckPartStdUnc, AsFraction}, unknown: BodyPartOff})
	}
	if r.Struts.DragArea > 0 {
		all = append(all, input{what: FromUprights, by: deviation{struts: strutsStdUnc}, of: InputUncertainty{"Du", "", strutsStdUnc, AsFraction}})
	}
	if r.Struts.LostLift > 0 && !t.Car.TrackFit.Downforce.Known() {
		all = append(all, input{what: FromWake, rectangular: true, by: deviation{wake: wakeStdUnc}, of: InputUncertainty{"λ", "", wakeStdUnc, AsFraction}, unknown: WakeFactor})
	}
	return all
}
