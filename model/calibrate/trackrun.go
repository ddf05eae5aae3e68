package calibrate

import (
	"math"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/speeds"
	"stanchion/model/units"
)

// trackRun is one setting at one speed in one air, with what is off there that the track does not tell of.
type trackRun struct {
	table     *model.Table
	row       *model.Row
	disturbed []disturbance
}

// disturbance is what readings that share it are off by alike.
type disturbance struct {
	model.Disturbance
	times float64 // standard uncertainties that it is taken with
}

// airNotNoted is how well the air's density is known where a note has no weather of its own, as a
// fraction. Common practice, no source: 5 °C and 5 hPa.
const airNotNoted = 0.02

// run makes a note's setting ready at a speed in the note's air; ok is false where there are no figures.
func (all *track) run(t *model.Table, n logbook.Note, speed float64, top bool) (k int, ok bool) {
	r, ok := t.Find(n.Setting)
	if !ok {
		all.notes = append(all.notes, units.Say("note %s: the car file no longer gives its setting", n.ID))
		return 0, false
	}
	air, noted := airOf(all.car.Air, n)
	one, err := all.at(r, speed, air)
	if err != nil || math.IsNaN(one.row.Downforce) {
		all.notes = append(all.notes, units.Say("note %s: no figures for its setting at %s", n.ID, units.MetresPerSecond(speed)))
		return 0, false
	}
	for _, d := range one.table.Disturbances(one.row) {
		x := disturbance{d, 1}
		switch d.What {
		case model.FromSpeed:
			if top { // it is what is read
				continue
			}
			x.Same += n.ID
		case model.FromAir:
			x.Same += n.ID
			if u := all.car.Uncertainty.Air; !noted && u > 0 {
				x.times = max(1, airNotNoted/u)
			}
		}
		one.disturbed = append(one.disturbed, x)
	}
	all.runs = append(all.runs, one)
	return len(all.runs) - 1, true
}

// airOf is the air of a note, and whether the note has temperature and pressure.
func airOf(air aero.Air, n logbook.Note) (aero.Air, bool) {
	noted := !math.IsNaN(n.Air.Temperature) && !math.IsNaN(n.Air.Pressure)
	if !math.IsNaN(n.Air.Temperature) {
		air.Temperature = n.Air.Temperature + aero.Celsius
	}
	if !math.IsNaN(n.Air.Pressure) {
		air.Pressure = n.Air.Pressure * 100
	}
	if !math.IsNaN(n.Air.Humidity) {
		air.Humidity = n.Air.Humidity / 100
	}
	return air, noted
}

// at is a row's setting on the car without a fit, at a speed in an air.
func (all *track) at(r *model.Row, speed float64, air aero.Air) (trackRun, error) {
	car := *all.car
	car.Air = air
	key := curveKey{speed, air}
	w, solved := all.curves[key]
	if !solved {
		var err error
		if w, err = car.SolveWing(speed); err != nil {
			return trackRun{}, err
		}
		all.curves[key] = w
	}
	place := car.PositionOf(r.Setting)
	table := model.NewTable(&car, nil, w, speed)
	return trackRun{table: table, row: table.RowAt(&place)}, nil
}

// predict is what a reading would be with unknowns off by so much, and with a disturbance.
func (one trackRun) predict(kind ReadingKind, off *model.Offs, by *model.Disturbance, times float64) float64 {
	var wanted [kinds]bool
	wanted[kind] = true
	return one.predictAll(off, by, times, wanted)[kind]
}

// predictAll is predict of all kinds that are wanted: the sinks of both axles on their springs, with what
// the car's turn does to the wing, the speed at which the drag takes all of the power, and the drag area of car and wing together.
func (one trackRun) predictAll(off *model.Offs, by *model.Disturbance, times float64, wanted [kinds]bool) (out [kinds]float64) {
	for k := range out {
		out[k] = math.NaN()
	}
	t := one.table.Disturbed(one.row, off, by, times)
	if wanted[FrontSink] || wanted[RearSink] {
		if s, ok, _ := speeds.OnSprings(t, one.row); ok {
			out[FrontSink], out[RearSink] = s.Front, s.Rear
		}
	}
	if wanted[TopSpeed] || wanted[CoastArea] {
		row := model.Row{Position: one.row.Position, Outcome: t.OutcomeAt(one.row.Position, one.row.Height-t.Car.RoofHeight)}
		if v, ok := speeds.TopSpeed(t, &row); ok {
			out[TopSpeed] = v
		}
		if own, ok := t.Car.DragArea.Get(); ok {
			out[CoastArea] = own + row.Drag/aero.DynamicPressure(t.Density, t.Speed)
		}
	}
	return out
}
