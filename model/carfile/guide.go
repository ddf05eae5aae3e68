package carfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Question is one thing that a guided start asks, in the order in which it is
// measured at the car.
type Question struct {
	Key     string // of its answer
	Ask     string
	How     string // how to measure it
	Picture string // the picture that shows it
	Letter  string // its letter there; "" for none
	Usual   string // taken when nothing is typed
	read    func(text string) (float64, error)
}

// Answers are what was typed, by the questions' keys.
type Answers map[string]string

// lengthOf reads a length within bounds, mm.
func lengthOf(lo, hi float64) func(string) (float64, error) {
	return quantity(units.Lengths, "mm", lo, hi)
}

func quantity(u units.Unit, bare string, lo, hi float64) func(string) (float64, error) {
	return func(text string) (float64, error) {
		x, err := u.Parse(text, bare)
		if err == nil && !(x >= lo && x <= hi) {
			err = fmt.Errorf("%s; it must be %g to %g %s", text, lo, hi, bare)
		}
		return x, err
	}
}

func count(lo, hi float64) func(string) (float64, error) {
	return func(text string) (float64, error) {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || float64(n) < lo || float64(n) > hi {
			return 0, fmt.Errorf("%s; it must be a whole number from %g to %g", text, lo, hi)
		}
		return float64(n), nil
	}
}

// Questions lists what a guided start asks. Lengths may be typed with a unit; a bare
// number is in mm.
func Questions() []Question {
	kph := quantity(units.Unit{"km/h": 1, "mph": units.MPH / units.KPH}, "km/h", 20, 400)
	mass := quantity(units.Unit{"kg": 1, "lb": units.Pound}, "kg", 50, 3000)
	return []Question{
		{"name", "What is the car called?", "Any name that tells it from your others.", "car", "", "My car", nil},
		{"wheelbase", "Wheelbase?", "From the middle of the front hub to the middle of the rear hub, wheels straight.", "car", "A", "2500", lengthOf(1500, 4000)},
		{"front_mass", "Mass on the front axle?", "Both front wheels on the scales together, with driver, fuel and wing.", "car", "B", "600", mass},
		{"rear_mass", "Mass on the rear axle?", "Both rear wheels on the scales together, with driver, fuel and wing.", "car", "C", "550", mass},
		{"roof", "Height of the roof?", "A straight-edge over the highest point of the roof, held level, and a tape down to the ground.", "car", "D", "1300", lengthOf(500, 2500)},
		{"foot_x", "How far behind the rear axle is the bracket's lowest front hole?", "A plumb line through the hole's middle and one through the rear hub: the distance on the ground.", "bracket", "E", "350", lengthOf(-1000, 2000)},
		{"foot_z", "How high above ground is that hole?", "A tape from its middle to the ground, car on level ground.", "bracket", "F", "800", lengthOf(100, 2000)},
		{"rows", "How many rows of holes has the bracket, one above the other?", "Each row has a front and a rear hole.", "bracket", "", "4", count(2, 20)},
		{"row_step", "How far apart are the rows?", "Middle to middle; measure over all rows and divide.", "bracket", "G", "40", lengthOf(12, 200)},
		{"column", "How far apart are the front and the rear hole of a row?", "Middle to middle.", "bracket", "H", "60", lengthOf(15, 500)},
		{"bolt", "Which bolts?", "M5, M6, M8, M10 or M12; holes are taken as 0.4 mm wider.", "bracket", "", "M8", nil},
		{"pivot", "On the upright, how far above its lowest hole is the one for the wing's front bolt?", "Middle to middle, along the upright.", "upright", "I", "430", lengthOf(50, 1500)},
		{"wing_front", "How far behind the leading edge is the wing's front bolt?", "Along the chord, from the foremost point of the wing.", "upright", "J", "60", lengthOf(0, 1000)},
		{"wing_rear", "How far behind the leading edge is its rear bolt?", "Along the chord.", "upright", "K", "170", lengthOf(10, 1500)},
		{"angles", "Which angles can the wing have, or should it?", "In degrees, trailing edge up, with spaces between: a hole for the rear bolt is put where each is.", "upright", "L", "0 5 10", nil},
		{"span", "Span of the wing?", "From tip to tip, without the end plates.", "wing", "M", "1400", lengthOf(300, 2500)},
		{"chord", "Chord of the wing?", "From the foremost point to the trailing edge, straight.", "wing", "N", "250", lengthOf(60, 800)},
		{"section", "Which section has it?", "A NACA number such as naca 4412 where the maker gives none: close enough to start from.", "wing", "", "naca 4412", nil},
		{"speed", "At which speed should figures be quoted, km/h?", "One at which you feel the wing.", "car", "", "160", kph},
		{"design", "What is the fastest that the car will go with the wing on, km/h?", "Strength is checked at this speed: rather too high than too low.", "car", "", "220", kph},
	}
}

// Check reads one answer; the error says what is allowed. given are the answers
// before it.
func (q Question) Check(text string, given Answers) error {
	if strings.TrimSpace(text) == "" {
		text = q.Usual
	}
	if len(text) > 120 || strings.IndexFunc(text, units.Hidden) >= 0 {
		return fmt.Errorf("use printable characters, at most 120")
	}
	if q.read != nil {
		_, err := q.read(text)
		if err != nil {
			return err
		}
	}
	switch q.Key {
	case "bolt":
		if boltSizes[strings.ToUpper(strings.TrimSpace(text))] < 5 || boltSizes[strings.ToUpper(strings.TrimSpace(text))] > 12 {
			return fmt.Errorf("%s; use M5, M6, M8, M10 or M12", text)
		}
	case "wing_rear":
		if given.number("wing_rear", text) < given.number("wing_front", "")+20 {
			return fmt.Errorf("%s; it must be at least 20 mm behind the front bolt", text)
		}
	case "angles":
		if len(strings.Fields(text)) == 0 {
			text = q.Usual
		}
		_, err := given.head(text)
		return err
	case "section":
		if _, err := Parse("section", []byte(given.With("section", text).file()), nil); err != nil {
			return fmt.Errorf("%s; use naca with four or five digits", text)
		}
	}
	return nil
}

// With returns the answers with one more.
func (a Answers) With(key, text string) Answers {
	b := Answers{}
	for k, v := range a {
		b[k] = v
	}
	b[key] = text
	return b
}

// text returns an answer, or what is usual.
func (a Answers) text(key string) string {
	if t := strings.TrimSpace(a[key]); t != "" {
		return t
	}
	for _, q := range Questions() {
		if q.Key == key {
			return q.Usual
		}
	}
	return ""
}

// number reads an answer, or text in its place.
func (a Answers) number(key, text string) float64 {
	if strings.TrimSpace(text) == "" {
		text = a.text(key)
	}
	for _, q := range Questions() {
		if q.Key == key && q.read != nil {
			if x, err := q.read(text); err == nil {
				return x
			}
		}
	}
	return math.NaN()
}

// drilled is the diameter of the holes for the bolts, mm.
func (a Answers) drilled() float64 {
	return boltSizes[strings.ToUpper(a.text("bolt"))] + 0.4
}

// head returns the holes of the upright's head that give the angles in text: front
// holes A, B and so on, one above the other, and for each the rear holes that suit
// it. The bracket stands upright, so that the line from the front to the rear bolt
// is at the wing's angle. An angle goes to the lowest front hole about which its rear
// hole keeps 2.2 diameters from all others.
func (a Answers) head(text string) ([]holes.Hole, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '°' })
	if len(words) == 0 || len(words) > 20 {
		return nil, fmt.Errorf("%q; give one to twenty angles in degrees, such as 0 5 10", text)
	}
	pivot, span, d := a.number("pivot", ""), a.number("wing_rear", "")-a.number("wing_front", ""), a.drilled()
	const most = 8 // front holes
	step := math.Ceil(3.4 * d)
	var fronts, rears []holes.Hole
	clear := func(h holes.Hole, of []holes.Hole) bool {
		for _, o := range of {
			if math.Hypot(o.X-h.X, o.Z-h.Z) < 2.2*d {
				return false
			}
		}
		return true
	}
	for _, w := range words {
		x, err := strconv.ParseFloat(w, 64)
		if err != nil || !(x >= -20 && x <= 30) {
			return nil, fmt.Errorf("%q; give angles from -20 to 30 degrees", w)
		}
		sin, cos := math.Sincos(x * model.Deg)
		done := false
		for k := 0; k < most && !done; k++ {
			front := holes.Hole{ID: string(rune('A' + k)), Z: pivot + float64(k)*step, D: d, Joint: "head"}
			rear := holes.Hole{X: span * cos, Z: front.Z + span*sin, D: d, Joint: "head"}
			isNew := k >= len(fronts)
			if !clear(rear, rears) || !clear(rear, fronts) || isNew && !clear(front, rears) {
				continue
			}
			for len(fronts) <= k {
				fronts = append(fronts, holes.Hole{ID: string(rune('A' + len(fronts))), Z: pivot + float64(len(fronts))*step, D: d, Joint: "head"})
			}
			rear.ID = front.ID + strings.NewReplacer("-", "m", ".", "_", "+", "").Replace(w)
			rears, done = append(rears, rear), true
		}
		if !done {
			return nil, fmt.Errorf("no place is left for a hole for %s degrees with 2.2 diameters, %.1f mm, to the others; use fewer angles, or smaller bolts", w, 2.2*d)
		}
	}
	return append(fronts, rears...), nil
}

// GuidedFile writes the car file of a guided start. The error says which answer
// cannot be used.
func GuidedFile(a Answers) ([]byte, error) {
	for _, q := range Questions() {
		if err := q.Check(a[q.Key], a); err != nil {
			return nil, fmt.Errorf("%s %w", q.Ask, err)
		}
	}
	text := []byte(a.file())
	if _, err := Parse("the new file", text, nil); err != nil {
		return nil, err
	}
	return text, nil
}

// file is the text of the car file.
func (a Answers) file() string {
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	n := func(key string) string { return decimal(a.number(key, ""), 2) }
	put("# A car file for stanchion, made by its guided start. Lengths are in mm from the")
	put("# ground point below the rear axle, x to the rear and z up. What is not known yet")
	put("# stands as a comment: \"stanchion new FILE\" writes a file that has all there is.")
	if left := a.notMeasured(); len(left) > 0 {
		put("# NOT MEASURED yet, these stand for what is usual:")
		for _, l := range left {
			put("#   %s", l)
		}
	}
	put("format = 1")
	put("name   = %s", toml.Quote(a.text("name")))
	put("\n[car]\nwheelbase       = %s\nfront_axle_mass = %s   # with driver, fuel and wing\nrear_axle_mass  = %s\nroof_height     = %s", n("wheelbase"), n("front_mass"), n("rear_mass"), n("roof"))
	put("# front_downforce_area = -0.05   # m², the car's own lift at each axle, if you know it")
	put("# rear_downforce_area  = -0.10")
	put("\n[speed]\nchosen = %s\ndesign = %s                     # the fastest with the wing on: strength is checked at it", n("speed"), n("design"))
	d := decimal(a.drilled(), 2)
	put("\n[[part]]\nname  = \"bracket\"\nfixed = { x = %s, z = %s, angle = 0 }   # measure the angle with: stanchion datum", n("foot_x"), n("foot_z"))
	put("holes = [")
	rows, step, column := int(a.number("rows", "")), a.number("row_step", ""), a.number("column", "")
	for r := range rows {
		z := decimal(float64(r)*step, 2)
		put("  { id = \"%d\", x = 0, z = %s, d = %s },  { id = \"%d\", x = %s, z = %s, d = %s },", 2*r+1, z, d, 2*r+2, decimal(column, 2), z, d)
	}
	put("]")
	put("\n[[part]]\nname = \"upright\"\n# thickness = 8                  # with material and outline its strength is checked\n# material  = \"EN AW-6082-T6\"\nholes = [")
	for r := range 2 {
		z := decimal(float64(r)*step, 2)
		put("  { id = \"k%d\", x = 0, z = %s, d = %s, joint = \"foot\" },  { id = \"k%d\", x = %s, z = %s, d = %s, joint = \"foot\" },", 2*r+1, z, d, 2*r+2, decimal(column, 2), z, d)
	}
	put("  # front holes A, B …, and behind each the rear holes for the angles in their names")
	head, _ := a.head(a.text("angles"))
	for _, h := range head {
		put("  { id = \"%s\", x = %s, z = %s, d = %s, joint = \"head\" },", h.ID, decimal(h.X, 2), decimal(h.Z, 2), d)
	}
	put("]")
	put("\n[[part]]\nname  = \"wing\"\nholes = [ { id = \"F\", x = %s, z = 15, d = %s }, { id = \"R\", x = %s, z = 15, d = %s } ]", n("wing_front"), d, n("wing_rear"), d)
	bolt := strings.ToUpper(a.text("bolt"))
	put("\n[[joint]]\nname  = \"foot\"\nlower = \"bracket\"\nupper = \"upright\"\nbolt  = \"%s\"\nmin_bolts = 4\n# grade = \"8.8\"", bolt)
	put("\n[[joint]]\nname  = \"head\"\nlower = \"upright\"\nupper = \"wing\"\nbolt  = \"%s\"\n# grade = \"8.8\"", bolt)
	put("\n[wing]\nspan    = %s\nchord   = %s\nsection = %s", n("span"), n("chord"), toml.Quote(a.text("section")))
	put("# end_plate = { length = 300, height = 200 }\n# mass = 5                       # kg")
	put("\n# [[flow]]                       # wool tufts and a phone beside the wing\n# above_roof  = 0\n# flow_angle  = 3                # °, coming down onto the wing\n# speed_ratio = 0.95")
	put("\n# [limits]                       # copied from your rules; they differ by event and country\n# top  = 1450\n# rear = 800")
	return b.String()
}

// notMeasured lists the questions that nothing was typed for.
func (a Answers) notMeasured() []string {
	var all []string
	for _, q := range Questions() {
		if strings.TrimSpace(a[q.Key]) == "" && q.Key != "name" {
			all = append(all, q.Ask+" "+q.Usual)
		}
	}
	return all
}
