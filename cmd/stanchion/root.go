package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/model/carfile"
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
