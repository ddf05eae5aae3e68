package carfile

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Parse reads the car file data, called name in faults; open reads the files
// it names. The error is a Faults with everything that is wrong.
func Parse(name string, data []byte, open Open) (*model.Car, error) {
	return parse(name, "", data, open)
}

// parse is Parse for a car file in a folder, which faults of the files it names
// are given with.
func parse(name, dir string, data []byte, open Open) (*model.Car, error) {
	r := &reader{file: name, dir: dir, index: map[int][]int{}}
	if len(data) > MaxSize {
		return nil, Faults{{File: name, What: fmt.Sprintf("%d bytes", len(data)), Do: "a car file may have 16 MiB at most", Code: NotSound}}
	}
	doc, err := toml.Text(data)
	var e *toml.Error
	if errors.As(err, &e) {
		return nil, Faults{{name, e.Line, e.Col, e.What, e.Do, NotTOML}}
	}
	text, values := r.syntax(doc)
	if values == nil {
		return nil, r.faults.sorted()
	}
	r.pos = toml.Locate(text)
	root := &table{r: r, values: values}
	if !r.format(root) {
		return nil, r.faults.sorted()
	}
	car := r.car(root, open)
	root.close()
	if len(r.broken) == 0 {
		r.check(car)
	}
	if len(r.faults) > 0 {
		return nil, r.faults.sorted()
	}
	return car, nil
}

// format takes the format number and the units, on which all else hangs.
func (r *reader) format(root *table) bool {
	if v := root.number("format", plain, anything); v != 1 && !math.IsNaN(v) {
		root.fault("format", "format is %g", "this stanchion reads format 1; a newer one may read this file", v)
		r.lastIs(OutOfRange)
		return false
	}
	r.units = fileUnits{1, 1, units.KPH, "mm", "kg", "km/h"}
	u := root.child("units", "units")
	if u == nil {
		return true
	}
	pick := func(key string, sizes map[string]float64, allowed string, size *float64, name *string) {
		s := u.text(key, false, allowed)
		u.noteTexts(key, sortedTexts(sizes)...)
		if x, ok := sizes[s]; ok {
			*size, *name = x, s
		} else if s != "" {
			u.fault(key, "%s is %q", "it must be "+allowed, key, s)
		}
	}
	pick("length", map[string]float64{"mm": 1, "in": units.Inch}, `"mm" or "in"`, &r.units.length, &r.units.lengthName)
	pick("mass", map[string]float64{"kg": 1, "lb": units.Pound}, `"kg" or "lb"`, &r.units.mass, &r.units.massName)
	pick("speed", map[string]float64{"km/h": units.KPH, "mph": units.MPH, "m/s": 1}, `"km/h", "mph" or "m/s"`, &r.units.speed,
		&r.units.speedName)
	u.close()
	return true
}

// car takes the car out of the root table.
func (r *reader) car(root *table, open Open) *model.Car {
	c := &model.Car{
		Units: model.FileUnits{Length: r.units.lengthName, Mass: r.units.massName, Speed: r.units.speedName},
	}
	c.Name = root.text("name", true, "a name for the car")
	r.guessed(root, c)
	r.flow(root, c) // what it leaves open weighs most, so it is listed first
	r.measures(root, c)
	r.air(root, c)
	if t := r.must(root, "speed"); t != nil {
		c.Speed = t.number("chosen", t.speeds(), positive)
		c.DesignSpeed = t.maybe("design", t.speeds(), positive)
		t.close()
	}
	r.parts(root, c)
	r.wing(root, c, open)
	r.uncertainty(root, c)
	r.readings(root, c)
	r.before(root, c)
	r.claim(root, c)
	fit := r.fit(root, c)
	r.mounting(root, c)
	r.body(root, c)
	if !c.HasDeck() && !c.TrackFit.Downforce.Known() {
		c.Assumed = append(c.Assumed, model.Assumption{What: "lift of the body under the wing", Value: "0 N", On: model.OnAxles,
			Note: "the rear axle gains less than is shown, often by a quarter to a half of the downforce; set by [body] outline and width"})
	}
	r.limits(root, c)
	r.checks(root, c)
	r.adjustments(root, c)
	c.TrackFit.Inputs = fitInputs(root.values, c)
	r.applyFit(c, fit)
	return c
}

// measures takes the table of the car itself.
func (r *reader) measures(root *table, c *model.Car) {
	t := r.must(root, "car")
	if t == nil {
		return
	}
	c.Wheelbase = t.number("wheelbase", t.lengths(), positive)
	if c.Wheelbase < 500 || c.Wheelbase > 10_000 {
		u := c.System()
		t.fault("wheelbase", "wheelbase is %s",
			fmt.Sprintf("it must be %s to %s; [units] length says what the numbers are in", u.Length(500), u.Length(10_000)), u.Length(c.Wheelbase))
	}
	c.FrontMass = t.number("front_axle_mass", t.masses(), positive)
	c.RearMass = t.number("rear_axle_mass", t.masses(), positive)
	for _, side := range []struct {
		key  string
		area *float64
	}{{"front_downforce_area", &c.FrontDownforceArea}, {"rear_downforce_area", &c.RearDownforceArea}} {
		if *side.area = t.optional(side.key, unit{"m²", 1}, between(-5, 5), 0); !t.has(side.key) {
			c.Assumed = append(c.Assumed, model.Assumption{What: side.key, Value: "0 m²", On: model.OnShare,
				Note: "the car's own lift at that axle is left out of axle loads and front share"})
		}
	}
	c.DragArea = t.maybe("drag_area", unit{"m²", 1}, positive)
	c.RoofHeight = t.number("roof_height", t.lengths(), positive)
	c.RakeChange = t.optional("rake_change", degrees, between(-10, 10), 0)
	c.Power = t.maybe("power", unit{"kW", 1000}, positive)
	c.FrontRate = t.maybe("front_rate", unit{"N/mm", 1}, positive)
	c.RearRate = t.maybe("rear_rate", unit{"N/mm", 1}, positive)
	for _, pair := range [2][2]string{{"front_rate", "rear_rate"}, {"rear_rate", "front_rate"}} {
		if t.has(pair[0]) && !t.has(pair[1]) {
			t.missing(pair[1], "give both rates or neither, in N/mm of both wheels of the axle together")
		}
	}
	t.close()
}

// claim takes the maker's figure.
func (r *reader) claim(root *table, c *model.Car) {
	if t := root.child("claim", "claim"); t != nil {
		c.Claim.Downforce = given.Is(t.number("downforce", unit{"N", 1}, positive))
		c.Claim.Speed = t.maybe("speed", t.speeds(), positive)
		t.close()
	}
}

// limits takes what the car's builder must keep to.
func (r *reader) limits(root *table, c *model.Car) {
	t := root.child("limits", "limits")
	if t == nil {
		return
	}
	c.Limits.Top = t.maybe("top", t.lengths(), positive)
	c.Limits.Rear = t.maybe("rear", t.lengths(), anything)
	c.Limits.StallMargin = t.maybe("stall_margin", degrees, between(-30, 30))
	c.Limits.Gap = t.maybe("gap", t.lengths(), notNegative)
	c.Limits.Overhang = t.maybe("overhang", t.lengths(), anything)
	c.Limits.Width = t.maybe("width", t.lengths(), positive)
	c.Limits.LidOpening = t.maybe("lid_opening", degrees, rule{func(x float64) bool { return x > 0 && x <= 180 }, "more than 0, up to 180", above(0).to(180)})
	if t.has("lid_opening") && c.Lid.Outline == nil {
		t.fault("lid_opening", "lid_opening without a lid", "add [lid], or remove lid_opening")
	}
	if o := math.Abs(c.Lid.Open); c.Limits.LidOpening.Or(0) > o+1e-9 && c.Lid.Outline != nil {
		t.fault("lid_opening", "lid_opening is %g°, and the lid opens by %g°", "give no more than [lid] open",
			c.Limits.LidOpening.Value()/plane.Deg, o/plane.Deg)
	}
	if t.has("gap") && c.Body == nil && c.Lid.Outline == nil {
		t.fault("gap", "gap without anything to keep clear of", "add [body] or [lid], or remove gap")
	}
	if t.has("overhang") && c.Body == nil {
		t.fault("overhang", "overhang without a body to measure from", "add [body] outline, or remove overhang")
	}
	t.close()
}

// must takes a table that the file cannot do without.
func (r *reader) must(root *table, key string) *table {
	t := root.child(key, key)
	root.note(Key{Must: true}, key)
	if t == nil && !root.has(key) {
		root.noteMissing(key)
		r.faults = append(r.faults, Fault{r.file, 1, 1, fmt.Sprintf("table [%s] is missing", key), fmt.Sprintf("add one table [%s]", key), MissingKey})
	}
	return t
}

// defaultStep is the largest distance between positions of a bolt in a slot when
// the file gives none, mm.
const defaultStep = 2.0

// hole takes one hole of a part, or one slot: a hole with an end or an arc.
func (r *reader) hole(t *table, part string, n int) (h holes.Hole, slot *holes.Slot, built *model.AsBuilt) {
	t.name = fmt.Sprintf("hole %d of part %q", n+1, part)
	h = holes.Hole{ID: t.text("id", true, "the hole's mark, as text")}
	if h.ID != "" {
		t.name = fmt.Sprintf("hole %q of part %q", h.ID, part)
	}
	if strings.Contains(h.ID, "@") {
		t.fault("id", "id holds an @, which marks places in slots", "use other characters")
	}
	h.X = t.number("x", t.lengths(), anything)
	h.Z = t.number("z", t.lengths(), anything)
	h.D = t.number("d", t.lengths(), positive)
	h.Joint = t.text("joint", false, "the name of a joint")
	s := holes.Slot{Hole: h, Step: t.optional("step", t.lengths(),
		rule{func(x float64) bool { return x*r.units.length >= 0.1 }, units.SystemOf(r.units.lengthName, "", "").Fine(0.1) + " or more", above(0)},
		defaultStep)}
	to, arc := t.child("to", t.name+": to"), t.child("arc", t.name+": arc")
	if to != nil {
		s.To = plane.Point{X: to.number("x", to.lengths(), anything), Z: to.number("z", to.lengths(), anything)}
		to.close()
		slot = &s
	}
	if arc != nil {
		s.Centre = plane.Point{X: arc.number("x", arc.lengths(), anything), Z: arc.number("z", arc.lengths(), anything)}
		s.Turn = arc.number("turn", degrees, rule{func(x float64) bool { return x != 0 && math.Abs(x) <= 360 }, "-360 to 360, not 0", from(-360).to(360)})
		arc.close()
		slot = &s
	}
	switch {
	case to != nil && arc != nil:
		t.fault("arc", "both to and arc are given", "give one of them")
		slot = nil
	case t.has("step") && !t.has("to") && !t.has("arc"):
		t.fault("step", "step without to or arc", "step is for slots: add to or arc, or remove step")
	}
	if slot != nil && slot.Length() < 0.1 {
		u := units.SystemOf(r.units.lengthName, "", "")
		t.fault("id", "the slot is %s long", "make it at least "+u.Fine(0.1)+" long", u.Fine(slot.Length()))
		slot = nil
	}
	if built = r.built(t, h.At()); built != nil {
		if slot != nil {
			t.fault("id", "left and right are given for a slot", "measure its ends and give those: left and right are for round holes")
			built = nil
		} else {
			h.X, h.Z = built.Mean().X, built.Mean().Z
		}
	}
	t.close()
	return h, slot, built
}

// built takes where a hole was measured on either side; nil where it was not.
func (r *reader) built(t *table, drawn plane.Point) *model.AsBuilt {
	b := model.AsBuilt{Drawn: drawn, Left: drawn, Right: drawn}
	for _, side := range []struct {
		key      string
		at       *plane.Point
		measured *bool
	}{{"left", &b.Left, &b.LeftMeasured}, {"right", &b.Right, &b.RightMeasured}} {
		m := t.child(side.key, t.name+": "+side.key)
		if m == nil {
			continue
		}
		*side.at = plane.Point{X: m.number("x", m.lengths(), anything), Z: m.number("z", m.lengths(), anything)}
		*side.measured = true
		if off := side.at.Distance(drawn); off > farBuilt {
			m.fault("x", "the hole was measured %s from where it is drawn", "measure from the part's own origin, or correct the drawn place",
				units.SystemOf(r.units.lengthName, "", "").Dimension(off))
		}
		m.close()
	}
	if !b.LeftMeasured && !b.RightMeasured {
		return nil
	}
	return &b
}

// farBuilt is how far a hole as built is at most from where it is drawn, mm: beyond, it is another hole or another origin.
const farBuilt = 10.0
