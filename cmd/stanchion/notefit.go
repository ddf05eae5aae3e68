package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newNoteFit() *cobra.Command {
	var o options
	var write, anyway bool
	c := &cobra.Command{
		Use:     "fit CARFILE",
		Example: "  stanchion note fit car.toml\n  stanchion note fit car.toml --write",
		Short:   "what measured ride heights and top speeds say of downforce and drag",
		Long: `fit learns from measurements on track: the sink of each axle at speed (notes with
--sink-speed, --sink-front, --sink-rear; front_rate and rear_rate in the car file) and
top speeds (notes with --top-speed; power and drag_area in the car file).

All readings together are weighed against what the car file says and how sure that is
([uncertainty], the bands of [[flow]]): lift, flow angle and speed ratio at the wing,
the car's own downforce area at each axle, spring rates, drag, and what else the bands
are made of. It shows each reading against the fit, how much each of them is narrowed,
the figures of the setting noted last before and after, and which reading would tell
most next. A reading that does not fit is named and left out. See "stanchion help fit".

Nothing is applied before --write puts it into the car file as [fit]; figures are then
marked as fitted. A fit always starts from the file without its [fit] and takes all
notes, so that no reading counts twice. Where readings disagree as a whole, or the
downforce of the setting noted last would be less sure than before, it says so first, and
--write needs --anyway. Exit code 1 means that nothing was learned, or nothing worth
writing.`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, b, err := tableAndBook(cmd, &o, args[0])
			if err != nil {
				return err
			}
			l, err := calibrate.Learn(t, b.Notes)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if fit := t.Car.TrackFit; write && (fit.Downforce.Known() || fit.Drag.Known()) {
				return errors.New("the car file has a [fit] already, of downforce or drag: remove it first, so that two corrections are not applied at once")
			}
			tables, err := newFitTables(t, l)
			if err != nil {
				return err
			}
			doubt := tables.doubt(t, b, l, shown(t.Car))
			if err := fitOut(cmd, t, b, l, o, tables, doubt); err != nil {
				return err
			}
			if l.Fit == nil {
				return noAnswer("%s: the notes tell nothing that could be used", args[0])
			}
			switch {
			case doubt != "" && !write:
				return noAnswer("")
			case doubt != "" && !anyway:
				return noAnswer("%s: not written: measure again, or replace the wrong note (stanchion note add --replaces); --anyway writes it all the same", args[0])
			case !write:
				return nil
			}
			before := map[model.Unknown]float64{}
			for _, x := range l.Unknowns {
				before[x.Of] = x.BeforeStdUnc
			}
			minus, plus, err := changeFile(args[0], "the fit to the runs", func(text []byte) ([]carfile.Edit, error) {
				return carfile.SetFit(text, t.Car.Unfitted(), l.Fit, before)
			})
			if err == nil {
				toldFit(cmd.ErrOrStderr(), args[0], minus, plus)
			}
			return err
		},
	}
	o.add(c, speedOfFile, "text", "json")
	c.Flags().BoolVar(&write, "write", false, "put the fit into the car file, in the place of the [fit] that it has")
	c.Flags().BoolVar(&anyway, "anyway", false, "with --write: write it though readings disagree or the downforce would be less sure")
	return c
}

// toldFit shows what --write changed, of the covariance only how many rows, and how it is taken back.
func toldFit(w io.Writer, name string, minus, plus []string) {
	fmt.Fprintf(w, "%s:\n", units.Printable(name))
	for _, part := range []struct {
		mark  string
		lines []string
	}{{"-", minus}, {"+", plus}} {
		rows := 0
		for _, l := range part.lines {
			if text := strings.TrimSpace(l); strings.HasPrefix(text, "[") && !strings.HasPrefix(text, "[fit") {
				rows++
				continue
			} else if text == "" || text == "]" || strings.HasPrefix(text, "covariance") || strings.HasPrefix(text, "# Rows and columns") {
				continue
			}
			fmt.Fprintf(w, "%s %s\n", part.mark, l)
		}
		if rows > 0 {
			fmt.Fprintf(w, "%s and %s of covariance\n", part.mark, units.Count(rows, "row"))
		}
	}
	fmt.Fprintf(w, "Written; taken back by: stanchion undo %s\n", units.Printable(name))
}

// moreUnsure is the part by which the uncertainty of the downforce must grow for a fit to count as worse.
const moreUnsure = 0.01

// doubt says why a fit is not worth writing; "" where it is.
func (f fitTables) doubt(t *model.Table, b logbook.Book, l calibrate.Learned, u units.System) string {
	if l.Fit == nil {
		return ""
	}
	if text := words.FitDisagrees(t, l, u); text != "" {
		return text
	}
	r, ok := lastNoted(f.before, b.Notes)
	if !ok {
		return ""
	}
	now, _ := f.after.Find(r.ID)
	x, y := f.before.Budget(r), f.after.Budget(now)
	before, after := x.OnCar, y.OnCar
	if math.IsNaN(r.OnCar) || math.IsNaN(now.OnCar) {
		before, after = x.Downforce, y.Downforce
	}
	if after > (1+moreUnsure)*before {
		return words.FitWorse(before, after, u)
	}
	return ""
}

// fitTables are the settings of the car without anything fitted and with what was learned.
type fitTables struct{ before, after *model.Table }

func newFitTables(t *model.Table, l calibrate.Learned) (f fitTables, err error) {
	if f.before, err = t.Car.Unfitted().Map(t.Speed); err != nil {
		return f, err
	}
	f.after, err = t.Car.Fitted(l.Fit).Map(t.Speed)
	return f, err
}

// lastNoted is the setting on the car: that of the last note, where the car file still gives it.
func lastNoted(t *model.Table, notes []logbook.Note) (*model.Row, bool) {
	for i := len(notes) - 1; i >= 0; i-- {
		if notes[i].Setting != "" {
			return t.Find(notes[i].Setting)
		}
	}
	return nil, false
}

func fitOut(cmd *cobra.Command, t *model.Table, b logbook.Book, l calibrate.Learned, o options, tables fitTables, doubt string) error {
	if o.format == "json" {
		return writeJSON(cmd.OutOrStdout(), fitDocument(t, b, l, tables, doubt))
	}
	p, u := out(cmd), shown(t.Car)
	if doubt != "" {
		p.f("%s\n\n", doubt)
	}
	r, ok := lastNoted(tables.before, b.Notes)
	if l.Fit != nil {
		if ok {
			fitFigures(p, tables, r, t, u)
		} else {
			p.f("The car file no longer gives the setting noted last: no figures before and after.\n")
		}
		p.f("\n")
	}
	if t.Car.TrackFit.Known() {
		p.f("The [fit] in the car file is left out here: the fit starts from the file without it.\n")
	}
	if len(l.Readings) > 0 {
		p.f("Readings, each against what the car file and all other readings say:\n")
		for _, line := range words.FitReadings(t, l, u) {
			p.f("  %s\n", line)
		}
	}
	for _, s := range l.Notes {
		p.f("not usable: %s\n", s.In(u))
	}
	if l.Fit == nil {
		return p.err
	}
	for _, line := range words.FitRemarks(l) {
		p.f("%s\n", line)
	}
	if ok {
		if next := fitNext(l, r); len(next) > 0 {
			p.f("\nThe reading that would tell most next:\n")
			for _, n := range next {
				p.f("  %s\n", words.NextReading(t, n.reading, n.name, func(std float64) string {
					if n.key == "front_share" {
						return units.Fixed(100*std, 2) + " %"
					}
					return u.ForceFigure(std) + " " + u.ForceUnit()
				}, u))
			}
		}
	}
	p.f("\nWhat the readings tell, before and after, with one standard uncertainty:\n")
	for _, line := range words.FitUnknowns(l) {
		p.f("  %s\n", line)
	}
	if doubt == "" {
		p.f("\nTo keep it: stanchion note fit %s --write\n", fileWord(cmd))
	}
	p.f("\nOne change at a time, build up speed; on a closed course only.\n")
	return p.err
}

// fileWord is the car file as it is typed in a command.
func fileWord(cmd *cobra.Command) string {
	if args := cmd.Flags().Args(); len(args) > 0 {
		return units.Printable(args[0])
	}
	return "FILE"
}

// fitFigures prints the figures of a setting before and after.
func fitFigures(p *printer, tables fitTables, r *model.Row, t *model.Table, u units.System) {
	now, _ := tables.after.Find(r.ID)
	p.f("%s at %s:\n", t.Name(r.Setting), u.Speed(t.Speed))
	x, y := tables.before.Budget(r), tables.after.Budget(now)
	p.f("  %-20s %-16s %s\n", "", "before", "after")
	for _, f := range []struct {
		name         string
		x, xb, y, yb float64
	}{
		{"downforce on the car", r.OnCar, x.OnCar, now.OnCar, y.OnCar},
		{"downforce", r.Downforce, x.Downforce, now.Downforce, y.Downforce},
		{"drag", r.Drag, x.Drag, now.Drag, y.Drag},
	} {
		if !math.IsNaN(f.x) {
			p.f("  %-20s %-16s %s %s%s\n", f.name, u.ForceFigure(f.x)+" ± "+u.ForceFigure(f.xb), u.ForceFigure(f.y)+" ± "+u.ForceFigure(f.yb), u.ForceUnit(), narrows(f.xb, f.yb))
		}
	}
	percent := func(x, std float64, digits int) string {
		return units.Fixed(100*x, digits) + " ± " + units.Fixed(100*std, 2)
	}
	p.f("  %-20s %-16s %s %%%s\n", "front share", percent(r.Share, x.Share, 1), percent(now.Share, y.Share, 1), narrows(x.Share, y.Share))
	p.f("  %-20s %-16s %s pp%s\n", "share shift", percent(r.Shift, x.Shift, 1), percent(now.Shift, y.Shift, 1), narrows(x.Shift, y.Shift))
}

// narrows says by how much an uncertainty changes.
func narrows(before, after float64) string {
	switch by := 100 * (1 - after/before); {
	case by >= 0.5:
		return ", ± " + units.Fixed(by, 0) + " % smaller"
	case by <= -0.5:
		return ", ± " + units.Fixed(-by, 0) + " % LARGER"
	}
	return ", ± as before"
}

// fitFigure is a next reading for one figure.
type fitFigure struct {
	key, name string
	reading   calibrate.NextReading
}

// fitNext is which readings would narrow downforce and front share of a setting the most.
func fitNext(l calibrate.Learned, r *model.Row) (all []fitFigure) {
	for _, f := range []struct {
		key, name string
		std       func(model.Contribution) float64
		of        func(*model.Outcome) float64
	}{
		{"downforce", "downforce", func(c model.Contribution) float64 { return c.Downforce }, func(o *model.Outcome) float64 { return o.Downforce }},
		{"front_share", "front share", func(c model.Contribution) float64 { return c.Share }, func(o *model.Outcome) float64 { return o.Share }},
	} {
		if n, ok := l.Next(r, f.std, f.of); ok {
			all = append(all, fitFigure{f.key, f.name, n})
		}
	}
	return all
}

// fitUnit is the unit of an unknown as JSON has it.
func fitUnit(u model.Unknown) string {
	name, _ := u.FileUnit()
	return map[string]string{"°": "deg", "m²": "m2", "N/mm": "n_per_mm", "kW": "kw", "": "1"}[strings.TrimSpace(name)]
}
