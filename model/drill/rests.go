package drill

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// rest is one way of bolting all joints but one: what lies below and above it.
type rest struct {
	turn     float64     // rad, of below and above together
	sin, cos float64     // of the turn of what lies below
	at       plane.Point // mm, of the frame below it on the ground
	quarter  plane.Point // mm, the quarter-chord point in the frame of the part above the joint
}

// sameRest is how near the places must be that rests give the wing to count as one: in mm, and a turn in rad that
// moves a quarter-chord point 500 mm off by that.
const (
	sameRest     = 0.1
	sameRestTurn = sameRest / 500
)

// rests lists the different ways in which the joints other than j are bolted in the table's settings and their
// alternatives.
func rests(t *model.Table, j int) []rest {
	seen := map[[6]int64]bool{}
	var all []rest
	quarter := t.Car.Wing.QuarterChord()
	for i := range t.Rows {
		for w := -1; w < len(t.Rows[i].Alternatives); w++ {
			fits := t.Rows[i].Fits
			if w >= 0 {
				fits = t.Rows[i].Alternatives[w].Fits
			}
			below, above := t.Car.Ground(), plane.Pose{}
			for k, f := range fits {
				switch {
				case k < j:
					below = below.Then(f.Pose)
				case k > j:
					above = above.Then(f.Pose)
				}
			}
			key := [6]int64{}
			for n, x := range []float64{below.X / sameRest, below.Z / sameRest, below.Turn / sameRestTurn,
				above.X / sameRest, above.Z / sameRest, above.Turn / sameRestTurn} {
				key[n] = int64(math.Round(x))
			}
			if seen[key] {
				continue
			}
			seen[key] = true
			r := rest{turn: below.Turn + above.Turn, at: plane.Point{X: below.X, Z: below.Z}, quarter: above.Apply(quarter)}
			r.sin, r.cos = math.Sincos(below.Turn)
			all = append(all, r)
		}
	}
	return all
}

// place is where the wing would be with a bolting of the joint.
type place struct {
	angle  float64 // rad, to the ground
	x      float64 // mm behind the rear axle, of the quarter-chord point
	height float64 // mm above ground
}

// with puts the wing on the car: lower and upper are the middles of the two bolts in the two parts of the joint,
// turn is that of the upper part, with its sine and cosine.
func (r *rest) with(lower, upper plane.Point, turn, sin, cos float64) place {
	dx, dz := r.quarter.X-upper.X, r.quarter.Z-upper.Z
	x, z := lower.X+cos*dx-sin*dz, lower.Z+sin*dx+cos*dz
	angle := r.turn + turn
	if angle > math.Pi || angle < -math.Pi {
		angle = math.Remainder(angle, 2*math.Pi)
	}
	return place{angle: angle, x: r.at.X + r.cos*x - r.sin*z, height: r.at.Z + r.sin*x + r.cos*z}
}
