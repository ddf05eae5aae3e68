package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Reading is what was measured with the wing bolted in one setting.
type Reading struct {
	Setting string  // id
	Angle   float64 // rad, of the chord to level ground; NaN when not read
	Height  float64 // mm, of the quarter-chord point above ground; NaN when not read
	Band    float64 // rad, standard uncertainty of the angle; NaN for the default
	Side    string  // "left", "right" or ""
}

// Default standard uncertainties of readings. Common practice, no source: a
// digital level repeats to 0.2°, a tape to the ground to 2 mm.
const (
	defaultReading = 0.2 * Deg
	heightReading  = 2.0 // mm
)

// Residual is how far a reading lies off the fit.
type Residual struct {
	Reading
	Angle   float64 // rad, measured less fitted; NaN without an angle
	Height  float64 // mm, measured less fitted; NaN without a height
	Suspect bool    // further off than its uncertainty explains
}

// Datum is what readings say of the fixed part's place: corrections to its angle
// and position. What cannot be told from the readings is NaN.
type Datum struct {
	Angle, AngleBand float64 // rad
	X, Z             float64 // mm
	ZBand            float64 // mm
	Residuals        []Residual
	Twist            float64 // rad, mean of left less mean of right; NaN without both sides
	Notes            []string
}

// suspectAt is how many standard uncertainties off a reading is suspect.
const suspectAt = 2.5

// FitDatum works out, by weighted least squares, by how much the fixed part
// really lies elsewhere than the car file says. Each angle read is the setting's
// angle plus one common error of the bracket's; each height moves with the
// bracket's height, and with its angle by the lever from its origin to the
// quarter chord. Which of them the readings can tell is worked out from the rank
// of the equations: one angle tells the angle alone; heights with an angle tell
// the height too; the place fore and aft is never told by angles and heights of
// settings whose levers are alike, and comes out as NaN.
// Source: linear least squares with known variances, as in JCGM 100:2008 H.3.
func (t *Table) FitDatum(readings []Reading) (Datum, error) {
	nan := math.NaN()
	d := Datum{Angle: nan, AngleBand: nan, X: nan, Z: nan, ZBand: nan, Twist: nan}
	type equation struct {
		angle, z float64 // coefficients of the unknowns
		off      float64 // measured less predicted
		band     float64
		reading  int
		height   bool
	}
	var eqs []equation
	for i, r := range readings {
		k, ok := t.Find(r.Setting)
		if !ok {
			return d, fmt.Errorf("reading %d: there is no setting %q", i+1, r.Setting)
		}
		row := &t.Rows[k]
		if !math.IsNaN(r.Angle) {
			eqs = append(eqs, equation{1, 0, r.Angle - row.Angle, bandOf(r), i, false})
		}
		if !math.IsNaN(r.Height) {
			lever := row.X - t.Car.Ground().X // mm of height per rad
			eqs = append(eqs, equation{lever, 1, r.Height - row.Height, heightReading, i, true})
		}
	}
	if len(eqs) == 0 {
		return d, fmt.Errorf("no readings: allowed are [[measured]] tables with a setting and its angle or height")
	}
	// Unknowns: the angle, where an angle is read or heights at different levers
	// tell it; the height, where a height is read.
	angles, heights := 0, 0
	for _, e := range eqs {
		if e.height {
			heights++
		} else {
			angles++
		}
	}
	unknowns := []bool{angles > 0, heights > 0} // angle, z
	var columns []int
	for c, u := range unknowns {
		if u {
			columns = append(columns, c)
		}
	}
	a := mat.NewDense(len(eqs), len(columns), nil)
	b := mat.NewVecDense(len(eqs), nil)
	for i, e := range eqs {
		for c, col := range columns {
			a.Set(i, c, [2]float64{e.angle, e.z}[col]/e.band)
		}
		b.SetVec(i, e.off/e.band)
	}
	var normal, cov mat.Dense
	normal.Mul(a.T(), a)
	if err := cov.Inverse(&normal); err != nil {
		return d, fmt.Errorf("the readings do not tell the place of the fixed part: %w", err)
	}
	var right, x mat.VecDense
	right.MulVec(a.T(), b)
	x.MulVec(&cov, &right)
	turn, lift := 0.0, 0.0
	for c, col := range columns {
		if col == 0 {
			turn = x.AtVec(c)
			d.Angle, d.AngleBand = turn, math.Sqrt(cov.At(c, c))
		} else {
			lift = x.AtVec(c)
			d.Z, d.ZBand = lift, math.Sqrt(cov.At(c, c))
		}
	}
	d.Residuals = make([]Residual, len(readings))
	for i, r := range readings {
		d.Residuals[i] = Residual{Reading: r, Angle: nan, Height: nan}
	}
	for i, e := range eqs {
		left := e.off - turn*e.angle - lift*e.z
		// The residual's own variance: the reading's less what the fit took.
		used := 0.0
		for c := range columns {
			for k := range columns {
				used += a.At(i, c) * cov.At(c, k) * a.At(i, k)
			}
		}
		spread := e.band * math.Sqrt(max(1-used, 0))
		res := &d.Residuals[e.reading]
		if e.height {
			res.Height = left
		} else {
			res.Angle = left
		}
		if spread > 1e-9 && math.Abs(left) > suspectAt*spread {
			res.Suspect = true
		}
	}
	d.keepWorst()
	d.twist(readings, t)
	if heights == 0 {
		d.Notes = append(d.Notes, "no heights are read: the bracket's height cannot be told")
	}
	if angles == 0 {
		d.Notes = append(d.Notes, "no angles are read: the bracket's angle cannot be told")
	}
	d.Notes = append(d.Notes, "angles and heights do not tell the bracket's place fore and aft")
	return d, nil
}

func bandOf(r Reading) float64 {
	if math.IsNaN(r.Band) || r.Band <= 0 {
		return defaultReading
	}
	return r.Band
}

// keepWorst leaves only the reading furthest off as suspect: one wrong reading
// pulls the fit and makes the others look wrong.
func (d *Datum) keepWorst() {
	worst, at := 0.0, -1
	for i, r := range d.Residuals {
		if !r.Suspect {
			continue
		}
		off := 0.0
		if !math.IsNaN(r.Angle) {
			off = math.Abs(r.Angle) / bandOf(r.Reading)
		}
		if !math.IsNaN(r.Height) {
			off = max(off, math.Abs(r.Height)/heightReading)
		}
		d.Residuals[i].Suspect = false
		if off > worst {
			worst, at = off, i
		}
	}
	if at >= 0 {
		d.Residuals[at].Suspect = true
	}
}

// twist works out the left-to-right difference of the angle errors.
func (d *Datum) twist(readings []Reading, t *Table) {
	var sum [2]float64
	var n [2]float64
	for i, r := range readings {
		side := map[string]int{"left": 0, "right": 1}
		s, ok := side[r.Side]
		if !ok || math.IsNaN(d.Residuals[i].Angle) {
			continue
		}
		sum[s] += d.Residuals[i].Angle
		n[s]++
	}
	if n[0] > 0 && n[1] > 0 {
		d.Twist = sum[0]/n[0] - sum[1]/n[1]
	}
}

// Corrected returns the car with the fixed part where the readings say that it
// is, and the angle reading as sure as they make it.
func (c *Car) Corrected(d Datum) *Car {
	next := *c
	if !math.IsNaN(d.Angle) {
		next.Fixed.Turn += d.Angle
		next.Uncertainty.AngleReading = min(c.Uncertainty.AngleReading, d.AngleBand)
	}
	if !math.IsNaN(d.Z) {
		next.Fixed.Z += d.Z
	}
	return &next
}

// DatumLines says in words what the readings say.
func (t *Table) DatumLines(d Datum) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	fixed := t.Car.Parts[0].Name
	if !math.IsNaN(d.Angle) {
		add("The %s stands at %s, not %s: correction %s ± %.2f°.", fixed, degrees(t.Car.Fixed.Turn+d.Angle), degrees(t.Car.Fixed.Turn), signedDegrees(d.Angle), d.AngleBand/Deg)
	}
	if !math.IsNaN(d.Z) {
		add("It sits at z %.0f mm, not %.0f mm: correction %+.1f ± %.1f mm.", t.Car.Fixed.Z+d.Z, t.Car.Fixed.Z, d.Z, d.ZBand)
	}
	for _, r := range d.Residuals {
		text := ""
		if !math.IsNaN(r.Angle) {
			text += fmt.Sprintf("  angle off by %s (read to ±%.1f°)", signedDegrees(r.Angle), bandOf(r.Reading)/Deg)
		}
		if !math.IsNaN(r.Height) {
			text += fmt.Sprintf("  height off by %+.1f mm", r.Height)
		}
		if r.Suspect {
			text += "  SUSPECT: does not fit the rest; read it again, or check that these are its holes"
		}
		side := ""
		if r.Side != "" {
			side = " " + r.Side
		}
		add("%s%s:%s", r.Setting, side, text)
	}
	if !math.IsNaN(d.Twist) {
		add("Left less right: %s of twist in the wing or between its uprights.", signedDegrees(d.Twist))
	}
	if !math.IsNaN(d.Angle) {
		before := t.Car.Uncertainty.AngleReading
		if d.AngleBand < before {
			add("The uncertainty of every angle from the bracket shrinks from ±%.2f° to ±%.2f°.", before/Deg, d.AngleBand/Deg)
		}
	}
	for _, n := range d.Notes {
		add("Note: %s.", n)
	}
	return lines
}

func signedDegrees(a float64) string { return fmt.Sprintf("%+.2f°", a/Deg) }
