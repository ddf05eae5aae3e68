package plan

import (
	"fmt"
	"slices"

	"stanchion/model"
	"stanchion/model/files"
)

// Save writes a plan file, unless it was changed since it was read.
func (k *Kept) Save(path string) error {
	text := []byte(k.Text())
	if k.data == nil {
		return files.Create(path, text)
	}
	return files.Replace(path, k.data, text)
}

// Over is the file that is there, for a plan that takes its place.
func (k *Kept) Over(next Kept) Kept {
	next.data = k.data
	return next
}

// Follow is the wish that leads to the plan again, with what has become of its sessions; gone are settings that the car no longer has.
func (k *Kept) Follow(t *model.Table) (w Wish, gone []string) {
	w = k.Wish
	for _, id := range k.Settings {
		if r, ok := t.Find(id); ok {
			w.Named = append(w.Named, r)
		} else {
			gone = append(gone, id)
		}
	}
	return w, gone
}

// Mark says what became of session n, from 1, which must be the next that is planned, or one that is over already.
func (k *Kept) Mark(n int, state State, setting string) error {
	switch {
	case n < 1 || n > len(k.Planned):
		return fmt.Errorf("session %d; the plan has sessions 1 to %d", n, len(k.Planned))
	case n > len(k.Past)+1:
		return fmt.Errorf("session %d: what became of session %d is not said; say whether it was run or lost", n, len(k.Past)+1)
	}
	if state == Run && setting == "" {
		setting = k.Planned[n-1]
		if setting == "" {
			return fmt.Errorf("session %d was lost; with which setting it was run after all is not known: note it, and give --from-notes", n)
		}
	}
	if state != Run {
		setting = ""
	}
	past := slices.Clone(k.Past)
	if n > len(past) {
		past = append(past, Past{})
	}
	past[n-1] = Past{state, setting}
	k.Past = past
	k.Planned = slices.Clone(k.Planned)
	k.Planned[n-1] = setting
	return nil
}

// Unmark takes back what was said of the last session that is over; it reports whether there was one.
func (k *Kept) Unmark() bool {
	if len(k.Past) == 0 {
		return false
	}
	k.Past = slices.Clone(k.Past[:len(k.Past)-1])
	return true
}
