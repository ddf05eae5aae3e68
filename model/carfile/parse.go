package carfile

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/model"
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
		return nil, Faults{{File: name, What: fmt.Sprintf("%d bytes", len(data)), Allowed: "at most 16 MiB"}}
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if !utf8.Valid(data) {
		line := 1 + bytes.Count(data[:invalidAt(data)], []byte("\n"))
		return nil, Faults{{name, line, 1, "the file is not UTF-8", "text saved as UTF-8"}}
	}
	if line := nesting(string(data)); line > 0 {
		return nil, Faults{{name, line, 1, fmt.Sprintf("brackets nest more than %d deep", maxNesting), "a flat file as \"stanchion new\" writes it"}}
	}
	text, values := r.syntax(string(data))
	if values == nil {
		return nil, r.faults.sorted()
	}
	r.pos = locate(text)
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

// decoded returns the values of a document that is known to be sound.
func decoded(doc []byte) (map[string]any, error) {
	values := map[string]any{}
	_, err := toml.Decode(string(doc), &values)
	return values, err
}

func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		c, n := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// maxSyntax is how many faults of syntax are looked for: the library stops at
// the first, so each line that has one is blanked and the rest read again.
const maxSyntax = 20

var keyOfLine = regexp.MustCompile(`^\s*["']?([A-Za-z0-9_-]+)["']?\s*=`)

// syntax decodes the text. Lines that are not TOML are recorded and blanked in
// the text that it returns; values is nil when nothing can be made of the rest.
func (r *reader) syntax(text string) (kept string, values map[string]any) {
	r.broken = map[string]bool{}
	lines := strings.Split(text, "\n")
	last := -2
	for range maxSyntax {
		values = nil
		_, err := toml.Decode(strings.Join(lines, "\n"), &values)
		if err == nil {
			if values == nil {
				values = map[string]any{}
			}
			return strings.Join(lines, "\n"), values
		}
		var pe toml.ParseError
		if !errors.As(err, &pe) {
			r.faults = append(r.faults, Fault{r.file, 1, 1, err.Error(), ""})
			return "", nil
		}
		n := pe.Position.Line - 1
		if n < 0 || n >= len(lines) || n == last+1 {
			return "", nil // an earlier fault carries on
		}
		line := lines[n]
		what, allowed := "not TOML: "+pe.Message, ""
		if decimalComma.MatchString(line) {
			what, allowed = "a comma inside a number", "a point before decimals"
		}
		r.faults = append(r.faults, Fault{r.file, n + 1, max(1, pe.Position.Col), what, allowed})
		key := keyOfLine.FindStringSubmatch(line)
		if trimmed := strings.TrimSpace(line); trimmed == "" || strings.HasPrefix(trimmed, "[") || key == nil && !strings.Contains(line, "{") {
			return "", nil
		}
		if key != nil {
			r.broken[key[1]] = true
		} else {
			r.broken[""] = true
		}
		lines[n], last = "", n
	}
	return "", nil
}

// decimalComma finds "= 1,5" where a value ends: at the end of the line, or
// before the next of an inline table.
var decimalComma = regexp.MustCompile(`=\s*-?[0-9]+,[0-9]+\s*(#.*|[,}].*)?$`)

// maxNesting is the deepest nesting of brackets that is read.
const maxNesting = 60

// nesting returns the line at which brackets nest too deeply, or 0. Brackets in
// strings and comments count too, which no sensible file notices.
func nesting(text string) int {
	depth, line := 0, 1
	for i := range len(text) {
		switch text[i] {
		case '\n':
			line++
		case '[', '{':
			if depth++; depth > maxNesting {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	return 0
}

// format takes the format number and the units, on which all else hangs.
func (r *reader) format(root *table) bool {
	if v := root.number("format", plain, anything); v != 1 && !math.IsNaN(v) {
		root.fault("format", "format is %g", "1; a newer stanchion may read this file", v)
		return false
	}
	r.units = fileUnits{1, 1, units.KPH, "mm", "kg", "km/h"}
	u := root.child("units", "units")
	if u == nil {
		return true
	}
	pick := func(key string, sizes map[string]float64, allowed string, size *float64, name *string) {
		s := u.text(key, false, allowed)
		if x, ok := sizes[s]; ok {
			*size, *name = x, s
		} else if s != "" {
			u.fault(key, "%s is %q", allowed, key, s)
		}
	}
	pick("length", map[string]float64{"mm": 1, "in": units.Inch}, `"mm" or "in"`, &r.units.length, &r.units.lengthName)
	pick("mass", map[string]float64{"kg": 1, "lb": units.Pound}, `"kg" or "lb"`, &r.units.mass, &r.units.massName)
	pick("speed", map[string]float64{"km/h": units.KPH, "mph": units.MPH, "m/s": 1}, `"km/h", "mph" or "m/s"`, &r.units.speed, &r.units.speedName)
	u.close()
	return true
}

// car takes the car out of the root table.
func (r *reader) car(root *table, open Open) *model.Car {
	c := &model.Car{
		DragArea: math.NaN(), Power: math.NaN(), DesignSpeed: math.NaN(), FrontRate: math.NaN(), RearRate: math.NaN(),
		Units:  model.FileUnits{Length: r.units.lengthName, Speed: r.units.speedName},
		Limits: model.Limits{Top: math.NaN(), Rear: math.NaN(), StallMargin: math.NaN()},
	}
	c.Name = root.text("name", true, "a name for the car")
	r.flow(root, c) // what it leaves open weighs most, so it is listed first
	if t := r.must(root, "car"); t != nil {
		c.Wheelbase = t.number("wheelbase", t.lengths(), positive)
		if c.Wheelbase < 500 || c.Wheelbase > 10_000 {
			t.fault("wheelbase", "wheelbase is %.0f mm", "500 to 10000 mm; [units] length says what numbers are in", c.Wheelbase)
		}
		c.FrontMass = t.number("front_axle_mass", t.masses(), positive)
		c.RearMass = t.number("rear_axle_mass", t.masses(), positive)
		for _, side := range []struct {
			key  string
			area *float64
		}{{"front_downforce_area", &c.FrontArea}, {"rear_downforce_area", &c.RearArea}} {
			if *side.area = t.optional(side.key, unit{"m²", 1}, between(-5, 5), 0); !t.has(side.key) {
				c.Assumed = append(c.Assumed, model.Assumption{What: side.key, Value: "0 m²", Note: "the car's own lift at that axle is left out of axle loads and front share"})
			}
		}
		c.DragArea = t.optional("drag_area", unit{"m²", 1}, positive, math.NaN())
		c.RoofHeight = t.number("roof_height", t.lengths(), positive)
		c.RakeChange = t.optional("rake_change", degrees, between(-10, 10), 0)
		c.Power = t.optional("power", unit{"kW", 1000}, positive, math.NaN())
		c.FrontRate = t.optional("front_rate", unit{"N/mm", 1}, positive, math.NaN())
		c.RearRate = t.optional("rear_rate", unit{"N/mm", 1}, positive, math.NaN())
		for _, pair := range [2][2]string{{"front_rate", "rear_rate"}, {"rear_rate", "front_rate"}} {
			if t.has(pair[0]) && !t.has(pair[1]) {
				t.missing(pair[1], "both rates or neither, in N/mm of the axle at the wheels")
			}
		}
		t.close()
	}
	r.air(root, c)
	if t := r.must(root, "speed"); t != nil {
		c.Speed = t.number("chosen", t.speeds(), positive)
		c.DesignSpeed = t.optional("design", t.speeds(), positive, math.NaN())
		t.close()
	}
	r.parts(root, c)
	r.wing(root, c, open)
	r.uncertainty(root, c)
	r.readings(root, c)
	c.Claim = model.Claim{Downforce: math.NaN(), Speed: math.NaN()}
	if t := root.child("claim", "claim"); t != nil {
		c.Claim.Downforce = t.number("downforce", unit{"N", 1}, positive)
		c.Claim.Speed = t.optional("speed", t.speeds(), positive, math.NaN())
		t.close()
	}
	if t := root.child("limits", "limits"); t != nil {
		c.Limits.Top = t.optional("top", t.lengths(), positive, math.NaN())
		c.Limits.Rear = t.optional("rear", t.lengths(), anything, math.NaN())
		c.Limits.StallMargin = t.optional("stall_margin", degrees, between(-30, 30), math.NaN())
		t.close()
	}
	return c
}

// must takes a table that the file cannot do without.
func (r *reader) must(root *table, key string) *table {
	t := root.child(key, key)
	if t == nil && !root.has(key) {
		root.noteMissing(key)
		r.faults = append(r.faults, Fault{r.file, 1, 1, fmt.Sprintf("table [%s] is missing", key), fmt.Sprintf("one table [%s]", key)})
	}
	return t
}

// air takes the weather; what is left out is the standard sea-level day's.
func (r *reader) air(root *table, c *model.Car) {
	temperature, pressure, humidity := 15.0, 1013.25, 0.0
	t := root.child("air", "air")
	if t != nil {
		temperature = t.optional("temperature", unit{"°C", 1}, between(-50, 60), temperature)
		humidity = t.optional("humidity", unit{"%", 1}, between(0, 100), humidity)
		if t.has("altitude") && t.has("pressure") {
			t.fault("altitude", "both pressure and altitude", "one of them")
		}
		pressure = t.optional("pressure", unit{"hPa", 1}, between(500, 1100), pressure)
		if t.has("altitude") {
			h := t.optional("altitude", unit{"m", 1}, between(-450, 3000), 0)
			pressure = aero.StandardAir(aero.Geopotential(h)).Pressure / 100
			c.Assumed = append(c.Assumed, model.Assumption{What: "air pressure", Value: fmt.Sprintf("%.0f hPa", pressure), Note: "the standard atmosphere's at the altitude given; weather moves it by 2 %"})
		}
		t.close()
	}
	given := func(key string) bool { return t != nil && t.has(key) }
	if !given("temperature") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "air temperature", Value: "15 °C", Note: "10 °C more is 3.4 % less downforce"})
	}
	if !given("pressure") && !given("altitude") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "air pressure", Value: "1013 hPa", Note: "sea level; every 100 m up is 1.2 % less downforce"})
	}
	c.Air = aero.Air{Pressure: pressure * 100, Temperature: temperature + aero.Celsius, Humidity: humidity / 100}
}

// uncertainty takes how well the inputs are known.
func (r *reader) uncertainty(root *table, c *model.Car) {
	c.Uncertainty = model.DefaultUncertainty(c.Flow.Known())
	u := &c.Uncertainty
	t := root.child("uncertainty", "uncertainty")
	for _, row := range []struct {
		key   string
		unit  unit
		most  float64
		value *float64
	}{
		{"angle_reading", degrees, 10, &u.AngleReading},
		{"flow_angle", degrees, 20, &u.FlowAngle},
		{"speed_ratio", plain, 0.5, &u.SpeedRatio},
		{"section_lift", unit{"%", 0.01}, 50, &u.SectionLift},
		{"section_drag", unit{"%", 0.01}, 100, &u.SectionDrag},
		{"speed", unit{"%", 0.01}, 20, &u.Speed},
		{"air", unit{"%", 0.01}, 20, &u.Air},
		{"hole_position", unit{r.units.lengthName, r.units.length}, 5, &u.HolePosition},
	} {
		if t != nil {
			*row.value = t.optional(row.key, row.unit, between(0, row.most), *row.value)
		}
		u.Default[row.key] = t == nil || !t.has(row.key)
	}
	if t != nil {
		t.close()
	}
}

// readings takes what was measured on the car with the wing on.
func (r *reader) readings(root *table, c *model.Car) {
	for i, t := range root.children("measured") {
		t.name = fmt.Sprintf("measured %d", i+1)
		m := model.Reading{
			Setting: t.text("setting", true, "a setting's id"),
			Angle:   t.optional("angle", degrees, between(-90, 90), math.NaN()),
			Height:  t.optional("height", t.lengths(), positive, math.NaN()),
			Band:    t.optional("reading", degrees, rule{func(x float64) bool { return x > 0 && x < 10 }, "more than 0, less than 10"}, math.NaN()),
			Side:    t.text("side", false, `"left" or "right"`),
		}
		if !t.has("angle") && !t.has("height") {
			t.missing("angle", "an angle in °, a height, or both")
		}
		if m.Side != "" && m.Side != "left" && m.Side != "right" {
			t.fault("side", "side is %q", `"left" or "right"`, m.Side)
		}
		t.close()
		c.Readings = append(c.Readings, m)
	}
}

// flow takes the local flow over height.
func (r *reader) flow(root *table, c *model.Car) {
	var points []aero.FlowPoint
	for i, t := range root.children("flow") {
		t.name = fmt.Sprintf("flow %d", i+1)
		points = append(points, aero.FlowPoint{
			Above: t.number("above_roof", t.lengths(), anything) / 1000,
			Angle: t.optional("flow_angle", degrees, between(-45, 45), 0),
			Ratio: t.optional("speed_ratio", plain, between(0.1, 2), 1),
		})
		t.close()
	}
	var err error
	if c.Flow, err = aero.NewFlow(points); err != nil {
		r.at(fmt.Sprintf("flow[%d]", len(points)-1), "%v", "each height once", err)
	}
	switch len(points) {
	case 0:
		c.Assumed = append(c.Assumed,
			model.Assumption{What: "flow angle at the wing", Value: "0°", Note: "behind a cabin the flow comes down by some degrees, which adds to the angle of attack"},
			model.Assumption{What: "speed ratio at the wing", Value: "1.00", Note: "a wing in the wake of the roof sees less: 0.9 is 19 % less downforce"})
	case 1:
		c.Assumed = append(c.Assumed, model.Assumption{What: "flow at other heights", Value: "the same as at the one given", Note: "measure at two heights to replace it"})
	}
}

// defaultStep is the largest distance between positions of a bolt in a slot when
// the file gives none, mm.
const defaultStep = 2.0

// hole takes one hole of a part, or one slot: a hole with an end or an arc.
func (r *reader) hole(t *table, part string, n int) (h holes.Hole, slot *holes.Slot) {
	t.name = fmt.Sprintf("hole %d of part %q", n+1, part)
	h = holes.Hole{ID: t.text("id", true, "the hole's mark, as text")}
	if h.ID != "" {
		t.name = fmt.Sprintf("hole %q of part %q", h.ID, part)
	}
	if strings.Contains(h.ID, "@") {
		t.fault("id", "id holds an @, which marks places in slots", "other characters")
	}
	h.X = t.number("x", t.lengths(), anything)
	h.Z = t.number("z", t.lengths(), anything)
	h.D = t.number("d", t.lengths(), positive)
	h.Joint = t.text("joint", false, "the name of a joint")
	s := holes.Slot{Hole: h, Step: t.optional("step", t.lengths(), rule{func(x float64) bool { return x*r.units.length >= 0.1 }, "0.1 mm or more"}, defaultStep)}
	to, arc := t.child("to", t.name+": to"), t.child("arc", t.name+": arc")
	switch {
	case to != nil && arc != nil:
		t.fault("arc", "both to and arc", "one of them")
	case to != nil:
		s.To = holes.Point{X: to.number("x", to.lengths(), anything), Z: to.number("z", to.lengths(), anything)}
		to.close()
		slot = &s
	case arc != nil:
		s.Centre = holes.Point{X: arc.number("x", arc.lengths(), anything), Z: arc.number("z", arc.lengths(), anything)}
		s.Turn = arc.number("turn", degrees, rule{func(x float64) bool { return x != 0 && math.Abs(x) <= 360 }, "-360 to 360, not 0"})
		arc.close()
		slot = &s
	case t.has("step") && !t.has("to") && !t.has("arc"):
		t.fault("step", "step without to or arc", "step in a slot")
	}
	if slot != nil && slot.Length() < 0.1 {
		t.fault("id", "the slot is %.2f mm long", "at least 0.1 mm", slot.Length())
		slot = nil
	}
	t.close()
	return h, slot
}
