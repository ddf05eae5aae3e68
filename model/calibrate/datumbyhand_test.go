package calibrate

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// flat is a table of two settings 400 and 500 mm behind the fixed part's origin, without
// play, at 2° and 6°, on a car whose part is fixed at 100, 800.
func flat() *model.Table {
	t := &model.Table{Car: &model.Car{Fixed: plane.Pose{X: 100, Z: 800}, Uncertainty: model.DefaultUncertainty(true)}}
	for i, id := range []string{"a", "b"} {
		t.Rows = append(t.Rows, model.Row{Position: &model.Position{Setting: &holes.Setting{ID: id}, X: 500 + 100*float64(i), Height: 1200, Angle: (2 + 4*float64(i)) * plane.Deg}})
	}
	return t
}

// reading is one in degrees and mm; NaN for what is not read.
func reading(id string, angle, height float64, side string) model.Reading {
	r := model.Reading{Setting: id, Side: side}
	if !math.IsNaN(angle) {
		r.Angle = given.Is(angle * plane.Deg)
	}
	if !math.IsNaN(height) {
		r.Height = given.Is(height)
	}
	return r
}

// By hand: angles read 0.3° and 0.5° more than the holes give are 0.4° ± 0.2°/√2; a height
// read 10 mm more with a lever of 400 mm then tells 10 − 400·0.4° in rad = 7.21 mm.
func TestDatumByHand(t *testing.T) {
	nan := math.NaN()
	d, err := fitReadings(flat(), []model.Reading{reading("a", 2.3, nan, ""), reading("b", 6.5, nan, "")})
	if err != nil || math.Abs(d.Angle/plane.Deg-0.4) > 1e-9 || math.Abs(d.AngleStdUnc/plane.Deg-0.2/math.Sqrt2) > 1e-9 || !math.IsNaN(d.Z) || !math.IsNaN(d.Twist) {
		t.Errorf("%v: %+v", err, d)
	}
	if r := d.Residuals; math.Abs(r[0].Off/plane.Deg+0.1) > 1e-9 || math.Abs(r[1].Off/plane.Deg-0.1) > 1e-9 || r[0].Suspect || !math.IsNaN(r[0].Heights.Quarter) {
		t.Errorf("residuals %+v", r)
	}
	d, err = fitReadings(flat(), []model.Reading{reading("a", 2.4, 1210, "")})
	want := 10 - 400*0.4*plane.Deg
	if err != nil || math.Abs(d.Angle/plane.Deg-0.4) > 1e-9 || math.Abs(d.Z-want) > 1e-9 || math.Abs(d.ZStdUnc-math.Hypot(2, 400*0.2*plane.Deg)) > 1e-9 {
		t.Errorf("%v: %+v, want %.3f mm", err, d, want)
	}
	// Left 0.3°, right 0.1° more: 0.2° in the middle, 0.2° of twist.
	d, err = fitReadings(flat(), []model.Reading{reading("a", 2.3, nan, "left"), reading("a", 2.1, nan, "right")})
	if err != nil || math.Abs(d.Angle/plane.Deg-0.2) > 1e-9 || math.Abs(d.Twist/plane.Deg-0.2) > 1e-9 {
		t.Errorf("%v: %+v", err, d)
	}
	// Play counts as uncertainty of every reading: √(0.2² + (0.6/√3)²) = 0.4°.
	loose := flat()
	loose.Rows[0].Setting.Play = 0.6 * plane.Deg
	if d, _ := fitReadings(loose, []model.Reading{reading("a", 2.3, nan, "")}); math.Abs(d.AngleStdUnc/plane.Deg-0.4) > 1e-9 {
		t.Errorf("with play ± %.4f°, want 0.4°", d.AngleStdUnc/plane.Deg)
	}
}

// What is measured must be near what the holes give: 15° and 150 mm.
func TestStrangeReadings(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		r  model.Reading
		ok bool
	}{
		{reading("a", 16.9, nan, ""), true}, {reading("a", 17.1, nan, ""), false}, {reading("a", -13.1, nan, ""), false},
		{reading("a", nan, 1349, ""), true}, {reading("a", nan, 1351, ""), false}, {reading("x", 2, nan, ""), false},
	} {
		if _, err := fitReadings(flat(), []model.Reading{c.r}); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.r, err)
		}
	}
	for want, r := range map[string]model.Reading{
		"reading 1: 17.1° measured where the holes give 2.0°; more than 15° apart: is it this setting?": reading("a", 17.1, nan, ""),
		"reading 1: 1351 mm measured where the holes give 1200 mm; more than 150 mm apart":              reading("a", nan, 1351, ""),
	} {
		if _, err := fitReadings(flat(), []model.Reading{r}); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	if _, err := fitReadings(flat(), nil); err == nil {
		t.Error("no readings tell a place")
	}
}

// Corrections add up, and are taken over as sure as they are.
func TestCorrections(t *testing.T) {
	nan := math.NaN()
	a := Datum{Angle: 0.01, AngleStdUnc: 0.002, Z: nan}
	b := Datum{Angle: 0.02, AngleStdUnc: 0.001, Z: 5, ZStdUnc: 1}
	if s := a.Plus(b); math.Abs(s.Angle-0.03) > 1e-12 || s.AngleStdUnc != 0.001 || s.Z != 5 {
		t.Errorf("%+v", s)
	}
	if s := b.Plus(Datum{Angle: nan, Z: 2, ZStdUnc: 1}); s.Angle != 0.02 || s.AngleStdUnc != 0.001 || s.Z != 7 {
		t.Errorf("%+v", s)
	}
	if s := b.Plus(Datum{Angle: nan, Z: nan}); s.Angle != 0.02 || s.Z != 5 || s.ZStdUnc != 1 {
		t.Errorf("%+v", s)
	}
	car := flat().Car
	c := Corrected(car, b)
	if math.Abs(c.Fixed.Turn-0.02) > 1e-12 || c.Fixed.Z != 805 || c.Uncertainty.AngleReading != 0.001 || car.Fixed.Z != 800 {
		t.Errorf("%+v, %g", c.Fixed, c.Uncertainty.AngleReading)
	}
	if c := Corrected(car, Datum{Angle: nan, Z: nan}); c.Fixed != car.Fixed {
		t.Errorf("%+v", c.Fixed)
	}
	// What the file had before is kept through a second correction.
	once := Corrected(car, Datum{Angle: 0.1, AngleStdUnc: 1, Z: nan})
	twice := Corrected(once, Datum{Angle: 0.01, AngleStdUnc: 0.5, Z: nan})
	for _, c := range []*model.Car{once, twice} {
		if turn, u := c.AngleBefore(); turn != 0 || off(u/plane.Deg-0.3, 1e-9) || c.Uncertainty.Default["angle_reading"] {
			t.Errorf("before: %g ± %g", turn, u)
		}
	}
	if off(twice.Fixed.Turn-0.11, 1e-12) || twice.Uncertainty.AngleReading != 0.5 {
		t.Errorf("%+v ± %g", twice.Fixed, twice.Uncertainty.AngleReading)
	}
}
