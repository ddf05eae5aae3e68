package logbook

import (
	"errors"
	"slices"
	"time"
)

// ErrNothingToUndo says that no note is in force that could be taken back.
var ErrNothingToUndo = errors.New("there is no note to take back")

// Undone is what was taken back.
type Undone struct {
	Note     Note   // that was taken back
	Back     *Note  // the note whose content is in force again; nil where none is
	Written  Note   // the note that does it
	SetAside string // the file that a torn end of the notebook was set aside in
}

// Undo takes the note back that was written last of those in force, by a note that replaces it: one
// that says so or, of a correction, one that has what the corrected note said. Nothing is
// deleted. Undone again it goes one note further back.
func Undo(path string, now time.Time) (Undone, error) { return realDisk.undo(path, now) }

func (d disk) undo(path string, now time.Time) (u Undone, err error) {
	u.SetAside, err = d.add(path, func(data []byte) (text []byte, err error) {
		u, text, err = planUndo(data, now)
		return text, err
	})
	return u, err
}

func planUndo(data []byte, now time.Time) (u Undone, text []byte, err error) {
	data = ended(data)
	var whole []block
	var notes []Note
	byID := map[string]int{} // the later one of an id
	_, ids := wholeNotes(data)
	for _, k := range blocks(data) {
		if k.wrong == "" {
			byID[k.note.ID] = len(whole)
			whole, notes = append(whole, k), append(notes, k.note)
		}
	}
	forced, _ := inForce(notes)
	inForce := map[string]bool{}
	for _, n := range forced {
		inForce[n.ID] = true
	}
	// A note that brings another one back counts as written when that one was.
	stands := func(i int) int {
		for range whole {
			to, there := byID[notes[i].Restores]
			if !there || to >= i {
				break
			}
			i = to
		}
		return i
	}
	last, at := -1, -1
	for i := range notes {
		if s := stands(i); inForce[notes[i].ID] && byID[notes[i].ID] == i && s > at {
			last, at = i, s
		}
	}
	if last < 0 {
		return u, nil, ErrNothingToUndo
	}
	u.Note = notes[last]
	if before, there := byID[notes[at].Replaces]; there && before < at && !elseCorrected(notes, inForce, byID, before, last) {
		old := whole[before]
		id := freshID(ids, old.note.At, namedIn(data)...)
		body := rewritten(old.body(data), changed(mapOf(&old, data), []named{{"id", id}, {"replaces", u.Note.ID}, {"restores", old.note.ID}})...)
		if text, err = sealed(body, id); err != nil {
			return u, nil, err
		}
		u.Written = blocks(text)[0].note
		if !old.note.Withdrawn {
			u.Back = &old.note
		}
		return u, text, nil
	}
	n := Blank()
	n.ID, n.Replaces, n.Withdrawn, n.At = freshID(ids, now, namedIn(data)...), u.Note.ID, true, now.Truncate(time.Second)
	u.Written = n
	return u, encode(n), nil
}

func mapOf(k *block, data []byte) map[string]any {
	of, _ := values(data[k.from:k.end])
	return of
}

// elseCorrected reports whether another note in force than one goes back to a note, by what it replaces
// and what that replaces.
func elseCorrected(notes []Note, inForce map[string]bool, byID map[string]int, of, but int) bool {
	return slices.ContainsFunc(notes, func(n Note) bool {
		if !inForce[n.ID] || n.ID == notes[but].ID {
			return false
		}
		for range notes {
			to, there := byID[n.Replaces]
			if !there {
				return false
			}
			if to == of {
				return true
			}
			n = notes[to]
		}
		return false
	})
}
