package model

import (
	"stanchion/aero"
	"stanchion/model/given"
)

// Offs is by how much unknowns are off the car as it stands, each in its own unit.
type Offs [UnknownsEnd]float64

// Disturbance is a source of a row's uncertainty that measurements on track tell nothing of, such as its
// play: what is not an Unknown. Those of one Same are off alike.
type Disturbance struct {
	What, Same string
	by         deviation // of one standard uncertainty
}

// Disturbances lists those of a row.
func (t *Table) Disturbances(r *Row) (all []Disturbance) {
	for _, in := range t.fileInputs(r) {
		if in.unknown == NoUnknown {
			all = append(all, Disturbance{in.what, in.same, in.by})
		}
	}
	return all
}

// Disturbed returns the table of a car without a fit with its unknowns off by so much, for looking at a row
// by RowAt and OutcomeAt; and with a disturbance, when there is one, so many standard uncertainties off.
// Its own rows stay what they are.
func (t *Table) Disturbed(r *Row, off *Offs, by *Disturbance, times float64) *Table {
	next, car := *t, *t.Car
	next.Car = &car
	var d deviation
	for u := LiftFactor; u < FrontAxleRate; u++ {
		if off[u] != 0 {
			unit := t.unit(u, r.Flow)
			d.add(&unit, off[u])
		}
	}
	if by != nil {
		d.add(&by.by, times)
	}
	next.Density, next.Speed = t.Density*(1+d.air), t.Speed*(1+d.speed)
	car.FrontDownforceArea += d.frontOwn
	car.RearDownforceArea += d.rearOwn
	car.FrontRate, car.RearRate = moreBy(car.FrontRate, off[FrontAxleRate]), moreBy(car.RearRate, off[RearAxleRate])
	car.DragArea, car.Power = moreBy(car.DragArea, off[OwnDragArea]), moreBy(car.Power, off[WheelPower])
	next.Without = car.without(aero.DynamicPressure(next.Density, next.Speed))
	d.air, d.speed, d.frontOwn, d.rearOwn = 0, 0, 0, 0
	next.off = &d
	return &next
}

func moreBy(n given.Number, x float64) given.Number {
	if known, ok := n.Get(); ok {
		return given.Is(known + x)
	}
	return n
}
