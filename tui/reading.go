package tui

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/words"
)

// readingMode is the page of what was read with a level or a tape: all readings that are kept, and what
// they say together. Lines are typed at the prompt over it.
type readingMode struct {
	said   []string // what was understood of the line typed last
	at     int      // the marked reading
	scroll int
	moved  bool // the mark was moved, and is kept in sight
	warned bool // W was refused, since left and right differ: again writes
}

// typeReading opens the page of readings with the line for the next one.
func (m Model) typeReading() (Model, tea.Cmd) {
	return m.promptReading(readingMode{at: max(len(m.measured().Car.Readings)-1, 0)})
}

// promptReading opens the line for a reading over the page. Both sides with their edges are a long line.
func (m Model) promptReading(r readingMode) (Model, tea.Cmd) {
	m, cmd := m.promptOver(r, "measured", m.readingExample(), Model.typedReading)
	p, _ := in[promptMode](m)
	p.input.CharLimit = 160
	p.input.SetValue(m.unkept)
	p.input.CursorEnd()
	return m.with(p), cmd
}

// readingExample is readings as they can be typed, in the units on the screen.
func (m Model) readingExample() string {
	if m.width > 0 && m.width < 100 {
		figure := func(mm float64) string { return strings.Fields(m.units.Length(mm))[0] }
		return "floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4, or le " + figure(1312) + " te " + figure(1340)
	}
	return "floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4, or 6.4 " + strings.ReplaceAll(m.units.Length(1342), " ", "") + ", or le and te heights"
}

// measured is the table on the screen with the readings that are not in the file.
func (m Model) measured() *model.Table {
	t := *m.table
	t.Car = m.readings.On(t.Car)
	return &t
}

// fitOf is what readings say, as it was worked out last.
type fitOf struct {
	of    *model.Table
	read  []model.Reading // those that are not in the file
	datum calibrate.Datum
	err   error
}

// datumNow fits to all readings that are kept.
func (m Model) datumNow() (calibrate.Datum, error) {
	k, read := &m.memo.fit, m.readings.Readings
	if k.of != m.table || len(k.read) != len(read) || len(read) > 0 && &k.read[0] != &read[0] {
		t := m.measured()
		d, err := calibrate.FitDatum(t, t.Car.Readings)
		*k = fitOf{m.table, read, d, err}
	}
	return k.datum, k.err
}

// typedReading takes what was measured with the current setting bolted on, says what was understood and
// keeps it.
func (m Model) typedReading(text string) (Model, tea.Cmd, error) {
	t := m.measured()
	typed, err := calibrate.ReadTyped(text, t.Car, m.row().ID, m.units)
	if err != nil {
		return m, nil, err
	}
	t.Car = typed.On(t.Car)
	if len(typed.Readings) > 0 {
		if _, err := calibrate.FitDatum(t, typed.Readings); err != nil {
			var strange calibrate.Strange
			if errors.As(err, &strange) {
				err = strange[0].Err
			}
			return m, nil, err
		}
	}
	r := readingMode{said: words.TypedLines(t, t.Car, typed, m.units), at: max(len(t.Car.Readings)-1, 0)}
	m.unkept = ""
	m, cmd := m.with(r).keepReading(typed)
	return m, cmd, nil
}

func (readingMode) title() string { return "on the page of level readings" }

func (readingMode) typing() bool { return false }

func (r readingMode) bindings(m Model) []binding {
	mark := func(by int) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			r, _ := in[readingMode](m)
			r.warned, r.moved = false, true
			r.at = min(max(r.at+by, 0), max(len(m.measured().Car.Readings)-1, 0))
			m.message = ""
			return m.with(r), nil
		}
	}
	scroll := func(by int) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			r, _ := in[readingMode](m)
			lines, _ := r.wrapped(m)
			r.scroll = min(max(r.scroll+by*(m.height-4), 0), max(0, len(lines)-r.room(m)))
			return m.with(r), nil
		}
	}
	return []binding{
		{keys: []string{"a"}, label: "a type", does: "type a reading, of level or tape", run: func(m Model, _ string) (Model, tea.Cmd) {
			r, _ := in[readingMode](m)
			m.message = ""
			return m.promptReading(r)
		}},
		{keys: []string{"down", "j"}, label: "↑↓ mark", does: "mark the next reading", run: mark(1)},
		{keys: []string{"up", "k"}, does: "mark the reading before", run: mark(-1)},
		{keys: []string{"x", "delete"}, label: "x remove", does: "take the marked reading back", run: takeReadingBack},
		{keys: []string{"enter"}, label: "enter apply", does: "apply the correction that the page shows, until you quit", run: acceptReadings},
		{keys: []string{"W"}, label: "W write", does: "put the corrected place of the fixed part into the car file", run: writeCorrection},
		{keys: []string{"U"}, label: "U undo", does: "undo the last change", run: func(m Model, _ string) (Model, tea.Cmd) {
			if why := needsUndo(m); why != "" {
				m.message = why
				return m, nil
			}
			return m.undo()
		}},
		{keys: []string{"pgdown", " "}, does: "a page down", run: scroll(1)},
		{keys: []string{"pgup"}, does: "a page up", run: scroll(-1)},
		{keys: []string{"u"}, does: "switch units", run: func(m Model, _ string) (Model, tea.Cmd) { return m.switchUnits() }},
		{keys: []string{"Y"}, does: "copy the page as text", run: func(m Model, key string) (Model, tea.Cmd) {
			return pageMode{lines: func(m Model) []string { lines, _ := r.lines(m); return lines }}.copyPage(m, key)
		}},
		{keys: []string{"esc", "q", "backspace"}, label: "esc back", does: "go back", run: closeMode},
		quitting(),
	}
}

func (readingMode) other(m Model, _ tea.KeyMsg) (Model, tea.Cmd) {
	m.message = "a types a reading, esc goes back"
	return m, nil
}

func (r readingMode) tell(w *walker) {
	lines, _ := r.lines(w.m)
	for _, l := range lines {
		if l != "" {
			w.say("%s", plainText(l))
		}
	}
	w.say("a types a reading; down and up mark one, x takes the marked one back; enter applies the correction until you quit, W puts it into the car file; esc goes back.")
}

func (readingMode) typed(*walker, string) {}
