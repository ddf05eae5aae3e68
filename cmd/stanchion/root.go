package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"runtime/debug"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/units"
	"stanchion/tui"
	"stanchion/tui/widgets"
)

const about = `stanchion finds every way an adjustable rear wing can be bolted to its uprights,
and for each its height, angle, lift coefficient, downforce at a chosen speed,
drag, axle loads and shift of the front/rear balance.

CARFILE is a TOML file that says what is bolted to what; "stanchion new FILE"
writes one to start from. "demo", or "demo:NAME", stands for a demo car:
%s. All demo cars are invented.

Figures are estimates for choosing a setting. They do not say that a wing,
bracket or bolt is safe: have a licensed engineer check what runs on track or
road, and keep to local road rules and the event's technical rules.

Help on topics, "stanchion help TOPIC":
%s`

// extra are commands that only some builds have.
var extra []func() *cobra.Command

func newRoot() *cobra.Command {
	var speed, drawing string
	var plain bool
	root := &cobra.Command{
		Use:               "stanchion [CARFILE]",
		Short:             "every setting of an adjustable rear wing, and what it does to the car",
		Long:              fmt.Sprintf(about, strings.Join(carfile.Demos(), ", "), strings.TrimRight(topicList(), "\n")),
		Version:           versionLine(),
		Args:              oneCarFile,
		SilenceUsage:      true,
		SilenceErrors:     true,
		ValidArgsFunction: carFiles,
		Example: `  stanchion                       walk through the demo car's settings
  stanchion car.toml              walk through yours
  stanchion map car.toml          list all settings`,
		RunE: func(cmd *cobra.Command, args []string) error {
			name := "demo"
			if len(args) == 1 {
				name = args[0]
			}
			glyphs, err := glyphsFor(drawing)
			if err != nil {
				return err
			}
			if plain || wordsOnly() && term.IsTerminal(os.Stdout.Fd()) {
				return walkPlainly(cmd, name, speed)
			}
			return explore(name, speed, glyphs)
		},
	}
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w: see \"%s --help\"", err, c.CommandPath())
	})
	root.Flags().StringVar(&speed, "speed", "", "speed that figures are quoted at, `SPEED` such as 160km/h or 100mph")
	chosenUnits = new(unitChoice)
	chosenUnits.add(root)
	root.PersistentFlags().Bool(noPager, false, "do not show a long answer through $PAGER, on a terminal")
	root.PersistentPreRunE = func(*cobra.Command, []string) error { return chosenUnits.resolve() }
	root.Flags().BoolVar(&plain, "plain", false, "the same walk line by line in words, for a screen reader or a pipe")
	root.Flags().StringVar(&drawing, "drawing", "",
		"what the screen is drawn with: `braille, blocks or ascii` (default: what the locale and the terminal can show)")
	for _, job := range jobs() {
		root.AddGroup(&cobra.Group{ID: job.id, Title: job.title + ":"})
		for _, c := range job.commands {
			c.GroupID = job.id
			root.AddCommand(c)
		}
	}
	for _, more := range extra {
		root.AddCommand(more())
	}
	root.SetHelpCommand(newHelp())
	help := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		to := c.OutOrStdout()
		var text bytes.Buffer
		c.SetOut(&text)
		help(c, args)
		c.SetOut(to)
		_ = pageOf(c).verbatim(text.String())
	})
	root.InitDefaultCompletionCmd()
	ownScripts(root)
	withCompletion(root)
	needSubcommands(root)
	return root
}

// job is what a group of commands is for.
type job struct {
	id, title string
	commands  []*cobra.Command
}

// jobs lists the commands by what a person wants to do.
func jobs() []job {
	return []job{
		{"file", "Describe the car", []*cobra.Command{newStart(), newNew(), newCheck(), newImport(), newDatum(), newUndo(), newRedo(), newSchema()}},
		{"settings", "Look at settings and choose one", []*cobra.Command{newMap(), newShow(), newPick(), newCompare(), newSweep(), newFront(), newTrack(), newClaim(), newCard()}},
		{"why", "Ask how a figure comes about", []*cobra.Command{newExplain(), newWhy()}},
		{"safe", "Does it hold, does it clear", []*cobra.Command{newStrength(), newParts(), newClear()}},
		{"make", "Drill and make plates", []*cobra.Command{newHole(), newDesign(), newCutting(), newDraw()}},
		{"notes", "Between sessions", []*cobra.Command{newNote(), newLogged(), newLaps(), newPlan(), newChecks()}},
	}
}

// versionLine is the version that was linked in or, in a program that was built from a module or its checked-out source, what the Go
// tools know of it.
func versionLine() string {
	if version != "" {
		return withCommit(version, commit)
	}
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "dev"
	}
	return info.Main.Version
}

func withCommit(version, commit string) string {
	if commit == "" {
		return version
	}
	return version + " (" + commit + ")"
}

// explore opens the terminal screen.
func explore(name, speed string, glyphs widgets.Glyphs) error {
	if !term.IsTerminal(os.Stdout.Fd()) || !term.IsTerminal(os.Stdin.Fd()) {
		return errors.New("the explorer needs a terminal: use \"stanchion map CARFILE\" for a list, \"stanchion show CARFILE ID\" for one setting, or --plain")
	}
	m, err := opened(name, speed)
	if err != nil {
		return err
	}
	if w, h, err := term.GetSize(os.Stdout.Fd()); err == nil && w > 0 && (w < tui.MinWidth || h < tui.MinHeight) {
		return tui.Plain(m, os.Stdin, os.Stdout) // there is no room for a screen
	}
	return show(m.With(glyphs).Begun())
}

// show puts a model on the terminal, and prints what is left to say after it.
func show(m tea.Model) error {
	farewell, err := tui.Show(m)
	if farewell != "" {
		fmt.Println(farewell)
	}
	return err
}

// opened is the explorer of a car, before anything is shown.
func opened(name, speed string) (tui.Model, error) {
	src := source(name)
	car, err := src.Load()
	if err != nil {
		return tui.Model{}, err
	}
	v, err := chosenSpeed(car, speed)
	if err != nil {
		return tui.Model{}, err
	}
	return tui.New(src, car, v, shown(car)), nil
}

// walkPlainly is the explorer line by line.
func walkPlainly(cmd *cobra.Command, name, speed string) error {
	m, err := opened(name, speed)
	if err != nil {
		return err
	}
	return tui.Plain(m, cmd.InOrStdin(), cmd.OutOrStdout())
}

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
