// Package model answers: what does each way of bolting the wing do to the car?
// It joins holes (where does the wing sit?) and aero (what force does it make
// there?) into one row of figures per setting: height, angle, coefficients,
// downforce, drag, axle loads, balance, and whether it is within the limits.
//
// Lengths are in mm and angles in rad; forces, masses, speeds, areas and
// pressures in SI units. The origin is on the ground below the centre of the
// rear axle, x to the rear, z up. A positive angle makes downforce: trailing
// edge up. Downforce is positive downwards, drag positive rearwards.
//
// A figure that cannot be given is NaN, and the row says why. The package knows
// no terminal; subfolders read car files (carfile) and spell units (units).
package model

import (
	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/clearance"
	"stanchion/model/given"
	"stanchion/model/units"
)

// mm is one millimetre in m.
const mm = 1e-3

// The speeds that figures are given for, m/s: walking pace to where the air is no longer
// nearly incompressible, about a third of the speed of sound.
const (
	MinSpeed = 5 * units.KPH
	MaxSpeed = 400 * units.KPH
)

// Car is one car file: what is bolted to what, on which car, in which air.
type Car struct {
	Name               string
	Wheelbase          float64      // mm
	FrontMass          float64      // kg on the front axle, with driver and wing
	RearMass           float64      // kg on the rear axle
	FrontDownforceArea float64      // m², the car's own downforce over dynamic pressure at the front axle
	RearDownforceArea  float64      // m², at the rear axle
	DragArea           given.Number // m², without the wing
	RoofHeight         float64      // mm
	RakeChange         float64      // rad, nose-down positive, since the positions were measured
	Power              given.Number // W at the wheels
	FrontRate          given.Number // N/mm of the front axle at the wheels
	RearRate           given.Number // N/mm of the rear axle
	Air                aero.Air
	Speed              float64      // m/s that figures are quoted at
	DesignSpeed        given.Number // m/s that strength is checked at

	Parts   []Part  // in the order of the chain: the fixed one first, the wing last
	Joints  []Joint // Joints[i] is between Parts[i] and Parts[i+1]
	Fixed   plane.Pose
	Chassis Chassis

	Wing        Wing
	Flow        aero.Flow
	Limits      Limits
	Checks      CheckIntervals
	Uncertainty Uncertainty
	Claim       Claim
	TrackFit    TrackFit
	Readings    []Reading // of the angle and height, as measured
	Before      AngleBefore
	Faces       []Face  // that a level was laid on
	Floors      []Floor // that the car stood on
	Mounting    Mounting
	Body        []plane.Point // its side profile, mm, as measured; nil when not given
	BodyWidth   given.Number  // mm, of deck and roof
	BodyShape   BodyShape
	FlowGuessed bool          // the flow at the wing is that of the body's shape, not measured
	Lid         clearance.Lid // as measured
	Panels      []clearance.Panel
	Adjustments []Adjustment // what else can be set, for the notebook; they move no figure

	// Loads says that figures are for what must bear them: ForLoads.
	Loads bool

	Units    FileUnits
	Assumed  []Assumption   // what the file left open and what was put in its place
	Warnings []units.Phrase // what is odd but usable
}

// Part is one piece: its holes, and what it is made of as far as that is known.
type Part struct {
	holes.Part              // slots stand in it as their positions
	Slots      []holes.Slot // as drawn
	Thickness  given.Number // mm
	Material   string
	Welded     bool               // its strength is that beside a weld: all over, or near WeldLine where it is given
	WeldLine   []plane.Point      // mm, along which it is welded; nil when not given
	Held       given.Number       // mm, of the fixed part: up to this z of its own frame the car holds it
	Outline    []plane.Point      // mm, in the part's own frame; nil when not given
	Built      map[string]AsBuilt // by a hole's id, where it was measured; the hole itself stands half-way between the sides
	Cutouts    [][]plane.Point    // mm, closed openings within the outline that make the part lighter
}

// Slot returns the slot with the given id.
func (p *Part) Slot(id string) (holes.Slot, bool) {
	for _, s := range p.Slots {
		if s.ID == id {
			return s, true
		}
	}
	return holes.Slot{}, false
}

// Joint is what bolts a part to the next.
type Joint struct {
	holes.Joint
	Bolt  string // "M8"
	Grade string // property class, "8.8"; "" when not given

	PlainShank bool // no thread where the parts meet

	Nut        Nut          // what its bolts are screwed into
	Engaged    given.Number // mm of thread in a tapped hole
	NutTension given.Number // N along the bolt that the maker of a rivet nut or an insert allows
	NutShear   given.Number // N across it
}

// Nut is what a joint's bolts are screwed into.
type Nut int

// The kinds of nut; the joint of the wing has inserts where nothing is said.
const (
	NutNotSaid Nut = iota
	PlainNut
	TappedHole // in the lower part
	RivetNut
	Insert
)

// ChassisJoint is what holes of the fixed part are kept for that hold it on the car.
const ChassisJoint = "chassis"

// Chassis is what bolts hold the fixed part on the car with; its Bolt is "" when that is not said.
type Chassis struct {
	Bolt  string
	Grade string
	Shank float64 // mm
}

// Mounting is what the strength of uprights and bolts is checked with beside the
// forces of the air.
type Mounting struct {
	Uprights   given.Number // that share the wing's loads
	LoadFactor given.Number // that all loads are multiplied by
	Vertical   given.Number // in g, own weight included, that the wing is shaken down with
	Cornering  given.Number // in g, sideways
	Yaw        given.Number // rad between the car and the air that meets the end plates
	Braking    given.Number // in g
	Uneven     given.Number // part of the wing's loads that one upright may take
	Push       given.Number // N of a hand on the wing
	PushAt     given.Number // mm along the chord
	UprightAt  []float64    // mm across the car, of the uprights that share the wing's loads; nil when not given
}

// Limits are what the car's builder must keep to.
type Limits struct {
	Top         given.Number // mm, highest point above ground
	Rear        given.Number // mm, rearmost point behind the rear axle
	StallMargin given.Number // rad
	Gap         given.Number // mm, the least between the wing's side of the mounting and body or lid
	Overhang    given.Number // mm, rearmost point behind the body's
	Width       given.Number // mm, of the wing over all
	LidOpening  given.Number // rad, the least that the lid must open
}

// FileUnits are the units that the car file's numbers are in.
type FileUnits struct{ Length, Mass, Speed string }

// ForLoads returns the car with the most that the air may do: the lift of a clean wing, not less
// than at its stall once it is past that, with the drag of the roughest; all that the body adds to
// its lift, nothing lost in the uprights' wake; and where the flow is not measured, that of the car's own
// speed at least. What readings on track told together counts where it makes more of the forces, never
// less: a fit may be off.
func (c *Car) ForLoads() *Car {
	most := *c
	if c.TrackFit.Estimate != nil {
		most = *c.Unfitted()
	}
	most.Wing.Surface, most.Wing.Loads, most.Loads = aero.Clean, true, true
	if c.FlowGuessed {
		p := c.BodyShape.Flow()
		p.Ratio = max(1, p.Ratio+p.RatioStdUnc)
		if faster, err := aero.NewFlow([]aero.FlowPoint{p}); err == nil {
			most.Flow = faster
		}
	}
	if j := c.TrackFit.Estimate; j != nil {
		return most.Fitted(j.atLeast())
	}
	return &most
}

// System returns the units that the car file's figures are shown in.
func (c *Car) System() units.System {
	return units.SystemOf(c.Units.Length, c.Units.Mass, c.Units.Speed)
}

// Assumption is one value that nobody gave.
type Assumption struct {
	What  string // "flow angle at the wing"
	Value string // with its unit, "0°"
	Note  string // what it does to the figures, or how to replace it
	On    Touch  // the figures that it weighs on
	Said  bool   // the file itself calls it assumed
}

// Chain returns the car's parts and joints as holes sees them.
func (c *Car) Chain() holes.Chain {
	var ch holes.Chain
	for _, p := range c.Parts {
		ch.Parts = append(ch.Parts, p.Part)
	}
	for _, j := range c.Joints {
		ch.Joints = append(ch.Joints, j.Joint)
	}
	return ch
}

// Ground returns the pose of the fixed part's frame on the car as it stands
// now: the place it was measured at, turned with the car about the ground point
// below the rear axle.
func (c *Car) Ground() plane.Pose {
	return plane.About(plane.Point{}, c.RakeChange).Then(c.Fixed)
}
