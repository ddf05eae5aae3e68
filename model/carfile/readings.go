package carfile

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// wellRead is what the standard uncertainty of an angle may be, in degrees.
var wellRead = rule{func(x float64) bool { return x > 0 && x < 10 }, "more than 0, less than 10", above(0).to(10)}

// readings takes what was measured on the car with the wing on, the faces that a level was laid on
// and the floors that the car stood on.
func (r *reader) readings(root *table, c *model.Car) {
	for i, t := range root.children("face") {
		t.name = fmt.Sprintf("face %d", i+1)
		f := model.Face{
			Name: t.text("name", true, "a name for the face"), Angle: t.number("angle", degrees, between(-90, 90)),
			StdUnc: t.maybe("reading", degrees, wellRead),
		}
		if _, twice := c.Face(f.Name); twice && f.Name != "" {
			t.fault("name", "the name %q is used by another face already", "use each name once", f.Name)
		}
		t.close()
		c.Faces = append(c.Faces, f)
	}
	for i, t := range root.children("floor") {
		t.name = fmt.Sprintf("floor %d", i+1)
		f := model.Floor{
			Name: t.text("name", true, "a name for this reading of the floor"), Angle: t.number("angle", degrees, between(-45, 45)),
			Turned: t.maybe("turned", degrees, between(-45, 45)), ReadingStdUnc: t.maybe("reading", degrees, wellRead),
		}
		if _, twice := c.Floor(f.Name); twice && f.Name != "" {
			t.fault("name", "the name %q is used by another floor already", "use each name once", f.Name)
		}
		t.turned(f.Angle, f.Turned)
		t.close()
		c.Floors = append(c.Floors, f)
	}
	for i, t := range root.children("measured") {
		t.name = fmt.Sprintf("measured %d", i+1)
		m := model.Reading{
			Setting:       t.text("setting", true, "a setting's id"),
			Angle:         t.maybe("angle", degrees, between(-90, 90)),
			Turned:        t.maybe("turned", degrees, between(-90, 90)),
			Height:        t.maybe("height", t.lengths(), positive),
			Leading:       t.maybe("leading", t.lengths(), positive),
			Trailing:      t.maybe("trailing", t.lengths(), positive),
			ReadingStdUnc: t.maybe("reading", degrees, wellRead),
			TapeStdUnc:    t.maybe("tape", t.lengths(), t.within(0.1, 50)),
			Side:          t.side(),
			Face:          t.text("face", false, "the name of a [[face]]"),
			Floor:         t.text("floor", false, "the name of a [[floor]]"),
			Rebolted:      t.flag("rebolted", false),
			Line:          r.pos.Value[t.path].Line,
		}
		t.reading(c, m)
		t.close()
		c.Readings = append(c.Readings, m)
	}
}

// side takes the side of the car that was measured.
func (t *table) side() string {
	side := t.text("side", false, `"left" or "right"`)
	t.noteTexts("side", "left", "right")
	return side
}

// reading looks at whether the keys of a reading go together.
func (t *table) reading(c *model.Car, m model.Reading) {
	if !t.has("angle") && !t.has("height") && !t.has("leading") && !t.has("trailing") {
		t.missing("angle", "give an angle in °, a height, or both")
	}
	if m.Side != "" && m.Side != "left" && m.Side != "right" {
		t.fault("side", "side is %q", `it must be "left" or "right"`, m.Side)
	}
	if !t.has("angle") {
		for _, key := range []string{"turned", "face", "floor"} {
			if t.has(key) {
				t.fault(key, "%s without an angle", "give angle as well, or remove it: a tape needs neither face nor floor", key)
			}
		}
	}
	t.turned(m.Angle.Value(), m.Turned)
	var faces, floors []string
	for _, f := range c.Faces {
		faces = append(faces, f.Name)
	}
	for _, f := range c.Floors {
		floors = append(floors, f.Name)
	}
	if _, ok := c.Face(m.Face); !ok && m.Face != "" && t.has("angle") {
		t.fault("face", "there is no face %q", named("[[face]]", faces), m.Face)
	}
	if _, ok := c.Floor(m.Floor); !ok && m.Floor != "" && t.has("angle") {
		t.fault("floor", "there is no floor %q", named("[[floor]]", floors), m.Floor)
	}
	lead, trail := m.Leading.Value(), m.Trailing.Value()
	if chord := c.Wing.Chord; chord > 0 && math.Abs(trail-lead) >= chord {
		u := c.System()
		t.fault("trailing", "leading and trailing edge are %s apart in height, and the chord is %s",
			"give both as heights above the ground", u.Length(math.Abs(trail-lead)), u.Length(chord))
	}
}

// named says which names there are.
func named(table string, names []string) string {
	if len(names) == 0 {
		return "add a table " + table + " with that name"
	}
	return "use one of " + quoted(names)
}

// turned looks at whether two readings can be of one level turned end for end.
func (t *table) turned(first float64, turned given.Number) {
	if back, ok := turned.Get(); ok && math.Abs(first-back) > 2*model.MaxLevelZero {
		t.fault("turned", "turned is %.4g°, and angle %.4g°", fmt.Sprintf("they may differ by %.0f° at most: give both with the sign of the slope, up at the rear positive",
			2*model.MaxLevelZero/plane.Deg), back/plane.Deg, first/plane.Deg)
	}
}
