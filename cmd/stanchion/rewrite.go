package main

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/files"
	"stanchion/model/units"
)

// rewrite changes a car file by edits and shows the change on standard error. what names the change, for who
// undoes it.
func rewrite(cmd *cobra.Command, name, what string, change func([]byte) ([]carfile.Edit, error)) error {
	minus, plus, err := changeFile(name, what, change)
	if err != nil {
		return err
	}
	w := cmd.ErrOrStderr()
	fmt.Fprintf(w, "%s:\n", units.Printable(name))
	for _, l := range minus {
		fmt.Fprintf(w, "- %s\n", l)
	}
	for _, l := range plus {
		fmt.Fprintf(w, "+ %s\n", l)
	}
	return nil
}

// changeFile changes a car file by edits: it checks that the result is sound, and
// puts the new file in the old one's place in one go. When the file has been saved
// meanwhile, the edits are made anew from what is in it then. It returns the lines
// that changed. What was there before is kept beside it with the date.
func changeFile(name, what string, change func([]byte) ([]carfile.Edit, error)) (minus, plus []string, err error) {
	if _, demo := demoName(name); demo {
		return nil, nil, errors.New("a demo car cannot be changed: \"stanchion new FILE --demo NAME\" makes a copy")
	}
	for range maxRewrites {
		before, err := files.Read(name, carfile.MaxSize)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, plain(err))
		}
		edits, err := change(before)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, err)
		}
		after := carfile.Apply(before, edits)
		if err := carfile.Check(name, after); err != nil {
			return nil, nil, fmt.Errorf("%s is not changed, since the result would have faults:\n%w", name, err)
		}
		err = history(name).Change(before, after, what, time.Now())
		if errors.Is(err, files.ErrChanged) {
			continue
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, plain(err))
		}
		minus, plus = carfile.Lines(before, after)
		return minus, plus, nil
	}
	return nil, nil, fmt.Errorf("%s: %w", name, files.ErrChanged)
}

// maxRewrites is how often an edit is made anew of a file that keeps changing.
const maxRewrites = 5

// history is the dated copies of a car file.
func history(name string) files.History {
	if path, err := files.Resolve(name); err == nil {
		name = path // the copies lie beside the file itself, not beside a link to it
	}
	return files.HistoryOf(name, carfile.MaxSize)
}

// plain leaves the path out of a file error, which the message has already.
func plain(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// writeOutput writes a file that was asked for; one that is there is replaced only
// with --replace.
func writeOutput(name string, data []byte, replace bool) error {
	err := files.Output(name, data, replace)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s: exists already; choose another name, or give --replace", name)
	}
	return fmt.Errorf("%s: cannot be written: %w", name, plain(err))
}
