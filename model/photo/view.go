// Package photo answers: what would a setting look like on a photograph of the car from its side? It finds
// from the two wheels where a place of the side view lies on the picture, and paints wing, end plates and
// uprights to scale onto it.
//
// Places on the car are in mm, as everywhere in model; places on the picture are in dots of it, x to the
// right, y down.
package photo

import (
	"errors"
	"fmt"
	"math"

	"stanchion/holes/plane"
)

// Wheel is a wheel on the picture: its centre, and the half axes of the ellipse that the tyre's edge is seen as,
// across and up; 0 where they were not measured.
type Wheel struct{ X, Y, Across, Up float64 }

// measured reports whether the ellipse was measured.
func (w Wheel) measured() bool { return w.Across > 0 && w.Up > 0 }

// View is how a level camera sees the upright plane of the near wheels: a place x, z on it is seen at
//
//	u = (a x + b)/(1 + c x),  v = (e + f x − d z)/(1 + c x).
//
// Source: R. Hartley and A. Zisserman, Multiple View Geometry (2nd ed. 2004), sec. 2.3: the map from a plane to a
// picture is a homography; of a level camera the upright lines stay upright, which leaves six unknowns.
type View struct {
	a, b, c, d, e, f float64
	Tyre             float64 // mm, radius of the tyres, as measured on the picture or given
	Corrected        bool    // by the wheels' ellipses
}

// Fit finds the view from the two wheels. wheelbase and tyre, the radius of a tyre, are in mm. With the
// ellipses of both wheels measured the perspective is corrected by them and the tyre's radius follows from
// the wheelbase; else the picture is taken as square to the car, with the tyre's radius as given.
func Fit(front, rear Wheel, wheelbase, tyre float64) (View, error) {
	for _, w := range []Wheel{front, rear} {
		for _, x := range []float64{w.X, w.Y, w.Across, w.Up} {
			if math.IsNaN(x) || math.Abs(x) > 1e6 {
				return View{}, errors.New("the wheels are not on the picture")
			}
		}
	}
	if math.Abs(rear.X-front.X) < 20 {
		return View{}, errors.New("the wheels are less than 20 dots apart; give the centres of the front and the rear wheel of one side")
	}
	v := View{b: rear.X, Tyre: tyre}
	if front.measured() && rear.measured() {
		v.Corrected = true
		// The scale upwards is d at the rear wheel and d/(1 − c·w) at the front one.
		v.c = (1 - rear.Up/front.Up) / wheelbase
	}
	near := 1 - v.c*wheelbase
	v.a = (v.b - front.X*near) / wheelbase
	across := math.Abs(v.a - v.b*v.c) // dots a mm along the car, at the rear wheel
	switch {
	case v.Corrected:
		v.Tyre = rear.Across / across
		v.d = rear.Up / v.Tyre
		if v.Tyre < 200 || v.Tyre > 500 {
			return View{}, fmt.Errorf("by the wheelbase the tyres' radius would be %.0f mm: measure the wheels' ellipses again", v.Tyre)
		}
		if r := v.d / across; r < 0.7 || r > 2 {
			return View{}, fmt.Errorf("the wheels are seen %.1f times as high as wide: that is no view from the side", r)
		}
	default:
		v.d = across
	}
	v.e = rear.Y + v.d*v.Tyre
	// The front wheel's centre is v.Tyre up too.
	v.f = (v.e - v.d*v.Tyre - front.Y*near) / wheelbase
	return v, nil
}

// At returns where a place of the side view is seen.
func (v View) At(p plane.Point) (x, y float64) {
	w := 1 + v.c*p.X
	return (v.a*p.X + v.b) / w, (v.e + v.f*p.X - v.d*p.Z) / w
}
