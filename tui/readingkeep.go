package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/model/words"
)

// keepReading puts readings into the car file, or where there is none keeps them until the person quits.
func (m Model) keepReading(typed calibrate.Typed) (Model, tea.Cmd) {
	if m.src.Change == nil {
		m = m.remember("a reading")
		m.readings = m.readings.With(typed)
		m.message = "kept until you quit: a demo car has no file"
		return m, nil
	}
	m.message = "writing…"
	return m, m.changeFile("a reading", func(text []byte) ([]carfile.Edit, error) {
		return carfile.AddReadings(text, typed.Faces, typed.Floors, typed.Readings)
	}, "kept in the car file; U takes it back", false)
}

// changedMsg says that the car file was changed, or why not.
type changedMsg struct {
	what, said string
	datum      bool // the correction is in the file now
	can        can
	err        error
}

// changeFile writes to the car file and says what was done.
func (m Model) changeFile(what string, edits func([]byte) ([]carfile.Edit, error), said string, datum bool) tea.Cmd {
	src := m.src
	return func() tea.Msg {
		err := src.Change(what, edits)
		return changedMsg{what, said, datum, src.canUndo(), err}
	}
}

func (msg changedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: msg.what, file: true, before: m.laidNow()})
	m.undone, m.can, m.message = nil, msg.can, msg.said
	if msg.datum {
		m.datum = nil
	}
	if m.src.Files == nil {
		return m, nil
	}
	return m, m.lookOnce() // the file is read again at once
}

// takeReadingBack takes the marked reading back.
func takeReadingBack(m Model, _ string) (Model, tea.Cmd) {
	r, _ := in[readingMode](m)
	kept := len(m.car.Readings)
	all := m.measured().Car.Readings
	if r.at >= len(all) {
		m.message = "there is no reading to take back"
		return m, nil
	}
	r.said, r.scroll, r.warned = nil, 0, false
	was := all[r.at]
	index := r.at
	r.at = max(min(r.at, len(all)-2), 0)
	m = m.with(r)
	what := fmt.Sprintf("taking back reading %d", index+1)
	if index >= kept {
		m = m.remember(what)
		m.readings = m.readings.Without(index - kept)
		m.message = fmt.Sprintf("reading %d with %s is taken back; U brings it again", index+1, units.Printable(m.table.NameOf(was.Setting)))
		return m, nil
	}
	if m.src.Change == nil {
		m.message = "a demo car cannot be changed: stanchion new FILE --demo NAME makes a copy"
		return m, nil
	}
	m.message = "writing…"
	return m, m.changeFile(what, func(text []byte) ([]carfile.Edit, error) { return carfile.RemoveReading(text, index, was) },
		fmt.Sprintf("reading %d is out of the car file; U brings it again", index+1), false)
}

// acceptReadings takes the correction that the page shows. It is on top of one
// taken before, which the angles shown already have in them.
func acceptReadings(m Model, _ string) (Model, tea.Cmd) {
	d, ok, m := m.correction()
	if !ok {
		return m, nil
	}
	m, _ = m.leave()
	m = m.remember("the correction")
	m.datum = &d
	m.message = "the correction applies until you quit; W puts it into the car file"
	if why := spokenAgainst(m, d); why != "" {
		m.message = "the correction applies until you quit, but " + why
	}
	return m.ask(m.laidOn(m.base), nil)
}

// spokenAgainst says why a correction is only written when that is asked for twice; "" where nothing speaks against it.
func spokenAgainst(m Model, d calibrate.Datum) string {
	if why := words.SidesDiffer(d, m.units); why != "" {
		return why
	}
	return words.OffTheFile(m.measured(), d)
}

// correction is what the page would have corrected, on top of what was taken before; not ok, with the
// reason as a message, where there is none.
func (m Model) correction() (d calibrate.Datum, ok bool, after Model) {
	if m.working {
		m.message = "the settings are being worked out: press it again"
		return d, false, m
	}
	if len(m.measured().Car.Readings) == 0 {
		m.message = "there are no readings yet: a types one"
		return d, false, m
	}
	d, err := m.datumNow()
	if err != nil {
		m.message = "the readings cannot be used together: mark the one that is wrong, x takes it back"
		return d, false, m
	}
	if m.datum != nil {
		d = m.datum.Plus(d)
	}
	return d, true, m
}

// writeCorrection puts the corrected place into the car file.
func writeCorrection(m Model, _ string) (Model, tea.Cmd) {
	d, ok, m := m.correction()
	switch {
	case !ok:
		return m, nil
	case !d.Clean():
		m.message = "not written: a reading does not fit the rest; read it again, or mark it and x takes it back"
		return m, nil
	case m.src.Change == nil:
		m.message = "a demo car cannot be changed: stanchion new FILE --demo NAME makes a copy"
		return m, nil
	}
	r, _ := in[readingMode](m)
	if why := spokenAgainst(m, d); why != "" && !r.warned {
		r.warned = true
		m.message = "not written: " + why + "; W again writes it all the same"
		if d.SidesDiffer() {
			m.message = "not written: " + why + "; W again writes their middle all the same"
		}
		return m.with(r), nil
	}
	corrected := calibrate.Corrected(m.base, d)
	if math.IsNaN(d.Angle) && math.IsNaN(d.Z) {
		m.message = "there is nothing to correct"
		return m, nil
	}
	if words.Written(m.base, d) {
		m.message = "the car file has this already: nothing to write"
		return m, nil
	}
	m.message = "writing…"
	said := "the corrected place is in the car file; U takes it back"
	if !d.Checked() {
		said += "; " + words.NothingChecks
	}
	return m, m.changeFile("the correction of the fixed part", func(text []byte) ([]carfile.Edit, error) { return carfile.SetDatum(text, corrected) }, said, true)
}

// writeTaken puts the correction that is applied into the car file, from the walk: over the page of
// readings, which says what speaks against it.
func (m Model) writeTaken() (Model, tea.Cmd) {
	return writeCorrection(m.with(readingMode{at: max(len(m.measured().Car.Readings)-1, 0)}), "W")
}

// needsCorrection says why there is nothing to write.
func needsCorrection(m Model) string {
	if m.datum == nil {
		return "no correction is applied: a types a level reading, enter on its page applies what it says"
	}
	return ""
}
