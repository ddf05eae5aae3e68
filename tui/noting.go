package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

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
		text("place", "where it was", func(n *logbook.Note) *string { return &n.Place }),
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

// openNote opens the form for a note about the setting on the screen. What was
// typed before and not saved is still there; the place is the last note's.
func (m Model) openNote() (Model, tea.Cmd) {
	m.about = logbook.Blank()
	m.about.Setting, m.about.Speed, m.about.Expected = m.row().ID, m.table.Speed, calibrate.Expected(m.table, m.row())
	m.mode, m.form = noting, &form{}
	last := logbook.Blank()
	if n := len(m.book.Notes); n > 0 {
		last = m.book.Notes[n-1]
	}
	for i, f := range noteFields() {
		hint, value := "such as "+f.hint(m.units), ""
		if f.grip || f.last == nil {
			hint = f.hint(m.units)
		}
		if f.last != nil {
			if was := f.last(last, m.units); was != "" {
				hint = "last " + was
			}
		}
		switch {
		case i < len(m.draft):
			value = m.draft[i]
		case f.name == "place":
			value = units.Printable(last.Place)
		}
		m.form.add(f.name, hint, value, 500)
		m.form.fields[i].Width = max(20, m.width-32)
	}
	m.form.fields[0].Focus()
	if m.draft != nil && m.draftOf != m.about.Setting {
		m.form.fault = "What stands here was typed about " + m.draftOf + " and is not saved. It would now be about the setting above."
	}
	return m, nil
}

// noteKey handles a key while the form for a note is open.
func (m Model) noteKey(key tea.KeyMsg) (tea.Model, tea.Cmd) {
	m.form = m.form.copied()
	k := key.String()
	if m.saving && k != "esc" && k != "ctrl+c" {
		return m, nil // what is on its way to the disk does not change any more
	}
	switch k {
	case "esc", "ctrl+c":
		return m.putNoteAside()
	case "tab", "down":
		return m, m.form.move(1)
	case "shift+tab", "up":
		return m, m.form.move(-1)
	case "enter":
		return m.saveNote()
	default:
		if in := &m.form.fields[m.form.at]; noteFields()[m.form.at].grip && key.Type != tea.KeyBackspace {
			m.form.fault = ""
			if before := in.Value(); key.Type == tea.KeyRunes {
				in.SetValue(gripAfter(before, typeable(string(key.Runes))))
				if _, err := logbook.ReadGrip(in.Value()); err != nil && in.Value() != "-" {
					m.form.fault = "a grip is a number from -3 to 3, or ← and →; words go into the line \"anything else\""
				}
				return m.keepNote()
			}
			in.SetValue(gripAfter(in.Value(), k))
			return m.keepNote()
		}
	}
	cmd := m.form.typed(key)
	m, keep := m.keepNote()
	return m, tea.Batch(cmd, keep)
}

// gripAfter is what a key makes of a grip: arrows step it, from 0 on an open line; a
// digit replaces it, so that no old one has to be taken out first. Anything else stays as
// it was typed, so that it is neither lost nor saved.
func gripAfter(text, key string) string {
	g, err := logbook.ReadGrip(text)
	switch {
	case key == "left" || key == "right":
		if err != nil {
			return "0"
		}
		if key == "left" {
			return fmt.Sprint(max(g-1, -3))
		}
		return fmt.Sprint(min(g+1, 3))
	case err != nil && text != "" && text != "-":
		return text + key // what is no grip stays, to be taken out or read
	case key == "-":
		return "-"
	case len(key) == 1 && key >= "0" && key <= "9":
		if text == "-" {
			return text + key
		}
		return key
	}
	return text + key
}

// putNoteAside goes back and keeps what is typed for the next time.
func (m Model) putNoteAside() (Model, tea.Cmd) {
	m, cmd := m.keepNote()
	m.draft, m.draftOf = m.form.values(), m.about.Setting
	m.mode, m.form = walking, nil
	m.message = "nothing is saved: m goes on with the note"
	if m.saving {
		m.message = "saving…"
	}
	return m, cmd
}

// savedMsg says that a note is on the disk, or why not.
type savedMsg struct {
	note     logbook.Note
	setAside string
	err      error
	book     *logbook.Book // with the note in it; nil when it cannot be read now
}

// saveNote reads the form and sends the note off to the disk. The form stays
// open until it is there.
func (m Model) saveNote() (tea.Model, tea.Cmd) {
	n := m.about
	for i, f := range noteFields() {
		text := m.form.values()[i]
		if text == "" {
			continue
		}
		if err := f.read(&n, text, m.units); err != nil {
			cmd := m.form.jump(i)
			m.form.fault = f.name + ": " + err.Error()
			return m, cmd
		}
	}
	m.saving = true
	add, notes := m.src.AddNote, m.src.Notes
	return m, func() tea.Msg {
		var msg savedMsg
		if msg.note, msg.setAside, msg.err = add(n); msg.err != nil {
			return msg
		}
		if b, err := notes(); err == nil {
			msg.book = &b
		}
		return msg
	}
}

// take hears the answer of the disk. When it is a fault, what was typed stays.
func (msg savedMsg) take(m Model) (Model, tea.Cmd) {
	m.saving = false
	if msg.err != nil {
		fault := "not saved: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
		if m.mode == noting {
			m.form = m.form.copied()
			m.form.fault = fault + ". What is typed is still here: enter tries again."
		} else {
			m.message = fault + ": m goes on with the note"
		}
		return m, nil
	}
	m.draft = nil
	if m.mode == noting {
		m.mode, m.form = walking, nil
	}
	m.message = "saved as " + msg.note.ID
	if msg.setAside != "" {
		m.message += "; a note that was cut short is set aside in " + msg.setAside
	}
	if msg.book != nil {
		m = m.withBook(*msg.book)
	}
	return m.keepDraft(m.src.NoteDraft, nil)
}

func needsNotebook(m Model) string {
	switch {
	case m.saving:
		return "the note before is still being saved"
	case m.src.AddNote == nil:
		return "a demo car has no notebook: stanchion new FILE --demo NAME makes a car file"
	case m.book.Newer:
		return logbook.ErrNewer.Error()
	}
	return needsRows(m)
}

// noteView draws the form over the whole screen.
func (m Model) noteView() string {
	about := fmt.Sprintf("a note about %s, %s°: %s", m.units.Length(m.about.Expected.Height), units.Fixed(m.about.Expected.Angle, 1), m.about.Setting)
	foot := "↑↓ line  enter saves  esc goes back, what is typed stays"
	if m.saving {
		foot = "saving…"
	}
	return m.form.view([]string{titleStyle.Render(about), "", "Leave open what you do not know. stanchion note add --replaces corrects one.", ""}, foot, m.width, m.height)
}
