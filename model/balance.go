package model

import (
	"stanchion/aero"
	"stanchion/model/units"
)

// Axles is a load or a change of load on each axle, N, positive downwards.
type Axles struct{ Front, Rear float64 }

// FrontShare returns the front axle's part of the whole load, 0 to 1.
func (a Axles) FrontShare() float64 { return a.Front / (a.Front + a.Rear) }

func (a Axles) plus(b Axles) Axles { return Axles{a.Front + b.Front, a.Rear + b.Rear} }

// WingOnAxles returns what a wing does to the axle loads, N, by moments about
// the rear axle's ground point:
//
//	front = -(down·x + back·z + nose)/wheelbase, rear = down - front
//
// down and back are the wing's force in N downwards and rearwards at the point
// x behind the rear axle and z above ground; nose is its moment in N·m,
// positive when it lifts the car's nose; x, z and wheelbase in m.
//
// For all inputs front + rear == down.
func WingOnAxles(down, back, nose, x, z, wheelbase float64) Axles {
	front := -(down*x + back*z + nose) / wheelbase
	return Axles{front, down - front}
}

// Without returns the axle loads at a speed in m/s without the wing's forces:
// the weight on the scales and the car's own lift or downforce.
func (c *Car) Without(speed float64) Axles {
	return c.without(aero.DynamicPressure(c.Air.Density(), speed))
}

// without is Without at a dynamic pressure in Pa.
func (c *Car) without(q float64) Axles {
	return Axles{c.FrontMass*units.Gravity + q*c.FrontDownforceArea, c.RearMass*units.Gravity + q*c.RearDownforceArea}
}
