package drill

import (
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// forces are the downforce and the front share over height and angle, worked out on a grid that covers the
// settings and somewhat more, so that places can be looked over by the hundred thousand. Between its points it is
// within about 1 % of the downforce; settings that are shown are worked out in full.
type forces struct {
	lowest, steepest float64 // mm and rad, of the grid's corner
	rows             [][]model.Row
	x                float64 // mm, where the wing is taken to be
	wheelbase        float64 // mm
}

// Steps of the grid, and how far it goes beyond the settings.
const (
	forceHeight, forceAngle = 10.0, 0.5 * plane.Deg // mm, rad
	beyondHeight            = 60.0                  // mm
	beyondAngle             = 12 * plane.Deg
)

// forcesOf works out the grid; nil where there are no settings.
func forcesOf(t *model.Table) *forces {
	if len(t.Rows) == 0 {
		return nil
	}
	var hs, as, xs []float64
	for i := range t.Rows {
		hs, as, xs = append(hs, t.Rows[i].Height), append(as, t.Rows[i].Angle), append(xs, t.Rows[i].X)
	}
	slices.Sort(xs)
	f := &forces{lowest: slices.Min(hs) - beyondHeight, steepest: slices.Min(as) - beyondAngle, x: xs[len(xs)/2],
		wheelbase: t.Car.Wheelbase}
	n := int((slices.Max(hs)+beyondHeight-f.lowest)/forceHeight) + 2
	m := int((slices.Max(as)+beyondAngle-f.steepest)/forceAngle) + 2
	for i := range n {
		var line []model.Row
		height := f.lowest + float64(i)*forceHeight
		like := nearestIn(t, height)
		for k := range m {
			p := model.Position{Setting: &holes.Setting{}, X: f.x, Height: height, Angle: f.steepest + float64(k)*forceAngle,
				Struts: like.Struts, Deck: like.Deck}
			line = append(line, *t.RowAt(&p))
		}
		f.rows = append(f.rows, line)
	}
	return f
}

// nearestIn is the row nearest to a height, mm: what uprights and body do there, where no setting is, is taken to be
// what they do to that one.
func nearestIn(t *model.Table, height float64) *model.Row {
	best := &t.Rows[0]
	for i := range t.Rows {
		if r := &t.Rows[i]; math.Abs(r.Height-height) < math.Abs(best.Height-height) {
			best = r
		}
	}
	return best
}

// at returns the downforce, N, and the front share at a place; ok is false where they are not known or the wing is
// stalled or lifts.
func (f *forces) at(p place) (downforce, share float64, ok bool) {
	i, u := math.Modf((p.height - f.lowest) / forceHeight)
	k, v := math.Modf((p.angle - f.steepest) / forceAngle)
	if i < 0 || k < 0 || u < 0 || v < 0 || int(i)+1 >= len(f.rows) || int(k)+1 >= len(f.rows[0]) {
		return 0, 0, false
	}
	var front float64
	for _, c := range [4]struct {
		r *model.Row
		w float64
	}{{&f.rows[int(i)][int(k)], (1 - u) * (1 - v)}, {&f.rows[int(i)+1][int(k)], u * (1 - v)}, {&f.rows[int(i)][int(k)+1], (1 - u) * v}, {&f.rows[int(i)+1][int(k)+1], u * v}} {
		if c.w == 0 {
			continue
		}
		if math.IsNaN(c.r.Downforce) || c.r.Stalled {
			return 0, 0, false
		}
		downforce += c.w * c.r.Downforce
		front += c.w * c.r.Load.Front
		share += c.w * (c.r.Load.Front + c.r.Load.Rear)
	}
	// Further back it takes more off the front axle: the lever over the wheelbase.
	front -= downforce * (p.x - f.x) / f.wheelbase
	return downforce, front / share, downforce >= 0
}
