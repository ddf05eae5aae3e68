package figures

import (
	"fmt"
	"math"
	"slices"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Symbol is a quantity that equations are written in.
type Symbol struct {
	Name     string
	Meaning  string
	Quantity Quantity
	Value    func(Setting) float64
	Equation func(Setting) string // of what follows from other symbols; nil for an input
	Origin   func(Setting) string // of an input: given, measured, from a table, assumed
	Source   string
}

const mm = 1e-3 // m

// symbols lists the symbols, what follows before what it follows from.
var symbols = []Symbol{
	{Name: "F", Meaning: "downforce", Quantity: Force, Value: of(Downforce), Equation: is("{L} · cos({ε}) + {D} · sin({ε})")},
	{Name: "Fc", Meaning: "downforce on the car", Quantity: Force, Value: of(OnCar), Equation: onCarEquation, Origin: always("not known")},
	{Name: "Fb", Meaning: "lift on the body", Quantity: Force, Value: of(DeckLift), Equation: is("{κ} · {F}")},
	{Name: "Dc", Meaning: "drag that the wing costs the car", Quantity: Force, Value: of(Drag),
		Equation: func(s Setting) string { return withUprights(s, "{Dw}") }},
	{Name: "Dw", Meaning: "drag of the wing alone", Quantity: Force,
		Value: func(s Setting) float64 {
			if s.Row.Struts.Known {
				return s.Row.Drag - s.Row.StrutsDrag
			}
			return s.Row.Drag
		}, Equation: dragEquation},
	{Name: "Du", Meaning: "drag of the uprights", Quantity: Force, Value: of(UprightsDrag), Equation: is("{q} · {Su}")},
	{Name: "Nf", Meaning: "load on the front axle", Quantity: Force, Value: of(FrontLoad), Equation: is("{N0f} + {ΔF}")},
	{Name: "Nr", Meaning: "load on the rear axle", Quantity: Force, Value: of(RearLoad), Equation: is("{N0r} + {ΔR}")},
	{Name: "ΔR", Meaning: "change of the rear axle's load", Quantity: Force, Value: of(RearChange), Equation: rearEquation},
	{Name: "ΔF", Meaning: "change of the front axle's load", Quantity: Force, Value: of(FrontChange), Equation: frontEquation},
	{Name: "N0f", Meaning: "load on the front axle without the wing's forces", Quantity: Force,
		Value:    func(s Setting) float64 { return s.Table.Without.Front },
		Equation: is("{mf} · {g} + {qc} · {Af}")},
	{Name: "N0r", Meaning: "load on the rear axle without the wing's forces", Quantity: Force,
		Value:    func(s Setting) float64 { return s.Table.Without.Rear },
		Equation: is("{mr} · {g} + {qc} · {Ar}")},
	{Name: "L", Meaning: "lift of the wing, across the local flow", Quantity: Force, Value: func(s Setting) float64 { return s.Row.CL * pressure(s) * area(s) },
		Equation: is("{q} · {S} · {CL}")},
	{Name: "D", Meaning: "drag of the wing, along the local flow", Quantity: Force, Value: func(s Setting) float64 { return s.Row.CD * pressure(s) * area(s) },
		Equation: is("{q} · {S} · {CD}")},
	{Name: "M", Meaning: "moment of the wing about its quarter chord", Quantity: Moment,
		Value: func(s Setting) float64 { return s.Table.Pitching(s.Row) },
		Equation: func(s Setting) string {
			if math.IsNaN(s.Row.CM) {
				return "" // it is taken as none
			}
			return "{q} · {S} · {cm} · {CM}"
		},
		Origin: func(Setting) string { return "assumed: the wing's data give no moment" }},
	{Name: "q", Meaning: "dynamic pressure at the wing", Quantity: Pressure, Value: pressure, Equation: is("0.5 · {ρ} · ({k} · {V})²"), Source: "Bernoulli"},
	{Name: "qc", Meaning: "dynamic pressure at the car's speed", Quantity: Pressure,
		Value: func(s Setting) float64 { return aero.DynamicPressure(s.Table.Density, s.Table.Speed) }, Equation: is("0.5 · {ρ} · {V}²"),
		Source: "Bernoulli"},
	{Name: "α", Meaning: "angle of attack", Quantity: Angle, Value: of(Attack), Equation: is("{θ} + {ε}")},
	{Name: "θ", Meaning: "angle to level ground", Quantity: Angle, Value: of(GroundAngle), Equation: is("{θ0} + {τ}")},
	{Name: "G", Meaning: "the most that a forward lean of the lift can gain", Quantity: Force, Value: func(s Setting) float64 { return s.Row.LeanCredit },
		Origin: func(Setting) string {
			return "the lesser of L·sin ε and 2·L·A/(π·b²), A the car's own lift area, b the span"
		}, Source: "M. M. Munk, NACA Report 121 (1921)"},

	{Name: "Mb", Meaning: "nose-up moment of the forces on the body about the rear axle's ground point", Quantity: Moment,
		Value: func(s Setting) float64 { return s.Row.Deck.At(0.5).NoseUp * s.Row.Downforce }, Equation: is("{b} · {F}")},
	{Name: "κ", Meaning: "lift on the body over the wing's downforce", Quantity: Number,
		Value:  func(s Setting) float64 { return s.Row.Deck.At(0.5).Lift },
		Origin: always("worked out from [body] outline and width, and where the wing is")},
	{Name: "b", Meaning: "lever of the forces on the body about the rear axle, over the downforce", Quantity: Metres,
		Value:  func(s Setting) float64 { return s.Row.Deck.At(0.5).NoseUp },
		Origin: always("worked out from [body] outline and width, and where the wing is")},
	{Name: "Su", Meaning: "drag area of the uprights", Quantity: Area, Value: func(s Setting) float64 { return s.Row.Struts.DragArea },
		Origin: always("0.9 on the frontal area above the body: [[part]] thickness, outline")},
	{Name: "zu", Meaning: "middle of the uprights above the body", Quantity: Metres, Value: func(s Setting) float64 { return s.Row.Struts.Middle * mm },
		Origin: holesAndPlace},
	{Name: "x", Meaning: "quarter chord behind the rear axle", Quantity: Metres, Value: func(s Setting) float64 { return s.Row.X * mm }, Origin: holesAndPlace},
	{Name: "z", Meaning: "quarter chord above ground", Quantity: Metres, Value: func(s Setting) float64 { return s.Row.Height * mm }, Origin: holesAndPlace},
	{Name: "zw", Meaning: "origin of the wing's frame above ground", Quantity: Length, Value: func(s Setting) float64 { return s.Row.Pose.Z }, Origin: holesAndPlace},
	{Name: "xw", Meaning: "origin of the wing's frame behind the rear axle", Quantity: Length, Value: func(s Setting) float64 { return s.Row.Pose.X }, Origin: holesAndPlace},
	{Name: "θ0", Meaning: "angle of the fixed part", Quantity: Angle, Value: func(s Setting) float64 { return s.Table.Car.Ground().Turn },
		Origin: func(s Setting) string {
			is := "measured"
			if s.Table.Car.AngleAssumed() {
				is = "assumed"
			}
			if s.Table.Car.RakeChange != 0 {
				return is + ", and turned by the change of rake: [[part]] fixed, [car] rake_change"
			}
			return is + ": [[part]] fixed"
		}},
	{Name: "τ", Meaning: "turn of the wing on the fixed part", Quantity: Angle, Value: func(s Setting) float64 { return s.Row.Angle - s.Table.Car.Ground().Turn }, Origin: always("the holes: least-squares pose of each joint's bolts")},
	{Name: "αmax", Meaning: "angle of attack of maximum CL", Quantity: Angle, Value: func(s Setting) float64 { return s.Table.StallAt(s.Row.Position) }, Origin: wingData},
	{Name: "CL", Meaning: "lift coefficient at α", Quantity: Number, Value: of(CL), Origin: wingData},
	{Name: "CD", Meaning: "drag coefficient at α", Quantity: Number, Value: of(CD), Origin: wingData},
	{Name: "CM", Meaning: "moment coefficient at α", Quantity: Number, Value: func(s Setting) float64 { return s.Row.CM }, Origin: wingData},
	{Name: "ε", Meaning: "flow angle at the wing, downwash positive", Quantity: Angle, Value: func(s Setting) float64 { return s.Row.Flow.Angle }, Origin: flowData},
	{Name: "k", Meaning: "speed ratio at the wing", Quantity: Number, Value: func(s Setting) float64 { return s.Row.Flow.Ratio }, Origin: flowData},
	{Name: "V", Meaning: "speed of the car", Quantity: Speed, Value: func(s Setting) float64 { return s.Table.Speed }, Origin: always("asked for: the car file's or your own")},
	{Name: "ρ", Meaning: "air density", Quantity: Density, Value: func(s Setting) float64 { return s.Table.Density },
		Origin: always("from temperature, pressure and humidity: [air]"), Source: "CIPM-2007 and ISO 2533 (see help sources)"},
	{Name: "S", Meaning: "wing area", Quantity: Area, Value: area, Origin: always("given: [wing] span, chord, tip_chord")},
	{Name: "c", Meaning: "chord", Quantity: Length, Value: func(s Setting) float64 { return s.Table.Car.Wing.Chord }, Origin: always("given: [wing] chord")},
	{Name: "cm", Meaning: "mean chord", Quantity: Metres, Value: func(s Setting) float64 { return s.Table.Car.Wing.MeanChord() }, Origin: always("given: [wing] chord, tip_chord")},
	{Name: "w", Meaning: "wheelbase", Quantity: Metres, Value: func(s Setting) float64 { return s.Table.Car.Wheelbase * mm }, Origin: always("given: [car] wheelbase")},
	{Name: "mf", Meaning: "mass on the front axle", Quantity: Mass, Value: func(s Setting) float64 { return s.Table.Car.FrontMass }, Origin: always("given: [car] front_axle_mass")},
	{Name: "mr", Meaning: "mass on the rear axle", Quantity: Mass, Value: func(s Setting) float64 { return s.Table.Car.RearMass }, Origin: always("given: [car] rear_axle_mass")},
	{Name: "Af", Meaning: "the car's own downforce area in front", Quantity: Area, Value: func(s Setting) float64 { return s.Table.Car.FrontDownforceArea }, Origin: assumedOr("front_downforce_area", "given: [car] front_downforce_area")},
	{Name: "Ar", Meaning: "the car's own downforce area behind", Quantity: Area, Value: func(s Setting) float64 { return s.Table.Car.RearDownforceArea }, Origin: assumedOr("rear_downforce_area", "given: [car] rear_downforce_area")},
	{Name: "g", Meaning: "standard gravity", Quantity: Gravity, Value: func(Setting) float64 { return units.Gravity }, Origin: always("ISO 80000-3")},
}

// of is the value of a figure.
func of(k Key) func(Setting) float64 {
	return func(s Setting) float64 { return Get(k).Value(s) }
}

func always(origin string) func(Setting) string { return func(Setting) string { return origin } }

func holesAndPlace(s Setting) string {
	if s.Table.Car.AngleAssumed() {
		return "the holes, and where the fixed part is, its angle assumed: [[part]] holes, fixed"
	}
	return "the holes, and where the fixed part was measured: [[part]] holes, fixed"
}

// OfCurve is the origin of what is read off the wing's curve.
const OfCurve = "the wing's curve"

func wingData(Setting) string { return OfCurve }

func flowData(s Setting) string {
	c := s.Table.Car
	if c.TrackFit.Tells(model.FlowAngleOff) || c.TrackFit.Tells(model.SpeedRatioOff) {
		return "fitted to the track: [fit]"
	}
	if c.FlowGuessed {
		return "assumed: for a " + c.BodyShape.String()
	}
	if c.Flow.Known() {
		return "given: [[flow]], by straight lines over height"
	}
	return "assumed: the file gives no [[flow]]"
}

// assumedOr says that a value is assumed where the file left it open.
func assumedOr(key, origin string) func(Setting) string {
	return func(s Setting) string {
		if s.Table.Car.TrackFit.Tells(model.UnknownOf(key)) {
			return "fitted to the track: [fit] " + key
		}
		if slices.ContainsFunc(s.Table.Car.Assumed, func(a model.Assumption) bool { return a.What == key }) {
			return fmt.Sprintf("assumed: the file gives no %s", key)
		}
		return origin
	}
}

func pressure(s Setting) float64 {
	return aero.DynamicPressure(s.Table.Density, s.Row.Flow.Ratio*s.Table.Speed)
}

func area(s Setting) float64 { return s.Table.Car.Wing.Area() }

// findSymbol returns the symbol with a name; it panics on one that is not in the list,
// which is a constant of the program's own.
func findSymbol(name string) Symbol {
	for _, s := range symbols {
		if s.Name == name {
			return s
		}
	}
	panic("no symbol " + name)
}

// text spells a value as it stands in an equation, with four digits: degrees for angles,
// else the unit of Value.
func (s Symbol) text(x float64) string {
	degrees := ""
	if s.Quantity == Angle {
		x, degrees = x/plane.Deg, "°"
	}
	if math.IsNaN(x) {
		return units.NotGiven
	}
	digits := 3
	if x != 0 {
		digits = max(0, 3-int(math.Floor(math.Log10(math.Abs(x)))))
	}
	return units.Fixed(x, min(digits, 5)) + degrees
}
