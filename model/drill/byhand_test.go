package drill

import (
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
)

// rowAt is a row by hand, angle in degrees.
func rowAt(angle, height, down float64) model.Row {
	r := model.Row{Position: &model.Position{Setting: &holes.Setting{}, Angle: angle * plane.Deg, Height: height}}
	r.Downforce = down
	return r
}

// level is a height with angles in degrees.
func level(height float64, angles ...float64) choose.Level {
	l := choose.Level{Height: height, Low: angles[0] * plane.Deg, High: angles[len(angles)-1] * plane.Deg}
	for i, a := range angles {
		l.Angles = append(l.Angles, a*plane.Deg)
		if i > 0 {
			l.AngleStep = max(l.AngleStep, (a-angles[i-1])*plane.Deg)
		}
	}
	return l
}

// By hand: of a height with 2°, 6° and 8° a new setting extends the range up or down, fills
// a step, or opens a height of its own; the widest of several is named.
func TestGainByHand(t *testing.T) {
	before := []choose.Level{level(1200, 2, 6, 8)}
	for _, c := range []struct {
		rows     []model.Row
		effect   Effect
		from, to float64
	}{
		{[]model.Row{rowAt(11, 1203, 0)}, ExtendsUp, 8, 11},
		{[]model.Row{rowAt(-1, 1200, 0)}, ExtendsDown, 2, -1},
		{[]model.Row{rowAt(3, 1195, 0)}, FillsStep, 2, 6},
		{[]model.Row{rowAt(7, 1200, 0)}, FillsStep, 6, 8},
		{[]model.Row{rowAt(5, 1300, 0)}, OpensHeight, 5, 5},
		{[]model.Row{rowAt(7, 1200, 0), rowAt(3, 1200, 0)}, FillsStep, 2, 6},
		{[]model.Row{rowAt(3, 1200, 0), rowAt(9, 1200, 0)}, FillsStep, 2, 6},
		{[]model.Row{rowAt(5, 1300, 0), rowAt(9, 1200, 0)}, ExtendsUp, 8, 9},
		{[]model.Row{rowAt(9, 1200, 0), rowAt(5, 1300, 0)}, ExtendsUp, 8, 9},
	} {
		tr := Trial{Table: &model.Table{Rows: c.rows}, Before: before}
		for i := range c.rows {
			tr.Useful = append(tr.Useful, i)
		}
		g := tr.gain()
		if g.Effect != c.effect || math.Abs(g.From-c.from*plane.Deg) > 1e-12 || math.Abs(g.To-c.to*plane.Deg) > 1e-12 {
			t.Errorf("%g° at %g mm: %v from %g° to %g°; want %v from %g° to %g°", c.rows[0].Angle/plane.Deg, c.rows[0].Height, g.Effect, g.From/plane.Deg, g.To/plane.Deg, c.effect, c.from, c.to)
		}
	}
}

// By hand: at 1200 mm 2° and 8°, at 1210 mm 4° and 6°, which are two levels. A setting at 1205 mm is near both, but what
// stands at 1210 mm does not part the step at 1200 mm: 9° gains nothing, though with it all five are one level with
// steps of 2° at most; 5° leaves 3° of 6° and 1° of 2°, 4° together. At 1192 mm, 7° leaves 5° of 6°. One at 1217 mm with
// one at 1225 mm, which is near to none, gains by its own 5° alone, 1°; nothing at 1230 mm counts.
func TestGainOfAHoleBetweenHeightsByHand(t *testing.T) {
	table := &model.Table{Rows: []model.Row{rowAt(2, 1200, 0), rowAt(8, 1200, 0), rowAt(4, 1210, 0), rowAt(6, 1210, 0)}}
	if n := len(choose.Levels(table)); n != 2 {
		t.Fatalf("%d levels", n)
	}
	at := func(height, angle float64) place { return place{height: height, angle: angle * plane.Deg} }
	for _, c := range []struct {
		places     []place
		want, most float64 // degrees, with what is beyond, and at most
	}{
		{[]place{at(1205, 9)}, 0, 0},
		{[]place{at(1205, 5)}, 4, 4},
		{[]place{at(1192, 7)}, 1, 1},
		{[]place{at(1217, 5), at(1225, 3)}, 1, 1},
		{[]place{at(1205, 5), at(1205, 13)}, 1, 4}, // 13° is 5° beyond 8° at 1200 mm, where 1° is left to gain, and 7° beyond 6° at 1210 mm
		{[]place{at(1230, 5)}, 0, 0},
	} {
		f := stepsOf(table).fresh()
		for _, p := range c.places {
			f.add(p)
		}
		if got, atMost := f.gain(true)/plane.Deg, f.gain(false)/plane.Deg; math.Abs(got-c.want) > 1e-9 || math.Abs(atMost-c.most) > 1e-9 {
			t.Errorf("%+v: gains %.3f°, at most %.3f°; want %g° and %g°", c.places, got, atMost, c.want, c.most)
		}
	}
}

// Suggestions are ranked by settings as wanted, then by how much the widest steps shrink in
// twentieths of a degree, then by settings of use, then by the room that rules leave.
func TestRankByHand(t *testing.T) {
	s := func(name string, hits int, gain float64, useful int, room float64) Suggestion {
		return Suggestion{Hits: hits, value: value{hits: float64(hits)}, Gain: gain * plane.Deg, Trial: Trial{
			Further: []string{name}, Useful: make([]int, useful),
			Rules: []RuleCheck{{Have: 10 + room, Need: 10, Must: true}, {Have: 30, Need: 10, Must: true}, {Have: 0, Need: 10}},
		}}
	}
	all := []Suggestion{s("tight", 1, 1, 2, 1), s("few", 1, 1, 1, 9), s("roomy", 1, 1.01, 2, 3), s("gains", 1, 2, 0, 0), s("hits", 2, 0, 0, 0)}
	rank(all)
	var got []string
	for _, o := range all {
		got = append(got, o.Further[0])
	}
	if want := []string{"hits", "gains", "roomy", "tight", "few"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// plates are two with two holes each, the upper ones 0.5 mm further apart.
func plates() *model.Car {
	part := func(name string, apart float64) model.Part {
		return model.Part{Part: holes.Part{Name: name, Holes: []holes.Hole{{ID: "a", D: 8.4}, {ID: "b", X: apart, D: 8.4}, {ID: "c", X: 40, Z: 30, D: 8.4}}}}
	}
	return &model.Car{
		Parts:  []model.Part{part("lower", 100), part("upper", 100.5)},
		Joints: []model.Joint{{Joint: holes.Joint{Name: "j", Shank: 8, MinBolts: 2, MaxTurn: 30 * plane.Deg}}},
	}
}

// All choices are tried, the ones that go in first, then by how little they miss.
func TestWhyAllByHand(t *testing.T) {
	car := plates()
	lines := WhyAll(car, 0, []int{0, 1}, false)
	if len(lines) != 6 { // 3 · 2 choices of the upper part's holes
		t.Fatalf("%d choices, want 6", len(lines))
	}
	// a:a b:b goes in with 0.8 − 0.5 = 0.3 mm to spare; a:b b:a would turn it by 180°; the rest
	// misses by tens of mm.
	if l := lines[0]; l.Reason != holes.Fine || math.Abs(l.Slack-0.3) > 1e-9 || !slices.Equal(l.Pairs, []holes.Pair{{Lower: 0, Upper: 0}, {Lower: 1, Upper: 1}}) {
		t.Errorf("first %+v", l)
	}
	for i := 1; i < len(lines); i++ {
		a, b := lines[i-1], lines[i]
		if a.Reason == holes.Spacing && b.Reason == holes.Spacing && a.Slack < b.Slack-1e-12 {
			t.Errorf("%d misses by %g before %g", i, -a.Slack, -b.Slack)
		}
	}
	if back := WhyAll(car, 0, []int{0, 1}, true); len(back) != 6 || !slices.Equal(back[0].Pairs, lines[0].Pairs) {
		t.Errorf("from the upper part: %+v", back)
	}
	if last := lines[len(lines)-1]; last.Reason != holes.TurnedOff {
		t.Errorf("what turns right round comes last: %+v", last)
	}
}

func TestHoleNames(t *testing.T) {
	car := plates()
	car.Parts[1].Holes = append(car.Parts[1].Holes, holes.Hole{ID: "A"})
	for word, want := range map[string][]HoleRef{
		"b": {{0, 1}, {1, 1}}, "B": {{0, 1}, {1, 1}}, "upper.c": {{1, 2}}, "UPPER.C": {{1, 2}}, "a": {{0, 0}, {1, 0}}, "A": {{1, 3}}, "x": nil, "lower.x": nil,
	} {
		if got := FindHole(car, word); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", word, got, want)
		}
	}
}

// A new hole is kept for the joint next to the wing where the part keeps all others.
func TestDefaultJoint(t *testing.T) {
	car := plates()
	if got := DefaultJoint(car, 0); got != "" {
		t.Errorf("free holes: %q", got)
	}
	for i := range car.Parts[0].Holes {
		car.Parts[0].Holes[i].Joint = "j"
	}
	if got := DefaultJoint(car, 0); got != "j" {
		t.Errorf("reserved holes: %q", got)
	}
	if got := DefaultJoint(With(car, NewHole{Part: 0, Hole: holes.Hole{ID: "N"}}), 0); got != "" || len(car.Parts[0].Holes) != 3 {
		t.Errorf("with a free hole: %q, and the car has %d holes", got, len(car.Parts[0].Holes))
	}
}

// By hand: two bolts 100 mm apart, holes known to 0.1 mm: the spacings differ with 0.2 mm,
// 0.5 mm off; 0.8 mm of clearance is left on one side by 0.3, on the other by 1.3 mm:
// 1 − (Φ(1.5) − Φ(−6.5)) = 0.0668. The turn is 0.1·√2/√(2·50²) = 0.002 rad.
func TestErrorsOfTwoBoltsByHand(t *testing.T) {
	car := plates()
	f := &holes.Fit{Pairs: []holes.Pair{{Lower: 0, Upper: 0}, {Lower: 1, Upper: 1}}}
	chance := func(sigma float64) float64 {
		return misfit(car.Parts[0].Part, car.Parts[1].Part, car.Joints[0].Joint, f, sigma)
	}
	turn := func(sigma float64) float64 { return model.HolesTurn(car, 0, f.Pairs, sigma) }
	if p, turn := chance(0.1), turn(0.1); math.Abs(p-0.0668) > 1e-4 || math.Abs(turn-0.002) > 1e-12 {
		t.Errorf("misfit %.5f, turn %.6f rad; want 0.0668, 0.002", p, turn)
	}
	// Three bolts: about their middle at 46.67, 10 the arms are 47.73², 54.26², 21.08² mm.
	f.Pairs = append(f.Pairs, holes.Pair{Lower: 2, Upper: 2})
	if want := 0.1 * math.Sqrt2 / math.Sqrt(47.726*47.726+54.263*54.263+21.082*21.082); math.Abs(turn(0.1)/want-1) > 1e-3 {
		t.Errorf("three bolts turn by %.6f rad, want %.6f", turn(0.1), want)
	}
	if p, turn := chance(0), turn(0); p != 0 || turn != 0 {
		t.Error("holes known exactly have errors")
	}
	// Over two joints and two sides: 1 − (1 − p)⁴, and the turns as squares.
	car.Parts = append(car.Parts, car.Parts[1])
	car.Parts[2].Holes = car.Parts[0].Holes
	car.Joints = append(car.Joints, car.Joints[0])
	two := &holes.Fit{Pairs: f.Pairs[:2]}
	row := &model.Row{Position: &model.Position{Setting: &holes.Setting{Fits: []*holes.Fit{two, two}}}}
	e := Errors(&model.Table{Car: car}, row, 0.1)
	if math.Abs(e.Misfit-(1-math.Pow(0.9332, 4))) > 1e-3 || math.Abs(e.AngleStdUnc-0.002*math.Sqrt2) > 2e-5 || math.Abs(e.LeftRight-e.AngleStdUnc*math.Sqrt2) > 1e-12 {
		t.Errorf("%+v", e)
	}
}
