package logbook

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"stanchion/model/files"
)

// disk is what appending does to files; tests put faults into it.
type disk struct {
	write   func(f *os.File, data []byte) (int, error)
	sync    func(f *os.File) error
	syncDir func(dir string) error
}

var realDisk = disk{
	write:   func(f *os.File, data []byte) (int, error) { return f.Write(data) },
	sync:    func(f *os.File) error { return f.Sync() },
	syncDir: files.SyncDir,
}

// lockWait is how long appending waits for another program.
const lockWait = 5 * time.Second

// maxReplaced is how often a note is written again into a notebook that another
// program, such as an editor, put in the place of the one that it was written into.
const maxReplaced = 5

// Append puts a note at the end of the notebook at path and returns it with its
// id. It is on the disk then, in the file that the path leads to. A torn note at the
// end of the file is set aside before, with its bytes intact, in a file of its own
// whose name told holds. On an error there is no note, and none is written.
func Append(path string, n Note) (written Note, told string, err error) {
	return realDisk.append(path, n)
}

func (d disk) append(path string, n Note) (written Note, told string, err error) {
	n.At = n.At.Truncate(time.Second) // as it stands in the file
	told, err = d.add(path, func(data []byte) ([]byte, error) {
		_, ids := wholeNotes(ended(data))
		n.ID = freshID(ids, n.At, namedIn(data)...)
		return encode(n), nil
	})
	if err != nil {
		return Note{}, told, err
	}
	return n, told, nil
}

// compose makes what is put at the end of a notebook that holds data; nil for nothing. An
// empty text sets what is torn aside and puts nothing in its place.
type compose func(data []byte) (text []byte, err error)

// add puts what compose makes at the end of a notebook, in one go.
func (d disk) add(path string, make compose) (told string, err error) {
	path, err = files.Resolve(path) // so that all its names have one lock
	if err != nil {
		return "", err
	}
	unlock, err := lock(path)
	if err != nil {
		return "", err
	}
	defer unlock()
	return d.addLocked(path, make)
}

// addLocked is add for whoever holds the lock of the file that path leads to.
func (d disk) addLocked(path string, make compose) (told string, err error) {
	var text []byte // as it was last written
	for range maxReplaced {
		data, err := readAll(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return told, err
		}
		if text != nil && bytes.Contains(data, text) {
			return told, nil
		}
		if err != nil { // there is no file: none is made for nothing
			if text, err = make(nil); err != nil || len(text) == 0 {
				return told, err
			}
		}
		var aside string
		text, aside, err = d.appendTo(path, make)
		told = cmp.Or(told, aside)
		if err != nil || text == nil {
			return told, err
		}
	}
	return told, errors.New("the note is not saved: another program keeps putting other files in the notebook's place; close it in the editor")
}

// lock keeps other programs from appending. Any user who may read the lock's file may
// take it.
func lock(path string) (unlock func(), err error) {
	lock := flock.New(path+".lock", flock.SetPermissions(0o666))
	ctx, cancel := context.WithTimeout(context.Background(), lockWait)
	defer cancel()
	ok, err := lock.TryLockContext(ctx, 5*time.Millisecond)
	if errors.Is(err, context.DeadlineExceeded) || err == nil && !ok {
		return nil, ErrBusy
	}
	if err != nil {
		return nil, fmt.Errorf("the notebook cannot be locked: %w", err)
	}
	// Once the note is synced, no fault of unlocking takes it away: reporting one
	// would have the person write it twice.
	return func() { _ = lock.Unlock() }, nil
}

// appendTo writes what compose makes into the file that is at path now, and returns it.
func (d disk) appendTo(path string, make compose) (text []byte, told string, err error) {
	if err := files.Regular(path); err != nil {
		return nil, "", err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, "", err
	}
	defer func() { _ = f.Close() }()
	data, err := files.ReadOpen(f, MaxSize)
	if err != nil {
		return nil, "", err
	}
	if err := readable(path, data); err != nil {
		return nil, "", err
	}
	if f := formatOf(data); f > Format || f < 0 {
		return nil, "", ErrNewer
	}
	length, _ := wholeNotes(ended(data))
	length = min(length, len(data))
	if text, err = make(slices.Clip(data)); err != nil || text == nil {
		return nil, "", err
	}
	if len(data)+len(text) > MaxSize {
		return nil, "", fmt.Errorf("the note is not saved: the notebook would be larger than %d MiB", MaxSize>>20)
	}
	if torn := data[length:]; !blank(torn) {
		if told, err = d.setAside(path, torn); err != nil {
			return nil, "", fmt.Errorf("the torn note cannot be set aside: %w", err)
		}
		if err := f.Truncate(int64(length)); err != nil {
			return nil, told, err
		}
	} else {
		length = len(data)
	}
	var before []byte
	if length == 0 {
		before = []byte(head)
	} else if data[length-1] != '\n' {
		before = []byte("\n")
	}
	if _, err := f.Seek(int64(length), io.SeekStart); err != nil {
		return nil, told, err
	}
	if _, err = d.write(f, append(before, text...)); err == nil {
		err = d.sync(f)
	}
	if err == nil && len(data) == 0 {
		err = d.syncDir(filepath.Dir(path))
	}
	if err != nil {
		// Nothing half-written stays: what cannot be taken back either is torn,
		// and is set aside at the next start.
		return nil, told, errors.Join(fmt.Errorf("the note is not saved: %w", err), f.Truncate(int64(length)))
	}
	return text, told, nil
}

// setAside writes torn bytes into a new file beside the notebook.
func (d disk) setAside(path string, torn []byte) (name string, err error) {
	for i := 1; ; i++ {
		name = fmt.Sprintf("%s.torn-%d", path, i)
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = d.write(f, torn)
		if err == nil {
			err = d.sync(f)
		}
		if err = errors.Join(err, f.Close()); err != nil {
			return "", errors.Join(err, os.Remove(name))
		}
		return name, d.syncDir(filepath.Dir(path))
	}
}

// freshID returns an id that is not taken yet, and that no note names that has lost the one it means.
func freshID(taken []string, at time.Time, named ...string) string {
	first := 1
	for _, id := range taken {
		if strings.HasPrefix(id, at.Format("2006-01-02.")) {
			first++
		}
	}
	for i := first; ; i++ {
		if id := newID(at, i); !slices.Contains(taken, id) && !slices.Contains(named, id) {
			return id
		}
	}
}

// namedIn are the ids of notes that notes replace.
func namedIn(data []byte) (ids []string) {
	for rest := data; ; {
		_, after, ok := bytes.Cut(rest, []byte("\nreplaces = \""))
		if !ok {
			return ids
		}
		id, _, _ := bytes.Cut(after, []byte("\""))
		ids = append(ids, string(id))
		rest = after
	}
}
