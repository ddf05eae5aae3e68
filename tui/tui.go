// Package tui is the explorer: the terminal screen on which a person walks
// through the settings of a car. It asks model for every figure and only lays
// out, draws and listens to keys. One root Model holds the state; panes are
// drawn by functions of that state, each into a rectangle given by layout.
//
// Nothing here reads a clock or a file outside of a command, so tests build a
// Model, send it messages and compare its View.
package tui

import (
	"fmt"
	"math"
	"os/exec"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// Source is where the car comes from.
type Source struct {
	Name  string // as the person named it
	Load  func() (*model.Car, error)
	Files func(*model.Car) []string // to watch for changes; nil for none

	Notebook string                                                          // path of the notebook, to watch; "" for none
	Notes    func() (logbook.Book, error)                                    // reads it; nil for none
	AddNote  func(logbook.Note) (n logbook.Note, setAside string, err error) // returns when the note is on the disk

	Now      func() time.Time          // the clock; nil for none, and all notes are of one day
	Plan     func() (plan.Kept, error) // reads the plan of a day; nil where none is kept
	KeepPlan func(plan.Kept) error     // returns when it is on the disk

	NoteDraft, GuideDraft *files.Draft // for what is typed and not saved; nil for none

	AddHole func(part string, h holes.Hole) error                                    // puts a hole in the file; nil where there is no file
	Change  func(what string, edits func(text []byte) ([]carfile.Edit, error)) error // changes the file; nil where there is no file
	Undo    func() (what string, err error)                                          // takes the file's last change back
	Redo    func() (what string, err error)                                          // makes it again
	CanUndo func() (undo, redo string)                                               // which changes these would be; nil where there is no file
	Editor  func(line int) (*exec.Cmd, error)                                        // opens the file in the person's editor; nil where there is no file
	Copy    func(text string) error                                                  // puts a text on the clipboard; nil where there is no terminal
	Run     func(args []string, u units.System, cells int) (text string, bad bool)   // runs a command, laid out in so many cells, 0 for any; nil where none can be

	Guide func(name string, text []byte) (next Source, err error) // writes a new car file; nil where none can be
	Open  func(name string) ([]byte, error)                       // reads a drawing for it; nil where none can be
	Text  func() ([]byte, error)                                  // the text of the car file, for a new one made of it; nil where there is none
	Plate plateSearch                                             // looks for plates; nil for design.Design

	GuideFile string // the name that is offered for it; "" for the usual one
	Hint      string // said when the explorer opens

	Solves bool // plates are solved as they are drawn, in the background
}

// Model is the state of the explorer.
type Model struct {
	src    Source
	car    *model.Car
	places []model.Position
	table  *model.Table // nil until the first answer is there
	frame  *strength.Analysis
	weak   string    // why there is no frame
	held   *holdings // what it said last; it hangs on frame and row alone

	solving *solving // what is being worked out of the setting on the screen; nil for nothing
	helped  *helped  // what would help the setting that was asked about last
	units   units.System

	base    *model.Car // as its file has it
	changes []change   // that can be undone, the last one last
	undone  []change   // that can be redone, the last one last
	can     can        // what the history of the car file can do
	first   tea.Cmd    // waits for the first answer when it is on its way already
	wanted  *model.Car // the one asked for last; car is the one shown
	speed   float64    // m/s, the one asked for; the table has the one it is for
	asked   int        // number of the last question sent off
	working bool

	current int
	keptID  string // id of the setting to compare with; "" for none
	onCar   string // id of the setting that is bolted on, as far as is known; "" for none
	grid    *bolting.Grid
	order   bolting.Order
	focus   int // the joint that was changed last
	sight   sight
	large   large
	paint   int         // index of what the maps are painted by
	slow    *paintedMsg // values of a painting that takes its time; nil for none
	asking  int         // index of the figure that the page on why is about
	memo    *memo
	added   []int // rows that a hole which is tried adds; nil else
	glyphs  widgets.Glyphs
	lid     float64 // rad that the boot lid is drawn open by

	open    mode // over the walk; nil while walking
	message string

	unsaved  []drill.NewHole  // kept for this walk, not in the file
	datum    *calibrate.Datum // the correction taken for this walk; nil for none
	readings calibrate.Typed  // readings of this walk, where there is no file for them
	unkept   string           // the line of a reading that was left with esc

	target      *choose.Criteria   // nil for none
	targetTyped []string           // what was typed into its form last
	targetDraft []string           // what was typed and left with esc; nil for nothing
	hits        []choose.Hit       // the settings that meet it, the best first
	picks       int                // number of the last question which settings meet it
	stopPick    func()             // ends the work on it; nil for none
	goToBest    bool               // the answer is to be gone to
	chances     map[string]float64 // that settings within the limits meet it, by id

	trials int    // number of the last question about a hole
	sweeps int    // number of the last question over speed
	stop   func() // ends the work on it; nil for none

	plates   plating   // what is wanted of new plates, and what was found
	proposed *proposed // the proposal that is walked through as if it were the car; nil for the car itself

	book     logbook.Book              // the notebook as it was read last
	bookRead int                       // how often it was read
	ran      map[string][]logbook.Note // its notes by setting
	draft    unsavedNote               // what was typed into a note that is not saved
	saving   bool                      // a note is on its way to the disk
	kept     int                       // number of the last draft that was sent to the disk
	warned   bool                      // that leaving loses something

	words    bool   // told line by line, without a screen
	farewell string // said when the screen is gone

	faults []string // of the car file as it now is; nil when it is sound
	stamp  string   // of the watched files
	pages  string   // stamp of the notebook

	width, height int
}

// New returns the explorer for a car at a speed in m/s. Its Init asks for the
// settings.
func New(src Source, car *model.Car, speed float64, u units.System) Model {
	return Model{src: src, car: car, base: car, wanted: car, speed: speed, units: u, asked: 1, working: true, message: src.Hint,
		held: &holdings{}, memo: &memo{}, focus: math.MaxInt}
}

// With returns the explorer drawn with other glyphs.
func (m Model) With(g widgets.Glyphs) Model {
	m.glyphs = g
	return m
}

// Init asks for the settings and starts watching the files.
func (m Model) Init() tea.Cmd {
	if m.car == nil {
		return m.readGuideDraft()
	}
	ask := solve(m.asked, m.car, nil, m.speed)
	if m.first != nil {
		ask = m.first
	}
	if m.src.Files == nil {
		return tea.Batch(ask, m.readNoteDraft())
	}
	return tea.Batch(ask, m.look(), m.readNoteDraft())
}

// Guided returns the explorer with the guided start open and no car yet.
func Guided(src Source, u units.System) Model {
	m := Model{src: src, units: u, held: &holdings{}, memo: &memo{}, focus: math.MaxInt}
	m, _ = m.startGuide()
	return m
}

// Begun returns the explorer with its first question on its way, while the terminal
// is still being made ready.
func (m Model) Begun() Model {
	if m.car == nil {
		return m
	}
	answer := make(chan func() tea.Msg, 1)
	ask := solve(m.asked, m.car, nil, m.speed)
	go func() {
		defer func() { // what goes wrong here goes wrong there, where the terminal is looked after
			if p := recover(); p != nil {
				answer <- func() tea.Msg { panic(p) }
			}
		}()
		msg := ask()
		answer <- func() tea.Msg { return msg }
	}()
	m.first = func() tea.Msg { return (<-answer)() }
	return m
}

// Farewell is what is left to say when the screen is gone.
func (m Model) Farewell() string { return m.farewell }

// row returns the current row, or nil when there is none.
func (m Model) row() *model.Row {
	if m.table == nil || m.current >= len(m.table.Rows) {
		return nil
	}
	return &m.table.Rows[m.current]
}

// keptRow returns the row that is kept for comparison, or nil.
func (m Model) keptRow() *model.Row {
	if m.table == nil || m.keptID == "" {
		return nil
	}
	r, _ := m.memo.keptIn(m.table, m.keptID)
	return r
}

// reference is the setting that others are compared with, and what it is called: the kept one, or else
// what is on the car.
func (m Model) reference() (r *model.Row, name string) {
	if k := m.keptRow(); k != nil {
		return k, "kept"
	}
	if m.table == nil || m.onCar == "" {
		return nil, ""
	}
	if r, ok := m.memo.onCarIn(m.table, m.onCar); ok {
		return r, "car"
	}
	return nil, ""
}

func needsReference(m Model) string {
	if r, _ := m.reference(); r == nil {
		return "nothing to compare with: space keeps this setting, @ marks it as on the car"
	}
	return needsRows(m)
}

// show goes to the setting with an id, with its own bolts: where another way of
// bolting the same place stands in the table, it takes that one's place.
func (m Model) show(id string) Model {
	i, ok := m.table.Index(id)
	if !ok {
		return m
	}
	before := m.row()
	m.current = i
	m.table, m.places = m.table.WithWay(i, id, m.places)
	return m.focused(before)
}

// focused notes which joint was changed by the step from a row to the one that is shown: close views
// follow it.
func (m Model) focused(from *model.Row) Model {
	if from == nil || m.row() == nil || len(from.Fits) != len(m.row().Fits) {
		return m
	}
	for j := range from.Fits {
		if from.Fits[j] != m.row().Fits[j] {
			m.focus = j
		}
	}
	return m
}

// goTo goes to a row of the table.
func (m Model) goTo(i int) Model {
	before := m.row()
	m.current = i
	return m.focused(before)
}

// nextWay shows the next way of bolting the place that is shown.
func (m Model) nextWay() (Model, tea.Cmd) {
	ids := append(m.row().AlternativeIDs(), m.row().ID)
	slices.Sort(ids)
	next := ids[(slices.Index(ids, m.row().ID)+1)%len(ids)]
	m = m.show(next)
	m.message = fmt.Sprintf("the same place bolted another way: %d of %d", slices.Index(ids, next)+1, len(ids))
	return m, nil
}

func needsWays(m Model) string {
	if why := needsRows(m); why != "" {
		return why
	}
	if len(m.row().Alternatives) == 0 {
		return "no other bolts put the wing in this place"
	}
	return ""
}
