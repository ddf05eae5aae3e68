package model

import (
	"math"
	"testing"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// strut is a car with one plate, 60 by 400 mm and 8 mm thick, that stands at x 400 and z 900 mm
// through a body whose deck lies at 1000 mm, and a wing on its top.
func strut() (*Car, *holes.Setting) {
	box := func(x0, z0, x1, z1 float64) []plane.Point {
		return []plane.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}
	}
	c := &Car{
		Parts:  []Part{{Thickness: given.Is(8), Outline: box(0, 0, 60, 400)}, {}},
		Joints: make([]Joint, 1), Fixed: plane.Pose{X: 400, Z: 900}, Body: box(-500, 300, 600, 1000),
		Wing:     Wing{Span: 1400, Chord: 250},
		TrackFit: NoFit(),
	}
	return c, &holes.Setting{Pose: plane.Pose{X: -50, Z: 380}, Fits: []*holes.Fit{{Pose: plane.Pose{X: -50, Z: 380}}}}
}

// By hand: 300 mm of two plates stand above the deck: 0.9 · 2 · 8 · 300 mm² = 0.00432 m², and the
// friction of their four sides 0.00447 · 4 · 60 · 300 mm² = 0.00032 m², in their middle at 1150 mm.
// From below they take 2 · 2 · 0.9 · 8/1400 = 2.06 % of the lift, hung from above a fifth of that.
func TestUprightsByHand(t *testing.T) {
	c, s := strut()
	got := c.PositionOf(s).Struts
	if !got.Known || !got.FromBelow || math.Abs(got.DragArea-0.004642) > 2e-6 || math.Abs(got.Middle-1150) > 1e-9 || math.Abs(got.LostLift-0.020571) > 1e-6 {
		t.Errorf("%+v", got)
	}
	if d := got.strutsDrag(1000, deviation{struts: 0.5}); math.Abs(d-1.5*4.642) > 0.01 {
		t.Errorf("at 1000 Pa and half more: %.3f N", d)
	}
	if k := got.kept(deviation{wake: 1}); math.Abs(k-(1-2*0.020571)) > 1e-5 {
		t.Errorf("with twice the wake %.5f of the lift is kept", k)
	}
	// Hung: the wing below the plate's foot, so that no plate is under it.
	s.Fits[0].Pose.Z, s.Pose.Z = -30, -30
	if hung := c.PositionOf(s).Struts; hung.FromBelow || math.Abs(hung.LostLift-0.020571*0.2) > 1e-6 {
		t.Errorf("hung from above: %+v", hung)
	}
	c.Wing.Table = new(aero.Curve)
	if table := c.PositionOf(s).Struts; table.LostLift != 0 || table.DragArea == 0 {
		t.Errorf("with the whole wing's table: %+v", table)
	}
	c.Body = nil
	if whole := c.PositionOf(s).Struts; math.Abs(whole.DragArea-0.004642*4/3) > 3e-6 {
		t.Errorf("without a body the whole plate counts: %.6f m²", whole.DragArea)
	}
	c.Parts[0].Outline = nil
	if none := c.PositionOf(s).Struts; none.Known || !math.IsNaN(none.strutsDrag(1000, deviation{})) {
		t.Errorf("without an outline: %+v", none)
	}
}

// The drag of the uprights is in the wing's drag on the car and loads the axles at its own height:
// by hand, 10 N at 1150 mm on a wheelbase of 2500 mm take 4.6 N from the front and give them to the rear.
func TestUprightsOnTheAxles(t *testing.T) {
	table := plainTable(t, 5)
	bare := table.Rows[0]
	p := *bare.Position
	q := table.Density / 2 * 0.95 * 45 * 0.95 * 45
	p.Struts = Struts{Known: true, DragArea: 10 / q, Middle: 1150}
	with := table.RowAt(&p)
	for what, pair := range map[string][2]float64{
		"drag": {with.Drag - bare.Drag, 10}, "own drag": {with.OwnDrag - bare.OwnDrag, 0}, "uprights": {with.StrutsDrag, 10},
		"front": {with.Change.Front - bare.Change.Front, -4.6}, "rear": {with.Change.Rear - bare.Change.Rear, 4.6}, "CL": {with.CL, bare.CL},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-9 {
			t.Errorf("%s: %.4f, want %.4f", what, pair[0], pair[1])
		}
	}
	// In their wake a tenth of the lift is lost, but not from what plates and bolts must bear, nor
	// from a downforce that was fitted on track.
	p.Struts.LostLift = 0.1
	if lost := table.RowAt(&p); math.Abs(lost.CL-0.9*bare.CL) > 1e-12 {
		t.Errorf("CL %.4f of %.4f", lost.CL, bare.CL)
	}
	for what, change := range map[string]func(c *Car){
		"loads": func(c *Car) { c.Loads = true }, "fit": func(c *Car) { c.TrackFit.Downforce = Scale{1, 0.1} },
	} {
		car, kept := *table.Car, *table
		change(&car)
		kept.Car = &car
		if r := kept.RowAt(&p); math.Abs(r.CL-bare.CL) > 1e-12 {
			t.Errorf("%s: CL %.4f of %.4f", what, r.CL, bare.CL)
		}
	}
}

// The figures stand in the middle of the two ends: by hand, of a lift on the body of 0 and 0.3 of the
// downforce and a rise of 0 and 0.1, 400 N become 420 N, 63 N of which are drawn out of the deck: 357 N
// on the car. A nose-up moment of −0.06 m over the downforce, in the middle −0.03 m, gives front load.
func TestDeckByHand(t *testing.T) {
	table := plainTable(t, 5)
	bare := table.Rows[0]
	p := *bare.Position
	p.Deck = DeckEffect{Known: true, High: DeckEnd{Lift: 0.3, NoseUp: -0.06, Rise: 0.1}}
	r := table.RowAt(&p)
	down := bare.Downforce * 1.05
	if math.Abs(r.Downforce/down-1) > 1e-3 || math.Abs(r.DeckLift-0.15*r.Downforce) > 1e-9 || math.Abs(r.OnCar-0.85*r.Downforce) > 1e-9 {
		t.Errorf("downforce %.2f, lift on the body %.2f, on the car %.2f N; alone %.2f", r.Downforce, r.DeckLift, r.OnCar, bare.Downforce)
	}
	if sum := r.Change.Front + r.Change.Rear; math.Abs(sum-r.OnCar) > 1e-9 {
		t.Errorf("the axles take %.3f N of %.3f", sum, r.OnCar)
	}
	without := WingOnAxles(r.Downforce, r.Drag, -0, p.X*mm, p.Height*mm, table.Car.Wheelbase*mm)
	moment := WingOnAxles(0, 0, -table.Pitching(r), 0, 0, table.Car.Wheelbase*mm)
	if front := without.Front + moment.Front + 0.03*r.Downforce/2.5; math.Abs(r.Change.Front-front) > 1e-9 {
		t.Errorf("front %.4f N, want %.4f", r.Change.Front, front)
	}
	found := false
	for _, part := range table.Budget(r).Parts {
		if part.What == FromDeck {
			found = true
			// The downforce that it is a part of rises with it: 0.1 of the half that counts.
			if want := 0.3 * r.Downforce / math.Sqrt(12) * (1 + 0.05/1.05); math.Abs(math.Abs(part.DeckLift)/want-1) > 0.01 {
				t.Errorf("lift on the body ± %.2f N, want %.2f", part.DeckLift, want)
			}
		}
	}
	if !found {
		t.Error("the body is in no budget")
	}
	car, fitted := *table.Car, *table
	car.TrackFit.Downforce = Scale{1, 0.1}
	fitted.Car = &car
	if f := fitted.RowAt(&p); !math.IsNaN(f.DeckLift) || f.OnCar != f.Downforce || fitted.DeckKnown(f) {
		t.Errorf("with a fit: %.2f N on the body, %.2f on the car of %.2f", f.DeckLift, f.OnCar, f.Downforce)
	}
	car.TrackFit.Downforce, car.Loads = NoScale(), true
	// The curve is straight there, and 1° short of the stall it is not: it stalls 0.1/1.1 of the way
	// from zero lift at −5° to 17° sooner, at 15°.
	if l := fitted.RowAt(&p); math.Abs(l.CL-1.1*bare.CL) > 1e-9 || math.Abs(fitted.StallAt(&p)/plane.Deg-15) > 0.05 {
		t.Errorf("for loads CL %.4f of %.4f", l.CL, bare.CL)
	}
}
