package deck

import (
	"fmt"
	"math"
	"testing"

	"stanchion/aero"
)

// Made-up cars: 1.24 m high, a deck at 0.95 m, 1.6 m wide; and a roof that goes on to the tail.
var (
	notchback  = []Point{{-3.5, 0.3}, {-3.4, 0.65}, {-2.4, 0.85}, {-1.7, 0.92}, {-1.1, 1.2}, {-0.6, 1.24}, {-0.3, 1.2}, {0.2, 0.95}, {0.75, 0.93}, {0.8, 0.5}}
	squareback = []Point{{-3.5, 0.3}, {-3.4, 0.65}, {-2.4, 0.85}, {-1.7, 0.92}, {-1.1, 1.2}, {-0.6, 1.24}, {0.6, 1.18}, {0.75, 0.5}}
	usual      = aero.Planform{Span: 1.5, Chord: 0.26}
)

func newDeck(t *testing.T, profile []Point) *Deck {
	t.Helper()
	if d, ok := made[&profile[0]]; ok {
		return d
	}
	d, err := New(Body{profile, 1.6})
	if err != nil {
		t.Fatal(err)
	}
	made[&profile[0]] = d
	return d
}

// made holds the decks that tests share.
var made = map[*Point]*Deck{}

func under(t *testing.T, d *Deck, p aero.Planform, at Place) Effect {
	t.Helper()
	e, err := d.Under(p, at)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Signs by hand: the air below a wing that lifts downwards is faster, so the deck is drawn
// up and, where it faces rearwards, back; a solid wall below raises the wing's slope; the
// lift of a deck behind the axle unloads the rear axle: nose down. All of it fades with height.
func TestSignsAndHeight(t *testing.T) {
	d := newDeck(t, notchback)
	last := Effect{Solid: Reaction{Lift: 1, Rise: 1}, Free: Reaction{Lift: 1, Rise: 1}}
	for _, h := range []float64{0.1, 0.2, 0.4, 1, 5} {
		e := under(t, d, usual, Place{0.4, 0.945 + h, 0})
		s, f := e.Solid, e.Free
		if !(s.Lift > 0 && s.Lift < last.Solid.Lift && f.Lift > 0 && f.Lift < last.Free.Lift && f.Lift < s.Lift) {
			t.Errorf("%g m above the deck: lift %.3f and %.3f, %.3f and %.3f lower down", h, s.Lift, f.Lift, last.Solid.Lift, last.Free.Lift)
		}
		if !(s.Rise > 0 && s.Rise < last.Solid.Rise && f.Rise < s.Rise) {
			t.Errorf("%g m above the deck: rise %.3f and %.3f, %.3f lower down", h, s.Rise, f.Rise, last.Solid.Rise)
		}
		if h < 4 && (s.Forward >= 0 || f.Forward >= 0) {
			t.Errorf("%g m above the deck: force %.3f and %.3f forwards; the window faces rearwards", h, s.Forward, f.Forward)
		}
		if h < 0.3 && (s.NoseUp >= 0 || f.NoseUp >= 0) {
			t.Errorf("%g m above the deck: nose-up moment %.3f and %.3f m", h, s.NoseUp, f.NoseUp)
		}
		last = e
	}
	if s, f := last.Solid, last.Free; s.Lift > 0.15 || f.Lift > 0.15 || math.Abs(s.Rise) > 0.01 || math.Abs(f.Rise) > 0.01 {
		t.Errorf("5 m above the deck: %.3f and %.3f, rise %.4f and %.4f; want nearly nothing", s.Lift, f.Lift, s.Rise, f.Rise)
	}
}

// What the panels find for these cars; a change of more than 0.02 in any is a change of the
// method. The source of the range: none published; see the package comment.
func TestCars(t *testing.T) {
	for _, row := range []struct {
		name                                string
		profile                             []Point
		at                                  Place
		solid, free, solidRise, freeRise, x float64
	}{
		{"notchback, half a chord up", notchback, Place{0.5, 1.07, 0}, 0.676, 0.557, 0.314, 0.254, 0.435},
		{"notchback, a chord up", notchback, Place{0.5, 1.2, 0}, 0.5, 0.35, 0.12, 0.07, 0.351},
		{"notchback, over the tail", notchback, Place{0.75, 1.2, 0}, 0.33, -0.03, 0.12, -0.1, 0.439},
		{"squareback, over the tail", squareback, Place{0.6, 1.45, 0}, 0.33, -0.03, 0.12, -0.1, 0.271},
	} {
		e := under(t, newDeck(t, row.profile), usual, row.at)
		near(t, row.name+": lift, solid wake", e.Solid.Lift, row.solid, 0.02)
		near(t, row.name+": lift, free wake", e.Free.Lift, row.free, 0.02)
		near(t, row.name+": rise, solid wake", e.Solid.Rise, row.solidRise, 0.02)
		near(t, row.name+": rise, free wake", e.Free.Rise, row.freeRise, 0.02)
		near(t, row.name+": lift at, m", at(e.Solid), row.x, 0.02)
	}
}

// Lengths and widths by 1.4 smaller.
func TestConvergence(t *testing.T) {
	top := simplified(upperSide(notchback), 0.001)
	top = top[:len(top)-1]
	m := standard(top, 1.6)
	coarse, err := build(top, 1.6, m)
	if err != nil {
		t.Fatal(err)
	}
	m.fine, m.edge, m.growth = m.fine/1.5, m.edge/1.5, m.growth/1.15
	m.across, m.rows = graded(7), graded(4)
	fine, err := build(top, 1.6, m)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := len(coarse.panels), len(fine.panels); float64(b) < 1.6*float64(a) {
		t.Fatalf("%d panels against %d", b, a)
	}
	for _, at := range []Place{{0.45, 1.07, 0}, {0.45, 1.3, 0}, {0.75, 1.2, 0}} {
		a, b := under(t, coarse, usual, at), under(t, fine, usual, at)
		near(t, fmt.Sprintf("lift at %v, solid wake, over that of more panels", at), a.Solid.Lift/b.Solid.Lift, 1, 0.02)
		near(t, fmt.Sprintf("lift at %v, free wake, less that of more panels", at), a.Free.Lift-b.Free.Lift, 0, 0.012)
		near(t, fmt.Sprintf("rise at %v, solid wake", at), a.Solid.Rise-b.Solid.Rise, 0, 0.005)
		near(t, fmt.Sprintf("rise at %v, free wake", at), a.Free.Rise-b.Free.Rise, 0, 0.01)
	}
}

// Estimate, Ahead and At by hand: two slices 1 m and 2 m long, lift 0.3 at 0.5 m and 0.1 at 2 m,
// the second at 0.5 m above the ground, with 0.1 to the rear.
func TestSums(t *testing.T) {
	slices := []Point{{0, 1}, {1, 1}, {3, 0}}
	a := Reaction{Rise: 0.1, slices: slices, up: []float64{0.3, 0.1}, back: []float64{0, 0.1}}.total()
	near(t, "lift", a.Lift, 0.4, 1e-12)
	near(t, "forward", a.Forward, -0.1, 1e-12)
	near(t, "at", at(a), (0.3*0.5+0.1*2)/0.4, 1e-12)
	near(t, "nose up", a.NoseUp, 0.1*0.5-0.3*0.5-0.1*2, 1e-12)
	half := a.Ahead(1.5)
	near(t, "lift ahead of 1.5 m", half.Lift, 0.325, 1e-12)
	near(t, "rise", half.Rise, 0.1, 1e-12)
	if _, ok := (Reaction{slices: slices, up: []float64{0.1, -0.1}, back: []float64{0, 0}}).total().At(); ok {
		t.Error("forces that cancel act somewhere")
	}
}

// However the profile is drawn, it is the same car.
func TestDrawings(t *testing.T) {
	at := Place{0.45, 1.2, 0}
	want := under(t, newDeck(t, notchback), usual, at)
	closed := append(append([]Point(nil), notchback...), Point{0.7, 0.2}, Point{-3.4, 0.2}, notchback[0])
	dense := []Point{closed[len(closed)-1]}
	for i := len(closed) - 1; i > 0; i-- {
		a, b := closed[i], closed[i-1]
		for k := range 20 {
			part := float64(k+1) / 20
			dense = append(dense, Point{a.X + (b.X-a.X)*part, a.Z + (b.Z-a.Z)*part})
		}
	}
	for _, row := range []struct {
		name    string
		profile []Point
		tol     float64
	}{
		{"closed, from the rear, with many points", dense, 1e-3},
		{"from the roof on", notchback[5:], 0.03}, {"with a bumper that steps down", append(notchback[:len(notchback)-1:len(notchback)-1], Point{0.75, 0.6}, Point{0.9, 0.6}, Point{0.9, 0.3}), 0.06},
	} {
		got := under(t, newDeck(t, row.profile), usual, at)
		near(t, row.name+": lift, solid wake", got.Solid.Lift, want.Solid.Lift, row.tol)
		near(t, row.name+": lift, free wake", got.Free.Lift, want.Free.Lift, row.tol)
	}
}
