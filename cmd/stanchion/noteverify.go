package main

import (
	"errors"
	"fmt"
	"io/fs"

	"github.com/spf13/cobra"

	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newNoteVerify() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "verify CARFILE",
		Short: "is anything wrong with the notebook?",
		Long: `verify reads the notebook and names what is wrong in it, with its line: notes that were
changed by hand, cut short or are not TOML, ids that are there twice, corrections of a note
that is not there or in a circle, values that cannot be used; and the files beside it in
which notes that were cut short were set aside, with what they hold.

Exit code 0 means that all is well, 1 that something was found, 2 that the notebook cannot be
read.`,
		Example:           "  stanchion note verify car.toml\n  stanchion note verify car.toml --format json",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: onNotebook(&o, func(cmd *cobra.Command, args []string, path string) error {
			v, err := logbook.Verify(path)
			if errors.Is(err, fs.ErrNotExist) {
				return noAnswer("%s: there is no notebook %s", args[0], path)
			}
			if err != nil {
				return fmt.Errorf("the notebook cannot be read: %w", err)
			}
			if o.format == "json" {
				err = verifiedJSON(cmd, &v)
			} else {
				err = verifiedText(cmd, &v)
			}
			if err == nil && len(v.Findings) > 0 {
				return noAnswer("")
			}
			return err
		}),
	}
	o.add(c, "", "text", "json")
	return c
}

// onNotebook runs what a command does with the notebook of the car file that it is given first.
func onNotebook(o *options, run func(cmd *cobra.Command, args []string, path string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		if err := o.check(); err != nil {
			return err
		}
		path, err := notebookOf(args[0])
		if err != nil {
			return err
		}
		return run(cmd, args, path)
	}
}

// notebookOf is the path of a car file's notebook.
func notebookOf(carFile string) (string, error) {
	if _, demo := demoName(carFile); demo {
		return "", errors.New("a demo car has no notebook: \"stanchion new FILE --demo NAME\" makes a car file to note about")
	}
	return logbook.PathFor(carFile), nil
}

func verifiedText(cmd *cobra.Command, v *logbook.Verified) error {
	p := out(cmd)
	for i := range v.Findings {
		f := &v.Findings[i]
		what, do := words.InNotebook(f)
		p.f("%s: %s; %s\n", words.WhereInNotebook(v.Path, f), what, do)
	}
	all := "all is well"
	if n := len(v.Findings); n > 0 {
		all = count(n, "thing") + " found"
	}
	p.f("%s: %s, %d in force: %s\n", units.Printable(v.Path), count(v.Notes, "note"), v.InForce, all)
	return p.err
}

// count spells a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func verifiedJSON(cmd *cobra.Command, v *logbook.Verified) error {
	found := []object{}
	for i := range v.Findings {
		found = append(found, findingJSON(v.Path, &v.Findings[i]))
	}
	return writeJSON(cmd.OutOrStdout(), object{{"file", v.Path}, {"sound", len(found) == 0}, {"notes", v.Notes}, {"in_force", v.InForce}, {"found", found}})
}

func findingJSON(path string, f *logbook.Finding) object {
	what, do := words.InNotebook(f)
	file := path
	if f.File != "" {
		file = f.File
	}
	var line *int
	if f.Line > 0 {
		line = &f.Line
	}
	var note *string
	if f.ID != "" {
		note = &f.ID
	}
	return object{{"file", file}, {"line", line}, {"code", string(f.Kind)}, {"note", note}, {"other_notes", append([]string{}, f.Others...)},
		{"keys", append([]string{}, f.Keys...)}, {"what", what}, {"do", do}}
}
