// Package logbook keeps the garage notebook: what was run, what it was predicted
// to do, and how it felt. The notebook is a plain TOML file next to the car
// file, written only by appending, one note after the other. Each note ends with
// a line that has its checksum, so that one which was cut short by a power cut is
// recognised, set aside and never swallows the note after it.
//
// A note is on the disk, file and folder, before Append returns. Several programs
// may append at once: a lock keeps them apart. Corrections are new notes that
// replace older ones; nothing is deleted.
//
// Speeds are in m/s, temperatures in °C, pressures in the units their fields
// name, as they are written in the file.
package logbook

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"time"

	"stanchion/model/files"
)

// Format is the newest format of notebooks that this package writes.
const Format = 1

// Note is one entry. Numbers that were not noted are NaN, feels NoFeel.
type Note struct {
	ID       string
	Replaces string // id of the note that this one corrects
	At       time.Time
	Venue    string
	Setting  string  // id of the setting, as bolted
	Fitted   bool    // it was bolted on, and not run yet: nothing else is noted
	Speed    float64 // m/s that the prediction is for
	Air      Air
	Tyres    [4]float64 // bar: front left, front right, rear left, rear right
	TyreSet  string     // type or set, as the person calls it
	Fuel     float64    // kg
	Driver   string
	Track    string  // TrackDry, TrackDamp, TrackWet; "" where not noted
	Lap      float64 // s
	TopSpeed float64 // m/s, as measured
	Sink     Sink

	SinkStdUnc     float64 // mm, of Sink.Front and Sink.Rear
	TopSpeedStdUnc float64 // m/s
	Coast          Coast

	Wind        Wind
	Rain        string       // RainNone, RainLight, RainHeavy; "" where not noted
	TyreLaps    float64      // that the tyres had done before the run
	LapsRun     float64      // of the run
	Laps        []LapTime    // of the run, in the order driven
	Adjustments []Adjustment // by name
	Minutes     float64      // that the change before the run took
	BoltsMoved  float64      // for it
	ChangedBy   string       // who turned the spanners

	Inspected Inspection // of a look over the car between sessions

	Feel     Feel
	Text     string
	Car      string // digest of the car file then
	Expected Prediction
}

// How a track is.
const (
	TrackDry  = "dry"
	TrackDamp = "damp"
	TrackWet  = "wet"
)

// Air is the weather of a note.
type Air struct{ Temperature, Pressure, Humidity float64 } // °C, hPa, %

// Sink is by how much the axles sank at a speed, mm, for learning from.
type Sink struct{ Speed, Front, Rear float64 } // m/s, mm, mm

// Prediction is what was predicted for the setting when the note was written.
type Prediction struct {
	Height, Angle, CL          float64 // mm, degrees
	Downforce, DownforceStdUnc float64 // N
	Drag, DragStdUnc           float64 // N
	Share, Shift               float64 // %, percentage points
}

// Blank returns a note in which nothing is noted.
func Blank() Note {
	n := math.NaN()
	return Note{
		Speed: n, Air: Air{n, n, n}, Tyres: [4]float64{n, n, n, n}, Fuel: n, Lap: n, TopSpeed: n,
		Sink: Sink{n, n, n}, SinkStdUnc: n, TopSpeedStdUnc: n, Coast: Coast{n, n}, Wind: Wind{n, n}, TyreLaps: n, LapsRun: n, Minutes: n, BoltsMoved: n,
		Feel:     noFeel,
		Expected: Prediction{n, n, n, n, n, n, n, n, n},
	}
}

// PathFor returns the notebook's path for a car file: "x.toml" has "x.notes.toml"
// beside it. A car file that is a link has the notebook of the file that it leads to.
func PathFor(carFile string) string {
	if real, err := files.Resolve(carFile); err == nil {
		carFile = real
	}
	ext := filepath.Ext(carFile)
	return strings.TrimSuffix(carFile, ext) + ".notes.toml"
}

// newID returns the id of the n-th note of a day.
func newID(at time.Time, n int) string { return fmt.Sprintf("%s.%d", at.Format("2006-01-02"), n) }
