package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2/maybe"
	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/units"
)

// rewrite changes a car file by edits and shows the change on standard error.
func rewrite(cmd *cobra.Command, name string, change func([]byte) ([]carfile.Edit, error)) error {
	minus, plus, _, err := changeFile(name, change)
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

// changeFile changes a car file by edits: it checks that the result is sound and
// that the file is still what was read, and puts the new file in the old one's
// place in one go. It returns the lines that changed, and what puts the old file
// back.
func changeFile(name string, change func([]byte) ([]carfile.Edit, error)) (minus, plus []string, restore func() error, err error) {
	if _, demo := demoName(name); demo {
		return nil, nil, nil, errors.New("a demo car cannot be changed: \"stanchion new FILE --demo NAME\" makes a copy")
	}
	path, err := filepath.EvalSymlinks(name) // the file itself is replaced, not a link to it
	if err != nil {
		return nil, nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	edits, err := change(before)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	after := carfile.Apply(before, edits)
	dir := filepath.Dir(path)
	if _, err := carfile.Parse(name, after, func(other string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, other)) }); err != nil {
		return nil, nil, nil, fmt.Errorf("%s is not changed, since the result would have faults:\n%w", name, err)
	}
	if err := swapFile(name, path, before, after); err != nil {
		return nil, nil, nil, err
	}
	minus, plus = carfile.Lines(before, after)
	return minus, plus, func() error { return swapFile(name, path, after, before) }, nil
}

// swapFile writes a file that still is what it was.
func swapFile(name, path string, was, is []byte) error {
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, was) {
		return fmt.Errorf("%s has changed meanwhile: it is left as it is", name)
	}
	if err := maybe.WriteFile(path, is, 0o644); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	return nil
}
