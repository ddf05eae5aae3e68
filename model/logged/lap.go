package logged

import "math"

// Mark is what kind of lap it is.
type Mark string

// The marks; a flying lap has none.
const (
	OutLap Mark = "out" // from a standstill to the line
	InLap  Mark = "in"  // from the line to a standstill
)

// TimedLap is one lap.
type TimedLap struct {
	Run      int     // number of the run, from 1: what was driven between two stops
	From, To float64 // s
	Seconds  float64
	StdUnc   float64 // s
	Mark     Mark
	Sectors  []float64 // s, as many as there are lines; NaN where one was not crossed
	Metres   float64   // driven
	Top, Low float64   // m/s
	Gap      bool      // samples are missing in it, so that a crossing may be missing as well
}

// Limits of laps.
const (
	leastLap   = 10.0  // s; the line was crossed twice in one pass otherwise
	leastMetre = 200.0 // m
	standing   = 2.0   // m/s
	stopTime   = 15.0  // s for which a car stands between two runs
	longGap    = 120.0 // s without samples that end a run
)

// Laps times laps between crossings of the first line; further lines end sectors. What is driven from a stop to the first crossing is an
// out-lap, from the last crossing to a stop an in-lap; a lap with a stop in it is parted into these.
func (l *Log) Laps(lines []Line) []TimedLap {
	at := l.Crossings(lines[0])
	stops := l.stops()
	var all []TimedLap
	run, open, have := 1, Crossing{T: l.Samples[0].T}, false // open: where the lap began; have: by a crossing
	end := func(t float64) {
		if have && t-open.T >= leastLap {
			if p, ok := l.lap(run, open, Crossing{T: t}, InLap, nil); ok {
				all = append(all, p)
			}
		}
	}
	next := 0
	for _, c := range at {
		for next < len(stops) && stops[next].from < c.T {
			end(stops[next].from)
			if have || open.T < stops[next].from && len(all) > 0 {
				run++
			}
			open, have = Crossing{T: stops[next].to}, false
			next++
		}
		if have && c.T-open.T < leastLap {
			continue
		}
		mark := Mark("")
		if !have {
			mark = OutLap
		}
		p, ok := l.lap(run, open, c, mark, lines[1:])
		if !ok && have {
			continue
		}
		if ok {
			all = append(all, p)
		}
		open, have = c, true
	}
	if next < len(stops) {
		end(stops[next].from)
	} else {
		end(l.Samples[len(l.Samples)-1].T)
	}
	return all
}

// lap is what was driven from one crossing to another; not ok where that is no lap.
func (l *Log) lap(run int, from, to Crossing, mark Mark, sectors []Line) (p TimedLap, ok bool) {
	p = TimedLap{Run: run, From: from.T, To: to.T, Seconds: to.T - from.T, StdUnc: math.Hypot(from.StdUnc, to.StdUnc), Mark: mark, Low: math.Inf(1)}
	var last *Sample
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.T < from.T || s.T > to.T {
			continue
		}
		if last != nil && s.Break {
			p.Gap = true
		}
		if v := s.At[Speed]; !math.IsNaN(v) {
			if last == nil {
				p.Metres += v * min(s.T-from.T, LongestStep)
			} else if !s.Break {
				p.Metres += (v + last.At[Speed]) / 2 * (s.T - last.T)
			}
			p.Top, p.Low, last = max(p.Top, v), min(p.Low, v), s
		}
	}
	if last != nil { // from the last sample to the line
		p.Metres += last.At[Speed] * min(to.T-last.T, LongestStep)
	}
	if mark == "" {
		p.Sectors = l.sectors(p, sectors)
	}
	return p, p.Metres >= leastMetre || mark != "" && p.Metres > 0 && p.Seconds >= leastLap
}

// sectors are the times from line to line within a lap.
func (l *Log) sectors(p TimedLap, lines []Line) (all []float64) {
	if len(lines) == 0 {
		return nil
	}
	from := p.From
	for _, line := range lines {
		t := math.NaN()
		for _, c := range l.Crossings(line) {
			if c.T > p.From && c.T < p.To && !(c.T < from) {
				t = c.T
				break
			}
		}
		all = append(all, t-from)
		from = t
	}
	return append(all, p.To-from)
}

// stop is a time at which the car stood, or of which nothing is recorded.
type stop struct{ from, to float64 }

// stops lists where a run ended.
func (l *Log) stops() (all []stop) {
	began := math.NaN()
	end := func(t float64) {
		if t-began >= stopTime {
			all = append(all, stop{began, t})
		}
		began = math.NaN()
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if i > 0 && s.Break && s.T-l.Samples[i-1].T > longGap {
			if math.IsNaN(began) {
				began = l.Samples[i-1].T
			}
			end(s.T)
		}
		v := s.At[Speed]
		switch {
		case math.IsNaN(v):
		case v < standing && math.IsNaN(began):
			began = s.T
		case v >= standing && !math.IsNaN(began):
			end(s.T)
		}
	}
	if n := len(l.Samples); n > 0 && !math.IsNaN(began) {
		end(l.Samples[n-1].T + stopTime) // it stands at the end: the run is over
	}
	return all
}
