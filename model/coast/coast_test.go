package coast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model/logged"
)

const kmh = 1 / 3.6

// 1236 kg, A 180 N, C 0.38 N s²/m², from 120 to 60 km/h: 50.6391 s and 1213.540 m; to 110, 100, 90, 80 and 70 km/h in the times below. With
// B 2.5 N s/m and C 0.35: 45.8117 s. Closed forms, worked out apart from this package.
func TestRoadLoadInClosedForm(t *testing.T) {
	near := func(what string, got, want, within float64) {
		t.Helper()
		if !(math.Abs(got-want) <= within) {
			t.Errorf("%s: %.5f, want %.5f", what, got, want)
		}
	}
	l := Load{A: 180, C: 0.38}
	for to, want := range map[float64]float64{110: 6.0516, 100: 12.8789, 90: 20.6067, 80: 29.3750, 70: 39.3351, 60: 50.6391} {
		near("time", l.Time(1236, 120*kmh, to*kmh), want, 1e-4)
		near("speed then", l.Speed(1236, 120*kmh, want)/kmh, to, 1e-3)
	}
	near("way", l.Way(1236, 120*kmh, 60*kmh), 1213.540, 1e-3)
	b := Load{A: 180, B: 2.5, C: 0.35}
	near("time with B", b.Time(1236, 120*kmh, 60*kmh), 45.8117, 1e-4)
	near("speed with B", b.Speed(1236, 120*kmh, 45.8117)/kmh, 60, 1e-3)
	// A wind of 3 m/s along the road: 44.2797 s into it, 57.9423 s with it; the mean of the two 51.1110 s.
	for _, c := range [][2]float64{{-3, 44.2797}, {3, 57.9423}} {
		p := problem{runs: []Run{{T: []float64{0}, V: []float64{0}, Heading: math.Pi / 2}}, car: Car{Mass: 1200, Factor: 1.03}, settings: 1, strips: []int{0}, along: []int{0}, sign: []float64{1}}
		w := p.load([]float64{180, c[0], 0, 0, 0.38, 0, 0, 0, 0, 0, 0}, 0)
		near("in wind", w.Speed(1236, 120*kmh, c[1])/kmh, 60, 2e-3)
	}
	near("half and back", Pair(44.2797, 57.9423), 2/(1/44.2797+1/57.9423), 1e-12)
}

// V/V0 = tan((1 − T)·atan b)/b with b 1.4. Source of the form: F. White and H. Korst, SAE 720099 (1972). With W 18 680 N, V0 26.8224 m/s, ρ 1.24, S 2.4,
// Cd 0.40, μ 0.01 it stops after 178.256 s.
func TestWhiteAndKorst(t *testing.T) {
	const b = 1.4
	m, v0 := 1000.0, 30.0
	l := Load{A: 150, C: b * b * 150 / (v0 * v0)}
	stop := l.Time(m, v0, 0)
	for part, want := range map[float64]float64{0.25: 0.61757, 0.50: 0.36758, 0.75: 0.17301} {
		if got := l.Speed(m, v0, part*stop) / v0; math.Abs(got-want) > 1e-5 {
			t.Errorf("at %g of the time %.5f, want %.5f", part, got, want)
		}
	}
	const w, g = 18680, 9.81 // as the source takes it
	car := Load{A: 0.01 * w, C: 1.24 / 2 * 2.4 * 0.40}
	if got := car.Time(w/g, 26.8224, 0); math.Abs(got-178.256) > 2e-2 {
		t.Errorf("%.3f s, want 178.256", got)
	}
	if car.Speed(w/g, 26.8224, 200) != 0 {
		t.Error("it moves after it has stopped")
	}
}

// The speed in closed form is that of small steps, whatever the load, also down a slope where a speed is kept.
func TestSpeedAgainstSmallSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Load{rapid.Float64Range(-300, 500).Draw(t, "a"), rapid.SampledFrom([]float64{0, -4, 3}).Draw(t, "b"), rapid.SampledFrom([]float64{0, 0.2, 0.6}).Draw(t, "c")}
		v, v0, m := 40.0, 40.0, 1300.0
		const h = 0.05
		for range 400 {
			k1 := -l.At(v) / m
			k2 := -l.At(v+h/2*k1) / m
			k3 := -l.At(v+h/2*k2) / m
			k4 := -l.At(v+h*k3) / m
			v += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
			if v < 1 {
				return
			}
		}
		if got := l.Speed(m, v0, 20); math.Abs(got-v) > 1e-5 {
			t.Fatalf("%+v: %.6f m/s after 20 s, by steps %.6f", l, got, v)
		}
	})
}

// By hand: pairs of 10, 11 and 12 s have a mean of 11 and s = 1: 4.3/(√3·11) = 0.2256915; of 10.00, 10.01, 10.02, 10.03 s: 3.2·0.0129099/(2·10.015).
func TestSpreadByHand(t *testing.T) {
	for want, pairs := range map[float64][]float64{0.2256915: {10, 11, 12}, 0.0020625: {10, 10.01, 10.02, 10.03}} {
		if got := Spread(pairs); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: %.7f, want %.7f", pairs, got, want)
		}
	}
	if !math.IsNaN(Spread([]float64{10, 11})) {
		t.Error("two pairs tell a spread")
	}
}

// By hand: of 1000 kg 0.6 to 2.5 % are 58.8 to 245 N.
func TestRollsByHand(t *testing.T) {
	for a, want := range map[float64]bool{58: false, 59.5: true, 245: true, 246: false} {
		if Rolls(a, 1000) != want {
			t.Errorf("%g N: %v", a, !want)
		}
	}
}

// By hand: +1 −1 +1 −1 hangs together the other way and counts as independent; what stays for ten samples counts once in ten or more.
func TestScatterByHand(t *testing.T) {
	up := make([]float64, 400)
	long := make([]float64, 4000)
	random := rand.New(rand.NewPCG(1, 2))
	x := 0.0
	for i := range up {
		up[i] = float64(1 - 2*(i%2))
	}
	for i := range long {
		if i%10 == 0 {
			x = random.NormFloat64()
		}
		long[i] = x
	}
	if s, per := scatter([][]float64{up}, 1); math.Abs(s-math.Sqrt(400./399)) > 1e-12 || math.Abs(per-400./399) > 1e-12 {
		t.Errorf("%g, %g", s, per)
	}
	if _, per := scatter([][]float64{long}, 0); per < 8 || per > 13 {
		t.Errorf("one of %g samples counts, want 10", per)
	}
}

// day is a day of coast-downs with a truth of its own.
func day(random *rand.Rand, pairs int, oneWay bool) (runs []Run, car Car, areas [2]float64, rolling float64) {
	g := random.NormFloat64
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*random.Float64() }
	car = Car{Mass: between(900, 1600), MassStdUnc: UsualMassStdUnc, Factor: UsualFactor, FactorStdUnc: UsualFactorStdUnc, Density: 1.2, DensityStdUnc: 0.01, SpeedStdUnc: UsualSpeedStdUnc, Growth: UsualGrowth, GrowthStdUnc: UsualGrowthStdUnc}
	mass := car.Mass * (1 + g()*car.MassStdUnc)
	factor := car.Factor + g()*car.FactorStdUnc
	density := car.Density * (1 + g()*car.DensityStdUnc)
	scale := 1 + g()*car.SpeedStdUnc
	rolling = mass * gravity * between(0.010, 0.018)
	grows := car.Growth + g()*car.GrowthStdUnc
	areas = [2]float64{between(0.5, 0.8), 0}
	areas[1] = areas[0] + between(0, 0.1)
	east, north, slope := windStdUnc*g(), windStdUnc*g(), slopeStdUnc*g()
	heading := between(0, 2*math.Pi)
	var tyres, ways [2]float64 // of each setting: what tyres and wind are otherwise
	for i := range tyres {
		tyres[i], ways[i] = tyreStdUnc*0.015*mass*gravity*g(), driftStdUnc*g()
	}
	for k := range 2 * pairs {
		setting := k / 2 % 2
		h, up := heading, slope
		if k%2 == 1 && !oneWay {
			h, up = heading+math.Pi, -slope
		}
		tail := east*math.Sin(h) + north*math.Cos(h) + ways[setting]*math.Cos(h-heading) + gustStdUnc*g()
		c := density / 2 * areas[setting]
		l := Load{A: rolling + tyres[setting] + c*tail*tail + mass*gravity*up, B: (rolling+tyres[setting])*grows - 2*c*tail, C: c}
		r := Run{Heading: h, Setting: setting}
		v0, noise := between(38, 44), 0.0
		for t := 0.0; t < 25; t += 0.1 {
			v := l.Speed(mass*factor, v0, t)
			noise = 0.8*noise + 0.06*g() // hangs together over half a second
			r.T, r.V = append(r.T, t), append(r.V, v*scale+noise)
		}
		runs = append(runs, r)
	}
	return runs, car, areas, rolling
}

// Of many days whose truth is drawn, with wind, gusts, slope and errors of mass, density and speed as they are taken to be, the intervals hold
// the truth as often as they say. COAST_DAYS=2000 runs more.
func TestIntervalsHoldTheTruth(t *testing.T) {
	days := 20
	if n, err := strconv.Atoi(os.Getenv("COAST_DAYS")); err == nil && n > 0 {
		days = n
	}
	random := rand.New(rand.NewPCG(17, 5))
	for _, c := range []struct {
		pairs   int
		oneWay  bool
		unknown bool // which way they went
	}{{2, false, false}, {4, false, false}, {2, true, false}, {3, false, true}} {
		counts := map[string][3]int{}
		width := 0.0
		count := func(what string, off, std float64) {
			k := counts[what]
			k[0]++
			if math.Abs(off) < std {
				k[1]++
			}
			if math.Abs(off) < 1.96*std {
				k[2]++
			}
			counts[what] = k
		}
		failed := 0
		for range days {
			runs, car, areas, rolling := day(random, c.pairs, c.oneWay)
			if c.unknown {
				for i := range runs {
					runs[i].Heading, runs[i].Strip = math.NaN(), i
				}
			}
			res, err := Fit(runs, car, Wind{})
			if err != nil {
				if c.oneWay || c.unknown { // wind and slope may take all of it
					failed++
					continue
				}
				t.Fatal(err)
			}
			if res.BothWays != (!c.oneWay && !c.unknown) {
				t.Error("both ways:", res.BothWays)
			}
			d, std := res.Difference(1, 0)
			count("drag area", res.Areas[0]-areas[0], res.AreaUncs[0])
			count("difference", d-(areas[1]-areas[0]), std)
			count("rolling", res.A-rolling, res.AStdUnc)
			width += res.AreaUncs[0] / float64(days)
		}
		for what, k := range counts {
			one, two := 100*float64(k[1])/float64(k[0]), 100*float64(k[2])/float64(k[0])
			t.Logf("%d pairs, one way %v, unknown %v: %s %.1f %%, %.1f %% of %d (± %.3f m², %d without an answer)", c.pairs, c.oneWay, c.unknown, what, one, two, k[0], width, failed)
			if c.unknown { // all may have gone one way as well: intervals are no narrower than that
				one, two = min(one, 68.3), min(two, 95)
			}
			chance := 4 * 100 / math.Sqrt(float64(k[0]))
			if lo, also := max(8, 0.466*chance), max(5, 0.218*chance); math.Abs(one-68.3) > lo || math.Abs(two-95) > also {
				t.Errorf("%d pairs, one way %v: %s: %.1f %% and %.1f %% within one and two", c.pairs, c.oneWay, what, one, two)
			}
		}
	}
}

// Without noise, wind and slope the truth comes out.
func ExampleFit() {
	// 1200 kg and 3 % for the wheels, A 180 N, C 0.38 N s²/m², in air of 1.2 kg/m³: C_D·A = 2·0.38/1.2 = 0.633 m².
	l := Load{A: 180, C: 0.38}
	var runs []Run
	for _, heading := range []float64{0, math.Pi} {
		r := Run{Heading: heading}
		for t := 0.0; t < 30; t++ {
			r.T, r.V = append(r.T, t), append(r.V, l.Speed(1236, 40, t))
		}
		runs = append(runs, r)
	}
	res, err := Fit(runs, Car{Mass: 1200, Factor: 1.03, Density: 1.2}, Wind{})
	fmt.Printf("A %.1f N, drag area %.3f m², %v\n", res.A, res.Areas[0], err)
	// Output: A 180.0 N, drag area 0.633 m², <nil>
}

// A satellite receiver's positions scatter by some decimetres from one to the next: a straight stays a straight, a corner of 200 m radius at 25 m/s
// (25²/200 = 3.1 m/s²) a corner.
func TestTurningThroughScatter(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 9))
	for _, c := range []struct{ radius, want float64 }{{1e9, 0}, {200, 3.125}} {
		l := &logged.Log{}
		for i := range 200 {
			at := 0.1 * float64(i)
			var s logged.Sample
			for k := range s.At {
				s.At[k] = math.NaN()
			}
			turn := 25 * at / c.radius
			s.T, s.At[logged.Speed] = at, 25
			s.X, s.Y = c.radius*(1-math.Cos(turn))+0.2*random.NormFloat64(), c.radius*math.Sin(turn)+0.2*random.NormFloat64()
			l.Samples = append(l.Samples, s)
		}
		for i := 20; i < 180; i++ {
			if _, across, ok := Accelerations(l, i); !ok || math.Abs(across-c.want) > 0.6 {
				t.Fatalf("radius %g: %.2f m/s² across at %d, want %.2f", c.radius, across, i, c.want)
			}
		}
	}
}
