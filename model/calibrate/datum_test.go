package calibrate

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// A bracket that really stands 1.2° further back and 4 mm higher, read with the
// level's scatter laid down here, is found within its band; one reading tells
// the angle alone; a wrong one is named.
func TestDatum(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	at := func(id string) *model.Row {
		i, ok := table.Index(id)
		if !ok {
			t.Fatal(id)
		}
		return &table.Rows[i]
	}
	read := func(id string, scatter float64, height bool) model.Reading {
		r := at(id)
		m := model.Reading{Setting: id, Angle: given.Is(r.Angle + (1.2+scatter)*plane.Deg), ReadingStdUnc: given.Is(0.2 * plane.Deg)}
		if height {
			m.Height = given.Is(r.Height + 4 + (r.X-table.Car.Fixed.X)*1.2*plane.Deg)
		}
		return m
	}
	good := []model.Reading{read("P:F+p1:R", 0.1, true), read("P:F+p2:R", -0.15, false), read("Q:F+q2:R", 0.05, true)}
	d, err := fitReadings(table, good)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: three angles of one weight have the mean 1.2°. Each is known to 0.2°
	// and the play of 2·asin(1/240) = 0.477° over √3: hypot(0.2, 0.276) = 0.340°,
	// the three to 0.340°/√3 = 0.197°, which the two heights hardly change.
	if math.Abs(d.Angle/plane.Deg-1.2) > 0.03 || math.Abs(d.AngleStdUnc/plane.Deg-0.197) > 0.005 || math.Abs(d.Z-4) > 0.5 || !math.IsNaN(d.X) {
		t.Errorf("angle %.3f ± %.3f°, z %.2f, x %g", d.Angle/plane.Deg, d.AngleStdUnc/plane.Deg, d.Z, d.X)
	}
	for _, r := range d.Residuals {
		if r.Suspect {
			t.Errorf("%s is suspect", r.Setting)
		}
	}
	one, err := fitReadings(table, good[1:2])
	if err != nil || !math.IsNaN(one.Z) || math.Abs(one.Angle/plane.Deg-1.05) > 1e-9 || math.Abs(one.AngleStdUnc/plane.Deg-0.340) > 0.001 {
		t.Errorf("one reading: %+v, %v", one, err)
	}
	bad := append([]model.Reading{read("Q:F+q1:R", 3, false)}, good...)
	d, err = fitReadings(table, bad)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range d.Residuals {
		if r.Suspect != (i == 0) {
			t.Errorf("%s suspect %v", r.Setting, r.Suspect)
		}
	}
	sides := []model.Reading{good[0], good[0]}
	sides[0].Side, sides[1].Side = "left", "right"
	sides[1].Angle = given.Is(sides[1].Angle.Value() - 0.5*plane.Deg)
	if d, _ = fitReadings(table, sides); math.Abs(d.Twist/plane.Deg-0.5) > 1e-9 {
		t.Errorf("twist %.3f°, want 0.5°", d.Twist/plane.Deg)
	}
	// A wing twisted by 2° is no bad reading: two left at 0°, two right at +2°.
	var twisted []model.Reading
	for i, side := range []string{"left", "left", "right", "right"} {
		m := read([]string{"P:F+p1:R", "P:F+p2:R"}[i%2], -1.2, false)
		m.Side = side
		if side == "right" {
			m.Angle = given.Is(m.Angle.Value() + 2*plane.Deg)
		}
		twisted = append(twisted, m)
	}
	tw, err := fitReadings(table, twisted)
	if err != nil || math.Abs(tw.Angle/plane.Deg-1) > 1e-6 || math.Abs(tw.Twist/plane.Deg+2) > 1e-6 {
		t.Errorf("twisted: angle %.3f°, twist %.3f°, %v; want 1° and -2°", tw.Angle/plane.Deg, tw.Twist/plane.Deg, err)
	}
	for _, r := range tw.Residuals {
		if r.Suspect {
			t.Errorf("the twist makes %s %s suspect", r.Setting, r.Side)
		}
	}
	if d, err = FitDatum(table, good); err != nil {
		t.Fatal(err)
	}
	corrected := Corrected(table.Car, d)
	if corrected.Fixed.Turn == table.Car.Fixed.Turn || corrected.Uncertainty.AngleReading >= table.Car.Uncertainty.AngleReading {
		t.Error("the correction does not arrive")
	}
}

// The least-squares fit against gonum's straight-line regression: heights over
// levers have the bracket's angle as slope and its height as intercept. Each is bolted anew, so that their errors
// are independent.
func TestDatumAgainstRegression(t *testing.T) {
	table := modeltest.Table(t, "roadster")
	var readings []model.Reading
	var levers, offs, weights []float64
	for i, scatter := range []float64{1.5, -0.7, 0.3, -1.1, 0.9} {
		r := &table.Rows[3*i]
		lever := r.X - table.Car.Fixed.X
		off := 2 + 0.03*lever + scatter
		readings = append(readings, model.Reading{Setting: r.ID, Height: given.Is(r.Height + off), Rebolted: true})
		levers, offs = append(levers, lever), append(offs, off)
		// 2 mm of tape, and the play of each joint over √3 on the lever.
		band := 2.0
		for _, f := range r.Fits {
			band = math.Hypot(band, lever*f.Play/math.Sqrt(3))
		}
		weights = append(weights, 1/(band*band))
	}
	// Angles too, so that the slope is asked for: with a band so wide that they
	// weigh nothing.
	readings = append(readings, model.Reading{Setting: table.Rows[0].ID, Angle: given.Is(table.Rows[0].Angle), ReadingStdUnc: given.Is(1e6), Rebolted: true})
	d, err := fitReadings(table, readings)
	if err != nil {
		t.Fatal(err)
	}
	intercept, slope := stat.LinearRegression(levers, offs, weights, false)
	if math.Abs(d.Angle-slope) > 1e-6 || math.Abs(d.Z-intercept) > 1e-4 {
		t.Errorf("angle %.6f z %.4f, regression %.6f and %.4f", d.Angle, d.Z, slope, intercept)
	}
}
