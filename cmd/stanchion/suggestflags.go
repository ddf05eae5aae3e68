package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/units"
)

// suggestFlags say what new holes are to do.
type suggestFlags struct {
	holeFlags
	angle, height, downforce, grid, maxStep, by, setting string
	between                                              []string
	fill, write, allBolts                                bool
	count                                                int
}

func (f *suggestFlags) goalTo(c *cobra.Command) {
	c.Flags().StringVar(&f.angle, "angle", "", "wanted `ANGLE` to the ground, such as 11 or 11deg")
	c.Flags().StringVar(&f.height, "height", "", "wanted `HEIGHT` of the quarter-chord point, such as 1350mm")
	c.Flags().StringVar(&f.downforce, "downforce", "", "wanted `FORCE` such as 700N, at --speed")
	c.Flags().BoolVar(&f.fill, "fill", false, "narrow the widest steps")
	c.Flags().StringArrayVar(&f.between, "between", nil, "a `SETTING` that the new one is to lie between; given twice")
	c.Flags().StringVar(&f.by, "by", "downforce", "what it is to lie between by: "+strings.Join(betweenFigures(), ", "))
	c.Flags().StringVar(&f.maxStep, "max-step", "", "the widest step that is to be left, `ANGLE` such as 1.5deg")
	c.Flags().BoolVar(&f.allBolts, "all-bolts", false, "every bolt that the joints can take, for --setting or at --height")
	c.Flags().StringVar(&f.setting, "setting", "", "the `SETTING` for --all-bolts")
	c.Flags().IntVar(&f.count, "count", 0, "how many holes together: 1 or 2 (default 1); the most for --max-step (default 4) and --all-bolts")
	c.Flags().StringVar(&f.grid, "grid", "0.5mm", "the drill's grid, `LENGTH`")
	c.Flags().BoolVar(&f.write, "write", false, "add the best to the car file")
}

// betweenNames are what --by takes.
var betweenNames = []struct {
	name   string
	figure drill.Figure
}{{"downforce", drill.ByDownforce}, {"angle", drill.ByAngle}, {"height", drill.ByHeight}, {"front-share", drill.ByShare}}

func betweenFigures() (names []string) {
	for _, f := range betweenNames {
		names = append(names, f.name)
	}
	return names
}

// lengths reads --grid and --height.
func (f *suggestFlags) lengths(car *model.Car) (grid float64, height given.Number, err error) {
	bare := shown(car).LengthUnit()
	if grid, err = units.Lengths.Parse(f.grid, bare); err != nil {
		return 0, height, fmt.Errorf("--grid %w", err)
	}
	if grid < 0.01 || grid > 50 {
		return 0, height, fmt.Errorf("--grid %s; it must be %s to %s", f.grid, shown(car).Fine(0.01), shown(car).Dimension(50))
	}
	if f.height != "" {
		h, err := units.Lengths.Parse(f.height, bare)
		if err != nil {
			return 0, height, fmt.Errorf("--height %w", err)
		}
		height = given.Is(h)
	}
	return grid, height, nil
}

// goal reads what is wanted of holes that give settings.
func (f *suggestFlags) goal(w *drill.Goal, t *model.Table) (err error) {
	targets := 0
	if f.fill {
		targets++
	}
	for _, x := range []struct {
		text, flag, bare string
		unit             units.Unit
		to               *given.Number
	}{
		{f.angle, "angle", "deg", units.Angles, &w.Angle},
		{f.downforce, "downforce", shown(t.Car).ForceUnit(), units.Forces, &w.Downforce},
		{f.maxStep, "max-step", "deg", units.Angles, &w.MaxStep},
	} {
		if x.text == "" {
			continue
		}
		v, err := x.unit.Parse(x.text, x.bare)
		if err != nil {
			return fmt.Errorf("--%s %w", x.flag, err)
		}
		*x.to = given.Is(v)
		targets++
	}
	if w.Grid, w.Height, err = f.lengths(t.Car); err != nil {
		return err
	}
	if len(f.between) > 0 {
		targets++
		if w.Between, err = f.betweenOf(t); err != nil {
			return err
		}
	}
	return f.check(w, targets)
}

// check looks at how the flags go together.
func (f *suggestFlags) check(w *drill.Goal, targets int) error {
	most := 2
	if w.MaxStep.Known() {
		most = 8
		if w.Count == 0 {
			w.Count = 4
		}
	}
	if w.Count == 0 {
		w.Count = 1
	}
	switch {
	case targets != 1:
		return errors.New("give one of --angle, --downforce, --fill, --between, --max-step and --all-bolts")
	case f.setting != "":
		return errors.New("--setting goes with --all-bolts")
	case w.Fill && w.Height.Known():
		return errors.New("--height goes with --angle, --downforce, --between, --max-step or --all-bolts")
	case w.Count < 1 || w.Count > most:
		return fmt.Errorf("--count %d; it must be 1 to %d", w.Count, most)
	case w.MaxStep.Known() && w.MaxStep.Value() < drill.LeastMaxStep:
		return fmt.Errorf("--max-step %s; it must be 0.1° or more", f.maxStep)
	}
	return nil
}

// betweenOf reads the two settings.
func (f *suggestFlags) betweenOf(t *model.Table) (*drill.Between, error) {
	if len(f.between) != 2 {
		return nil, errors.New("--between names a setting; give it twice")
	}
	b := &drill.Between{}
	known := false
	for _, n := range betweenNames {
		if n.name == f.by {
			b.By, known = n.figure, true
		}
	}
	if !known {
		return nil, fmt.Errorf("--by %q; use one of %s", f.by, strings.Join(betweenFigures(), ", "))
	}
	for i, to := range []**model.Row{&b.A, &b.B} {
		r, err := pickRow(t, []string{f.between[i]})
		if err != nil {
			return nil, fmt.Errorf("--between: %w", err)
		}
		if r.NoForces() {
			return nil, fmt.Errorf("--between %q: its forces are not known", f.between[i])
		}
		*to = r
	}
	if b.A.ID == b.B.ID {
		return nil, errors.New("--between names one setting twice; give two")
	}
	return b, nil
}

// bolts reads what is wanted of holes that give bolts.
func (f *suggestFlags) bolts(t *model.Table) (w drill.BoltsGoal, err error) {
	w = drill.BoltsGoal{Most: f.count, Name: func(part, taken int) string { return drill.FreeHoleName(t.Car.Parts[part], taken) }}
	if f.fill || f.angle != "" || f.downforce != "" || f.maxStep != "" || len(f.between) > 0 {
		return w, errors.New("give one of --angle, --downforce, --fill, --between, --max-step and --all-bolts")
	}
	if w.Grid, w.Height, err = f.lengths(t.Car); err != nil {
		return w, err
	}
	switch {
	case (f.setting != "") == w.Height.Known():
		return w, errors.New("--all-bolts takes --setting or --height; give one of them")
	case f.count < 0 || f.count > 20:
		return w, fmt.Errorf("--count %d; it must be 1 to 20", f.count)
	}
	if f.setting != "" {
		if w.Setting, err = pickRow(t, []string{f.setting}); err != nil {
			return w, fmt.Errorf("--setting: %w", err)
		}
	}
	if f.diameter == "" {
		return w, nil
	}
	if w.D, err = units.Lengths.Parse(f.diameter, shown(t.Car).LengthUnit()); err != nil {
		return w, fmt.Errorf("--d %w", err)
	}
	for _, j := range t.Car.Joints {
		if w.D < j.Shank {
			return w, fmt.Errorf("--d: a hole of %s is too small for the %s bolt of joint %s; give at least %s", shown(t.Car).Fine(w.D), j.Bolt, j.Name,
				shown(t.Car).Fine(j.Shank))
		}
	}
	return w, nil
}
