package tui

import (
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// placeField is the line for where it was, which stands there without anybody's typing.
const placeField = "place"

// noteField is one line of the form for a note.
type noteField struct {
	name string
	hint func(units.System) string // with the unit of a bare number
	grip bool                      // arrows change it
	read func(n *logbook.Note, text string, u units.System) error
	last func(n logbook.Note, u units.System) string // as noted last, for the hint
}

func noteFields() []noteField {
	plain := func(text string) func(units.System) string { return func(units.System) string { return text } }
	grip := func(name string, to func(*logbook.Feel) *int) noteField {
		return noteField{name: name, hint: plain("← → -3 no grip … 0 right … 3 too much"), grip: true,
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				*to(&n.Feel), err = logbook.ReadGrip(text)
				return err
			}}
	}
	text := func(name, hint string, to func(*logbook.Note) *string) noteField {
		return noteField{name: name, hint: plain(hint), read: func(n *logbook.Note, text string, _ units.System) error {
			*to(n) = text
			return nil
		}}
	}
	return []noteField{
		grip("fast corners: front grip", func(f *logbook.Feel) *int { return &f.FrontFast }),
		grip("fast corners: rear grip", func(f *logbook.Feel) *int { return &f.RearFast }),
		grip("slow corners: front grip", func(f *logbook.Feel) *int { return &f.FrontSlow }),
		grip("slow corners: rear grip", func(f *logbook.Feel) *int { return &f.RearSlow }),
		text("anything else", "in your own words", func(n *logbook.Note) *string { return &n.Text }),
		{name: "lap time", hint: plain("1:42.3"),
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				n.Lap, err = logbook.ReadLap(text)
				return err
			},
			last: func(n logbook.Note, _ units.System) string {
				if math.IsNaN(n.Lap) {
					return ""
				}
				return logbook.SpellLap(n.Lap)
			}},
		{name: "top speed seen", hint: func(u units.System) string { return u.Speed(196 * units.KPH) }, read: readTopSpeed,
			last: func(n logbook.Note, u units.System) string {
				if math.IsNaN(n.TopSpeed) {
					return ""
				}
				return u.Speed(n.TopSpeed)
			}},
		{name: "tyres FL FR RL RR", hint: func(u units.System) string { return spellTyres([4]float64{1.9, 1.9, 2, 2}, u) },
			read: func(n *logbook.Note, text string, u units.System) (err error) {
				n.Tyres, err = logbook.ReadTyres(text, u.PressureUnit())
				return err
			},
			last: func(n logbook.Note, u units.System) string {
				if math.IsNaN(n.Tyres[0]) {
					return ""
				}
				return spellTyres(n.Tyres, u)
			}},
		{name: "fuel", hint: func(u units.System) string { return u.Mass(25) }, read: readFuel,
			last: func(n logbook.Note, u units.System) string {
				if math.IsNaN(n.Fuel) {
					return ""
				}
				return u.Mass(n.Fuel)
			}},
		text(placeField, "where it was", func(n *logbook.Note) *string { return &n.Venue }),
	}
}

func readTopSpeed(n *logbook.Note, text string, u units.System) (err error) {
	if n.TopSpeed, err = units.Speeds.Parse(text, u.SpeedUnit()); err == nil && (n.TopSpeed < model.MinSpeed || n.TopSpeed > model.MaxSpeed) {
		err = fmt.Errorf("it must be %s to %s", u.Speed(model.MinSpeed), u.Speed(model.MaxSpeed))
	}
	return err
}

func readFuel(n *logbook.Note, text string, u units.System) (err error) {
	if n.Fuel, err = units.Masses.Parse(text, u.MassUnit()); err == nil && (n.Fuel < 0 || n.Fuel > 200) {
		err = fmt.Errorf("it must be 0 to %s", u.Mass(200))
	}
	return err
}

// spellTyres spells four pressures in bar with their unit.
func spellTyres(p [4]float64, u units.System) string {
	return fmt.Sprintf("%s %s %s %s %s", u.Pressure(p[0]), u.Pressure(p[1]), u.Pressure(p[2]), u.Pressure(p[3]), u.PressureUnit())
}
