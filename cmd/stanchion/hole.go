package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newHole() *cobra.Command {
	c := &cobra.Command{
		Use:   "hole",
		Short: "is another hole worth drilling, and where",
	}
	c.AddCommand(newTry(), newSuggest(), newBuilt())
	return c
}

// holeFlags are what both hole commands take.
type holeFlags struct {
	options
	part, joint, diameter string
}

func (f *holeFlags) addTo(c *cobra.Command) {
	f.add(c, speedOfFile, "text", "json")
	c.Flags().StringVar(&f.part, "part", "", "the `PART` to drill (default: the one that carries the wing)")
	c.Flags().StringVar(&f.joint, "joint", "", "the `JOINT` that the hole is for (default: the wing's, where the part is at it)")
	c.Flags().StringVar(&f.diameter, "d", "", "`DIAMETER` as drilled (default: as the part's other holes)")
}

// open reads the car and the flags.
func (f *holeFlags) open(name string) (t *model.Table, part int, d float64, err error) {
	if t, err = f.table(name); err != nil {
		return nil, 0, 0, err
	}
	if part, err = findPart(t.Car, f.part); err != nil {
		return nil, 0, 0, fmt.Errorf("--part %w", err)
	}
	if f.joint != "" {
		known := false
		for j, joint := range t.Car.Joints {
			known = known || joint.Name == f.joint && (j == part || j+1 == part)
		}
		if !known {
			return nil, 0, 0, fmt.Errorf("--joint %q; name a joint of part %q", f.joint, t.Car.Parts[part].Name)
		}
	}
	if f.joint == "" {
		f.joint = drill.DefaultJoint(t.Car, part)
	}
	d = commonDiameter(t.Car.Parts[part])
	if f.diameter != "" {
		if d, err = units.Lengths.Parse(f.diameter, shown(t.Car).LengthUnit()); err != nil {
			return nil, 0, 0, fmt.Errorf("--d %w", err)
		}
	}
	if !(d > 0 && d < 100) {
		return nil, 0, 0, fmt.Errorf("--d: the diameter is %s; it must be more than 0 and less than %s", shown(t.Car).Dimension(d),
			shown(t.Car).Dimension(100))
	}
	if small, ok := drill.TooSmall(t.Car, part, f.joint, d); ok {
		return nil, 0, 0, fmt.Errorf("--d: a hole of %s is too small for the %s bolt of joint %s; give at least %s", shown(t.Car).Fine(d), small.Bolt,
			small.Name, shown(t.Car).Fine(small.Shank))
	}
	return t, part, d, nil
}

// findPart finds a part by name; without one it is the part below the wing.
func findPart(c *model.Car, name string) (int, error) {
	if name == "" {
		return len(c.Parts) - 2, nil
	}
	var known []string
	for i, p := range c.Parts {
		if strings.EqualFold(p.Name, name) {
			return i, nil
		}
		known = append(known, p.Name)
	}
	return 0, fmt.Errorf("%q; use one of %s", name, strings.Join(known, ", "))
}

func newTry() *cobra.Command {
	var f holeFlags
	var at []string
	c := &cobra.Command{
		Use:   "try CARFILE --at X,Z",
		Short: "what a hole at a place would add, and whether it is worth drilling",
		Long: `try works out the settings that a new hole would add, which of them are within
limits and unlike any that exists, what it does to the range of angles at each
height, and whether edge distance and spacing keep the usual minima. X and Z are
in the part's own frame. --at may be given several times.

Exit code 1 means that it is not worth drilling.`,
		Example:           "  stanchion hole try car.toml --at 147.7,446.0\n  stanchion hole try car.toml --part upright --at 147.7,446 --at 149,463 --d 8.4",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, part, d, err := f.open(args[0])
			if err != nil {
				return err
			}
			if len(at) == 0 {
				return errors.New("--at is missing; give --at X,Z in the part's own frame")
			}
			var hs []drill.NewHole
			for i, text := range at {
				p, err := parsePoint(text, shown(t.Car).LengthUnit())
				if err != nil {
					return fmt.Errorf("--at %w", err)
				}
				hs = append(hs, drill.NewHole{Part: part,
					Hole: holes.Hole{ID: drill.FreeHoleName(t.Car.Parts[part], i), X: p.X, Z: p.Z, D: d, Joint: f.joint}})
			}
			tr, err := drill.Try(cmd.Context(), t, hs...)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			if f.format == "json" {
				err = tryJSON(cmd, tr)
			} else {
				err = tryText(cmd, tr, shown(t.Car))
			}
			if err == nil && !tr.Verdict.Good() {
				return noAnswer("")
			}
			return err
		},
	}
	f.addTo(c)
	c.Flags().StringArrayVar(&at, "at", nil, "place `X,Z` of the hole's centre in the part's own frame; may repeat")
	return c
}

// parsePoint reads X,Z, each with a unit or in the unit given.
func parsePoint(text, bare string) (plane.Point, error) {
	xs, zs, ok := strings.Cut(text, ",")
	if !ok || strings.Contains(zs, ",") {
		return plane.Point{}, fmt.Errorf("%q; give X,Z with decimal points, such as 40,445.5", text)
	}
	x, err := units.Lengths.Parse(xs, bare)
	if err != nil {
		return plane.Point{}, err
	}
	z, err := units.Lengths.Parse(zs, bare)
	return plane.Point{X: x, Z: z}, err
}

func tryText(cmd *cobra.Command, tr drill.Trial, u units.System) error {
	p := out(cmd)
	for _, h := range tr.Holes {
		p.f("%s in part %s at x %s, z %s, %s wide\n", h.ID, tr.Table.Car.Parts[h.Part].Name, u.Dimension(h.X), u.Dimension(h.Z), u.Dimension(h.D))
	}
	p.f("%s\n\n", words.Trial(&tr, u))
	for _, i := range tr.Added {
		r := &tr.Table.Rows[i]
		mark := "  "
		for _, k := range tr.Useful {
			if k == i {
				mark = "+ "
			}
		}
		line := fmt.Sprintf("%s%8s %6s°  %5s %s ± %s  %s", mark, u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), u.ForceFigure(r.Downforce),
			u.ForceUnit(), u.ForceFigure(tr.Table.Budget(r).Downforce), tr.Table.Name(r.Setting))
		why := ""
		if !r.Within() {
			why = "✗ " + strings.Join(words.Outside(r, u), "; ")
		}
		p.rowWith(line, why)
	}
	switch {
	case len(tr.Useful) > 0:
		p.f("(+ keeps all limits and differs clearly from every setting that exists)\n\n")
	case len(tr.Added) > 0:
		p.f("\n")
	}
	for _, id := range tr.Further {
		p.f("a further bolt for %s\n", id)
	}
	levelsText(p, tr, u)
	for _, r := range tr.Rules {
		verdict, bound := "OK", "minimum"
		switch {
		case !r.Must:
			verdict, bound = "less than is usual", "usual"
		case !r.OK:
			verdict = "TOO LITTLE, " + u.Dimension(r.Need-r.Have) + " short"
		}
		p.f("%s: %s: %s, %s %s: %s\n", r.Hole, words.Rule(r), u.Dimension(r.Have), bound, u.Dimension(r.Need), verdict)
	}
	p.f("Minima of EN 1993-1-8 Table 3.3 and EN 1999-1-1; they do not say that the part holds.\n")
	return p.err
}

// levelsText shows the range at each height that changes.
func levelsText(p *printer, tr drill.Trial, u units.System) {
	for n, l := range tr.LevelChanges() {
		if n == 0 && tr.Verdict.Worth == drill.CannotDrill {
			p.f("If it could be drilled there:\n")
		}
		p.f("%s\n", words.LevelChange(l, u))
	}
}

// commonDiameter is the diameter that most holes of a part have, mm.
func commonDiameter(p model.Part) float64 { return drill.CommonDiameter(p) }
