// Package strength answers: will the plates and bolts between car and wing hold
// at the design speed, and which of them would give first? It carries the wing's
// loads down the chain of parts, joint by joint, shares them out among the bolts,
// and compares what each bolt, hole and section has to bear with what published
// rules allow it.
//
// Lengths are in mm, forces in N, moments in N·mm, stresses in MPa (N/mm²),
// angles in rad. The axes are the car's: x to the rear, z up, and y across it.
// A moment Turn is counter-clockwise in the side view, so that it turns the wing
// to more angle; Roll is about x and Yaw about z, right-handed.
//
// It is an estimate for planning and not approval. Left out are fatigue, shock,
// the wing's own skin, and the chassis. What an input is missing for is listed in its place.
//
// Sources: EN 1993-1-8:2005, EN 1999-1-1:2007 and the other standards named beside
// each rule; S. P. Timoshenko and J. M. Gere, "Theory of Elastic Stability" (1961).
package strength

import (
	"fmt"
	"math"
	"sort"

	"stanchion/holes/plane"
	"stanchion/model"
)

// Check is one thing that has to hold.
type Check struct {
	What     string         // "bolt shear"
	Joint    string         // "" when it is of a whole part
	Part     string         // "" when it is of a bolt
	At       string         // the hole, or "" for a section
	Station  float64        // mm along a part from the middle of its lower bolts; NaN when At or Line says where
	Line     [2]plane.Point // on a part, in its own frame: the chord that is checked
	Demand   float64
	Capacity float64
	Unit     string // of demand and capacity
	Layout   bool   // a rule about where holes are, kept or not: not a load
	Case     int    // of the load cases
	Source   string
}

// Utilisation is demand over capacity: above 1 it does not hold. It is infinite
// when there is no capacity.
func (c Check) Utilisation() float64 {
	switch {
	case c.Demand <= 0:
		return 0
	case c.Capacity <= 0:
		return math.Inf(1)
	}
	return c.Demand / c.Capacity
}

// Result is everything that strength says of one setting.
type Result struct {
	Row    *model.Row // at the design speed
	Case   int        // the load case of the weakest link
	Loads  []Applied  // of that case, on one upright, with the load factor in them
	Bodies []Body     // of that case, one for each joint, from the wing down to the car
	Checks []Check    // each the worst of all load cases, worst first
	Turn   float64    // rad that the plates' bending turns the wing by, without the load factor; NaN when not known
	Side   float64    // mm that they bend sideways
	Open   []Open     // what is not checked

	Solved   *Solved // of plates solved as they are drawn; nil when they were not
	Formulas []Check // the formulas of beams beside it, for comparison
}

// Governing returns the check that gives first; ok is false when nothing but rules that
// are kept could be checked.
func (r Result) Governing() (c Check, ok bool) {
	for _, k := range r.Checks {
		if k.Weight() >= 0 && (!ok || k.gives(c)) {
			c, ok = k, true
		}
	}
	return c, ok
}

// Broken counts the rules about where holes are that are not kept.
func (r Result) Broken() int {
	n := 0
	for _, c := range r.Checks {
		if c.Layout && c.Utilisation() > 1 {
			n++
		}
	}
	return n
}

// gives reports whether a check is a weaker link than another: a rule about where
// holes are counts when it is broken, and one that is kept is no link at all.
func (c Check) gives(than Check) bool { return c.Weight() > than.Weight() }

// Weight ranks checks: the larger is the weaker link. What fails comes before a rule on the
// layout of holes that is broken, that before what holds; a rule that is kept is below 0.
func (c Check) Weight() float64 {
	const most = 1e9
	switch u := min(c.Utilisation(), most); {
	case !c.Layout && u > 1:
		return most + u // what gives outranks what no rule covers
	case !c.Layout:
		return u
	case u > 1:
		return u
	}
	return -1
}

// Analysis is a car made ready for its settings to be checked at the design speed, with the most
// that the air may do.
type Analysis struct {
	Car     *model.Car
	Table   *model.Table // the settings at the design speed
	Assumed []model.Assumption
	Missing []string // what the file does not say, and what is not checked for it
	Open    []Open   // the same in a few words, for every setting
	Left    []string // what is not checked in any case

	Uprights, LoadFactor, vertical, cornering, yaw float64
	Share                                          float64 // of the wing's loads on the most heavily loaded upright
	braking, uneven, push, pushAt                  float64 // g, part, N, mm along the chord
	pushShare, pushRoll                            float64 // of a push down at the wing's end on the nearest upright: part, mm of lever where it is the only one
	plates                                         []plate // one for each part
	bolts                                          []bolt  // one for each joint
	chassis                                        bolt
	chassisHoles                                   []int // of the fixed part
	body                                           []plane.Point
	memory                                         *memory
}

// errRefused says why no strength is given for a part.
type errRefused struct{ part, why string }

func (e errRefused) Error() string { return fmt.Sprintf("part %q: %s", e.part, e.why) }

// ErrNoSpeed is returned when the car file gives no speed to check at.
var ErrNoSpeed = fmt.Errorf("no design speed; give [speed] design in the car file, the highest speed with the wing on")

// New works the settings out at the design speed and makes the car ready. It
// returns ErrNoSpeed without one, and an error that says why when a part is of
// something that no part is made of.
func New(c *model.Car) (*Analysis, error) {
	speed, ok := c.DesignSpeed.Get()
	if !ok {
		return nil, ErrNoSpeed
	}
	t, err := c.ForLoads().Map(speed)
	if err != nil {
		return nil, err
	}
	return FromTable(t)
}

// Single is New without the settings' figures, for looking at single ones by
// Analysis.Table.RowAt.
func Single(c *model.Car) (*Analysis, error) {
	speed, ok := c.DesignSpeed.Get()
	if !ok {
		return nil, ErrNoSpeed
	}
	c = c.ForLoads()
	wing, err := c.SolveWing(speed)
	if err != nil {
		return nil, err
	}
	return FromTable(model.NewTable(c, nil, wing, speed))
}

// FromTable is New for settings that are worked out already, at the design speed.
func FromTable(t *model.Table) (*Analysis, error) {
	f := &Analysis{Car: t.Car, Table: t, memory: &memory{}}
	f.body = t.Car.Surroundings().Body
	f.assume()
	f.newChassis()
	for i := range t.Car.Parts {
		p, err := f.newPlate(i)
		if err != nil {
			return nil, err
		}
		f.plates = append(f.plates, p)
	}
	for i := range t.Car.Joints {
		f.bolts = append(f.bolts, f.newBolt(i))
		f.newNuts(i)
	}
	f.Left = []string{
		"countersunk bolts: hexagon heads and washers are assumed",
		"fatigue of bolts and welds: look at every plate, weld and bolt for cracks before each event, and replace bolts that were loosened often",
		"the wing's own skin and spars: ask its maker",
		fmt.Sprintf("the chassis that part %q is attached to", t.Car.Parts[0].Name),
	}
	return f, nil
}

// Of checks one row of the frame's table. Its error says why the row has no
// loads.
func (f *Analysis) Of(r *model.Row) (Result, error) {
	if err := loaded(r); err != nil {
		return Result{}, err
	}
	st := f.stance(r)
	res := Result{Row: r, Open: f.openOf(st)}
	at := map[Check]int{}
	for k := range cases {
		_, bodies := f.bodies(st, cases[k])
		f.each(st, cases[k], bodies, func(c Check) {
			same := Check{What: c.What, Joint: c.Joint, Part: c.Part, At: c.At}
			c.Case = k
			i, met := at[same]
			if !met {
				at[same] = len(res.Checks)
				res.Checks = append(res.Checks, c)
			} else if c.Utilisation() > res.Checks[i].Utilisation() {
				res.Checks[i] = c
			}
		})
	}
	sort.SliceStable(res.Checks, func(a, b int) bool { return res.Checks[a].Utilisation() > res.Checks[b].Utilisation() })
	if w, ok := res.Governing(); ok {
		res.Case = w.Case
	}
	res.Loads, res.Bodies = f.bodies(st, cases[res.Case])
	res.Turn, res.Side = f.bending(st, res.Bodies)
	return res, nil
}

func loaded(r *model.Row) error {
	if math.IsNaN(r.Downforce) || math.IsNaN(r.Drag) {
		return fmt.Errorf("setting %s has no forces at the design speed, so no loads", r.ID)
	}
	return nil
}

// each calls report with every check of a row.
func (f *Analysis) each(st stance, k loadCase, bodies []Body, report func(Check)) {
	for i := range bodies {
		f.boltChecks(&bodies[i], report)
	}
	if b, ok := f.onChassis(st, k, bodies); ok {
		f.boltChecks(&b, report)
	}
	out := 0.0 // mm that the plates above bend sideways
	for part := len(f.Car.Parts) - 2; part >= 0; part-- {
		switch why := st.unlike[part]; {
		case why == "":
			out += f.plateChecks(part, bodies, out, report)
		case !blocked(why): // the formulas of beams would mean nothing
			f.equilibrium(st, k, part, bodies, report)
		}
	}
}
