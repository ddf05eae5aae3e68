package tui

import (
	"cmp"
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// placeField is the line for where it was.
const placeField = "place"

// elseField is the line for the person's own words.
const elseField = "anything else"

// takesOut is what is typed into a line to note nothing of what stands there from the last note.
const takesOut = "-"

// noteField is one line of the form for a note.
type noteField struct {
	name  string
	key   string // in a draft; "" for its name
	group string // the heading that it stands below
	hint  func(units.System) string
	felt  *feltLine // how it felt: arrows change it; nil for other lines
	steps []string  // that arrows walk; nil for other lines
	again bool      // it stays as it was until something else is noted
	read  func(n *logbook.Note, text string, u units.System) error
	spell func(n logbook.Note, u units.System) string // as read reads it; "" where it was not noted
	clear func(n *logbook.Note)
}

// draftKey is what the line goes by in a draft.
func (f *noteField) draftKey() string { return cmp.Or(f.key, f.name) }

// Headings of the form.
const (
	feltGroup   = "how it felt"
	lapsGroup   = "laps"
	tyresGroup  = "tyres and fuel"
	trackGroup  = "track and weather"
	setGroup    = "adjustments"
	workGroup   = "work on the car"
	heightGroup = "ride heights at speed"
)

// noteFields are the lines of the form for a note about a car, heading by heading.
func noteFields(car *model.Car) []noteField {
	lines := furtherFields()
	all := feltFields()
	all = append(all, lapField(), lines["laps-run"], lines["laps"], numberField(lapsGroup, "top speed seen", func(u units.System) string { return u.Speed(196 * units.KPH) },
		units.Speeds, units.System.SpeedUnit, model.MinSpeed, model.MaxSpeed, units.System.Speed, func(n *logbook.Note) *float64 { return &n.TopSpeed }))
	all = append(all, tyresField(), textField(tyresGroup, "tyre set", "set B", true, func(n *logbook.Note) *string { return &n.TyreSet }), lines["tyre-laps"],
		numberField(tyresGroup, "fuel", func(u units.System) string { return u.Mass(25) }, fuels, units.System.MassUnit, 0, 200, units.System.Mass,
			func(n *logbook.Note) *float64 { return &n.Fuel }))
	all = append(all, textField(trackGroup, placeField, "where it was", true, func(n *logbook.Note) *string { return &n.Venue }),
		textField(trackGroup, "driver", "a name", true, func(n *logbook.Note) *string { return &n.Driver }), trackField(), lines["rain"], lines["wind"])
	all = append(append(all, airFields()...), adjustmentFields(car, lines["adjust"])...)
	all = append(all, lines["minutes"], lines["bolts-moved"], lines["changed-by"])
	return append(all,
		sinkSpeed(sinkField(sinkSpeedField, func(u units.System) string { return u.Speed(180 * units.KPH) }, func(s *logbook.Sink) *float64 { return &s.Speed })),
		sinkField("front sank by", func(u units.System) string { return logbook.SpellSink(4.5, u) }, func(s *logbook.Sink) *float64 { return &s.Front }),
		sinkField("rear sank by", func(u units.System) string { return logbook.SpellSink(7.5, u) }, func(s *logbook.Sink) *float64 { return &s.Rear }))
}

func plainHint(text string) func(units.System) string {
	return func(units.System) string { return text }
}

// feltFields are the lines for how it felt.
func feltFields() []noteField {
	blank := logbook.Blank().Feel
	corner := func(kind string, to func(*logbook.Feel) *logbook.Corner) noteField {
		return noteField{name: kind + " corners", group: feltGroup, hint: plainHint("u1 n o2: entry middle exit, or one; g-1 grip"), felt: &cornerLine,
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				*to(&n.Feel), err = logbook.ReadCorner(text)
				return err
			},
			spell: func(n logbook.Note, _ units.System) string { return logbook.SpellCorner(*to(&n.Feel)) },
			clear: func(n *logbook.Note) { *to(&n.Feel) = *to(&blank) }}
	}
	stability := func(name string, to func(*logbook.Feel) *int) noteField {
		return noteField{name: name, group: feltGroup, hint: plainHint("← → 0 stable … -3 very unstable"), felt: &stabilityLine,
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				*to(&n.Feel), err = logbook.ReadShortfall(text)
				return err
			},
			spell: func(n logbook.Note, _ units.System) string {
				if v := *to(&n.Feel); v != logbook.NoFeel {
					return fmt.Sprint(v)
				}
				return ""
			},
			clear: func(n *logbook.Note) { *to(&n.Feel) = logbook.NoFeel }}
	}
	return []noteField{
		corner("fast", func(f *logbook.Feel) *logbook.Corner { return &f.Fast }),
		corner("slow", func(f *logbook.Feel) *logbook.Corner { return &f.Slow }),
		stability("under braking", func(f *logbook.Feel) *int { return &f.Braking }),
		stability("on the straight", func(f *logbook.Feel) *int { return &f.Straight }),
		textField(feltGroup, elseField, "in your own words", false, func(n *logbook.Note) *string { return &n.Text }),
	}
}

// furtherFields are the lines for the further things of a note, by their flags.
func furtherFields() map[string]noteField {
	groups := map[string]string{"laps-run": lapsGroup, "laps": lapsGroup, "tyre-laps": tyresGroup, "wind": trackGroup, "rain": trackGroup, "adjust": setGroup,
		"minutes": workGroup, "bolts-moved": workGroup, "changed-by": workGroup}
	all := map[string]noteField{}
	for _, l := range logbook.Lines() {
		all[l.Flag] = noteField{name: l.Name, group: groups[l.Flag], hint: l.Hint, again: l.Again || l.Flag == "bolts-moved", read: l.Read, spell: l.Spell, clear: l.Clear}
	}
	return all
}

// textField is a line for free text.
func textField(group, name, hint string, again bool, to func(*logbook.Note) *string) noteField {
	return noteField{name: name, group: group, hint: plainHint(hint), again: again,
		read: func(n *logbook.Note, text string, _ units.System) error {
			*to(n) = text
			return nil
		},
		spell: func(n logbook.Note, _ units.System) string { return units.Printable(*to(&n)) },
		clear: func(n *logbook.Note) { *to(n) = "" }}
}

// numberField is a line for a quantity; bare names the unit of a bare number.
func numberField(group, name string, hint func(units.System) string, kind units.Unit, bare func(units.System) string, least, most float64,
	spell func(units.System, float64) string, to func(*logbook.Note) *float64) noteField {
	return noteField{name: name, group: group, hint: hint,
		read: func(n *logbook.Note, text string, u units.System) error {
			x, err := kind.Parse(text, bare(u))
			if err == nil && !(x >= least && x <= most) {
				err = fmt.Errorf("it must be %s to %s", spell(u, least), spell(u, most))
			}
			if err == nil {
				*to(n) = x
			}
			return err
		},
		spell: func(n logbook.Note, u units.System) string {
			if math.IsNaN(*to(&n)) {
				return ""
			}
			return spell(u, *to(&n))
		},
		clear: func(n *logbook.Note) { *to(n) = math.NaN() }}
}

// fuels are units of fuel; a litre of petrol is taken as 0.75 kg.
var fuels = units.Unit{"kg": 1, "lb": units.Pound, "lbs": units.Pound, "l": 0.75}

func lapField() noteField {
	return noteField{name: "lap time", group: lapsGroup, hint: plainHint("1:42.3"),
		read: func(n *logbook.Note, text string, _ units.System) (err error) {
			n.Lap, err = logbook.ReadLap(text)
			return err
		},
		spell: func(n logbook.Note, _ units.System) string {
			if math.IsNaN(n.Lap) {
				return ""
			}
			return logbook.SpellLap(n.Lap)
		},
		clear: func(n *logbook.Note) { n.Lap = math.NaN() }}
}

func tyresField() noteField {
	return noteField{name: "tyres FL FR RL RR", group: tyresGroup, again: true, hint: func(u units.System) string { return spellTyres([4]float64{1.9, 1.9, 2, 2}, u) },
		read: func(n *logbook.Note, text string, u units.System) (err error) {
			n.Tyres, err = logbook.ReadTyres(text, u.PressureUnit())
			return err
		},
		spell: func(n logbook.Note, u units.System) string {
			if p := n.Tyres; math.IsNaN(p[0] + p[1] + p[2] + p[3]) {
				return ""
			}
			return spellTyres(n.Tyres, u)
		},
		clear: func(n *logbook.Note) { n.Tyres = logbook.Blank().Tyres }}
}

func trackField() noteField {
	return noteField{name: "track", group: trackGroup, again: true, hint: plainHint("dry, damp or wet"),
		read: func(n *logbook.Note, text string, _ units.System) (err error) {
			n.Track, err = logbook.ReadTrack(text)
			return err
		},
		spell: func(n logbook.Note, _ units.System) string { return n.Track },
		clear: func(n *logbook.Note) { n.Track = "" }}
}

// airFields are the lines for the air: °C or °F, hPa, mbar or inHg, %.
func airFields() []noteField {
	number := func(digits int, unit string) func(units.System, float64) string {
		return func(_ units.System, x float64) string { return units.Fixed(x, digits) + " " + unit }
	}
	bare := func(unit string) func(units.System) string { return func(units.System) string { return unit } }
	warm := numberField(trackGroup, "air temperature", func(u units.System) string { return u.Temperature(22) }, nil, nil, 0, 0, units.System.Temperature,
		func(n *logbook.Note) *float64 { return &n.Air.Temperature })
	warm.read = func(n *logbook.Note, text string, u units.System) error {
		t, err := units.Temperature(text, u.TemperatureUnit())
		if err == nil && (t < -50 || t > 60) {
			err = fmt.Errorf("it must be %s to %s", u.Temperature(-50), u.Temperature(60))
		}
		if err == nil {
			n.Air.Temperature = t
		}
		return err
	}
	return []noteField{warm,
		numberField(trackGroup, "air pressure", plainHint("1013 hPa, or 29.9 inHg"), units.Unit{"hPa": 1, "mbar": 1, "inHg": 33.8639}, bare("hPa"), 500, 1100, number(0, "hPa"),
			func(n *logbook.Note) *float64 { return &n.Air.Pressure }),
		numberField(trackGroup, "humidity", plainHint("60 %"), units.Unit{"%": 1}, bare("%"), 0, 100, number(0, "%"), func(n *logbook.Note) *float64 { return &n.Air.Humidity }),
	}
}

// sinkSpeedField is the line for the speed at which axles sank.
const sinkSpeedField = "at which speed"

// maxSink is by how much an axle sinks at most, mm.
const maxSink = 200

// sinkField is a line for a ride height measured at speed.
func sinkField(name string, hint func(units.System) string, to func(*logbook.Sink) *float64) noteField {
	blank := logbook.Blank().Sink
	if of := to(&blank); of == &blank.Speed {
		return numberField(heightGroup, name, hint, units.Speeds, units.System.SpeedUnit, model.MinSpeed, model.MaxSpeed, units.System.Speed,
			func(n *logbook.Note) *float64 { return to(&n.Sink) })
	}
	return numberField(heightGroup, name, hint, units.Lengths, units.System.LengthUnit, -maxSink, maxSink, func(u units.System, mm float64) string { return logbook.SpellSink(mm, u) },
		func(n *logbook.Note) *float64 { return to(&n.Sink) })
}

// sinkSpeed gives the line for the speed the key that it has in drafts.
func sinkSpeed(f noteField) noteField {
	f.key = heightGroup
	return f
}

// sinkFault says what is missing of ride heights, and in which line.
func sinkFault(s logbook.Sink) (line, fault string) {
	sank := !math.IsNaN(s.Front) || !math.IsNaN(s.Rear)
	switch {
	case sank && math.IsNaN(s.Speed):
		return sinkSpeedField, "give the speed at which the axles sank by that"
	case !sank && !math.IsNaN(s.Speed):
		return "front sank by", "give by how much front or rear sank at that speed, or take the speed out"
	}
	return "", ""
}

// spellTyres spells four pressures in bar with their unit.
func spellTyres(p [4]float64, u units.System) string {
	return fmt.Sprintf("%s %s %s %s %s", u.Pressure(p[0]), u.Pressure(p[1]), u.Pressure(p[2]), u.Pressure(p[3]), u.PressureUnit())
}
