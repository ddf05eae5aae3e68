package main

import (
	"errors"
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// numbers puts what was measured and felt into a note.
func (f *noteFlags) numbers(n *logbook.Note, car *model.Car) (err error) {
	u := shown(car)
	for _, q := range []struct {
		flag, text, bare string
		unit             units.Unit
		to               *float64
		least, most      float64
	}{
		{"top-speed", f.top, u.SpeedUnit(), units.Speeds, &n.TopSpeed, 1, model.MaxSpeed},
		{"sink-speed", f.sinkSpeed, u.SpeedUnit(), units.Speeds, &n.Sink.Speed, 1, model.MaxSpeed},
		{"sink-front", f.sinkFront, u.LengthUnit(), units.Lengths, &n.Sink.Front, -200, 200},
		{"sink-rear", f.sinkRear, u.LengthUnit(), units.Lengths, &n.Sink.Rear, -200, 200},
		{"fuel", f.fuel, u.MassUnit(), units.Unit{"kg": 1, "lb": units.Pound, "l": 0.75}, &n.Fuel, 0, 200},
		{"pressure", f.pressure, "hPa", units.Unit{"hPa": 1, "mbar": 1, "inHg": 33.8639}, &n.Air.Pressure, 500, 1100},
		{"humidity", f.humidity, "%", units.Unit{"%": 1}, &n.Air.Humidity, 0, 100},
	} {
		if q.text == "" {
			if f.takenOut(q.flag, q.text) {
				*q.to = math.NaN()
			}
			continue
		}
		x, err := q.unit.Parse(q.text, q.bare)
		if err != nil {
			return fmt.Errorf("--%s %w", q.flag, err)
		}
		if x < q.least || x > q.most {
			return fmt.Errorf("--%s %s; it must be %.4g to %.4g %s", q.flag, q.text, q.least/q.unit[q.bare], q.most/q.unit[q.bare], q.bare)
		}
		*q.to = x
	}
	if f.takenOut("temperature", f.temperature) {
		n.Air.Temperature = math.NaN()
	} else if f.temperature != "" {
		if n.Air.Temperature, err = units.Temperature(f.temperature, u.TemperatureUnit()); err != nil {
			return fmt.Errorf("--temperature %w", err)
		}
		if t := n.Air.Temperature; t < -50 || t > 60 {
			return fmt.Errorf("--temperature %s; it must be -50 to 60 °C, -58 to 140 °F", f.temperature)
		}
	}
	if f.takenOut("lap", f.lap) {
		n.Lap = math.NaN()
	} else if f.lap != "" {
		if n.Lap, err = logbook.ReadLap(f.lap); err != nil {
			return fmt.Errorf("--lap %w", err)
		}
	}
	if f.takenOut("tyres", f.tyres) {
		n.Tyres = logbook.Blank().Tyres
	} else if f.tyres != "" {
		if n.Tyres, err = logbook.ReadTyres(f.tyres, u.PressureUnit()); err != nil {
			return fmt.Errorf("--tyres %w", err)
		}
	}
	if math.IsNaN(n.Sink.Speed) {
		if f.sinkFront != "" || f.sinkRear != "" {
			return errors.New("--sink-front and --sink-rear need --sink-speed: at which speed the axles sank by that")
		}
		n.Sink = logbook.Blank().Sink // without a speed the rest says nothing
	}
	return f.felt.read(n, f.given, u)
}
