// Package guide holds the questions of the guided start, and makes a car file of the answers.
package guide

import (
	"fmt"
	"maps"
	"math"
	"strconv"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/carfile"
	"stanchion/model/fastener"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Question is one thing that a guided start asks, in the order in which it is
// measured at the car.
type Question struct {
	Key     string // of its answer
	Name    string // what is asked for, in a list
	Ask     string
	How     string // how to measure it
	Picture string // the picture that shows it
	Letter  string // its letter there; "" for none
	kind    kindOf
	usual   any     // taken when nothing is typed: a text, or a number in mm, kg, km/h or °
	lo, hi  float64 // what a number may be
}

// kindOf says what a question asks for.
type kindOf int

const (
	aText kindOf = iota
	aLength
	aMass
	aSpeed // km/h
	anAngle
	aCount
)

// Answers are what was typed, by the questions' keys; numbers with their units.
type Answers map[string]string

// Questions lists what a guided start asks.
func Questions() []Question {
	return []Question{
		{"name", "name", "What is the car called?", "Any name that tells it from your others.", "car", "", aText, "My car", 0, 0},
		{"wheelbase", "wheelbase", "Wheelbase?", "From the middle of the front hub to the middle of the rear hub, wheels straight.", "car", "A", aLength, 2500.0, 1500, 4000},
		{"front_mass", "front axle mass", "Mass on the front axle?", "Both front wheels on the scales together, with driver, fuel and wing.", "car", "B", aMass, 600.0, 50, 3000},
		{"rear_mass", "rear axle mass", "Mass on the rear axle?", "Both rear wheels on the scales together, with driver, fuel and wing.", "car", "C", aMass, 550.0, 50, 3000},
		{"roof", "roof height", "Height of the roof?", "A straight-edge over the highest point of the roof, held level, and a tape down to the ground.", "car", "D", aLength, 1300.0, 500, 2500},
		{"foot_x", "bracket hole behind rear axle", "How far behind the rear axle is the bracket's lowest front hole?", "A plumb line through the hole's middle and one through the rear hub: the distance on the ground.", "bracket", "E", aLength, 350.0, -1000, 2000},
		{"foot_z", "bracket hole above ground", "How high above ground is that hole?", "A tape from its middle to the ground, car on level ground.", "bracket", "F", aLength, 800.0, 100, 2000},
		{"foot_angle", "bracket's angle", "What angle are the bracket's rows of holes at?", "A digital level on two bolts in one row: 0 is level, the rear higher is positive.", "bracket", "P", anAngle, 0.0, -45, 45},
		{"rows", "bracket's rows", "How many rows of holes does the bracket have, one above the other?", "Each row has a front and a rear hole.", "bracket", "", aCount, 4.0, 2, 20},
		{"row_step", "spacing of the rows", "How far apart are the rows?", "Centre to centre; measure over all rows and divide.", "bracket", "G", aLength, 40.0, 12, 200},
		{"column", "spacing in a row", "How far apart are the front and the rear hole of a row?", "Centre to centre.", "bracket", "H", aLength, 60.0, 15, 500},
		{"bolt", "bolts", "Which bolts?", "M5 to M12, or in inches 1/4 to 1/2, such as 5/16-18 UNC.", "bracket", "", aText, "M8", 0, 0},
		{"pivot", "pivot hole above lowest hole", "On the upright, how far above its lowest front hole is the one for the wing's front bolt?", "Centre to centre, square to the rows of its foot.", "upright", "I", aLength, 430.0, 50, 1500},
		{"pivot_x", "pivot hole behind lowest hole", "And how far behind that lowest hole is it?", "Centre to centre, along the rows of its foot; in front of it is negative.", "upright", "Q", aLength, 0.0, -800, 800},
		{"wing_front", "front bolt from leading edge", "How far behind the leading edge is the wing's front bolt?", "Along the chord, from the foremost point of the wing.", "upright", "J", aLength, 40.0, 0, 1000},
		{"wing_rear", "rear bolt from leading edge", "How far behind the leading edge is its rear bolt?", "Along the chord.", "upright", "K", aLength, 170.0, 10, 1500},
		{"angles", "wing's angles", "Which angles should the wing have?", "In degrees to the ground, trailing edge up, with spaces between: one hole of the rear bolt's arc for each.", "upright", "L", aText, "0 10", 0, 0},
		{"span", "span", "Span of the wing?", "From tip to tip, without the end plates.", "wing", "M", aLength, 1400.0, 300, 2500},
		{"chord", "chord", "Chord of the wing?", "From the foremost point to the trailing edge, straight.", "wing", "N", aLength, 250.0, 60, 800},
		{"section", "section", "Which section is it?", "A NACA number such as naca 4412 where the maker gives none: close enough to start from.", "wing", "", aText, "naca 4412", 0, 0},
		{"speed", "speed of the figures", "At which speed should figures be quoted?", "One at which you feel the wing.", "car", "", aSpeed, 160.0, 20, 400},
		{"design", "top speed with the wing", "What is the fastest that the car will go with the wing on?", "Strength is checked at this speed: if in doubt, go higher.", "car", "", aSpeed, 220.0, 20, 400},
	}
}

func question(key string) Question {
	for _, q := range Questions() {
		if q.Key == key {
			return q
		}
	}
	panic("no question " + key)
}

// Unit names the unit of a bare number; "" where no number is asked for.
func (q Question) Unit(u units.System) string {
	switch q.kind {
	case aLength:
		return u.LengthUnit()
	case aMass:
		return u.MassUnit()
	case aSpeed:
		return u.SpeedUnit()
	case anAngle:
		return "°"
	}
	return ""
}

// size is what one of the unit is in mm, kg, km/h or °.
func (q Question) size(u units.System) float64 {
	switch q.kind {
	case aLength:
		return u.LengthSize()
	case aMass:
		return units.Masses[u.MassUnit()]
	case aSpeed:
		return units.Speeds[u.SpeedUnit()] / units.KPH
	}
	return 1
}

// Usual is what is taken when nothing is typed, without its unit.
func (q Question) Usual(u units.System) string {
	x, number := q.usual.(float64)
	if !number {
		return fmt.Sprint(q.usual)
	}
	digits := 0
	if q.kind == aLength && u.Inches() {
		digits = 1
	}
	return toml.Decimal(x/q.size(u), digits)
}

// read reads a number, in mm, kg, km/h or °; text has none.
func (q Question) read(text string, u units.System) (x float64, err error) {
	switch q.kind {
	case aLength:
		x, err = units.Lengths.Parse(text, u.LengthUnit())
	case aMass:
		x, err = units.Masses.Parse(text, u.MassUnit())
	case aSpeed:
		x, err = units.Speeds.Parse(text, u.SpeedUnit())
		x /= units.KPH
	case anAngle:
		x, err = units.Angles.Parse(text, "deg")
		x /= plane.Deg
	case aCount:
		n, wrong := strconv.Atoi(strings.TrimSpace(text))
		if x = float64(n); wrong != nil || x < q.lo || x > q.hi {
			return 0, fmt.Errorf("%s; it must be a whole number from %g to %g", text, q.lo, q.hi)
		}
	}
	if err == nil && !(x >= q.lo-1e-9 && x <= q.hi+1e-9) {
		err = fmt.Errorf("%s; it must be %s to %s %s", text, toml.Decimal(q.lo/q.size(u), 1), toml.Decimal(q.hi/q.size(u), 1), q.Unit(u))
	}
	return x, err
}

// Check reads one answer; the error says what to type. given are the answers before it.
func (q Question) Check(text string, given Answers, u units.System) error {
	if strings.TrimSpace(text) == "" {
		text = q.Usual(u)
	}
	if len(text) > 120 || strings.IndexFunc(text, units.Hidden) >= 0 {
		return fmt.Errorf("use printable characters, at most 120")
	}
	if q.kind != aText {
		if _, err := q.read(text, u); err != nil {
			return err
		}
	}
	with := given.With(q.Key, text)
	switch q.Key {
	case "bolt":
		if s, ok := fastener.Lookup(text); !ok || s.D < 5 || s.D > 12.8 {
			return fmt.Errorf("%s; use M5, M6, M8, M10 or M12, or 1/4 to 1/2 in UNC or UNF", text)
		}
	case "wing_rear":
		if with.number("wing_rear", u) < with.number("wing_front", u)+20 {
			return fmt.Errorf("%s; it must be at least %s behind the front bolt", text, u.Length(20))
		}
	case "design":
		if with.number("design", u) < with.number("speed", u) {
			return fmt.Errorf("%s; it must be at least the speed of the figures, %s", text, u.Speed(with.number("speed", u)*units.KPH))
		}
	case "angles":
		_, err := with.head(u)
		return err
	case "section":
		if _, err := carfile.Parse("section", []byte(with.file(u)), nil); err != nil {
			return fmt.Errorf("%s; use naca with four or five digits", text)
		}
	}
	return nil
}

// Echo is an answer as it was understood: a bare number gets its unit.
func (q Question) Echo(text string, u units.System) string {
	text = strings.TrimSpace(text)
	if q.Unit(u) == "" || text == "" {
		return text
	}
	if last := text[len(text)-1]; last >= '0' && last <= '9' || last == '.' {
		if q.kind == anAngle {
			return text + "°"
		}
		return text + " " + q.Unit(u)
	}
	return text
}

// With returns the answers with one more.
func (a Answers) With(key, text string) Answers {
	b := Answers{}
	maps.Copy(b, a)
	b[key] = text
	return b
}

// text returns an answer, or what is usual.
func (a Answers) text(key string, u units.System) string {
	if t := strings.TrimSpace(a[key]); t != "" {
		return t
	}
	return question(key).Usual(u)
}

// number reads an answer, in mm, kg, km/h or °; NaN when it cannot be read.
func (a Answers) number(key string, u units.System) float64 {
	x, err := question(key).read(a.text(key, u), u)
	if err != nil {
		return math.NaN()
	}
	return x
}
