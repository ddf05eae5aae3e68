package words

import (
	"fmt"

	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// StrengthVerdict says in a few words how a row of any speed holds at the design speed, and why it is not
// checked where it is not; f is nil where strength cannot be checked, and why says so.
func StrengthVerdict(f *strength.Analysis, why error, p *model.Position, speed float64, u units.System) (verdict, open string) {
	const notChecked = "NOT CHECKED"
	if f == nil {
		return notChecked, why.Error()
	}
	r, err := f.Best(f.Table.RowAt(p))
	if err != nil {
		return notChecked, err.Error()
	}
	used, ok := r.Used()
	share := ""
	if ok {
		share = UsedPercent(used.Utilisation()) + " of strength used"
	}
	switch v := r.Verdict(); {
	case v == strength.DoesNotHold:
		return "DOES NOT HOLD: " + share, ""
	case f.Slower(speed):
		return fmt.Sprintf("%s at %s, the design speed is %s", notChecked, u.Speed(speed), u.Speed(f.Table.Speed)), ""
	case v == strength.Passes:
		return "PASSES THESE CHECKS" + upTo(f, r, u) + ": " + share, ""
	}
	if r.Broken() > 0 {
		open = "holes are nearer to each other or to an edge than any rule covers"
	}
	if len(r.Open) > 0 {
		if open != "" {
			open += "; "
		}
		open += OpenText(r.Open)
	}
	if ok {
		return notChecked + "; of what was checked, " + share, open
	}
	return notChecked, open
}
