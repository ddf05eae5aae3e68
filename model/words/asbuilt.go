package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Sides says how a setting stands on the left and on the right as its holes were measured; "" where none were.
func Sides(t *model.Table, r *model.Row, u units.System) string {
	if !t.Car.Measured() {
		return ""
	}
	s := t.Car.Sides(r.Setting)
	text := fmt.Sprintf("As built: left %s at %s, right %s at %s", degrees2(s.Left.Angle), u.Dimension(s.Left.Height), degrees2(s.Right.Angle),
		u.Dimension(s.Right.Height))
	if twist := math.Abs(s.Twist()); twist < 0.005*plane.Deg && math.Abs(s.Higher()) < 0.05 {
		return text + ": both sides alike."
	}
	return fmt.Sprintf("%s: the wing is twisted by %s, the left is %s higher. The figures are those of the mean.", text, degrees2(math.Abs(s.Twist())),
		u.Dimension(s.Higher()))
}

// BuiltHole says where a hole is on either side, against where it is drawn.
func BuiltHole(p *model.Part, id string, b model.AsBuilt, u units.System) string {
	text := fmt.Sprintf("%s of the %s: drawn at %s, %s", id, p.Name, u.FineFigure(b.Drawn.X), u.Fine(b.Drawn.Z))
	for _, s := range []struct {
		name     string
		at       plane.Point
		measured bool
	}{{"left", b.Left, b.LeftMeasured}, {"right", b.Right, b.RightMeasured}} {
		if s.measured {
			text += fmt.Sprintf("; %s at %s, %s, %s off", s.name, u.FineFigure(s.at.X), u.Fine(s.at.Z), u.Fine(s.at.Distance(b.Drawn)))
		}
	}
	return text
}
