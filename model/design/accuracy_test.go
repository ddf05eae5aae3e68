package design

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// lever is a plate of two holes 100 mm apart at either end, between a bracket and a wing with two such holes.
func lever(t *testing.T, d float64) *Proposal {
	pair := func(name string) holes.Part {
		return holes.Part{Name: name, Holes: []holes.Hole{{ID: name + "1", D: d}, {ID: name + "2", X: 100, D: d}}}
	}
	car := modeltest.Plain(t)
	plate := holes.Part{Name: "plate", Holes: []holes.Hole{{ID: "a", D: d, Joint: "foot"}, {ID: "b", X: 100, D: d, Joint: "foot"},
		{ID: "c", Z: 300, D: d, Joint: "head"}, {ID: "d", X: 100, Z: 300, D: d, Joint: "head"}}}
	car.Parts = []model.Part{{Part: pair("p")}, {Part: plate}, {Part: pair("w")}}
	for _, name := range []string{"foot", "head"} {
		car.Joints = append(car.Joints, model.Joint{Joint: holes.Joint{Name: name, Shank: 8, MinBolts: 2, MaxTurn: 0.1}, Bolt: "M8"})
	}
	table := modeltest.TableOf(t, car)
	return &Proposal{Car: car, Table: table, Levels: []Level{{Rows: []int{0}}}}
}

// TestAccuracyByHand: two holes 100 mm apart, each off by e in any direction, are off along their span by a sum of two cosines and turn by their difference across
// it over 100 mm: a standard uncertainty of e √½ √2 / 100 = e/100 at a joint, √2 e/100 at two. Bolts have 2 · 0.4 mm of clearance against 2 e at the
// most: with e = 0.39 mm they always go in, with 1 mm not always, and 2 · 0.6 mm more would see to it.
func TestAccuracyByHand(t *testing.T) {
	p := lever(t, 8.4)
	a := p.Accuracy(0.39)
	if a.Fit != 1 || a.Saves.Or(-1) != 0 {
		t.Errorf("0.39 mm off: %+v", a)
	}
	if want := math.Sqrt2 * 0.39 / 100; math.Abs(a.Angle/want-1) > 0.08 || math.Abs(a.Apart-math.Sqrt2*a.Angle) > 1e-12 {
		t.Errorf("angle ±%.4f°, want %.4f°", a.Angle/plane.Deg, want/plane.Deg)
	}
	// Off along the span by cos a - cos b, a and b in any direction: it is within 0.8 with a probability that is worked out on a grid.
	within, n := 0, 2000
	for i := range n {
		for k := range n {
			if math.Abs(math.Cos(2*math.Pi*float64(i)/float64(n))-math.Cos(2*math.Pi*(float64(k)+0.5)/float64(n))) <= 0.8 {
				within++
			}
		}
	}
	joint := float64(within) / float64(n*n)
	if a = p.Accuracy(1); math.Abs(a.Fit-joint*joint) > 0.07 || a.Row != 0 || a.Least != a.Fit {
		t.Errorf("1 mm off: %+v, want %.3f", a, joint*joint)
	}
	// A bracket that is drilled too is off as much at the foot, where the turn is √2 as large: (2 + 1)½ e / 100 in all. Bolts at the foot then have 0.8 mm
	// against the sum of four cosines, and 2 w more with both parts' holes wider.
	p.Bracket = 2
	within, n = 0, 40
	cos := func(i int, off float64) float64 { return math.Cos(2 * math.Pi * (float64(i) + off) / float64(n)) }
	for i := range n * n {
		for k := range n * n {
			if math.Abs(cos(i/n, 0)-cos(i%n, 0.2)+cos(k/n, 0.4)-cos(k%n, 0.6)) <= 0.8 {
				within++
			}
		}
	}
	both := float64(within) / float64(n*n*n*n)
	b := p.Accuracy(1)
	if math.Abs(b.Fit-both*joint) > 0.07 || b.Saves.Or(99) > 1.6 {
		t.Errorf("bracket 1 mm off too: %+v, want %.3f", b, both*joint)
	}
	if b.Angle/a.Angle < 1.1 || b.Angle/a.Angle > 1.35 { // (3/2)½ = 1.22
		t.Errorf("bracket off too: angle ±%.4f°, without ±%.4f°", b.Angle/plane.Deg, a.Angle/plane.Deg)
	}
	if saves := a.Saves.Or(-1); saves < 0.8 || saves > 1.3 { // 2 mm of a span is the most that it can be off: 1.2 mm wider see to it
		t.Errorf("1 mm off: %v mm wider", saves)
	}
}
