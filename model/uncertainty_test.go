package model

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// plainTable is a table of one car with a straight wing curve and places at
// 1300 mm and the given angles, so that it needs no car file.
func plainTable(t *testing.T, angles ...float64) *Table {
	t.Helper()
	var alpha, cl, cd, cm []float64
	for a := -15.0; a <= 30; a++ {
		l := 0.075 * (a + 5)
		if a > 12 {
			l = 0.075*17 + 0.075*(a-12) - 0.0075*(a-12)*(a-12)
		}
		alpha, cl, cd, cm = append(alpha, a*plane.Deg), append(cl, l), append(cd, 0.015+0.05*l*l), append(cm, -0.09)
	}
	curve, err := aero.NewCurve(alpha, cl, cd, cm)
	if err != nil {
		t.Fatal(err)
	}
	flow, err := aero.NewFlow([]aero.FlowPoint{{Above: 0, Angle: 3 * plane.Deg, Ratio: 0.95}})
	if err != nil {
		t.Fatal(err)
	}
	c := &Car{
		Wheelbase: 2500, FrontMass: 600, RearMass: 560, RearDownforceArea: -0.1, RoofHeight: 1300,
		Air: aero.Air{Pressure: 101325, Temperature: 293.15}, Wing: Wing{Span: 1400, Chord: 250, Table: &curve},
		Flow: flow, Uncertainty: DefaultUncertainty(true),
		TrackFit: NoFit(),
	}
	var places []Position
	for _, a := range angles {
		places = append(places, Position{Setting: &holes.Setting{Play: 0.5 * plane.Deg}, X: 450, Height: 1300, Angle: a * plane.Deg})
	}
	w, err := c.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	return NewTable(c, places, w, 45)
}

// First-order bands against Monte Carlo with the full calculation, within 10 %
// where the curve is straight.
// Source: JCGM 101:2008, propagation of distributions by a Monte Carlo method.
func TestBandsAgainstMonteCarlo(t *testing.T) {
	table := plainTable(t, 0, 5)
	source := rand.NewPCG(1, 2)
	normal := distuv.Normal{Mu: 0, Sigma: 1, Src: source}
	flat := distuv.Uniform{Min: -math.Sqrt(3), Max: math.Sqrt(3), Src: source}
	for i := range table.Rows {
		r := &table.Rows[i]
		b := table.Budget(r)
		const n = 40_000
		var down, back, front, shift []float64
		for range n {
			var d deviation
			for _, in := range table.inputs(r) {
				x := normal.Rand()
				if in.rectangular {
					x = flat.Rand()
				}
				d.add(&in.by, x)
			}
			o := table.outcome(r.Position, d)
			down, back = append(down, o.Downforce), append(back, o.Drag)
			front, shift = append(front, o.Change.Front), append(shift, o.Shift)
		}
		for _, row := range []struct {
			what   string
			band   float64
			sample []float64
		}{
			{"downforce, N", b.Downforce, down}, {"drag, N", b.Drag, back},
			{"front axle, N", b.Contribution.Change.Front, front}, {"balance shift", b.Shift, shift},
		} {
			if mc := stat.StdDev(row.sample, nil); math.Abs(row.band/mc-1) > 0.10 {
				t.Errorf("angle %.0f°, %s: band %.4g, Monte Carlo %.4g", r.Angle/plane.Deg, row.what, row.band, mc)
			}
		}
		if b.Rough != NotRough {
			t.Errorf("angle %.0f°: said to be unreliable: %v", r.Angle/plane.Deg, b.Rough)
		}
	}
}

// Near the stall, and past it, the band says that it is no more than a guide.
func TestBudgetNearTheStallIsRough(t *testing.T) {
	table := plainTable(t, 14, 20)
	for i := range table.Rows {
		if b := table.Budget(&table.Rows[i]); b.Rough == NotRough {
			t.Errorf("%.0f°, %.1f° from the stall: band %.0f N without a doubt", table.Rows[i].Angle/plane.Deg, table.Rows[i].StallMargin/plane.Deg, b.Downforce)
		}
	}
}

// By hand: with only the speed uncertain by 1 %, downforce is uncertain by 2 %;
// with only a turn of 0.5° and a slope of 0.075 per degree, by 0.0375·q·S.
func TestBandsByHand(t *testing.T) {
	table := plainTable(t, 0)
	u := &table.Car.Uncertainty
	*u = Uncertainty{Speed: 0.01, SectionLift: given.Is(0)}
	r := &table.Rows[0]
	r.Setting.Play = 0
	b := table.Budget(r)
	if off := b.Downforce/(0.02*r.Downforce) - 1; math.Abs(off) > 1e-3 {
		t.Errorf("1 %% of speed: band %.3f N of %.1f N, want 2 %%", b.Downforce, r.Downforce)
	}
	*u = Uncertainty{AngleReading: 0.5 * plane.Deg, SectionLift: given.Is(0)}
	b = table.Budget(r)
	q := aero.DynamicPressure(table.Density, 0.95*45)
	if want := 0.0375 * q * 0.35; math.Abs(b.Downforce/want-1) > 0.01 {
		t.Errorf("0.5° of turn: band %.3f N, want %.3f N", b.Downforce, want)
	}
}

// What two settings are off by alike cancels in their difference.
func TestDifferenceBand(t *testing.T) {
	table := plainTable(t, 4, 5)
	a, b := table.Budget(&table.Rows[0]), table.Budget(&table.Rows[1])
	d := DifferenceStdUnc(a, b)
	if d.Downforce >= 0.6*math.Hypot(a.Downforce, b.Downforce) {
		t.Errorf("difference %.1f N, single %.1f and %.1f N: nothing cancels", d.Downforce, a.Downforce, b.Downforce)
	}
	table.Rows[0].Setting.Play, table.Rows[1].Setting.Play = 0, 0
	a = table.Budget(&table.Rows[0])
	if d := DifferenceStdUnc(a, a); d.Downforce > 1e-9 {
		t.Errorf("a setting differs from itself by %.3g N", d.Downforce)
	}
}

func BenchmarkBands(b *testing.B) {
	t := &testing.T{}
	table := plainTable(t, 5)
	for b.Loop() {
		table.Budget(&table.Rows[0])
	}
}

// flowOf is a flow that is the same at all heights.
func flowOf(angle, ratio float64) (aero.Flow, error) {
	return aero.NewFlow([]aero.FlowPoint{{Above: 0, Angle: angle, Ratio: ratio}})
}

// placesOf returns the places of a table's rows.
func placesOf(t *Table) []Position {
	var all []Position
	for i := range t.Rows {
		all = append(all, *t.Rows[i].Position)
	}
	return all
}
