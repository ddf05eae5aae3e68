package model

import (
	"math"
	"math/rand/v2"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// manyDraws is the spread of a figure of rows in independent draws of all inputs, those that have
// one name drawn alike: the standard deviation about the figures shown.
// Source: JCGM 101:2008, propagation of distributions by a Monte Carlo method.
func manyDraws(t *Table, n int, figure func(o []Outcome) float64, rows ...*Row) float64 {
	random := rand.New(rand.NewPCG(7, 8))
	base := make([]Outcome, len(rows))
	for k, r := range rows {
		base[k] = t.outcome(r.Position, deviation{})
	}
	shown, sum := figure(base), 0.0
	for range n {
		alike := map[string]float64{}
		drawn := make([]Outcome, len(rows))
		for k, r := range rows {
			var d deviation
			for _, in := range t.inputs(r) {
				x, ok := alike[in.same]
				if !ok {
					x = random.NormFloat64()
					if in.rectangular {
						x = math.Sqrt(3) * (2*random.Float64() - 1)
					}
					alike[in.same] = x
				}
				d.add(&in.by, x)
			}
			drawn[k] = t.outcome(r.Position, d)
		}
		off := figure(drawn) - shown
		sum += off * off
	}
	return math.Sqrt(sum / float64(n))
}

// At the top of the curve, where a first-order sum says that an angle changes nothing, and on both
// sides of it the uncertainties are those of many independent draws, within 12 %; so is that of
// a difference of two settings about the top.
func TestNearTheStallTheCurveTells(t *testing.T) {
	table := plainTable(t, 13, 14, 15.5) // the curve's top is at 17° of attack, 14° to the ground
	for i := range table.Rows {
		r := &table.Rows[i]
		b := table.Budget(r)
		if !b.Drawn {
			t.Fatalf("%.1f° is not drawn", r.Angle/plane.Deg)
		}
		for what, pair := range map[string][2]float64{
			"downforce, N": {b.Downforce, manyDraws(table, 20_000, func(o []Outcome) float64 { return o[0].Downforce }, r)},
			"drag, N":      {b.Drag, manyDraws(table, 20_000, func(o []Outcome) float64 { return o[0].Drag }, r)},
			"shift":        {b.Shift, manyDraws(table, 20_000, func(o []Outcome) float64 { return o[0].Shift }, r)},
		} {
			if math.Abs(pair[0]/pair[1]-1) > 0.12 {
				t.Errorf("%.1f°, %s: ±%.4g, many draws ±%.4g", r.Angle/plane.Deg, what, pair[0], pair[1])
			}
		}
	}
	a, b := &table.Rows[0], &table.Rows[2] // a degree either side of the top: hardly any difference
	d := DifferenceStdUnc(table.Budget(a), table.Budget(b)).Downforce
	want := manyDraws(table, 20_000, func(o []Outcome) float64 { return o[0].Downforce - o[1].Downforce }, a, b)
	if math.Abs(d/want-1) > 0.12 || math.Abs(a.Downforce-b.Downforce) > d {
		t.Errorf("%.1f N apart ± %.2f N, many draws ±%.2f N", a.Downforce-b.Downforce, d, want)
	}
}

// Two settings of two joints: in their difference the play of the joint that keeps its bolts is
// counted once for both and so not at all, that of the other for each. By hand: 0.25° in the
// joint that is undone, twice, as squares: 0.25·√2/√3 = 0.2041°. An angle set with a level has
// the level's 0.1° in each, and no play.
func TestPlayOfAJointThatIsNotUndone(t *testing.T) {
	table := plainTable(t, 3, 4)
	table.Car.Parts, table.Car.Joints = make([]Part, 3), make([]Joint, 2)
	for i, id := range []string{"low", "mid", "wing"} {
		table.Car.Parts[i].Holes = []holes.Hole{{ID: id + "1"}, {ID: id + "2", X: 100}, {ID: id + "3", X: 100, Z: 20}}
	}
	foot := &holes.Fit{Pairs: []holes.Pair{{Lower: 0, Upper: 0}, {Lower: 1, Upper: 1}}, Play: 0.5 * plane.Deg}
	for i := range table.Rows {
		head := &holes.Fit{Pairs: []holes.Pair{{Lower: 0, Upper: 0}, {Lower: 1 + i, Upper: 1}}, Play: 0.25 * plane.Deg}
		table.Rows[i].Setting.Fits = []*holes.Fit{foot, head}
	}
	turns := func() (angle, downforce float64) {
		d := DifferenceStdUnc(table.Budget(&table.Rows[0]), table.Budget(&table.Rows[1]))
		return d.Angle / plane.Deg, d.Downforce
	}
	angle, play := turns()
	if math.Abs(angle-0.25*math.Sqrt2/math.Sqrt(3)) > 1e-6 {
		t.Errorf("the difference of the angles is ±%.4f°, want 0.2041°", angle)
	}
	// Holes known to 0.1 mm, 100 mm apart, on two sides: 0.1·√2/√(2·50²)/√2 = 0.001414 rad in the
	// joint that is undone; the other pair is 101.98 mm apart.
	table.Car.Uncertainty.HolePosition = 0.1
	withHoles, _ := turns()
	h1, h2 := 0.1*math.Sqrt2/math.Sqrt(2*50*50)/math.Sqrt2, 0.1*math.Sqrt2/(101.98/math.Sqrt2)/math.Sqrt2
	if want := math.Sqrt(angle*angle + (h1*h1+h2*h2)/plane.Deg/plane.Deg); math.Abs(withHoles-want) > 1e-4 {
		t.Errorf("with holes ±%.5f°, want %.5f°", withHoles, want)
	}
	table.Car.Uncertainty.SetWithLevel = true
	level, less := turns()
	if want := 0.1 * math.Sqrt2; math.Abs(level-want) > 1e-6 || less >= play {
		t.Errorf("set with a level ±%.4f°, want %.4f°; downforce ±%.2f N, with play ±%.2f N", level, want, less, play)
	}
}

func BenchmarkBandsNearTheStall(b *testing.B) {
	table := plainTable(&testing.T{}, 13)
	for b.Loop() {
		table.Budget(&table.Rows[0])
	}
}
