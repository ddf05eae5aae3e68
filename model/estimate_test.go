package model

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
	"stanchion/holes/plane"
)

// estimateOf is an estimate with standard uncertainties and one correlation of all pairs.
func estimateOf(t *testing.T, of []Unknown, value, std []float64, correlation float64) *Estimate {
	t.Helper()
	cov := mat.NewSymDense(len(of), nil)
	for i := range of {
		for k := i; k < len(of); k++ {
			c := std[i] * std[k]
			if i != k {
				c *= correlation
			}
			cov.SetSym(i, k, c)
		}
	}
	e, err := NewEstimate(of, value, cov)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// priorOf is the estimate of a table's car before anything is measured.
func priorOf(t *testing.T, table *Table) *Estimate {
	var of []Unknown
	var std []float64
	for u := Unknown(1); u < UnknownsEnd; u++ {
		if s := table.Prior(u); s > 0 {
			of, std = append(of, u), append(std, s)
		}
	}
	return estimateOf(t, of, make([]float64, len(of)), std, 0)
}

// withSection is the plain table with a section that has bands of its own, dirt and a Gurney flap, so that all
// unknowns count, in a flow with bands over height.
func withSection(t *testing.T, angles ...float64) *Table {
	table := plainTable(t, angles...)
	table.Wing.Section = &aero.Section{ZeroLiftStdUnc: 0.3 * plane.Deg, SlopeStdUnc: 0.04, MaxLiftStdUnc: 0.06}
	table.Wing.Section.Slope = table.Wing.Slope / 0.75
	table.Wing.Section.MaxAngleStdUnc, table.Wing.Section.MaxAngle = 1*plane.Deg, 14*plane.Deg
	table.Wing.Worn = aero.Worn{MaxLiftStdUnc: 0.05, DragStdUnc: 0.1, StallStdUnc: 0.03}
	table.Wing.GurneyZero, table.Wing.GurneyTop = 0.2*plane.Deg, 0.02
	flow, err := aero.NewFlow([]aero.FlowPoint{{Above: -0.2, Angle: 3 * plane.Deg, Ratio: 0.95, AngleStdUnc: 0.5 * plane.Deg, RatioStdUnc: 0.02},
		{Above: 0.2, Angle: 3 * plane.Deg, Ratio: 0.95, AngleStdUnc: 1.5 * plane.Deg, RatioStdUnc: 0.04}})
	if err != nil {
		t.Fatal(err)
	}
	table.Car.Flow = flow
	for i := range table.Rows {
		table.Rows[i].Position.Height += 150 * float64(i)
	}
	places := placesOf(table)
	for i := range places {
		places[i].Setting.Play = 0
		places[i].Struts = Struts{Known: true, DragArea: 0.01, Middle: 1200, LostLift: 0.05}
		places[i].Deck = DeckEffect{Known: true, Low: DeckEnd{0.1, -0.05, 0.02}, High: DeckEnd{0.4, -0.1, 0.08}}
	}
	return NewTable(table.Car, places, table.Wing, 45)
}

// With nothing measured the posterior is the prior, and the budget is the same in all figures and parts,
// where the curve is straight, near its top, and for the difference of two settings.
func TestNothingMeasuredLeavesTheBudget(t *testing.T) {
	table := withSection(t, 3, 12)
	fitted := *table
	fitted.Car = table.Car.Fitted(priorOf(t, table))
	same := func(what string, a, b Contribution) {
		t.Helper()
		x, y := a.list(), b.list()
		for i := range x {
			if math.Abs(*x[i]-*y[i]) > 1e-9*math.Max(1, math.Abs(*x[i])) {
				t.Errorf("%s, figure %d: ±%.9g, without a fit ±%.9g", what, i, *y[i], *x[i])
			}
		}
		if math.Abs(a.Angle-b.Angle) > 1e-12 {
			t.Errorf("%s: angle ±%g, without a fit ±%g", what, b.Angle, a.Angle)
		}
	}
	var before, after []Budget
	for i := range table.Rows {
		a, b := table.Budget(&table.Rows[i]), fitted.Budget(&table.Rows[i])
		same("row", a.Contribution, b.Contribution)
		if a.Drawn != b.Drawn || len(a.Parts) != len(b.Parts) {
			t.Errorf("drawn %v, %d parts; without a fit %v, %d", b.Drawn, len(b.Parts), a.Drawn, len(a.Parts))
		}
		by := map[string]Contribution{}
		for _, p := range b.Parts {
			by[p.What] = p
		}
		for _, p := range a.Parts {
			same(p.What, p, by[p.What])
		}
		before, after = append(before, a), append(after, b)
	}
	same("difference", DifferenceStdUnc(before[0], before[1]), DifferenceStdUnc(after[0], after[1]))
	if !before[1].Drawn || before[0].Drawn {
		t.Error("one of the rows should be near the stall and one not")
	}
}

// By hand: lift known to 5 % and flow angle to 1° that hang together by −0.9. On 18.86 N for 5 % of lift
// and 29.08 N for 1° of flow (TestContributionsByHand) they leave
// √(18.86² + 29.08² − 2·0.9·18.86·29.08) = 14.62 N; alone they would be 34.66 N.
func TestFittedTogetherByHand(t *testing.T) {
	table := plainTable(t, 5)
	of := []Unknown{LiftFactor, FlowAngleOff}
	car := table.Car.Fitted(estimateOf(t, of, []float64{0, 0}, []float64{0.05, 1 * plane.Deg}, -0.9))
	fitted := *table
	fitted.Car = car
	sum := 0.0
	for _, p := range fitted.Budget(&table.Rows[0]).Parts {
		if p.same == FromSlope || p.same == FromFlowAngle {
			sum = math.Hypot(sum, p.Downforce)
		}
	}
	if math.Abs(sum-14.62) > 0.1 {
		t.Errorf("lift and flow together give ±%.3f N, want 14.62 N", sum)
	}
	// Flow angle measured to 0.5°: by hand 1 − 1/(1 + 0.25) = 0.2 of its variance is left, and of the lift's
	// 1 − 0.81/1.25 = 0.352.
	e := car.TrackFit.Estimate.Measured(FlowAngleOff, 0.5*plane.Deg)
	flow, _ := e.StdUnc(FlowAngleOff)
	lift, _ := e.StdUnc(LiftFactor)
	if math.Abs(flow/plane.Deg-math.Sqrt(0.2)) > 1e-9 || math.Abs(lift-0.05*math.Sqrt(0.352)) > 1e-9 {
		t.Errorf("measured: flow ±%.4f°, lift ±%.4f", flow/plane.Deg, lift)
	}
}

// What is no covariance is refused.
func TestCovariancesThatAreNone(t *testing.T) {
	for what, cov := range map[string]*mat.SymDense{
		"a correlation above 1": mat.NewSymDense(2, []float64{1, 1.1, 1.1, 1}), "a variance of 0": mat.NewSymDense(2, []float64{1, 0, 0, 0}),
		"a variance below 0": mat.NewSymDense(2, []float64{1, 0, 0, -1}), "a number that is none": mat.NewSymDense(2, []float64{1, math.NaN(), 0, 1}),
	} {
		if _, err := NewEstimate([]Unknown{LiftFactor, DragFactor}, []float64{0, 0}, cov); err == nil {
			t.Errorf("%s is taken", what)
		}
	}
	if _, err := NewEstimate([]Unknown{LiftFactor}, []float64{0, 0}, mat.NewSymDense(1, []float64{1})); err == nil {
		t.Error("two values of one unknown are taken")
	}
}

// What a fit makes of a car is what its readings were fitted with: forces of the car with the fit in it
// are those with each unknown off by so much, within 0.05 % where the curve is straight and 0.5 % near its
// top, where the curve between its points decides.
func TestFittedIsWhatWasFitted(t *testing.T) {
	of := []Unknown{LiftFactor, FlowAngleOff, SpeedRatioOff, FrontOwnArea, RearOwnArea, DragFactor, MaxLiftFactor, ZeroLiftOff, BodyPartOff, WakeFactor}
	value := []float64{-0.1, 0.5 * plane.Deg, 0.02, -0.02, 0.03, 0.2, -0.05, 0.3 * plane.Deg, -0.2, 0.3}
	std := make([]float64, len(of))
	var off Offs
	for i, u := range of {
		off[u], std[i] = value[i], 0.01
	}
	table := plainTable(t, 3, 12)
	car := table.Car.Fitted(estimateOf(t, of, value, std, 0))
	w, err := car.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	for i := range table.Rows {
		p := *table.Rows[i].Position
		p.Struts = Struts{Known: true, DragArea: 0.01, Middle: 1200, LostLift: 0.05}
		p.Deck = DeckEffect{Known: true, Low: DeckEnd{0.1, -0.05, 0.02}, High: DeckEnd{0.4, -0.1, 0.08}}
		want := table.Disturbed(&table.Rows[i], &off, nil, 0).OutcomeAt(&p, 0)
		p.Struts.LostLift *= 1.3
		p.Deck.Off = -0.2
		got := NewTable(car, []Position{p}, w, 45).Rows[0]
		for what, pair := range map[string][2]float64{"downforce": {got.Downforce, want.Downforce}, "on the car": {got.OnCar, want.OnCar},
			"drag": {got.Drag, want.Drag}, "front axle": {got.Load.Front, want.Load.Front}, "rear axle": {got.Load.Rear, want.Load.Rear}} {
			if math.Abs(pair[0]-pair[1]) > [2]float64{0.0005, 0.005}[i]*math.Abs(pair[1]) {
				t.Errorf("%.0f°, %s: %.3f N with the fit, %.3f N with the unknowns off", got.Angle/plane.Deg, what, pair[0], pair[1])
			}
		}
		if math.Abs(got.Attack-got.Angle-got.Flow.Angle) > 1e-12 || math.Abs(got.Flow.Angle/plane.Deg-3.5) > 1e-9 {
			t.Errorf("attack %.3f°, flow angle %.3f°", got.Attack/plane.Deg, got.Flow.Angle/plane.Deg)
		}
	}
	back := car.Unfitted()
	if back.RearDownforceArea != -0.1 || back.FrontDownforceArea != 0 || back.TrackFit.Known() {
		t.Errorf("without the fit: %g, %g m²", back.FrontDownforceArea, back.RearDownforceArea)
	}
	if p, _ := back.Flow.At(0); p.Angle != 3*plane.Deg {
		t.Errorf("without the fit the flow angle is %.3f°", p.Angle/plane.Deg)
	}
	if twice := car.Fitted(car.TrackFit.Estimate); twice.RearDownforceArea != car.RearDownforceArea {
		t.Error("a fit counts twice")
	}
}

// Loads are never less for a fit: one that makes less of lift, flow and drag changes none of them, one that
// makes more counts.
func TestLoadsAreNotLessForAFit(t *testing.T) {
	table := plainTable(t, 3, 12)
	of := []Unknown{LiftFactor, MaxLiftFactor, DragFactor, FlowAngleOff, SpeedRatioOff, ZeroLiftOff, AngleReadingOff}
	loads := func(c *Car) [2]Outcome {
		c = c.ForLoads()
		w, err := c.SolveWing(45)
		if err != nil {
			t.Fatal(err)
		}
		rows := NewTable(c, placesOf(table), w, 45).Rows
		return [2]Outcome{rows[0].Outcome, rows[1].Outcome}
	}
	plain := loads(table.Car)
	for sign, what := range map[float64]string{-1: "less", 1: "more"} {
		var value, std []float64
		for _, u := range of {
			x := 0.05
			if u.IsAngle() {
				x = 1 * plane.Deg
			}
			value, std = append(value, sign*x), append(std, 0.01)
		}
		with := loads(table.Car.Fitted(estimateOf(t, of, value, std, 0)))
		for i := range with {
			switch {
			case sign < 0 && math.Abs(with[i].Downforce-plain[i].Downforce) > 1e-9:
				t.Errorf("a fit of %s makes the load %.2f N of %.2f N", what, with[i].Downforce, plain[i].Downforce)
			case sign > 0 && with[i].Downforce < 1.05*plain[i].Downforce:
				t.Errorf("a fit of %s makes the load %.2f N of %.2f N", what, with[i].Downforce, plain[i].Downforce)
			}
		}
	}
}

// By hand: 30 N and 40 N off independently, of which a reading of their sum to 50 N tells: it has
// 70 off with both, so that of the sum's 2500 there is left 2500·2500/(2500 + 2500) = 1250; of the
// first alone 900 − 900²/5000 = 738. What the speed gives is told by none.
func TestToldByHand(t *testing.T) {
	down := func(x float64) Moved { return Moved{Downforce: x} }
	b := Budget{Parts: []Contribution{{same: "a", Moved: down(30)}, {same: "b", Moved: down(40)}, {What: FromSpeed, same: FromSpeed, Moved: down(10)}}}
	of := func(c Contribution) float64 { return c.Downforce }
	left := b.Told(b.Parts[:2], Contribution{Moved: down(50)}, of, 50)
	if math.Abs(left.Downforce-math.Sqrt(1250)) > 1e-9 {
		t.Errorf("%.4f N are left of the sum, want %.4f", left.Downforce, math.Sqrt(1250))
	}
	if left := b.Told(b.Parts[:1], Contribution{Moved: down(30)}, of, 50); math.Abs(left.Downforce-math.Sqrt(738)) > 1e-9 {
		t.Errorf("%.4f N are left of the first, want %.4f", left.Downforce, math.Sqrt(738))
	}
	if left := b.Told(b.Parts[2:], Contribution{Moved: down(10)}, of, 50); left.Downforce != 10 {
		t.Errorf("%.4f N are left of the speed's, want 10", left.Downforce)
	}
}
