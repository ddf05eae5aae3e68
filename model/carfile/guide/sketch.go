package guide

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// View says what a picture shows.
type View int

// The pictures.
const (
	ViewCar   View = iota // the whole car from the side
	ViewPart              // one part and its holes
	ViewPlace             // the first part on the car
	ViewWing              // the wing from the side
	ViewSpan              // the wing from above
)

// Mark is a measure in a picture.
type Mark int

// The measures; 0 is none.
const (
	MarkWheelbase Mark = iota + 1
	MarkFrontAxle
	MarkRearAxle
	MarkRoof
	MarkBehindAxle
	MarkAboveGround
	MarkLean
	MarkUp
	MarkAlong
	MarkPlace
	MarkRadius
	MarkAngles
	MarkSlot
	MarkChord
	MarkFront
	MarkFrontUp
	MarkRear
	MarkRearUp
	MarkSpan
)

// Sketch is a picture of the answers so far, to scale: mm, x to the rear and z up, as its view says.
type Sketch struct {
	Strokes  []Stroke
	Discs    []Disc
	Measures []Measure
	Guessed  bool // something in it is not answered yet, and drawn as is usual
}

// Stroke is a line; closed ones are filled.
type Stroke struct {
	Points []plane.Point
	Closed bool
	Faint  bool // not answered yet
}

// Disc is a hole, or a wheel without a name.
type Disc struct {
	At    plane.Point
	D     float64 // mm
	Name  string
	Now   bool // told in the go that is asked for
	Faint bool // not answered yet
	Wheel bool
}

// Measure is a dimension between two places.
type Measure struct {
	A, B plane.Point
	Text string // the answer, or ? while there is none
	Now  bool   // the one that is asked for
}

// drawing gathers a sketch.
type drawing struct {
	Sketch
	a   Answers
	u   units.System
	now Question
}

// Draw draws the picture of a question.
func Draw(q Question, a Answers, u units.System) Sketch {
	d := &drawing{a: a, u: u, now: q}
	switch q.View {
	case ViewCar:
		d.car()
	case ViewPart:
		d.part()
	case ViewPlace:
		d.place()
	case ViewWing:
		d.wing()
	case ViewSpan:
		d.span()
	}
	return d.Sketch
}

// value is an answer's number for the picture, and whether it was answered; usual stands in for it.
func (d *drawing) value(key string, usual float64) (x float64, said bool) {
	text := d.a[key]
	if x, err := units.Lengths.Parse(text, d.u.LengthUnit()); err == nil && text != "" {
		return x, true
	}
	d.Guessed = true
	return usual, false
}

// measure adds a dimension; it is set off where it is the one that is asked for.
func (d *drawing) measure(mark Mark, key string, a, b plane.Point) {
	text := d.a[key]
	now := mark != 0 && d.now.Mark == mark
	if text == "" && !now {
		return
	}
	if text == "" {
		text = "?"
	}
	d.Measures = append(d.Measures, Measure{a, b, text, now})
}

func (d *drawing) line(faint bool, points ...plane.Point) {
	d.Strokes = append(d.Strokes, Stroke{Points: points, Faint: faint})
}

func (d *drawing) shape(faint bool, points ...plane.Point) {
	d.Strokes = append(d.Strokes, Stroke{Points: points, Closed: true, Faint: faint})
}

func (d *drawing) hole(h Disc) { d.Discs = append(d.Discs, h) }

func pt(x, z float64) plane.Point { return plane.Point{X: x, Z: z} }

// car draws wheels, ground, roof, and the wing where it is known by then.
func (d *drawing) car() {
	base, said := d.value("wheelbase", 2500)
	roof, roofSaid := d.value("roof", 1300)
	wheel := 315.0
	d.line(false, pt(-base-700, 0), pt(900, 0))
	d.hole(Disc{At: pt(-base, wheel), D: 2 * wheel, Wheel: true, Faint: !said})
	d.hole(Disc{At: pt(0, wheel), D: 2 * wheel, Wheel: true, Faint: !said})
	// a body that decides nothing: bonnet, screen, roof, rear window, deck
	d.line(true, pt(-base-600, 400), pt(-base-550, 700), pt(-base+550, 850), pt(-base*0.55, roof-40), pt(-base*0.35, roof),
		pt(-base*0.18, roof-30), pt(150, 900), pt(520, 850), pt(560, 450))
	d.line(!roofSaid, pt(-base*0.75, roof), pt(-base*0.05, roof))
	d.measure(MarkWheelbase, "wheelbase", pt(-base, -150), pt(0, -150))
	d.measure(MarkRoof, "roof", pt(-base*0.35, 0), pt(-base*0.35, roof))
	d.measure(MarkFrontAxle, "front_mass", pt(-base, wheel), pt(-base, 0))
	d.measure(MarkRearAxle, "rear_mass", pt(0, wheel), pt(0, 0))
	x, said := d.value("fixed_x", 350)
	z, _ := d.value("fixed_z", 800)
	d.mounting(!said, pt(x, z))
}

// mounting draws what holds the wing, as is usual: a bracket, an upright, the wing.
func (d *drawing) mounting(faint bool, at plane.Point) {
	box := func(x0, z0, x1, z1 float64) {
		d.line(faint, at.Add(pt(x0, z0)), at.Add(pt(x1, z0)), at.Add(pt(x1, z1)), at.Add(pt(x0, z1)), at.Add(pt(x0, z0)))
	}
	if parts := d.a.parts(); len(parts) != 1 {
		box(-10, -90, 90, 110)
	}
	box(0, 0, 80, 540)
	chord, _ := d.value("chord", 250)
	nose := at.Add(pt(-chord*0.2, 520))
	d.line(faint, nose, nose.Add(pt(chord*0.3, -chord*0.06)), nose.Add(pt(chord, chord*0.15)), nose.Add(pt(chord*0.3, chord*0.06)), nose)
}

// place draws the first part where it sits on the car.
func (d *drawing) place() {
	x, _ := d.value("fixed_x", 350)
	z, _ := d.value("fixed_z", 800)
	lean := 0.0
	if a, err := units.Angles.Parse(d.a["fixed_angle"], "deg"); err == nil && d.a["fixed_angle"] != "" {
		lean = a
	}
	wheel := 315.0
	d.line(false, pt(-420, 0), pt(max(x, 0)+500, 0))
	d.hole(Disc{At: pt(0, wheel), D: 2 * wheel, Wheel: true})
	pose := plane.Pose{X: x, Z: z, Turn: lean}
	all := d.a.holesOf(0, d.u)
	far := plane.Point{X: 60}
	for i, h := range all {
		name := ""
		if i == 0 {
			name = h.ID
		}
		d.hole(Disc{At: pose.Apply(h.At()), D: max(h.D, 14), Name: name, Now: i == 0})
		if math.Abs(h.Z-all[0].Z) < 1 && h.X > far.X {
			far = h.At()
		}
	}
	d.measure(MarkBehindAxle, "fixed_x", pt(0, wheel), pt(x, wheel))
	d.measure(MarkAboveGround, "fixed_z", pt(x, 0), pt(x, z))
	if d.now.Mark == MarkLean {
		d.line(true, pt(x, z), pt(x+320, z))
		d.measure(MarkLean, "fixed_angle", pt(x, z), pose.Apply(pt(300, 0)))
	}
}

// profile are the points of a wing's section for a picture, in chords: leading edge left, upper side first. It is NACA 4412
// upside down, as a rear wing hangs: its camber is below the chord line.
// Source: Abbott and von Doenhoff, "Theory of Wing Sections" (1959), appendix III, rounded; from memory, checked
// by the equations of a four-digit section.
var profile = [][2]float64{{0, 0}, {0.0125, 0.014}, {0.05, 0.025}, {0.1, 0.029}, {0.2, 0.027}, {0.4, 0.018}, {0.6, 0.010}, {1, 0},
	{0.8, -0.049}, {0.6, -0.081}, {0.4, -0.098}, {0.3, -0.098}, {0.2, -0.088}, {0.1, -0.066}, {0.05, -0.047}, {0.0125, -0.024}}

// wing draws the wing from the side with its bolts.
func (d *drawing) wing() {
	chord, said := d.value("chord", 250)
	var points []plane.Point
	for _, p := range profile {
		points = append(points, pt(p[0]*chord, p[1]*chord))
	}
	d.shape(!said, points...)
	d.line(true, pt(0, 0), pt(chord, 0))
	d.measure(MarkChord, "chord", pt(0, -chord*0.22), pt(chord, -chord*0.22))
	bolt := func(key, upKey, name string, mark, upMark Mark, usual, dim float64) {
		x, said := d.value(key, usual)
		z, _ := d.value(upKey, 0)
		if said || d.now.Mark == mark {
			d.hole(Disc{At: pt(x, z), D: max(d.a.diameter(-1, d.u), 8), Name: name, Now: d.now.Mark == mark || d.now.Mark == upMark, Faint: !said})
		}
		if d.now.Mark == mark {
			d.measure(mark, key, pt(0, dim*chord), pt(x, dim*chord))
		}
		if d.now.Mark == upMark {
			d.measure(upMark, upKey, pt(x, 0), pt(x, z))
		}
	}
	bolt("wing_front", "wing_front_up", "F", MarkFront, MarkFrontUp, chord*0.2, 0.16)
	bolt("wing_rear", "wing_rear_up", "R", MarkRear, MarkRearUp, chord*0.65, 0.16)
	if all := d.a.wingHoles(d.u); len(all) > 2 {
		for _, h := range all[2:] {
			d.hole(Disc{At: h.At(), D: h.D, Name: h.ID})
		}
	}
}

// span draws the wing from above, its front below.
func (d *drawing) span() {
	span, said := d.value("span", 1400)
	chord, _ := d.value("chord", 250)
	d.shape(!said, pt(0, 0), pt(span, 0), pt(span, chord), pt(0, chord))
	d.measure(MarkSpan, "span", pt(0, -chord*0.4), pt(span, -chord*0.4))
}
