package strength

import (
	"math"
	"testing"

	"stanchion/model"
	"stanchion/model/fem"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// Plates that differ in nothing are solved once for all analyses; what differs in thickness, in metal or in a hole,
// however little, is a plate of its own, and so is what stands on another support.
func TestResponsesAreOfTheirPlate(t *testing.T) {
	const upright = 1
	ask := func(change func(*model.Car)) (*Analysis, stance) {
		c := modeltest.Car(t, "coupe")
		change(c)
		f, err := Single(c)
		if err != nil {
			t.Fatal(err)
		}
		p, err := c.Positions()
		if err != nil {
			t.Fatal(err)
		}
		return f, f.stance(f.Table.RowAt(&p[5]))
	}
	respond := func(f *Analysis, st stance) *fem.Response {
		r, err := f.respond(t.Context(), st, upright)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	f, st := ask(func(*model.Car) {})
	key, plain := f.question(st, upright).key(), respond(f, st)
	if plain != respond(ask(func(c *model.Car) { c.Wing.Mass = given.Is(9) })) {
		t.Error("a heavier wing has the plate solved again")
	}
	for what, change := range map[string]func(*model.Car){
		"thickness":       func(c *model.Car) { c.Parts[1].Thickness = given.Is(math.Nextafter(c.Parts[1].Thickness.Value(), 99)) },
		"a free hole":     func(c *model.Car) { c.Parts[1].Holes[len(c.Parts[1].Holes)-1].D += 1e-9 },
		"a corner":        func(c *model.Car) { c.Parts[1].Outline[0].X += 1e-9 },
		"the plate below": func(c *model.Car) { c.Parts[0].Thickness = given.Is(c.Parts[0].Thickness.Value() + 1) },
		"the material":    func(c *model.Car) { c.Parts[1].Material = "S235" },
		"the bolts' size": func(c *model.Car) { c.Joints[0].Bolt = "M6" },
	} {
		if f, st := ask(change); f.question(st, upright).key() == key {
			t.Errorf("%s: taken for the plate as it was", what)
		}
	}
	f, st = ask(func(*model.Car) {})
	q := f.question(st, upright)
	q.head = append([]fem.Bolt(nil), q.head...)
	if q.head[0].Washer += 1e-9; q.key() == key || q.held() != f.question(st, upright).held() {
		t.Error("another washer at the head: not the same held plate with another head")
	}
}
