package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/units"
	"stanchion/tui"
)

// source says where a car comes from: a demo or a file.
func source(name string) tui.Source {
	if demo, ok := demoName(name); ok {
		return tui.Source{Name: "demo:" + demo, Load: func() (*model.Car, error) { return carfile.Demo(demo) }, Guide: guided, Open: openDrawing,
			Text:       func() ([]byte, error) { return carText(name) },
			GuideDraft: guideDraft(),
			Copy:       copyText,
			Run:        runWithin,
			Solves:     true,
			Hint:       "invented demo car: arrows walk · s strength · N your own file · ? all keys"}
	}
	return tui.Source{
		Name:     name,
		Load:     func() (*model.Car, error) { return loadFile(name) },
		Files:    func(c *model.Car) []string { return carfile.Files(name, c) },
		Notebook: logbook.PathFor(name),
		Notes:    func() (logbook.Book, error) { return logbook.Read(logbook.PathFor(name)) },
		AddNote: func(n logbook.Note) (logbook.Note, string, error) {
			if n.Replaces == "" { // a correction is of the same run
				n.At = time.Now()
			}
			return saveNote(name, n)
		},
		Plan:       func() (plan.Kept, error) { return plan.Load(plan.PathFor(name)) },
		KeepPlan:   func(k plan.Kept) error { return k.Save(plan.PathFor(name)) },
		Now:        time.Now,
		Text:       func() ([]byte, error) { return carText(name) },
		Guide:      guided,
		Open:       openDrawing,
		NoteDraft:  files.NewDraft(logbook.PathFor(name) + ".draft"),
		GuideDraft: guideDraft(),
		AddHole: func(part string, h holes.Hole) error {
			_, _, err := changeFile(name, "hole "+h.ID+" in "+part, func(text []byte) ([]carfile.Edit, error) {
				e, err := carfile.AddHoles(text, part, []holes.Hole{h})
				return []carfile.Edit{e}, err
			})
			return err
		},
		Change: func(what string, edits func([]byte) ([]carfile.Edit, error)) error {
			_, _, err := changeFile(name, what, edits)
			return err
		},
		Undo:    func() (string, error) { return history(name).Undo() },
		Redo:    func() (string, error) { return history(name).Redo() },
		CanUndo: func() (string, string) { return history(name).Can() },
		Editor:  func(line int) (*exec.Cmd, error) { return editor(name, line) },
		Copy:    copyText,
		Run:     runWithin,
		Solves:  true,
	}
}

// loadCar reads the car that an argument names.
func loadCar(name string) (*model.Car, error) { return source(name).Load() }

func loadFile(name string) (*model.Car, error) {
	car, err := carfile.Load(name)
	var pe *fs.PathError
	if errors.As(err, &pe) && pe.Path == name {
		return nil, fmt.Errorf("%s: cannot be read: %w", name, pe.Err)
	}
	return car, err
}

// demoName reports whether an argument names a demo car. A file of that name
// comes first.
func demoName(name string) (string, bool) {
	rest, ok := strings.CutPrefix(name, "demo")
	if _, err := os.Stat(name); !ok || err == nil {
		return "", false
	}
	if rest == "" {
		return carfile.DemoName, true
	}
	rest, ok = strings.CutPrefix(rest, ":")
	for _, d := range carfile.Demos() {
		if ok && d == rest {
			return d, true
		}
	}
	return "", false
}

// chosenSpeed returns the speed that a flag names, or the car file's, m/s.
func chosenSpeed(car *model.Car, flag string) (float64, error) {
	if flag == "" {
		return car.Speed, nil
	}
	u := shown(car)
	v, err := units.Speeds.Parse(flag, u.SpeedUnit())
	if err != nil {
		return 0, fmt.Errorf("--speed %w", err)
	}
	if v <= 0 || v > model.MaxSpeed {
		return 0, fmt.Errorf("--speed %s; it must be more than 0, up to %s", flag, u.Speed(model.MaxSpeed))
	}
	return v, nil
}

// carFiles completes a car file or a demo's name.
func carFiles(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	names := []string{"demo"}
	for _, d := range carfile.Demos()[1:] {
		names = append(names, "demo:"+d)
	}
	return names, cobra.ShellCompDirectiveDefault
}
