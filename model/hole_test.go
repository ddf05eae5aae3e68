package model_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/units"
)

func tableOf(t testing.TB, name string) *model.Table {
	t.Helper()
	car := demo(t, name)
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func newHole(x, z float64, joint string) model.NewHole {
	return model.NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: x, Z: z, D: 8.4, Joint: joint}}
}

// A hole on pivot A's arc at 12°, by hand: x = 150·cos 12° = 146.7, z = 420 +
// 150·sin 12° = 451.2. It gives 12° - 2° + 0.3° = 10.3° at each of the four feet.
// Pivot B lies 50 mm higher, two rows of the foot: with the upper two rows the
// wing is where B and B2 put it already, so two settings are new.
func TestTryAHoleByHand(t *testing.T) {
	table := tableOf(t, "coupe")
	tr, err := table.Try(newHole(146.7, 451.2, "head"))
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for _, i := range tr.Added {
		if r := &tr.Table.Rows[i]; math.Abs(r.Angle/model.Deg-10.3) < 0.05 {
			at++
		}
	}
	if at != 2 {
		t.Errorf("%d new settings at 10.3°, want 2", at)
	}
	// It lies 10.7 mm from A3 at 16°, closer than 2.4 · 8.4 = 20.2 mm.
	if tr.Worth || len(tr.Rules) == 0 {
		t.Errorf("worth %v, rules %v", tr.Worth, tr.Rules)
	}
}

// Distances by hand: the upright's left edge at x = -24 between z = 300 and 545:
// a hole at x = -4, z = 445 is 20 mm from it, and 25.3 mm from A (0, 420).
// Where nothing says that there is metal, no hole is called worth drilling without a word.
func TestHoleInAPartWithoutAnOutline(t *testing.T) {
	table := tableOf(t, "coupe")
	hole := model.NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: -5, Z: 445.5, D: 8.4}}
	whole, err := table.Try(hole)
	if err != nil {
		t.Fatal(err)
	}
	table.Car.Parts[1].Outline = nil
	open, err := table.Try(hole)
	if err != nil {
		t.Fatal(err)
	}
	if text := whole.Verdict.In(units.Metric); !whole.Worth || !strings.HasPrefix(text, "worth drilling: ") {
		t.Errorf("with its outline: %s", text)
	}
	if text := open.Verdict.In(units.Metric); !open.Worth || !strings.HasPrefix(text, "NOT CHECKED whether part upright has metal there") {
		t.Errorf("without: %s", text)
	}
}

func TestHoleRules(t *testing.T) {
	car := demo(t, "coupe")
	rules := car.Parts[1].HoleRules(holes.Hole{ID: "N1", X: -4, Z: 445, D: 8.4})
	want := map[string][2]float64{"edge distance": {20, 1.2 * 8.4}, "spacing to hole A": {math.Hypot(4, 25), 2.4 * 8.4}, "spacing to hole B": {math.Hypot(4, 25), 2.4 * 8.4}}
	for _, r := range rules {
		if w, ok := want[r.Rule]; ok && (math.Abs(r.Have-w[0]) > 0.01 || math.Abs(r.Need-w[1]) > 0.01 || !r.OK) {
			t.Errorf("%s: %.2f of %.2f mm (%v), want %.2f of %.2f", r.Rule, r.Have, r.Need, r.OK, w[0], w[1])
		}
	}
	if out := car.Parts[1].HoleRules(holes.Hole{ID: "N1", X: -60, Z: 445, D: 8.4}); out[0].OK || out[0].Have >= 0 {
		t.Errorf("outside of the plate: %+v", out[0])
	}
}

// Adding a hole anywhere takes no setting away: each old id is a setting's, an
// alternative's, or that of one which gets a further bolt.
// A new hole is named like no hole and no slot of the part, whatever the case.
func TestFreeHoleNames(t *testing.T) {
	p := model.Part{Part: holes.Part{Holes: []holes.Hole{{ID: "n2"}, {ID: "N1@0", Slot: "N1"}, {ID: "N4"}}}}
	for n, want := range []string{"N3", "N5", "N6"} {
		if got := p.FreeHoleName(n); got != want {
			t.Errorf("free name %d is %s, want %s", n, got, want)
		}
	}
}

func TestAddingAHoleKeepsSettings(t *testing.T) {
	table := tableOf(t, "coupe")
	rapid.Check(t, func(t *rapid.T) {
		h := newHole(rapid.Float64Range(-20, 170).Draw(t, "x"), rapid.Float64Range(-20, 590).Draw(t, "z"), rapid.SampledFrom([]string{"", "head", "foot"}).Draw(t, "joint"))
		tr, err := table.Try(h)
		if err != nil {
			t.Fatal(err)
		}
		further := map[string]bool{}
		for _, id := range tr.Further {
			further[id] = true
		}
		for i := range table.Rows {
			if id := table.Rows[i].ID; !further[id] {
				if _, ok := tr.Table.Find(id); !ok {
					t.Fatalf("%s is gone with a hole at %.2f, %.2f", id, h.X, h.Z)
				}
			}
		}
	})
}

// Suggested holes give what was promised when the car is really drilled so.
func TestSuggestionsKeepTheirPromise(t *testing.T) {
	table := tableOf(t, "coupe")
	name := func(n int) string { return fmt.Sprintf("N%d", n+1) }
	nan := math.NaN()
	for _, w := range []model.Wish{
		{Angle: 4.3 * model.Deg, Height: nan, Downforce: nan, Count: 1},
		{Angle: 4.3 * model.Deg, Height: 1271, Downforce: nan, Count: 1},
		{Angle: nan, Height: nan, Downforce: 430, Count: 1},
		{Angle: nan, Height: nan, Downforce: nan, Fill: true, Count: 2},
	} {
		w.Grid, w.Part, w.Joint, w.D, w.Name = 0.5, 1, "head", 8.4, name
		best, _, err := table.Suggest(w, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(best) == 0 {
			t.Errorf("%+v: nothing suggested", w)
			continue
		}
		for _, s := range best {
			car := table.Car.With(s.Holes...)
			drilled, err := car.Map(table.Speed)
			if err != nil {
				t.Fatal(err)
			}
			hits := 0
			for i := range drilled.Rows {
				r := &drilled.Rows[i]
				if _, old := table.Index(r.ID); old || !r.Within() {
					continue
				}
				angle := math.IsNaN(w.Angle) || math.Abs(r.Angle-w.Angle) < 0.41*model.Deg
				height := math.IsNaN(w.Height) || math.Abs(r.Height-w.Height) < 12.1
				force := math.IsNaN(w.Downforce) || math.Abs(r.Downforce/w.Downforce-1) < 0.031
				if angle && height && force && !w.Fill {
					hits++
				}
			}
			if !w.Fill && hits != s.Hits {
				t.Errorf("%+v: %d hits promised, %d there", s.Holes, s.Hits, hits)
			}
			for _, h := range s.Holes {
				if math.Abs(math.Remainder(h.X, 0.5)) > 1e-9 || math.Abs(math.Remainder(h.Z, 0.5)) > 1e-9 {
					t.Errorf("%+v is off the drill's grid", h)
				}
			}
			for _, r := range s.Rules {
				if r.Must && !r.OK {
					t.Errorf("%+v breaks %s", s.Holes, r.Rule)
				}
			}
		}
		if w.Fill && best[0].Gain <= 0 {
			t.Errorf("filling gains %.2f°", best[0].Gain/model.Deg)
		}
	}
}

// A bracket that really stands 1.2° further back and 4 mm higher, read with the
// level's scatter laid down here, is found within its band; one reading tells
// the angle alone; a wrong one is named.
func TestDatum(t *testing.T) {
	table := tableOf(t, "saloon")
	nan := math.NaN()
	at := func(id string) *model.Row {
		i, ok := table.Index(id)
		if !ok {
			t.Fatal(id)
		}
		return &table.Rows[i]
	}
	read := func(id string, scatter float64, height bool) model.Reading {
		r := at(id)
		m := model.Reading{Setting: id, Angle: r.Angle + (1.2+scatter)*model.Deg, Height: nan, Band: 0.2 * model.Deg}
		if height {
			m.Height = r.Height + 4 + (r.X-table.Car.Fixed.X)*1.2*model.Deg
		}
		return m
	}
	good := []model.Reading{read("P:F+p1:R", 0.1, true), read("P:F+p2:R", -0.15, false), read("Q:F+q2:R", 0.05, true)}
	d, err := table.FitDatum(good)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: three angles of one weight have the mean 1.2°. Each is known to 0.2°
	// and the play of 2·asin(1/240) = 0.477° over √3: hypot(0.2, 0.276) = 0.340°,
	// the three to 0.340°/√3 = 0.197°, which the two heights hardly change.
	if math.Abs(d.Angle/model.Deg-1.2) > 0.03 || math.Abs(d.AngleBand/model.Deg-0.197) > 0.005 || math.Abs(d.Z-4) > 0.5 || !math.IsNaN(d.X) {
		t.Errorf("angle %.3f ± %.3f°, z %.2f, x %g", d.Angle/model.Deg, d.AngleBand/model.Deg, d.Z, d.X)
	}
	for _, r := range d.Residuals {
		if r.Suspect {
			t.Errorf("%s is suspect", r.Setting)
		}
	}
	one, err := table.FitDatum(good[1:2])
	if err != nil || !math.IsNaN(one.Z) || math.Abs(one.Angle/model.Deg-1.05) > 1e-9 || math.Abs(one.AngleBand/model.Deg-0.340) > 0.001 {
		t.Errorf("one reading: %+v, %v", one, err)
	}
	bad := append([]model.Reading{read("Q:F+q1:R", 3, false)}, good...)
	d, err = table.FitDatum(bad)
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
	sides[1].Angle -= 0.5 * model.Deg
	if d, _ = table.FitDatum(sides); math.Abs(d.Twist/model.Deg-0.5) > 1e-9 {
		t.Errorf("twist %.3f°, want 0.5°", d.Twist/model.Deg)
	}
	// A wing twisted by 2° is no bad reading: two left at 0°, two right at +2°.
	var twisted []model.Reading
	for i, side := range []string{"left", "left", "right", "right"} {
		m := read([]string{"P:F+p1:R", "P:F+p2:R"}[i%2], -1.2, false)
		m.Side = side
		if side == "right" {
			m.Angle += 2 * model.Deg
		}
		twisted = append(twisted, m)
	}
	tw, err := table.FitDatum(twisted)
	if err != nil || math.Abs(tw.Angle/model.Deg-1) > 1e-6 || math.Abs(tw.Twist/model.Deg+2) > 1e-6 {
		t.Errorf("twisted: angle %.3f°, twist %.3f°, %v; want 1° and -2°", tw.Angle/model.Deg, tw.Twist/model.Deg, err)
	}
	for _, r := range tw.Residuals {
		if r.Suspect {
			t.Errorf("the twist makes %s %s suspect", r.Setting, r.Side)
		}
	}
	corrected := table.Car.Corrected(d)
	if corrected.Fixed.Turn == table.Car.Fixed.Turn || corrected.Uncertainty.AngleReading >= table.Car.Uncertainty.AngleReading {
		t.Error("the correction does not arrive")
	}
}

// The least-squares fit against gonum's straight-line regression: heights over
// levers have the bracket's angle as slope and its height as intercept.
func TestDatumAgainstRegression(t *testing.T) {
	table := tableOf(t, "roadster")
	nan := math.NaN()
	var readings []model.Reading
	var levers, offs, weights []float64
	for i, scatter := range []float64{1.5, -0.7, 0.3, -1.1, 0.9} {
		r := &table.Rows[3*i]
		lever := r.X - table.Car.Fixed.X
		off := 2 + 0.03*lever + scatter
		readings = append(readings, model.Reading{Setting: r.ID, Angle: nan, Height: r.Height + off, Band: nan})
		levers, offs = append(levers, lever), append(offs, off)
		// 2 mm of tape, and the play over √3 on the lever.
		band := math.Hypot(2, lever*r.Play/math.Sqrt(3))
		weights = append(weights, 1/(band*band))
	}
	// Angles too, so that the slope is asked for: with a band so wide that they
	// weigh nothing.
	readings = append(readings, model.Reading{Setting: table.Rows[0].ID, Angle: table.Rows[0].Angle, Height: nan, Band: 1e6})
	d, err := table.FitDatum(readings)
	if err != nil {
		t.Fatal(err)
	}
	intercept, slope := stat.LinearRegression(levers, offs, weights, false)
	if math.Abs(d.Angle-slope) > 1e-6 || math.Abs(d.Z-intercept) > 1e-4 {
		t.Errorf("angle %.6f z %.4f, regression %.6f and %.4f", d.Angle, d.Z, slope, intercept)
	}
}

// Two bolts 100 mm apart in four M8 holes of 8.4 mm, by hand: the spacings differ
// by a normal deviate of 2·0.3 = 0.6 mm and 0.8 mm are allowed: misfit with
// P(|N| > 1.333) = 18.2 %. The angle is off by √2·0.3·√2/100 rad = 0.344°.
func TestDoubtByHand(t *testing.T) {
	car := demo(t, "saloon")
	car.Parts[0].Holes = []holes.Hole{{ID: "a", D: 8.4}, {ID: "b", X: 100, D: 8.4}}
	car.Parts[1].Holes = []holes.Hole{{ID: "F", X: 45, Z: 12, D: 8.4}, {ID: "R", X: 145, Z: 12, D: 8.4}}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	d := table.Doubt(&table.Rows[0], 0.3)
	if math.Abs(d.Misfit-0.182) > 0.002 || math.Abs(d.AngleBand/model.Deg-0.344) > 0.002 || math.Abs(d.LeftRight/d.AngleBand-math.Sqrt2) > 1e-9 {
		t.Errorf("misfit %.4f, angle ±%.4f°, left to right ±%.4f°", d.Misfit, d.AngleBand/model.Deg, d.LeftRight/model.Deg)
	}
	if four := tableOf(t, "coupe"); four.Doubt(&four.Rows[0], 0.3).Misfit <= d.Misfit {
		t.Error("six bolts are surer to go in than two")
	}
}

// drilledCar returns the coupé with n holes in the upright.
func drilledCar(b testing.TB, n int) *model.Table {
	car := demo(b, "coupe")
	p := &car.Parts[1]
	for k := 0; len(p.Holes) < n; k++ {
		p.Holes = append(p.Holes, holes.Hole{ID: fmt.Sprintf("x%d", k), X: 20 + float64(k%5)*25, Z: 80 + 17*float64(k/5), D: 8.4, Joint: "head"})
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		b.Fatal(err)
	}
	return table
}

func BenchmarkTry200Holes(b *testing.B) {
	table := drilledCar(b, 200)
	for b.Loop() {
		if _, err := table.Try(newHole(100, 300, "head")); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSuggestFill60Holes(b *testing.B) {
	table := drilledCar(b, 60)
	w := model.Wish{Angle: math.NaN(), Height: math.NaN(), Downforce: math.NaN(), Fill: true, Count: 2, Grid: 0.5, Part: 1, Joint: "head", D: 8.4,
		Name: func(n int) string { return fmt.Sprintf("N%d", n+1) }}
	for b.Loop() {
		if _, _, err := table.Suggest(w, nil); err != nil {
			b.Fatal(err)
		}
	}
}
