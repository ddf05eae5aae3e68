package model

import (
	"math"
	"testing"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// What each source adds to the row of TestRowByHand, by hand from its derivatives. With
// q·S = 385.25 N, L = 375.6 N, D = 24.09 N at 3° (cos 0.99863, sin 0.05234), dCD = 0.1·CL·dCL
// and credit = 0.03248·L, of which half counts:
//
//	turn 0.3°:   dL = 0.0225·qS = 8.668, dD = 0.845; down 8.656 + 0.044, drag 0.844 − 0.141,
//	             front −(8.700·0.45 + 0.703·1.3)/2.5
//	flow 1°:     dL = 28.89, dD = 2.817; down 28.85 + 0.15 + (24.06 − 19.66)·0.01745, drag
//	             2.813 − 24.09·0.05234·0.01745 − 0.469
//	ratio 0.03:  2·0.03/0.95 = 6.316 % of all forces
//	drag 10 %:   dD = 2.409
//	speed 1 %:   2 % of all forces, also of the car's own −122.0 N at the rear
//	air 0.5 %:   a quarter of that
//	slope 5 %:   dL = 18.78, dD = 2·0.975·0.04875/(π·5.6)·qS = 2.082
//	paid 1/√12:  0.2887·12.20 N of drag
//	own lift:    0.03 m² is 36.58 N; 1.83 N of drag by half of 2·L·0.03/(π·1.4²), −0.952 N in front;
//	             shift ((F0 ± 36.58 − 80.55 ∓ 0.952)/(T0 ± 36.58 + 376.35) − (F0 ± 36.58)/(T0 ± 36.58))
//	             with F0 5884.0 N in front, T0 11253.8 N in all, in front; likewise behind
//	play:        0.5°/√3 of turn
func TestContributionsByHand(t *testing.T) {
	table := plainTable(t, 5)
	table.Car.Uncertainty.AngleReading = 0.3 * plane.Deg
	want := map[string][4]float64{ // downforce, drag, front axle in N; shift in 1e-4
		"angle reading":         {8.700, 0.703, -1.932, -5.39},
		"play in the holes":     {8.372, 0.677, -1.859, -5.19},
		"flow angle":            {29.08, 2.322, -6.442, -18.02},
		"speed ratio":           {23.77, 1.134, -5.087, -14.57},
		"section drag":          {0.126, 2.406, -1.274, -1.149},
		"speed":                 {7.527, 0.359, -1.611, -4.70},
		"air density":           {1.882, 0.090, -0.403, -1.175},
		"section's lift slope":  {18.86, 1.774, -4.318, -11.81},
		"section's maximum CL":  {0, 0, 0, 0},
		whatTheBodyPaysForALean: {0, 3.522, -1.831, -1.575},
		FromFrontOwn:            {0, 1.830, -0.952, -0.571},
		FromRearOwn:             {0, 1.830, -0.952, 0.482},
	}
	b := table.Budget(&table.Rows[0])
	if len(b.Parts) != len(want) {
		t.Errorf("%d sources, want %d", len(b.Parts), len(want))
	}
	var down float64
	for _, p := range b.Parts {
		w, ok := want[p.What]
		if !ok {
			t.Errorf("unexpected source %q", p.What)
		}
		down = math.Hypot(down, w[0])
		for k, got := range []float64{p.Downforce, p.Drag, p.Change.Front, 1e4 * p.Shift} {
			if math.Abs(got-w[k]) > 0.005*math.Abs(w[k])+0.001 {
				t.Errorf("%s: figure %d is %.4f, want %.4f", p.What, k, got, w[k])
			}
		}
		if math.Abs(p.Change.Front+p.Change.Rear-p.Downforce) > 1e-3 {
			t.Errorf("%s: axles %+v, downforce %.3f", p.What, p.Change, p.Downforce)
		}
	}
	if math.Abs(b.Downforce-down) > 0.05 {
		t.Errorf("combined %.3f N, want %.3f N", b.Downforce, down)
	}
	// Angle: 0.3° and 0.2887°; angle of attack: the flow's 1° with them.
	if a := b.Angle / plane.Deg; math.Abs(a-0.4163) > 1e-3 {
		t.Errorf("angle ±%.4f°, want 0.4163°", a)
	}
	if a := b.Margin / plane.Deg; math.Abs(a-1.0832) > 1e-3 {
		t.Errorf("angle of attack ±%.4f°, want 1.0832°", a)
	}
}

const whatTheBodyPaysForALean = "forward lean of the lift"

// What a section tells of itself, by hand: 1° of zero lift is 0.075 of CL; half-way to level,
// at 14.5° where the slope is half of 0.075, slope and maximum count half each; a section's
// slope counts by the part of it that the wing has, here 0.75; past the stall only the maximum
// counts, and 0.5° of 3° of the 15 % by which a stalled wing is known.
func TestSectionContributionsByHand(t *testing.T) {
	const mid, past = 14.5 - 3, 17.5 - 3 // angles to the ground in a flow of 3°
	table := plainTable(t, 5, mid, past)
	section := &aero.Section{ZeroLiftStdUnc: 1 * plane.Deg, SlopeStdUnc: 0.04, MaxLiftStdUnc: 0.06}
	section.Slope = table.Wing.Slope / 0.75
	table.Wing.Section = section
	for i, want := range []map[string]float64{
		{"section's zero-lift angle": 0.075, "section's lift slope": 0.975 * 0.04 * 0.75, "section's maximum CL": 0},
		{"section's lift slope": 1.415625 * 0.04 * 0.75 / 2, "section's maximum CL": 1.415625 * 0.06 / 2},
		{"section's lift slope": 0, "section's maximum CL": 1.460625 * 0.06, FromStalledLift: 1.460625 * 0.15 / 6},
	} {
		r := &table.Rows[i]
		found := 0
		for _, p := range table.Budget(r).Parts {
			w, ok := want[p.What]
			if !ok {
				continue
			}
			found++
			if math.Abs(p.CL-w) > 0.04*w+1e-4 {
				t.Errorf("%.1f°, %s: CL ±%.5f, want %.5f", r.Angle/plane.Deg, p.What, p.CL, w)
			}
		}
		if found != len(want) {
			t.Errorf("%.1f°: %d sources of %d", r.Angle/plane.Deg, found, len(want))
		}
	}
}

// What is given or measured takes the place of the section's own: 3 % for both from the file;
// a track fit of 0.8 ± 0.04 gives 5 % to the slope and, with half of the 6 %, 5.83 % to the
// maximum; one of the drag of 1.2 ± 0.06 gives 5 %.
func TestContributionsFromFileAndTrack(t *testing.T) {
	table := plainTable(t, 5)
	by := func(what string) deviation {
		for _, in := range table.inputs(&table.Rows[0]) {
			if in.what == what {
				return in.by
			}
		}
		t.Fatalf("no source %q", what)
		return deviation{}
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4 {
			t.Errorf("%s: %.4f, want %.4f", what, got, want)
		}
	}
	near("a curve of the user's", by("section's maximum CL").top, 0.05)
	near("drag by default", by("section drag").drag, 0.10)
	table.Wing.Section = &aero.Section{SlopeStdUnc: 0.04, MaxLiftStdUnc: 0.06}
	near("maximum of the section", by("section's maximum CL").top, 0.06)
	table.Car.Uncertainty.SectionLift = given.Is(0.03)
	near("slope from the file", by("section's lift slope").slope, 0.03)
	near("maximum from the file", by("section's maximum CL").top, 0.03)
	table.Car.Uncertainty.SectionLift = given.Number{}
	table.Car.TrackFit = TrackFit{Downforce: Scale{0.8, 0.04}, Drag: Scale{1.2, 0.06}}
	near("slope with a fit", by("section's lift slope").slope, 0.05)
	near("maximum with a fit", by("section's maximum CL").top, 0.0583)
	near("drag with a fit", by("section drag").drag, 0.05)
}

// At either end of the data, here −15° and 9° of attack, one side tells: what a degree of flow
// changes there counts in full.
func TestContributionsAtTheEndOfTheData(t *testing.T) {
	base := plainTable(t, 5)
	var alpha, cl, cd []float64
	for a := -15.0; a <= 9; a++ {
		alpha, cl, cd = append(alpha, a*plane.Deg), append(cl, 0.075*(a+5)), append(cd, 0.05)
	}
	curve, err := aero.NewCurve(alpha, cl, cd, nil)
	if err != nil {
		t.Fatal(err)
	}
	base.Car.Wing.Table = &curve
	w, err := base.Car.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	for _, angle := range []float64{5.5, -17.5} {
		base.Rows[0].Position.Angle = angle * plane.Deg
		table := NewTable(base.Car, placesOf(base), w, 45)
		for _, p := range table.Budget(&table.Rows[0]).Parts {
			if p.What == "flow angle" && math.Abs(p.CL-0.075) > 1e-6 {
				t.Errorf("%.1f°: 1° of flow changes CL by %.5f, want 0.075", angle, p.CL)
			}
		}
	}
}

// The difference of two rows by hand: what both are off by alike is taken off, axle by axle;
// play is added as squares.
func TestDifferenceByHand(t *testing.T) {
	straight := func(same string, angle float64, m Moved) Contribution {
		return Contribution{What: same, same: same, Angle: angle, Moved: m, up: m, down: Moved{}.less(m)}
	}
	a := Budget{Parts: []Contribution{
		straight("speed", 0.1, Moved{CL: 0.5, Downforce: 10, Drag: 3, Change: Axles{-4, 14}, Share: 0.03, Shift: 0.02}),
		straight("play of a", 0, Moved{Downforce: 3, Change: Axles{-1, 4}}),
	}}
	b := Budget{Parts: []Contribution{
		straight("speed", 0.3, Moved{CL: 0.1, Downforce: 6, Drag: 2, Change: Axles{-1, 7}, Share: 0.01, Shift: 0.05}),
		straight("play of b", 0, Moved{Downforce: 4, Change: Axles{-2, 6}}),
	}}
	d := DifferenceStdUnc(a, b)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"angle", d.Angle, 0.2}, {"CL", d.CL, 0.4}, {"downforce", d.Downforce, math.Sqrt(16 + 9 + 16)}, {"drag", d.Drag, 1},
		{"front", d.Change.Front, math.Sqrt(9 + 1 + 4)}, {"rear", d.Change.Rear, math.Sqrt(49 + 16 + 36)},
		{"share", d.Share, 0.02}, {"shift", d.Shift, 0.03},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
	if d := DifferenceStdUnc(a, Budget{}); !math.IsNaN(d.Downforce) {
		t.Errorf("a difference from nothing known: %g", d.Downforce)
	}
}

// A row without forces has an angle that is as uncertain as reading and play, here 0.3° and
// 0.5°/√3, and nothing else.
func TestBudgetWithoutForces(t *testing.T) {
	table := plainTable(t, 60)
	b := table.Budget(&table.Rows[0])
	if !table.Rows[0].NoForces() || !math.IsNaN(b.Downforce) || math.Abs(b.Angle/plane.Deg-0.4163) > 1e-3 {
		t.Errorf("forces %v, downforce ±%g, angle ±%.4f°", !table.Rows[0].NoForces(), b.Downforce, b.Angle/plane.Deg)
	}
}

// The defaults that README and help promise, with the flow given and not.
func TestDefaultUncertainties(t *testing.T) {
	for given, flow := range map[bool][2]float64{true: {1, 0.03}, false: {3, 0.07}} {
		u := DefaultUncertainty(given)
		got := [6]float64{u.AngleReading / plane.Deg, u.FlowAngle / plane.Deg, u.SpeedRatio, u.SectionDrag, u.Speed, u.Air}
		for i, want := range [6]float64{0.3, flow[0], flow[1], 0.10, 0.01, 0.005} {
			if math.Abs(got[i]-want) > 1e-12 {
				t.Errorf("flow given %v, %d: %g, want %g", given, i, got[i], want)
			}
		}
	}
}

// A table is in the order of height, then angle, then id; a nanometre and a ten-millionth of
// a degree are noise.
func TestOrderOfPositions(t *testing.T) {
	at := func(id string, height, angle float64) Position {
		return Position{Setting: &holes.Setting{ID: id}, Height: height, Angle: angle * plane.Deg}
	}
	for _, c := range []struct{ first, second Position }{
		{at("z", 1299, 9), at("a", 1300, 1)},
		{at("z", 1300, 1), at("a", 1300, 2)},
		{at("a", 1300.0000001, 1), at("b", 1300, 1)},
		{at("a", 1300, 1.0000001), at("b", 1300, 1)},
		{at("z", 1300, 1.000001), at("a", 1300, 1.000002)},
	} {
		if !c.first.before(&c.second) || c.second.before(&c.first) {
			t.Errorf("%s (%.7f mm, %.7f°) is not before %s (%.7f mm, %.7f°)", c.first.ID, c.first.Height, c.first.Angle/plane.Deg, c.second.ID, c.second.Height, c.second.Angle/plane.Deg)
		}
	}
}
