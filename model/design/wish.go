// Package design finds where to drill a plate, so that the wing can be set to the
// heights and angles that are wanted. It takes the fixed part as it is drilled, the wing,
// and what is wanted; it returns proposals, each a car of its own whose settings are those that
// the engine lists for it.
//
// The chain is fixed part, plate, wing, or has further parts between fixed part and plate. The part below the plate is
// called its bracket; where joints below it give it several places, each is one more for the foot. The foot, the plate's joint with its bracket, sets the height
// with the plate as it is drawn, not tilted; the head, its joint with the wing, sets the angle, by one of
// its front holes and one of its rear holes.
//
// Lengths are in mm, angles in rad. The plate's frame is parallel to the bracket's at the first of its places.
package design

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
)

// Wish is what the holes are to make possible.
type Wish struct {
	Heights      []float64 // mm above ground, of the quarter-chord point
	HeightWithin float64   // mm either way

	Low, High float64 // rad to the ground, the angles wanted at every height
	Step      float64 // rad, the widest between neighbouring angles
	EndWithin float64 // rad, by how much the first angle may be above Low and the last below High

	Angles      []float64 // rad, named angles: these at every height, instead of all from Low to High; none for those
	AngleWithin float64   // rad either way, of named angles; 0 for UsualAngleWithin

	FootBolts int // at every height; 0 for four, or what the joint asks for where that is more

	Pitches []float64 // mm, spacings of the wing's two bolts to choose from; none for the wing as it is drilled

	BracketColumns float64 // mm, between the two columns of a bracket that has no holes yet; 0 for 60
	BracketHigh    float64 // mm, of its rows from the first to the last at most; 0 for 160

	Behind       given.Number // mm behind the rear axle, of the front bolt of the wing; else above the foot
	BehindWithin float64      // mm either way

	Slim bool    // bands between the holes instead of the convex outline
	Band float64 // mm, the width of a slim plate's bands, or of a swan neck at least; 0 for SlimBand

	SwanNeck bool      // the plate holds the wing from above and keeps clear of its section
	NeckGap  float64   // mm, from the section; 0 for the gap of the limits, or NeckGap
	Above    []float64 // mm above the chord line, heights to choose from for the wing's two bolts; none for the wing as it is drilled

	Blank Blank // that the plate must go on

	Kept Kept // holes that stay as they are
}

// Fault is a wish that cannot be worked with, or a car.
type Fault struct{ What Problem }

// Problem says what is wrong.
type Problem int

// What can be wrong with a wish or a car.
const (
	TooFewParts     Problem = iota // the chain is not fixed part, plate, wing, or longer
	FewBracketHoles                // the bracket has fewer holes than the foot wants bolts
	WingBolts                      // the wing has fewer than two holes, or no two as far apart as LeastPitch
	NoHeights
	TooManyHeights
	Angles // High is below Low
	Steps  // not above LeastStep
	Within // a tolerance is negative, or that of heights 0
	FootBolts
	FewerThanMin // fewer bolts at the foot than the joint's least
	BadHeight
	BadPitch
	BadBand // not between LeastBand and MostBand
	BadNeckGap
	BadAbove
	BadBlank
	HeadBolts   // the joint at the head asks for more than two bolts
	PitchOfMany // spacings are to be chosen from, and the wing has more than two holes
	NoLowerWay  // the parts below the plate cannot be bolted together
	NamedAngles // too many, further apart than 60°, or a tolerance not between LeastAngleWithin and MostAngleWithin
	KeptHoles   // one of the holes kept does not take its joint's bolt, or has no place
)

func (f *Fault) Error() string { return fmt.Sprintf("cannot design a plate: problem %d", f.What) }

// Bounds of a wish.
const (
	LeastStep   = 0.2 * plane.Deg
	MostHeights = 12
	MostAngles  = 60 // High-Low in steps

	MostFootBolts         = 8
	LeastPitch, MostPitch = 20.0, 2000.0  // mm
	Lowest, Highest       = 100.0, 4000.0 // mm, of the heights

	// UsualAngleWithin is one and a half times what holes 150 mm apart that are each 0.3 mm off turn the wing by at two
	// joints (0.16°, standard uncertainty): what is closer would not be drilled by hand.
	UsualAngleWithin = 0.25 * plane.Deg
	LeastAngleWithin = 0.05 * plane.Deg // holes rounded to tenths of a millimetre are off by as much
	MostAngleWithin  = 3 * plane.Deg
)

// frame is a car seen from the plate that is to be drilled.
type frame struct {
	car        *model.Car
	wish       Wish
	ground     plane.Pose    // the bracket's frame on the ground, at the first of its places
	bracket    []plane.Point // its holes that take the foot's bolts, in its own frame
	places     []place       // of the bracket
	lowerTurns int           // that are different, of the bracket at all of its ways
	lowerWays  int           // of bolting it, of which these are some; 0 where it is the fixed part
	fresh      bool          // these are to be drilled too
	front      plane.Point   // the wing's front bolt, in the wing's frame
	along      plane.Point   // from there to its rear bolt, of length 1
	quarter    plane.Point   // from there to its quarter chord, in the wing's frame
	pitch      float64       // mm, between the wing's bolts
	pair       wingPair      // of the wing's holes, that these are in
	curve      model.WingCurve

	motions   []motion     // of the fixed part's holes
	mounts    given.Number // mm above the chord line, of both bolts, where the wing's mounts are ordered anew
	wingPairs []wingPair   // to choose from, the furthest apart first
	standing  []foot       // on which the plate stands upright, once they are looked for
	keptSlack float64      // mm, by which kept holes of the head take from it
	kept      keeping      // the holes that stay, at one place of the plate

	footD, headD       float64 // mm, diameters of the holes to be drilled
	footRoom, headRoom float64 // mm, least distance between two holes of the foot, two of the head
	mixedRoom          float64 // mm, between one of either
	footPairs          float64 // mm, between two bolts that are in at the same time
	slack              float64 // mm, by which the two holes of the head and the wing's bolts may differ in spacing
}

// drillClearance is by how much a hole is drilled wider than its bolt where nothing says so, mm.
// Common practice, no source: ISO 273 fine has 8.4 mm for M8.
const drillClearance = 0.4

// newFrame checks wish and car; the error is a *Fault.
func newFrame(c *model.Car, w Wish) (*frame, error) {
	if len(c.Parts) < 3 {
		return nil, &Fault{TooFewParts}
	}
	f := &frame{car: c, wish: w, ground: c.Ground()}
	at := f.footJoint()
	foot, head := c.Joints[at], c.Joints[at+1]
	if w.FootBolts == 0 {
		f.wish.FootBolts = max(4, foot.MinBolts)
	}
	f.bracket = f.takesFoot(nil)
	wing := c.Parts[at+2].Holes
	f.wingPairs = f.pairsOf(wing)
	if err := f.wish.check(); err != nil {
		return nil, err
	}
	switch {
	case f.wish.FootBolts < foot.MinBolts:
		return nil, &Fault{FewerThanMin}
	case len(f.bracket) < f.wish.FootBolts && len(c.Parts[at].Holes) > 0:
		return nil, &Fault{FewBracketHoles}
	case len(f.wingPairs) == 0:
		return nil, &Fault{WingBolts}
	case head.MinBolts > 2:
		return nil, &Fault{HeadBolts}
	case len(wing) > 2 && len(w.Pitches)+len(w.Above) > 0:
		return nil, &Fault{PitchOfMany}
	}
	f.footD, f.headD = diameter(foot), diameter(head)
	f.footRoom = fastener.Spacing(f.footD, fastener.AnyDirection).Min
	f.headRoom = fastener.Spacing(f.headD, fastener.AnyDirection).Min
	f.mixedRoom = max(f.footRoom, f.headRoom)
	f.footPairs = f.footRoom
	if size, ok := fastener.Lookup(foot.Bolt); ok {
		washers, spanner := fastener.Room(size, size)
		f.footPairs = max(f.footPairs, washers, spanner)
	}
	if err := f.takeKept(); err != nil {
		return nil, err
	}
	f.take(f.wingPairs[0])
	if err := f.stand(); err != nil {
		return nil, err
	}
	f.motions = f.motionsOf()
	return f, nil
}

func (w *Wish) check() error {
	switch {
	case len(w.Heights) == 0:
		return &Fault{NoHeights}
	case len(w.Heights) > MostHeights:
		return &Fault{TooManyHeights}
	case len(w.Angles) > 0:
		if err := w.named(); err != nil {
			return err
		}
	case !(w.High >= w.Low) || !(w.High-w.Low <= math.Pi/3):
		return &Fault{Angles}
	case !(w.Step >= LeastStep) || (w.High-w.Low)/w.Step > MostAngles:
		return &Fault{Steps}
	}
	switch {
	case w.FootBolts < 2 || w.FootBolts > MostFootBolts:
		return &Fault{FootBolts}
	case !(w.HeightWithin > 0) || w.EndWithin < 0 || w.BehindWithin < 0:
		return &Fault{Within}
	}
	for _, h := range w.Heights {
		if !(h >= Lowest && h <= Highest) {
			return &Fault{BadHeight}
		}
	}
	for _, p := range w.Pitches {
		if !(p >= LeastPitch && p <= MostPitch) {
			return &Fault{BadPitch}
		}
	}
	if w.Band == 0 {
		w.Band = SlimBand
	}
	if !(w.Band >= LeastBand && w.Band <= MostBand) {
		return &Fault{BadBand}
	}
	if err := w.checkNeck(); err != nil {
		return err
	}
	if b := w.Blank; b.Given() && !(b.W >= LeastBlank && b.W <= MostBlank && b.H >= LeastBlank && b.H <= MostBlank) {
		return &Fault{BadBlank}
	}
	w.Heights = slices.Compact(slices.Sorted(slices.Values(w.Heights)))
	return nil
}

func diameter(j model.Joint) float64 { return j.Shank + drillClearance }

// withPitch is the frame with another spacing of the wing's bolts, the front one where it is.
func (f *frame) withPitch(p float64) *frame {
	g := *f
	g.pitch = p
	return &g
}

// lean is the turn of the plate's frame against the ground, rad.
func (f *frame) lean() float64 { return f.ground.Turn }

// rearOf returns where in the plate's frame the rear bolt is, with the front bolt at a place there and the wing at an angle to
// the ground.
func (f *frame) rearOf(front plane.Point, angle float64) plane.Point {
	return front.Add(plane.Pose{Turn: angle - f.lean()}.Apply(f.along.Times(f.pitch)))
}

// angleOf returns the wing's angle to the ground with its bolts in two holes of the plate.
func (f *frame) angleOf(front, rear plane.Point) float64 {
	return plane.Wrap(rear.Sub(front).Angle() - f.along.Angle() + f.lean())
}

// heightOf returns the height of the quarter-chord point, mm, with the front bolt at a place of the fixed part's frame.
func (f *frame) heightOf(front plane.Point, angle float64) float64 {
	return f.ground.Apply(front).Z + plane.Pose{Turn: angle}.Apply(f.quarter).Z
}

// rise returns by how much a move in the fixed part's frame lifts the wing, mm.
func (f *frame) rise(d plane.Point) float64 { return plane.Pose{Turn: f.lean()}.Apply(d).Z }
