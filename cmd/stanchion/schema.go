package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model/files"
	"stanchion/model/schema"
	"stanchion/model/units"
)

// schemas are what is described in JSON Schema.
var schemas = []struct {
	name string
	text func() ([]byte, error)
}{
	{"carfile", schema.CarFile},
	{"json", jsonSchema},
	{"notes", notesSchema},
}

func schemaNames() (all []string) {
	for _, s := range schemas {
		all = append(all, s.name)
	}
	return all
}

func newSchema() *cobra.Command {
	var file string
	var replace bool
	c := &cobra.Command{
		Use:   "schema " + strings.Join(schemaNames(), "|"),
		Short: "what files and JSON hold, as a JSON Schema for editors and programs",
		Long: `schema prints a JSON Schema (draft 2020-12): of the car file, of what commands print with
--format json ("stanchion help json" tells the same), or of the notebook's file.

With that of the car file an editor with a TOML language server completes keys, shows what they are and marks those that it does not
know. New car files begin with a line "#:schema" that names it, and "stanchion new" puts it
beside them; one line at the top of an older file does the same:

  #:schema ./` + besideName + `

The schema knows less than "stanchion check": what hangs on other keys, such as which
hole a bolt goes through, is not in it.`,
		Example: `  stanchion schema carfile
  stanchion schema carfile -o ` + besideName + ` --replace
  stanchion schema json`,
		Args:      arguments(1, 1),
		ValidArgs: schemaNames(),
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, s := range schemas {
				if s.name != args[0] {
					continue
				}
				text, err := s.text()
				if err != nil {
					return err
				}
				p := out(cmd)
				if file == "" {
					_, err := cmd.OutOrStdout().Write(text) // as it is: broken lines would break its texts
					return err
				}
				if err := writeOutput(file, text, replace); err != nil {
					return err
				}
				p.f("wrote %s\n", units.Printable(file))
				return p.err
			}
			return fmt.Errorf("schema %q; use one of %s", args[0], strings.Join(schemaNames(), ", "))
		},
	}
	c.Flags().StringVarP(&file, "output", "o", "", "write it into `FILE`")
	c.Flags().BoolVar(&replace, "replace", false, "write over a file that is there")
	return c
}

// besideName is the name of the car file's schema beside car files.
const besideName = "stanchion.schema.json"

// withSchema puts a line before a new car file that names its schema, where it names none.
func withSchema(text []byte) []byte {
	if bytes.HasPrefix(text, []byte("#:schema")) {
		return text
	}
	return append([]byte("#:schema ./"+besideName+"\n"), text...)
}

// writeCarFile writes a new car file, and the schema that it names beside it. Where the schema cannot be written the car file is as good.
func writeCarFile(path string, text []byte) error {
	err := writeNew(map[string][]byte{path: withSchema(text)})
	if err == nil {
		_, _ = putSchema(path)
	}
	return err
}

// putSchema writes the schema beside a car file, and says whether it did: one that is there stays.
func putSchema(carFile string) (written bool, err error) {
	text, err := schema.CarFile()
	if err != nil {
		return false, err
	}
	path := filepath.Join(filepath.Dir(carFile), besideName)
	switch err = files.Create(path, text); {
	case errors.Is(err, fs.ErrExist):
		return false, nil
	case err != nil:
		return false, fmt.Errorf("%s: cannot be written: %w", path, plain(err))
	}
	return true, nil
}
