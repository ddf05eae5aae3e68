package calibrate

import (
	"errors"
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// heightReading is the standard uncertainty of a height read with a tape to the ground, mm.
// Common practice, no source.
const heightReading = 2.0

// Residual is how far a reading lies off the fit.
type Residual struct {
	model.Reading
	Angle   float64 // rad, measured less fitted; NaN without an angle
	Height  float64 // mm, measured less fitted; NaN without a height
	Suspect bool    // further off than its uncertainty explains
	off     float64 // in its own standard uncertainties
}

// Datum is what readings say of the fixed part's place: corrections to its angle
// and position. What cannot be told from the readings is NaN.
type Datum struct {
	Angle, AngleStdUnc float64 // rad
	X, Z               float64 // mm
	ZStdUnc            float64 // mm
	Residuals          []Residual
	Twist              float64 // rad, left less right; NaN without both sides
	Notes              []string
}

// suspectAt is how many standard uncertainties off a reading is suspect.
const suspectAt = 2.5

// FitDatum works out, by weighted least squares, by how much the fixed part
// really lies elsewhere than the car file says. Each angle read is the setting's
// angle plus one common error of the bracket's; each height moves with the
// bracket's height, and with its angle by the lever from its origin to the
// quarter chord. Which of them are asked for follows from what was
// read: one angle tells the angle alone; heights with an angle tell
// the height too; the place fore and aft is never told by angles and heights of
// settings whose levers are alike, and comes out as NaN. With readings of both
// sides their difference, the wing's twist, is an unknown as well. A reading that does not
// fit the rest is named, and left out of the fit; play in the holes counts as
// uncertainty of every reading.
// Source: linear least squares with known variances, as in JCGM 100:2008 H.3.
func FitDatum(t *model.Table, readings []model.Reading) (Datum, error) {
	var wrong []error
	u := t.Car.System()
	for i, r := range readings {
		k, ok := t.Find(r.Setting)
		switch {
		case !ok:
			wrong = append(wrong, fmt.Errorf("reading %d: there is no setting %q", i+1, r.Setting))
		case math.Abs(r.Angle.Value()-k.Angle) > strangeAngle:
			wrong = append(wrong, fmt.Errorf("reading %d: %s measured where the holes give %s; more than %.0f° apart: is it this setting?",
				i+1, degrees(r.Angle.Value()), degrees(k.Angle), strangeAngle/plane.Deg))
		case math.Abs(r.Height.Value()-k.Height) > strangeHeight:
			wrong = append(wrong, fmt.Errorf("reading %d: %s measured where the holes give %s; more than %s apart: is it this setting?",
				i+1, u.Length(r.Height.Value()), u.Length(k.Height), u.Length(strangeHeight)))
		}
	}
	if len(wrong) > 0 {
		return Datum{}, errors.Join(wrong...)
	}
	d, err := fitDatum(t, readings, -1)
	if err != nil {
		return d, err
	}
	for i, r := range d.Residuals {
		if !r.Suspect {
			continue
		}
		// A wrong reading pulls the fit: it is left out, and shown against the rest.
		without, err := fitDatum(t, readings, i)
		if err != nil {
			return d, err
		}
		for k := range without.Residuals {
			without.Residuals[k].Suspect = k == i
		}
		without.Notes = append([]string{"the suspect reading is left out of the fit"}, without.Notes...)
		d = without
		break
	}
	return d, nil
}

// Readings further than this from what the holes give are taken for slips.
const (
	strangeAngle  = 15 * plane.Deg // rad
	strangeHeight = 150.0          // mm
)

// The unknowns of the fit.
const (
	unknownAngle = iota // rad, of the fixed part
	unknownZ            // mm, of the fixed part
	unknownTwist        // rad, left less right
	unknowns
)

func fitDatum(t *model.Table, readings []model.Reading, leaveOut int) (Datum, error) {
	nan := math.NaN()
	d := Datum{Angle: nan, AngleStdUnc: nan, X: nan, Z: nan, ZStdUnc: nan, Twist: nan}
	eqs := equations(t, readings, leaveOut)
	columns, angles, heights := told(eqs)
	if len(columns) == 0 {
		return d, errors.New("no readings; add [[measured]] tables with a setting and its angle or height")
	}
	s, err := solve(eqs, columns)
	if err != nil {
		return d, err
	}
	for _, c := range columns {
		switch c {
		case unknownAngle:
			d.Angle, d.AngleStdUnc = s.x[c], math.Sqrt(s.cov[c][c])
		case unknownZ:
			d.Z, d.ZStdUnc = s.x[c], math.Sqrt(s.cov[c][c])
		case unknownTwist:
			d.Twist = s.x[c]
		}
	}
	d.Residuals = make([]Residual, len(readings))
	for i, r := range readings {
		d.Residuals[i] = Residual{Reading: r, Angle: nan, Height: nan}
	}
	for _, e := range eqs {
		left, off := s.residual(e)
		res := &d.Residuals[e.reading]
		if e.height {
			res.Height = left
		} else {
			res.Angle = left
		}
		res.off = max(res.off, off)
	}
	if leaveOut < 0 {
		d.name(angles + heights - len(columns))
	}
	if heights == 0 {
		d.Notes = append(d.Notes, "no heights are read: the bracket's height cannot be told")
	}
	if angles == 0 {
		d.Notes = append(d.Notes, "no angles are read: the bracket's angle cannot be told")
	}
	d.Notes = append(d.Notes, "angles and heights do not give the bracket's position fore and aft")
	return d, nil
}

// name makes the reading that is furthest off suspect, if it is further off than
// its uncertainty explains. With only one reading more than there are unknowns
// nobody can say which is wrong.
func (d *Datum) name(spare int) {
	worst := 0
	for i, r := range d.Residuals {
		if r.off > d.Residuals[worst].off {
			worst = i
		}
	}
	switch {
	case d.Residuals[worst].off <= suspectAt:
	case spare < 2:
		d.Notes = append(d.Notes, "the readings disagree by more than their uncertainty: one more reading would show which is wrong")
	default:
		d.Residuals[worst].Suspect = true
	}
}

// Plus returns the corrections of d with further ones on top, which are known as
// well as those.
func (d Datum) Plus(further Datum) Datum {
	sum := further
	if math.IsNaN(sum.Angle) {
		sum.Angle, sum.AngleStdUnc = d.Angle, d.AngleStdUnc
	} else if !math.IsNaN(d.Angle) {
		sum.Angle += d.Angle
	}
	if math.IsNaN(sum.Z) {
		sum.Z, sum.ZStdUnc = d.Z, d.ZStdUnc
	} else if !math.IsNaN(d.Z) {
		sum.Z += d.Z
	}
	return sum
}

// Corrected returns the car with the fixed part where the readings say that it
// is, and the angle reading as sure as they make it.
func Corrected(c *model.Car, d Datum) *model.Car {
	next := *c
	if !math.IsNaN(d.Angle) {
		next.Fixed.Turn += d.Angle
		next.Uncertainty.AngleReading = min(c.Uncertainty.AngleReading, d.AngleStdUnc)
	}
	if !math.IsNaN(d.Z) {
		next.Fixed.Z += d.Z
	}
	return &next
}

// degrees spells an angle in rad.
func degrees(a float64) string { return units.Fixed(a/plane.Deg, 1) + "°" }
