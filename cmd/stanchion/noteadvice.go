package main

import (
	"errors"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// tableAndBook opens a car file's settings and its notebook.
func tableAndBook(cmd *cobra.Command, o *options, name string) (*model.Table, logbook.Book, error) {
	t, err := o.table(name)
	if err != nil {
		return nil, logbook.Book{}, err
	}
	b, err := book(cmd, name)
	return t, b, err
}

func newNoteFit() *cobra.Command {
	var o options
	var write bool
	c := &cobra.Command{
		Use:   "fit CARFILE",
		Short: "what measured ride heights and top speeds say of downforce and drag",
		Long: `fit scales the wing's downforce to the sink of the rear axle at speed (notes with
--sink-speed and --sink-rear, front_rate and rear_rate in the car file) and its drag
to top speeds (notes with --top-speed, power and drag_area in the car file), by
weighted least squares. It shows the figures before and after and how much the
bands shrink. Nothing is applied before --write puts it into the car file as [fit];
figures are then marked as fitted.`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, b, err := tableAndBook(cmd, &o, args[0])
			if err != nil {
				return err
			}
			l, err := calibrate.Learn(t.Car, b.Notes)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if write && (t.Car.TrackFit.Downforce.Known() || t.Car.TrackFit.Drag.Known()) {
				return errors.New("the car file has a [fit] already: remove it first, so that two corrections are not applied at once")
			}
			if err := fitOut(cmd, t, b, l, o); err != nil {
				return err
			}
			if !l.Downforce.Known() && !l.Drag.Known() {
				return noAnswer("%s: the notes give no factor that could be used", args[0])
			}
			if !write {
				return nil
			}
			return rewrite(cmd, args[0], "the fit to the runs", func(text []byte) ([]carfile.Edit, error) { return carfile.AddFit(text, l.Downforce, l.Drag), nil })
		},
	}
	o.add(c, speedOfFile, "text", "json")
	c.Flags().BoolVar(&write, "write", false, "put the fit into the car file")
	return c
}

func fitOut(cmd *cobra.Command, t *model.Table, b logbook.Book, l calibrate.Learned, o options) error {
	if o.format == "json" {
		return writeJSON(cmd.OutOrStdout(), struct {
			Downforce       *float64 `json:"downforce_factor"`
			DownforceStdUnc *float64 `json:"downforce_factor_band"`
			Drag            *float64 `json:"drag_factor"`
			DragStdUnc      *float64 `json:"drag_factor_band"`
			Used            []string `json:"used"`
			Notes           []string `json:"notes"`
		}{figure(l.Downforce.Factor, 4), figure(l.Downforce.StdUnc, 4), figure(l.Drag.Factor, 4), figure(l.Drag.StdUnc, 4),
			units.AllIn(l.Used, units.Metric), units.AllIn(l.Notes, units.Metric)})
	}
	p, u := out(cmd), shown(t.Car)
	for _, s := range l.Used {
		p.f("used %s\n", s.In(u))
	}
	for _, s := range l.Notes {
		p.f("not usable: %s\n", s.In(u))
	}
	for _, f := range []struct {
		name string
		s    model.Scale
	}{{"downforce", l.Downforce}, {"drag", l.Drag}} {
		if f.s.Known() {
			p.f("%s × %.2f ± %.2f\n", f.name, f.s.Factor, f.s.StdUnc)
		} else {
			p.f("%s: stays as it is\n", f.name)
		}
	}
	if !l.Downforce.Known() && !l.Drag.Known() {
		return p.err
	}
	return beforeAfter(p, t, b.Notes[len(b.Notes)-1], l)
}

// beforeAfter prints the forces of the setting noted last as they are and as they would be with
// what was learned.
func beforeAfter(p *printer, t *model.Table, last logbook.Note, l calibrate.Learned) error {
	u := shown(t.Car)
	x, ok := t.Find(last.Setting)
	fitted := *t.Car
	fitted.TrackFit = model.TrackFit{Downforce: l.Downforce, Drag: l.Drag}
	after, err := fitted.Map(t.Speed)
	if err != nil {
		return err
	}
	if !ok {
		p.f("The car file no longer gives the setting noted last: no figures before and after.\n")
		return p.err
	}
	y, _ := after.Find(last.Setting)
	p.f("\n%s at %s:\n", t.Name(x.Setting), u.Speed(t.Speed))
	p.f("           before          after\n")
	before, now := t.Budget(x), after.Budget(y)
	for _, q := range []struct {
		name         string
		x, xb, y, yb float64
		factor       model.Scale
	}{
		{"downforce", x.Downforce, before.Downforce, y.Downforce, now.Downforce, l.Downforce},
		{"drag", x.Drag, before.Drag, y.Drag, now.Drag, l.Drag},
	} {
		p.f("%-9s  %-14s  %s %s", q.name, u.ForceFigure(q.x)+" ± "+u.ForceFigure(q.xb), u.ForceFigure(q.y)+" ± "+u.ForceFigure(q.yb),
			u.ForceUnit())
		switch {
		case !q.factor.Known():
		case q.yb < q.xb:
			p.f(": the band shrinks by %.0f %%", 100*(1-q.yb/q.xb))
		default:
			p.f(": the band does not shrink, the notes add nothing to the estimate")
		}
		p.f("\n")
	}
	return p.err
}
