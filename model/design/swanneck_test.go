package design

import (
	"errors"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// hung is a swan neck on the coupe for mounts at a height, with one front hole and a rear hole for each angle, in degrees.
func hung(t *testing.T, w Wish, angles ...float64) (*Proposal, *Wish, error) {
	t.Helper()
	c := *modeltest.Car(t, "coupe")
	w.Heights, w.HeightWithin, w.Step, w.EndWithin, w.High, w.SwanNeck = []float64{1260}, 10, 12*plane.Deg, plane.Deg, 10*plane.Deg, true
	f, err := newFrame(&c, w)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Above) > 0 {
		f = f.withMounts(w.Above[0])
	}
	foot := f.upright()[0]
	x := 0.0
	if at, ok := w.Behind.Get(); ok {
		x = f.ground.Inverse().Apply(plane.Point{X: at, Z: 1260}).X
	}
	front := plane.Point{X: x, Z: (1260 - f.heightOf(plane.Point{X: x}, w.Low)) / math.Cos(f.lean())}
	p := pattern{f, foot, head{fronts: []plane.Point{front}}}
	for _, a := range angles {
		p.head.rears = append(p.head.rears, f.rearOf(front, a*plane.Deg))
	}
	one, err := p.proposal(&f.wish)
	return one, &f.wish, err
}

// TestSwanNeckKeepsClear looks at each setting on the car, point by point: the wing's section is nowhere in the upright and nowhere nearer than the gap, and
// what is said to be free below it is.
func TestSwanNeckKeepsClear(t *testing.T) {
	made := 0
	for i, w := range []Wish{
		{Above: []float64{90}, NeckGap: 5, Band: 40}, {Above: []float64{80}, NeckGap: 20, Behind: given.Is(420)},
	} {
		p, _, err := hung(t, w, 0, 10)
		if err != nil || p == nil {
			t.Errorf("mounts %v mm up: %v", w.Above, err)
			continue
		}
		made++
		clearOf(t, p)
		n := p.Neck
		if p.Shape != SwanNeck || n.Front != w.Above[0] || n.Rear != w.Above[0] || !n.Ordered || n.Behind || len(n.Fouls) > 0 {
			t.Errorf("%+v", n)
		}
		if n.Gap != []float64{5, 20}[i] {
			t.Errorf("keeps %v mm", n.Gap)
		}
		if w.Band > 0 && n.Width != w.Band {
			t.Errorf("%v mm wide", n.Width)
		}
	}
	if made == 0 {
		t.Error("no swan neck")
	}
}

type fails interface {
	Helper()
	Errorf(string, ...any)
}

// clearOf holds a swan neck to what it keeps clear of, on the car.
func clearOf(t fails, p *Proposal) {
	t.Helper()
	section, _ := p.Car.Wing.Outline()
	nearest := math.Inf(1)
	for _, i := range p.wanted() {
		r := &p.Table.Rows[i]
		poses := p.Car.PartPoses(r.Setting)
		plate := poses[1].ApplyAll(p.Plate().Outline)
		for a, b := range plane.Edges(section) {
			for k := range 8 {
				q := a.Add(b.Sub(a).Times(float64(k) / 8))
				mm, in := plane.EdgeDistance(plate, r.Pose.Apply(q))
				if in {
					t.Errorf("%s: %v of the section is in the upright", p.Table.Name(r.Setting), q)
				}
				nearest = min(nearest, mm)
				if down := q.Sub(plane.Point{Z: p.Neck.Below - p.Neck.Gap}); p.Neck.Below > p.Neck.Gap && q.Z <= 0 && plane.Inside(plate, r.Pose.Apply(down)) {
					t.Errorf("%s: %v, said to be free below the wing, is in the upright", p.Table.Name(r.Setting), down)
				}
			}
		}
		for _, h := range p.Plate().Holes {
			if mm, in := plane.EdgeDistance(p.Plate().Outline, h.At()); !in || mm < 1.2*h.D-0.02 {
				t.Errorf("hole %s is %.2f mm from the edge", h.ID, mm)
			}
		}
	}
	if nearest < p.Neck.Gap-0.02 || math.Abs(nearest-p.Neck.Nearest) > 1.5 {
		t.Errorf("%.2f mm at the nearest, said %.2f, wanted %.2f", nearest, p.Neck.Nearest, p.Neck.Gap)
	}
}

// TestSwanNeckBehind: a foot that is behind the wing is reached round its trailing edge.
func TestSwanNeckBehind(t *testing.T) {
	p, _, err := hung(t, Wish{Above: []float64{80}, NeckGap: 8, Behind: given.Is(40)}, 0, 10)
	if err != nil || p == nil {
		t.Fatal(err)
	}
	if !p.Neck.Behind {
		t.Errorf("%+v", p.Neck)
	}
	clearOf(t, p)
}

// TestSwanNeckAtRandom (with NECKS=200 -rapid.checks=200 as many) draws mounts, gaps and angles.
func TestSwanNeckAtRandom(t *testing.T) {
	count, drawn, made := 1, 0, 0
	if n, err := strconv.Atoi(os.Getenv("NECKS")); err == nil {
		count = n
	}
	rapid.Check(t, func(rt *rapid.T) {
		if drawn++; drawn > count {
			return
		}
		w := Wish{Above: []float64{rapid.Float64Range(50, 110).Draw(rt, "above")}, NeckGap: rapid.Float64Range(3, 18).Draw(rt, "gap"),
			Band: rapid.Float64Range(30, 80).Draw(rt, "band"), Behind: given.Is(rapid.Float64Range(260, 460).Draw(rt, "behind"))}
		p, _, err := hung(t, w, 0, rapid.Float64Range(9, 10).Draw(rt, "angle"))
		if no := (*noNeck)(nil); err != nil && !errors.As(err, &no) {
			rt.Fatal(err)
		}
		if p != nil && err == nil {
			made++
			clearOf(rt, p)
		}
	})
	t.Logf("%d of %d drawn", made, min(drawn, count))
}

// TestMountsTooLow: with the bolts of the demo wing, 16 mm above its chord line, there is no room for a hole; with
// mounts as high as is said to be enough, the same holes do.
func TestMountsTooLow(t *testing.T) {
	_, _, err := hung(t, Wish{}, 0, 10)
	var no *noNeck
	if !errors.As(err, &no) || no.above < 40 || no.above > 80 || math.Mod(no.above, 5) != 0 {
		t.Fatalf("%+v", err)
	}
	if p, _, err := hung(t, Wish{Above: []float64{no.above}}, 0, 10); p == nil || err != nil {
		t.Errorf("with %v mm: %v", no.above, err)
	}
	d := Designed{Why: NotListed}
	for _, e := range []error{&noNeck{}, &noNeck{70}, &noNeck{55}, &noNeck{}, &noNeck{60}} {
		if !d.tooLow(e) {
			t.Error("not taken")
		}
	}
	if d.tooLow(errors.New("another")) || d.Why != LowMounts || d.Mounts != 55 {
		t.Errorf("%+v", d)
	}
}

// TestMountsOfTheFrame: both bolts 70 mm above the chord line; the quarter chord is then 70 mm below the front one, and as far behind it as
// before.
func TestMountsOfTheFrame(t *testing.T) {
	f, err := newFrame(modeltest.Car(t, "coupe"), Wish{Heights: []float64{1260}, HeightWithin: 10, Step: 3 * plane.Deg})
	if err != nil {
		t.Fatal(err)
	}
	g := f.withMounts(70)
	if g.front.X != f.front.X || g.front.Z != 70 || g.along != (plane.Point{X: 1}) || g.quarter.Z != -70 || math.Abs(g.quarter.X-(280/4-62)) > 1e-9 {
		t.Errorf("%+v", g)
	}
	if f.front.Z == 70 {
		t.Error("the frame it is made from is another")
	}
}

// TestNeckWish: bounds, and what is kept of the wing where nothing is said.
func TestNeckWish(t *testing.T) {
	for _, c := range []struct {
		w    Wish
		want error
	}{
		{Wish{}, nil}, {Wish{NeckGap: 3, Above: []float64{1, 400}}, nil},
		{Wish{NeckGap: 2.9}, &Fault{BadNeckGap}}, {Wish{NeckGap: 101}, &Fault{BadNeckGap}}, {Wish{NeckGap: math.NaN()}, &Fault{BadNeckGap}},
		{Wish{Above: []float64{50, 401}}, &Fault{BadAbove}}, {Wish{Above: []float64{0}}, &Fault{BadAbove}},
	} {
		got := c.w.checkNeck()
		if (got == nil) != (c.want == nil) || got != nil && got.(*Fault).What != c.want.(*Fault).What {
			t.Errorf("%+v: %v, want %v", c.w, got, c.want)
		}
	}
	limited := &model.Car{}
	if g := (&Wish{}).gap(limited); g != NeckGap {
		t.Errorf("%v mm without limits", g)
	}
	limited.Limits.Gap = given.Is(22)
	if g := (&Wish{}).gap(limited); g != 22 {
		t.Errorf("%v mm with a limit of 22", g)
	}
	if g := (&Wish{NeckGap: 7}).gap(limited); g != 7 {
		t.Errorf("%v mm with 7 asked for", g)
	}
}

// TestWithFlap: a Gurney flap of 12 mm stands above the trailing edge, on a section whichever way round it is listed.
func TestWithFlap(t *testing.T) {
	w := modeltest.Car(t, "coupe").Wing
	w.Shape = slices.Clone(w.Shape)
	plain, _ := w.Outline()
	top := func(section []plane.Point) (z float64) {
		for _, p := range section {
			if p.X > w.Chord-2 {
				z = max(z, p.Z)
			}
		}
		return z
	}
	for range 2 {
		slices.Reverse(w.Shape)
		section, drawn := withFlap(w.WithGurney(12))
		if at, crosses := plane.Knot(section); crosses || !drawn || math.Abs(top(section)-12) > 0.5 {
			t.Errorf("crosses at %v: %v; %v mm high at the trailing edge, drawn %v", at, crosses, top(section), drawn)
		}
		if without, _ := withFlap(w); len(without) != len(plain) || top(without) > 0.5 {
			t.Errorf("a flap where there is none, %v mm high", top(without))
		}
	}
}

// TestTwistIsSwept: a wing without twist stands once for each setting, one with 3° at the tips three times, the last turned by 3° about its quarter chord.
func TestTwistIsSwept(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	p := Proposal{Car: table.Car, Table: table}
	plain := p.posesOfWing([]int{3})
	car := *table.Car
	car.Wing.Twist = 3 * plane.Deg
	p.Car = &car
	twisted := p.posesOfWing([]int{3})
	if len(plain) != 1 || len(twisted) != 3 || plain[0] != twisted[0] {
		t.Fatalf("%v, with twist %v", plain, twisted)
	}
	q := car.Wing.QuarterChord()
	if turn := plane.Wrap(twisted[2].Turn - plain[0].Turn); math.Abs(turn-3*plane.Deg) > 1e-9 || twisted[2].Apply(q).Distance(plain[0].Apply(q)) > 1e-9 {
		t.Errorf("turned by %v°", turn/plane.Deg)
	}
}
