// Package logged reads what a data logger, a phone or a satellite receiver recorded on track: CSV of any kind, GPX and NMEA 0183. Files are
// read as a stream, and what is kept of them is bounded. A broken line costs that line; what was left out is counted by its reason.
//
// Times are in seconds from the first sample, positions in degrees (WGS84) and in metres on a plane (x east, y north), speeds in m/s,
// accelerations in m/s², ride heights and travels in mm. What a sample does not tell is NaN. The package knows no car.
package logged

import (
	"fmt"
	"math"
	"time"
)

// Channel is what a sample tells of.
type Channel int

// The channels.
const (
	Speed       Channel = iota // m/s
	Lat                        // degrees, north positive
	Lon                        // degrees, east positive
	Elevation                  // m
	Distance                   // m, driven
	FrontRide                  // mm, ride height
	RearRide                   // mm
	FrontTravel                // mm of a damper, more where it is compressed
	RearTravel                 // mm
	LongAcc                    // m/s², forwards positive
	LatAcc                     // m/s², either sign convention
	Throttle                   // % or whatever the logger has; none is 0
	Brake                      // in the logger's unit; none is 0
	Lap                        // number
	Channels
)

// channelRow is what a channel goes by.
type channelRow struct{ key, name string }

var channelRows = [Channels]channelRow{
	Speed: {"speed", "speed"}, Lat: {"lat", "latitude"}, Lon: {"lon", "longitude"}, Elevation: {"elevation", "elevation"},
	Distance: {"distance", "distance"}, FrontRide: {"front_ride", "front ride height"}, RearRide: {"rear_ride", "rear ride height"},
	FrontTravel: {"front_travel", "front damper travel"}, RearTravel: {"rear_travel", "rear damper travel"},
	LongAcc: {"long_acc", "longitudinal acceleration"}, LatAcc: {"lat_acc", "lateral acceleration"}, Throttle: {"throttle", "throttle"},
	Brake: {"brake", "brake"}, Lap: {"lap", "lap number"},
}

// Key is what the channel is called in flags, files and JSON.
func (c Channel) Key() string { return channelRows[c].key }

// String is what the channel is called on screens.
func (c Channel) String() string { return channelRows[c].name }

// Sample is one moment.
type Sample struct {
	T        float64 // s since the first sample
	Placed   float64 // s, when the position was taken; NaN where there is none
	At       [Channels]float64
	X, Y     float64 // m on the plane; NaN without a position
	Break    bool    // nothing is known of the time between the sample before and this one
	Line     int     // of the file
	absolute float64 // s, as stamped
}

// Has reports whether the sample tells of a channel.
func (s *Sample) Has(c Channel) bool { return !math.IsNaN(s.At[c]) }

// blank returns a sample that tells nothing.
func blank() Sample {
	s := Sample{T: math.NaN(), Placed: math.NaN(), X: math.NaN(), Y: math.NaN(), absolute: math.NaN()}
	for c := range s.At {
		s.At[c] = math.NaN()
	}
	return s
}

// Format is the kind of file.
type Format string

// The formats.
const (
	CSV  Format = "CSV"
	GPX  Format = "GPX"
	NMEA Format = "NMEA 0183"
)

// Log is what was read of one file.
type Log struct {
	Format  Format
	Samples []Sample
	Begun   time.Time // of the first sample; zero where stamps have no date
	Has     [Channels]bool
	Columns []Column // of a CSV, those that are used
	Unused  []string // names of the others
	Told    Told
	Step    float64 // s; samples closer than this were averaged, 0 for none

	SpeedFromPosition bool    // speeds were worked out from positions
	SpeedStdUnc       float64 // m/s, of such a speed, by the scatter of the positions; NaN otherwise
	PlaceScatter      float64 // m, of a position about its neighbours, each way; NaN without positions
	Stamp             float64 // s, the step that stamps are in; 0 where they are finer than 1 ms
}

// Span is the time from the first to the last sample, s.
func (l *Log) Span() float64 {
	if len(l.Samples) == 0 {
		return 0
	}
	return l.Samples[len(l.Samples)-1].T - l.Samples[0].T
}

// Reason is why something was left out.
type Reason int

// The reasons.
const (
	BadLine   Reason = iota // not a row, sentence or point
	BadNumber               // not a number
	OutOfRange
	NoTime
	TimeBack
	DoubledTime
	Jump     // a position that would take more than MaxSpeed to come to
	NoFix    // the receiver says that it has no position
	Checksum // of a sentence does not fit
	Reasons
)

var reasonRows = [Reasons]channelRow{
	BadLine: {"broken_line", "not a line of data"}, BadNumber: {"bad_number", "not a number"}, OutOfRange: {"out_of_range", "out of range"},
	NoTime: {"no_time", "no time"}, TimeBack: {"time_back", "time goes back"}, DoubledTime: {"doubled_time", "the same time again"},
	Jump: {"position_jump", "the position jumps"}, NoFix: {"no_fix", "the receiver had no position"}, Checksum: {"checksum", "the checksum does not fit"},
}

// Key is what the reason is called in machine-readable output.
func (r Reason) Key() string { return reasonRows[r].key }

func (r Reason) String() string { return reasonRows[r].name }

// Fault is one thing that was left out.
type Fault struct {
	Line   int
	Column string // name of it, as the file has it; "" for the whole line
	Why    Reason
	Text   string // what stands there, cut short; not fit for a terminal
}

// mostNamed is how many faults are kept with their place.
const mostNamed = 5

// Told is what is odd about a file.
type Told struct {
	Read   int // samples that were read
	Left   [Reasons]int
	First  []Fault // the first few
	Gaps   int     // times of more than LongestStep without a sample
	Gap    float64 // s, the longest
	Resets int     // times at which the clock was set, so that what follows stands behind what came before
	CutAt  int     // line at which the rest of the file could not be read; 0 where it was
	CutWhy string  // not fit for a terminal
}

func (t *Told) leave(f Fault) {
	t.Left[f.Why]++
	if len(t.First) < mostNamed {
		if r := []rune(f.Text); len(r) > 40 {
			f.Text = string(r[:40])
		}
		t.First = append(t.First, f)
	}
}

// Sum is how much was left out in all.
func (t *Told) Sum() (n int) {
	for _, k := range t.Left {
		n += k
	}
	return n
}

// Limits of what a sample can be.
const (
	MaxSpeed    = 110 // m/s between two positions. No source: faster than any car on a track day
	LongestStep = 2   // s between samples that belong together
)

// NeedColumns says that a table's columns cannot be told.
type NeedColumns struct {
	Missing []string // keys
	Names   []string // that the table has
	Unit    bool     // the column is there, its unit is not
}

func (e *NeedColumns) Error() string {
	if e.Unit {
		return fmt.Sprintf("the unit of %v is not said", e.Missing)
	}
	return fmt.Sprintf("no column for %v", e.Missing)
}
