package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/files"
	"stanchion/model/units"
)

func newNew() *cobra.Command {
	var demo string
	c := &cobra.Command{
		Use:   "new FILE",
		Short: "write a car file to start from",
		Long: `new writes a commented car file that is valid as it stands: measure your car and
replace its numbers one by one. With --demo it writes a demo car instead, with
the files it names. It never overwrites a file. Beside it stands ` + besideName + `,
by which an editor with a TOML language server completes and checks its keys.`,
		Example: `  stanchion new mycar.toml
  stanchion new saloon.toml --demo saloon`,
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path := args[0]
			files := map[string][]byte{path: withSchema(carfile.Start())}
			if demo != "" {
				names, all, err := carfile.DemoFiles(demo)
				if err != nil || len(names) == 0 {
					return fmt.Errorf("--demo %q; use one of %s", demo, strings.Join(carfile.Demos(), ", "))
				}
				files = map[string][]byte{path: withSchema(all[names[0]])}
				for _, n := range names[1:] {
					files[filepath.Join(filepath.Dir(path), n)] = all[n]
				}
			}
			if err := writeNew(files); err != nil {
				return err
			}
			schema, err := putSchema(path)
			if err != nil {
				return err
			}
			p := out(cmd)
			p.f("wrote %s\n", units.Printable(path))
			if schema {
				p.f("and beside it %s, by which an editor completes and checks its keys\n", besideName)
			}
			p.f("\nnext: edit it, then\n  stanchion check %s\n  stanchion %s\n", units.Printable(path), units.Printable(path))
			return p.err
		},
	}
	c.Flags().StringVar(&demo, "demo", "", "write this demo car, `NAME` of "+strings.Join(carfile.Demos(), ", "))
	_ = c.RegisterFlagCompletionFunc("demo", cobra.FixedCompletions(carfile.Demos(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

// writeNew writes files that must not be there yet: all of them or none.
func writeNew(texts map[string][]byte) (err error) {
	var made []string
	defer func() {
		if err != nil {
			for _, m := range made {
				err = errors.Join(err, os.Remove(m))
			}
		}
	}()
	for path, data := range texts {
		err := files.Create(path, data)
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s: exists already; choose another name", path)
		}
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w", path, plain(err))
		}
		made = append(made, path)
	}
	return nil
}
