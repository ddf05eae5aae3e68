package files

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"stanchion/model/units"
)

// History keeps dated copies of a file beside it, one for each change that the program makes, so that
// changes can be undone and redone on any later day. Copies are never deleted: what is undone, or
// overtaken by another change, stays in the folder.
type History struct {
	path string // of the file
	max  int64  // largest file
}

// HistoryOf returns the history of the file at a path, of files of at most max bytes.
func HistoryOf(path string, max int64) History { return History{path, max} }

// Folder is where the copies are.
func (h History) Folder() string { return h.path + ".backups" }

// order is the list of changes, oldest first, and which of the copies the file now is.
type order struct {
	at     int
	copies []kept
}

// kept is one copy: its name in the folder, and what the change to it was.
type kept struct{ name, what string }

// ErrNoChange says that there is nothing to undo or redo.
var ErrNoChange = errors.New("no change to go back to")

func (h History) list() string { return filepath.Join(h.Folder(), "order") }

func (h History) read() (order, error) {
	data, err := Read(h.list(), h.max)
	if errors.Is(err, fs.ErrNotExist) {
		return order{at: -1}, nil
	}
	if err != nil {
		return order{}, err
	}
	o := order{at: -1}
	for i, l := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		if i == 0 {
			if o.at, err = strconv.Atoi(strings.TrimPrefix(l, "now ")); err != nil {
				return order{}, fmt.Errorf("%s cannot be read; the copies beside it are whole", h.list())
			}
			continue
		}
		name, what, _ := strings.Cut(l, "\t")
		if name != filepath.Base(name) || name == "" {
			return order{}, fmt.Errorf("%s cannot be read; the copies beside it are whole", h.list())
		}
		o.copies = append(o.copies, kept{name, units.Printable(what)})
	}
	if o.at < -1 || o.at >= len(o.copies) {
		return order{}, fmt.Errorf("%s cannot be read; the copies beside it are whole", h.list())
	}
	return o, nil
}

// write puts a new list in the old one's place.
func (h History) write(o order) error {
	var b strings.Builder
	fmt.Fprintf(&b, "now %d\n", o.at)
	for _, k := range o.copies {
		fmt.Fprintf(&b, "%s\t%s\n", k.name, strings.NewReplacer("\n", " ", "\t", " ").Replace(k.what))
	}
	was, err := Read(h.list(), h.max)
	if errors.Is(err, fs.ErrNotExist) {
		return Create(h.list(), []byte(b.String()))
	}
	if err != nil {
		return err
	}
	return Replace(h.list(), was, []byte(b.String()))
}

// copy puts a dated copy of data into the folder.
func (h History) copy(data []byte, at time.Time) (string, error) {
	ext := filepath.Ext(h.path)
	for n := range 100 {
		name := at.Format("2006-01-02T15-04-05")
		if n > 0 {
			name += "-" + strconv.Itoa(n)
		}
		err := Create(filepath.Join(h.Folder(), name+ext), data)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		return name + ext, err
	}
	return "", fmt.Errorf("%s: too many copies within a second", h.Folder())
}

// is reports whether a copy has data in it.
func (h History) is(k kept, data []byte) bool {
	was, err := Read(filepath.Join(h.Folder(), k.name), h.max)
	return err == nil && bytes.Equal(was, data)
}

// Change puts a new content in the file's place, if it still is what it was, and notes the change with
// copies of both. The copy of what it was is on the disk before the file is touched.
func (h History) Change(was, is []byte, what string, at time.Time) error {
	if err := os.MkdirAll(h.Folder(), 0o755); err != nil {
		return err
	}
	o, err := h.read()
	if err != nil {
		return err
	}
	o.copies = o.copies[:o.at+1]
	if o.at < 0 || !h.is(o.copies[o.at], was) {
		name, err := h.copy(was, at)
		if err != nil {
			return err
		}
		o.copies = append(o.copies, kept{name, "as it was"})
	}
	name, err := h.copy(is, at)
	if err != nil {
		return err
	}
	if err := Replace(h.path, was, is); err != nil {
		return err
	}
	o.copies = append(o.copies, kept{name, what})
	o.at = len(o.copies) - 1
	return h.noted(o)
}

// noted writes the list of a change that is made. A fault of the list is not one of the file: nobody is to try the
// change again for it.
func (h History) noted(o order) error {
	if err := h.write(o); err != nil {
		return fmt.Errorf("%s is changed, but the list of its changes is not (%v): it cannot be undone from here; the version before is in %s",
			h.path, err, h.Folder())
	}
	return nil
}

// Undo puts the file back to what it was before the last change, and says which that was. It leaves a
// file alone that has been edited since.
func (h History) Undo() (what string, err error) { return h.step(-1) }

// Redo makes the change again that was undone last.
func (h History) Redo() (what string, err error) { return h.step(1) }

// Can says which change Undo and Redo would take; "" for none.
func (h History) Can() (undo, redo string) {
	o, err := h.read()
	if err != nil || o.at < 0 {
		return "", ""
	}
	if o.at > 0 && o.copies[o.at].what != "as it was" {
		undo = o.copies[o.at].what
	}
	if o.at+1 < len(o.copies) && o.copies[o.at+1].what != "as it was" {
		redo = o.copies[o.at+1].what
	}
	return undo, redo
}

func (h History) step(by int) (what string, err error) {
	o, err := h.read()
	if err != nil {
		return "", err
	}
	undo, redo := h.Can()
	what = undo
	if by > 0 {
		what = redo
	}
	if what == "" {
		return "", ErrNoChange
	}
	now, err := Read(h.path, h.max)
	if err != nil {
		return what, err
	}
	if !h.is(o.copies[o.at], now) {
		return what, fmt.Errorf("%s has been edited since and is left as it is; earlier versions are in %s", h.path, h.Folder())
	}
	to, err := Read(filepath.Join(h.Folder(), o.copies[o.at+by].name), h.max)
	if err != nil {
		return what, err
	}
	if err := Replace(h.path, now, to); err != nil {
		return what, err
	}
	o.at += by
	return what, h.noted(o)
}
