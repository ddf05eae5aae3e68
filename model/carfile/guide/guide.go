// Package guide holds the questions of the guided start, and makes a car file of the answers.
//
// Which questions there are depends on the answers (Questions). There are two roads: plates that
// exist and are measured, and plates that are going to be made. Nothing is put into the file
// that was not answered: a value may be left open by "?", and is then assumed and marked; what is
// optional and left blank is not in the file. Lengths are in mm, angles in degrees; the package
// asks and reads in a unit system.
package guide

import (
	"maps"
	"strconv"
	"strings"

	"stanchion/model/units"
)

// Question is one thing that a guided start asks.
type Question struct {
	Key      string // of its answer
	Name     string // what is asked for, in a list
	Ask      string
	How      string // how to measure or to type it
	Choices  []Choice
	Optional bool // may be left blank, and is then not in the file
	View     View // what its picture shows
	Mark     Mark // the measure that is set off there
	kind     kindOf
	open     any     // what is assumed when it is left open: a text, or a number in mm, kg, km/h or °; nil when it may not be
	lo, hi   float64 // what a number may be
	part     int     // number of the part that it is about, from 1; 0 for none
	group    int     // of the part's holes, from 1; 0 for none
}

// Choice is one of the answers to choose from, typed by its number or its word.
type Choice struct{ Word, Text string }

// kindOf says what a question asks for.
type kindOf int

const (
	aText kindOf = iota
	aChoice
	aLength
	aMass
	aSpeed // km/h
	anAngle
	aCount
	whichOf // how many rows or columns, or which of an even pattern
	aBolt
	aSection
	aSpan // between two holes, by their edges or centres
	aPlace
	aPivot // a place, or the name of a hole
	someAngles
	somePlaces
	someDistances
	someLengths
	aDrawing
)

// Open is what is typed to leave a value open.
const Open = "?"

// Answers are what was typed, by the questions' keys; numbers with their units.
type Answers map[string]string

// With returns the answers with one more.
func (a Answers) With(key, text string) Answers {
	b := Answers{}
	maps.Copy(b, a)
	b[key] = text
	return b
}

// is reports whether a choice was answered with a word.
func (a Answers) is(key, word string) bool { return a[key] == word }

// leftOpen reports whether a value was left open.
func leftOpen(text string) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case Open, "later":
		return true
	}
	return false
}

// MayBeOpen reports whether the answer may be left open by "?".
func (q Question) MayBeOpen() bool { return q.open != nil }

// File names what is typed as the name of a drawing to read.
func (q Question) File() bool { return q.kind == aDrawing }

// Unit names the unit of a bare number; "" where no number is asked for.
func (q Question) Unit(u units.System) string {
	switch q.kind {
	case aLength, aSpan, aPlace, aPivot, somePlaces, someDistances, someLengths:
		return u.LengthUnit()
	case aMass:
		return u.MassUnit()
	case aSpeed:
		return u.SpeedUnit()
	case anAngle, someAngles:
		return "°"
	}
	return ""
}

// size is what one of the unit is in mm, kg, km/h or °.
func (q Question) size(u units.System) float64 {
	switch q.kind {
	case aLength, aSpan:
		return u.LengthSize()
	case aMass:
		return units.Masses[u.MassUnit()]
	case aSpeed:
		return units.Speeds[u.SpeedUnit()] / units.KPH
	}
	return 1
}

// Echo is an answer as it is kept: a bare number gets its unit, a choice is its word.
func (q Question) Echo(text string, u units.System) string {
	text = strings.TrimSpace(text)
	if text == "" || leftOpen(text) {
		if text != "" && q.open != nil {
			return Open
		}
		return text
	}
	switch q.kind {
	case aChoice:
		if c, ok := q.choice(text); ok {
			return c.Word
		}
	case aLength, aMass, aSpeed, aSpan:
		if last := text[len(text)-1]; last >= '0' && last <= '9' || last == '.' {
			return text + " " + q.Unit(u)
		}
	case anAngle:
		if last := text[len(text)-1]; last >= '0' && last <= '9' || last == '.' {
			return text + "°"
		}
	}
	return text
}

// choice finds what was chosen by its number or its word.
func (q Question) choice(text string) (Choice, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(text); err == nil {
		for i, c := range q.Choices {
			if q.Number(i) == n {
				return c, true
			}
		}
		return Choice{}, false
	}
	var found []Choice
	for _, c := range q.Choices {
		if c.Word == text {
			return c, true
		}
		if text != "" && strings.HasPrefix(c.Word, text) {
			found = append(found, c)
		}
	}
	if len(found) == 1 {
		return found[0], true
	}
	return Choice{}, false
}

// allWord ends the telling of a part's holes; it is choice 0.
const allWord = "all"

// Number is the number that the i-th choice is typed by.
func (q Question) Number(i int) int {
	if len(q.Choices) > 0 && q.Choices[0].Word == allWord {
		return i
	}
	return i + 1
}

// Short reports whether a length is asked for that is of a plate or the wing's section, not of the car.
func (q Question) Short() bool { return q.kind == aSpan || q.kind == aLength && q.hi <= 1000 }

// Single reports whether one number is asked for.
func (q Question) Single() bool {
	switch q.kind {
	case aLength, aMass, aSpeed, aSpan:
		return true
	}
	return false
}
