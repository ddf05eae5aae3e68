package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"stanchion/holes"
	"stanchion/model/drawing"
	"stanchion/model/units"
)

// allowed refuses flags that name no drawing, or more than one.
func (f *drawFlags) allowed(part bool, kind string) error {
	kinds := []string{"pdf", "svg", "png"}
	if f.photo.file != "" {
		kinds = []string{"png"}
	}
	if part {
		kinds = []string{"pdf", "svg", "dxf", "csv"}
	}
	if f.cut.only {
		kinds = []string{"dxf", "svg"}
	}
	chosen := 0
	for _, is := range []bool{part, f.setting != "", f.settings} {
		if is {
			chosen++
		}
	}
	switch {
	case chosen != 1:
		return errors.New("what to draw is not clear; give one of a PART, --setting ID and --settings")
	case f.out == "":
		return errors.New("no file to write; give -o FILE")
	case !slices.Contains(kinds, kind):
		return fmt.Errorf("-o %s; the name must end in .%s", f.out, strings.Join(kinds, ", ."))
	case f.setting == "" && (f.from != "" || f.photo.given()):
		return errors.New("--from, --photo and the wheels are for --setting ID")
	case f.photo.given() && f.photo.file == "":
		return errors.New("the wheels are of a photograph; give --photo FILE")
	case !part && f.template != "":
		return errors.New("--template is for a PART")
	case f.template != "" && f.cut.only:
		return errors.New("--template is a drawing for wood; give it without --cut")
	case !part && (len(f.places) > 0 || f.cut.only):
		return errors.New("--at and --cut are for a PART")
	case f.cut.engrave && !f.cut.only:
		return errors.New("--engrave is for --cut and --pack")
	}
	return f.spelt()
}

// packAllowed refuses flags that say nothing of a pack.
func (f *drawFlags) packAllowed(part bool) error {
	if len(f.places) > 0 && !part {
		return errors.New("--at is for a PART")
	}
	if f.out != "" || f.cut.only || f.setting != "" || f.settings || f.from != "" || f.photo.given() || f.template != "" {
		return errors.New("--pack makes all files of a part; give it without -o, --cut, --setting, --settings and --photo")
	}
	return f.spelt()
}

// spelt refuses values of flags that there are not.
func (f *drawFlags) spelt() error {
	if f.inches != "fractions" && f.inches != "decimals" {
		return fmt.Errorf("--inches %q; use fractions or decimals", f.inches)
	}
	if f.paper != "" {
		if _, err := f.sheet(); err != nil {
			return err
		}
	}
	_, err := f.cut.dxf()
	return err
}

// day is the date in the title.
func (f *drawFlags) day() (time.Time, error) {
	if f.date == "" {
		return time.Now(), nil
	}
	date, err := time.Parse("2006-01-02", f.date)
	if err != nil {
		return date, fmt.Errorf("--date %q; write it as 2026-05-31", f.date)
	}
	return date, nil
}

// sheet is the paper that was asked for.
func (f *drawFlags) sheet() (drawing.Paper, error) {
	p, ok := drawing.PaperNamed(f.paper)
	if !ok {
		return p, fmt.Errorf("--paper %q; use one of %s", f.paper, strings.Join(drawing.PaperNames(), ", "))
	}
	return p, nil
}

// wanted is how a part is to be drawn.
func (f *drawFlags) wanted(fresh []holes.Hole, date time.Time, u units.System) drawing.Wanted {
	return drawing.Wanted{Fresh: fresh, Date: date, Units: u, Decimals: f.inches == "decimals"}
}

// mayWrite refuses to write over a file that is there, unless it may be replaced, and over one that the car is made of.
func (f *drawFlags) mayWrite(name, to string) error {
	if !f.replace {
		if _, err := os.Lstat(to); err == nil {
			return fmt.Errorf("%s: exists already; choose another name, or give --replace", to)
		}
		return nil
	}
	car, err := loadCar(name)
	if err != nil {
		return err
	}
	there, err := os.Stat(to)
	if err != nil {
		return nil
	}
	if info, err := os.Stat(f.photo.file); f.photo.file != "" && err == nil && os.SameFile(info, there) {
		return fmt.Errorf("%s: is the photograph itself; choose another name", to)
	}
	src := source(name)
	if src.Files == nil {
		return nil
	}
	for _, file := range append(src.Files(car), src.Notebook) {
		if info, err := os.Stat(file); err == nil && os.SameFile(info, there) {
			return fmt.Errorf("%s: belongs to the car; choose another name", to)
		}
	}
	return nil
}
