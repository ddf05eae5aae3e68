package calibrate

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

// linear is a problem whose readings are rows of numbers times the unknowns.
func linear(prior, measured, stdUnc []float64, rows ...[]float64) trackProblem {
	return trackProblem{prior: prior, measured: measured, stdUnc: stdUnc, predict: func(off []float64) []float64 {
		out := make([]float64, len(rows))
		for i, r := range rows {
			for k, x := range r {
				out[i] += x * off[k]
			}
		}
		return out
	}}
}

// Closed form for one unknown known to 3, read as 8 to 4: 1/(1/9 + 1/16) = 5.76 of variance, 5.76·8/16 =
// 2.88; the reading lies 8/√(9 + 16) = 1.6 off what is known without it. Read twice alike: 1/(1/9 + 2/16) =
// 4.2353, 4.2353·8·2/16 = 4.2353.
func TestOneUnknownInClosedForm(t *testing.T) {
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4 {
			t.Errorf("%s: %.6f, want %.6f", what, got, want)
		}
	}
	s, err := linear([]float64{3}, []float64{8}, []float64{4}, []float64{1}).solve()
	if err != nil {
		t.Fatal(err)
	}
	near("value", s.off[0], 2.88)
	near("variance", s.cov.At(0, 0), 5.76)
	near("off", s.loo[0], 1.6)
	near("χ²", s.chiSquared, 2.56)
	if s, err = linear([]float64{3}, []float64{8, 8}, []float64{4, 4}, []float64{1}, []float64{1}).solve(); err != nil {
		t.Fatal(err)
	}
	near("value of two", s.off[0], 4.235294)
	near("variance of two", s.cov.At(0, 0), 4.235294)
	// Each against the other: that says 2.88 ± √5.76, so it is (8 − 2.88)/√(5.76 + 16) off.
	near("off of two", s.loo[0], 5.12/math.Sqrt(21.76))
	if s, err = linear([]float64{3}, nil, nil).solve(); err != nil || s.off[0] != 0 || math.Abs(s.cov.At(0, 0)-9) > 1e-12 {
		t.Errorf("nothing read: %v, %v", s.off, err)
	}
	if s, err = linear([]float64{0, 3}, []float64{8}, []float64{4}, []float64{1, 1}).solve(); err != nil || s.off[0] != 0 || s.cov.At(0, 0) != 0 {
		t.Errorf("what is known moves: %v, %v", s.off, err)
	}
	if _, err = linear([]float64{0}, []float64{8}, []float64{4}, []float64{1}).solve(); err == nil {
		t.Error("readings tell of what is known")
	}
}

// By hand: two unknowns known to 1 each, their sum read as 3 and their difference as 1, each to 1:
// C⁻¹ = I + [[1,1],[1,1]] + [[1,−1],[−1,1]] = 3·I, so 1/3 of variance each and x = (3 + 1, 3 − 1)/3. With
// only the sum read C⁻¹ = [[2,1],[1,2]], C = [[2,−1],[−1,2]]/3, x = (1, 1): the two hang together by −1/2.
func TestTwoUnknownsByHand(t *testing.T) {
	s, err := linear([]float64{1, 1}, []float64{3, 1}, []float64{1, 1}, []float64{1, 1}, []float64{1, -1}).solve()
	want := [5]float64{4. / 3, 2. / 3, 1. / 3, 1. / 3, 0}
	got := func() [5]float64 {
		return [5]float64{s.off[0], s.off[1], s.cov.At(0, 0), s.cov.At(1, 1), s.cov.At(0, 1)}
	}
	check := func() {
		t.Helper()
		for i, x := range got() {
			if err != nil || math.Abs(x-want[i]) > 1e-9 {
				t.Errorf("%v: %v, want %v", err, got(), want)
				return
			}
		}
	}
	check()
	s, err = linear([]float64{1, 1}, []float64{3}, []float64{1}, []float64{1, 1}).solve()
	want = [5]float64{1, 1, 2. / 3, 2. / 3, -1. / 3}
	check()
	// What both readings share, by 2 each, adds 4 to all of their covariance: R = [[5,4],[4,5]]. Of one
	// unknown known to 1 both read 3: 1ᵀR⁻¹1 = 2/9, C = 1/(1 + 2/9) = 9/11, x = 9/11·2/9·3 = 6/11.
	p := linear([]float64{1}, []float64{3, 3}, []float64{1, 1}, []float64{1}, []float64{1})
	p.disturbed = func([]float64) *mat.Dense { return mat.NewDense(2, 1, []float64{2, 2}) }
	if s, err = p.solve(); err != nil || math.Abs(s.off[0]-6./11) > 1e-9 || math.Abs(s.cov.At(0, 0)-9./11) > 1e-9 {
		t.Errorf("%v: %v, variance %v, want 6/11 and 9/11", err, s.off, s.cov)
	}
}

// What bends is followed to where it ends: x² read as 9 ± 0.01 from x = 1 ± 5 is 3, known to
// 0.01/6.
func TestWhatBends(t *testing.T) {
	p := trackProblem{prior: []float64{5}, measured: []float64{9}, stdUnc: []float64{0.01}, predict: func(off []float64) []float64 {
		return []float64{(1 + off[0]) * (1 + off[0])}
	}}
	s, err := p.solve()
	if err != nil || math.Abs(s.off[0]-2) > 1e-3 || math.Abs(math.Sqrt(s.cov.At(0, 0))*600-1) > 1e-3 {
		t.Errorf("%v after %d steps: 1 + %v", err, s.steps, s.off)
	}
}

// By hand: of one reading 3 % lie beyond 2.170; of ten, 1 − 0.97^0.1 = 0.3041 % each beyond 2.963.
func TestSuspectLimitByHand(t *testing.T) {
	for n, want := range map[int]float64{1: 2.1701, 10: 2.9629} {
		if got := suspectLimit(n); math.Abs(got-want) > 2e-3 {
			t.Errorf("%d readings: %.4f, want %.4f", n, got, want)
		}
	}
}

// turned is the car of modeltest.Lever with three settings, 2°, 5° and 8° to the ground.
func turned(t *testing.T) *model.Table {
	car := modeltest.Lever(t, 0)
	bracket := &car.Parts[0]
	bracket.Holes = bracket.Holes[:1]
	for i, id := range []string{"q", "r", "s"} {
		sin, cos := math.Sincos(float64(2+3*i) * plane.Deg)
		h := car.Parts[1].Holes[0]
		h.ID, h.X, h.Z = id, 100*cos, 100*sin
		bracket.Holes = append(bracket.Holes, h)
	}
	car.FrontRate, car.RearRate, car.Speed = given.Is(50), given.Is(40), 50
	car.Power, car.DragArea = given.Is(150e3), given.Is(0.7)
	car.Uncertainty.FrontOwn, car.Uncertainty.RearOwn = model.MissingOwnStdUnc, model.MissingOwnStdUnc
	return modeltest.TableOf(t, car)
}

// sunk are notes of what a car with unknowns off by so much reads, without noise.
func sunk(t *testing.T, table *model.Table, off model.Offs, runs map[string][]float64) (notes []logbook.Note) {
	all := readTrack(table, nil)
	for _, id := range []string{"p:F+q:R", "p:F+r:R", "p:F+s:R"} {
		for _, v := range runs[id] {
			r, ok := table.Find(id)
			if !ok {
				t.Fatal("no setting ", id)
			}
			one, err := all.at(r, v, table.Car.Air)
			if err != nil {
				t.Fatal(err)
			}
			n := logbook.Blank()
			n.ID, n.Setting, n.Sink.Speed = id, id, v
			n.Sink.Front, n.Sink.Rear = one.predict(FrontSink, &off, nil, 0), one.predict(RearSink, &off, nil, 0)
			notes = append(notes, n)
		}
	}
	return notes
}

func narrowed(l Learned, u model.Unknown) Narrowed {
	for _, x := range l.Unknowns {
		if x.Of == u {
			return x
		}
	}
	return Narrowed{}
}

// A car's own lift that is missing in its file, and a lift of 0.8 that the file has at 1 ± 0.2: many
// readings of settings far apart tell them apart, those of one setting do not, at one speed or at two, as
// both go with the square of the speed; then they stay in the band, and that is said.
func TestOwnLiftAndTheWingsApart(t *testing.T) {
	table := turned(t)
	table.Car.Uncertainty.SectionLift, table.Car.Uncertainty.RideHeight, table.Car.Uncertainty.FlowAngle, table.Car.Uncertainty.SpeedRatio = given.Is(0.2), 0.2, 0.1*plane.Deg, 0.003
	table.Car.Uncertainty.PlayTaken, table.Car.Uncertainty.AngleReading, table.Car.Uncertainty.AxleRate = 1, 0.05*plane.Deg, 0.005
	var off model.Offs
	off[model.LiftFactor], off[model.RearOwnArea] = -0.2, -0.15
	many := []float64{60, 60, 60, 60, 60, 60}
	for _, c := range []struct {
		what  string
		runs  map[string][]float64
		apart bool
	}{
		{"one setting at one speed", map[string][]float64{"p:F+r:R": append(many, many...)}, false},
		{"one setting at two speeds", map[string][]float64{"p:F+r:R": append([]float64{40, 40, 40, 40, 40, 40}, many...)}, false},
		{"two settings at one speed", map[string][]float64{"p:F+q:R": many, "p:F+s:R": many}, true},
	} {
		l, err := Learn(table, sunk(t, table, off, c.runs))
		if err != nil || l.Fit == nil {
			t.Fatalf("%s: %v, %v", c.what, err, l.Notes)
		}
		lift, own := narrowed(l, model.LiftFactor), narrowed(l, model.RearOwnArea)
		if math.Abs(lift.Value-0.8) > 2*lift.StdUnc || math.Abs(own.Value+0.25) > 2*own.StdUnc {
			t.Errorf("%s: lift %.3f ± %.3f, own lift %.3f ± %.3f", c.what, lift.Value, lift.StdUnc, own.Value, own.StdUnc)
		}
		if l.OneSetting == c.apart || (lift.StdUnc < 0.08) != c.apart {
			t.Errorf("%s: one setting %v, lift known to ±%.3f, own lift to ±%.3f", c.what, l.OneSetting, lift.StdUnc, own.StdUnc)
		}
		t.Logf("%s: lift %.3f ± %.3f, own lift %.3f ± %.3f", c.what, lift.Value, lift.StdUnc, own.Value, own.StdUnc)
	}
}

// A reading that is 20 mm off is named and left out, and what is learned is what the others say; readings
// that are all off alike are not called suspect: the file is.
func TestAReadingThatDoesNotFit(t *testing.T) {
	table := turned(t)
	notes := sunk(t, table, model.Offs{}, map[string][]float64{"p:F+q:R": {50, 60}, "p:F+r:R": {50, 60}, "p:F+s:R": {50, 60}})
	clean, err := Learn(table, notes)
	if err != nil || len(clean.Suspects()) > 0 || clean.Widened != 1 {
		t.Fatalf("%v: clean readings: %+v", err, clean.Suspects())
	}
	notes[3].Sink.Rear += 20
	l, err := Learn(table, notes)
	if s := l.Suspects(); err != nil || len(s) != 1 || s[0].Kind != RearSink || s[0].Note != notes[3].ID || math.Abs(s[0].Measured-s[0].Fitted-20) > 0.5 || s[0].Off < 8 {
		t.Errorf("%v: %+v", err, s)
	}
	if a, b := narrowed(clean, model.RearOwnArea), narrowed(l, model.RearOwnArea); math.Abs(a.Value-b.Value) > 0.1*a.StdUnc {
		t.Errorf("own lift %.4f with it left out, %.4f without it", b.Value, a.Value)
	}
	for i := range notes {
		notes[i].Sink.Rear += 12
	}
	notes[3].Sink.Rear -= 20
	table.Car.Uncertainty.RearOwn = 0.03
	l, err = Learn(table, notes)
	if err != nil || len(l.Suspects()) > 2 || l.Widened == 1 {
		t.Errorf("%v: all off by 12 mm: %d suspects of %d, widened by %.2f, chance %.4f", err, len(l.Suspects()), len(l.Readings), l.Widened, l.Chance)
	}
}

// The next reading leaves what it promises: with it made, as predicted, the uncertainty is that.
func TestNextReadingKeepsItsWord(t *testing.T) {
	table := turned(t)
	notes := sunk(t, table, model.Offs{}, map[string][]float64{"p:F+r:R": {50}})
	l, err := Learn(table, notes)
	if err != nil {
		t.Fatal(err)
	}
	r, _ := table.Find("p:F+r:R")
	share := func(c model.Contribution) float64 { return c.Share }
	n, ok := l.Next(r, share, func(o *model.Outcome) float64 { return o.Share })
	if !ok || n.Kind == TopSpeed || !(n.After < 0.95*n.Before) {
		t.Fatalf("no ride height tells more of the share: %+v", n)
	}
	further := logbook.Blank()
	further.ID, further.Setting, further.Sink.Speed = "next", n.Row.ID, n.Speed
	further.Air = logbook.Air{Temperature: 20, Pressure: 1013.25, Humidity: 0}
	one := sunk(t, table, model.Offs{}, map[string][]float64{n.Row.ID: {n.Speed}})[0].Sink
	if n.Kind == FrontSink {
		further.Sink.Front = one.Front
	} else {
		further.Sink.Rear = one.Rear
	}
	l2, err := Learn(table, append(notes, further))
	if err != nil {
		t.Fatal(err)
	}
	e, err := l2.Whole()
	if err != nil {
		t.Fatal(err)
	}
	if got := l2.stdUnc(r, e, share); math.Abs(got/n.After-1) > 0.03 {
		t.Errorf("±%.3f pp were promised of ±%.3f pp, ±%.3f pp are left", 100*n.After, 100*n.Before, 100*got)
	}
}

// Notes that tell nothing say why.
func TestNotesThatTellNothing(t *testing.T) {
	table := turned(t)
	note := func(change func(n *logbook.Note)) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting = "n", "p:F+q:R"
		change(&n)
		return n
	}
	sinks := note(func(n *logbook.Note) { n.Sink.Speed, n.Sink.Rear = 60, 10 })
	fast := note(func(n *logbook.Note) { n.TopSpeed = 60 })
	if _, err := Learn(table, []logbook.Note{note(func(*logbook.Note) {})}); err == nil {
		t.Error("a note without measurements teaches something")
	}
	for what, c := range map[string]struct {
		note   logbook.Note
		change func(*model.Car)
	}{
		"no rates": {sinks, func(c *model.Car) { c.FrontRate, c.RearRate = given.Number{}, given.Number{} }},
		"no power": {fast, func(c *model.Car) { c.Power = given.Number{} }}, "no drag area": {fast, func(c *model.Car) { c.DragArea = given.Number{} }},
		"no such setting": {note(func(n *logbook.Note) { n.TopSpeed, n.Setting = 60, "gone" }), func(*model.Car) {}},
	} {
		car, other := *table.Car, *table
		other.Car = &car
		c.change(&car)
		l, err := Learn(&other, []logbook.Note{c.note})
		if err != nil || l.Fit != nil || len(l.Notes) != 1 || len(l.Readings) != 0 {
			t.Errorf("%s: %v, %d notes, %d readings, a fit %v", what, err, len(l.Notes), len(l.Readings), l.Fit != nil)
		}
		for _, x := range l.Unknowns {
			if x.Value != x.Before || math.Abs(x.StdUnc-x.BeforeStdUnc) > 1e-12 {
				t.Errorf("%s: %s is told", what, x.Of.Key())
			}
		}
	}
}

// Where figures end on one side the other tells: by hand 5 and 1 about 2 are 2 a step, 5 alone 3, 1 alone 1.
func TestSlopeByHand(t *testing.T) {
	nan := math.NaN()
	for _, c := range [][4]float64{{5, 2, 1, 2}, {5, 2, nan, 3}, {nan, 2, 1, 1}, {nan, 2, nan, 0}, {5, nan, 1, 2}} {
		if got := slopeOf(c[0], c[1], c[2]); got != c[3] {
			t.Errorf("%v: %g", c, got)
		}
	}
}

// A note without weather has its air known to 2 %, four times the 0.5 % of one with it; rear ride heights alone tell nothing of power,
// drag area and the front's spring, which are then not kept; top speeds tell of those, and of no spring.
func TestWhatIsKept(t *testing.T) {
	table := turned(t)
	runs := map[string][]float64{"p:F+q:R": {60}, "p:F+s:R": {60}}
	notes := sunk(t, table, model.Offs{}, runs)
	for i := range notes {
		notes[i].Sink.Front = math.NaN()
	}
	learn := func(notes []logbook.Note) Learned {
		l, err := Learn(table, notes)
		if err != nil || l.Fit == nil {
			t.Fatalf("%v, %v", err, l.Notes)
		}
		return l
	}
	kept := func(l Learned, u model.Unknown) bool { _, ok := l.Fit.StdUnc(u); return ok }
	air := func(want float64) {
		t.Helper()
		for _, d := range readTrack(table, notes).runs[0].disturbed {
			if d.What == model.FromAir && math.Abs(d.times-want) > 1e-12 {
				t.Errorf("the air of the day is taken %.2f times, want %.0f", d.times, want)
			}
		}
	}
	air(4)
	for i := range notes {
		notes[i].Air = logbook.Air{Temperature: 20, Pressure: 1013.25, Humidity: 0}
	}
	air(1)
	with := learn(notes)
	for u, want := range map[model.Unknown]bool{model.RearOwnArea: true, model.RearAxleRate: true, model.WheelPower: false, model.OwnDragArea: false} {
		if kept(with, u) != want {
			t.Errorf("ride heights: %s is kept %v", u.Key(), !want)
		}
	}
	fast := logbook.Blank()
	fast.ID, fast.Setting, fast.TopSpeed = "fast", "p:F+q:R", 66
	for u, want := range map[model.Unknown]bool{model.RearAxleRate: false, model.WheelPower: true, model.OwnDragArea: true} {
		if kept(learn([]logbook.Note{fast}), u) != want {
			t.Errorf("a top speed: %s is kept %v", u.Key(), !want)
		}
	}
}

// What cannot be is not taken over: factors within 0.2 to 3, rates above 0.
func TestImplausible(t *testing.T) {
	for _, c := range []struct {
		of    model.Unknown
		value float64
		ok    bool
	}{{model.LiftFactor, 0.2, true}, {model.LiftFactor, 0.19, false}, {model.DragFactor, 3, true}, {model.DragFactor, 3.01, false},
		{model.RearAxleRate, 0.1, true}, {model.RearAxleRate, 0, false}, {model.FlowAngleOff, -9, true}} {
		if _, ok := implausible(Narrowed{Of: c.of, Value: c.value}); ok != c.ok {
			t.Errorf("%s of %g: %v", c.of.Key(), c.value, ok)
		}
	}
}

// By hand: a drag area of 0.7 m² that the file knows to 10 % and a wing that is known exactly. Coast-downs read 0.05 m² more than both together, to
// ± 0.03: with ρ = 0.07² and R = 0.03² the file's area becomes 0.7 + 0.05·0.0049/(0.0049 + 0.0009) = 0.74224 ± √(0.0049·0.0009/0.0058) = 0.02757 m².
// Two of them, of which 2 % of what is read is shared: each by itself s² = 0.03² − (0.02·a)², the mean's variance is s²/2 + (0.02·a)².
func TestCoastDownsByHand(t *testing.T) {
	table := turned(t)
	u := &table.Car.Uncertainty
	*u = model.Uncertainty{DragArea: 0.1, SectionLift: given.Is(1e-9), RideHeight: 1, TopSpeed: 0.01}
	all := readTrack(table, nil)
	r, _ := table.Find("p:F+r:R")
	one, err := all.at(r, table.Car.Speed, table.Car.Air)
	if err != nil {
		t.Fatal(err)
	}
	wing := one.row.Drag / (one.table.Density / 2 * table.Car.Speed * table.Car.Speed)
	if got := one.predict(CoastArea, new(model.Offs), nil, 0); math.Abs(got-0.7-wing) > 1e-12 || !(wing > 0.001) {
		t.Errorf("%.5f m² are predicted, want 0.7 + %.5f", got, wing)
	}
	note := func(id string, std float64) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting, n.Coast = id, "p:F+r:R", logbook.Coast{DragArea: 0.75 + wing, StdUnc: std}
		return n
	}
	for _, c := range []struct {
		notes []logbook.Note
		noise float64 // m², variance of their mean
	}{
		{[]logbook.Note{note("a", 0.03)}, 0.0009},
		{[]logbook.Note{note("a", 0.03), note("b", 0.03)}, (0.0009-0.0004*(0.75+wing)*(0.75+wing))/2 + 0.0004*(0.75+wing)*(0.75+wing)},
		{[]logbook.Note{note("a", math.NaN())}, 0.0025 * (0.75 + wing) * (0.75 + wing)},
	} {
		l, err := Learn(table, c.notes)
		if err != nil || len(l.Readings) != len(c.notes) {
			t.Fatal(err, l.Notes)
		}
		x := narrowed(l, model.OwnDragArea)
		want, std := 0.7+0.05*0.0049/(0.0049+c.noise), math.Sqrt(0.0049*c.noise/(0.0049+c.noise))
		if math.Abs(x.Value-want) > 1e-3 || math.Abs(x.StdUnc-std) > 1e-3 {
			t.Errorf("%d notes: %.5f ± %.5f m², want %.5f ± %.5f", len(c.notes), x.Value, x.StdUnc, want, std)
		}
	}
	table.Car.DragArea = given.Number{}
	if l, err := Learn(table, []logbook.Note{note("a", 0.03)}); err != nil || len(l.Readings) != 0 || len(l.Notes) != 1 {
		t.Errorf("%v: %v, %v", err, l.Readings, l.Notes)
	}
}

// A note's own standard uncertainty takes the place of the car file's.
func TestNotesOwnUncertainty(t *testing.T) {
	table := turned(t)
	n := logbook.Blank()
	n.ID, n.Setting, n.TopSpeed, n.TopSpeedStdUnc, n.Sink, n.SinkStdUnc = "a", "p:F+r:R", 60, 0.25, logbook.Sink{Speed: 50, Front: -1, Rear: 4}, 0.4
	all := readTrack(table, []logbook.Note{n})
	if len(all.readings) != 3 || all.readings[0].StdUnc != 0.4 || all.readings[1].StdUnc != 0.4 || all.readings[2].StdUnc != 0.25 {
		t.Errorf("%+v", all.readings)
	}
	n.TopSpeedStdUnc, n.SinkStdUnc = math.NaN(), 0
	all = readTrack(table, []logbook.Note{n})
	if c := table.Car.Uncertainty; all.readings[0].StdUnc != c.RideHeight || all.readings[2].StdUnc != 60*c.TopSpeed {
		t.Errorf("%+v", all.readings)
	}
}
