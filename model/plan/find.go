package plan

import (
	"fmt"
	"slices"
)

// Find is what a day is to find out.
type Find int

// What there is to find out.
const (
	Fastest   Find = iota // which setting is faster by laps
	Balance               // what a change of balance does, against the first setting
	Downforce             // how much there is, by ride heights at speed
	Drag                  // by top speeds
)

var findNames = []string{Fastest: "fastest", Balance: "balance", Downforce: "downforce", Drag: "drag"}

// Key is its name on the command line and in files.
func (f Find) Key() string { return findNames[f] }

// Finds lists the names.
func Finds() []string { return slices.Clone(findNames) }

// FindOf reads a name.
func FindOf(text string) (Find, error) {
	if i := slices.Index(findNames, text); i >= 0 {
		return Find(i), nil
	}
	return 0, fmt.Errorf("%q; it must be fastest, balance, downforce or drag", text)
}

// ByReadings reports whether it is found by readings of the car at speed, not by laps.
func (f Find) ByReadings() bool { return f == Downforce || f == Drag }
