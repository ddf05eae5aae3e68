package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cad"
	"stanchion/model/carfile"
	"stanchion/model/files"
	"stanchion/model/units"
)

// importFlags are what import takes.
type importFlags struct {
	options
	part, unit, origin, turn, joint string
	outline                         string // the number of the closed outline that is the part's; "" to find it
	scale                           float64
	layers                          []string
	write, replace                  bool
	moved                           string // how far a hole that was measured anew may have moved; "" for none
}

func newImport() *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use:   "import CARFILE FILE --part PART",
		Short: "take a part's holes, slots, outline and cut-outs from a .dxf, .svg or .csv",
		Long: `import reads a drawing and lists what of it would go into the car file: circles as
holes, and closed outlines of two lines or arcs with round ends as slots. What lies in
blocks is put in its place. Short texts beside holes become their names. All else is
listed as not taken. Circles in straight pieces, in arcs that nearly meet or as splines are
taken for what they stand for, and gaps in outlines of up to 0.5 mm closed: both are said.

Of the other closed outlines the innermost one that holds all the holes is the part's;
what is around it is taken for a border. Those within it that hold no hole are cut-outs.
Where that is not clear, as where an outline within holds most of the holes and not all,
nothing is taken: the ones in question are listed with their numbers, and --take says
which it is. Circles outside of it are then left out.

A .dxf says itself what its numbers are in, or --unit does; a .svg goes by its width and
viewBox. --origin is the place of the drawing that is the part's origin, in the drawing's
units, --turn by how much to turn it about that, --scale how much smaller it is drawn.

A .csv has a head line with id, x, z and d, x_mm and so on to say the unit, and to_x
and to_z, or arc_x, arc_z and arc_turn_deg, for slots.

With --moved a hole within that distance of one that the part has is that one, measured
anew: with --write it gets its new place and diameter, and keeps its name and comment.

With --write holes and slots that the part does not have yet are added to the car
file, and outline and cut-outs, where it has none or --outline is given.
Nothing else in it changes.`,
		Example: `  stanchion import car.toml upright.dxf --part upright
  stanchion import car.toml upright.dxf --part upright --joint head --write
  stanchion import car.toml sheet.dxf --part upright --take 2`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 3 && f.moved != "" {
				return fmt.Errorf("%s: unexpected argument %q; a length for --moved is joined to it, such as --moved=3mm", c.CommandPath(), args[2])
			}
			return arguments(2, 2)(c, args)
		},
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(); err != nil {
				return err
			}
			return f.run(cmd, args[0], args[1])
		},
	}
	c.Flags().StringVar(&f.part, "part", "", "the `PART` that is drawn (default: the one that carries the wing)")
	c.Flags().StringVar(&f.unit, "unit", "", "what the drawing's numbers are in, `UNIT` mm, cm, m or in (default: as it says)")
	c.Flags().StringVar(&f.origin, "origin", "0,0", "the place `X,Z` of the drawing that is the part's origin, in its units")
	c.Flags().StringVar(&f.turn, "turn", "0", "`ANGLE` to turn the drawing by, counter-clockwise")
	c.Flags().Float64Var(&f.scale, "scale", 1, "`FACTOR` from the drawing to the part: 2 for one at half size")
	c.Flags().StringSliceVar(&f.layers, "layer", nil, "read these `LAYERS` alone")
	c.Flags().StringVar(&f.joint, "joint", "", "keep the holes for this `JOINT`")
	c.Flags().BoolVar(&f.write, "write", false, "add them to the car file")
	c.Flags().StringVar(&f.outline, "take", "", "closed outline `N` of the drawing is the part's (default: by the holes in it)")
	c.Flags().BoolVar(&f.replace, "outline", false, "with --write: replace the outline and cut-outs that the part has")
	c.Flags().StringVar(&f.moved, "moved", "", "holes within this `LENGTH` of the part's own are those, measured anew (--moved alone: 3mm)")
	c.Flags().Lookup("moved").NoOptDefVal = "3mm"
	c.Flags().StringVar(&f.format, "format", "text", "text, json")
	f.formats = []string{"text", "json"}
	_ = c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(f.formats, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (f *importFlags) run(cmd *cobra.Command, name, drawn string) error {
	car, err := f.car(name)
	if err != nil {
		return err
	}
	index, err := findPart(car, f.part)
	if err != nil {
		return fmt.Errorf("--part %w", err)
	}
	o, err := f.readOptions()
	if err != nil {
		return err
	}
	if f.joint != "" && len(car.Joints) > 0 && !slices.ContainsFunc(car.Joints, func(j model.Joint) bool { return j.Name == f.joint }) {
		return fmt.Errorf("--joint %q: the car has no such joint", f.joint)
	}
	data, err := files.Read(drawn, cad.MaxSize)
	if err != nil {
		return fmt.Errorf("%s: cannot be read: %w", drawn, plain(err))
	}
	found, err := cad.Read(drawn, data, o)
	if errors.Is(err, cad.ErrNoUnit) {
		return fmt.Errorf("%s: %w; give --unit mm, cm, m or in", drawn, err)
	}
	if err != nil {
		var lines []string
		for _, l := range strings.Split(err.Error(), "\n") {
			lines = append(lines, drawn+": "+l)
		}
		return errors.New(strings.Join(lines, "\n"))
	}
	var moved []movedHole
	if f.moved != "" {
		reach, err := units.Lengths.Parse(f.moved, shown(car).LengthUnit())
		if err != nil || !(reach > 0) || reach > 50 {
			return fmt.Errorf("--moved %q; give a length of more than 0, up to 50 mm, such as 3mm", f.moved)
		}
		moved = remeasured(&found, car.Parts[index], reach)
	}
	bolt, inches := inInches(found, car, index)
	if inches = inches && f.unit == ""; inches {
		found.Notes = append(found.Notes, fmt.Sprintf("ALL HOLES ARE SMALLER THAN THE BOLTS, which are %.1f mm: are the numbers inches? Give --unit in, or --unit mm if they are right", bolt))
	}
	fresh := f.sort(&found, car.Parts[index])
	if f.format == "json" { // also where the outline is not clear: ignored has the candidates
		err = writeJSON(cmd.OutOrStdout(), importOut(found, moved))
	}
	if err == nil && found.Unclear() {
		return unclear(drawn, found, shown(car))
	}
	if f.format != "json" {
		p := out(cmd)
		importText(p, found, moved, fresh, car.Parts[index], shown(car))
		err = p.err
	}
	if err != nil || !f.write {
		return err
	}
	if inches {
		return fmt.Errorf("%s: is not changed: all holes of the drawing are smaller than the bolts; give --unit in, or --unit mm if they are right", name)
	}
	return rewrite(cmd, name, "the import into "+car.Parts[index].Name, func(text []byte) ([]carfile.Edit, error) { return f.edits(text, car.Parts[index], found, moved) })
}

// car reads the car; one whose parts have too few holes yet is read as far as its
// parts.
func (f *importFlags) car(name string) (*model.Car, error) {
	car, err := loadCar(name)
	var faults carfile.Faults
	if err == nil || !errors.As(err, &faults) {
		return car, err
	}
	text, readErr := files.Read(name, carfile.MaxSize)
	if readErr != nil {
		return nil, err
	}
	parts, partsErr := carfile.PartsOf(name, text)
	if partsErr != nil || len(parts) < 2 {
		return nil, err
	}
	return &model.Car{Parts: parts}, nil
}

// readOptions takes the flags that say how the drawing lies.
func (f *importFlags) readOptions() (o cad.Options, err error) {
	o.Scale, o.Layers = f.scale, f.layers
	if f.outline != "" {
		if o.Outline, err = strconv.Atoi(f.outline); err != nil || o.Outline < 1 {
			return o, fmt.Errorf("--take %q; give the number of a closed outline of the drawing, such as --take 2", f.outline)
		}
	}
	if !(f.scale > 0) || f.scale > 1e4 {
		return o, fmt.Errorf("--scale %g; it must be more than 0, up to 10000", f.scale)
	}
	switch f.unit {
	case "":
	case "mm", "cm", "m", "in":
		o.Unit = units.Lengths[f.unit]
	default:
		return o, fmt.Errorf("--unit %q; use mm, cm, m or in", f.unit)
	}
	if o.Turn, err = units.Angles.Parse(f.turn, "deg"); err != nil {
		return o, fmt.Errorf("--turn %w", err)
	}
	x, z, ok := strings.Cut(f.origin, ",")
	px, errX := units.Unit{"": 1}.Parse(x, "")
	pz, errZ := units.Unit{"": 1}.Parse(z, "")
	if !ok || errX != nil || errZ != nil {
		return o, fmt.Errorf("--origin %q; give X,Z in the drawing's units, such as 120,-35", f.origin)
	}
	o.Origin = plane.Point{X: px, Z: pz}
	return o, nil
}

// sort leaves out what the part has already, gives names that it has to nobody else,
// and returns how many holes and slots are left.
func (f *importFlags) sort(found *cad.Found, p model.Part) int {
	taken := map[string]bool{}
	for _, h := range p.Holes {
		taken[cmp.Or(h.Slot, h.ID)] = true
	}
	has := func(h holes.Hole) string {
		for _, o := range p.Holes {
			apart := o.At().Distance(h.At())
			switch {
			case o.Slot != "":
			case apart < 0.01 && math.Abs(o.D-h.D) < 0.01:
				return o.ID
			case apart < (o.D+h.D)/2:
				found.Notes = append(found.Notes,
					fmt.Sprintf("the circle at %.2f, %.2f of %.2f mm runs into hole %s, %.2f mm, which the part has", h.X, h.Z, h.D, o.ID, o.D))
			}
		}
		return ""
	}
	hasSlot := func(s holes.Slot) string {
		for _, o := range p.Slots {
			if cad.SameSlot(s, o) {
				return o.ID
			}
		}
		return ""
	}
	name := func(h *holes.Hole) {
		h.Joint = cmp.Or(f.joint, h.Joint)
		for n, id := 2, h.ID; taken[h.ID]; n++ {
			h.ID = fmt.Sprintf("%s-%d", id, n)
		}
		taken[h.ID] = true
	}
	found.Holes = slices.DeleteFunc(found.Holes, func(h holes.Hole) bool {
		id := has(h)
		if id != "" {
			found.Notes = append(found.Notes, fmt.Sprintf("the circle at %.2f, %.2f is hole %s, which the part has", h.X, h.Z, id))
		}
		return id != ""
	})
	found.Slots = slices.DeleteFunc(found.Slots, func(s holes.Slot) bool {
		id := hasSlot(s)
		if id != "" {
			found.Notes = append(found.Notes, fmt.Sprintf("the slot at %.2f, %.2f is slot %s, which the part has", s.X, s.Z, id))
		}
		return id != ""
	})
	for i := range found.Holes {
		name(&found.Holes[i])
	}
	for i := range found.Slots {
		name(&found.Slots[i].Hole)
	}
	plate := f.asDrilled(p, *found)
	for _, h := range found.Holes {
		where := "outside of the part's outline"
		if plate.InCutout(h.At()) {
			where = "in a cut-out of the part"
		}
		if _, metal := plate.EdgeDistance(h.At()); plate.Outline != nil && !metal {
			found.Notes = append(found.Notes,
				fmt.Sprintf("hole %s at %.2f, %.2f lies %s: are origin, turn and unit right?", h.ID, h.X, h.Z, where))
		}
	}
	if found.Outline != nil && p.Outline != nil && !f.replace && !f.takesCutouts(p, *found) && !sameShape(p, *found) {
		found.Notes = append(found.Notes, "the part has another outline or other cut-outs, which stay: --outline takes those of the drawing")
	}
	return len(found.Holes) + len(found.Slots)
}
