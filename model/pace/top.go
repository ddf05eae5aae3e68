// Package pace reads two speeds out of a recording: the top speed, where a car no longer gains, and the least speed in a corner lap by lap.
// SI units. The package knows no car file.
package pace

import (
	"errors"
	"fmt"
	"math"

	"stanchion/model/coast"
	"stanchion/model/logged"
)

// Plateau is one stretch on which a car no longer gained.
type Plateau struct {
	From, To float64 // s
	Speed    float64 // m/s, mean
	Gain     float64 // m/s² that it still gained
	Heading  float64 // rad from north to the east; NaN where it is not known
}

// Top is a top speed.
type Top struct {
	Speed, StdUnc float64 // m/s
	Plateaus      []Plateau
	BothWays      bool
	Wind          float64 // m/s along the road by the difference of both ways; NaN for one way
}

// Limits of a plateau. Common practice, no source.
const (
	plateauTime = 4.0  // s
	plateauGain = 0.06 // m/s²
	nearTop     = 0.95 // of the fastest speed in the recordings: wind moves the two ways apart
	settleTime  = 12.0 // s in which a car comes nearer to its top speed by 1 − 1/e: m·v/(3·drag), 1200 kg · 60 m/s / (3 · 2000 N)
	windUnknown = 2.0  // m/s
	airShare    = 2.0 / 3
	scaleStdUnc = 0.005 // of a logger's speed
)

// ErrGains says that no stretch is long enough without a gain.
var ErrGains = errors.New("the car still gained wherever it was fastest: its top speed is not in the recording")

// TopOf finds the top speed in recordings of one setting. A wind w along the road moves it by about 2/3·w, since (v − w)²·v stays as it is:
// both ways take that out, one way leaves it in the uncertainty.
func TopOf(logs []*logged.Log) (Top, error) {
	t := Top{Wind: math.NaN()}
	fastest := 0.0
	for _, l := range logs {
		for i := range l.Samples {
			fastest = max(fastest, zeroed(l.Samples[i].At[logged.Speed]))
		}
	}
	noise := 0.0
	for _, l := range logs {
		t.Plateaus = append(t.Plateaus, plateaus(l, nearTop*fastest)...)
		if l.SpeedFromPosition {
			noise = max(noise, l.SpeedStdUnc/math.Sqrt(plateauTime)) // a fit over a second each
		} else {
			noise = max(noise, scaleStdUnc*fastest)
		}
	}
	if len(t.Plateaus) == 0 {
		return t, ErrGains
	}
	first := t.Plateaus[0].Heading
	var ways [2][]float64
	for _, p := range t.Plateaus {
		k := 0
		if math.Cos(p.Heading-first) < 0 {
			k = 1
		}
		ways[k] = append(ways[k], p.Speed+p.left()/2)
	}
	gain := 0.0
	for _, p := range t.Plateaus {
		gain = max(gain, p.left())
	}
	here, square := mean(ways[0])
	t.Speed = here
	scatter := square
	if len(ways[1]) > 0 {
		there, also := mean(ways[1])
		t.Speed, t.BothWays = (here+there)/2, true
		t.Wind = math.Abs(here-there) / 2 / airShare
		scatter = (square + also) / 4
	}
	wind := airShare * windUnknown
	if t.BothWays { // gusts of a fifth of that are left, and the second order w²/(3·v)
		wind = math.Hypot(windUnknown/5*airShare/math.Sqrt2, t.Wind*t.Wind/(3*t.Speed))
	}
	// What is still to come is between none and all of it: a rectangular distribution.
	t.StdUnc = math.Sqrt(scatter + wind*wind + noise*noise + gain*gain/12)
	return t, nil
}

// left is what a plateau would still gain, m/s.
func (p Plateau) left() float64 { return max(0, p.Gain) * settleTime }

// mean is the mean of some speeds, and the square of its standard uncertainty by their scatter; 0 for one.
func mean(x []float64) (m, square float64) {
	n := float64(len(x))
	for _, v := range x {
		m += v / n
	}
	if n < 2 {
		return m, 0
	}
	for _, v := range x {
		square += (v - m) * (v - m) / (n - 1) / n
	}
	return m, square
}

func zeroed(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// plateaus finds the flattest stretch of each time a car was near its fastest.
func plateaus(l *logged.Log, above float64) (all []Plateau) {
	var at []int
	flush := func() {
		if p, ok := flattest(l, at); ok {
			all = append(all, p)
		}
		at = at[:0]
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.Break {
			flush()
		}
		v := s.At[logged.Speed]
		if math.IsNaN(v) {
			continue
		}
		_, side, _ := coast.Accelerations(l, i)
		if v < above || math.Abs(side) > 1 {
			flush()
			continue
		}
		at = append(at, i)
	}
	flush()
	return all
}

// flattest is the fastest stretch of plateauTime on which speed does not rise by more than plateauGain, nor fall by more: braking is no plateau.
func flattest(l *logged.Log, at []int) (best Plateau, ok bool) {
	for a, b := 0, 0; b < len(at); b++ {
		for l.Samples[at[b]].T-l.Samples[at[a]].T > plateauTime {
			a++
		}
		p, q := &l.Samples[at[a]], &l.Samples[at[b]]
		if q.T-p.T < 0.9*plateauTime {
			continue
		}
		var n, st, sv, stt, stv float64
		for _, i := range at[a : b+1] {
			t, v := l.Samples[i].T-p.T, l.Samples[i].At[logged.Speed]
			n, st, sv, stt, stv = n+1, st+t, sv+v, stt+t*t, stv+t*v
		}
		gain := (n*stv - st*sv) / (n*stt - st*st)
		if math.Abs(gain) > plateauGain || sv/n < best.Speed {
			continue
		}
		best, ok = Plateau{From: p.T, To: q.T, Speed: sv / n, Gain: gain, Heading: math.Atan2(q.X-p.X, q.Y-p.Y)}, true
	}
	return best, ok
}

// Pass is one time through a corner.
type Pass struct {
	T, Speed float64 // s, m/s: the least speed
}

// cornerReach is how far around a place the least speed is looked for, m.
const cornerReach = 60.0

// ErrPlace says that a place was never passed.
var ErrPlace = fmt.Errorf("no lap passes within %.0f m of that place", cornerReach)

// Corner lists the least speed of each pass of a place, m on the log's plane.
func Corner(l *logged.Log, x, y float64) (all []Pass, err error) {
	open := Pass{Speed: math.Inf(1)}
	in := false
	flush := func() {
		if in && !math.IsInf(open.Speed, 1) {
			all = append(all, open)
		}
		open, in = Pass{Speed: math.Inf(1)}, false
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.Break {
			flush()
		}
		if math.IsNaN(s.X) {
			continue
		}
		if math.Hypot(s.X-x, s.Y-y) > cornerReach {
			flush()
			continue
		}
		in = true
		if v := s.At[logged.Speed]; v < open.Speed {
			open = Pass{s.T, v}
		}
	}
	flush()
	if len(all) == 0 {
		return nil, ErrPlace
	}
	return all, nil
}

// Gained is by how much faster a corner goes with more downforce, m/s: with a grip that stays as it is, v² goes with weight and downforce
// together, so that dv/v = ½·dL/(W + L). v in m/s, weight, downforce and what there is more of it in N at that speed; the downforce goes with v² itself,
// which makes 1/(1 − L/(W + L)) = (W + L)/W of it.
func Gained(v, weight, downforce, more float64) float64 {
	return v / 2 * more / (weight + downforce) * (weight + downforce) / weight
}
