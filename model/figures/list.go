package figures

import (
	"slices"

	"stanchion/model"
)

// The keys of the figures.
const (
	Height       Key = "height_mm"
	Back         Key = "x_mm"
	Top          Key = "top_mm"
	GroundAngle  Key = "angle_deg"
	Play         Key = "play_deg"
	Attack       Key = "attack_deg"
	CL           Key = "cl"
	CD           Key = "cd"
	StallMargin  Key = "stall_margin_deg"
	Downforce    Key = "downforce_n"
	Drag         Key = "drag_n"
	OwnDrag      Key = "own_drag_n"
	Lean         Key = "lean_n"
	FrontChange  Key = "front_change_n"
	RearChange   Key = "rear_change_n"
	FrontShare   Key = "front_share_pct"
	BalanceShift Key = "balance_shift_pp"
	Rearmost     Key = "rear_mm"
	FrontLoad    Key = "front_load_n"
	RearLoad     Key = "rear_load_n"
	DragPower    Key = "power_w"
	OnCar        Key = "on_car_n"
	DeckLift     Key = "deck_lift_n"
	UprightsDrag Key = "uprights_drag_n"
	LeanCounted  Key = "lean_counted_n"
)

// InMap are the figures of a setting in JSON and CSV, in their order there.
var InMap = []Key{Height, Back, Top, GroundAngle, Play, Attack, CL, CD, StallMargin, Downforce, Drag, OwnDrag, Lean,
	UprightsDrag, DeckLift, FrontChange, RearChange, FrontShare, BalanceShift}

// InSweep are the figures of a setting over speed.
var InSweep = []Key{Downforce, Drag, FrontLoad, RearLoad, FrontShare, DragPower, OnCar}

// InCompare are the figures whose differences settings are compared by, the downforce on the car
// where the lift on the body is worked out.
var InCompare = []Key{Downforce, OnCar, Drag, FrontShare}

// Swept returns the figures of a setting over speed in the order of people's tables, the downforce on
// the car beside the wing's own where it is worked out.
func Swept(c *model.Car) []Figure {
	all := Pick(Downforce, OnCar, Drag, FrontLoad, RearLoad, FrontShare, DragPower)
	if !c.HasDeck() {
		all = slices.DeleteFunc(all, func(f Figure) bool { return f.Key == OnCar })
	}
	return all
}

// Compared returns the figures that settings of a car are compared by.
func Compared(c *model.Car) []Figure {
	all := Pick(InCompare...)
	if !c.HasDeck() {
		all = slices.DeleteFunc(all, func(f Figure) bool { return f.Key == OnCar })
	}
	return all
}

// is makes an equation that is the same for every setting.
func is(equation string) func(Setting) string { return func(Setting) string { return equation } }

const (
	momentSource = "moments about the ground point of the other axle; R. N. Jazar, Vehicle Dynamics (2008), sec. 2.1"
	inOutcome    = "model.Table.outcome"
)

// List is every figure of a setting.
var List = []Figure{
	{
		Key: Height, Name: "height", Quantity: Length, FileDec: 3,
		Value:    func(s Setting) float64 { return s.Row.Height },
		Equation: is("{zw} + {c}/4 · sin({θ})"), How: "of the quarter-chord point above ground",
		In: "model.site.place",
	},
	{
		Key: Back, Name: "distance behind the rear axle", Head: "behind", Quantity: Length, FileDec: 3,
		Value:    func(s Setting) float64 { return s.Row.X },
		Equation: is("{xw} + {c}/4 · cos({θ})"), How: "of the quarter-chord point",
		In: "model.site.place",
	},
	{
		Key: Top, Name: "top", Quantity: Length, FileDec: 3,
		Value: func(s Setting) float64 { return s.Row.Top },
		How:   "the highest point above ground of the section and the end plates, turned to the angle to the ground",
		In:    "model.site.place",
	},
	{
		Key: GroundAngle, Name: "angle", Was: "angle to ground", Quantity: Angle, Digits: 1, FileDec: 4,
		Value:    func(s Setting) float64 { return s.Row.Angle },
		StdUnc:   func(c model.Contribution) float64 { return c.Angle },
		Equation: is("{θ0} + {τ}"), How: "of the chord line to level ground; positive makes downforce",
		In: "model.site.place",
	},
	{
		Key: Play, Name: "play", Was: "play either way", Quantity: Angle, Digits: 1, FileDec: 4,
		Value:  func(s Setting) float64 { return s.Row.Play },
		How:    "the largest turn that the bolts allow in their holes, added up over the joints: of two bolts cos φ = (L₁² + L₂² − c²)/(2 L₁ L₂) for the spacings L₁ and L₂ of the holes and the clearances c of both bolts together; of more bolts the turn for which one shift still serves all",
		Source: "the law of cosines", In: "holes.TwoBoltPlay",
	},
	{
		Key: Attack, Name: "angle of attack", Head: "attack", Quantity: Angle, Digits: 1, FileDec: 4, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.Attack },
		Equation: is("{θ} + {ε}"), How: "of the chord line to the air that meets it",
		In: inOutcome,
	},
	{
		Key: CL, Name: "CL", Quantity: Number, Digits: 2, FileDec: 4, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.CL }, StdUnc: func(c model.Contribution) float64 { return c.CL },
		How: "read off the wing's curve at the angle of attack, with what the body adds and the uprights' wake takes; positive is downforce",
		In:  "model.Car.SolveWing",
	},
	{
		Key: CD, Name: "CD", Quantity: Number, Digits: 3, FileDec: 5, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.CD },
		How:   "read off the wing's curve at the angle of attack", In: "model.Car.SolveWing",
	},
	{
		Key: StallMargin, Name: "stall margin", Quantity: Angle, Digits: 1, Signed: true, FileDec: 3, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.StallMargin },
		Equation: is("{αmax} − {α}"), How: "up to maximum CL", In: "model.Table.fill",
	},
	{
		Key: Downforce, Name: "downforce", Quantity: Force, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Downforce }, StdUnc: func(c model.Contribution) float64 { return c.Downforce },
		StdInMap: true,
		Equation: is("{L} · cos({ε}) + {D} · sin({ε})"), How: "of the wing itself: lift and drag, which lie across and along the local flow, resolved down",
		Source: "definition of lift and drag", In: "aero.Force.Resolve",
	},
	{
		Key: OnCar, Name: "on the car", Quantity: Force, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.OnCar }, StdUnc: func(c model.Contribution) float64 { return c.OnCar },
		Equation: onCarEquation, How: "the wing's downforce less the lift that it draws out of the body below it",
		In: inOutcome,
	},
	{
		Key: DeckLift, Name: "lift on the body", Head: "body lift", Quantity: Force, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.DeckLift }, StdUnc: func(c model.Contribution) float64 { return c.DeckLift },
		Equation: is("{κ} · {F}"), How: "that the wing's suction draws out of deck, rear window and roof: the middle of what it can be with the flow attached and separated, with a wake that holds its shape and one that yields",
		Source: "a vortex lattice over source panels; J. L. Hess, A. M. O. Smith, Prog. Aeronaut. Sci. 8 (1967)", In: inOutcome,
	},
	{
		Key: UprightsDrag, Name: "uprights' drag", Head: "uprights", Quantity: Force, FileDec: 2, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.StrutsDrag },
		Equation: is("{q} · {Su}"), How: "of the plates above the body: 0.9 on their frontal area, ± 30 %, and the friction of their sides",
		Source: "S. F. Hoerner, Fluid-Dynamic Drag (1965), ch. III", In: "model.site.struts",
	},
	{
		Key: Drag, Name: "drag", Quantity: Force, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Drag }, StdUnc: func(c model.Contribution) float64 { return c.Drag }, StdInMap: true,
		Equation: func(s Setting) string { return withUprights(s, dragEquation(s)) },
		How:      "what the wing costs the car, with its uprights: a rearward lean of its lift counts in full, a forward lean for half of the most it can gain, so that the wing alone never has less than 0",
		Source:   "M. M. Munk, NACA Report 121 (1921), for the most that a forward lean can gain", In: "model.carDrag",
	},
	{
		Key: OwnDrag, Name: "own drag", Quantity: Force, FileDec: 2, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.OwnDrag },
		Equation: is("{D} · cos({ε})"), How: "the wing's own drag along the car's path", In: "aero.Force.Resolve",
	},
	{
		Key: Lean, Name: "lean of the lift", Head: "lean", Quantity: Force, FileDec: 2, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.Lean },
		Equation: is("−{L} · sin({ε})"), How: "by which the lift leans rearwards; below 0 forwards", In: "aero.Force.Resolve",
	},
	{
		Key: LeanCounted, Name: "lean as counted", Quantity: Force, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 {
			if s.Row.Struts.Known {
				return s.Row.Drag - s.Row.StrutsDrag - s.Row.OwnDrag
			}
			return s.Row.Drag - s.Row.OwnDrag
		},
		Equation: is("{Dw} − {D} · cos({ε})"), How: "what the lean of the lift adds to the drag: all of one rearwards, half of the most that one forwards can gain",
		Source: "M. M. Munk, NACA Report 121 (1921), for the most that a forward lean can gain", In: "model.carDrag",
	},
	{
		Key: FrontChange, Name: "front axle", Head: "Δfront", Quantity: Force, Signed: true, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Change.Front }, StdUnc: func(c model.Contribution) float64 { return c.Change.Front },
		Equation: frontEquation,
		How:      "change in its load from the wing's forces, those on the body and on the uprights where they act; the wing is inverted, so a moment that is nose-down for its section lifts the car's nose",
		Source:   momentSource, In: "model.WingOnAxles",
	},
	{
		Key: RearChange, Name: "rear axle", Head: "Δrear", Quantity: Force, Signed: true, FileDec: 2, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Change.Rear }, StdUnc: func(c model.Contribution) float64 { return c.Change.Rear },
		Equation: rearEquation, How: "change in its load from the wing's forces and those on the body", Source: momentSource, In: "model.WingOnAxles",
	},
	{
		Key: FrontShare, Name: "front share", Head: "share", Quantity: Share, Digits: 1, FileDec: 3, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Share }, StdUnc: func(c model.Contribution) float64 { return c.Share },
		Equation: is("{Nf}/({Nf} + {Nr})"), How: "the front axle's part of the load on both, at speed", In: "model.Axles.FrontShare",
	},
	{
		Key: BalanceShift, Name: "share shift", Head: "shift", Was: "balance shift", Quantity: Shift, Digits: 1, Signed: true, FileDec: 3, ByFlow: true,
		Value: func(s Setting) float64 { return s.Row.Shift }, StdUnc: func(c model.Contribution) float64 { return c.Shift }, StdInMap: true,
		Equation: is("{Nf}/({Nf} + {Nr}) − {N0f}/({N0f} + {N0r})"), How: "front share with the wing's forces, less without", In: inOutcome,
	},
	{
		Key: Rearmost, Name: "rear", Quantity: Length, FileDec: 3,
		Value: func(s Setting) float64 { return s.Row.Rear },
		How:   "the rearmost point behind the rear axle of the section and the end plates", In: "model.site.place",
	},
	{
		Key: FrontLoad, Name: "front load", Quantity: Force, FileDec: 2, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.Load.Front },
		Equation: is("{N0f} + {ΔF}"), How: "on the front axle at speed, with the wing", In: inOutcome,
	},
	{
		Key: RearLoad, Name: "rear load", Quantity: Force, FileDec: 2, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.Load.Rear },
		Equation: is("{N0r} + {ΔR}"), How: "on the rear axle at speed, with the wing", In: inOutcome,
	},
	{
		Key: DragPower, Name: "power for the drag", Head: "power", Quantity: Power, Digits: 1, FileDec: 1, ByFlow: true,
		Value:    func(s Setting) float64 { return s.Row.Drag * s.Table.Speed },
		Equation: is("{Dc} · {V}"), How: "that the wing's drag takes", In: "figures.List",
	},
}

// withUprights adds the uprights' drag where it is known.
func withUprights(s Setting, equation string) string {
	if s.Row.Struts.Known {
		return equation + " + {Du}"
	}
	return equation
}

// onCarEquation and frontEquation leave out the body where nothing is known of it, and the
// uprights likewise.
func onCarEquation(s Setting) string {
	if s.Table.DeckKnown(s.Row) {
		return "{F} − {Fb}"
	}
	if s.Table.Car.TrackFit.Downforce.Known() {
		return "{F}" // fitted on track, body and all
	}
	return ""
}

// rearEquation takes the wing's own downforce where that on the car is not known.
func rearEquation(s Setting) string {
	if onCarEquation(s) == "" {
		return "{F} − {ΔF}"
	}
	return "{Fc} − {ΔF}"
}

func frontEquation(s Setting) string {
	equation := "{F} · {x}"
	if s.Table.DeckKnown(s.Row) {
		equation += " + {Mb}"
	}
	equation += " + {Dw} · {z}"
	if s.Row.Struts.Known {
		equation += " + {Du} · {zu}"
	}
	return "−(" + equation + " − {M})/{w}"
}

// dragEquation is that of the wing alone, of the case at hand.
func dragEquation(s Setting) string {
	switch r := s.Row; {
	case r.Lean > 0:
		return "{D} · cos({ε}) − {L} · sin({ε})"
	case r.LeanCredit == 0:
		return "{D} · cos({ε})"
	case r.OwnDrag < r.LeanCredit/2:
		return "max(0, {D} · cos({ε}) − {G}/2)"
	}
	return "{D} · cos({ε}) − {G}/2"
}
