package design

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// quick is enough of a search for tests.
var quick = effort{tries: 150, restarts: 1}

// TestPairsByHand holds the most pairs of k front and r rear holes, no two front holes with two rear holes in common, against the numbers of
// Zarankiewicz's problem, z(k, r; 2, 2) - 1. Source: R. K. Guy, "A many-facetted problem of Zarankiewicz", Lecture Notes in
// Mathematics 110 (1969) 129-148, from memory. The count here may be larger, never smaller.
func TestPairsByHand(t *testing.T) {
	for _, c := range []struct{ k, r, pairs int }{{2, 2, 3}, {2, 3, 4}, {3, 3, 6}, {3, 4, 7}, {4, 4, 9}, {4, 5, 10}, {5, 5, 12}, {6, 6, 16}, {7, 7, 21}} {
		if got := mostPairs(c.k, c.r, 99, true); got < c.pairs || got > c.pairs+1 {
			t.Errorf("%d and %d holes: at most %d pairs, want %d", c.k, c.r, got, c.pairs)
		}
		if got := mostPairs(c.k, c.r, 99, false); got != c.k*c.r {
			t.Errorf("%d and %d holes that may share: at most %d pairs, want %d", c.k, c.r, got, c.k*c.r)
		}
		if got := mostPairs(c.k, c.r, 1, true); got != min(c.k, c.r) {
			t.Errorf("%d and %d holes, one pair each: at most %d pairs, want %d", c.k, c.r, got, min(c.k, c.r))
		}
	}
}

// simple is a frame whose fixed part stands level at the origin, with the wing's bolts 150 mm apart on the chord line, the front one 20 mm ahead of the
// quarter chord.
func simple(w Wish) *frame {
	f := &frame{wish: w, along: plane.Point{X: 1}, quarter: plane.Point{X: 20}, pitch: 150,
		car: &model.Car{Parts: make([]model.Part, 3), Joints: make([]model.Joint, 2)}, footD: 8.4, headD: 8.4, footRoom: 20, headRoom: 20, mixedRoom: 20, footPairs: 20, slack: 0.4}
	for row := range 4 {
		for _, x := range []float64{0, 60} {
			f.bracket = append(f.bracket, plane.Point{X: x, Z: 30 * float64(row)})
		}
	}
	f.places = []place{{free: f.bracket}}
	return f
}

// standsUpright is where the plate can stand.
func standsUpright(t *testing.T, f *frame) []foot {
	feet, err := f.upright(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return feet
}

// TestPlacesByHand: with the front bolt at 0, 500 and the wing at 30°, the rear bolt is at 150 cos 30°, 500 + 75, and the quarter chord at a
// height of 500 + 10. With the fixed part leaning by 10° the rear hole is at 20° in the plate.
func TestPlacesByHand(t *testing.T) {
	f := simple(Wish{})
	rear := f.rearOf(plane.Point{Z: 500}, 30*plane.Deg)
	if math.Abs(rear.X-129.904) > 1e-3 || math.Abs(rear.Z-575) > 1e-9 {
		t.Errorf("rear bolt at %v", rear)
	}
	if h := f.heightOf(plane.Point{Z: 500}, 30*plane.Deg); math.Abs(h-510) > 1e-9 {
		t.Errorf("height %v", h)
	}
	f.ground = plane.Pose{X: 1000, Z: 300, Turn: 10 * plane.Deg}
	if rear := f.rearOf(plane.Point{}, 30*plane.Deg); math.Abs(rear.Angle()-20*plane.Deg) > 1e-12 {
		t.Errorf("rear hole at %v°", rear.Angle()/plane.Deg)
	}
	if a := f.angleOf(plane.Point{}, f.rearOf(plane.Point{}, 30*plane.Deg)); math.Abs(a-30*plane.Deg) > 1e-12 {
		t.Errorf("angle %v°", a/plane.Deg)
	}
	// 300 + 100 cos 10° for the bolt, 20 sin 30° for the quarter chord.
	if h := f.heightOf(plane.Point{Z: 100}, 30*plane.Deg); math.Abs(h-408.481) > 1e-3 {
		t.Errorf("height %v", h)
	}
}

// TestFewestAnglesByHand: 0 to 12° with the ends within 0.5° is 11° in steps of 1.5°, 7.33 of them: 8 steps, 9 angles.
func TestFewestAnglesByHand(t *testing.T) {
	for _, c := range []struct {
		high, step, within float64
		want               int
	}{{12, 1.5, 0.5, 9}, {12, 3, 0, 5}, {12, 3, 0.5, 5}, {1, 3, 0.5, 1}, {10, 11, 0, 2}} {
		w := Wish{High: c.high * plane.Deg, Step: c.step * plane.Deg, EndWithin: c.within * plane.Deg}
		if got := w.fewestAngles(); got != c.want {
			t.Errorf("0 to %v° by %v°: %d angles, want %d", c.high, c.step, got, c.want)
		}
	}
}

// TestFootByHand: four rows 30 mm apart; at heights 30 mm apart four holes of the plate do, at heights 45 mm apart eight, since no row comes onto
// another, unless heights may be 15 mm off all told.
func TestFootByHand(t *testing.T) {
	for _, c := range []struct {
		heights []float64
		within  float64
		want    int
	}{{[]float64{500, 530, 560}, 3, 4}, {[]float64{500, 545}, 3, 8}, {[]float64{500, 545}, 9, 4}} {
		f := simple(Wish{Heights: c.heights, HeightWithin: c.within, FootBolts: 4})
		feet := standsUpright(t, f)
		if len(feet) == 0 || len(feet[0].holes) != c.want {
			t.Errorf("heights %v: %+v, want %d holes", c.heights, feet, c.want)
		}
	}
}

// TestStepsAreCovered: a front hole at the right height with rear holes for 0°, 3° and 6° leaves no step wider than 3° from 0 to 6°, and one of 6° without the
// middle one, which is half of the grid's steps that begin from 0 to 6° less the step.
func TestStepsAreCovered(t *testing.T) {
	f := simple(Wish{Heights: []float64{500}, HeightWithin: 5, High: 6 * plane.Deg, Step: 3.1 * plane.Deg, FootBolts: 4})
	c := f.newCover(standsUpright(t, f)[0], f.wish.Step, -85, -5)
	front := plane.Point{X: -40, Z: 500}
	at := func(deg float64) plane.Point { return f.rearOf(front, deg*plane.Deg) }
	if n := c.left([]plane.Point{front}, []plane.Point{at(0), at(3), at(6)}); n != 0 {
		t.Errorf("%d steps open", n)
	}
	// Starts from -3.05° to 6°; those from 0 to 2.9° (6-3.1) have neither 0° nor 6°.
	without := c.left([]plane.Point{front}, []plane.Point{at(0), at(6)})
	if want := 2.9 / (3.1 / (perStep + 1)); math.Abs(float64(without)-want) > 2 {
		t.Errorf("%d steps open, want %.1f", without, want)
	}
	if n := c.left([]plane.Point{{X: -40, Z: 508}}, []plane.Point{f.rearOf(plane.Point{X: -40, Z: 508}, 0)}); n != c.starts {
		t.Errorf("a wing 8 mm too high leaves %d of %d steps open", n, c.starts)
	}
}

// TestEveryProposalGivesWhatWasAsked lists the settings of each proposal anew and looks at them by themselves: the angles at each height, bolts at
// the foot, the rules of spacing. DESIGN_WISHES sets how many wishes are tried.
func TestEveryProposalGivesWhatWasAsked(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("DESIGN_WISHES"))
	most, e := 12.0, quick
	if n == 0 {
		n, most, e = len(kinds), 4, effort{40, 1}
	}
	short := n == len(kinds)
	rng := rand.New(rand.NewPCG(7, 7))
	between := func(lo, hi float64) float64 { return lo + rng.Float64()*(hi-lo) }
	cars := []string{"coupe", "roadster"}
	found, per := 0, map[string]int{}
	for i := range n {
		c := modeltest.Car(t, cars[i/len(kinds)%len(cars)])
		w := Wish{HeightWithin: between(4, 15), High: between(4, most) * plane.Deg, Step: between(2, 4) * plane.Deg, EndWithin: 0.5 * plane.Deg,
			FootBolts: 2 + rng.IntN(3)}
		c.Joints[0].MinBolts = 2
		at, each := modeltest.TableOf(t, c).Rows[0].Height, between(20, 45)
		for range 1 + rng.IntN(3) {
			w.Heights = append(w.Heights, at)
			at += each
		}
		kind := kinds[i%len(kinds)]
		if short && kind.name != "named" && kind.name != "blank" { // the others have small tests of their own
			continue
		}
		if kind.car != nil {
			kind.car(c)
		}
		if kind.wish != nil {
			kind.wish(&w, rng)
		}
		d, err := design(context.Background(), c, w, e, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Proposals) == 0 {
			if d.Why == OffBlank && d.Smallest.Over <= 0 {
				t.Errorf("no plate goes on the blank, and one is %g mm too large", d.Smallest.Over)
			}
			continue
		}
		found++
		per[kind.name]++
		for _, p := range d.Proposals {
			gives(t, &p, w)
		}
		if d.Proposals[0].Holes() < d.Bound {
			t.Errorf("%d holes are fewer than the bound of %d", d.Proposals[0].Holes(), d.Bound)
		}
	}
	t.Logf("plates found for %d of %d wishes: %v", found, n, per)
	if found == 0 {
		t.Error("no wish was met")
	}
}

// gives looks at one proposal.
func gives(t *testing.T, p *Proposal, w Wish) {
	table, err := p.Car.Map(p.Car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	if b := w.Blank; b.Given() && !turnsOnto(p.Plate().Outline, b, p.Lie.Turn) {
		t.Errorf("the plate does not go on the blank of %v: %+v", b, p.Lie)
	}
	for _, h := range w.Heights {
		if len(w.Angles) > 0 {
			all := anglesAt(table, h, w.HeightWithin+0.1)
			for _, want := range w.Angles {
				if !slices.ContainsFunc(all, func(a float64) bool { return math.Abs(a-want) <= w.AngleWithin+0.03*plane.Deg }) {
					t.Errorf("at %.0f mm nothing within %.2f° of %.2f°", h, w.AngleWithin/plane.Deg, want/plane.Deg)
				}
			}
			continue
		}
		last, first := math.Inf(-1), math.Inf(1)
		var widest float64
		for _, a := range anglesAt(table, h, w.HeightWithin+0.1) {
			if a > w.High+w.Step || a < w.Low-w.Step {
				continue
			}
			if !math.IsInf(last, -1) && last < w.High-w.EndWithin && a > w.Low+w.EndWithin {
				widest = max(widest, a-last)
			}
			first, last = min(first, a), max(last, a)
		}
		const rounding = 0.03 * plane.Deg
		if first > w.Low+w.EndWithin+rounding || last < w.High-w.EndWithin-rounding || widest > w.Step+rounding {
			t.Errorf("at %.0f mm from %.2f° to %.2f° in steps of %.2f°", h, first/plane.Deg, last/plane.Deg, widest/plane.Deg)
		}
	}
	for i := range table.Rows {
		if n := len(table.Rows[i].Fits[p.footJoint()].Pairs); n < w.FootBolts {
			t.Errorf("%d bolts at the foot", n)
		}
	}
	plate := p.Plate()
	for i, a := range plate.Holes {
		for _, b := range plate.Holes[:i] {
			if apart, least := a.At().Distance(b.At()), 2.4*max(a.D, b.D); apart < least-0.03 {
				t.Errorf("%s and %s are %.2f mm apart, less than %.2f", a.ID, b.ID, apart, least)
			}
		}
		if edge, metal := plate.EdgeDistance(a.At()); !metal || edge < fastener.Edge(a.D).Min {
			t.Errorf("%s is %.2f mm from the edge", a.ID, edge)
		}
	}
}

// turnsOnto reports whether an outline, turned, is no larger than a blank.
func turnsOnto(ring []plane.Point, b Blank, turn float64) bool {
	sin, cos := math.Sincos(turn)
	x0, x1, z0, z1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range ring {
		x, z := p.X*cos-p.Z*sin, p.X*sin+p.Z*cos
		x0, x1, z0, z1 = min(x0, x), max(x1, x), min(z0, z), max(z1, z)
	}
	return x1-x0 <= b.W+1e-6 && z1-z0 <= b.H+1e-6
}

func anglesAt(t *model.Table, height, within float64) (all []float64) {
	for i := range t.Rows {
		if math.Abs(t.Rows[i].Height-height) <= within {
			all = append(all, t.Rows[i].Angle)
		}
	}
	for i := range all { // by angle
		for k := i; k > 0 && all[k] < all[k-1]; k-- {
			all[k], all[k-1] = all[k-1], all[k]
		}
	}
	return all
}

// TestBehind puts the wing's front bolt where it was asked for.
func TestBehind(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	d, err := design(context.Background(), c, Wish{Heights: []float64{1240}, HeightWithin: 10, High: 8 * plane.Deg, Step: 4 * plane.Deg, EndWithin: plane.Deg,
		Behind: given.Is(300), BehindWithin: 15}, quick, nil)
	if err != nil || len(d.Proposals) == 0 {
		t.Fatal(err, "no proposals")
	}
	for _, p := range d.Proposals {
		for i := range p.Table.Rows {
			r := &p.Table.Rows[i]
			if math.Abs(r.Height-1240) > 10 {
				continue
			}
			if x := r.Pose.Apply(p.Car.Parts[2].Holes[0].At()).X; math.Abs(x-300) > 15+15+2 { // the front holes, and the foot where the plate is tilted
				t.Errorf("front bolt %.0f mm behind the axle", x)
			}
		}
	}
}

func TestFaults(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	good := Wish{Heights: []float64{1240}, HeightWithin: 10, High: 8 * plane.Deg, Step: 4 * plane.Deg}
	for want, spoil := range map[Problem]func(w *Wish){
		NoHeights:      func(w *Wish) { w.Heights = nil },
		TooManyHeights: func(w *Wish) { w.Heights = make([]float64, MostHeights+1) },
		Angles:         func(w *Wish) { w.High = -1 },
		Steps:          func(w *Wish) { w.Step = 0 },
		Within:         func(w *Wish) { w.HeightWithin = 0 },
		FootBolts:      func(w *Wish) { w.FootBolts = 1 },
		FewerThanMin:   func(w *Wish) { w.FootBolts = 3 },
		BadHeight:      func(w *Wish) { w.Heights = []float64{-50} },
		BadPitch:       func(w *Wish) { w.Pitches = []float64{math.NaN()} },
		FewBracketHoles: func(w *Wish) {
			w.FootBolts = 8
			c = &model.Car{}
			*c = *modeltest.Car(t, "coupe")
			c.Parts = fewHoles(c)
		},
	} {
		w := good
		c = modeltest.Car(t, "coupe")
		spoil(&w)
		_, err := Design(context.Background(), c, w, nil)
		if f, ok := err.(*Fault); !ok || f.What != want {
			t.Errorf("problem %d: %v", want, err)
		}
	}
}

func fewHoles(c *model.Car) []model.Part {
	parts := append([]model.Part{}, c.Parts...)
	parts[0].Holes = parts[0].Holes[:6]
	return parts
}

// TestNoHoleIsIdle: every hole of the plate takes a bolt in some setting that was wanted.
func TestNoHoleIsIdle(t *testing.T) {
	d, err := design(context.Background(), modeltest.Car(t, "coupe"), Wish{Heights: []float64{1265}, HeightWithin: 10, Low: 5 * plane.Deg, High: 9 * plane.Deg, Step: 4 * plane.Deg,
		EndWithin: 0.5 * plane.Deg}, quick, nil)
	if err != nil || len(d.Proposals) == 0 {
		t.Fatal(err, "no proposals")
	}
	for _, p := range d.Proposals {
		used := map[int]bool{}
		for _, l := range p.Levels {
			for _, n := range l.Rows {
				for _, q := range p.Table.Rows[n].Fits[0].Pairs {
					used[q.Upper] = true
				}
				for _, q := range p.Table.Rows[n].Fits[1].Pairs {
					used[q.Lower] = true
				}
			}
		}
		for i, h := range p.Plate().Holes {
			if !used[i] {
				t.Errorf("%d holes: %s takes no bolt", p.Holes(), h.ID)
			}
		}
	}
}

// TestBracketOfAnArcTurns: rows are one angle, a pivot with an arc of holes 8° apart takes a plate with two holes at three.
func TestBracketOfAnArcTurns(t *testing.T) {
	f := simple(Wish{Heights: []float64{500}, HeightWithin: 5, FootBolts: 2})
	f.car.Joints[0].MaxTurn = 30 * plane.Deg
	if f.motions = f.motionsOf(); f.turns(4) > 0 {
		t.Error("rows of 60 by 30 mm turn a plate with four holes")
	}
	f.bracket = []plane.Point{{}}
	for i := range 3 {
		sin, cos := math.Sincos(float64(i) * 8 * plane.Deg)
		f.bracket = append(f.bracket, plane.Point{X: 150 * cos, Z: 150 * sin})
	}
	f.motions = f.motionsOf()
	want := []float64{8, -8, 16, -16}
	got := f.turnsOf(2)
	if len(got) != len(want) {
		t.Fatalf("turns %v", got)
	}
	for i := range got {
		if math.Abs(math.Abs(got[i])-math.Abs(want[i])*plane.Deg) > 1e-9 {
			t.Errorf("turns %v", got)
		}
	}
}

func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err := Design(ctx, modeltest.Car(t, "coupe"), wanted(), nil)
	if err != context.Canceled {
		t.Error(err)
	}
}
