package choose

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/logbook"
)

// How far a setting must be from where it was noted for that not to count as the same place: more than
// what is read off a template. Common practice, no source.
const (
	movedAngle  = 0.5 // degrees
	movedHeight = 5.0 // mm
)

// Moved is a note whose setting was elsewhere when it was written: its holes have been moved since, or
// the car was measured anew. What it says was felt somewhere that the file no longer has.
type Moved struct {
	Note          string
	Row           *model.Row // where it is now
	Height, Angle float64    // where it was, mm and degrees; NaN where not noted
}

// movedSince returns where a note's setting was, and whether that is clearly elsewhere than the file gives it now. A
// setting that is gone has not moved, and one whose place was not noted is taken to be where it was.
func movedSince(t *model.Table, n *logbook.Note) (m Moved, elsewhere bool) {
	r, ok := t.Find(n.Setting)
	if !ok {
		return m, false
	}
	was := n.Expected
	return Moved{n.ID, r, was.Height, was.Angle}, math.Abs(was.Angle-r.Angle/plane.Deg) > movedAngle || math.Abs(was.Height-r.Height) > movedHeight
}

// moved reports whether a note's setting was elsewhere when it was written, and keeps where.
func (e *Evidence) moved(n *logbook.Note, t *model.Table) bool {
	m, elsewhere := movedSince(t, n)
	if elsewhere {
		e.Moved = append(e.Moved, m)
	}
	return elsewhere
}
