package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"stanchion/model/files"
)

// Book is a notebook as it was read.
type Book struct {
	Path   string
	Notes  []Note   // those in force, the latest last: a note that was replaced is left out
	Checks []Note   // those in force that are about checks alone, which are no runs: not among Notes
	All    []Note   // every note that can be read
	Told   []string // what is odd: notes changed by hand, torn, or not to be read
	Newer  bool     // a newer format: to be read only
	torn   []byte   // what stands behind the last whole note
}

// maxTold is how many odd things are spelt out; of the rest the number is enough.
const maxTold = 50

// MaxSize is the largest notebook that is read, bytes.
const MaxSize = 64 << 20

// ErrNewer says that the notebook is of a newer format, which is not written to.
var ErrNewer = errors.New("the notebook is of a newer format: it is read only")

// ErrBusy says that another program kept the notebook locked.
var ErrBusy = errors.New("the notebook is in use by another program")

// Read reads the notebook at path. One that is not there is empty.
func Read(path string) (Book, error) {
	data, err := readAll(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Book{Path: path}, nil
	}
	if err != nil {
		return Book{Path: path}, err
	}
	return parse(path, data), nil
}

func readAll(path string) ([]byte, error) {
	data, err := files.Read(path, MaxSize)
	if err != nil {
		return nil, err
	}
	return data, readable(path, data)
}

// readable refuses text in two-byte characters, of which every note would look torn.
func readable(path string, data []byte) error {
	if len(data) >= 2 && (data[0] >= 0xFE && data[1] >= 0xFE || (data[0] == 0) != (data[1] == 0)) {
		return &fs.PathError{Op: "read", Path: path, Err: errors.New("is UTF-16; save it as UTF-8")}
	}
	return nil
}

// parse makes a book of a file's bytes.
func parse(path string, data []byte) Book {
	b := Book{Path: path}
	if f := formatOf(data); f > Format || f < 0 {
		b.Newer = true
		b.Told = append(b.Told, ErrNewer.Error())
	}
	data = ended(data)
	length, ids := wholeNotes(data)
	if rest := data[length:]; !blank(rest) {
		b.torn = rest
		b.Told = append(b.Told, fmt.Sprintf("the last note was cut short (%d bytes): the next note sets it aside", len(rest)))
	}
	b.All = make([]Note, 0, len(ids))
	met := make(map[string]bool, len(ids))
	for _, k := range blocks(data[:length]) {
		if k.wrong != "" {
			b.Told = append(b.Told, fmt.Sprintf("a note from byte %d on cannot be read: %s; it stays in the file", k.from, k.wrong))
			continue
		}
		if !k.sound {
			b.Told = append(b.Told, fmt.Sprintf("note %s was changed by hand since it was written", k.note.ID))
		}
		if len(k.odd) > 0 {
			b.Told = append(b.Told, fmt.Sprintf("note %s: not usable: %s", k.note.ID, strings.Join(k.odd, ", ")))
		}
		if met[k.note.ID] {
			b.Told = append(b.Told, fmt.Sprintf("the id %s is there twice: only the later one is found by it", k.note.ID))
		}
		met[k.note.ID] = true
		b.All = append(b.All, k.note)
	}
	if more := len(b.Told) - maxTold; more > 0 {
		b.Told = append(b.Told[:maxTold:maxTold], fmt.Sprintf("and %d more notes like these", more))
	}
	replaced := map[string]bool{}
	for _, n := range b.All {
		if n.Replaces != n.ID {
			replaced[n.Replaces] = true
		}
	}
	for _, n := range b.All {
		if !replaced[n.ID] {
			b.Notes = append(b.Notes, n)
		}
	}
	slices.SortStableFunc(b.Notes, func(x, y Note) int { return x.At.Compare(y.At) })
	b.Notes, b.Checks = apart(b.Notes)
	return b
}

func blank(data []byte) bool {
	for _, c := range data {
		if c != '\n' && c != '\r' && c != ' ' && c != '\t' {
			return false
		}
	}
	return true
}

// ended returns a file's bytes with the newline that some editors leave out at the
// end, if all that the last note lacks is that.
func ended(data []byte) []byte {
	if len(data) == 0 || data[len(data)-1] == '\n' {
		return data
	}
	with := append(slices.Clone(data), '\n')
	if length, _ := wholeNotes(with); length < len(with) {
		return data
	}
	if all := blocks(with); len(all) == 0 || !all[len(all)-1].sound {
		return data
	}
	return with
}

// wholeNotes returns how far a file is made of whole notes: to the end of its
// last closing line, or of its head when there is none, and of remarks behind it;
// and the ids of the notes up to there. It reads no more than it needs to, since every append asks.
func wholeNotes(data []byte) (length int, ids []string) {
	open := false
	for at := 0; at < len(data); {
		end := bytes.IndexByte(data[at:], '\n')
		if end < 0 {
			break // a line that is cut short is not whole
		}
		line := data[at : at+end]
		at += end + 1
		switch {
		case opens(line):
			open = true
		case bytes.HasPrefix(line, []byte(closing)):
			length, open = at, false
			if f := bytes.Fields(line[len(closing):]); len(f) > 0 {
				ids = append(ids, string(f[0]))
			}
		case len(ids) == 0 && bytes.HasPrefix(line, []byte("notes_format")):
			length = at
		case !open && len(ids) > 0 && bytes.HasPrefix(bytes.TrimSpace(line), []byte("#")):
			length = at // a remark of the person's
		}
	}
	return length, ids
}

// OnCar returns the id of the setting that is on the car, as far as the notebook knows: that of the
// last note; "" where there is none.
func (b Book) OnCar() string {
	for i := len(b.Notes) - 1; i >= 0; i-- {
		if b.Notes[i].Setting != "" {
			return b.Notes[i].Setting
		}
	}
	return ""
}

// Find returns the note with an id, also one that was replaced.
func (b Book) Find(id string) (Note, bool) {
	for i := len(b.All) - 1; i >= 0; i-- {
		if b.All[i].ID == id {
			return b.All[i], true
		}
	}
	return Note{}, false
}

// Replaceable returns the note with an id if a new one can still replace it.
func (b Book) Replaceable(id string) (Note, error) {
	n, ok := b.Find(id)
	if !ok {
		return n, fmt.Errorf("there is no note %q", id)
	}
	for _, by := range b.All {
		if by.Replaces == id && by.ID != id {
			return n, fmt.Errorf("note %s is replaced by %s already: correct that one", id, by.ID)
		}
	}
	return n, nil
}
