package guide

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/carfile"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Assumed lists what the file will hold that nobody said: what was left open.
func Assumed(a Answers, u units.System) (all []string) {
	for _, q := range Questions(a, u) {
		if q.open != nil && leftOpen(a[q.Key]) {
			all = append(all, q.Name+": "+q.Assumes(u))
		}
	}
	return all
}

// Unplated reports whether the file will have no plates yet, so that it has no settings.
func Unplated(a Answers) bool { return a.is("road", Make) }

// File writes the car file of a guided start, in the units that it asked in. The error says which
// answer cannot be used.
func File(a Answers, u units.System) ([]byte, error) {
	if at, err := Faulty(a, u); err != nil {
		return nil, fmt.Errorf("%s %w", Questions(a, u)[at].Ask, err)
	}
	text := []byte(a.file(u))
	if _, err := carfile.Parse("the new file", text, nil); err != nil {
		return nil, err
	}
	return text, nil
}

// Faulty returns the first question whose answer cannot be used, and why; nil where all can be.
func Faulty(a Answers, u units.System) (at int, err error) {
	for i, q := range Questions(a, u) {
		if err := q.Check(a[q.Key], a, u); err != nil {
			return i, err
		}
	}
	return 0, nil
}

// tomlInner is a text as it stands between the quotes of TOML.
func tomlInner(text string) string { q := toml.Quote(text); return q[1 : len(q)-1] }

// text returns an answer, or what is assumed in its place.
func (a Answers) text(key string, u units.System) string {
	if q, ok := find(key, a, u); ok && q.open != nil {
		return a.orOpen(q, u)
	}
	return a[key]
}

// number reads an answer, or what is assumed in its place, in mm, kg, km/h or °; NaN for neither.
func (a Answers) number(key string, u units.System) float64 {
	q, ok := find(key, a, u)
	if !ok {
		return math.NaN()
	}
	if x, number := q.open.(float64); number && leftOpen(a[key]) {
		return x
	}
	x, err := q.read(a[key], u)
	if err != nil {
		return math.NaN()
	}
	return x
}

// wingHoles are the wing's holes, each with its place in the list as its group.
func (a Answers) wingHoles(u units.System) (all []spot) {
	d := a.diameter(-1, u)
	for _, h := range [2][3]string{{"F", "wing_front", "wing_front_up"}, {"R", "wing_rear", "wing_rear_up"}} {
		if _, err := units.Lengths.Parse(a[h[1]], u.LengthUnit()); err == nil {
			all = append(all, spot{Hole: holes.Hole{ID: h[0], X: a.length(h[1], 0, u), Z: a.length(h[2], 0, u), D: d}, group: len(all)})
		}
	}
	more, _ := readPlaces(a["wing_more"], d, u)
	for _, h := range more {
		all = append(all, spot{Hole: holes.Hole{ID: h.id, X: h.at.X, Z: h.at.Z, D: h.d}, group: len(all)})
	}
	return all
}

// writer puts a car file together.
type writer struct {
	strings.Builder
	a      Answers
	u      units.System
	digits int
}

func (w *writer) put(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

// length spells mm in the file's unit.
func (w *writer) length(mm float64) string { return toml.Decimal(mm/w.u.LengthSize(), w.digits) }

// like spells mm in an example, roughly.
func (w *writer) like(mm float64) string {
	return toml.Decimal(mm/w.u.LengthSize(), max(w.digits-2, 0))
}

// n spells an answer's number in the file's unit.
func (w *writer) n(key string) string {
	q, _ := find(key, w.a, w.u)
	return toml.Decimal(w.a.number(key, w.u)/q.size(w.u), w.digits)
}

// has reports whether an optional answer was given.
func (w *writer) has(key string) bool { return strings.TrimSpace(w.a[key]) != "" }

// file is the text of the car file.
func (a Answers) file(u units.System) string {
	w := &writer{a: a, u: u, digits: 2}
	if u.Inches() {
		w.digits = 4
	}
	w.head()
	w.car()
	if Unplated(a) {
		w.wants()
	}
	for i, name := range a.parts() {
		w.part(i, name)
	}
	if Unplated(a) && len(a.parts()) > 0 {
		w.put("\n[[part]]\nname  = \"upright\"\n# thickness = %s\n# material  = \"EN AW-6082-T6\"\nholes = []", toml.Decimal(8/u.LengthSize(), w.digits))
	}
	w.wingPart()
	w.joints()
	w.wing()
	return w.String()
}

func (w *writer) head() {
	unit := "mm"
	if w.u.Inches() {
		unit = "inches"
	}
	w.put("# A car file for stanchion, made by its guided start. Lengths are in %s from the", unit)
	w.put("# ground point below the rear axle, x to the rear and z up. What was not answered is not in it,")
	w.put("# or stands as a comment: \"stanchion new FILE\" writes a file that has all there is.")
	w.put("format = 1")
	w.put("name   = %s", toml.Quote(w.a["name"]))
	if assumed := Assumed(w.a, w.u); len(assumed) > 0 {
		w.put("\n# Left open, and assumed. Measure it, change it below, and take its line out here.\nassumed = [")
		for _, l := range assumed {
			w.put("  %s,", toml.Quote(l))
		}
		w.put("]")
	}
	if w.u != units.Metric {
		w.put("\n[units]\nlength = %q\nmass   = %q\nspeed  = %q", w.u.LengthUnit(), w.u.MassUnit(), w.u.SpeedUnit())
	}
}

func (w *writer) car() {
	w.put("\n[car]\nwheelbase       = %s\nfront_axle_mass = %s   # with driver, fuel and wing\nrear_axle_mass  = %s\nroof_height     = %s",
		w.n("wheelbase"), w.n("front_mass"), w.n("rear_mass"), w.n("roof"))
	w.put("# front_downforce_area = -0.05   # m², the car's own lift at each axle, if you know it")
	w.put("# rear_downforce_area  = -0.10")
	w.put("\n[speed]\nchosen = %s", w.n("speed"))
	if w.has("design") {
		w.put("design = %s                     # the fastest with the wing on: strength is checked at it", w.n("design"))
	} else {
		w.put("# design = 220                 # the fastest with the wing on: strength is then checked at it")
	}
	unsure := 0.0
	for i := range w.a.parts() {
		for _, h := range w.a.holesOf(i, w.u) {
			unsure = max(unsure, h.stdUnc)
		}
	}
	if unsure > 0 {
		w.put("\n[uncertainty]\nhole_position = %s   # of the holes placed by their distances, one standard uncertainty",
			toml.Decimal(unsure/w.u.LengthSize(), w.digits))
	}
}

// wants writes what plates are to be made for.
func (w *writer) wants() {
	what := "The upright is still to be made: it has"
	if w.a.is("bracket", "no") {
		what = "Bracket and upright are still to be made: they have"
	}
	w.put("\n# %s no holes yet, so that there are no settings. To find them:\n#   %s", what, DesignCommand(w.a, "THISFILE", w.u))
	if angles, err := readAngles(w.a["want_angles"]); err == nil {
		w.put("# wanted: %s: %s°", units.Count(len(angles), "angle"), strings.Join(degreeWords(angles), ", "))
	}
	if w.has("want_heights") {
		w.put("# wanted: heights %s, in %s, of a quarter of the chord above ground", w.a["want_heights"], w.u.LengthUnit())
	}
}

// part writes a part and its holes.
func (w *writer) part(i int, name string) {
	w.put("\n[[part]]\nname  = %s", toml.Quote(name))
	if i == 0 {
		w.put("fixed = { x = %s, z = %s, angle = %s }", w.n("fixed_x"), w.n("fixed_z"), w.n("fixed_angle"))
	}
	w.put("# thickness = %s                  # with material and outline its strength is checked\n# material  = \"EN AW-6082-T6\"\nholes = [",
		toml.Decimal(8/w.u.LengthSize(), w.digits))
	for _, h := range w.a.holesOf(i, w.u) {
		w.hole(h)
	}
	w.put("]")
}

// hole writes one hole or slot.
func (w *writer) hole(h spot) {
	line := fmt.Sprintf("  { id = %s, x = %s, z = %s, d = %s", toml.Quote(h.ID), w.length(h.X), w.length(h.Z), w.length(h.D))
	switch {
	case h.slot == nil:
	case h.slot.Turn != 0:
		line += fmt.Sprintf(", arc = { x = %s, z = %s, turn = %s }", w.length(h.slot.Centre.X), w.length(h.slot.Centre.Z), toml.Decimal(h.slot.Turn/plane.Deg, 3))
	default:
		line += fmt.Sprintf(", to = { x = %s, z = %s }", w.length(h.slot.To.X), w.length(h.slot.To.Z))
	}
	if h.Joint != "" {
		line += ", joint = " + toml.Quote(h.Joint)
	}
	w.put("%s },", line)
}

func (w *writer) wingPart() {
	w.put("\n[[part]]\nname  = \"wing\"               # from the leading edge, along the chord and above it\nholes = [")
	for _, h := range w.a.wingHoles(w.u) {
		w.hole(h)
	}
	w.put("]")
}

func (w *writer) joints() {
	parts, names := w.a.parts(), w.a.joints()
	if Unplated(w.a) && len(parts) > 0 {
		parts, names = []string{"bracket", "upright"}, joints(2)
	}
	parts = append(parts, "wing")
	for i, j := range names {
		bolt, _ := readBolt(w.a.text("bolt."+j, w.u))
		w.put("\n[[joint]]\nname  = %s\nlower = %s\nupper = %s\nbolt  = %s", toml.Quote(j), toml.Quote(parts[i]), toml.Quote(parts[i+1]), toml.Quote(bolt.Name))
		if w.has("count." + j) {
			w.put("min_bolts = %s", w.n("count."+j))
		}
		w.put("# grade = \"8.8\"")
	}
}

func (w *writer) wing() {
	w.put("\n[wing]\nspan    = %s\nchord   = %s\nsection = %s", w.n("span"), w.n("chord"), toml.Quote(w.a.text("section", w.u)))
	if w.has("plate_length") {
		w.put("end_plate = { length = %s, height = %s }", w.n("plate_length"), w.n("plate_height"))
	} else {
		w.put("# end_plate = { length = %s, height = %s }", w.like(300), w.like(200))
	}
	if w.has("wing_mass") {
		w.put("mass = %s", w.n("wing_mass"))
	} else {
		w.put("# mass = %s", toml.Decimal(5/units.Masses[w.u.MassUnit()], 0))
	}
	w.put("\n# [[flow]]                       # wool tufts and a phone beside the wing\n# above_roof  = 0\n# flow_angle  = 3                # °, coming down onto the wing\n# speed_ratio = 0.95")
	if w.has("limit_top") || w.has("limit_rear") {
		w.put("\n[limits]")
		for _, k := range []string{"top", "rear"} {
			if w.has("limit_" + k) {
				w.put("%s = %s", k, w.n("limit_"+k))
			}
		}
		return
	}
	w.put("\n# [limits]                       # copied from your rules; they differ by event and country\n# top  = %s\n# rear = %s",
		w.like(1450), w.like(800))
}
