package guide

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/carfile"
	"stanchion/model/fastener"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// drillClearance is by how much holes are taken to be wider than their bolts, mm.
// Common practice, no source: ISO 273 fine has 8.4 mm for M8.
const drillClearance = 0.4

// drilled is the diameter of the holes for the bolts, mm.
func (a Answers) drilled(u units.System) float64 {
	s, _ := fastener.Lookup(a.text("bolt", u))
	return s.D + drillClearance
}

// head returns the holes of the upright's head, in its own frame, mm: one front hole as
// the pivot, and for each angle a rear hole on the arc about it.
func (a Answers) head(u units.System) ([]holes.Hole, error) {
	text := strings.ReplaceAll(a.text("angles", u), ", ", " ")
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '°' })
	if strings.Contains(text, ",") {
		return nil, fmt.Errorf("%q; put spaces between the angles, and use decimal points", text)
	}
	if len(words) == 0 || len(words) > 20 {
		return nil, fmt.Errorf("%q; give one to twenty angles in degrees, such as 0 5 10", text)
	}
	pivot := plane.Point{X: a.number("pivot_x", u), Z: a.number("pivot", u)}
	arm, d, lean := a.number("wing_rear", u)-a.number("wing_front", u), a.drilled(u), a.number("foot_angle", u)
	all := []holes.Hole{{ID: "A", X: pivot.X, Z: pivot.Z, D: d, Joint: "head"}}
	for _, w := range words {
		x, err := strconv.ParseFloat(w, 64)
		if err != nil || !(x >= -20 && x <= 30) {
			return nil, fmt.Errorf("%q; give angles from -20 to 30 degrees", w)
		}
		sin, cos := math.Sincos((x - lean) * plane.Deg)
		h := holes.Hole{ID: "A" + strings.NewReplacer("-", "m", ".", "_", "+", "").Replace(w), X: pivot.X + arm*cos, Z: pivot.Z + arm*sin,
			D: d, Joint: "head"}
		for _, o := range all {
			if o.At().Distance(h.At()) < d {
				return nil, fmt.Errorf("%s degrees; its hole would overlap hole %s: leave out one of them, or say with a [[part]] slot what is there", w, o.ID)
			}
		}
		all = append(all, h)
	}
	return all, nil
}

// assumed lists what the file will hold that nobody said.
func (a Answers) assumed(u units.System) []string {
	var all []string
	for _, q := range Questions() {
		if strings.TrimSpace(a[q.Key]) == "" && q.Key != "name" {
			all = append(all, q.Name+": "+q.Echo(q.Usual(u), u))
		}
	}
	return append(all,
		"holes: "+u.Dimension(drillClearance)+" over the bolts",
		"wing's bolts: on the chord line",
		"upright's foot: two rows as the bracket's",
		"upright's rows: along the bracket's")
}

// Assumes lists what a guided start takes without being told.
func Assumes(a Answers, u units.System) []string { return a.assumed(u) }

// File writes the car file of a guided start, in the units that it asked in. The
// error says which answer cannot be used.
func File(a Answers, u units.System) ([]byte, error) {
	for _, q := range Questions() {
		if err := q.Check(a[q.Key], a, u); err != nil {
			return nil, fmt.Errorf("%s %w", q.Ask, err)
		}
	}
	text := []byte(a.file(u))
	if _, err := carfile.Parse("the new file", text, nil); err != nil {
		return nil, err
	}
	return text, nil
}

// file is the text of the car file.
func (a Answers) file(u units.System) string {
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	digits := 2
	if u.Inches() {
		digits = 4
	}
	length := func(mm float64) string { return toml.Decimal(mm/u.LengthSize(), digits) }
	n := func(key string) string {
		q := question(key)
		return toml.Decimal(a.number(key, u)/q.size(u), digits)
	}
	like := func(mm float64) string { return toml.Decimal(mm/u.LengthSize(), digits-2) } // in an example
	put("# A car file for stanchion, made by its guided start. Lengths are in %s from the",
		map[bool]string{true: "inches", false: "mm"}[u.Inches()])
	put("# ground point below the rear axle, x to the rear and z up. What is not known yet")
	put("# stands as a comment: \"stanchion new FILE\" writes a file that has all there is.")
	put("format = 1")
	put("name   = %s", toml.Quote(a.text("name", u)))
	put("\n# Assumed. Measure it, change it below, and take its line out here.\nassumed = [")
	for _, l := range a.assumed(u) {
		put("  %s,", toml.Quote(l))
	}
	put("]")
	if u != units.Metric {
		put("\n[units]\nlength = %q\nmass   = %q\nspeed  = %q", u.LengthUnit(), u.MassUnit(), u.SpeedUnit())
	}
	put("\n[car]\nwheelbase       = %s\nfront_axle_mass = %s   # with driver, fuel and wing\nrear_axle_mass  = %s\nroof_height     = %s",
		n("wheelbase"), n("front_mass"), n("rear_mass"), n("roof"))
	put("# front_downforce_area = -0.05   # m², the car's own lift at each axle, if you know it")
	put("# rear_downforce_area  = -0.10")
	put("\n[speed]\nchosen = %s\ndesign = %s                     # the fastest with the wing on: strength is checked at it", n("speed"),
		n("design"))
	d := length(a.drilled(u))
	put("\n[[part]]\nname  = \"bracket\"\nfixed = { x = %s, z = %s, angle = %s }", n("foot_x"), n("foot_z"), n("foot_angle"))
	put("holes = [")
	rows, step, column := int(a.number("rows", u)), a.number("row_step", u), n("column")
	for r := range rows {
		z := length(float64(r) * step)
		put("  { id = \"%d\", x = 0, z = %s, d = %s },  { id = \"%d\", x = %s, z = %s, d = %s },", 2*r+1, z, d, 2*r+2, column, z, d)
	}
	put("]")
	put("\n[[part]]\nname = \"upright\"\n# thickness = %s                  # with material and outline its strength is checked\n# material  = \"EN AW-6082-T6\"\nholes = [", toml.Decimal(8/u.LengthSize(), digits))
	for r := range 2 {
		z := length(float64(r) * step)
		put("  { id = \"k%d\", x = 0, z = %s, d = %s, joint = \"foot\" },  { id = \"k%d\", x = %s, z = %s, d = %s, joint = \"foot\" },",
			2*r+1, z, d, 2*r+2, column, z, d)
	}
	put("  # the front bolt's hole, and the rear bolt's holes for the angles in their names")
	head, _ := a.head(u)
	for _, h := range head {
		put("  { id = \"%s\", x = %s, z = %s, d = %s, joint = \"head\" },", h.ID, length(h.X), length(h.Z), d)
	}
	put("]")
	put("\n[[part]]\nname  = \"wing\"\nholes = [ { id = \"F\", x = %s, z = 0, d = %s }, { id = \"R\", x = %s, z = 0, d = %s } ]",
		n("wing_front"), d, n("wing_rear"), d)
	bolt, _ := fastener.Lookup(a.text("bolt", u))
	put("\n[[joint]]\nname  = \"foot\"\nlower = \"bracket\"\nupper = \"upright\"\nbolt  = %q\nmin_bolts = 4\n# grade = \"8.8\"", bolt.Name)
	put("\n[[joint]]\nname  = \"head\"\nlower = \"upright\"\nupper = \"wing\"\nbolt  = %q\n# grade = \"8.8\"", bolt.Name)
	put("\n[wing]\nspan    = %s\nchord   = %s\nsection = %s", n("span"), n("chord"), toml.Quote(a.text("section", u)))
	put("# end_plate = { length = %s, height = %s }\n# mass = %s", like(300), like(200), toml.Decimal(5/units.Masses[u.MassUnit()], 0))
	put("\n# [[flow]]                       # wool tufts and a phone beside the wing\n# above_roof  = 0\n# flow_angle  = 3                # °, coming down onto the wing\n# speed_ratio = 0.95")
	put("\n# [limits]                       # copied from your rules; they differ by event and country\n# top  = %s\n# rear = %s",
		like(1450), like(800))
	return b.String()
}
