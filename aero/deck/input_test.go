package deck

import (
	"math"
	"strings"
	"testing"

	"stanchion/aero"
)

func TestWhatCannotBe(t *testing.T) {
	for _, row := range []struct {
		body Body
		want string
	}{
		{Body{nil, 1.6}, "at least 2"},
		{Body{[]Point{{0, 1}}, 1.6}, "at least 2"},
		{Body{[]Point{{0, 1}, {math.NaN(), 1}}, 1.6}, "point 2"},
		{Body{[]Point{{0, 1}, {1, -0.1}}, 1.6}, "point 2"},
		{Body{[]Point{{0, 1240}, {750, 950}}, 1.6}, "point 1"},
		{Body{notchback, 0}, "width"},
		{Body{notchback, math.NaN()}, "width"},
		{Body{[]Point{{0, 0}, {0, 1}}, 1.6}, "less than 0.2 m"},
		{Body{[]Point{{0, 1}, {0.1, 1}}, 1.6}, "less than 0.2 m"},
	} {
		if _, err := New(row.body); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("New(%v): %v, want an error with %q", row.body, err, row.want)
		}
	}
	d := newDeck(t, notchback)
	for _, row := range []struct {
		wing aero.Planform
		at   Place
		want string
	}{
		{usual, Place{0.5, 0.5, 0}, "raise it"},
		{usual, Place{0.5, 0.97, 0}, "raise it"},
		{usual, Place{1.2, 0.5, 0}, "raise it"},  // in the wake
		{usual, Place{-5, 0.8, 0}, "raise it"},   // ahead of the car
		{usual, Place{-5, 1.5, 0}, ""},           // ahead of it and higher
		{usual, Place{3.5, 0.3, 0}, ""},          // behind the wake
		{usual, Place{3.5, 0.01, 0}, "raise it"}, // in the ground
		{usual, Place{0.5, math.NaN(), 0}, "z must be"},
		{usual, Place{0.5, 1.2, 2}, "angle"},
		{aero.Planform{Span: 0, Chord: 0.2}, Place{0.5, 1.2, 0}, "span"},
		{aero.Planform{Span: 1.5, Chord: 0.2, TipChord: math.NaN()}, Place{0.5, 1.2, 0}, "chord"},
		{aero.Planform{Span: 2.2, Chord: 0.3}, Place{0.5, 1.2, 0}, ""}, // wider than the body
		{aero.Planform{Span: 1.5, Chord: 0.26, Plate: aero.Plate{Length: 0.3, Height: 0.6}}, Place{0.5, 1.15, 0.2}, ""},
		{aero.Planform{Span: 1.5, Chord: 0.26, Plate: aero.Plate{Length: 0.3, Height: 0.1, Above: 0.5}}, Place{0.5, 1.15, 0}, ""},
		{aero.Planform{Span: 1.6, Chord: 0.26, Plate: aero.Plate{Length: 0.3, Height: 0.6}}, Place{0.5, 1.15, -0.1}, ""},
		{aero.Planform{Span: 1.7, Chord: 0.26, Plate: aero.Plate{Length: 0.3, Height: 0.6}}, Place{0.5, 1.15, -0.1}, ""},
	} {
		e, err := d.Under(row.wing, row.at)
		if row.want != "" {
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("%v at %v: %v, want an error with %q", row.wing, row.at, err, row.want)
			}
			continue
		}
		if err != nil || !sane(e.Solid) || !sane(e.Free) {
			t.Errorf("%v at %v: %.3f %.3f, rise %.3f %.3f, %v", row.wing, row.at, e.Solid.Lift, e.Free.Lift, e.Solid.Rise, e.Free.Rise, err)
		}
	}
}

func sane(r Reaction) bool {
	return math.Abs(r.Lift) < 1 && math.Abs(r.Rise) < 0.5 && math.Abs(r.NoseUp) < 3 && math.Abs(r.Forward) < 0.5
}
