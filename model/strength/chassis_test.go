package strength

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/fastener"
)

// By hand: the demo's bracket on two chassis bolts 60 mm apart and 60 mm below its origin. What the
// bracket pushes the car with is the foot joint's load and its own weight; their shares add up to it, and
// the moment about their middle is that of statics.
func TestChassisBoltsByHand(t *testing.T) {
	f := frame(t, "coupe")
	car := *f.Car
	car.Parts = append([]model.Part(nil), car.Parts...)
	p := &car.Parts[0]
	p.Holes = append(append([]holes.Hole(nil), p.Holes...), holes.Hole{ID: "c1", X: 0, Z: -60, D: 10.5, Joint: model.ChassisJoint},
		holes.Hole{ID: "c2", X: 60, Z: -60, D: 10.5, Joint: model.ChassisJoint})
	car.Chassis = model.Chassis{Bolt: "M10", Grade: "8.8", Shank: 10}
	g, err := New(&car)
	if err != nil {
		t.Fatal(err)
	}
	st := g.stance(&g.Table.Rows[5])
	_, bodies := g.bodies(st, cases[0])
	b, ok := g.onChassis(st, cases[0], bodies)
	if !ok || len(b.Bolts) != 2 {
		t.Fatalf("%v, %d bolts", ok, len(b.Bolts))
	}
	foot := bodies[len(bodies)-1]
	weight := p.Thickness.Value() * 7850e-9 * g.plates[0].area * 9.80665 * 1.5 // kg/mm³ of steel
	if math.Abs(-b.Up-(-foot.Up+3*weight)) > 1e-6 {
		t.Errorf("down %.3f N, by hand %.3f", -b.Up, -foot.Up+3*weight)
	}
	var rear, up, turn float64
	at := b.centre()
	for _, k := range b.Bolts {
		rear, up = rear+k.Rear, up+k.Up
		turn += (k.At.X-at.X)*k.Up - (k.At.Z-at.Z)*k.Rear
	}
	if math.Abs(rear-b.Rear) > 1e-6 || math.Abs(up-b.Up) > 1e-6 || math.Abs(turn-b.Turn) > 1e-3 {
		t.Errorf("bolts bear %.2f, %.2f, %.1f of %.2f, %.2f, %.1f", rear, up, turn, b.Rear, b.Up, b.Turn)
	}
	r, err := g.Solve(t.Context(), &g.Table.Rows[5])
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, c := range r.Checks {
		if c.Joint == model.ChassisJoint && c.What == "bolt shear" {
			n++
		}
	}
	if n != 2 || len(r.Open) > 0 {
		t.Errorf("%d chassis bolts are checked, open %v", n, r.Open)
	}
	car.Chassis.Grade = ""
	if g, err = New(&car); err != nil || len(g.Open) == 0 {
		t.Errorf("without a grade nothing is open: %v", err)
	}
}

// A tapped hole by hand: M8 engaged 8 mm in 6082-T6 of 300 MPa; γM2 1.25.
func TestTappedHole(t *testing.T) {
	f := frame(t, "coupe")
	car := *f.Car
	car.Parts = append([]model.Part(nil), car.Parts...)
	car.Joints = append([]model.Joint(nil), car.Joints...)
	car.Joints[1].Nut = model.TappedHole
	g, err := New(&car)
	if err != nil {
		t.Fatal(err)
	}
	r, err := g.Of(&g.Table.Rows[5])
	if err != nil {
		t.Fatal(err)
	}
	m8, _ := fastener.Lookup("M8")
	for _, c := range r.Checks {
		if c.What == "thread in the tapped hole" {
			if want := fastener.Stripping(m8, 8, 300) / 1.25; math.Abs(c.Capacity-want) > 1e-6 || c.Joint != "head" {
				t.Errorf("%s: %.1f N, want %.1f", c.Joint, c.Capacity, want)
			}
			return
		}
	}
	t.Error("it is not checked")
}
