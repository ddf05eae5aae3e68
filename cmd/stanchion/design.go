package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

// designFlags say what is wanted of a plate.
type designFlags struct {
	options
	keepFlags
	angleMin, angleMax, step, endWithin          string
	angleWithin, blank                           string
	heights, pitches, angles                     []string
	heightWithin, behind, behindWithin, off, out string
	columns, high                                string
	shape, band                                  string
	footBolts, proposal                          int
	given                                        map[string]bool // flags that were typed
	lighten                                      bool
	neck                                         neckFlags
}

func newDesign() *cobra.Command {
	var f designFlags
	c := &cobra.Command{
		Use:   "design CARFILE --height H [--height H] {--angle-max A --step A | --angle A [--angle A]}",
		Short: "where to drill a plate that is still to be made",
		Long: `design finds the holes of the upright for the heights and angles that are wanted: how it
is bolted to the bracket, the part below it, whose holes stay as the car file has them, and where the
wing's two bolts go. Where the bracket itself can be bolted in several places to a part below it, each counts as
one more place for the upright, and heights may be reached there too. Of a wing with more than two holes it tries
pairs, and says which. A bracket that has no holes yet (holes = []) gets two columns of them,
--bracket-columns apart and up to --bracket-high high. The upright's own holes and outline in the file are set aside; it
may have none yet (holes = []).

Every height gets all angles from --angle-min to --angle-max with no step wider than
--step, or the angles named by --angle to --angle-within, with --foot-bolts bolts at the foot. Holes keep the least spacing, and there is
room for a spanner between bolts that are in together. Where holes for fine steps would
run into each other it uses several front holes, rear holes that two front holes share,
and a foot that also takes the plate tilted by a part of a step, or by what the bracket's own
holes give where they lie on an arc. --pitch gives spacings
of the wing's bolts to choose from, before the wing or its mounts are ordered.

Each proposal is listed anew as a car of its own; the angles below it are those of its
settings. The outline is the tightest convex one with the usual edge distance. Where
that would come too near to body or lid, or stop the lid, at a setting that is wanted, it
is cranked round them: straight sides, inside radii of 5 mm or more, nowhere narrower than
twice the usual edge distance save beside a hole that has no room for it. --shape slim
leaves out what lies between foot and head but for a band of --band. Such plates are
lighter and bend more: the strength below is that of the plate as drawn.

--shape swan-neck holds the wing from above: the plate reaches its bolts round the leading
edge, keeps --neck-gap from the wing's section at every setting, is --band wide at
least, and leaves the side below the wing free as far as the foot allows. The wing's
bolts must be so far above it that the holes keep their edge distance; where they are
not, the answer is how high top mounts would have to be, and --mounts-above takes that
before they are ordered.

--lighten
cuts round openings where there is little stress, as many as leave the mounting no weaker
and at no more than 70 % of its strength, with every setting solved as drawn: half a
minute and more for each proposal.

--keep names holes of the upright in the car file that stay where they are, such as
those that are drilled already: it looks for the fewest further ones, and the wing
stays over them. One that no setting wanted uses stays too, and is named. What --out writes is a car file with proposal
--proposal in place of the old holes: map, draw, strength and hole work on it.

--blank is the piece of sheet that there is: plates that do not go on it, turned as need be, are left out.

Exit code 1 means that no plate was found, or none that goes on the blank.`,
		Example: `  stanchion design car.toml --height 1240 --height 1280 --angle-max 12 --step 3
  stanchion design car.toml --height 1250 --angle-max 10 --step 2 --pitch 150 --pitch 200 --out new.toml
  stanchion design new.toml --height 1265 --angle-max 10 --step 2 --keep F1,R2 --out other.toml`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt)
			defer stop()
			f.given = map[string]bool{}
			cmd.Flags().Visit(func(one *pflag.Flag) { f.given[one.Name] = true })
			err := f.run(ctx, cmd, args[0])
			if errors.Is(err, context.Canceled) {
				return noAnswer("%s: stopped", args[0])
			}
			return err
		},
	}
	f.add(c, speedOfFile, "text", "json")
	f.keepTo(c)
	fs := c.Flags()
	fs.StringArrayVar(&f.heights, "height", nil, "a wanted `HEIGHT` of the quarter-chord point, such as 1350mm; may be repeated")
	fs.StringVar(&f.heightWithin, "height-within", "10mm", "by how much a height may be off, `LENGTH` either way")
	fs.StringVar(&f.angleMin, "angle-min", "0", "the least `ANGLE` to the ground")
	fs.StringVar(&f.angleMax, "angle-max", "", "the largest `ANGLE` to the ground")
	fs.StringArrayVar(&f.angles, "angle", nil, "a wanted `ANGLE` to the ground instead of a range; may be repeated")
	fs.StringVar(&f.angleWithin, "angle-within", "0.25deg", "by how much a named angle may be off, `ANGLE` either way")
	fs.StringVar(&f.blank, "blank", "", "the sheet that the plate must go on, `WxH` such as 400x600mm (default: any)")
	fs.StringVar(&f.step, "step", "", "the widest step between angles, `ANGLE` such as 1.5deg")
	fs.StringVar(&f.endWithin, "end-within", "0.5deg", "by how much the first and the last angle may fall short, `ANGLE`")
	fs.IntVar(&f.footBolts, "foot-bolts", 0, "bolts at the foot, at every setting (default: 4, or the joint's min_bolts where that is more)")
	fs.StringArrayVar(&f.pitches, "pitch", nil, "a `SPACING` of the wing's bolts to choose from; may be repeated (default: as the wing is drilled)")
	fs.StringVar(&f.columns, "bracket-columns", "60mm", "how far apart the columns of a bracket without holes are to be, `LENGTH`")
	fs.StringVar(&f.high, "bracket-high", "160mm", "from the lowest to the highest row of such a bracket at most, `LENGTH`")
	fs.StringVar(&f.behind, "behind", "", "how far behind the rear axle the wing's front bolt is to be, `LENGTH` (default: over the foot)")
	fs.StringVar(&f.behindWithin, "behind-within", "20mm", "by how much that may be off, `LENGTH` either way")
	fs.StringVar(&f.shape, "shape", "convex", "`SHAPE` of the plate: convex, cranked only where it must be, slim, or swan-neck")
	f.neck.add(fs)
	fs.StringVar(&f.band, "band", "60mm", "how wide a slim plate's bands are, or a swan neck at least, `WIDTH`")
	fs.BoolVar(&f.lighten, "lighten", false, "cut round openings where the solver finds little stress")
	fs.StringVar(&f.off, "off", "0.3mm", "by how much every hole is off when it is drilled, in any direction, `LENGTH`")
	fs.StringVarP(&f.out, "out", "o", "", "write a car file with the proposal, `FILE`; it is never overwritten")
	fs.IntVar(&f.proposal, "proposal", 1, "which proposal --out writes, `N`")
	return c
}

func (f *designFlags) run(ctx context.Context, cmd *cobra.Command, name string) error {
	if err := f.check(); err != nil {
		return err
	}
	car, err := loadCar(name)
	if err != nil {
		return err
	}
	if car.Speed, err = chosenSpeed(car, f.speed); err != nil {
		return err
	}
	w, err := f.wish(car)
	if err != nil {
		return err
	}
	if w.Kept, err = f.kept(car); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	off, err := units.Lengths.Parse(f.off, shown(car).LengthUnit())
	if err != nil || off < 0 || off > 5 {
		return fmt.Errorf("--off %s; it must be 0 to %s", units.Printable(f.off), shown(car).Dimension(5))
	}
	if f.out != "" { // before the search
		if _, err := os.Lstat(f.out); err == nil {
			return fmt.Errorf("%s: exists already; choose another name", f.out)
		}
	}
	show, done := progress("trying plates")
	d, err := design.Design(ctx, car, w, show)
	done()
	var fault *design.Fault
	if errors.As(err, &fault) {
		return fmt.Errorf("%s: %s", name, words.DesignFault(fault, shown(car)))
	}
	if err != nil {
		return err
	}
	if f.lighten {
		if err := lightenAll(ctx, d); err != nil {
			return err
		}
	}
	if f.out != "" && len(d.Proposals) > 0 && f.proposal > len(d.Proposals) {
		return fmt.Errorf("--proposal %d; there are %d", f.proposal, len(d.Proposals))
	}
	wrote := f.out != "" && len(d.Proposals) > 0
	if wrote { // before anything is printed, to a pipe that may be closed
		if err := writeDesign(name, f.out, &d.Proposals[f.proposal-1]); err != nil {
			return err
		}
	}
	if f.format == "json" {
		err = designJSON(ctx, cmd, d, off)
	} else {
		err = designText(ctx, cmd, d, off)
	}
	switch {
	case err != nil:
		return err
	case len(d.Proposals) == 0 && words.NoSwanNeck(d, shown(car)) != "":
		return noAnswer("%s: %s", name, words.NoSwanNeck(d, shown(car)))
	case len(d.Proposals) == 0:
		return noAnswer("%s: %s", name, words.NothingDesigned(d, shown(car)))
	case wrote && f.format != "json":
		return designNext(cmd, f.out, d.Proposals[0].Plate().Name)
	}
	return nil
}

// wish reads what is wanted.
func (f *designFlags) wish(car *model.Car) (w design.Wish, err error) {
	u := shown(car)
	read := func(flag, text string, of units.Unit, bare string) (x float64) {
		if err != nil {
			return 0
		}
		if text == "" {
			err = fmt.Errorf("--%s is missing; give it", flag)
			return 0
		}
		if x, err = of.Parse(text, bare); err != nil {
			err = fmt.Errorf("--%s %w", flag, err)
		}
		return x
	}
	angle := func(flag, text string) float64 { return read(flag, text, units.Angles, "deg") }
	length := func(flag, text string) float64 { return read(flag, text, units.Lengths, u.LengthUnit()) }
	if len(f.heights) == 0 {
		return w, errors.New("--height is missing; give each height that is wanted")
	}
	for _, h := range f.heights {
		w.Heights = append(w.Heights, length("height", h))
	}
	for _, p := range f.pitches {
		w.Pitches = append(w.Pitches, length("pitch", p))
	}
	if len(f.angles) > 0 {
		if f.angleMax != "" || f.step != "" || f.given["angle-min"] {
			return w, errors.New("--angle names angles, --angle-min, --angle-max and --step give a range; give one of them")
		}
		for _, a := range f.angles {
			w.Angles = append(w.Angles, angle("angle", a))
		}
		if w.AngleWithin = angle("angle-within", f.angleWithin); w.AngleWithin == 0 {
			w.AngleWithin = -1 // not the usual
		}
	} else {
		if f.given["angle-within"] {
			return w, errors.New("--angle-within is for angles named by --angle; a range has --end-within")
		}
		if f.angleMax == "" {
			return w, errors.New("no angles are wanted; give --angle-max and --step, or each angle by --angle")
		}
		w.Low, w.High, w.Step = angle("angle-min", f.angleMin), angle("angle-max", f.angleMax), angle("step", f.step)
	}
	w.EndWithin, w.HeightWithin = angle("end-within", f.endWithin), length("height-within", f.heightWithin)
	if f.blank != "" {
		first, second := units.Sides(f.blank)
		if first == "" || second == "" {
			return w, fmt.Errorf("--blank %s has one side; give both, such as 400x600mm", units.Printable(f.blank))
		}
		w.Blank = design.Blank{W: length("blank", first), H: length("blank", second)}
		if err == nil && !w.Blank.Given() { // zero would be any sheet
			return w, errors.New(words.DesignFault(&design.Fault{What: design.BadBlank}, u))
		}
	}
	w.BehindWithin = length("behind-within", f.behindWithin)
	w.Band = length("band", f.band)
	switch f.shape {
	case "convex":
	case "slim":
		w.Slim = true
	case "swan-neck":
		w.SwanNeck = true
	default:
		return w, fmt.Errorf("--shape %s; it must be convex, slim or swan-neck", units.Printable(f.shape))
	}
	if bad := f.neck.wish(&w, car, length); bad != nil {
		return w, bad
	}
	if f.behind != "" {
		w.Behind = given.Is(length("behind", f.behind))
	}
	if err != nil {
		return w, err
	}
	if f.footBolts < 0 || f.footBolts == 0 && f.given["foot-bolts"] || f.proposal < 1 {
		return w, errors.New("--foot-bolts and --proposal must be at least 1")
	}
	w.FootBolts = f.footBolts
	w.BracketColumns, w.BracketHigh = length("bracket-columns", f.columns), length("bracket-high", f.high)
	if err == nil && !(w.BracketColumns > 0 && w.BracketHigh > 0) {
		err = errors.New("--bracket-columns and --bracket-high must be more than 0")
	}
	if err != nil {
		return w, err
	}
	return w, nil
}
