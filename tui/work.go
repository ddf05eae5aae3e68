package tui

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// rowsMsg answers the question with the number asked.
type rowsMsg struct {
	asked  int
	car    *model.Car
	places []model.Position
	table  *model.Table
	grid   *bolting.Grid // nil when it stays what it was
	err    error
}

// frameMsg answers how the settings of the question with the number asked hold.
type frameMsg struct {
	asked int
	frame *strength.Analysis // nil when strength cannot be checked
	weak  string             // why not
}

// solve works out the settings of a car at a speed, in the background. places
// are those of the same car if they are known already.
func solve(asked int, car *model.Car, places []model.Position, speed float64) tea.Cmd {
	return func() tea.Msg {
		msg := rowsMsg{asked: asked, car: car, places: places}
		if msg.places == nil {
			if msg.places, msg.err = car.Positions(); msg.err != nil {
				return msg
			}
		}
		wing, err := car.SolveWing(speed)
		if err != nil {
			msg.err = err
			return msg
		}
		msg.table = model.NewTable(car, msg.places, wing, speed)
		if places == nil {
			msg.grid = bolting.NewGrid(msg.table, bolting.ByAngle)
		}
		return msg
	}
}

// frameOf makes a car ready for the strength of its settings to be checked one by one,
// as few are looked at, or says why it can't be.
func frameOf(car *model.Car) (*strength.Analysis, string) {
	f, err := strength.Single(car)
	if err != nil {
		return nil, err.Error()
	}
	return f, ""
}

// hold makes a car ready for its strength to be checked, once its settings are on the
// screen.
func hold(asked int, car *model.Car) tea.Cmd {
	return func() tea.Msg {
		f, why := frameOf(car)
		return frameMsg{asked, f, why}
	}
}

// take keeps the answer of hold, unless it is about a car that is no longer shown.
func (msg frameMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked == m.asked {
		m.frame, m.weak = msg.frame, msg.weak
		m.slow = nil
	}
	return m.workOutPaint()
}

// ask sends off a new question, which overtakes earlier ones.
func (m Model) ask(car *model.Car, places []model.Position) (Model, tea.Cmd) {
	m.asked++
	m.working, m.wanted = true, car
	return m, solve(m.asked, car, places, m.speed)
}

// take shows the answer to the last question; older ones are dropped.
func (msg rowsMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.asked {
		return m, nil
	}
	m.working = false
	if msg.err != nil {
		m.message, m.wanted = msg.err.Error(), m.car
		if m.table != nil && m.car == msg.car { // a speed that the data do not serve
			m.speed = m.table.Speed
		}
		return m, nil
	}
	if d, ok := m.drilling(); ok && msg.car != m.car {
		m = d.done(m)
		m.message = "the car has changed: the hole is dropped"
	}
	before := m.row()
	var follow tea.Cmd
	if msg.car != m.car || m.frame == nil { // at another speed it holds as before
		m.frame, m.weak = nil, checking
		follow = hold(m.asked, msg.car)
	}
	m.car, m.places, m.table = msg.car, msg.places, msg.table
	if msg.grid != nil || m.grid == nil {
		if m.grid = msg.grid; m.grid == nil || m.order != bolting.ByAngle {
			m.grid = bolting.NewGrid(m.table, m.order)
		}
		m.focus = min(m.focus, len(m.car.Joints)-1)
	}
	m = m.find(before)
	if _, noting := in[noteMode](m); m.row() == nil && !noting { // nothing that is open has anything to be about
		m, _ = m.leave()
	}
	m, pick := m.pick()
	m, paint := m.workOutPaint()
	var again tea.Cmd
	if d, ok := in[drillMode](m); ok { // at the new speed
		d.strip = nil
		m, again = d.try(m)
		again = tea.Batch(again, d.workOutStrip(m))
	}
	return m, tea.Batch(follow, pick, paint, again)
}

// find goes to the row of the new table that is the one before, or the one nearest to
// its place.
func (m Model) find(before *model.Row) Model {
	switch {
	case before == nil:
		m.current = choose.Start(m.table)
	case len(m.table.Rows) == 0:
		m.current = 0
	default:
		m.current = choose.Nearest(m.table, before.Angle, before.Height)
		m = m.show(before.ID)
	}
	return m
}

// checking stands for strength until it is worked out.
const checking = "being worked out"

// watchEvery is how often the car file is looked at.
const watchEvery = time.Second

// lookMsg says that it is time to look at the files.
type lookMsg struct{}

func (lookMsg) take(m Model) (Model, tea.Cmd) {
	if m.proposed != nil { // which no file is changed of; the looks go on for the car behind it
		return m, tea.Tick(watchEvery, func(time.Time) tea.Msg { return lookMsg{} })
	}
	return m, m.look()
}

// watch waits for the next look at the files. In words there is one before each line.
func (m Model) watch() tea.Cmd {
	if m.src.Files == nil || m.words {
		return nil
	}
	return tea.Tick(watchEvery, func(time.Time) tea.Msg { return lookMsg{} })
}

// seenMsg is what a look at the files found.
type seenMsg struct {
	stamp string
	pages string        // stamp of the notebook
	book  *logbook.Book // nil when it has not changed
	car   *model.Car    // nil when nothing has changed or there are faults
	err   error
	can   can
	once  bool // no look is to follow
}

// look compares the files with what was seen last, and reads them if they have
// changed.
func (m Model) look() tea.Cmd {
	files, last, load := m.src.Files(m.car), m.stamp, m.src.Load
	pages, notes, src := m.pages, m.src.Notes, m.src
	return func() tea.Msg {
		seen := seenMsg{stamp: stampOf(files), pages: stampOf([]string{src.Notebook}), can: src.canUndo()}
		if notes != nil && seen.pages != pages {
			b, err := notes()
			if err != nil {
				b.Told = append(b.Told, err.Error())
			}
			seen.book = &b
		}
		if last != "" && seen.stamp != last {
			seen.car, seen.err = load()
		}
		return seen
	}
}

// lookOnce is look without another one after it.
func (m Model) lookOnce() tea.Cmd {
	look := m.look()
	return func() tea.Msg {
		msg, ok := look().(seenMsg)
		msg.once = ok
		return msg
	}
}

// stampOf changes when one of the files does.
func stampOf(files []string) string {
	var b strings.Builder
	for _, f := range files {
		if info, err := os.Stat(f); err != nil {
			b.WriteString("gone ")
		} else {
			fmt.Fprintf(&b, "%d %d ", info.Size(), info.ModTime().UnixNano())
		}
	}
	return b.String()
}

// take shows what a look at the files found. A broken save shows its faults and
// leaves the last good car in place.
func (msg seenMsg) take(m Model) (Model, tea.Cmd) {
	if m.proposed != nil { // it is looked at anew behind the proposal
		return lookMsg{}.take(m)
	}
	m.stamp, m.pages, m.can = msg.stamp, msg.pages, msg.can
	again := m.watch()
	if msg.once {
		again = nil
	}
	if msg.book != nil {
		before := m.book.Told
		m = m.withBook(*msg.book)
		if _, noting := in[noteMode](m); len(m.book.Told) > 0 && !noting && !slices.Equal(before, m.book.Told) {
			m.message = "notebook: " + units.Printable(strings.Join(m.book.Told, "; "))
		}
	}
	switch {
	case msg.err != nil:
		m.faults = strings.Split(msg.err.Error(), "\n")
		m.message = ""
		return m, again
	case msg.car != nil:
		m.faults = nil
		if !strings.Contains(m.message, "car file") { // what was written by oneself is said already
			m.message = "read again after a change of the file"
		}
		if m.speed == m.car.Speed { // the person has not chosen another
			m.speed = msg.car.Speed
		}
		m.base = msg.car
		m, cmd := m.ask(m.laidOn(msg.car), nil)
		return m, tea.Batch(cmd, again)
	}
	return m, again
}
