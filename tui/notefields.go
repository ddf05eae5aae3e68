package tui

import (
	"fmt"
	"math"
	"slices"

	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// placeField is the line for where it was, which stands there without anybody's typing.
const placeField = "place"

// elseField is the line for the person's own words.
const elseField = "anything else"

// noteField is one line of the form for a note.
type noteField struct {
	name string
	hint func(units.System) string // with the unit of a bare number
	felt *feltLine                 // how it felt: arrows change it; nil for other lines
	read func(n *logbook.Note, text string, u units.System) error
	last func(n logbook.Note, u units.System) string // as noted last, for the hint
}

func noteFields() []noteField {
	plain := func(text string) func(units.System) string { return func(units.System) string { return text } }
	corner := func(kind string, to func(*logbook.Feel) *logbook.Corner) noteField {
		return noteField{name: kind + " corners", hint: plain("u1 n o2: entry middle exit, or one; g-1 grip"), felt: &cornerLine,
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				*to(&n.Feel), err = logbook.ReadCorner(text)
				return err
			}}
	}
	stability := func(name string, to func(*logbook.Feel) *int) noteField {
		return noteField{name: name, hint: plain("← → 0 stable … -3 very unstable"), felt: &stabilityLine,
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				*to(&n.Feel), err = logbook.ReadShortfall(text)
				return err
			}}
	}
	text := func(name, hint string, to func(*logbook.Note) *string) noteField {
		return noteField{name: name, hint: plain(hint), read: func(n *logbook.Note, text string, _ units.System) error {
			*to(n) = text
			return nil
		}}
	}
	again := func(name, hint string, to func(*logbook.Note) *string) noteField { // its hint is what was noted last
		f := text(name, hint, to)
		f.last = func(n logbook.Note, _ units.System) string { return units.Printable(*to(&n)) }
		return f
	}
	return []noteField{
		corner("fast", func(f *logbook.Feel) *logbook.Corner { return &f.Fast }),
		corner("slow", func(f *logbook.Feel) *logbook.Corner { return &f.Slow }),
		stability("under braking", func(f *logbook.Feel) *int { return &f.Braking }),
		stability("on the straight", func(f *logbook.Feel) *int { return &f.Straight }),
		text(elseField, "in your own words", func(n *logbook.Note) *string { return &n.Text }),
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
		again("tyre set", "set B", func(n *logbook.Note) *string { return &n.TyreSet }),
		{name: "fuel", hint: func(u units.System) string { return u.Mass(25) }, read: readFuel,
			last: func(n logbook.Note, u units.System) string {
				if math.IsNaN(n.Fuel) {
					return ""
				}
				return u.Mass(n.Fuel)
			}},
		again("driver", "a name", func(n *logbook.Note) *string { return &n.Driver }),
		{name: "track", hint: plain("dry, damp or wet"),
			read: func(n *logbook.Note, text string, _ units.System) (err error) {
				n.Track, err = logbook.ReadTrack(text)
				return err
			}},
		sinkField("ride heights at speed", func(u units.System) string { return u.Speed(180 * units.KPH) }, func(s *logbook.Sink) *float64 { return &s.Speed }),
		sinkField("front sank by", func(u units.System) string { return logbook.SpellSink(4.5, u) }, func(s *logbook.Sink) *float64 { return &s.Front }),
		sinkField("rear sank by", func(u units.System) string { return logbook.SpellSink(7.5, u) }, func(s *logbook.Sink) *float64 { return &s.Rear }),
		text(placeField, "where it was", func(n *logbook.Note) *string { return &n.Venue }),
	}
}

// maxSink is by how much an axle sinks at most, mm.
const maxSink = 200

// sinkField is a line for a ride height measured at speed.
func sinkField(name string, hint func(units.System) string, to func(*logbook.Sink) *float64) noteField {
	return noteField{name: name, hint: func(u units.System) string { return "such as " + hint(u) },
		read: func(n *logbook.Note, text string, u units.System) error {
			kind, bare, least, most, spell := units.Lengths, u.LengthUnit(), -float64(maxSink), float64(maxSink), u.Length
			if to(&n.Sink) == &n.Sink.Speed {
				kind, bare, least, most, spell = units.Speeds, u.SpeedUnit(), model.MinSpeed, model.MaxSpeed, u.Speed
			}
			x, err := kind.Parse(text, bare)
			if err == nil && (x < least || x > most) {
				err = fmt.Errorf("it must be %s to %s", spell(least), spell(most))
			}
			if err == nil {
				*to(&n.Sink) = x
			}
			return err
		}}
}

// sinkFault says what is missing of ride heights, and in which line.
func sinkFault(s logbook.Sink) (line, fault string) {
	sank := !math.IsNaN(s.Front) || !math.IsNaN(s.Rear)
	switch {
	case sank && math.IsNaN(s.Speed):
		return "ride heights at speed", "give the speed at which the axles sank by that"
	case !sank && !math.IsNaN(s.Speed):
		return "front sank by", "give by how much front or rear sank at that speed, or take the speed out"
	}
	return "", ""
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

// formLeft is what stands left of a line of a form, its mark and its name, and right of it the cursor.
const formLeft = 30

// shownFromStart gives a line of the form its width, and shows what stands in it from its beginning.
func shownFromStart(in textinput.Model, w int) textinput.Model {
	in.Width = w
	in.CursorStart()
	in.SetValue(in.Value())
	in.CursorStart()
	return in
}

// cut is the form as it is seen: lines that are not typed into end in … where they are longer than the screen, and
// of more lines than there is room for those around the one that is typed into.
func (n noteMode) cut(room int) widgets.Form {
	f := n.form
	f.Fields = slices.Clone(f.Fields)
	for i := range f.Fields {
		if text := []rune(f.Fields[i].Value()); i != f.At && len(text) > f.Fields[i].Width {
			f.Fields[i].SetValue(ansi.Truncate(string(text), f.Fields[i].Width, "…"))
		}
	}
	seen := window(f.At, len(f.Fields), max(room, 1))
	f.Names, f.Fields, f.At = f.Names[seen[0]:seen[1]], f.Fields[seen[0]:seen[1]], f.At-seen[0]
	return f
}
