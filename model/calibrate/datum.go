package calibrate

import (
	"errors"
	"fmt"
	"math"

	"stanchion/model"
)

// Residual is how far a reading lies off the fit.
type Residual struct {
	model.Reading
	Off      float64 // rad, measured less fitted, of the level; NaN without one
	Heights  Heights // mm, measured less fitted; NaN for what was not read
	Times    float64 // in standard uncertainties, the worst of them; NaN where nothing else tells
	Suspect  bool    // further off than the threshold: left out of the fit
	Slip     Slip    // what it may have wrong, for a suspect one
	Disagree bool    // it does not agree with others, and nobody can tell which of them is wrong
}

// Heights is of the three points whose height can be read.
type Heights struct{ Quarter, Leading, Trailing float64 }

// FloorFound is what the readings say of a floor and of the level that was used there.
type FloorFound struct {
	model.Floor
	Slope, SlopeStdUnc float64 // rad, rising to the rear positive; the level's zero is in it where that is NaN
	Zero, ZeroStdUnc   float64 // rad, of the level; NaN where it was not turned end for end
	Disagree           bool
}

// Datum is what readings say of the fixed part's place: corrections to its angle
// and position, the angle together with what the file had before them. What cannot be told from the readings is
// NaN, and Untold says why.
type Datum struct {
	Angle, AngleStdUnc float64 // rad
	X, Z               float64 // mm
	ZStdUnc            float64 // mm
	Twist, TwistStdUnc float64 // rad, left less right; NaN without both sides
	Lean, LeanStdUnc   float64 // mm, height left less right; NaN without both sides
	Residuals          []Residual
	Floors             []FloorFound
	Tests              int     // in how many ways a reading could be off and be noticed
	Threshold          float64 // standard uncertainties from which the worst of them is suspect
	Untold             []Untold
	Taken              []Taken
	gain               float64 // mm/rad, by which the height goes with the angle
	WithTheFile
}

// Unknown is one of the corrections, by its key.
type Unknown string

// The corrections.
const (
	TheAngle Unknown = "angle"
	TheX     Unknown = "x"
	TheZ     Unknown = "z"
	TheTwist Unknown = "twist"
	TheLean  Unknown = "lean"
)

// Why is why a correction cannot be told, by its key.
type Why string

// The reasons.
const (
	NoHeights Why = "no_heights_read"
	NoAngles  Why = "no_angles_read"
	NeverTold Why = "angles_and_heights_do_not_tell"
	OneSide   Why = "not_read_on_both_sides"
)

// Untold is a correction that cannot be told.
type Untold struct {
	What Unknown
	Why  Why
}

// Taken is something that the fit takes for granted of readings.
type Taken struct {
	What     Assumption
	Readings int // of how many
}

// Assumption is what is taken for granted, by its key.
type Assumption string

// The assumptions. The first two put their error into every angle alike, where no figure shows it.
const (
	LevelFloor Assumption = "ground_is_level"       // no floor was read
	TrueZero   Assumption = "level_has_no_own_zero" // not turned end for end, and no floor read with it
	OneSided   Assumption = "one_side_only"         // UsualTwist is allowed for
)

// Clean reports whether no reading or floor is suspect or disagrees with another.
func (d Datum) Clean() bool {
	for _, r := range d.Residuals {
		if r.Suspect || r.Disagree {
			return false
		}
	}
	for _, f := range d.Floors {
		if f.Disagree {
			return false
		}
	}
	return true
}

// maxReadings is how many readings are taken: each further one costs more than the one before.
const maxReadings = 300

// FitDatum works out, by generalised least squares, by how much the fixed part
// really lies elsewhere than the car file says. Each angle read is the setting's
// angle plus one common error of the bracket's; each height moves with the
// bracket's height, and with its angle by the lever from its origin to the
// point that was read. Which of them are asked for follows from what was
// read: one angle tells the angle alone; heights with an angle tell
// the height too; the place fore and aft is never told by angles and heights of
// settings whose levers are alike, and comes out as NaN. With readings of both
// sides their difference, the wing's twist and the car's lean, is an unknown as well; with one side it
// is allowed for. Unknowns are also the slope of each floor
// and the zero of a level that was turned end for end. Play in the holes counts as
// uncertainty of every reading.
//
// A reading that does not fit the rest is named, and left out of the fit; then the rest is looked at
// again, until a third of them is left out. Where two readings disagree and nothing tells which is
// wrong, both stay, and are said to disagree.
//
// Then the angle is taken together with that of the file, withFile.
func FitDatum(t *model.Table, readings []model.Reading) (Datum, error) {
	d, err := fitReadings(t, readings)
	if err == nil {
		d.withFile(t, d.gain)
	}
	return d, err
}

// fitReadings fits to the readings alone.
func fitReadings(t *model.Table, readings []model.Reading) (Datum, error) {
	if len(readings) > maxReadings {
		return Datum{}, fmt.Errorf("there are %d readings; at most %d are used together: take out the oldest", len(readings), maxReadings)
	}
	var wrong Strange
	for i, r := range readings {
		if err := strange(t, r); err != nil {
			wrong = append(wrong, StrangeReading{i, err})
		}
	}
	if len(wrong) > 0 {
		return Datum{}, wrong
	}
	d, found, err := fitWithout(t, readings, nil)
	if err != nil {
		return d, err
	}
	tests, threshold := d.Tests, d.Threshold
	leftOut := map[int]test{}
	for len(found) > 0 {
		at := found[0]
		next := map[int]test{at.reading: at}
		for i, t := range leftOut {
			next[i] = t
		}
		with, more, err := Datum{}, []test(nil), errUndetermined
		if len(found) == 1 && at.reading >= 0 && len(next) <= max(1, len(readings)/3) {
			with, more, err = fitWithout(t, readings, next)
		}
		if err != nil { // nobody can tell which is wrong
			for _, t := range found {
				if t.reading >= 0 {
					d.Residuals[t.reading].Disagree = true
				} else {
					d.Floors[t.floor].Disagree = true
				}
			}
			break
		}
		d, found, leftOut = with, more, next
	}
	d.Tests, d.Threshold = tests, threshold
	return d, nil
}

// fitWithout fits to the readings but those that are left out, and returns what is then worst: a slip
// beyond the threshold, with others that could be it as well.
func fitWithout(t *model.Table, readings []model.Reading, leftOut map[int]test) (Datum, []test, error) {
	nan := math.NaN()
	d := Datum{X: nan}
	out := map[int]bool{}
	for i := range leftOut {
		out[i] = true
	}
	set := equations(t, readings, out)
	told := set.told()
	if told.angles+told.heights == 0 {
		return d, nil, errors.New("no readings; add [[measured]] tables with a setting and its angle or height")
	}
	set.allow(told)
	s, err := set.solve(told.columns)
	if err != nil {
		return d, nil, err
	}
	d.Angle, d.AngleStdUnc = s.value(unknownAngle)
	d.Z, d.ZStdUnc = s.value(unknownZ)
	d.gain = s.gain(unknownZ, unknownAngle)
	d.Twist, d.TwistStdUnc = s.value(unknownTwist)
	d.Lean, d.LeanStdUnc = s.value(unknownLean)
	d.Residuals = residuals(s, readings)
	for k, f := range set.floors {
		found := FloorFound{Floor: f}
		found.Slope, found.SlopeStdUnc = s.value(set.slopeOf(k))
		found.Zero, found.ZeroStdUnc = s.value(set.zeroOf(k))
		d.Floors = append(d.Floors, found)
	}
	all := s.tests()
	d.Tests, d.Threshold = len(all), Threshold(len(all))
	for _, t := range all {
		if t.reading >= 0 {
			r := &d.Residuals[t.reading]
			if math.IsNaN(r.Times) || math.Abs(t.times) > r.Times {
				r.Times = math.Abs(t.times)
			}
		}
	}
	for i, t := range leftOut {
		r := &d.Residuals[i]
		r.Suspect, r.Slip, r.Times = true, t.slip, math.Abs(t.times)
	}
	d.reasons(told, readings)
	at, others := worst(all)
	if math.Abs(at.times) <= d.Threshold {
		return d, nil, nil
	}
	return d, append([]test{at}, others...), nil
}

// reasons notes what cannot be told and why, and what is taken for granted.
func (d *Datum) reasons(told told, readings []model.Reading) {
	if told.angles == 0 {
		d.Untold = append(d.Untold, Untold{TheAngle, NoAngles})
	}
	if told.heights == 0 {
		d.Untold = append(d.Untold, Untold{TheZ, NoHeights})
	}
	d.Untold = append(d.Untold, Untold{TheX, NeverTold})
	if !told.twist {
		d.Untold = append(d.Untold, Untold{TheTwist, OneSide})
	}
	if !told.lean {
		d.Untold = append(d.Untold, Untold{TheLean, OneSide})
	}
	floor, zero, aside := 0, 0, 0
	for _, r := range readings {
		if r.Side != "" && !told.twist {
			aside++
		}
		if r.Angle.Known() && r.Floor == "" {
			floor++
			if !r.Turned.Known() {
				zero++
			}
		}
	}
	if floor > 0 {
		d.Taken = append(d.Taken, Taken{LevelFloor, floor})
	}
	if zero > 0 {
		d.Taken = append(d.Taken, Taken{TrueZero, zero})
	}
	if aside > 0 {
		d.Taken = append(d.Taken, Taken{OneSided, aside})
	}
}
