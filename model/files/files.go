// Package files reads and replaces a person's files without losing what is in them:
// only regular files are read, a file is replaced in one go and only while it still
// holds what was read from it, and what was typed but not saved is kept as a draft.
package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// ErrChanged says that a file no longer holds what was read from it.
var ErrChanged = errors.New("has changed meanwhile and is left as it is")

// Resolve returns the file that a path leads to through all links, so that one file
// has one name. A file that is not there yet gets its folder's.
func Resolve(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if !errors.Is(err, fs.ErrNotExist) {
		return real, err
	}
	if to, err := os.Readlink(path); err == nil { // a link to what is not there
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		if to == path {
			return "", &fs.PathError{Op: "resolve", Path: path, Err: fs.ErrNotExist}
		}
		path = to
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, filepath.Base(path)), nil
}

// Read reads a regular file of at most max bytes. Devices, pipes and folders are
// refused before they are opened, since opening one may wait for ever and reading one
// may never end.
func Read(path string, max int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if err := regular(path, info); err != nil {
		return nil, err
	}
	if info.Size() > max {
		return nil, tooLarge(path, max)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return ReadOpen(f, max)
}

// Open opens a regular file for reading as a stream, and tells its size. Devices, pipes and folders are refused as by Read.
func Open(path string) (f *os.File, size int64, err error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, 0, err
	}
	if err := regular(path, info); err != nil {
		return nil, 0, err
	}
	f, err = os.Open(path)
	return f, info.Size(), err
}

// ReadOpen reads a file that is open from where it stands, up to max bytes.
func ReadOpen(f *os.File, max int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(f, max+1))
	if err == nil && int64(len(data)) > max {
		err = tooLarge(f.Name(), max)
	}
	return data, err
}

func tooLarge(path string, max int64) error {
	return &fs.PathError{Op: "read", Path: path, Err: fmt.Errorf("is larger than %d MiB", max>>20)}
}

func regular(path string, info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return &fs.PathError{Op: "read", Path: path, Err: errors.New("is a folder; name a file")}
	case !info.Mode().IsRegular():
		return &fs.PathError{Op: "read", Path: path, Err: errors.New("is not a regular file; name a file on a disk")}
	}
	return nil
}

// Regular returns an error unless path is a regular file or nothing at all.
func Regular(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	}
	return regular(path, info)
}

// disk is what replacing does to files; tests put faults into it.
type disk struct {
	sync func(*os.File) error
}

// Replace puts is in the place of a file that still holds was. The new file is
// written and on the disk before the old one is looked at for the last time, so that
// between that look and the exchange no slow work lies. Mode and owner stay. The
// error is ErrChanged when the file holds something else by now.
func Replace(path string, was, is []byte) error {
	return disk{(*os.File).Sync}.replace(path, was, is)
}

func (d disk) replace(path string, was, is []byte) error {
	path, err := Resolve(path)
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if err := writable(path, info); err != nil {
		return err
	}
	tidy(path)
	fresh, err := d.temporary(path, is, info)
	if err != nil {
		return err
	}
	now, err := Read(path, int64(len(was))+1)
	if err == nil && !bytes.Equal(now, was) || err != nil && !errors.Is(err, fs.ErrNotExist) {
		err = ErrChanged
	}
	if err == nil {
		err = os.Rename(fresh, path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(fresh))
	}
	return SyncDir(filepath.Dir(path))
}

// writable refuses a file that its owner has made read-only, which renaming another
// over it would not notice.
func writable(path string, info fs.FileInfo) error {
	if info.Mode().Perm()&0o222 == 0 {
		return &fs.PathError{Op: "write", Path: path, Err: errors.New("is read-only; make it writable first")}
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

// temporary writes a file beside path, with the mode and the owner of the old one, and
// returns its name once it is on the disk.
func (d disk) temporary(path string, data []byte, like fs.FileInfo) (name string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), leftoverPrefix(path)+"*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	if err == nil {
		err = errors.Join(keepOwner(f, like), f.Chmod(like.Mode().Perm()))
	}
	if err == nil {
		err = d.sync(f)
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

func leftoverPrefix(path string) string { return "." + filepath.Base(path) + ".stanchion-" }

// leftoverAge is how old a temporary file must be to be one that a killed program
// left behind.
const leftoverAge = 10 * time.Minute

// tidy removes temporary files that a killed program left beside a file. That it
// cannot is no reason not to write.
func tidy(path string) {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && strings.HasPrefix(e.Name(), leftoverPrefix(path)) && time.Since(info.ModTime()) > leftoverAge {
			_ = os.Remove(filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
}

// Create writes a file that is not there yet; fs.ErrExist says that it is.
func Create(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return SyncDir(filepath.Dir(path))
}

// Output writes a file that a person asked for. One that is there is replaced only
// when replace says so, and is never left half-written.
func Output(path string, data []byte, replace bool) error {
	err := Create(path, data)
	if !errors.Is(err, fs.ErrExist) || !replace {
		return err
	}
	if err := Regular(path); err != nil {
		return err
	}
	was, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return Replace(path, was, data)
}

// SyncDir makes a name in a folder last. Systems that cannot sync a folder say so by
// an error that does not matter.
func SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, os.ErrInvalid) && !unsyncable(err) {
		return err
	}
	return nil
}
