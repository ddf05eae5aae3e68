package coast

import (
	"math"

	"stanchion/model/logged"
)

// Found is a coast-down in a recording.
type Found struct {
	Run
	From, To float64 // s in the recording
	X, Y     float64 // m, where it began
}

// Limits of what is taken for a coast-down. Common practice, no source.
const (
	leastTime  = 6.0  // s
	leastDrop  = 6.0  // m/s
	leastSpeed = 8.0  // m/s; below it tyres and bearings are what slows a car
	most       = 1.6  // m/s², slowing down: more is engine or brakes
	least      = 0.03 // m/s²
	straight   = 1.0  // m/s², across
	over       = 1.0  // s over which an acceleration is taken
	// s over which a turn is taken by positions
	turningOver = 3.0
	offPedal    = 0.03 // of the most that the channel shows: a pedal that is not touched
)

// How says by what coast-downs were told from braking and the engine's drag.
type How struct{ Throttle, Brake, Straight bool }

// Find finds coast-downs: the throttle shut and the brake off, where there are such channels, the speed falling all the time by no more than
// rolling and drag explain, and straight ahead. What slows a car in gear cannot be told from drag.
func Find(l *logged.Log) (all []Found, how How) {
	throttle, brake := limit(l, logged.Throttle), limit(l, logged.Brake)
	how = How{l.Has[logged.Throttle], l.Has[logged.Brake], l.Has[logged.LatAcc] || l.Has[logged.Lat]}
	var open []int
	flush := func() {
		if f, ok := coasted(l, open); ok {
			all = append(all, f)
		}
		open = open[:0]
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.Break {
			flush()
		}
		if s.At[logged.Throttle] > throttle || s.At[logged.Brake] > brake {
			flush()
			continue
		}
		if !s.Has(logged.Speed) {
			continue
		}
		a, across, ok := Accelerations(l, i)
		if s.At[logged.Speed] < leastSpeed || ok && (-a < least || -a > most || math.Abs(across) > straight) {
			flush()
			continue
		}
		open = append(open, i)
	}
	flush()
	return all, how
}

// limit is up to which value a pedal counts as not touched; +Inf without a channel.
func limit(l *logged.Log, c logged.Channel) float64 {
	if !l.Has[c] {
		return math.Inf(1)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range l.Samples {
		if x := l.Samples[i].At[c]; !math.IsNaN(x) {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	return lo + offPedal*(hi-lo)
}

// Accelerations are how much a car speeds up and how hard it corners at a sample, m/s²: by speeds a second apart, and by the channel or,
// without one, by how far its direction turns. ok is false at a break.
func Accelerations(l *logged.Log, i int) (along, across float64, ok bool) {
	a, b := i, i
	for a > 0 && !l.Samples[a].Break && l.Samples[i].T-l.Samples[a].T < over/2 {
		a--
	}
	for b < len(l.Samples)-1 && !l.Samples[b+1].Break && l.Samples[b].T-l.Samples[i].T < over/2 {
		b++
	}
	p, q := &l.Samples[a], &l.Samples[b]
	if b-a < 2 || !(q.T > p.T) {
		return 0, 0, false
	}
	var n, st, sv, stt, stv float64
	for j := a; j <= b; j++ {
		if s := &l.Samples[j]; s.Has(logged.Speed) {
			t := s.T - l.Samples[i].T
			n, st, sv, stt, stv = n+1, st+t, sv+s.At[logged.Speed], stt+t*t, stv+t*s.At[logged.Speed]
		}
	}
	if n < 3 {
		return 0, 0, false
	}
	along = (n*stv - st*sv) / (n*stt - st*st)
	if l.Samples[i].Has(logged.LatAcc) {
		sum, k := 0.0, 0.0
		for j := a; j <= b; j++ {
			if x := l.Samples[j].At[logged.LatAcc]; !math.IsNaN(x) {
				sum, k = sum+x, k+1
			}
		}
		return along, sum / k, true
	}
	return along, turning(l, i), true
}

// turning is how hard a car corners at a sample, m/s², by parabolas through its positions of three seconds, which single positions that are some decimetres
// off hardly move; 0 where there are too few.
func turning(l *logged.Log, i int) float64 {
	a, b := i, i
	for a > 0 && !l.Samples[a].Break && l.Samples[i].T-l.Samples[a].T < turningOver/2 {
		a--
	}
	for b < len(l.Samples)-1 && !l.Samples[b+1].Break && l.Samples[b].T-l.Samples[i].T < turningOver/2 {
		b++
	}
	var n, t1, t2, t3, t4 float64
	var x, y [3]float64 // moments of the positions
	for j := a; j <= b; j++ {
		s := &l.Samples[j]
		if math.IsNaN(s.X) {
			continue
		}
		t := s.T - l.Samples[i].T
		dx, dy := s.X, s.Y
		n, t1, t2, t3, t4 = n+1, t1+t, t2+t*t, t3+t*t*t, t4+t*t*t*t
		for k, w := range [3]float64{1, t, t * t} {
			x[k], y[k] = x[k]+w*dx, y[k]+w*dy
		}
	}
	if n < 4 {
		return 0
	}
	vx, ax, okX := parabola(n, t1, t2, t3, t4, x)
	vy, ay, okY := parabola(n, t1, t2, t3, t4, y)
	v := math.Hypot(vx, vy)
	if !okX || !okY || !(v > 0) {
		return 0
	}
	return (vy*ax - vx*ay) / v
}

// parabola is velocity and acceleration at t = 0 of the parabola of least squares, by the sums of the powers of t and the moments.
func parabola(n, t1, t2, t3, t4 float64, m [3]float64) (v, a float64, ok bool) {
	// Cramer's rule for c0 + c1·t + c2·t².
	det := n*(t2*t4-t3*t3) - t1*(t1*t4-t2*t3) + t2*(t1*t3-t2*t2)
	if !(math.Abs(det) > 1e-9*n*t2*t4) {
		return 0, 0, false
	}
	c1 := (n*(m[1]*t4-m[2]*t3) - m[0]*(t1*t4-t2*t3) + t2*(t1*m[2]-t2*m[1])) / det
	c2 := (n*(t2*m[2]-t3*m[1]) - t1*(t1*m[2]-t2*m[1]) + m[0]*(t1*t3-t2*t2)) / det
	return c1, 2 * c2, true
}

// coasted makes a coast-down of samples that follow one another, where it is long enough.
func coasted(l *logged.Log, at []int) (f Found, ok bool) {
	if len(at) < 5 {
		return f, false
	}
	f = ofSamples(l, at)
	return f, f.To-f.From >= leastTime && f.V[0]-f.V[len(f.V)-1] >= leastDrop
}

// Between takes what was driven between two times for a coast-down, as a person says.
func Between(l *logged.Log, from, to float64) (Found, bool) {
	var at []int
	for i := range l.Samples {
		if s := &l.Samples[i]; s.T >= from && s.T <= to && s.Has(logged.Speed) && s.At[logged.Speed] > 1 {
			at = append(at, i)
		}
	}
	if len(at) < 5 {
		return Found{}, false
	}
	return ofSamples(l, at), true
}

// ofSamples is a run of samples; its heading is from the first position in it to the last.
func ofSamples(l *logged.Log, at []int) Found {
	f := Found{From: l.Samples[at[0]].T, To: l.Samples[at[len(at)-1]].T, X: math.NaN(), Y: math.NaN(), Run: Run{Heading: math.NaN()}}
	for _, i := range at {
		s := &l.Samples[i]
		f.T, f.V = append(f.T, s.T), append(f.V, s.At[logged.Speed])
		switch {
		case math.IsNaN(s.X):
		case math.IsNaN(f.X):
			f.X, f.Y = s.X, s.Y
		default:
			f.Heading = math.Atan2(s.X-f.X, s.Y-f.Y)
		}
	}
	return f
}

// oneRoad is within what angle, rad, runs are along one road.
const oneRoad = 20 * math.Pi / 180

// Strips numbers the pieces of road that coast-downs were on: along one line, either way, are one. One whose direction is not known may have been
// anywhere, and is on a piece of its own.
func Strips(all []Found) {
	var firsts []*Found
	for i := range all {
		f := &all[i]
		f.Strip = -1
		for k, o := range firsts {
			off := math.Abs(math.Remainder(f.Heading-o.Heading, math.Pi)) // either way
			if off < oneRoad {                                            // not for NaN
				f.Strip = k
				break
			}
		}
		if f.Strip < 0 {
			f.Strip = len(firsts)
			firsts = append(firsts, f)
		}
	}
}

// PairTimes are the harmonic means of the times of pairs of runs, both ways over one strip in the order driven, between two speeds that all
// runs have, and those speeds; nil where there are none.
func PairTimes(runs []Run) (pairs []float64, from, to float64) {
	from, to = math.Inf(1), 0
	for _, r := range runs {
		from, to = min(from, r.V[0]), max(to, r.V[len(r.V)-1])
	}
	if from-to < 3 {
		return nil, from, to
	}
	open := map[int][]Run{}
	for _, r := range runs {
		waiting := open[r.Strip]
		at := -1
		for i, o := range waiting {
			if math.Cos(o.Heading-r.Heading) < 0 && o.Setting == r.Setting {
				at = i
				break
			}
		}
		if at < 0 {
			open[r.Strip] = append(waiting, r)
			continue
		}
		pairs = append(pairs, Pair(waiting[at].between(from, to), r.between(from, to)))
		open[r.Strip] = append(waiting[:at:at], waiting[at+1:]...)
	}
	return pairs, from, to
}

// between is the time from one speed to another, by the first samples at or below them.
func (r Run) between(from, to float64) float64 {
	at := func(v float64) float64 {
		for i := 1; i < len(r.V); i++ {
			if r.V[i] <= v && r.V[i] < r.V[i-1] {
				return r.T[i-1] + (r.T[i]-r.T[i-1])*min(1, max(0, (r.V[i-1]-v)/(r.V[i-1]-r.V[i])))
			}
		}
		return r.T[len(r.T)-1]
	}
	return at(to) - at(from)
}
