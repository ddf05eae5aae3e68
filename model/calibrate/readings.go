package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// ReadingKind is what a reading on track is of.
type ReadingKind int

// The kinds.
const (
	FrontSink ReadingKind = iota // mm, of the front axle at the wheels
	RearSink                     // mm
	TopSpeed                     // m/s
	CoastArea                    // m², drag area of the whole car from coast-downs
	kinds
)

// AtSpeed reports whether a reading of the kind is taken at a speed of its own choosing.
func (k ReadingKind) AtSpeed() bool { return k == FrontSink || k == RearSink }

// What coast-downs of one car are off by together, as a fraction of the drag area: mass, what rotates, air, the speed's scale. And what one
// is off by in all where its note does not say. Common practice, no source.
const (
	coastShared   = 0.02
	coastNotNoted = 0.05
)

// TrackReading is one reading on track: what was measured, and how it lies to the fit.
type TrackReading struct {
	Note    string // its id
	Kind    ReadingKind
	Setting string
	Speed   float64 // m/s that it was taken at

	Measured, StdUnc float64 // in mm, m/s or m²
	Fitted           float64
	// Off is by how much the reading lies off what the car file and all other readings say, in standard
	// uncertainties of that difference.
	Off     float64
	Suspect bool // it does not fit, and was left out

	run int // whose prediction it is
}

// track is what all notes of a car have to tell.
type track struct {
	car      *model.Car // without a fit
	runs     []trackRun
	readings []TrackReading
	notes    []units.Phrase // what could not be used
	curves   map[curveKey]model.WingCurve
}

type curveKey struct {
	speed float64
	air   aero.Air
}

// readTrack takes the readings out of notes; t finds their settings.
func readTrack(t *model.Table, notes []logbook.Note) *track {
	all := &track{car: t.Car.Unfitted(), curves: map[curveKey]model.WingCurve{}}
	all.car.Claim = model.Claim{} // a maker's word does not lead what the track tells
	for _, n := range notes {
		if s := n.Sink; !math.IsNaN(s.Speed) && !(math.IsNaN(s.Front) && math.IsNaN(s.Rear)) {
			if !all.car.FrontRate.Known() || !all.car.RearRate.Known() {
				all.notes = append(all.notes, units.Say("note %s has a ride height, but the car file has no front_rate and rear_rate", n.ID))
			} else if k, ok := all.run(t, n, s.Speed, false); ok {
				std := own(n.SinkStdUnc, all.car.Uncertainty.RideHeight)
				all.add(n, k, FrontSink, s.Speed, s.Front, std)
				all.add(n, k, RearSink, s.Speed, s.Rear, std)
			}
		}
		if v := n.TopSpeed; !math.IsNaN(v) {
			if !all.car.Power.Known() || !all.car.DragArea.Known() {
				all.notes = append(all.notes, units.Say("note %s has a top speed, but the car file has no power and drag_area", n.ID))
			} else if k, ok := all.run(t, n, v, true); ok {
				all.add(n, k, TopSpeed, v, v, own(n.TopSpeedStdUnc, v*all.car.Uncertainty.TopSpeed))
			}
		}
		if a := n.Coast.DragArea; !math.IsNaN(a) {
			if !all.car.DragArea.Known() {
				all.notes = append(all.notes, units.Say("note %s has a drag area from coast-downs, but the car file has no drag_area", n.ID))
			} else if k, ok := all.run(t, n, all.car.Speed, true); ok {
				std, shared := own(n.Coast.StdUnc, coastNotNoted*a), coastShared*a
				all.add(n, k, CoastArea, all.car.Speed, a, max(math.Sqrt(max(0, std*std-shared*shared)), std/3))
			}
		}
	}
	return all
}

// own is a standard uncertainty as a note has it, or else the usual one.
func own(noted, usual float64) float64 {
	if noted > 0 {
		return noted
	}
	return usual
}

// add takes a reading, where it was taken and is predicted at all.
func (all *track) add(n logbook.Note, k int, kind ReadingKind, speed, measured, stdUnc float64) {
	if math.IsNaN(measured) {
		return
	}
	if math.IsNaN(all.runs[k].predict(kind, new(model.Offs), nil, 0)) {
		all.notes = append(all.notes, units.Say("note %s: nothing is predicted for its setting at %s", n.ID, units.MetresPerSecond(speed)))
		return
	}
	all.readings = append(all.readings, TrackReading{Note: n.ID, Kind: kind, Setting: n.Setting, Speed: speed, Measured: measured, StdUnc: stdUnc, Fitted: math.NaN(), run: k})
}

// problem is the fit of the readings that are in use.
func (all *track) problem(prior []float64, in []int) trackProblem {
	p := trackProblem{prior: prior}
	wanted := make([][kinds]bool, len(all.runs))
	for _, i := range in {
		r := &all.readings[i]
		p.measured, p.stdUnc = append(p.measured, r.Measured), append(p.stdUnc, r.StdUnc)
		wanted[r.run][r.Kind] = true
	}
	figures := func(k int, off *model.Offs, by *model.Disturbance, times float64) [kinds]float64 {
		return all.runs[k].predictAll(off, by, times, wanted[k])
	}
	p.predict = func(off []float64) []float64 {
		var x model.Offs
		copy(x[:], off)
		byRun := make([][kinds]float64, len(all.runs))
		for k, w := range wanted {
			if w != [kinds]bool{} {
				byRun[k] = figures(k, &x, nil, 0)
			}
		}
		out := make([]float64, len(in))
		for i, at := range in {
			r := &all.readings[at]
			out[i] = byRun[r.run][r.Kind]
		}
		return out
	}
	p.disturbed = func(off []float64) *mat.Dense { return all.disturbed(off, in, wanted, figures) }
	return p
}

// sharedByCoasts is the column of what all coast-downs are off by together.
const sharedByCoasts = "all coast-downs"

// disturbed is by how much readings are off by what they share, one column for each.
func (all *track) disturbed(off []float64, in []int, wanted [][kinds]bool,
	figures func(int, *model.Offs, *model.Disturbance, float64) [kinds]float64) *mat.Dense {
	var x model.Offs
	copy(x[:], off)
	columns := map[string]int{}
	type cell struct {
		run, column int
		by          [kinds]float64
	}
	var cells []cell
	for k, w := range wanted {
		if w == [kinds]bool{} {
			continue
		}
		base := figures(k, &x, nil, 0)
		for i := range all.runs[k].disturbed {
			d := &all.runs[k].disturbed[i]
			up, down := figures(k, &x, &d.Disturbance, d.times), figures(k, &x, &d.Disturbance, -d.times)
			c, met := columns[d.Same]
			if !met {
				c = len(columns)
				columns[d.Same] = c
			}
			one := cell{run: k, column: c}
			for kind := range one.by {
				one.by[kind] = slopeOf(up[kind], base[kind], down[kind])
			}
			cells = append(cells, one)
		}
	}
	coasts := map[int]float64{}
	for i, at := range in {
		if r := &all.readings[at]; r.Kind == CoastArea {
			coasts[i] = coastShared * r.Measured
			if _, met := columns[sharedByCoasts]; !met {
				columns[sharedByCoasts] = len(columns)
			}
		}
	}
	if len(columns) == 0 {
		return nil
	}
	d := mat.NewDense(len(in), len(columns), nil)
	for i, by := range coasts {
		d.Set(i, columns[sharedByCoasts], by)
	}
	for _, c := range cells {
		for i, at := range in {
			if r := &all.readings[at]; r.run == c.run {
				d.Set(i, c.column, d.At(i, c.column)+c.by[r.Kind])
			}
		}
	}
	return d
}
