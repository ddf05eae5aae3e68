package choose

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Step is a way to step from one setting to a neighbour.
type Step int

// The ways to step.
const (
	AngleUp Step = iota
	AngleDown
	HeightUp
	HeightDown
	FrontNext // another hole for the wing's front bolt
	FrontPrev
	RearNext // another hole for the wing's rear bolt
	RearPrev
	BelowNext // another way to bolt the joints below the wing's
	BelowPrev
)

// Stepping by angle stays at a height and stepping by height at an angle, to
// within this much, as long as there is a setting that way. Where there is none
// the nearest is chosen, straying being worth so much against going on.
const (
	sameHeight = 6.0 // mm
	sameAngle  = 0.6 // degrees
	degPerMM   = 0.5
	mmPerDeg   = 25.0
	// A step changes what it is for by at least this much.
	minAngle  = 0.02 // degrees
	minHeight = 0.5  // mm
)

// StepFrom returns the row that a step from row i leads to, and whether there is
// one. A step by angle or height leads to the nearest row whose angle or height
// lies that way, so repeating it ends only at the last such row.
func StepFrom(t *model.Table, i int, way Step) (int, bool) {
	switch way {
	case AngleUp, AngleDown, HeightUp, HeightDown:
		return stepNear(t, i, way)
	case FrontNext, FrontPrev:
		return stepFront(t, i, way == FrontNext)
	case RearNext, RearPrev:
		return stepHole(t, i, way == RearNext, sameBelowAndFront(t, i))
	default:
		return stepBelow(t, i, way == BelowNext)
	}
}

func stepNear(t *model.Table, i int, way Step) (int, bool) {
	from := t.Rows[i].Position
	best, cost, straight := -1, math.Inf(1), false
	for k := range t.Rows {
		to := t.Rows[k].Position
		da, dh := (to.Angle-from.Angle)/plane.Deg, to.Height-from.Height
		if way == AngleDown || way == HeightDown {
			da, dh = -da, -dh
		}
		var c float64
		var stays bool
		if way == AngleUp || way == AngleDown {
			if da < minAngle {
				continue
			}
			c, stays = da+degPerMM*math.Abs(dh), math.Abs(dh) <= sameHeight
		} else {
			if dh < minHeight {
				continue
			}
			c, stays = dh+mmPerDeg*math.Abs(da), math.Abs(da) <= sameAngle
		}
		if stays && !straight || stays == straight && c < cost-1e-9 {
			best, cost, straight = k, c, stays
		}
	}
	return best, best >= 0
}

// WingBolts returns the pairs of the wing's front and rear bolt.
func WingBolts(p *model.Position, wing holes.Part) (front, rear holes.Pair) {
	pairs := p.Fits[len(p.Fits)-1].Pairs
	front, rear = pairs[0], pairs[0]
	for _, q := range pairs[1:] {
		if wing.Holes[q.Upper].X < wing.Holes[front.Upper].X {
			front = q
		}
		if wing.Holes[q.Upper].X > wing.Holes[rear.Upper].X {
			rear = q
		}
	}
	return front, rear
}

func wingBolts(t *model.Table, i int) (front, rear holes.Pair) {
	return WingBolts(t.Rows[i].Position, t.Car.Parts[len(t.Car.Parts)-1].Part)
}

// stepFront returns the row with the next hole of the part below for the wing's
// front bolt, in the order of the part's holes: of those with the same joints
// below, the one whose angle is nearest.
func stepFront(t *model.Table, i int, up bool) (int, bool) {
	front, _ := wingBolts(t, i)
	best, nearest := -1, math.Inf(1)
	var bestHole int
	for k := range t.Rows {
		f, _ := wingBolts(t, k)
		if !below(t, i, k) || f.Upper != front.Upper || f.Lower == front.Lower || (f.Lower > front.Lower) != up {
			continue
		}
		closer := best < 0 || up && f.Lower < bestHole || !up && f.Lower > bestHole
		off := math.Abs(t.Rows[k].Angle - t.Rows[i].Angle)
		if closer || f.Lower == bestHole && off < nearest {
			best, bestHole, nearest = k, f.Lower, off
		}
	}
	return best, best >= 0
}

// sameBelowAndFront returns a test for rows that share all but the wing's rear
// bolt with row i.
func sameBelowAndFront(t *model.Table, i int) func(k int) bool {
	front, rear := wingBolts(t, i)
	return func(k int) bool {
		f, r := wingBolts(t, k)
		return f == front && r.Lower != rear.Lower && r.Upper == rear.Upper && below(t, i, k)
	}
}

// below reports whether two rows share all joints but the wing's.
func below(t *model.Table, i, k int) bool {
	a, b := t.Rows[i].Fits, t.Rows[k].Fits
	for j := range len(a) - 1 {
		if a[j] != b[j] {
			return false
		}
	}
	return true
}

// stepHole returns the row among those that pass the test which comes next in
// the order of angle, then height.
func stepHole(t *model.Table, i int, up bool, test func(int) bool) (int, bool) {
	return next(t, i, up, test, func(p *model.Position) (float64, float64) { return p.Angle / plane.Deg, p.Height })
}

// stepBelow returns the row with the same bolts at the wing, the others
// elsewhere, which comes next in the order of height, then angle.
func stepBelow(t *model.Table, i int, up bool) (int, bool) {
	last := len(t.Car.Joints) - 1
	same := func(k int) bool { return t.Rows[k].Fits[last] == t.Rows[i].Fits[last] && !below(t, i, k) }
	return next(t, i, up, same, func(p *model.Position) (float64, float64) { return p.Height, p.Angle / plane.Deg })
}

func next(t *model.Table, i int, up bool, test func(int) bool, order func(*model.Position) (float64, float64)) (int, bool) {
	after := func(a, b int) bool { // a comes after b
		a1, a2 := order(t.Rows[a].Position)
		b1, b2 := order(t.Rows[b].Position)
		if math.Abs(a1-b1) > 1e-6 {
			return a1 > b1
		}
		if math.Abs(a2-b2) > 1e-6 {
			return a2 > b2
		}
		return a > b
	}
	if !up {
		ahead := after
		after = func(a, b int) bool { return ahead(b, a) }
	}
	best := -1
	for k := range t.Rows {
		if k != i && test(k) && after(k, i) && (best < 0 || after(best, k)) {
			best = k
		}
	}
	return best, best >= 0
}

// Start returns the row to begin with: of those within the limits the one with
// the most downforce, or else the first.
func Start(t *model.Table) int {
	best := -1
	for i := range t.Rows {
		if r := &t.Rows[i]; r.Within() && (best < 0 || r.Downforce > t.Rows[best].Downforce) {
			best = i
		}
	}
	return max(best, 0)
}

// Nearest returns the row closest to an angle in rad and a height in mm, 10 mm
// counting as much as 1°; 0 when there are no rows.
func Nearest(t *model.Table, angle, height float64) int {
	best, at := math.Inf(1), 0
	for i := range t.Rows {
		d := math.Hypot((t.Rows[i].Angle-angle)/plane.Deg, (t.Rows[i].Height-height)/10)
		if d < best {
			best, at = d, i
		}
	}
	return at
}
