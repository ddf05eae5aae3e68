package guide

import (
	"fmt"
	"math"

	"stanchion/model/units"
)

// The two roads.
const (
	Exist = "exist" // the plates exist
	Make  = "make"  // they are going to be made
)

// asker lists questions as answers lead to them.
type asker struct {
	a   Answers
	u   units.System
	all []Question
}

func (k *asker) ask(q Question) { k.all = append(k.all, q) }

// Questions lists what a guided start asks, as far as the answers lead.
func Questions(a Answers, u units.System) []Question {
	k := &asker{a: a, u: u}
	k.ask(Question{Key: "road", Name: "plates", Ask: "Do the plates that hold the wing exist?",
		How: "Bracket and upright, or whatever is between the car and the wing.", kind: aChoice, View: ViewCar,
		Choices: []Choice{{Exist, "they exist: I measure them"}, {Make, "I am going to make them"}}})
	switch a["road"] {
	case Exist:
		k.car()
		k.plates(a.parts())
		k.wing()
		k.speeds()
	case Make:
		k.car()
		k.wanted()
		k.wing()
		k.speeds()
	}
	return k.all
}

// find returns a question by its key.
func find(key string, a Answers, u units.System) (Question, bool) {
	for _, q := range Questions(a, u) {
		if q.Key == key {
			return q, true
		}
	}
	return Question{}, false
}

func (k *asker) car() {
	k.ask(Question{Key: "name", Name: "name", Ask: "What is the car called?", How: "Any name that tells it from your others.", kind: aText, View: ViewCar})
	k.ask(Question{Key: "wheelbase", Name: "wheelbase", Ask: "Wheelbase?", How: "From the middle of the front hub to the middle of the rear hub, wheels straight.",
		kind: aLength, open: 2500.0, lo: 1500, hi: 4000, View: ViewCar, Mark: MarkWheelbase})
	k.ask(Question{Key: "front_mass", Name: "front axle mass", Ask: "Mass on the front axle?", How: "Both front wheels on the scales together, with driver, fuel and wing.",
		kind: aMass, open: 600.0, lo: 50, hi: 3000, View: ViewCar, Mark: MarkFrontAxle})
	k.ask(Question{Key: "rear_mass", Name: "rear axle mass", Ask: "Mass on the rear axle?", How: "Both rear wheels on the scales together, with driver, fuel and wing.",
		kind: aMass, open: 550.0, lo: 50, hi: 3000, View: ViewCar, Mark: MarkRearAxle})
	k.ask(Question{Key: "roof", Name: "roof height", Ask: "Height of the roof?", How: "A straight-edge over the highest point of the roof, held level, and a tape down to the ground.",
		kind: aLength, open: 1300.0, lo: 500, hi: 2500, View: ViewCar, Mark: MarkRoof})
}

func (k *asker) speeds() {
	k.ask(Question{Key: "speed", Name: "speed of the figures", Ask: "At which speed should figures be quoted?", How: "One at which you feel the wing.",
		kind: aSpeed, open: 160.0, lo: 20, hi: 400, View: ViewCar})
	k.ask(Question{Key: "design", Name: "top speed with the wing", Ask: "What is the fastest that the car will go with the wing on?",
		How: "Strength is checked at this speed: if in doubt, go higher. Without it strength is not checked.", kind: aSpeed, Optional: true, lo: 20, hi: 400, View: ViewCar})
}

// parts lists the parts' names from the car to the wing, the wing left out.
func (a Answers) parts() []string {
	if a.is("road", Make) {
		if a["bracket"] != "" {
			return []string{"bracket"}
		}
		return nil
	}
	switch a["parts"] {
	case "one":
		return []string{"upright"}
	case "two":
		return []string{"bracket", "upright"}
	case "three":
		return []string{"bracket", "upright", "head plate"}
	}
	return nil
}

// joints names the joints: the i-th is above the i-th part.
func joints(parts int) []string {
	switch parts {
	case 0:
		return nil
	case 1:
		return []string{"head"}
	case 2:
		return []string{"foot", "head"}
	}
	return []string{"foot", "middle", "head"}
}

// joints names the joints of the car: a bracket that uprights are still to be made for has a foot alone.
func (a Answers) joints() []string {
	if a.is("road", Make) {
		if len(a.parts()) > 0 {
			return []string{"foot"}
		}
		return nil
	}
	return joints(len(a.parts()))
}

// plates asks for the parts, joint by joint and part by part.
func (k *asker) plates(parts []string) {
	k.ask(Question{Key: "parts", Name: "parts", Ask: "What is between the car and the wing, on each side?", How: "Count what is bolted to one another; what is welded together is one part.",
		kind: aChoice, View: ViewCar, Choices: []Choice{{"one", "an upright that is fixed to the car"},
			{"two", "a bracket on the car, and an upright bolted to it"}, {"three", "a bracket, an upright, and a plate at its head that holds the wing"}}})
	if parts == nil {
		return
	}
	k.bolts(parts)
	for i := range parts {
		k.part(i, parts)
		if i == 0 {
			k.place(parts[0])
		}
	}
}

// bolts asks what each joint is bolted with.
func (k *asker) bolts(parts []string) {
	for i, j := range k.a.joints() {
		upper := "wing"
		if i+1 < len(parts) {
			upper = parts[i+1]
		} else if k.a.is("road", Make) {
			upper = "upright"
		}
		k.ask(Question{Key: "bolt." + j, Name: "bolts of the " + j, Ask: fmt.Sprintf("Which bolts hold the %s on the %s?", upper, parts[i]),
			How: "M5 to M12, or in inches 1/4 to 1/2, such as 5/16-18 UNC.", kind: aBolt, open: "M8", View: ViewCar})
		if upper != "wing" {
			k.ask(Question{Key: "count." + j, Name: "number of bolts of the " + j, Ask: fmt.Sprintf("How many bolts hold the %s on the %s, on each side?", upper, parts[i]),
				How: "All that must be in when you drive.", kind: aCount, open: 2.0, lo: 2, hi: 20, View: ViewCar})
		}
	}
}

// place asks where the first part sits on the car.
func (k *asker) place(part string) {
	first := k.a.origin(0, k.u)
	k.ask(Question{Key: "fixed_x", Name: part + " behind the rear axle", Ask: fmt.Sprintf("How far behind the rear axle is the %s's hole %s?", part, first),
		How:  "A plumb line through the hole's middle and one through the rear hub: the distance on the ground. In front of the axle is negative.",
		kind: aLength, open: 350.0, lo: -1000, hi: 2000, View: ViewPlace, Mark: MarkBehindAxle})
	k.ask(Question{Key: "fixed_z", Name: part + " above ground", Ask: "How high above ground is that hole?", How: "A tape from its middle to the ground, car on level ground.",
		kind: aLength, open: 800.0, lo: 100, hi: 2000, View: ViewPlace, Mark: MarkAboveGround})
	ask, how := fmt.Sprintf("What angle are the %s's rows of holes at?", part), "A digital level on two bolts in one row: 0 is level, the rear higher is positive."
	if k.a.oneColumn(0, k.u) {
		ask, how = fmt.Sprintf("How does the %s's column of holes lean?", part), "A digital level along the column: 0 is plumb, its top leaning to the front is positive, to the rear negative."
	}
	k.ask(Question{Key: "fixed_angle", Name: part + "'s angle", Ask: ask, How: how + " A level on the wing can tell it later.",
		kind: anAngle, open: 0.0, lo: -90, hi: 90, View: ViewPlace, Mark: MarkLean})
}

// newPlace asks where a bracket is to be that is made too.
func (k *asker) newPlace() {
	k.ask(Question{Key: "fixed_x", Name: "bracket behind the rear axle", Ask: "How far behind the rear axle is the bracket's lowest front hole to be?",
		How:  "Where the chassis can take it. In front of the axle is negative.",
		kind: aLength, open: 350.0, lo: -1000, hi: 2000, View: ViewPlace, Mark: MarkBehindAxle})
	k.ask(Question{Key: "fixed_z", Name: "bracket above ground", Ask: "How high above ground is that hole to be?", How: "The rows of the bracket go up from there.",
		kind: aLength, open: 800.0, lo: 100, hi: 2000, View: ViewPlace, Mark: MarkAboveGround})
	k.ask(Question{Key: "fixed_angle", Name: "bracket's angle", Ask: "What angle are its rows of holes to be at?", How: "0 is level, the rear higher is positive: as the chassis lies there.",
		kind: anAngle, open: 0.0, lo: -90, hi: 90, View: ViewPlace, Mark: MarkLean})
}

// oneColumn reports whether a part has no two holes one behind the other in a row.
func (a Answers) oneColumn(part int, u units.System) bool {
	all := a.holesOf(part, u)
	for i, s := range all {
		for _, o := range all[:i] {
			if math.Abs(s.Z-o.Z) < 1 {
				return false
			}
		}
	}
	return len(all) > 1
}

func (k *asker) wing() {
	if k.a.is("road", Exist) && k.a.parts() == nil {
		return
	}
	length := func(key, name, ask, how string, lo, hi float64, open any, mark Mark) {
		k.ask(Question{Key: key, Name: name, Ask: ask, How: how, kind: aLength, open: open, lo: lo, hi: hi, View: ViewWing, Mark: mark})
	}
	length("chord", "chord", "Chord of the wing?", "From the foremost point to the trailing edge, straight.", 60, 800, 250.0, MarkChord)
	length("wing_front", "front bolt from leading edge", "How far behind the leading edge is the wing's front bolt?", "Along the chord, from the foremost point of the wing to the bolt's middle.",
		-200, 1000, nil, MarkFront)
	length("wing_front_up", "front bolt above chord line", "How far above the chord line is that bolt?",
		"A straight-edge from the leading to the trailing edge is the chord line; above is upwards on the car. A bolt below it is negative, such as -12.", -400, 400, 0.0, MarkFrontUp)
	length("wing_rear", "rear bolt from leading edge", "How far behind the leading edge is its rear bolt?", "Along the chord.", 10, 1500, nil, MarkRear)
	length("wing_rear_up", "rear bolt above chord line", "How far above the chord line is the rear bolt?", "As for the front one; below it is negative.", -400, 400, 0.0, MarkRearUp)
	k.ask(Question{Key: "wing_more", Name: "further bolts of the wing", Ask: "Has the wing further holes for bolts?",
		How: "Each by its name, how far behind the leading edge and above the chord line, such as M 110 16.", kind: somePlaces, Optional: true, View: ViewWing})
	length("wing_d", "wing's hole diameter", "How wide are the wing's bolt holes?", "Their diameter, by caliper.", 4, 30, k.a.overBolt("head", k.u), 0)
	k.ask(Question{Key: "span", Name: "span", Ask: "Span of the wing?", How: "From tip to tip, without the end plates.",
		kind: aLength, open: 1400.0, lo: 300, hi: 2500, View: ViewSpan, Mark: MarkSpan})
	k.ask(Question{Key: "section", Name: "section", Ask: "Which section is it?", How: "A NACA number such as naca 4412. A traced outline or the maker's data can replace it in the file later.",
		kind: aSection, open: "naca 4412", View: ViewWing})
	optional := func(key, name, ask, how string, hi float64) {
		k.ask(Question{Key: key, Name: name, Ask: ask, How: how, kind: aLength, Optional: true, lo: 20, hi: hi, View: ViewWing})
	}
	optional("plate_length", "length of an end plate", "How long is an end plate?", "From front to rear; blank when there are none.", 2000)
	if k.a["plate_length"] != "" {
		k.ask(Question{Key: "plate_height", Name: "height of an end plate", Ask: "How high is an end plate?", How: "From its lower to its upper edge.",
			kind: aLength, open: 200.0, lo: 20, hi: 1500, View: ViewWing})
	}
	k.ask(Question{Key: "wing_mass", Name: "mass of the wing", Ask: "Mass of the wing?", How: "With its end plates; for strength.", kind: aMass, Optional: true, lo: 0.3, hi: 100, View: ViewWing})
}

// wanted asks what plates are to be made for.
func (k *asker) wanted() {
	k.ask(Question{Key: "bracket", Name: "bracket", Ask: "Is there a bracket on the car that stays?", How: "You measure its holes, and uprights are made for it.",
		kind: aChoice, View: ViewCar, Choices: []Choice{{"yes", "yes: I measure it"}, {"no", "no: it is made too"}}})
	if parts := k.a.parts(); parts != nil {
		k.bolts(parts)
		k.ask(Question{Key: "bolt.head", Name: "bolts of the head", Ask: "Which bolts hold the wing on the upright?",
			How: "M5 to M12, or in inches 1/4 to 1/2, such as 5/16-18 UNC.", kind: aBolt, open: "M8", View: ViewCar})
		if k.a.is("bracket", "yes") {
			k.part(0, parts)
			k.place(parts[0])
		} else {
			k.newPlace()
		}
	}
	k.ask(Question{Key: "want_angles", Name: "angles wanted", Ask: "Which angles should the wing have?",
		How: "In degrees to the ground, trailing edge up: 0 4 8, or 0 to 12 by 2.", kind: someAngles, Optional: true, View: ViewWing})
	k.ask(Question{Key: "want_heights", Name: "heights wanted", Ask: "How high should the wing be above ground?",
		How: "One height or several, of a quarter of the chord behind the leading edge.", kind: someLengths, Optional: true, View: ViewCar})
	k.ask(Question{Key: "limit_top", Name: "top limit", Ask: "How high may the highest point be?", How: "Copied from your rules; they differ by event and country.",
		kind: aLength, Optional: true, lo: 300, hi: 3000, View: ViewCar})
	k.ask(Question{Key: "limit_rear", Name: "rear limit", Ask: "How far behind the rear axle may the rearmost point be?", How: "Copied from your rules.",
		kind: aLength, Optional: true, lo: 0, hi: 3000, View: ViewCar})
}
