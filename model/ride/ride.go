package ride

import (
	"errors"
	"fmt"
	"math"

	"stanchion/model/coast"
	"stanchion/model/logged"
)

// Axle is one end of the car.
type Axle int

// The axles.
const (
	Front Axle = iota
	Rear
)

// Sink is by how much an axle sinks with the square of the speed.
type Sink struct {
	Slope, StdUnc float64 // mm per (m/s)²; more than 0 where the air pushes the axle down
	Squat         float64 // mm per m/s², by which the axle sinks more for each m/s² that the car speeds up; taken out
	Pieces        int     // pieces of straight that it is from
	Slow, Fast    float64 // m/s, of the slowest and the fastest piece
	Widened       float64 // factor by which the uncertainty was widened, since pieces scatter more than their samples explain
	FromTravel    bool    // from damper travels
	Inflated      float64 // factor of the slope's variance, since squat is fitted along
}

// At is the sink at a speed and its standard uncertainty, mm.
func (s Sink) At(v float64) (mm, stdUnc float64) { return s.Slope * v * v, s.StdUnc * v * v }

// Ratios are how many mm a wheel moves for each mm of its damper; 0 where that is not given.
type Ratios struct{ Front, Rear float64 }

// Limits of what counts. Common practice, no source.
const (
	pieceTime = 2.0  // s: a piece of straight, over which bumps average out
	mostAlong = 3.0  // m/s², speeding up or slowing down
	mostSide  = 1.0  // m/s²
	slowest   = 11.0 // m/s, 40 km/h
	fewest    = 12   // pieces
)

// piece is a piece of straight.
type piece struct{ square, squareUnc, height, along float64 }

// Of finds the sink of an axle in recordings of one setting: on straights, without braking, pieces of two seconds have their mean ride height
// and their mean square of the speed. What speeding up adds is fitted along and taken out, then a line is fitted with errors in both.
// Heights at rest, fuel and tyres are in the line's other constant, so that no height at a standstill is needed.
func Of(logs []*logged.Log, axle Axle, ratios Ratios) (Sink, error) {
	s := Sink{Widened: 1}
	ride, travel, ratio := logged.FrontRide, logged.FrontTravel, ratios.Front
	if axle == Rear {
		ride, travel, ratio = logged.RearRide, logged.RearTravel, ratios.Rear
	}
	var all []piece
	for _, l := range logs {
		channel, sign := ride, -1.0 // what sinks has less ride height
		if !l.Has[ride] {
			if !l.Has[travel] {
				return s, fmt.Errorf("there is no %s and no %s", ride, travel)
			}
			if ratio == 0 {
				return s, fmt.Errorf("%s needs the motion ratio, mm of the wheel for each mm of the damper", travel)
			}
			channel, sign, s.FromTravel = travel, ratio, true
		}
		all = append(all, pieces(l, channel, sign)...)
	}
	return s.fit(all)
}

// pieces cuts straights into pieces. Half a second at each end is left out: accelerations there are from before the straight as well.
func pieces(l *logged.Log, channel logged.Channel, sign float64) (all []piece) {
	braked := limitOf(l)
	var at []int
	var alongs []float64
	flush := func() {
		if n := len(at); n > 0 {
			from, to := l.Samples[at[0]].T+edge, l.Samples[at[n-1]].T-edge
			for first := 0; first < n; {
				began := max(from, l.Samples[at[first]].T)
				last := first
				for last < n && l.Samples[at[last]].T < began+pieceTime {
					last++
				}
				if began+pieceTime <= to {
					if p, ok := onePiece(l, at[first:last], alongs[first:last], began, channel, sign); ok {
						all = append(all, p)
					}
				}
				first = last
			}
		}
		at, alongs = at[:0], alongs[:0]
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.Break {
			flush()
		}
		v := s.At[logged.Speed]
		if math.IsNaN(v) || !s.Has(channel) {
			continue
		}
		along, side, ok := coast.Accelerations(l, i)
		if !ok || v < slowest || math.Abs(along) > mostAlong || math.Abs(side) > mostSide || s.At[logged.Brake] > braked {
			flush()
			continue
		}
		at, alongs = append(at, i), append(alongs, along)
	}
	flush()
	return all
}

// edge is what is left out at the ends of a straight, s: half of the time over which accelerations are taken.
const edge = 0.5

// onePiece takes the means over samples from a time on.
func onePiece(l *logged.Log, at []int, alongs []float64, began float64, channel logged.Channel, sign float64) (p piece, ok bool) {
	n := 0.0
	for k, i := range at {
		if s := &l.Samples[i]; s.T >= began {
			v := s.At[logged.Speed]
			p.square, p.height, p.along, n = p.square+v*v, p.height+s.At[channel], p.along+alongs[k], n+1
		}
	}
	if n < 3 {
		return p, false
	}
	p.square, p.height, p.along = p.square/n, sign*p.height/n, p.along/n
	scale := speedStdUnc
	if l.SpeedFromPosition {
		scale = l.SpeedStdUnc / math.Sqrt(p.square)
	}
	p.squareUnc = 2 * p.square * scale
	return p, true
}

// speedStdUnc is of a logger's speed over a piece, as a fraction. Common practice, no source.
const speedStdUnc = 0.005

func limitOf(l *logged.Log) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range l.Samples {
		if x := l.Samples[i].At[logged.Brake]; !math.IsNaN(x) {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	if !(hi > lo) {
		return math.Inf(1)
	}
	return lo + 0.03*(hi-lo)
}

// fit fits the line to pieces.
func (s Sink) fit(all []piece) (Sink, error) {
	s.Pieces = len(all)
	if len(all) < fewest {
		return s, fmt.Errorf("there are %d pieces of straight of 2 s without braking or cornering; %d are needed", len(all), fewest)
	}
	x, y, ux, uy := make([]float64, len(all)), make([]float64, len(all)), make([]float64, len(all)), make([]float64, len(all))
	s.Slow, s.Fast = math.Inf(1), 0
	for i, p := range all {
		x[i], y[i], ux[i] = p.square, p.height, p.squareUnc
		s.Slow, s.Fast = min(s.Slow, math.Sqrt(p.square)), max(s.Fast, math.Sqrt(p.square))
	}
	if s.Fast < 1.3*s.Slow {
		return s, errors.New("all speeds are alike: a slope needs straights from slow to fast")
	}
	squat, gain := s.squat(all)
	s.Squat, s.Inflated = squat, gain
	for i, p := range all {
		y[i] -= squat * p.along
	}
	// How pieces scatter about a plain line is what one is uncertain by; neighbours hang together, so that fewer count.
	b, a := plain(x, y)
	left := make([]float64, len(all))
	square := 0.0
	for i := range x {
		left[i] = y[i] - a - b*x[i]
		square += left[i] * left[i]
	}
	sigma := math.Sqrt(square / float64(len(all)-3))
	for i := range uy {
		uy[i] = max(sigma, leastHeight)
	}
	line, err := York(x, y, ux, uy)
	if err != nil {
		return s, err
	}
	per := together(left)
	s.Widened = math.Sqrt(per * max(1, line.ChiSquared/float64(len(all)-2)))
	s.Slope = line.B
	// The acceleration's part is fitted as well: gain is by how much that makes the slope's variance larger.
	// A speed that is off as a whole puts the slope off by twice as much.
	s.StdUnc = math.Hypot(line.BStdUnc*s.Widened*math.Sqrt(gain), 2*speedStdUnc*s.Slope)
	return s, nil
}

// leastHeight is what a mean ride height is off by at least, mm. Common practice, no source.
const leastHeight = 0.05

// squat fits height over square of speed and acceleration together, and returns the part of the acceleration, with 1/(1 − r²) for r between
// the two: the variance inflation of the slope.
func (s Sink) squat(all []piece) (by, gain float64) {
	n := float64(len(all))
	var mx, ma, my float64
	for _, p := range all {
		mx, ma, my = mx+p.square/n, ma+p.along/n, my+p.height/n
	}
	var xx, aa, xa, xy, ay float64
	for _, p := range all {
		x, a, y := p.square-mx, p.along-ma, p.height-my
		xx, aa, xa, xy, ay = xx+x*x, aa+a*a, xa+x*a, xy+x*y, ay+a*y
	}
	det := xx*aa - xa*xa
	if !(det > 1e-6*xx*aa) || aa/n < 0.01 {
		return 0, 1
	}
	return (xx*ay - xa*xy) / det, xx * aa / det
}

func plain(x, y []float64) (slope, at float64) {
	mx, my := mean(x), mean(y)
	var xx, xy float64
	for i := range x {
		xx, xy = xx+(x[i]-mx)*(x[i]-mx), xy+(x[i]-mx)*(y[i]-my)
	}
	return xy / xx, my - xy/xx*mx
}

// together is for how many pieces one that is independent stands, 1 + 2·Σρ(k) up to where that is a fifth of the lag.
func together(left []float64) float64 {
	square := 0.0
	for _, e := range left {
		square += e * e
	}
	per := 1.0
	for lag := 1; lag < len(left)/4; lag++ {
		sum := 0.0
		for i := lag; i < len(left); i++ {
			sum += left[i] * left[i-lag]
		}
		per += 2 * sum / square
		if float64(lag) >= 5*per/2 {
			break
		}
	}
	per = max(1, per)
	independent := float64(len(left)) / per
	return per * independent / max(1, independent-3) // what the three fitted constants take away
}

func mean(x []float64) (m float64) {
	for _, v := range x {
		m += v / float64(len(x))
	}
	return m
}
