package strength

import (
	"math"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// loadCase is one way in which loads come together.
type loadCase struct {
	name   string
	side   float64                        // 1 or -1 for a load to either side, 0 for none
	shake  func(vertical float64) float64 // g downwards, own weight included
	air    float64                        // 1 from ahead, 0 none, -1 from behind
	uneven bool                           // one upright bears more than its share
	brakes bool
	push   push
}

// push is how a hand pushes on the wing.
type push int

const (
	noPush push = iota
	pushDown
	pushSideways
)

func full(v float64) float64    { return v }
func rebound(v float64) float64 { return 2 - v }
func still(float64) float64     { return 1 }

// cases are what is checked. The last is the one without anything but air and weight.
var cases = []loadCase{
	{name: "a kerb strike, sliding", side: 1, shake: full, air: 1},
	{name: "a kerb strike, sliding the other way", side: -1, shake: full, air: 1},
	{name: "rebound off a kerb, sliding", side: 1, shake: rebound, air: 1},
	{name: "rebound off a kerb, sliding the other way", side: -1, shake: rebound, air: 1},
	{name: "sliding, one upright taking more than its share", side: 1, shake: still, air: 1, uneven: true},
	{name: "sliding the other way, one upright taking more than its share", side: -1, shake: still, air: 1, uneven: true},
	{name: "hard braking", shake: still, air: 1, brakes: true},
	{name: "a spin, the air from behind", side: 1, shake: still, air: -1},
	{name: "a hand pushing down on the wing's end", shake: still, push: pushDown},
	{name: "a hand pushing the wing sideways", side: 1, shake: still, push: pushSideways},
	{name: "aero load and weight alone", shake: still, air: 1},
}

// aloneCase is the case of air and weight alone.
var aloneCase = len(cases) - 1

// CaseName names a load case.
func CaseName(i int) string { return cases[i].name }

// CaseName names the load case that a check is worst in.
func (c Check) CaseName() string { return cases[c.Case].name }

// part is the part of the wing's loads that the most heavily loaded upright bears in a case.
func (f *Analysis) part(k loadCase) float64 {
	if k.uneven {
		return max(f.Share, f.uneven)
	}
	return f.Share
}

// wingLoads returns the loads on the wing that one upright bears, with the load
// factor in them. The wing lies at y across the car from the fixed part.
func (f *Analysis) wingLoads(r *model.Row, k loadCase, y float64) []Applied {
	c, share := f.Car, f.LoadFactor*f.part(k)
	var all []Applied
	if k.air != 0 {
		all = append(all, f.wingAir(r, k, y, share))
	}
	if m, ok := c.Wing.Mass.Get(); ok {
		p := r.Pose.Apply(plane.Point{X: c.Wing.Chord / 2})
		w := m * units.Gravity * share
		side, ahead := k.side*f.cornering, 0.0
		switch {
		case k.push != noPush: // it stands in the garage
			side = 0
		case k.brakes:
			ahead = f.braking
		}
		all = append(all, Applied{"mass of the wing", Load{At: Spot{p.X, y, p.Z}, Rear: -w * ahead, Side: side * w, Up: -w * k.shake(f.vertical)}})
	}
	if e := c.Wing.Plate; e.Height > 0 && k.side != 0 && k.air != 0 {
		p := r.Pose.Apply(plane.Point{X: e.Length/2 - e.Ahead, Z: e.Above})
		n := 2 * f.sideAir(r, e.Height*e.Length, e.Height/e.Length)
		all = append(all, Applied{"air on the end plates", Load{At: Spot{p.X, y, p.Z}, Side: k.side * n * share}})
	}
	return append(all, f.hand(r, k, y)...)
}

// wingAir is the air's force on the wing.
func (f *Analysis) wingAir(r *model.Row, k loadCase, y, share float64) Applied {
	if k.air < 0 {
		return f.fromBehind(r, y, share)
	}
	rear := max(r.OwnDrag, r.OwnDrag+r.Lean) // on the wing itself; a forward lean is not relied on
	if k.brakes {
		rear = 0 // the air's drag would help
	}
	more, moreDrag := f.unscaled()
	return Applied{"air on the wing", Load{At: Spot{r.X, y, r.Height}, Rear: rear * share * moreDrag, Up: -r.Downforce * share * more,
		Turn: f.Table.Pitching(r) * 1000 * share * more}}
}

// fromBehind is the force of air that meets the wing from behind at the design speed, as in a spin: of a
// flat plate at its angle, square to it, a quarter of the chord from its trailing edge. Its slope is that of
// Helmbold, its most what a stalled plate bears.
// Source: S. F. Hoerner, "Fluid-Dynamic Lift" (1975), ch. 17; "Fluid-Dynamic Drag" (1965), ch. 3.
func (f *Analysis) fromBehind(r *model.Row, y, share float64) Applied {
	w := f.Car.Wing
	aspect := w.Span / w.Chord
	slope := 2 * math.Pi * aspect / (2 + math.Sqrt(aspect*aspect+4))
	q := aero.DynamicPressure(f.Table.Density, r.Flow.Ratio*f.Table.Speed)
	n := q * w.Span * w.Chord * 1e-6 * min(slope*math.Abs(r.Attack), stalledPlate) * share
	sin, cos := math.Sincos(r.Angle)
	p := r.Pose.Apply(plane.Point{X: 0.75 * w.Chord})
	// Air that moves forward meets the lower side of a wing whose rear is high, and lifts it.
	if r.Angle < 0 {
		n = -n
	}
	return Applied{"air on the wing, from behind", Load{At: Spot{p.X, y, p.Z}, Rear: -n * sin, Up: n * cos}}
}

// hand is what a hand pushes the wing with, in a garage: down at its place along the chord and at the wing's
// end, or sideways, shared.
func (f *Analysis) hand(r *model.Row, k loadCase, y float64) []Applied {
	p := r.Pose.Apply(plane.Point{X: f.pushAt})
	at := Spot{p.X, y, p.Z}
	switch k.push {
	case pushDown:
		down := f.push * f.LoadFactor
		return []Applied{{"hand on the wing", Load{At: at, Up: -down * f.pushShare, Roll: -down * f.pushRoll}}}
	case pushSideways:
		return []Applied{{"hand on the wing", Load{At: at, Side: f.push * f.LoadFactor * f.Share}}}
	}
	return nil
}

// unscaled is how many times the lift and drag that the figures give are taken for loads: where
// a maker's claim or a fit to the track makes them less than was expected of the wing, what was
// expected. The claim may have been meant for a small angle, the fit be off. A claim that is possible
// and says more than the figures is taken. Induced drag goes with the square of the lift, and so all
// drag is taken.
func (f *Analysis) unscaled() (lift, drag float64) {
	back := func(scale float64) float64 {
		if scale > 0 && scale < 1 {
			return 1 / scale
		}
		return 1
	}
	lift = back(f.Table.Wing.LiftScale) * max(1, f.Table.Wing.ClaimedMore)
	return lift, lift * lift * back(f.Table.Wing.DragScale)
}

// stalledPlate is the normal-force coefficient of a flat plate that no longer gains
// by more angle. Source: S. F. Hoerner, "Fluid-Dynamic Drag" (1965), ch. 3, plates
// square to the air: 1.17.
const stalledPlate = 1.17

// sideAir returns the sideways force, N, on a flat plate of an area in mm² and an
// aspect ratio A that meets the air at the yaw angle, by the lift slope
// 2πA/(2 + √(A² + 4)), and no more than a stalled plate bears.
// Source: H. B. Helmbold, Jahrbuch der Deutschen Luftfahrtforschung (1942), as given
// in S. F. Hoerner, "Fluid-Dynamic Lift" (1975), ch. 17.
func (f *Analysis) sideAir(r *model.Row, area, aspect float64) float64 {
	slope := 2 * math.Pi * aspect / (2 + math.Sqrt(aspect*aspect+4))
	q := aero.DynamicPressure(f.Table.Density, r.Flow.Ratio*f.Table.Speed)
	return q * area * 1e-6 * min(slope*f.yaw, stalledPlate)
}
