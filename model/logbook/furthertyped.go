package logbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model/units"
)

// Line is one further thing that a person types into a note: on the command line and in the form.
type Line struct {
	Flag  string // on the command line
	Name  string // in words
	Value string // what it is called in the help of the command, such as LAPS
	Usage string // the help of the command, with Value in it
	Hint  func(units.System) string
	Read  func(n *Note, text string, u units.System) error
	Spell func(n Note, u units.System) string // as Read reads it; "" where it was not noted
	Clear func(n *Note)
	Again bool // it stays as it was until something else is noted: a form begins with the last one's
}

// Lines lists the further things that are typed, in the order of a form.
func Lines() []Line {
	plain := func(text string) func(units.System) string { return func(units.System) string { return text } }
	count := func(flag, name, value, usage, hint string, most float64, to func(*Note) *float64) Line {
		return Line{Flag: flag, Name: name, Value: value, Usage: usage, Hint: plain(hint),
			Read: func(n *Note, text string, _ units.System) error {
				x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
				if err != nil || !(x >= 0 && x <= most) {
					return fmt.Errorf("%q; give a number from 0 to %.0f", text, most)
				}
				*to(n) = x
				return nil
			},
			Spell: func(n Note, _ units.System) string {
				if math.IsNaN(*to(&n)) {
					return ""
				}
				return strconv.FormatFloat(*to(&n), 'f', -1, 64)
			},
			Clear: func(n *Note) { *to(n) = math.NaN() }}
	}
	again := func(l Line) Line {
		l.Again = true
		return l
	}
	return []Line{
		count("laps-run", "laps run", "LAPS", "how many `LAPS` the run had", "8", 1000, func(n *Note) *float64 { return &n.LapsRun }),
		{Flag: "laps", Name: "lap times", Value: "TIMES", Usage: "the lap `TIMES` of the run in order, such as \"out 1:52 1:43.2 1:43.0 in 1:55\"",
			Hint: plain("out 1:52 1:43.2 1:43.0 in 1:55"),
			Read: func(n *Note, text string, _ units.System) (err error) {
				n.Laps, err = ReadLaps(text)
				return err
			},
			Spell: func(n Note, _ units.System) string { return SpellLaps(n.Laps) },
			Clear: func(n *Note) { n.Laps = nil }},
		again(count("tyre-laps", "laps on the tyres", "LAPS", "`LAPS` that the tyres had done before the run", "24", 100000, func(n *Note) *float64 { return &n.TyreLaps })),
		again(Line{Flag: "wind", Name: "wind", Value: "WIND", Usage: "`WIND` on the main straight, such as \"4m/s head\", \"10km/h from 120\" (degrees from ahead, clockwise) or calm",
			Hint: func(u units.System) string { return u.Speed(4) + " head, tail, left, right, or from 120" },
			Read: func(n *Note, text string, u units.System) (err error) {
				n.Wind, err = ReadWind(text, u.SpeedUnit())
				return err
			},
			Spell: func(n Note, u units.System) string { return SpellWind(n.Wind, u) },
			Clear: func(n *Note) { n.Wind = Blank().Wind }}),
		again(Line{Flag: "rain", Name: "rain", Value: "RAIN", Usage: "`RAIN` during the run: none, light or heavy", Hint: plain("none, light or heavy"),
			Read: func(n *Note, text string, _ units.System) (err error) {
				n.Rain, err = ReadRain(text)
				return err
			},
			Spell: func(n Note, _ units.System) string { return n.Rain },
			Clear: func(n *Note) { n.Rain = "" }}),
		again(Line{Flag: "adjust", Name: "other adjustments", Value: "ADJUSTMENTS", Usage: "other `ADJUSTMENTS`, such as \"front bar = 2, splitter = 20 mm\"; those not named stay as noted last",
			Hint: plain("front bar = 2, splitter = 20 mm"),
			Read: func(n *Note, text string, _ units.System) error {
				all, err := ReadAdjustments(text)
				for _, a := range all {
					n.SetAdjustment(a.Name, a.Value)
				}
				return err
			},
			Spell: func(n Note, _ units.System) string { return spellAdjustments(n.Adjustments) },
			Clear: func(n *Note) { n.Adjustments = nil }}),
		count("minutes", "minutes to change it", "MINUTES", "`MINUTES` that the change before the run took", "12", 10000, func(n *Note) *float64 { return &n.Minutes }),
		count("bolts-moved", "bolts moved", "BOLTS", "`BOLTS` moved for it at one of the two uprights (default: counted from the setting noted before)", "2", 1000, func(n *Note) *float64 { return &n.BoltsMoved }),
		again(Line{Flag: "changed-by", Name: "changed by", Value: "NAME", Usage: "`NAME` of whoever turned the spanners", Hint: plain("a name"),
			Read: func(n *Note, text string, _ units.System) error {
				n.ChangedBy = text
				return nil
			},
			Spell: func(n Note, _ units.System) string { return n.ChangedBy },
			Clear: func(n *Note) { n.ChangedBy = "" }}),
	}
}

// ReadRain reads how it rained.
func ReadRain(text string) (string, error) {
	switch t := strings.ToLower(strings.TrimSpace(text)); t {
	case RainNone, RainLight, RainHeavy:
		return t, nil
	}
	return "", fmt.Errorf("%q; give none, light or heavy", text)
}

// windWords are directions of the wind, degrees.
var windWords = map[string]float64{"head": 0, "right": 90, "tail": 180, "left": 270}

// ReadWind reads a wind, "4m/s head", "10 km/h from 120" or "calm"; bare is the unit of a bare speed.
func ReadWind(text, bare string) (Wind, error) {
	words := strings.Fields(strings.ToLower(text))
	none := Blank().Wind
	wrong := fmt.Errorf("%q; give a speed and where it comes from: head, tail, left, right, or from 120 in degrees from ahead, clockwise", text)
	if len(words) == 1 && words[0] == "calm" {
		return Wind{0, 0}, nil
	}
	if len(words) < 2 {
		return none, wrong
	}
	w, from := none, words[len(words)-1]
	words = words[:len(words)-1]
	if angle, ok := windWords[strings.TrimSuffix(from, "wind")]; ok {
		w.From = angle
	} else {
		d, err := strconv.ParseFloat(strings.TrimSuffix(from, "°"), 64)
		if err != nil || !(d >= -360 && d <= 360) || len(words) < 2 || words[len(words)-1] != "from" {
			return none, wrong
		}
		w.From = math.Mod(d+360, 360)
	}
	if words[len(words)-1] == "from" {
		words = words[:len(words)-1]
	}
	speed, err := units.Speeds.Parse(strings.Join(words, ""), bare)
	if err != nil {
		return none, err
	}
	if !(speed >= 0 && speed <= 60) {
		return none, fmt.Errorf("%q; a wind must be 0 to 60 m/s", text)
	}
	w.Speed = speed
	return w, nil
}

// SpellWind spells a wind as ReadWind reads it.
func SpellWind(w Wind, u units.System) string {
	switch {
	case math.IsNaN(w.Speed) || math.IsNaN(w.From):
		return ""
	case w.Speed == 0:
		return "calm"
	}
	for word, angle := range windWords {
		if math.Abs(w.From-angle) < 0.5 {
			return u.Speed(w.Speed) + " " + word
		}
	}
	return u.Speed(w.Speed) + " from " + units.Fixed(w.From, 0)
}

// ReadLaps reads the lap times of a run, "out 1:52 1:43.2 1:43.0 in 1:55"; in and out stand before their lap.
func ReadLaps(text string) (all []LapTime, err error) {
	mark := ""
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\t' || r == '\n' }) {
		if w == MarkOut || w == MarkIn {
			if mark != "" {
				return nil, fmt.Errorf("%q; a time must follow %q", text, mark)
			}
			mark = w
			continue
		}
		s, err := ReadLap(strings.TrimSuffix(w, ","))
		if err != nil {
			return nil, err
		}
		all, mark = append(all, LapTime{s, mark}), ""
	}
	if mark != "" || len(all) == 0 {
		return nil, fmt.Errorf("%q; give times such as out 1:52 1:43.2 1:43.0", text)
	}
	return all, nil
}

// SpellLaps spells lap times as ReadLaps reads them.
func SpellLaps(all []LapTime) string {
	var parts []string
	for _, l := range all {
		if l.Mark != "" {
			parts = append(parts, l.Mark)
		}
		parts = append(parts, SpellLap(l.Seconds))
	}
	return strings.Join(parts, " ")
}

// ReadAdjustments reads further adjustments, "front bar = 2, splitter = 20 mm". One that is empty behind its = is taken out.
func ReadAdjustments(text string) (all []Adjustment, err error) {
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		name, value, ok := strings.Cut(part, "=")
		name, value = strings.Join(strings.Fields(name), " "), strings.Join(strings.Fields(value), " ")
		if !ok || name == "" {
			return nil, fmt.Errorf("%q; give name = value, such as front bar = 2", strings.TrimSpace(part))
		}
		all = append(all, Adjustment{name, value})
	}
	return all, nil
}
