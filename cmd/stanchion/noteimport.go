package main

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

func newNoteImport() *cobra.Command {
	var o options
	var write, anyway bool
	c := &cobra.Command{
		Use:   "import CARFILE FILE.csv",
		Short: "take notes from a table",
		Long: `import reads notes from a table whose head line has their keys: at, and of the others as many
as there are, such as setting, lap_s, fuel_kg, text ("stanchion help notes" lists them). What
"note export --all --format csv" prints comes back as it was. A setting may be an id or a name as
"map" has it. Columns may be parted by commas, semicolons or tabs; between the last two, numbers
may have a decimal comma. A time without an offset is of here.

Notes that are in the notebook already are left out; one whose id is taken gets a new one. Each
fault is a line with file, line and column, and then nothing is written; nor is anything before
--write. --anyway takes figures that are hardly possible.`,
		Example:           "  stanchion note import car.toml saturday.csv\n  stanchion note import car.toml saturday.csv --write",
		Args:              arguments(2, 2),
		ValidArgsFunction: carFiles,
		RunE: onNotebook(&o, func(cmd *cobra.Command, args []string, path string) error {
			data, err := files.Read(args[1], logbook.MaxSize)
			if err != nil {
				return fmt.Errorf("%s: cannot be read: %w", args[1], plain(err))
			}
			rows, err := logbook.ReadCSV(data, namedSetting(args[0]), time.Now())
			if err != nil {
				return fmt.Errorf("%s: %w", args[1], err)
			}
			if err := tableFaults(args[1], rows.Faults, anyway); err != nil {
				return err
			}
			m, err := logbook.Import(path, rows, write)
			if err != nil {
				return fmt.Errorf("%s: %w", path, plain(err))
			}
			if o.format == "json" {
				return writeJSON(cmd.OutOrStdout(), append(takenJSON(args[0], &m, write), field{"unknown_columns", append([]string{}, rows.Unknown...)}))
			}
			p := out(cmd)
			for _, name := range rows.Unknown {
				p.f("not taken: column %q is not a key of a note; \"stanchion help notes\" lists them\n", units.Printable(name))
			}
			takenText(p, args[0], &m)
			p.f("%s\n", tookText(&m, write))
			return p.err
		}),
	}
	c.Flags().BoolVar(&write, "write", false, "write it into the notebook")
	c.Flags().BoolVar(&anyway, "anyway", false, "take figures that are hardly possible, too")
	o.add(c, "", "text", "json")
	return c
}

// tableFaults are the faults of a table, a line for each.
func tableFaults(name string, faults []logbook.Fault, anyway bool) error {
	const most = 50
	var all []error
	for _, f := range faults {
		if f.Unlikely && anyway {
			continue
		}
		what := f.What
		if f.Key != "" {
			what = f.Key + ": " + what
		}
		if f.Unlikely {
			what += "; if it is so: --anyway"
		}
		all = append(all, fmt.Errorf("%s:%d:%d: %s", units.Printable(name), cmp.Or(f.Line, 1), f.Col, what))
	}
	if more := len(all) - most; more > 0 {
		all = append(all[:most], fmt.Errorf("%s: and %d faults more", units.Printable(name), more))
	}
	return errors.Join(all...)
}

// namedSetting reads a setting of a table: an id stays as it is, also one that the car file no longer
// has; what is none is looked for by its name.
func namedSetting(carFile string) logbook.Setting {
	found := map[string]string{}
	return func(text string) (string, error) {
		text = strings.TrimSpace(text)
		if id, known := found[text]; known {
			return id, nil
		}
		id := text
		if !strings.Contains(text, ":") {
			t, err := tableOf(carFile, "")
			if err != nil {
				return "", fmt.Errorf("the car file does not tell its settings: %s", strings.SplitN(err.Error(), "\n", 2)[0])
			}
			r, err := pickRow(t, strings.Fields(strings.ReplaceAll(text, ",", " ")))
			if err != nil {
				return "", errors.New(err.Error()) // bad input, whatever it is elsewhere
			}
			id = r.ID
		}
		found[text] = id
		return id, nil
	}
}
