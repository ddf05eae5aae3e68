package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"stanchion/model/files"
)

// recoveredMark begins what a note that was put back says of that.
const recoveredMark = "(recovered: "

// Recovered is a note that was cut short and is put back.
type Recovered struct {
	From     string // file that it is from; "" for the notebook itself
	Note     Note   // as it is put back
	WasID    string // its id in the piece; "" where that was cut off
	Keys     []string
	Cut      string   // the line that was cut off
	Unread   []string // other lines that cannot be read
	Filled   []string // keys taken over from the note that it corrects
	Guessed  bool     // its time was cut off: it is the file's
	TakenBy  string   // the note that corrects the same one already; it is taken back at once for that
	text     string   // of the note that it corrects, where its own was cut off
	takeBack []byte
	block    []byte
}

// Recovery is what putting back torn notes does, or would do.
type Recovery struct {
	Path      string
	Notes     []Recovered
	Held      []string // files, "" for the notebook, with pieces that stand in the book already
	Empty     []string // the same with pieces of which nothing can be read
	Confirmed []Note   // that replace notes changed by hand
	Aside     string   // the file that a torn end of the notebook was set aside in
	Renamed   []string // files of torn pieces by their new names
}

// Recover puts the torn notes in a notebook and beside it back into it, as far as they can be
// read, and confirms the notes that were changed by hand and are named. Without write it says
// what it would do and changes nothing. Torn files are renamed once what they hold is in the
// notebook; none is deleted.
func Recover(path string, confirm []string, write bool, now time.Time) (Recovery, error) {
	return realDisk.recover(path, confirm, write, now)
}

func (d disk) recover(path string, confirm []string, write bool, now time.Time) (r Recovery, err error) {
	if path, err = files.Resolve(path); err != nil {
		return r, err
	}
	plan := func(data []byte) (err error) {
		r, err = planRecovery(path, data, confirm, now)
		return err
	}
	if !write {
		data, err := readAll(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return r, err
		}
		if f := formatOf(data); f > Format || f < 0 {
			return r, ErrNewer
		}
		return r, plan(data)
	}
	unlock, err := lock(path)
	if err != nil {
		return r, err
	}
	defer unlock()
	aside, err := d.addLocked(path, func(data []byte) ([]byte, error) {
		err := plan(data)
		if err != nil {
			return nil, err
		}
		text := []byte(nil)
		for i := range r.Notes {
			text = append(append(text, r.Notes[i].block...), r.Notes[i].takeBack...)
		}
		for _, n := range r.Confirmed {
			text = append(text, r.confirming(data, n)...)
		}
		if text == nil {
			if length, _ := wholeNotes(ended(data)); length < len(data) && !blank(data[length:]) {
				text = []byte{} // so that the torn end is set aside
			}
		}
		return text, nil
	})
	r.Aside = aside
	if err != nil {
		return r, err
	}
	r.Renamed, err = d.renameHeld(path)
	return r, err
}

// planRecovery works out what is put back into a notebook that holds data.
func planRecovery(path string, data []byte, confirm []string, now time.Time) (Recovery, error) {
	r := Recovery{Path: path}
	type source struct {
		piece piece
		from  string
		at    time.Time
	}
	var all []source
	at := now
	if info, err := os.Stat(path); err == nil {
		at = info.ModTime()
	}
	take := func(from string, at time.Time, data []byte) {
		for _, p := range pieces(data) {
			switch {
			case p.says():
				all = append(all, source{p, from, at})
			case !slices.Contains(r.Empty, from):
				r.Empty = append(r.Empty, from)
			}
		}
	}
	torn, err := tornFiles(path)
	if err != nil {
		return r, err
	}
	for _, t := range torn {
		take(t.name, t.info.ModTime(), t.data)
	}
	data = ended(data)
	length, ids := wholeNotes(data)
	whole := blocks(data[:length])
	for i := range whole {
		if !whole[i].whole {
			take("", at, data[whole[i].from:whole[i].to])
		}
	}
	take("", at, data[length:])
	// The one with the most keys first: what is cut shorter and says no more is held by it.
	slices.SortStableFunc(all, func(a, b source) int { return len(b.piece.keys) - len(a.piece.keys) })
	book := &recovering{whole: whole, ids: ids, data: data, held: held(data), now: now}
	for i := range whole {
		if id := whole[i].note.ID; !slices.Contains(book.ids, id) {
			book.ids = append(book.ids, id)
		}
	}
	book.wanted = namedIn(data)
	for _, s := range all {
		book.wanted = append(book.wanted, s.piece.text("id"))
	}
	for _, s := range all {
		if book.held.holds(&s.piece) {
			if !slices.Contains(r.Held, s.from) {
				r.Held = append(r.Held, s.from)
			}
			continue
		}
		n, err := book.put(&s.piece, s.at)
		if err != nil {
			return r, fmt.Errorf("%s: %w", filepath.Base(s.from), err)
		}
		n.From = s.from
		r.Notes = append(r.Notes, n)
	}
	slices.SortStableFunc(r.Notes, func(a, b Recovered) int { return a.Note.At.Compare(b.Note.At) })
	for _, id := range confirm {
		n, err := book.confirm(id)
		if err != nil {
			return r, err
		}
		r.Confirmed = append(r.Confirmed, n)
	}
	return r, nil
}

// renameHeld gives the files of torn pieces all of which stand in the book another name.
func (d disk) renameHeld(path string) (renamed []string, err error) {
	data, err := readAll(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		return nil, err
	}
	torn, err := tornFiles(path)
	if err != nil {
		return nil, err
	}
	book := held(data)
	for _, t := range torn {
		if !settled(t.data, book) {
			continue
		}
		to, err := unused(path + ".recovered-")
		if err != nil {
			return renamed, err
		}
		if err := os.Rename(t.name, to); err != nil {
			return renamed, err
		}
		renamed = append(renamed, to)
	}
	if len(renamed) > 0 {
		err = d.syncDir(filepath.Dir(path))
	}
	return renamed, err
}

// unused is a name with a number behind it that no file has.
func unused(begin string) (string, error) {
	for i := 1; ; i++ {
		name := fmt.Sprint(begin, i)
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		} else if err != nil {
			return "", err
		}
	}
}
