// Package carfile reads car files, format 1: the TOML in which a person writes
// down what is bolted to what. It is the one door at which units are converted
// and faults are found: every fault in a file is reported in one go, each with
// its line and column, and what is allowed there.
package carfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"stanchion/model"
)

// Open reads a file that a car file names, such as a wing's table.
type Open func(name string) ([]byte, error)

// MaxSize is the largest car file that is read, bytes.
const MaxSize = 16 << 20

// Load reads the car file at path; files that it names lie beside it. The
// error is a Faults when the file can be read but not used.
func Load(path string) (*model.Car, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	dir := filepath.Dir(path)
	return parse(path, dir, data, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(dir, filepath.FromSlash(name))
		}
		return readFile(name)
	})
}

// LoadFS reads a car file from a file system.
func LoadFS(fsys fs.FS, name string) (*model.Car, error) {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	return Parse(name, data, func(other string) ([]byte, error) { return fs.ReadFile(fsys, other) })
}

// Files lists the files that a car is made of: the car file itself and those
// that it names, for watching them.
func Files(path string, car *model.Car) []string {
	files := []string{path}
	if car != nil && car.Wing.File != "" {
		name := filepath.FromSlash(car.Wing.File)
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(path), name)
		}
		files = append(files, name)
	}
	return files
}

var errTooLarge = errors.New("larger than 16 MiB: allowed is less")

func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	switch {
	case info.IsDir():
		return nil, &fs.PathError{Op: "read", Path: path, Err: errors.New("is a folder: allowed is a file")}
	case !info.Mode().IsRegular():
		return nil, &fs.PathError{Op: "read", Path: path, Err: errors.New("is not a regular file")}
	case info.Size() > MaxSize:
		return nil, &fs.PathError{Op: "read", Path: path, Err: errTooLarge}
	}
	return os.ReadFile(path)
}
