package calibrate

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// simulated is a car with six settings of two joints with play, and what is really so of it.
type simulated struct {
	*rand.Rand
	table               *model.Table
	taken               map[string]float64 // where within its play each way of bolting a joint sits, rad
	angle, z            float64            // of the fixed part, rad and mm
	twist, lean         float64
	slopes, zeros, face []float64 // of floors and faces
}

// simulate makes a car, drawn at random.
func simulate(r *rand.Rand) *simulated {
	s := &simulated{Rand: r, angle: r.NormFloat64() * plane.Deg, z: r.NormFloat64() * 8, twist: r.NormFloat64() * 0.5 * plane.Deg, lean: r.NormFloat64() * 4}
	s.taken = map[string]float64{}
	car := &model.Car{Fixed: plane.Pose{X: 100, Z: 800}, Uncertainty: model.DefaultUncertainty(true)}
	car.Uncertainty.AngleReading = plane.Deg
	feet, heads := s.fits(2), s.fits(3)
	car.Wing.Chord = 200 + 150*r.Float64()
	s.table = &model.Table{Car: car}
	for i := range 6 {
		p := &model.Position{Setting: &holes.Setting{ID: strconv.Itoa(i)}, Angle: (2*float64(i) - 2) * plane.Deg}
		p.Setting.Fits = []*holes.Fit{feet[i/3], heads[i%3]}
		p.Pose = plane.Pose{X: 400 + 40*float64(i), Z: 1150 + 30*r.Float64(), Turn: p.Angle}
		at := p.Pose.Apply(car.Wing.QuarterChord())
		p.X, p.Height = at.X, at.Z
		s.table.Rows = append(s.table.Rows, model.Row{Position: p})
	}
	for i := range 2 {
		f := model.Face{Name: fmt.Sprint(i), Angle: r.NormFloat64() * 4 * plane.Deg, StdUnc: given.Is(0.15 * plane.Deg)}
		s.face = append(s.face, f.Angle+r.NormFloat64()*0.15*plane.Deg)
		car.Faces = append(car.Faces, f)
	}
	for i := range 3 {
		slope, zero := r.NormFloat64()*0.7*plane.Deg, r.NormFloat64()*0.3*plane.Deg
		s.slopes, s.zeros = append(s.slopes, slope), append(s.zeros, zero)
		f := model.Floor{Name: fmt.Sprint(i), Angle: slope + zero + s.level()}
		if i > 0 {
			f.Turned = given.Is(slope - zero + s.level())
		}
		car.Floors = append(car.Floors, f)
	}
	return s
}

// fits are n ways of bolting a joint, each with a play up to 0.3° either way.
func (s *simulated) fits(n int) (all []*holes.Fit) {
	for i := range n {
		all = append(all, &holes.Fit{Pairs: []holes.Pair{{Lower: i, Upper: i}}, Play: 0.3 * plane.Deg * s.Float64()})
	}
	return all
}

// play is where a side of the wing sits within the play of its setting: anywhere, and there until it is bolted
// anew. The middle goes with the mean of the sides, and by as much again of its own.
func (s *simulated) play(row *model.Row, side string) float64 {
	if side == "" {
		own := 0.0
		for j, f := range row.Fits {
			own += s.within(fmt.Sprint("middle", j, f.Pairs), f.Play)
		}
		return (s.play(row, "left")+s.play(row, "right"))/2 + own/math.Sqrt2
	}
	sum := 0.0
	for j, f := range row.Fits {
		sum += s.within(fmt.Sprint(side, j, f.Pairs), f.Play)
	}
	return sum
}

// within draws a place within a play, once.
func (s *simulated) within(key string, play float64) float64 {
	if _, met := s.taken[key]; !met {
		s.taken[key] = (2*s.Float64() - 1) * play
	}
	return s.taken[key]
}

// level and tape are errors of one reading.
func (s *simulated) level() float64 { return s.NormFloat64() * model.DefaultReading }
func (s *simulated) tape() float64  { return s.NormFloat64() * model.DefaultTape }

// read reads the wing in one setting, in one of the ways in which people do.
func (s *simulated) read() model.Reading {
	row := &s.table.Rows[s.IntN(len(s.table.Rows))]
	r := model.Reading{Setting: row.ID, Side: []string{"", "left", "right"}[s.IntN(3)]}
	half := map[string]float64{"left": 0.5, "right": -0.5}[r.Side]
	if s.IntN(8) == 0 {
		r.Rebolted, s.taken = true, map[string]float64{}
	}
	turn := s.angle + s.play(row, r.Side) // the bracket's, and within the play
	angle := row.Angle + turn + half*s.twist
	if s.IntN(5) > 0 {
		slope, zero, onFace := 0.0, 0.0, 0.0
		turned := s.IntN(2) == 0
		if k := s.IntN(4); k < 3 {
			r.Floor, slope, zero = strconv.Itoa(k), s.slopes[k], s.zeros[k]
		} else if turned { // a level whose zero nobody knows, on level ground
			zero = s.NormFloat64() * 0.3 * plane.Deg
		}
		if k := s.IntN(4); k < 2 {
			r.Face, onFace = strconv.Itoa(k), s.face[k]
		}
		r.Angle = given.Is(angle + onFace + slope + zero + s.level())
		if turned {
			r.Turned = given.Is(angle + onFace + slope - zero + s.level())
		}
	}
	height := func(p plane.Point) given.Number {
		return given.Is(p.Z + s.z + (p.X-100)*turn + half*(s.lean+(p.X-row.X)*s.twist) + s.tape())
	}
	if !r.Angle.Known() || s.IntN(3) == 0 {
		r.Leading, r.Trailing = height(LeadingEdge(row.Position)), height(TrailingEdge(s.table.Car, row.Position))
	} else if s.IntN(2) == 0 {
		r.Height = height(plane.Point{X: row.X, Z: row.Height})
	}
	return r
}

// runs is how many cars are simulated: LEVEL_RUNS, or few.
func runs(t *testing.T, few int) int {
	n, err := strconv.Atoi(os.Getenv("LEVEL_RUNS"))
	if err != nil || n < 1 {
		return few
	}
	t.Logf("%d runs", n)
	return n
}

// Of cars drawn at random with 1 to 40 readings, intervals of one and two standard uncertainties hold
// the truth as often as they should: within 68 ± 8 % and 95 ± 4 %, but for the scatter of the count; and readings without a slip are
// suspected, alone or against the file, in fewer than 5 % of the cars, however many they are.
func TestSimulatedTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	n := runs(t, 100)
	type count struct{ n, one, two int }
	hit := map[string]*count{"with file": {}, "angle": {}, "height": {}, "twist": {}, "lean": {}}
	alarms, cars := 0, 0
	for _, readings := range []int{1, 2, 3, 4, 6, 10, 20, 40} {
		wrong := 0
		for range n {
			s := simulate(r)
			var all []model.Reading
			for range readings {
				all = append(all, s.read())
			}
			d, err := fitReadings(s.table, all)
			if err != nil {
				t.Fatal(err)
			}
			with := d
			with.withFile(s.table, d.gain)
			if !d.Clean() || with.Refused() {
				wrong++
			}
			if with.takenStdUnc() > 0 {
				with.Angle = math.NaN() // what is allowed for is not drawn
			}
			for what, c := range map[string][3]float64{
				"with file": {with.Angle, with.AngleStdUnc, s.angle},
				"angle":     {d.Angle, d.AngleStdUnc, s.angle}, "height": {d.Z, d.ZStdUnc, s.z},
				"twist": {d.Twist, d.TwistStdUnc, s.twist}, "lean": {d.Lean, d.LeanStdUnc, s.lean},
			} {
				if math.IsNaN(c[0]) || what == "height" && math.IsNaN(d.Angle) {
					continue // without an angle the height is that of the bracket's angle in the file
				}
				of := fmt.Sprintf("%s of %2d", what, readings)
				if hit[of] == nil {
					hit[of] = &count{}
				}
				for _, h := range []*count{hit[what], hit[of]} {
					h.n++
					if off := math.Abs(c[0]-c[2]) / c[1]; off < 1 {
						h.one++
						h.two++
					} else if off < 2 {
						h.two++
					}
				}
			}
		}
		t.Logf("%2d readings: false alarms in %.1f %%", readings, 100*float64(wrong)/float64(n))
		if limit := 0.05*float64(n) + 2.5*math.Sqrt(0.05*float64(n)); float64(wrong) > limit {
			t.Errorf("%d readings: %d of %d cars without a slip have a false alarm", readings, wrong, n)
		}
		alarms, cars = alarms+wrong, cars+n
	}
	if share := float64(alarms) / float64(cars); share >= 0.05 {
		t.Errorf("false alarms in %.1f %% of the cars", 100*share)
	}
	for _, what := range slices.Sorted(maps.Keys(hit)) {
		h := hit[what]
		scatter := 3 / math.Sqrt(float64(h.n)) // of a share: 0.47 and 0.22 are √(p(1−p)) of 68 and 95 %
		one, two := float64(h.one)/float64(h.n), float64(h.two)/float64(h.n)
		t.Logf("%-15s within one standard uncertainty %.1f %%, within two %.1f %% of %d", what, 100*one, 100*two, h.n)
		if off(one-0.68, 0.08+0.47*scatter) || off(two-0.95, 0.04+0.22*scatter) {
			t.Errorf("%s: within one standard uncertainty %.1f %%, within two %.1f %%", what, 100*one, 100*two)
		}
	}
}

// A slip of 2° in one of the angles of a level is named where enough others tell, and no other reading
// is taken for it.
func TestSimulatedSlips(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	n := runs(t, 150)
	for _, readings := range []int{6, 12, 40} {
		named, others, open := 0, 0, 0
		for range n {
			s := simulate(r)
			var all []model.Reading
			for len(all) < readings {
				if m := s.read(); m.Angle.Known() {
					all = append(all, m)
				}
			}
			slip := r.IntN(len(all))
			by := 2 * plane.Deg
			if r.IntN(2) == 0 {
				by = -by
			}
			all[slip].Angle = given.Is(all[slip].Angle.Value() + by)
			if all[slip].Turned.Known() { // the wrong hole, or a finger under the level both times
				all[slip].Turned = given.Is(all[slip].Turned.Value() + by)
			}
			d, err := fitReadings(s.table, all)
			if err != nil {
				t.Fatal(err)
			}
			switch res := d.Residuals[slip]; {
			case res.Suspect:
				named++
			case res.Disagree:
				open++
			}
			for i, res := range d.Residuals {
				if i != slip && res.Suspect {
					others++
					break
				}
			}
		}
		t.Logf("%2d readings: a slip of 2° named %.1f %%, among those that disagree %.1f %%, another named %.1f %%", readings,
			100*float64(named)/float64(n), 100*float64(open)/float64(n), 100*float64(others)/float64(n))
		if float64(named+open) < 0.9*float64(n) || float64(others) > 0.1*float64(n) {
			t.Errorf("%d readings: named %d, open %d, others %d of %d", readings, named, open, others, n)
		}
	}
}

// BenchmarkFitDatum is the work of one look at a page of readings.
func BenchmarkFitDatum(b *testing.B) {
	s := simulate(rand.New(rand.NewPCG(1, 2)))
	var all []model.Reading
	for range 40 {
		all = append(all, s.read())
	}
	for b.Loop() {
		if _, err := fitReadings(s.table, all); err != nil {
			b.Fatal(err)
		}
	}
}
