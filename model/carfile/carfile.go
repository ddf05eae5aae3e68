// Package carfile reads car files, format 1: the TOML in which a person writes
// down what is bolted to what. It is the one door at which units are converted
// and faults are found: every fault in a file is reported in one go, each with
// its line and column, and what to do about it.
package carfile

import (
	"io/fs"
	"path/filepath"

	"stanchion/model"
	"stanchion/model/files"
)

// Open reads a file that a car file names, such as a wing's table.
type Open func(name string) ([]byte, error)

// MaxSize is the largest car file that is read, bytes.
const MaxSize = 16 << 20

// Load reads the car file at path; files that it names lie beside it, in the folder
// of the file itself where path is a link. The error is a Faults when the file can be
// read but not used.
func Load(path string) (*model.Car, error) {
	data, err := files.Read(path, MaxSize)
	if err != nil {
		return nil, err
	}
	return parseIn(folder(path), path, data)
}

// Edited is Load for a text that is to take the place of the file at path.
func Edited(path string, data []byte) (*model.Car, error) { return parseIn(folder(path), path, data) }

// Check says what is wrong with a text that is to take the place of the file at path.
func Check(path string, data []byte) error {
	_, err := Edited(path, data)
	return err
}

func parseIn(dir, path string, data []byte) (*model.Car, error) {
	return parse(path, dir, data, func(name string) ([]byte, error) { return files.Read(beside(dir, name), MaxSize) })
}

// folder is where the file itself lies, behind all links.
func folder(path string) string {
	if real, err := files.Resolve(path); err == nil {
		path = real
	}
	return filepath.Dir(path)
}

// beside is the path of a file that a car file in a folder names.
func beside(dir, name string) string {
	name = filepath.FromSlash(name)
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(dir, name)
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
	all := []string{path}
	if car != nil && car.Wing.File != "" {
		all = append(all, beside(folder(path), car.Wing.File))
	}
	return all
}
