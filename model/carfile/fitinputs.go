package carfile

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/units"
)

// What a fit does not depend on: tables of the file, and keys of parts and joints.
var (
	notForFit       = []string{"fit", "claim", "measured", "datum", "name", "limits", "checks", "speed", "air", "assumed", "format", "adjustment"}
	notForFitInside = []string{"material", "welded", "held", "grade", "nut_tension", "nut_shear"}
)

// fitInputs is a digest, 8 hexadecimal digits, of what a file has that a fit depends on: of its values as
// they were read, not of their spelling, with the wing's curve or outline of another file.
func fitInputs(root map[string]any, c *model.Car) string {
	h := fnv.New32a()
	var put func(v any, top bool)
	put = func(v any, top bool) {
		switch x := v.(type) {
		case map[string]any:
			var keys []string
			for k := range x {
				if !slices.Contains(notForFitInside, k) && !(top && slices.Contains(notForFit, k)) {
					keys = append(keys, k)
				}
			}
			slices.Sort(keys)
			fmt.Fprint(h, "{")
			for _, k := range keys {
				fmt.Fprintf(h, "%q:", k)
				put(x[k], false)
			}
			fmt.Fprint(h, "}")
		case []any:
			fmt.Fprint(h, "[")
			for _, one := range x {
				put(one, false)
			}
			fmt.Fprint(h, "]")
		case []map[string]any:
			fmt.Fprint(h, "[")
			for _, one := range x {
				put(one, false)
			}
			fmt.Fprint(h, "]")
		default:
			if f, ok := asFloat(v); ok {
				fmt.Fprintf(h, "%s,", nineDigits(f))
			} else {
				fmt.Fprintf(h, "%q,", fmt.Sprint(v))
			}
		}
	}
	put(root, true)
	w := c.Wing
	if w.Table != nil {
		for a, k := range w.Table.Points() {
			fmt.Fprint(h, nineDigits(a), nineDigits(k.CL), nineDigits(k.CD), nineDigits(k.CM), ",")
		}
	}
	if w.Polar != nil {
		for a, k := range w.Polar.Points() {
			fmt.Fprint(h, nineDigits(a), nineDigits(k.CL), nineDigits(k.CD), nineDigits(k.CM), ",")
		}
	}
	for _, p := range w.Shape {
		fmt.Fprint(h, nineDigits(p.X), nineDigits(p.Y), ",")
	}
	return fmt.Sprintf("%08x", h.Sum32())
}

// nineDigits spells a number without what rounding leaves in it.
func nineDigits(x float64) string {
	if math.Abs(x) < 1e-12 {
		x = 0
	}
	return fmt.Sprintf("%.9g ", x)
}

// checkFit says where a fit is of another state of the file, and what a maker's word beside it does.
func (r *reader) checkFit(c *model.Car, f *fitTable) {
	if f.inputs != "" && f.inputs != strings.ToLower(c.TrackFit.Inputs) {
		r.warnings = append(r.warnings, units.Say("[fit] is older than the rest of the file: what it found may count twice; run \"stanchion note fit --write\" again"))
	}
	if c.Claim.Downforce.Known() && c.Claim.Speed.Known() && c.Wing.Table == nil {
		r.warnings = append(r.warnings, units.Say("[claim] beside [fit]: the maker's figure is set aside, as [fit] has what the track told"))
	}
}
