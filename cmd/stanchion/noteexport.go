package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// noteColumn is one field of a note.
type noteColumn struct {
	name string
	of   func(logbook.Note) any // nil for what was not noted
}

// noteColumns are the fields of a note as JSON and CSV name them.
func noteColumns() []noteColumn {
	number := func(of func(logbook.Note) float64, digits int) func(logbook.Note) any {
		return func(n logbook.Note) any {
			if f := figure(of(n), digits); f != nil {
				return *f
			}
			return nil
		}
	}
	feel := func(of func(logbook.Feel) int) func(logbook.Note) any {
		return func(n logbook.Note) any {
			if v := of(n.Feel); v != logbook.NoFeel {
				return v
			}
			return nil
		}
	}
	text := func(of func(logbook.Note) string) func(logbook.Note) any {
		return func(n logbook.Note) any {
			if s := of(n); s != "" {
				return s
			}
			return nil
		}
	}
	columns := []noteColumn{
		{"id", text(func(n logbook.Note) string { return n.ID })},
		{"replaces", text(func(n logbook.Note) string { return n.Replaces })},
		{"at", text(func(n logbook.Note) string { return n.At.Format(time.RFC3339) })},
		{"place", text(func(n logbook.Note) string { return n.Venue })},
		{"setting", text(func(n logbook.Note) string { return n.Setting })},
		{"fitted_only", func(n logbook.Note) any {
			if n.Fitted {
				return true
			}
			return nil
		}},
		{"speed_m_s", number(func(n logbook.Note) float64 { return n.Speed }, 3)},
		{"air_temperature_c", number(func(n logbook.Note) float64 { return n.Air.Temperature }, 1)},
		{"air_pressure_hpa", number(func(n logbook.Note) float64 { return n.Air.Pressure }, 1)},
		{"air_humidity_pct", number(func(n logbook.Note) float64 { return n.Air.Humidity }, 0)},
		{"tyre_front_left_bar", number(func(n logbook.Note) float64 { return n.Tyres[0] }, 2)},
		{"tyre_front_right_bar", number(func(n logbook.Note) float64 { return n.Tyres[1] }, 2)},
		{"tyre_rear_left_bar", number(func(n logbook.Note) float64 { return n.Tyres[2] }, 2)},
		{"tyre_rear_right_bar", number(func(n logbook.Note) float64 { return n.Tyres[3] }, 2)},
		{"fuel_kg", number(func(n logbook.Note) float64 { return n.Fuel }, 1)},
		{"lap_s", number(func(n logbook.Note) float64 { return n.Lap }, 3)},
		{"top_speed_m_s", number(func(n logbook.Note) float64 { return n.TopSpeed }, 3)},
		{"sink_speed_m_s", number(func(n logbook.Note) float64 { return n.Sink.Speed }, 3)},
		{"sink_front_mm", number(func(n logbook.Note) float64 { return n.Sink.Front }, 2)},
		{"sink_rear_mm", number(func(n logbook.Note) float64 { return n.Sink.Rear }, 2)},
		{"front_grip_slow", feel(func(f logbook.Feel) int { return f.FrontSlow })},
		{"rear_grip_slow", feel(func(f logbook.Feel) int { return f.RearSlow })},
		{"front_grip_fast", feel(func(f logbook.Feel) int { return f.FrontFast })},
		{"rear_grip_fast", feel(func(f logbook.Feel) int { return f.RearFast })},
		{"text", text(func(n logbook.Note) string { return n.Text })},
		{"car_digest", text(func(n logbook.Note) string { return n.Car })},
		{"expected_height_mm", number(func(n logbook.Note) float64 { return n.Expected.Height }, 1)},
		{"expected_angle_deg", number(func(n logbook.Note) float64 { return n.Expected.Angle }, 2)},
		{"expected_cl", number(func(n logbook.Note) float64 { return n.Expected.CL }, 3)},
		{"expected_downforce_n", number(func(n logbook.Note) float64 { return n.Expected.Downforce }, 1)},
		{"expected_downforce_band_n", number(func(n logbook.Note) float64 { return n.Expected.DownforceStdUnc }, 1)},
		{"expected_drag_n", number(func(n logbook.Note) float64 { return n.Expected.Drag }, 1)},
		{"expected_drag_band_n", number(func(n logbook.Note) float64 { return n.Expected.DragStdUnc }, 1)},
		{"expected_front_share_pct", number(func(n logbook.Note) float64 { return n.Expected.Share }, 2)},
		{"expected_balance_shift_pp", number(func(n logbook.Note) float64 { return n.Expected.Shift }, 2)},
		{"tyre_set", text(func(n logbook.Note) string { return n.TyreSet })},
		{"driver", text(func(n logbook.Note) string { return n.Driver })},
		{"track", text(func(n logbook.Note) string { return n.Track })},
	}
	for i, f := range (logbook.Feel{}).List() {
		columns = append(columns, noteColumn{f.Key, feel(func(f logbook.Feel) int { return f.List()[i].Value })})
	}
	for i, k := range logbook.Blank().Numbers() {
		columns = append(columns, noteColumn{k.Key, number(func(n logbook.Note) float64 { return n.Numbers()[i].Value }, 4)})
	}
	for i, k := range logbook.Blank().Texts() {
		columns = append(columns, noteColumn{k.Key, text(func(n logbook.Note) string { return n.Texts()[i].Value })})
	}
	columns = append(columns, noteLists()...)
	columns = append(columns, checkColumns()...)
	return append(columns,
		noteColumn{"withdrawn", func(n logbook.Note) any {
			if n.Withdrawn {
				return true
			}
			return nil
		}},
		noteColumn{"restores", text(func(n logbook.Note) string { return n.Restores })},
		noteColumn{"confirms", text(func(n logbook.Note) string { return n.Confirms })})
}

// noteLists are the fields of a note that are lists.
func noteLists() []noteColumn {
	return []noteColumn{
		{"laps_s", func(n logbook.Note) any {
			var times []float64
			for _, l := range n.Laps {
				times = append(times, l.Seconds)
			}
			if times == nil {
				return nil
			}
			return times
		}},
		{"lap_marks", func(n logbook.Note) any {
			var marks []string
			marked := false
			for _, l := range n.Laps {
				marks, marked = append(marks, l.Mark), marked || l.Mark != ""
			}
			if !marked {
				return nil
			}
			return marks
		}},
		{"adjustments", func(n logbook.Note) any {
			var all []string
			for _, a := range n.Adjustments {
				all = append(all, a.String())
			}
			if all == nil {
				return nil
			}
			return all
		}},
	}
}

func noteJSON(n logbook.Note) map[string]any {
	m := map[string]any{}
	for _, c := range noteColumns() {
		m[c.name] = c.of(n)
	}
	return m
}

func notesJSON(cmd *cobra.Command, notes []logbook.Note) error {
	doc := struct {
		Notes []map[string]any `json:"notes"`
	}{[]map[string]any{}}
	for _, n := range notes {
		doc.Notes = append(doc.Notes, noteJSON(n))
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

func newNoteExport() *cobra.Command {
	var f noteFilter
	var o options
	var to string
	var replace bool
	c := &cobra.Command{
		Use:     "export CARFILE",
		Example: "  stanchion note export car.toml\n  stanchion note export car.toml --format csv -o notes.csv",
		Short:   "the notes as Markdown, CSV or JSON",
		Long: `export prints the notes that are in force, or with --all every one, also those that were
corrected or taken back, or writes them into a file (-o), as its name says: .csv, .json, else
Markdown. In CSV, text that a spreadsheet
would take for a formula has an apostrophe in front, so that opening the file runs nothing;
figures are not rounded there, and "note import" reads it back.`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			notes, err := filtered(cmd, args[0], &f, &o)
			if err != nil {
				return err
			}
			if to != "" {
				if ext := strings.ToLower(filepath.Ext(to)); !cmd.Flags().Changed("format") && (ext == ".csv" || ext == ".json") {
					o.format = ext[1:] // by the name of the file
				}
				return notesInto(cmd, args[0], to, replace, notes, func(into *cobra.Command) error { return o.export(into, args[0], notes) })
			}
			return o.export(cmd, args[0], notes)
		},
	}
	c.Flags().StringVarP(&to, "output", "o", "", "the `FILE` to write")
	c.Flags().BoolVar(&replace, "replace", false, "write over a file that is there")
	f.add(c)
	c.Flags().BoolVar(&f.all, "all", false, "every note, also those that were corrected or taken back")
	o.add(c, "", "markdown", "csv", "json")
	return c
}

// export prints notes in the format that was asked for.
func (o *options) export(cmd *cobra.Command, name string, notes []logbook.Note) error {
	switch o.format {
	case "json":
		return notesJSON(cmd, notes)
	case "csv":
		return notesCSV(cmd, notes)
	}
	return notesMarkdown(cmd, name, notes, unitsBeside(name))
}

// notesInto writes what is printed into a file, not over one that the car is made of.
func notesInto(cmd *cobra.Command, name, to string, replace bool, notes []logbook.Note, export func(*cobra.Command) error) error {
	f := drawFlags{replace: replace}
	if err := f.mayWrite(name, to); err != nil {
		return err
	}
	var text bytes.Buffer
	into, page := new(cobra.Command), newPage(&text, endless)
	into.SetOut(&text)
	into.SetContext(onPage(page))
	if err := errors.Join(export(into), page.end(&text, nil)); err != nil {
		return err
	}
	if err := files.Output(to, text.Bytes(), replace); err != nil {
		return fmt.Errorf("%s: not written: %w", units.Printable(to), plain(err))
	}
	p := out(cmd)
	p.f("%s written to %s\n", units.Count(len(notes), "note"), units.Printable(to))
	return p.err
}

func notesCSV(cmd *cobra.Command, notes []logbook.Note) error {
	var names []string
	for _, c := range noteColumns() {
		names = append(names, c.name)
	}
	return logbook.WriteCSV(cmd.OutOrStdout(), names, notes)
}

func notesMarkdown(cmd *cobra.Command, name string, notes []logbook.Note, u units.System) error {
	p := out(cmd)
	called := settingNames(name)
	safe := strings.NewReplacer("\\", "\\\\", "|", "\\|", "<", "&lt;", "*", "\\*", "_", "\\_", "`", "\\`", "[", "\\[", "\n", " <br> ")
	for _, n := range notes {
		n.Setting = called(n.Setting)
		p.f("## %s, %s\n\n", n.ID, n.At.Format("2006-01-02 15:04"))
		for _, f := range n.Facts(u) {
			switch f.What {
			case "at": // stands above
			case "text":
				p.f("- text: %s\n", safe.Replace(units.PrintableLines(n.Text, "\n")))
			default:
				p.f("- %s: %s\n", f.What, safe.Replace(f.Text))
			}
		}
		p.f("\n")
	}
	return p.err
}
