package speeds

import (
	"context"
	"fmt"
	"math"
	"slices"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/units"
)

// Sweep is tables of the same settings over speeds.
type Sweep struct {
	Speeds  []float64      // m/s, ascending
	Tables  []*model.Table // one for each
	Skipped []Skip         // speeds at which no figures can be given
}

// Skip is a speed without figures, and why.
type Skip struct {
	Speed float64 // m/s
	Why   error
}

// Over works out all settings at each speed, in ascending order. Speeds at which
// the section's data do not serve are listed as skipped; the error is the last of
// those if none is left, or the context's when that is cancelled.
func Over(ctx context.Context, c *model.Car, speeds []float64) (Sweep, error) {
	places, err := c.Positions()
	if err != nil {
		return Sweep{}, err
	}
	var s Sweep
	speeds = slices.Sorted(slices.Values(speeds))
	for _, v := range speeds {
		if err := ctx.Err(); err != nil {
			return s, err
		}
		w, wrong := c.SolveWing(v)
		if wrong != nil {
			err = wrong
			s.Skipped = append(s.Skipped, Skip{v, wrong})
			continue
		}
		s.Speeds = append(s.Speeds, v)
		s.Tables = append(s.Tables, model.NewTable(c, places, w, v))
	}
	if len(s.Speeds) == 0 {
		return s, err
	}
	return s, nil
}

// SweepSpeeds are the speeds, m/s, that a sweep goes over when nobody says: from
// walking pace to the car's own drag-limited top speed, or where power and drag
// area are not given, to 1.3 times the design speed or 1.5 times the chosen one.
func SweepSpeeds(c *model.Car) []float64 {
	top, ok := BareTopSpeed(c)
	switch {
	case ok:
	case c.DesignSpeed.Known():
		top = 1.3 * c.DesignSpeed.Value()
	default:
		top = 1.5 * c.Speed
	}
	const parts = 16
	top = min(max(top, 4*model.MinSpeed), model.MaxSpeed)
	var vs []float64
	for i := range parts + 1 {
		vs = append(vs, model.MinSpeed+(top-model.MinSpeed)*float64(i)/parts)
	}
	return vs
}

// BareTopSpeed returns the speed in m/s at which the car's own drag takes all of
// its power, v = ∛(2P/(ρ·CdA)), and whether power and drag area are given.
// Rolling resistance and gearing are left out, so it is on the high side.
func BareTopSpeed(c *model.Car) (float64, bool) {
	if !c.Power.Known() || !c.DragArea.Known() {
		return math.NaN(), false
	}
	return math.Cbrt(2 * c.Power.Value() / (c.Air.Density() * c.DragArea.Value())), true
}

// TopSpeed returns the speed in m/s at which the car's drag with the wing in a
// setting takes all of the power. The wing's drag is that of the table's speed
// carried with the square of the speed, which its small change of coefficients
// with the Reynolds number hardly matters to.
func TopSpeed(t *model.Table, r *model.Row) (float64, bool) {
	c := t.Car
	if _, ok := BareTopSpeed(c); !ok || math.IsNaN(r.Drag) {
		return math.NaN(), false
	}
	wing := r.Drag / aero.DynamicPressure(t.Density, t.Speed) // m², of the wing at the car's speed
	if area := c.DragArea.Value() + wing; area > 0 {
		return math.Cbrt(2 * c.Power.Value() / (t.Density * area)), true
	}
	return math.NaN(), false
}

// FrontNeed is what the front of the car would need at one speed.
type FrontNeed struct {
	Speed  float64 // m/s
	Share  float64 // front share with the setting as the car is
	Area   float64 // m² of front downforce area to add for the wanted share; negative for too much
	Force  float64 // N that is at this speed
	Wanted float64
}

// NeedInFront returns how much front downforce area must be added for a wanted
// front share with a setting: with the loads F and R on the axles, an added
// front load X makes (F+X)/(F+R+X) the share, so X = (s(F+R) − F)/(1 − s).
func NeedInFront(t *model.Table, r *model.Row, share float64) FrontNeed {
	x := (share*(r.Load.Front+r.Load.Rear) - r.Load.Front) / (1 - share)
	return FrontNeed{t.Speed, r.Share, x / aero.DynamicPressure(t.Density, t.Speed), x, share}
}

// Corner is how fast each axle could take a corner of one radius.
type Corner struct{ Front, Rear float64 } // m/s; +Inf where grip grows faster than need

// InCorner returns the speeds at which each axle runs out of grip in a corner of
// the given radius in m, with a friction coefficient that does not change with
// the load. An axle that carries the mass m and the downforce area a needs
// m·v²/r sideways and has grip·(m·g + ½ρ·a·v²), so that
//
//	v² = grip·m·g / (m/r − grip·ρ·a/2).
//
// It is statics of an axle at a time: load transfer across the car, tyre load
// sensitivity, banking and the pull of the engine are left out. With wing false
// the wing's forces are left out as well.
// Source: J. Katz, "Race Car Aerodynamics" (1995), ch. 1, for the balance.
func InCorner(t *model.Table, r *model.Row, radius, grip float64, wing bool) Corner {
	c := t.Car
	q := aero.DynamicPressure(t.Density, t.Speed)
	axle := func(mass, own, change float64) float64 {
		area := own
		if wing {
			area += change / q
		}
		need := mass/radius - grip*t.Density*area/2
		if need <= 0 {
			return math.Inf(1)
		}
		return math.Sqrt(grip * mass * units.Gravity / need)
	}
	return Corner{axle(c.FrontMass, c.FrontDownforceArea, r.Change.Front), axle(c.RearMass, c.RearDownforceArea, r.Change.Rear)}
}

// Squat is a setting at speed on the car's springs.
type Squat struct {
	Front, Rear float64 // mm that each axle sinks by, at the wheels
	Rake        float64 // rad, nose-down positive, that the car turns by
	Angle       float64 // rad, of the chord to the ground
	Height      float64 // mm
	Attack      float64 // rad
	Downforce   float64 // N
	Drag        float64 // N
	Shift       float64
	Share       float64
	Steps       int     // of the iteration
	Left        float64 // mm, by how much the last step still moved an axle
}

// OnSprings works out where a setting comes to stand at the table's speed on springs
// of front_rate and rear_rate: the downforce of wing and car pushes the axles
// down, which turns the car and with it the wing, which changes the downforce.
// Solved to a fixed point; ok is false without rates, without figures, or where
// it does not settle, and why says which.
func OnSprings(t *model.Table, r *model.Row) (s Squat, ok bool, why string) {
	c := t.Car
	if !c.FrontRate.Known() || !c.RearRate.Known() {
		return s, false, "front_rate and rear_rate are not given"
	}
	p := *r.Position
	static := c.Without(0)
	above := r.Height - c.RoofHeight // the roof sinks along
	for s.Steps = 1; s.Steps <= 100; s.Steps++ {
		o := t.OutcomeAt(&p, above)
		if math.IsNaN(o.Downforce) {
			return s, false, "at speed the data on wing or flow do not reach"
		}
		front := (o.Load.Front - static.Front) / c.FrontRate.Value()
		rear := (o.Load.Rear - static.Rear) / c.RearRate.Value()
		s.Left = max(math.Abs(front-s.Front), math.Abs(rear-s.Rear))
		s.Front, s.Rear = front, rear
		s.Rake = math.Atan2(front-rear, c.Wheelbase)
		p = moved(r.Position, s.Rake, -rear)
		if s.Left < 1e-6 {
			o = t.OutcomeAt(&p, above)
			s.Angle, s.Height, s.Attack, s.Downforce, s.Drag, s.Shift, s.Share = p.Angle, p.Height, o.Attack, o.Downforce, o.Drag, o.Shift, o.Share
			return s, true, ""
		}
	}
	return s, false, fmt.Sprintf("it does not settle: after 100 steps an axle still moves by %.2f mm", s.Left)
}

// moved returns a place with the car turned about the ground point below the
// rear axle and lifted there, rad and mm.
func moved(p *model.Position, rake, lift float64) model.Position {
	next := *p
	sin, cos := math.Sincos(rake)
	turn := func(x, z float64) (float64, float64) { return cos*x - sin*z, sin*x + cos*z + lift }
	next.X, next.Height = turn(p.X, p.Height)
	next.Pose.X, next.Pose.Z = turn(p.Pose.X, p.Pose.Z)
	next.Pose.Turn += rake
	next.Angle = p.Angle + rake
	next.Top = p.Top + next.Height - p.Height
	return next
}
