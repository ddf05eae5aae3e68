package logged

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// circuit is an invented track, an oval of two semi-axes, m, driven at a speed that changes around it.
type circuit struct{ a, b, fast, slow, lat, lon float64 }

// drive returns a CSV of a drive that begins a third of a lap before the line at angle 0 (the car goes north there), and the true times
// over the line. It stands for a while after stopAfter laps, 0 for never.
func (c circuit) drive(random *rand.Rand, laps, stopAfter int, rate, noise float64) (text string, cross []float64) {
	var b strings.Builder
	b.WriteString("time,lat,lon\n")
	p := NewPlane(c.lat, c.lon)
	const h = 5e-3
	phase, next := -2*math.Pi/3, 0.0
	stood, stop := 0.0, 0
	for t := 0.0; len(cross) < laps+1; t += h {
		if t >= next-1e-9 {
			x, y := c.a*math.Cos(phase), c.b*math.Sin(phase)
			fmt.Fprintf(&b, "%.3f,%.8f,%.8f\n", t, c.lat+(y+noise*random.NormFloat64())/p.north, c.lon+(x+noise*random.NormFloat64())/p.east)
			next += 1 / rate
		}
		v := c.slow + (c.fast-c.slow)*(1+math.Cos(2*phase))/2
		if stopAfter > 0 && len(cross) == stopAfter && math.Mod(phase, 2*math.Pi) > math.Pi && stop == 0 {
			if stood += h; stood < 40 {
				continue
			}
			stop = 1
		}
		was := phase
		phase += v * h / math.Hypot(c.a*math.Sin(phase), c.b*math.Cos(phase))
		if was < 0 && phase >= 0 || math.Floor(phase/(2*math.Pi)) > math.Floor(was/(2*math.Pi)) && was > 0 {
			cross = append(cross, t+h-h*math.Mod(phase+2*math.Pi, 2*math.Pi)/(phase-was))
		}
	}
	// a little further, so that the last crossing is in the recording
	for end := next + 2; next < end; next += 1 / rate {
		v := c.fast / c.b * (next - cross[laps])
		fmt.Fprintf(&b, "%.3f,%.8f,%.8f\n", next, c.lat+(c.b*math.Sin(v)+noise*random.NormFloat64())/p.north, c.lon+(c.a*math.Cos(v)+noise*random.NormFloat64())/p.east)
	}
	return b.String(), cross
}

// lineAtZero is the line at which the circuit's laps are counted, on the log's plane.
func (c circuit) lineAtZero(l *Log) Line {
	p, _ := l.Plane()
	x, y := p.At(c.lat, c.lon+c.a/NewPlane(c.lat, c.lon).east)
	return LineAcross(x, y, 0, 60)
}

// Laps of an invented track are timed to the truth within their uncertainty, whatever track, rate and place it is; the line that is found
// gives laps alike.
func TestLapsAreFound(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	rapid.Check(t, func(t *rapid.T) {
		c := circuit{a: rapid.Float64Range(120, 300).Draw(t, "a"), b: rapid.Float64Range(120, 300).Draw(t, "b"), fast: rapid.Float64Range(30, 60).Draw(t, "fast"), slow: 18,
			lat: rapid.Float64Range(-60, 60).Draw(t, "lat"), lon: rapid.Float64Range(-179.9, 179.9).Draw(t, "lon")}
		noise := rapid.SampledFrom([]float64{0, 0.05, 0.3}).Draw(t, "noise")
		text, cross := c.drive(random, 3, 0, rapid.SampledFrom([]float64{5, 10, 20}).Draw(t, "rate"), noise)
		l, err := Read(strings.NewReader(text), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		all := l.Laps([]Line{c.lineAtZero(l)})
		if len(all) < 4 || all[0].Mark != OutLap {
			t.Fatalf("%+v", all)
		}
		for i, p := range all[1:4] {
			if off := p.Seconds - (cross[i+1] - cross[i]); math.Abs(off) > 4.5*p.StdUnc || p.StdUnc > 0.05 || p.Mark != "" {
				t.Fatalf("lap %d: %.4f ± %.4f s, truly %.4f", i+1, p.Seconds, p.StdUnc, cross[i+1]-cross[i])
			}
		}
		line, times, ok := l.FindLine()
		if !ok || times < 3 {
			t.Fatalf("no line found: %d", times)
		}
		found := 0
		for _, p := range l.Laps([]Line{line}) {
			if p.Mark == "" && p.To < cross[3] {
				found++
				if math.Abs(p.Seconds-(cross[2]-cross[1])) > 0.05+4*p.StdUnc {
					t.Fatalf("by the line found a lap is %.3f s, truly %.3f", p.Seconds, cross[2]-cross[1])
				}
			}
		}
		if found < 1 {
			t.Fatalf("%d laps by the line found", found)
		}
	})
}

// By hand: a car that goes east at 20 m/s and is seen at x −1 and 1 m is over the line at 0 in the middle of 0.1 s; one that speeds up by a from
// one sample to the next bends that by a·dt²/8 at most.
func TestCrossingByHand(t *testing.T) {
	at := func(x, y, when float64) Sample {
		s := blank()
		s.T, s.Placed, s.X, s.Y = when, when, x, y
		return s
	}
	l := &Log{Samples: []Sample{at(-3, 2, 0), at(-1, 2, 0.1), at(1, 2, 0.2), at(3, 2, 0.3)}, PlaceScatter: 0.2}
	line := LineAcross(0, 0, math.Pi/2, 10)
	got := l.Crossings(line)
	if len(got) != 1 || math.Abs(got[0].T-0.15) > 1e-12 || math.Abs(got[0].Speed-20) > 1e-9 || math.Abs(got[0].X) > 1e-12 || got[0].Y != 2 {
		t.Fatalf("%+v", got)
	}
	// σ·√(½² + ½²)/v and 5·0.1²/8/√3/v.
	if want := math.Hypot(0.2*math.Sqrt(0.5), 5*0.01/8/math.Sqrt(3)) / 20; math.Abs(got[0].StdUnc-want) > 1e-12 {
		t.Errorf("± %g s, want %g", got[0].StdUnc, want)
	}
	if n := len(l.Crossings(LineAcross(0, 0, -math.Pi/2, 10))); n != 0 {
		t.Errorf("%d crossings against the direction", n)
	}
	if n := len(l.Crossings(LineAcross(0, 0, math.Pi/2, 3))); n != 0 {
		t.Errorf("%d crossings beside the line", n)
	}
	if n := len(l.Crossings(LineOf(0, 10, 0, -10))); n != 1 {
		t.Errorf("%d crossings of a line of two points", n)
	}
	l.Samples[2].Break = true
	if n := len(l.Crossings(line)); n != 0 {
		t.Errorf("%d crossings in a gap", n)
	}
}

// A stop parts a lap into an in-lap and an out-lap, and runs from one another.
func TestInAndOutLaps(t *testing.T) {
	c := circuit{a: 200, b: 150, fast: 40, slow: 20, lat: 50, lon: 10}
	text, _ := c.drive(rand.New(rand.NewPCG(1, 1)), 5, 3, 10, 0)
	l := read(t, text, nil)
	var marks, runs []string
	for _, p := range l.Laps([]Line{c.lineAtZero(l)}) {
		marks, runs = append(marks, string(p.Mark)+"."), append(runs, fmt.Sprint(p.Run))
	}
	if got := strings.Join(marks, ""); got != "out...in.out..." {
		t.Errorf("%s of runs %v", got, runs)
	}
	if got := strings.Join(runs, ""); got != "1111222" {
		t.Errorf("runs %s", got)
	}
}

// Sectors add up to their lap.
func TestSectors(t *testing.T) {
	c := circuit{a: 200, b: 150, fast: 40, slow: 20, lat: 50, lon: 10}
	text, _ := c.drive(rand.New(rand.NewPCG(1, 1)), 2, 0, 10, 0)
	l := read(t, text, nil)
	p, _ := l.Plane()
	x, y := p.At(50, 10-200/NewPlane(50, 10).east)
	for _, lap := range l.Laps([]Line{c.lineAtZero(l), LineAcross(x, y, math.Pi, 60)}) {
		if lap.Mark != "" {
			continue
		}
		// The oval is the same on both sides.
		if len(lap.Sectors) != 2 || math.Abs(lap.Sectors[0]+lap.Sectors[1]-lap.Seconds) > 1e-9 || math.Abs(lap.Sectors[0]-lap.Seconds/2) > 0.02 {
			t.Errorf("%v of %.3f s", lap.Sectors, lap.Seconds)
		}
	}
}

// By hand: on x = t², read at −1, 0, 1, 2, 3 s about t = 1 s, the speed is 2 m/s and nothing is left over; for one metre of scatter it is known to
// 1/√(4 + 1 + 0 + 1 + 4).
func TestParabolaByHand(t *testing.T) {
	l := &Log{}
	for i := range 5 {
		s := blank()
		when := float64(i) - 1
		s.T, s.Placed, s.X, s.Y = when, when, when*when, 0
		l.Samples = append(l.Samples, s)
	}
	q, ok := l.parabola([]int{0, 1, 2, 3, 4}, 1, 2)
	if !ok || math.Abs(q.vx-2) > 1e-12 || math.Abs(q.vy) > 1e-12 || q.square > 1e-12 || q.free != 4 || math.Abs(q.gain-1/math.Sqrt(10)) > 1e-12 {
		t.Errorf("%+v", q)
	}
}

// The speed from positions that scatter is as sure as it says, and the scatter is found.
func TestSpeedFromPositionHoldsTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	c := circuit{a: 500, b: 500, fast: 40, slow: 40, lat: 50, lon: 10}
	for _, noise := range []float64{0.1, 0.5} {
		text, _ := c.drive(random, 3, 0, 10, noise)
		l := read(t, text, nil)
		if math.Abs(l.PlaceScatter/noise-1) > 0.1 {
			t.Errorf("scatter %.3f m, truly %g", l.PlaceScatter, noise)
		}
		n, one, two := 0, 0, 0
		for i := 20; i < len(l.Samples)-40; i++ {
			off := math.Abs(l.Samples[i].At[Speed] - 40)
			n++
			if off < l.SpeedStdUnc {
				one++
			}
			if off < 1.96*l.SpeedStdUnc {
				two++
			}
		}
		if a, b := float64(one)/float64(n), float64(two)/float64(n); math.Abs(a-0.683) > 0.06 || math.Abs(b-0.95) > 0.04 {
			t.Errorf("noise of %g m: %.1f %% and %.1f %% of %d speeds within one and two of %.3f m/s", noise, 100*a, 100*b, n, l.SpeedStdUnc)
		}
	}
}
