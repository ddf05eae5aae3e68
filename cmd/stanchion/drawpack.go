package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/files"
	"stanchion/model/units"
)

// makePack writes what a workshop takes to make one part, or all plates but the fixed one, into a folder or a zip, and says what it is, in
// lines.
func (f *drawFlags) makePack(args []string) ([]string, error) {
	date, err := f.day()
	if err != nil {
		return nil, err
	}
	car, err := loadCar(args[0])
	if err != nil {
		return nil, err
	}
	var parts []int
	if len(args) == 2 {
		index, err := findPart(car, args[1])
		if err != nil {
			return nil, fmt.Errorf("PART %w", err)
		}
		parts = []int{index}
	} else {
		for i := 1; i < len(car.Parts)-1; i++ {
			if car.Parts[i].Outline != nil {
				parts = append(parts, i)
			}
		}
		if len(parts) == 0 {
			return nil, errors.New("no plate but the fixed part has an outline; name a PART, give one an outline, or take it from a drawing with \"stanchion import\"")
		}
	}
	var names []string
	for _, i := range parts {
		names = append(names, car.Parts[i].Name)
	}
	var all []drawing.File
	var lines []string
	for n, folder := range drawing.Folders(names) {
		var fresh []holes.Hole
		if len(f.places) > 0 {
			if fresh, err = f.fresh(car, parts[n]); err != nil {
				return nil, err
			}
		}
		made, err := f.packOf(car, parts[n], fresh, date)
		if err != nil {
			return nil, err
		}
		for _, m := range made {
			all = append(all, drawing.File{Name: folder + "/" + m.Name, Data: m.Data})
			lines = append(lines, "  "+folder+"/"+m.Name)
		}
		if text := warned(car.Parts[parts[n]], fresh, shown(car)); text != "" {
			lines = append(lines, strings.Split(text[1:], "\n")...)
		}
	}
	if err := f.writePack(args[0], all, date); err != nil {
		return nil, err
	}
	return append([]string{fmt.Sprintf("%s: what a workshop takes to make %s; read each .txt before you send it:", units.Printable(f.pack), units.Printable(strings.Join(names, ", ")))}, lines...), nil
}

// packOf makes the files of one part.
func (f *drawFlags) packOf(car *model.Car, index int, fresh []holes.Hole, date time.Time) ([]drawing.File, error) {
	release, err := f.cut.dxf()
	if err != nil {
		return nil, err
	}
	w := drawing.PackWanted{Wanted: f.wanted(fresh, date, shown(car)), Engrave: f.cut.engrave, Release: release}
	if f.paper != "" {
		p, err := f.sheet()
		if err != nil {
			return nil, err
		}
		w.Paper = &p
	}
	made, err := drawing.Pack(car, index, w)
	if err != nil {
		return nil, cannotCut(car.Parts[index].Name, err)
	}
	return made, err
}

// writePack writes the files into a folder, or a zip where the name says so; all of them or none.
func (f *drawFlags) writePack(car string, all []drawing.File, date time.Time) error {
	if strings.EqualFold(filepath.Ext(f.pack), ".zip") {
		data, err := zipped(all, date)
		if err != nil {
			return err
		}
		if err := f.mayWrite(car, f.pack); err != nil {
			return err
		}
		return writeOutput(f.pack, data, f.replace)
	}
	for _, m := range all {
		if err := f.mayWrite(car, filepath.Join(f.pack, filepath.FromSlash(m.Name))); err != nil {
			return err
		}
	}
	var made []string
	for _, m := range all {
		path := filepath.Join(f.pack, filepath.FromSlash(m.Name))
		_, before := os.Lstat(path)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return errors.Join(fmt.Errorf("%s: cannot be made: %w", filepath.Dir(path), plain(err)), remove(made))
		}
		if err := writeOutput(path, m.Data, f.replace); err != nil {
			return errors.Join(err, remove(made))
		}
		if errors.Is(before, fs.ErrNotExist) {
			made = append(made, path)
		}
	}
	return files.SyncDir(f.pack)
}

// remove takes files away that were made before one could not be.
func remove(made []string) error {
	var err error
	for _, m := range made {
		err = errors.Join(err, os.Remove(m))
	}
	return err
}

// zipped packs files; the same files give the same bytes.
func zipped(all []drawing.File, date time.Time) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, m := range all {
		w, err := z.CreateHeader(&zip.FileHeader{Name: m.Name, Method: zip.Deflate, Modified: date.UTC().Truncate(24 * time.Hour)})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(m.Data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
