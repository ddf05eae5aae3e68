package model

import (
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Reading is what was measured with the wing bolted in one setting. Angles are the slope of the
// face that the level lay on, trailing edge up positive, whichever way round the level lay; heights
// are read with a tape from the floor.
type Reading struct {
	Setting       string       // id
	Angle         given.Number // rad, of the face to the level's own horizon
	Turned        given.Number // rad, the same with the level turned end for end
	Height        given.Number // mm, of the quarter-chord point above ground
	Leading       given.Number // mm, of the leading edge
	Trailing      given.Number // mm, of the trailing edge
	ReadingStdUnc given.Number // rad, standard uncertainty of one reading of the level
	TapeStdUnc    given.Number // mm, of one height
	Side          string       // "left", "right" or ""
	Face          string       // name of the Face that the level lay on; "" for the chord itself
	Floor         string       // name of the Floor that the car stood on; "" where the ground is level
	Rebolted      bool         // its bolts were taken out or slackened since the reading before
	Line          int          // of the car file; 0 for one that was typed
}

// Face is a place on the wing for a level that does not lie along the chord.
type Face struct {
	Name   string
	Angle  float64      // rad, the face's slope less the chord's, trailing edge up positive
	StdUnc given.Number // rad
}

// Floor is the level laid on the ground along the car, or on the car's sill, the same way round as
// on the wing: it has the ground's slope and the level's own zero in it.
type Floor struct {
	Name          string
	Angle         float64      // rad, rising to the rear positive
	Turned        given.Number // rad, with the level turned end for end
	ReadingStdUnc given.Number // rad, standard uncertainty of one reading
}

// DefaultReading is the standard uncertainty of an angle where the file gives none, rad: a
// digital level repeats to 0.2°. Common practice, no source.
const DefaultReading = 0.2 * plane.Deg

// DefaultTape is the standard uncertainty of a height read with a tape to the ground, mm.
// Common practice, no source.
const DefaultTape = 2.0

// MaxLevelZero is the largest zero error that is taken for a level's own, rad: two readings
// further apart than twice that were not typed with one sign. Common practice, no source.
const MaxLevelZero = 2 * plane.Deg

// AngleStdUnc returns the standard uncertainty of one reading of the level, rad.
func (r Reading) AngleStdUnc() float64 { return orDefault(r.ReadingStdUnc, DefaultReading) }

// HeightStdUnc returns the standard uncertainty of one height, mm.
func (r Reading) HeightStdUnc() float64 { return orDefault(r.TapeStdUnc, DefaultTape) }

// AngleStdUnc returns the standard uncertainty of one reading of the level, rad.
func (f Floor) AngleStdUnc() float64 { return orDefault(f.ReadingStdUnc, DefaultReading) }

// AngleStdUnc returns the standard uncertainty of the face's angle to the chord, rad.
func (f Face) AngleStdUnc() float64 { return orDefault(f.StdUnc, DefaultReading) }

func orDefault(n given.Number, otherwise float64) float64 {
	if u := n.Or(otherwise); u > 0 {
		return u
	}
	return otherwise
}

// Face returns the reference face of a name.
func (c *Car) Face(name string) (Face, bool) {
	for _, f := range c.Faces {
		if f.Name == name {
			return f, true
		}
	}
	return Face{}, false
}

// Floor returns the reading of the floor of a name.
func (c *Car) Floor(name string) (Floor, bool) {
	for _, f := range c.Floors {
		if f.Name == name {
			return f, true
		}
	}
	return Floor{}, false
}
