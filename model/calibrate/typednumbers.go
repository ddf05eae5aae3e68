package calibrate

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/units"
)

// number takes an angle or a height.
func (r *typing) number(word string) error {
	angle, notAngle := units.Angles.Parse(word, "deg")
	bare := strings.TrimLeft(word, "+-−0123456789./") == ""
	height, notHeight := units.Lengths.Parse(word, r.u.LengthUnit())
	switch {
	case notAngle != nil && notHeight != nil && (strings.Contains(word, ",") || bare):
		return notHeight
	case notAngle != nil && notHeight != nil:
		return fmt.Errorf("%q; give angles, heights, left, right, floor, or on and a face", word)
	case notAngle == nil && r.next == "" && (!bare || math.Abs(angle) <= bareHeight*plane.Deg):
		return r.angle(angle)
	case notHeight != nil:
		return notHeight
	case height <= 0:
		return fmt.Errorf("the height %s; it must be more than 0", r.u.Length(height))
	}
	return r.height(height)
}

func (r *typing) angle(a float64) error {
	if r.floor != nil {
		switch {
		case !r.filled:
			r.floor.Angle, r.filled, r.stands = a, true, r.floor.Name
			r.t.Floors = append(r.t.Floors, *r.floor)
			return nil
		case !r.t.Floors[0].Turned.Known():
			r.t.Floors[0].Turned = given.Is(a)
			return turnedTooFar("floor", r.t.Floors[0].Angle, a)
		}
		r.floor = nil
		if err := r.begin(""); err != nil {
			return err
		}
	}
	if r.now == nil || r.closed && r.now.Angle.Known() || r.now.Turned.Known() {
		if err := r.begin(""); err != nil {
			return err
		}
	}
	if !r.now.Angle.Known() {
		r.now.Angle = given.Is(a)
		return nil
	}
	r.now.Turned = given.Is(a)
	return turnedTooFar("wing", r.now.Angle.Value(), a)
}

// turnedTooFar says that two readings cannot be of a level turned end for end.
func turnedTooFar(what string, first, turned float64) error {
	if math.Abs(first-turned) <= 2*model.MaxLevelZero {
		return nil
	}
	if what == "floor" {
		return fmt.Errorf("floor %s and %s; say left, right or wing before the wing's angles; turned end for end two of the floor differ by %.0f° at most",
			degrees(first), degrees(turned), 2*model.MaxLevelZero/plane.Deg)
	}
	return fmt.Errorf("%s and %s; type both with the sign of the slope, up at the rear positive; turned end for end they differ by %.0f° at most",
		degrees(first), degrees(turned), 2*model.MaxLevelZero/plane.Deg)
}

func (r *typing) height(mm float64) error {
	if r.now == nil {
		if err := r.begin(""); err != nil {
			return err
		}
	}
	r.floor = nil
	at, what := &r.now.Height, "the height of the quarter-chord point"
	switch r.next {
	case "le":
		at, what = &r.now.Leading, "the height of the leading edge"
	case "te":
		at, what = &r.now.Trailing, "the height of the trailing edge"
	}
	if at.Known() {
		return fmt.Errorf("%s is given twice; say left or right between them, and le or te before the edges", what)
	}
	*at, r.next = given.Is(mm), ""
	return nil
}
