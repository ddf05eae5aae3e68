package calibrate

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// Standing is how readings stand to the angle that the car file had before them.
type Standing string

// The standings.
const (
	NoAngle     Standing = "no_angle"      // none is read
	WithFile    Standing = "combined"      // the two are taken together, each by its uncertainty
	WithoutFile Standing = "readings_only" // settings agree that the file's is wrong: it does not count
	AgainstFile Standing = "against_file"  // one of the two is wrong, and nothing tells which
	FileAssumed Standing = "file_assumed"  // the file's was never measured: the readings alone count
	Flipped     Standing = "sign_flipped"  // the readings are the file's with their sign changed
)

// WithTheFile is what makes an angle: the readings by themselves and the car file before them, both as
// corrections of what the file has now, rad. Of an angle that was only assumed the file's uncertainty and Times are NaN.
type WithTheFile struct {
	Standing         Standing
	Read, ReadStdUnc float64 // with what is allowed for
	File, FileStdUnc float64
	Times            float64 // that they are apart, in standard uncertainties of the difference
	Settings         int     // that angles in the fit are of
}

// Refused reports whether the correction is not to be written as it stands: the readings of one setting are as
// far off the file as a suspect reading is off others, or the sign looks wrong.
func (w WithTheFile) Refused() bool { return w.Standing == AgainstFile || w.Standing == Flipped }

// UsualSlope and UsualZero are allowed for the slope of ground that was not read and for the zero of a level that
// was not turned, as standard uncertainties, rad: they are in all such angles alike. 0.2° is 3.5 mm in a
// metre. Common practice, no source.
const (
	UsualSlope = 0.2 * plane.Deg
	UsualZero  = 0.2 * plane.Deg
)

// withFile takes readings and the file's own angle together. Of two independent values x₁ ± u₁ and x₂ ± u₂ the mean by
// their weights 1/u² is (x₁u₂² + x₂u₁²)/(u₁² + u₂²) ± u₁u₂/√(u₁² + u₂²). The height goes with the angle by
// gain = cov(z, angle)/u²(angle): what is left of its variance, u²(z) − gain²·u²(angle), is that of known angles.
// The file's angle counts where it is no further off than a reading may be. Where it is, it is left out if two
// settings or more agree, and else nobody can tell which is wrong. An angle that was assumed never counts, and
// no reading is refused for being off it: then a sign that was turned does not show.
// Source: JCGM 100:2008, 5.1 and F.1.2.4; R. E. Kalman, J. Basic Eng. 82 (1960) 35, for the height.
func (d *Datum) withFile(t *model.Table, gain float64) {
	w := &d.WithTheFile
	w.Standing = NoAngle
	if math.IsNaN(d.Angle) {
		return
	}
	before, u := t.Car.AngleBefore()
	w.File, w.FileStdUnc = before-t.Car.Fixed.Turn, u
	w.Read, w.ReadStdUnc = d.Angle, math.Hypot(d.AngleStdUnc, d.takenStdUnc())
	if t.Car.AngleBeforeAssumed() {
		w.FileStdUnc = math.NaN()
	}
	apart := math.Hypot(w.ReadStdUnc, w.FileStdUnc)
	w.Times, w.Settings = math.Abs(w.Read-w.File)/apart, d.settings()
	left := d.ZStdUnc*d.ZStdUnc - gain*gain*d.AngleStdUnc*d.AngleStdUnc
	angle, stdUnc := w.Read, w.ReadStdUnc
	switch {
	case math.IsNaN(w.FileStdUnc):
		w.Standing = FileAssumed
	case w.Times <= d.Threshold:
		w.Standing = WithFile
		angle = (w.Read*w.FileStdUnc*w.FileStdUnc + w.File*w.ReadStdUnc*w.ReadStdUnc) / (apart * apart)
		stdUnc = w.ReadStdUnc * w.FileStdUnc / apart
	case math.Abs(d.flipped(t)-w.File) <= d.Threshold*apart:
		w.Standing = Flipped
	case w.Settings < 2:
		w.Standing = AgainstFile
	default:
		w.Standing = WithoutFile
	}
	d.Z += gain * (angle - d.Angle)
	d.ZStdUnc = math.Sqrt(max(left, 0) + gain*gain*stdUnc*stdUnc)
	d.Angle, d.AngleStdUnc = angle, stdUnc
}

// takenStdUnc is what is allowed for ground and level in the mean of the angles, rad.
func (d *Datum) takenStdUnc() float64 {
	angles := 0
	for _, r := range d.Residuals {
		if r.Angle.Known() {
			angles++
		}
	}
	sum := 0.0
	for _, a := range d.Taken {
		part := float64(a.Readings) / float64(max(angles, 1))
		switch a.What {
		case LevelFloor:
			sum = math.Hypot(sum, part*UsualSlope)
		case TrueZero:
			sum = math.Hypot(sum, part*UsualZero)
		}
	}
	return sum
}

// settings counts the settings that angles in the fit are of.
func (d *Datum) settings() int {
	met := map[string]bool{}
	for _, r := range d.Residuals {
		if !r.Suspect && (r.Angle.Known() || r.Leading.Known() && r.Trailing.Known()) {
			met[r.Setting] = true
		}
	}
	return len(met)
}

// signShows is how far apart the angles of settings must be that a sign turned in all readings of them shows: they
// are then twice that apart in what they say of the bracket. About four times the play and reading of a usual
// mounting, 0.9° in all. Own choice.
const signShows = 2 * plane.Deg

// SignShows reports whether a sign turned in all readings would show by the readings disagreeing.
func (d *Datum) SignShows(t *model.Table) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range d.Residuals {
		if row, ok := t.Find(r.Setting); ok && !r.Suspect && r.Angle.Known() {
			lo, hi = min(lo, row.Angle), max(hi, row.Angle)
		}
	}
	return hi-lo >= signShows
}

// flipped is the mean correction, rad, that the levels' angles would tell with their signs changed; NaN without any.
func (d *Datum) flipped(t *model.Table) float64 {
	sum, n := 0.0, 0.0
	for _, r := range d.Residuals {
		row, ok := t.Find(r.Setting)
		if f := Understand(t.Car, r.Reading); ok && !r.Suspect && !math.IsNaN(f.Angle) {
			sum, n = sum-f.Angle-row.Angle, n+1
		}
	}
	return sum / n
}
