package plan

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/speeds"
)

// Kind is a way of telling two settings apart.
type Kind int

// The ways.
const (
	FrontRide Kind = iota // mm that the front axle sinks by
	RearRide              // mm
	Top                   // m/s
	Coast                 // m², drag area by coasting down both ways
)

// Key is its name in JSON.
func (k Kind) Key() string {
	return [...]string{"front_ride_height", "rear_ride_height", "top_speed", "coast_down"}[k]
}

// Tell is what readings would tell of the difference of two settings, b less a.
type Tell struct {
	Kind   Kind
	Known  bool    // the car file has what it takes
	Speed  float64 // m/s that it is read at
	Expect float64 // mm, m/s or m²: the difference by the car's table
	StdUnc float64 // of that
	Noise  float64 // standard uncertainty of the difference as read, from one run of each
	Chance float64 // that it is clear from one run of each, two-sided 5 %, with what is expected as uncertain as it is
	Runs   int     // of each from which it is clear in 4 of 5 such days; 0 where 50 would not do
}

// coastStdUnc is how well a drag area is told by coasting down both ways, as a fraction. Coast-downs are to be repeated until their times are
// known to 3 % (ISO 10521-1:2006, 5.3: statistical accuracy, 95 %); a drag area that is 5 % larger changes the time from 120 to 60 km/h by
// 2.7 %, worked out for a car of 1236 kg with 0.38 N s²/m², so that half of 3 % is 2.8 % of it.
const coastStdUnc = 0.028

// mostRuns is how many runs of each are looked at.
const mostRuns = 50

// Tells lists what there is to read of a setting against the first, besides laps.
func (p *Plan) Tells(b int) []Tell { return p.told[b] }

// tells works out what there is to read of two settings.
func (p *Plan) tells(a, b int) []Tell {
	t, x, y := p.Table, p.Candidates[a].Row, p.Candidates[b].Row
	car, known := t.Car, t.Car.Uncertainty
	of := model.DifferenceStdUnc(t.Budget(x), t.Budget(y))
	front, rear := Tell{Kind: FrontRide, Speed: t.Speed}, Tell{Kind: RearRide, Speed: t.Speed}
	if s, ok, _ := speeds.OnSprings(t, x); ok {
		if r, ok, _ := speeds.OnSprings(t, y); ok {
			ride := func(one *Tell, s, r, rate, change float64) {
				one.Known, one.Expect = true, r-s
				one.StdUnc = math.Hypot(change/rate, (r-s)*known.AxleRate)
				// A reading is off by itself and by its speed, with whose square the sink goes.
				one.Noise = math.Hypot(math.Hypot(known.RideHeight, 2*known.Speed*s), math.Hypot(known.RideHeight, 2*known.Speed*r))
			}
			ride(&front, s.Front, r.Front, car.FrontRate.Value(), of.Change.Front)
			ride(&rear, s.Rear, r.Rear, car.RearRate.Value(), of.Change.Rear)
		}
	}
	top := Tell{Kind: Top}
	if v, ok := speeds.TopSpeed(t, x); ok {
		if w, ok := speeds.TopSpeed(t, y); ok {
			top.Known, top.Speed, top.Expect = true, max(v, w), w-v
			top.StdUnc = math.Abs(top.Expect) * math.Abs(of.Drag/(y.Drag-x.Drag))
			top.Noise = known.TopSpeed * math.Hypot(v, w)
		}
	}
	coast := Tell{Kind: Coast}
	if area, ok := car.DragArea.Get(); ok {
		q := aero.DynamicPressure(t.Density, t.Speed)
		coast.Known, coast.Speed, coast.Expect, coast.StdUnc = true, t.Speed, (y.Drag-x.Drag)/q, of.Drag/q
		coast.Noise = coastStdUnc * math.Hypot(area+x.Drag/q, area+y.Drag/q)
	}
	all := []Tell{front, rear, top, coast}
	for i := range all {
		all[i].weigh()
	}
	return all
}

// weigh works out how surely a difference is told.
func (t *Tell) weigh() {
	if !t.Known {
		return
	}
	t.Chance = told(t.Expect, t.StdUnc, t.Noise)
	for n := 1; n <= mostRuns && t.Runs == 0; n++ {
		if told(t.Expect, t.StdUnc, t.Noise/math.Sqrt(float64(n))) >= Power {
			t.Runs = n
		}
	}
}

// told is the chance that a reading with a noise is further from 0 than the noise explains in 19 of 20, where a difference is expected
// with an uncertainty of its own.
func told(expect, stdUnc, noise float64) float64 {
	if noise == 0 {
		return 1
	}
	z, spread := distuv.UnitNormal.Quantile(1-Level/2)*noise, math.Hypot(noise, stdUnc)
	return distuv.UnitNormal.CDF((math.Abs(expect)-z)/spread) + distuv.UnitNormal.CDF((-math.Abs(expect)-z)/spread)
}

// LapsFor is how many laps of each setting show a difference in s a lap where laps alone scatter, by the t test, rounded up.
func (p *Plan) LapsFor(difference float64) int {
	return int(math.Ceil(Each(difference/p.LapScatter.Of, Level, Power) - 1e-9))
}

// RunsFor is how many runs of each of two settings show a difference in s a lap with a drift fitted also, and runs that scatter from one to
// the next; 0 where 50 would not.
func (p *Plan) RunsFor(difference float64) int {
	stdErr := math.Sqrt(p.RunScatter.Of*p.RunScatter.Of + p.LapScatter.Of*p.LapScatter.Of/float64(p.Laps))
	for n := 2; n <= mostRuns; n++ {
		free := float64(2*n - 2 - DriftOf(2*n, 2))
		if PowerOf(difference/(stdErr*math.Sqrt(2/float64(n))), free, Level) >= Power {
			return n
		}
	}
	return 0
}
