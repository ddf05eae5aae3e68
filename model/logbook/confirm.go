package logbook

import (
	"fmt"
	"time"
)

// confirm makes the note that stands in for one changed by hand. Where another replaces that
// one already, it says no more than that it was seen.
func (b *recovering) confirm(id string) (Note, error) {
	var changed *block
	for i := range b.whole {
		if k := &b.whole[i]; k.wrong == "" && k.note.ID == id {
			changed = k
		}
	}
	switch {
	case changed == nil:
		return Note{}, fmt.Errorf("there is no note %q", id)
	case changed.sound || confirmedIn(b.whole)[changed.sum(b.data)]:
		return Note{}, fmt.Errorf("note %s is as it was written or confirmed: there is nothing to confirm", id)
	}
	n := changed.note
	for i := range b.whole {
		if k := &b.whole[i]; k.wrong == "" && k.note.Replaces == id && k.note.ID != id {
			n = Blank()
			n.At, n.Withdrawn = b.now.Truncate(time.Second), true
		}
	}
	if !n.Withdrawn || n.Replaces != "" {
		n.Replaces = id
	}
	n.ID, n.Confirms = b.fresh("", n.At), changed.sum(b.data)
	return n, nil
}

// confirming is the block of a confirmation: all that the changed note has, also keys that are
// not known.
func (r *Recovery) confirming(data []byte, n Note) []byte {
	for _, k := range blocks(ended(data)) {
		if k.wrong == "" && !k.sound && k.note.ID == n.Replaces && k.sum(data) == n.Confirms {
			body := rewritten(k.body(data), named{"id", n.ID}, named{"replaces", n.Replaces}, named{"confirms", n.Confirms})
			if text, err := sealed(body, n.ID); err == nil {
				return text
			}
		}
	}
	return encode(n)
}
