package design

import (
	"context"
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/outline"
)

// byHand is a plate on the widest foot with one front hole and a rear hole for each angle, in degrees.
func byHand(t *testing.T, c *model.Car, w Wish, angles ...float64) (Proposal, *Wish) {
	t.Helper()
	w.Heights, w.HeightWithin, w.Step, w.EndWithin = []float64{1240}, 10, 8*plane.Deg, plane.Deg
	f, err := newFrame(c, w)
	if err != nil {
		t.Fatal(err)
	}
	foot := standsUpright(t, f)[0]
	lo, hi, err := f.foreAndAft(context.Background(), foot)
	if err != nil {
		t.Fatal(err)
	}
	x := (lo + hi) / 2
	front := plane.Point{X: x, Z: (1240 - f.heightOf(plane.Point{X: x}, w.Low)) / math.Cos(f.lean())}
	p := pattern{f, foot, head{fronts: []plane.Point{front}}}
	for _, a := range angles {
		p.head.rears = append(p.head.rears, f.rearOf(front, a*plane.Deg))
	}
	one, err := p.proposal(&f.wish)
	if err != nil || one == nil {
		t.Fatal("no plate", err)
	}
	return *one, &f.wish
}

// overTheLid is a plate for a wing so far forward that a convex one stops the boot lid on its way to 20°.
func overTheLid(t *testing.T) (Proposal, *Wish) {
	c := *modeltest.Car(t, "coupe")
	c.Limits.LidOpening = given.Is(20 * plane.Deg)
	return byHand(t, &c, Wish{High: 8 * plane.Deg, Behind: given.Is(250), BehindWithin: 15}, 0, 8)
}

// convex is a proposal with the convex outline of its holes.
func convex(t *testing.T, p Proposal, w *Wish) Proposal {
	t.Helper()
	if err := p.take(w, outline.Convex(around(p.Plate().Holes))); err != nil {
		t.Fatal(err)
	}
	return p
}

// TestCrankedRoundTheLid: the plate proposed is cranked, and the engine finds no setting that comes too near or stops the lid; with the convex outline
// of the same holes it is in the way.
func TestCrankedRoundTheLid(t *testing.T) {
	p, w := overTheLid(t)
	if p.Shape != Cranked || len(p.Around) != 1 || p.Around[0] != "lid" || p.breaking() != 0 {
		t.Errorf("%s round %v, %d settings break a limit", p.Shape.Key(), p.Around, p.breaking())
	}
	hull := convex(t, p, w)
	if n := hull.inTheWay(); n == 0 {
		t.Error("the convex plate is not in the way")
	}
	if area, _ := hull.Plate().Area(); p.Area >= area {
		t.Errorf("%.0f mm² cranked, %.0f convex", p.Area, area)
	}
	gives(t, &p, *w)
}

// TestRaisedLidIsKeptOut: a lid that is slotted, or that the car has not, bars nothing; on its way to 20° it is looked at 11 times for each pose.
func TestRaisedLidIsKeptOut(t *testing.T) {
	p, _ := overTheLid(t)
	car := *p.Car
	table := *p.Table
	p.Table, table.Car = &table, &car // is changed below
	c := &car
	b := barredBy(p.Table, p.wanted())
	if len(b.shut) == 0 || len(b.lid) != 11*len(b.shut) || len(b.body) != 0 {
		t.Errorf("kept out of %d places of the lid, %d shut, %d bodies", len(b.lid), len(b.shut), len(b.body))
	}
	pose := c.PartPoses(p.Table.Rows[p.wanted()[0]].Setting)[1]
	lid := c.Surroundings().Lid
	for i, k := range b.lid[:11] {
		want := lid.Opened(float64(i) * 2 * plane.Deg)
		for n, q := range k.Polygon {
			if pose.Apply(q).Distance(want[n]) > 1e-6 {
				t.Errorf("opened by %d°, corner %d is at %v on the car, want %v", 2*i, n, pose.Apply(q), want[n])
			}
		}
		if math.Abs(k.Away-15-spare) > 1e-9 {
			t.Errorf("kept %v mm away, want the gap of 15 mm", k.Away)
		}
	}
	p.Table.Car.Lid.Slotted = true
	if b := barredBy(p.Table, p.wanted()); len(b.lid) != 0 {
		t.Error("a slotted lid bars the plate")
	}
	// The body bars a plate whose holes are all clear of it, and no other.
	lo, _ := plane.Box(p.Plate().Outline)
	low := pose.Apply(lo)
	for _, above := range []float64{-100, 100} {
		table.Car.Body = []plane.Point{{X: low.X - 500, Z: low.Z - 600}, {X: low.X + 500, Z: low.Z - 600}, {X: low.X + 500, Z: low.Z + above}, {X: low.X - 500, Z: low.Z + above}}
		if got := len(barredBy(p.Table, p.wanted()).body) > 0; got != (above < 0) {
			t.Errorf("a body up to %v mm above the plate's lower end: barred %v", above, got)
		}
	}
}

// TestSlim: bands instead of the whole plate, clear of the lid, lighter, with the same settings.
func TestSlim(t *testing.T) {
	cranked, wish := overTheLid(t)
	w := *wish
	w.Slim, w.Band = true, 50
	p := convex(t, cranked, &w)
	hull, _ := p.Plate().Area()
	if err := w.shaped(&p); err != nil {
		t.Fatal(err)
	}
	if area, _ := p.Plate().Area(); p.Shape != Slim || p.inTheWay() != 0 || area > 0.75*hull {
		t.Errorf("%s, %.0f mm² of the hull's %.0f, %d times in the way", p.Shape.Key(), area, hull, p.inTheWay())
	}
	gives(t, &p, w)
	w.Band = 5
	if _, err := Design(context.Background(), modeltest.Car(t, "coupe"), w, nil); err == nil || err.(*Fault).What != BadBand {
		t.Error(err)
	}
}
