package calibrate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// Learned is what measurements on track say of the wing.
type Learned struct {
	Downforce, Drag model.Scale
	Used            []units.Phrase // which notes, and what for
	Notes           []units.Phrase // what stood in the way
}

// Standard uncertainties of measurements on track. Common practice, no source:
// ride height from a sensor or a rubber band to 1.5 mm, top speed by satellite
// to 1 %, of which wind is the most.
const (
	sinkStdUnc     = 1.5  // mm
	topSpeedStdUnc = 0.01 // of the speed
)

// Learn fits a scale for the wing's downforce to ride-height changes at speed
// (with front_rate and rear_rate) and one for its drag to top speeds (with power
// and drag_area), by weighted least squares through the origin.
//
// The rear axle's spring carries its rate times the sink: the car's own lift and
// the wing's share of it. At top speed the power goes into drag, P = ½ρ(CdA + T +
// k·A)v³ with the wing's drag area A, so that k = (2P/(ρv³) − CdA − T)/A. T is
// what the leaning of the lift in the local flow does to the drag, which the
// downforce decides.
func Learn(c *model.Car, notes []logbook.Note) (Learned, error) {
	l := Learned{Downforce: model.NoScale(), Drag: model.NoScale()}
	plain := *c
	// A fit takes the place of what body and uprights do to the lift, so that what it is fitted
	// to is without those.
	plain.TrackFit = model.TrackFit{Downforce: model.Scale{Factor: 1}, Drag: model.NoScale()}
	l.Downforce = l.plausible("downforce", "rear_rate, rear_downforce_area and the noted ride heights", learnDownforce(&plain, notes, &l))
	plain.TrackFit.Downforce = l.Downforce
	l.Drag = l.plausible("drag", "power, drag_area and the noted top speeds, which give the drag only where the car no longer gains speed",
		learnDrag(&plain, notes, &l))
	if len(l.Used)+len(l.Notes) == 0 {
		return l, fmt.Errorf("no note has a ride height at speed or a top speed that can be used: note add --sink-rear, --sink-speed or --top-speed")
	}
	return l, nil
}

func learnDownforce(c *model.Car, notes []logbook.Note, l *Learned) model.Scale {
	var p pairs
	for _, n := range notes {
		s := n.Sink
		if math.IsNaN(s.Speed) || math.IsNaN(s.Rear) {
			continue
		}
		if !c.RearRate.Known() {
			l.Notes = append(l.Notes, units.Say("note %s has a ride height, but the car file has no rear_rate", n.ID))
			continue
		}
		t, r := noted(c, n, s.Speed)
		if r == nil {
			l.Notes = append(l.Notes, units.Say("note %s: no figures for its setting at %s", n.ID, units.MetresPerSecond(s.Speed)))
			continue
		}
		own := aero.DynamicPressure(t.Density, s.Speed) * c.RearDownforceArea
		p.add(r.Change.Rear, c.RearRate.Value()*s.Rear-own, c.RearRate.Value()*sinkStdUnc)
		l.Used = append(l.Used, units.Say("note %s: rear ride height at %s", n.ID, units.MetresPerSecond(s.Speed)))
	}
	return p.fit()
}

func learnDrag(c *model.Car, notes []logbook.Note, l *Learned) model.Scale {
	twice := *c
	twice.TrackFit.Drag = model.Scale{Factor: 2, StdUnc: 0}
	var p pairs
	for _, n := range notes {
		v := n.TopSpeed
		if math.IsNaN(v) {
			continue
		}
		if !c.Power.Known() || !c.DragArea.Known() {
			l.Notes = append(l.Notes, units.Say("note %s has a top speed, but the car file has no power and drag_area", n.ID))
			continue
		}
		t, r := noted(c, n, v)
		_, r2 := noted(&twice, n, v)
		if r == nil || r2 == nil {
			l.Notes = append(l.Notes, units.Say("note %s: no figures for its setting at %s", n.ID, units.MetresPerSecond(v)))
			continue
		}
		q := aero.DynamicPressure(t.Density, v)
		area := (r2.Drag - r.Drag) / q // what the drag's own factor acts on; the rest is the leaning lift
		total := 2 * c.Power.Value() / (t.Density * v * v * v)
		p.add(area, total-c.DragArea.Value()-(r.Drag/q-area), 3*topSpeedStdUnc*total)
		l.Used = append(l.Used, units.Say("note %s: top speed %s", n.ID, units.MetresPerSecond(v)))
	}
	return p.fit()
}

// plausible passes a scale on, or says why it cannot be one.
func (l *Learned) plausible(what, look string, s model.Scale) model.Scale {
	switch {
	case !s.Known():
	case s.Factor < model.MinFit || s.Factor > model.MaxFit:
		l.Notes = append(l.Notes, units.Say("%s would be × %.2f ± %.2f; it must be %.1f to %.0f: look at %s", what, s.Factor, s.StdUnc,
			model.MinFit, model.MaxFit, look))
	case s.StdUnc > model.MaxFitStdUnc:
		l.Notes = append(l.Notes, units.Say("%s would be × %.2f ± %.2f, too uncertain to use; add more notes", what, s.Factor, s.StdUnc))
	default:
		return s
	}
	return model.NoScale()
}

// noted returns a note's row at a speed in the note's air; nil when it has none.
func noted(c *model.Car, n logbook.Note, speed float64) (*model.Table, *model.Row) {
	car := *c
	if !math.IsNaN(n.Air.Temperature) {
		car.Air.Temperature = n.Air.Temperature + aero.Celsius
	}
	if !math.IsNaN(n.Air.Pressure) {
		car.Air.Pressure = n.Air.Pressure * 100
	}
	if !math.IsNaN(n.Air.Humidity) {
		car.Air.Humidity = n.Air.Humidity / 100
	}
	t, err := car.Map(speed)
	if err != nil {
		return nil, nil
	}
	r, ok := t.Find(n.Setting)
	if !ok || math.IsNaN(r.Downforce) {
		return nil, nil
	}
	return t, r
}

// pairs are predictions, measurements, and the measurements' uncertainties.
type pairs struct{ x, y, weight []float64 }

func (p *pairs) add(x, y, band float64) {
	p.x, p.y, p.weight = append(p.x, x), append(p.y, y), append(p.weight, 1/(band*band))
}

// fit returns the factor k of y = k·x by weighted least squares. Its uncertainty
// is that of the measurements, or what their scatter says if that is more.
func (p pairs) fit() model.Scale {
	sxx := 0.0
	for i, x := range p.x {
		sxx += p.weight[i] * x * x
	}
	if len(p.x) == 0 || sxx < 1e-12 {
		return model.NoScale()
	}
	_, k := stat.LinearRegression(p.x, p.y, p.weight, true)
	band := 1 / math.Sqrt(sxx)
	if n := len(p.x); n > 1 {
		chi := 0.0
		for i, x := range p.x {
			chi += p.weight[i] * (p.y[i] - k*x) * (p.y[i] - k*x)
		}
		band *= math.Max(1, math.Sqrt(chi/float64(n-1)))
	}
	return model.Scale{Factor: k, StdUnc: band}
}
