package calibrate

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

// By hand: predictions 10 and 20 with measurements 9 and 22, each known to 1: the factor is
// (10·9 + 20·22)/(100 + 400) = 1.06, known to 1/√500 = 0.0447. The residuals are −1.6 and
// 0.8, their squares 3.2: the scatter asks for √(3.2/1) = 1.79 times that, 0.08. With 2 and 4
// for the uncertainties the weights are 1/4 and 1/16: (22.5 + 27.5)/(25 + 25) = 1, 1/√50.
func TestFactorByHand(t *testing.T) {
	near := func(s model.Scale, factor, std float64) bool {
		return math.Abs(s.Factor-factor) < 1e-9 && math.Abs(s.StdUnc-std) < 1e-6
	}
	var p pairs
	p.add(10, 9, 1)
	p.add(20, 22, 1)
	if s := p.fit(); !near(s, 1.06, math.Sqrt(3.2)/math.Sqrt(500)) {
		t.Errorf("%+v, want 1.06 ± 0.08", s)
	}
	var q pairs
	q.add(10, 9, 2)
	q.add(20, 22, 4)
	// Residuals −1 and 2, over 2 and 4: 0.25 + 0.25 = 0.5, less than the measurements allow.
	if s := q.fit(); !near(s, 1, 1/math.Sqrt(50)) {
		t.Errorf("%+v, want 1 ± 0.1414", s)
	}
	var one pairs
	one.add(4, 5, 2)
	if s := one.fit(); !near(s, 1.25, 0.5) {
		t.Errorf("%+v, want 1.25 ± 0.5", s)
	}
	if (pairs{}).fit().Known() {
		t.Error("nothing measured tells a factor")
	}
	var zero pairs
	zero.add(0, 5, 1)
	if zero.fit().Known() {
		t.Error("a prediction of 0 tells a factor")
	}
}

// What a fit may be: 0.2 to 3, known to 1.
func TestPlausibleFits(t *testing.T) {
	for _, c := range []struct {
		factor, std float64
		ok          bool
	}{{0.2, 0.1, true}, {3, 1, true}, {0.19, 0.1, false}, {3.01, 0.1, false}, {1, 1.01, false}} {
		var l Learned
		s := l.plausible("drag", "nothing", model.Scale{Factor: c.factor, StdUnc: c.std})
		if s.Known() != c.ok || len(l.Notes) == 0 != c.ok {
			t.Errorf("%g ± %g: taken %v, %d notes", c.factor, c.std, s.Known(), len(l.Notes))
		}
	}
	var l Learned
	if l.plausible("drag", "nothing", model.NoScale()).Known() || len(l.Notes) > 0 {
		t.Error("what nothing tells is no fault")
	}
}

// A prediction is kept in degrees and percent.
func TestExpectedByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r := &table.Rows[3]
	e, b := Expected(table, r), table.Budget(r)
	for what, pair := range map[string][2]float64{
		"height": {e.Height, r.Height}, "angle": {e.Angle, r.Angle * 180 / math.Pi}, "CL": {e.CL, r.CL}, "downforce": {e.Downforce, r.Downforce}, "its ±": {e.DownforceStdUnc, b.Downforce},
		"drag": {e.Drag, r.Drag}, "its ±, too": {e.DragStdUnc, b.Drag}, "share": {e.Share, r.Share * 100}, "shift": {e.Shift, r.Shift * 100},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-12 {
			t.Errorf("%s %g, want %g", what, pair[0], pair[1])
		}
	}
}

// By hand: ride heights that sink as 0.8 of the predicted change of the rear axle and the
// car's own lift ask for 0.8, known to 1.5 mm of spring over that change. A note in other air
// is weighed by it.
func TestTrackFitByHand(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.RearRate, car.FrontRate = given.Is(50), given.Is(60)
	v := 50.0
	fitted := *car // a fit takes the place of what body and uprights do
	fitted.TrackFit.Downforce = model.Scale{Factor: 1}
	table, err := fitted.Map(v)
	if err != nil {
		t.Fatal(err)
	}
	r, _ := table.Find("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	own := table.Density * v * v / 2 * car.RearDownforceArea
	note := logbook.Blank()
	note.ID, note.Setting = "n", r.ID
	note.Sink.Speed, note.Sink.Rear = v, (0.8*r.Change.Rear+own)/50
	l, err := Learn(car, []logbook.Note{note})
	if err != nil || math.Abs(l.Downforce.Factor-0.8) > 1e-9 || math.Abs(l.Downforce.StdUnc-50*1.5/r.Change.Rear) > 1e-9 || l.Drag.Known() || len(l.Used) != 1 {
		t.Errorf("%v: %+v", err, l)
	}
	// Half the pressure: half the air, so the same sink is twice the factor, but for the own lift.
	note.Air.Pressure = car.Air.Pressure / 100 / 2
	thin, err := Learn(car, []logbook.Note{note})
	want := (50*note.Sink.Rear - own/2) / (r.Change.Rear / 2)
	if err != nil || math.Abs(thin.Downforce.Factor/want-1) > 0.02 {
		t.Errorf("%v: in thin air %.4f, want about %.4f", err, thin.Downforce.Factor, want)
	}
	// A top speed: 2P/(ρv³) − CdA − T over the wing's own drag area.
	note = logbook.Blank()
	note.ID, note.Setting, note.TopSpeed = "n", r.ID, 68
	fast, err := car.Map(68)
	if err != nil {
		t.Fatal(err)
	}
	f, _ := fast.Find(r.ID)
	q := fast.Density * 68 * 68 / 2
	total := 2 * car.Power.Value() / (fast.Density * 68 * 68 * 68)
	twice := *car
	twice.TrackFit.Drag = model.Scale{Factor: 2}
	double, err := twice.Map(68)
	if err != nil {
		t.Fatal(err)
	}
	f2, _ := double.Find(r.ID)
	area := (f2.Drag - f.Drag) / q
	l, err = Learn(car, []logbook.Note{note})
	if k := (total - car.DragArea.Value() - (f.Drag/q - area)) / area; err != nil || k < model.MinFit || k > model.MaxFit {
		if l.Drag.Known() || len(l.Notes) == 0 {
			t.Errorf("a factor of %.3f is taken: %+v", k, l)
		}
	} else if math.Abs(l.Drag.Factor-k) > 1e-6 || math.Abs(l.Drag.StdUnc-3*0.01*total/area) > 1e-6 && l.Drag.StdUnc <= model.MaxFitStdUnc {
		t.Errorf("%+v, want %.4f", l.Drag, k)
	}
}

// By hand, at 12° (CL 1.275, CD 0.09628, CM −0.09) and 60 m/s in air of 1.2046 kg/m³, q 2168.3 Pa
// on 0.35 m²: 967.6 N down, 73.07 N of drag, −17.08 N·m, 461.1 mm behind the axle and 1213.0 mm up.
// Front −(967.6·0.4611 + 73.07·1.213 + 17.08)/2.5 = −220.8 N, rear 1188.4 N; the car's own lift
// −216.8 N at the rear. With 0.9 of the wing's a spring of 50 N/mm sinks (1069.6 − 216.8)/50 =
// 17.06 mm, known to 50·1.5/1188.4 = 0.0631.
// Drag area 0.7 m² of the car and 1.5 times the wing's 0.0337 m² make 0.7505 m²: 60 m/s need
// ½·1.2046·0.7505·60³ = 97.65 kW; 3 % of 0.7505 m² over 0.0337 is 0.668.
func TestLearnByHand(t *testing.T) {
	car, open := modeltest.Lever(t, 12*plane.Deg), given.Number{}
	note := func(change func(n *logbook.Note)) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting = "n", "p:F+q:R"
		change(&n)
		return n
	}
	sinks := note(func(n *logbook.Note) { n.Sink.Speed, n.Sink.Rear = 60, 17.06 })
	fast := note(func(n *logbook.Note) { n.TopSpeed = 60 })
	for _, c := range []struct {
		what       string
		note       logbook.Note
		rate       given.Number
		power, cda given.Number
		down, drag model.Scale
		used       int
		notes      int
	}{
		{"ride height", sinks, given.Is(50), open, open, model.Scale{Factor: 0.9, StdUnc: 0.0631}, model.NoScale(), 1, 0},
		{"ride height without a rate", sinks, open, open, open, model.NoScale(), model.NoScale(), 0, 1},
		{"top speed", fast, open, given.Is(97645), given.Is(0.7), model.NoScale(), model.Scale{Factor: 1.5, StdUnc: 0.668}, 1, 0},
		{"top speed without power", fast, open, open, given.Is(0.7), model.NoScale(), model.NoScale(), 0, 1},
		{"top speed without drag area", fast, open, given.Is(97645), open, model.NoScale(), model.NoScale(), 0, 1},
		{"no such setting", note(func(n *logbook.Note) { n.TopSpeed, n.Setting = 60, "gone" }), given.Is(50), given.Is(97645), given.Is(0.7), model.NoScale(), model.NoScale(), 0, 1},
	} {
		car.RearRate, car.Power, car.DragArea = c.rate, c.power, c.cda
		l, err := Learn(car, []logbook.Note{c.note})
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		near := func(got, want float64) bool { return math.IsNaN(got) && math.IsNaN(want) || math.Abs(got-want) < 0.004 }
		if !near(l.Downforce.Factor, c.down.Factor) || !near(l.Downforce.StdUnc, c.down.StdUnc) || !near(l.Drag.Factor, c.drag.Factor) || !near(l.Drag.StdUnc, c.drag.StdUnc) || len(l.Used) != c.used || len(l.Notes) != c.notes {
			t.Errorf("%s: %+v, want %+v and %+v, %d used, %d noted", c.what, l, c.down, c.drag, c.used, c.notes)
		}
	}
	if _, err := Learn(car, []logbook.Note{note(func(*logbook.Note) {})}); err == nil {
		t.Error("a note without measurements teaches something")
	}
}

// By hand for a maximum CL of 1.4625 on 0.35 m² in that air: 1000 N need 1.05 of it at 55.6 m/s and
// 0.8 of it at 63.7 m/s; at the maker's own 60 m/s CL 1.318, 0.901 of the maximum. Speeds that leave
// out both ends name no range; one end is enough.
func TestClaimByHand(t *testing.T) {
	car := modeltest.Plain(t)
	car.Claim = model.Claim{Downforce: given.Is(1000), Speed: given.Is(60)}
	for _, c := range []struct {
		from, to float64
		known    bool
	}{{30, 90, true}, {30, 56, true}, {63, 90, true}, {30, 55, false}, {64, 90, false}} {
		a, err := CheckClaim(car, []float64{c.from, c.to})
		if err != nil {
			t.Fatal(err)
		}
		if c.known == math.IsNaN(a.Likely[0]) || c.known && (math.Abs(a.Likely[0]-55.58) > 0.02 || math.Abs(a.Likely[1]-63.67) > 0.02) {
			t.Errorf("%g to %g m/s: likely %.2f to %.2f", c.from, c.to, a.Likely[0], a.Likely[1])
		}
		if len(a.Rows) != 2 || math.Abs(a.ImpliedCL-1.3182) > 1e-3 || math.Abs(a.ImpliedFactor-0.9014) > 1e-3 || !a.ImpliedCredible {
			t.Errorf("implied CL %.4f, factor %.4f, credible %v", a.ImpliedCL, a.ImpliedFactor, a.ImpliedCredible)
		}
	}
	car.Claim.Speed = given.Number{}
	if a, err := CheckClaim(car, []float64{30, 90}); err != nil || !math.IsNaN(a.ImpliedCL) || !math.IsNaN(a.ImpliedFactor) || a.ImpliedCredible {
		t.Errorf("without a speed: %+v, %v", a, err)
	}
	car.Claim.Speed = given.Is(45) // needs CL 2.34
	if a, err := CheckClaim(car, []float64{30, 90}); err != nil || a.ImpliedCredible {
		t.Errorf("at 45 m/s: %+v, %v", a, err)
	}
}
