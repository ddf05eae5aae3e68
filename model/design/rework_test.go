package design

import (
	"context"
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

// reworkable is a proposal for three angles at one height.
func reworkable(t *testing.T) (*Proposal, *Wish) {
	t.Helper()
	if reworked.p == nil {
		d, err := design(context.Background(), modeltest.Car(t, "coupe"), Wish{Heights: []float64{1250}, HeightWithin: 10, High: 10 * plane.Deg, Step: 5 * plane.Deg, EndWithin: 0.5 * plane.Deg,
			BehindWithin: 20}, effort{60, 1}, nil)
		if err != nil || len(d.Proposals) == 0 {
			t.Fatal(err, "no proposals")
		}
		reworked.p, reworked.w = &d.Proposals[0], &d.Wish
	}
	return reworked.p, reworked.w
}

var reworked struct {
	p *Proposal
	w *Wish
}

// TestDrawnAsItIs: with the holes as they are, a proposal stays what it is.
func TestDrawnAsItIs(t *testing.T) {
	p, w := reworkable(t)
	q, err := p.Drawn(w, p.Plate().Holes, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !q.Given() || math.Abs(q.Area-p.Area) > 1 || math.Abs(q.Arm-p.Arm) > 0.2 || math.Abs(q.Slot-p.Slot) > 0.1 || math.Abs(q.Hang-p.Hang) > 0.2 || q.Widest != p.Widest || q.Shape != p.Shape {
		t.Errorf("area %v arm %v slot %v hang %v widest %v, were %v %v %v %v %v", q.Area, q.Arm, q.Slot, q.Hang, q.Widest, p.Area, p.Arm, p.Slot, p.Hang, p.Widest)
	}
	for _, c := range q.Against(p) {
		for _, a := range c.Angles {
			if a.Before != a.After {
				t.Errorf("%v became %v", a.Before, a.After)
			}
		}
	}
	if _, err := p.Drawn(w, p.Plate().Holes[1:], nil); err == nil {
		t.Error("a hole less is taken")
	}
}

// TestMovedByHand moves a rear hole square to the line to a front hole: with the bolts 150 mm apart, 1 mm turns the wing by 1/150 rad, 0.382°. Moved
// along that line by more than the bolts' clearance the pair no longer goes in.
func TestMovedByHand(t *testing.T) {
	p, w := reworkable(t)
	plate := p.Plate()
	r := &p.Table.Rows[p.Levels[0].Rows[0]]
	var front, rear int
	for _, q := range r.Fits[1].Pairs {
		if p.RoleOf(q.Lower) == AtFront {
			front = q.Lower
		} else {
			rear = q.Lower
		}
	}
	along := plate.Holes[rear].At().Sub(plate.Holes[front].At())
	along = along.Times(1 / along.Length())
	moved := func(by plane.Point) *Proposal {
		hs := slices.Clone(plate.Holes)
		hs[rear].X, hs[rear].Z = hs[rear].X+by.X, hs[rear].Z+by.Z
		q, err := p.Drawn(w, hs, nil)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	up := moved(plane.Point{X: -along.Z, Z: along.X})
	k, ok := up.Table.Index(r.ID)
	if !ok {
		t.Fatal("the setting is lost")
	}
	if by := (up.Table.Rows[k].Angle - r.Angle) / plane.Deg; math.Abs(by-0.382) > 0.02 {
		t.Errorf("turned by %.3f°, want 0.382°", by)
	}
	off := moved(along.Times(3))
	lost := 0
	for _, c := range off.Against(p) {
		for _, a := range c.Angles {
			if !a.After.Known() {
				lost++
			}
		}
	}
	if lost == 0 || off.Given() {
		t.Errorf("3 mm along: %d angles lost, given: %v", lost, off.Given())
	}
	if p.Plate().Holes[rear] == off.Plate().Holes[rear] || !p.Given() {
		t.Error("the proposal itself is changed")
	}
}

// TestEdgeByHand: an outline 30 mm from one hole is 30 mm from it, and as far from the others as it was at least.
func TestEdgeByHand(t *testing.T) {
	p, w := reworkable(t)
	id := p.Plate().Holes[0].ID
	q, err := p.Drawn(w, p.Plate().Holes, map[string]float64{id: 30})
	if err != nil {
		t.Fatal(err)
	}
	if e, metal := q.Plate().EdgeDistance(q.Plate().Holes[0].At()); !metal || math.Abs(e-30) > 0.3 || q.EdgeOf(q.Plate().Holes[0]) != 30 {
		t.Errorf("%v mm from the edge, want 30", e)
	}
	if q.Area <= p.Area {
		t.Errorf("area %v, was %v", q.Area, p.Area)
	}
	small, err := p.Drawn(w, p.Plate().Holes, map[string]float64{id: 1})
	if err != nil {
		t.Fatal(err)
	}
	// 8.4/2 and 2 mm of metal.
	if e, metal := small.Plate().EdgeDistance(p.Plate().Holes[0].At()); !metal || math.Abs(e-6.2) > 0.3 {
		t.Errorf("%v mm from the edge, want 6.2", e)
	}
}

// TestWithFurtherHoles puts one more rear hole on the arc about a front hole, halfway between two angles: one more setting, and it is a rear one.
func TestWithFurtherHoles(t *testing.T) {
	p, w := reworkable(t)
	front := p.Plate().Holes[p.Foot].At()
	at := front.Add(plane.Pose{Turn: 8 * plane.Deg}.Apply(plane.Point{X: p.Pitch}))
	q, err := p.With(w, []holes.Hole{{ID: "N1", X: at.X, Z: at.Z, D: 8.4, Joint: "head"}})
	if err != nil {
		t.Fatal(err)
	}
	n := slices.IndexFunc(q.Plate().Holes, func(h holes.Hole) bool { return h.ID == "N1" })
	if q.Rears != p.Rears+1 || q.RoleOf(n) != AtRear || q.Foot != p.Foot || len(q.Table.Rows) <= len(p.Table.Rows) {
		t.Errorf("%d rear holes of %d, %d settings of %d", q.Rears, p.Rears, len(q.Table.Rows), len(p.Table.Rows))
	}
}
