package logbook

import (
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
	syncDir: syncDir,
}

// syncDir makes a new file's name last. Systems that cannot sync a folder say so
// by an error that does not matter.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, os.ErrInvalid) {
		return err
	}
	return nil
}

// lockWait is how long appending waits for another program.
const lockWait = 5 * time.Second

// Append puts a note at the end of the notebook at path and returns it with its
// id. It is on the disk then. A torn note at the end of the file is set aside
// before, with its bytes intact, in a file of its own whose name told holds. On
// an error there is no note, and none is written.
func Append(path string, n Note) (written Note, told string, err error) {
	return realDisk.append(path, n)
}

func (d disk) append(path string, n Note) (written Note, told string, err error) {
	lock := flock.New(path+".lock", flock.SetPermissions(0o600))
	ctx, cancel := context.WithTimeout(context.Background(), lockWait)
	defer cancel()
	ok, err := lock.TryLockContext(ctx, 5*time.Millisecond)
	if errors.Is(err, context.DeadlineExceeded) || err == nil && !ok {
		return Note{}, "", ErrBusy
	}
	if err != nil {
		return Note{}, "", fmt.Errorf("the notebook cannot be locked: %w", err)
	}
	// Once the note is synced, no fault of closing or unlocking takes it away:
	// reporting one would have the person write it twice.
	defer func() { _ = lock.Unlock() }()

	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return Note{}, "", err
	}
	defer func() { _ = f.Close() }()
	data, err := io.ReadAll(io.LimitReader(f, MaxSize+1))
	if err != nil {
		return Note{}, "", err
	}
	if f := formatOf(data); f > Format || f < 0 {
		return Note{}, "", ErrNewer
	}
	if len(data) > MaxSize {
		return Note{}, "", fmt.Errorf("%s is larger than 64 MiB", path)
	}
	length, ids := wholeNotes(ended(data))
	length = min(length, len(data))
	if torn := data[length:]; !blank(torn) {
		if told, err = d.setAside(path, torn); err != nil {
			return Note{}, "", fmt.Errorf("the torn note cannot be set aside: %w", err)
		}
		if err := f.Truncate(int64(length)); err != nil {
			return Note{}, told, err
		}
	} else {
		length = len(data)
	}
	n.ID = freshID(ids, n.At)
	var text []byte
	if length == 0 {
		text = append(text, head...)
	} else if data[length-1] != '\n' {
		text = append(text, '\n')
	}
	text = append(text, encode(n)...)
	if _, err := f.Seek(int64(length), io.SeekStart); err != nil {
		return Note{}, told, err
	}
	if _, err = d.write(f, text); err == nil {
		err = d.sync(f)
	}
	if err == nil && len(data) == 0 {
		err = d.syncDir(filepath.Dir(path))
	}
	if err != nil {
		// Nothing half-written stays: what cannot be taken back either is torn,
		// and is set aside at the next start.
		return Note{}, told, errors.Join(fmt.Errorf("the note is not saved: %w", err), f.Truncate(int64(length)))
	}
	return n, told, nil
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

// freshID returns an id that is not taken yet.
func freshID(taken []string, at time.Time) string {
	first := 1
	for _, id := range taken {
		if strings.HasPrefix(id, at.Format("2006-01-02.")) {
			first++
		}
	}
	for i := first; ; i++ {
		if id := newID(at, i); !slices.Contains(taken, id) {
			return id
		}
	}
}
