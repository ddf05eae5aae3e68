package choose_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

// driver feels the balance of a car in steps of the scale, against a share of their own that is
// neutral, with noise and no finer than a step.
type driver struct {
	neutral, perStep float64 // front shares, fraction
	mechanical       float64 // steps that all corners are off by, from springs and tyres
	noise            float64 // steps, one standard deviation
	random           *rand.Rand
}

func (d *driver) step(x float64) int {
	return int(math.Max(-3, math.Min(math.Round(x+d.noise*d.random.NormFloat64()), 3)))
}

// real is the balance in fast corners in steps, without noise.
func (d *driver) real(share float64) float64 { return (share-d.neutral)/d.perStep + d.mechanical }

// truth is a car as it really is: flow, lift, the body's own lift and where each joint sits in its play
// are drawn from the car's own bands.
type truth struct {
	table *model.Table
	seed  uint64
}

func drawTruth(t *testing.T, table *model.Table, random *rand.Rand) truth {
	t.Helper()
	car := *table.Car
	u := car.Uncertainty
	lo, hi := car.Flow.Range()
	heights := []float64{lo, (lo + hi) / 2, hi}
	if math.IsInf(lo, 0) {
		heights = []float64{0}
	}
	angle, ratio := random.NormFloat64(), random.NormFloat64()
	var points []aero.FlowPoint
	for _, h := range heights {
		p, _ := car.Flow.At(h)
		p.Above = h
		p.Angle += angle * cmp.Or(p.AngleStdUnc, u.FlowAngle)
		p.Ratio += ratio * cmp.Or(p.RatioStdUnc, u.SpeedRatio)
		points = append(points, p)
	}
	var err error
	if car.Flow, err = aero.NewFlow(points); err != nil {
		t.Fatal(err)
	}
	slope := 0.05
	if s := table.Wing.Section; s != nil {
		slope = s.SlopeStdUnc
	}
	lift := 1 + slope*random.NormFloat64()
	var alpha, cl, cd, cm []float64
	for a, k := range table.Wing.Curve.Points() {
		alpha, cl, cd, cm = append(alpha, a), append(cl, lift*k.CL), append(cd, k.CD), append(cm, k.CM)
	}
	w := table.Wing
	if w.Curve, err = aero.NewCurve(alpha, cl, cd, cm); err != nil {
		t.Fatal(err)
	}
	car.FrontDownforceArea += 0.03 * random.NormFloat64()
	car.RearDownforceArea += 0.03 * random.NormFloat64()
	var places []model.Position
	for i := range table.Rows {
		places = append(places, *table.Rows[i].Position)
	}
	return truth{model.NewTable(&car, places, w, table.Speed), random.Uint64()}
}

// share is the front share of a setting with its own bolts. Bolts that stay sit where they sat.
func (tr *truth) share(r *model.Row) float64 {
	turn := 0.0
	for j, f := range r.Fits {
		h := tr.seed + uint64(j)*7919
		for _, p := range f.Pairs {
			h = (h ^ uint64(p.Lower*1009+p.Upper+1)) * 0x9E3779B97F4A7C15
		}
		turn += f.Play * (1 - tr.table.Car.Uncertainty.PlayTaken) * (2*rand.New(rand.NewPCG(h, 1)).Float64() - 1)
	}
	p := *r.Position
	p.Angle += turn
	return tr.table.RowAt(&p).Share
}

// randomCar is a demo car with other masses, wheelbase and speed, and without some of its holes.
func randomCar(t *testing.T, random *rand.Rand) *model.Table {
	t.Helper()
	for {
		car := *modeltest.File(t, "hatch.toml")
		if k := random.IntN(4); k < 3 {
			car = *modeltest.Car(t, []string{"coupe", "roadster", "saloon"}[k])
		}
		car.FrontMass *= 0.85 + 0.3*random.Float64()
		car.RearMass *= 0.85 + 0.3*random.Float64()
		car.Wheelbase *= 0.95 + 0.1*random.Float64()
		car.Speed *= 0.85 + 0.4*random.Float64()
		car.Parts = slices.Clone(car.Parts)
		for i := range car.Parts[:len(car.Parts)-1] {
			p := &car.Parts[i]
			p.Holes = slices.DeleteFunc(slices.Clone(p.Holes), func(holes.Hole) bool { return i == len(car.Parts)-2 && random.Float64() < 0.12 })
		}
		if table, err := car.Map(car.Speed); err == nil && len(table.RowsWithin()) > 5 {
			return table
		}
	}
}

// Random cars with random drivers, who note how a setting felt, take the advice and note again: the
// advice moves the true balance the right way with the least work there is for a step of about the size that
// the notes ask for, and where no setting is
// a clear step it says so. ADVICE_CARS sets how many; a few in the ordinary run.
func TestAdviceAgainstTheTruth(t *testing.T) {
	cars := 12
	if text := os.Getenv("ADVICE_CARS"); text != "" {
		var err error
		if cars, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
	}
	random := rand.New(rand.NewPCG(11, 26))
	count := map[string]int{}
	const rounds = 3
	for car := range cars {
		table := randomCar(t, random)
		tr := drawTruth(t, table, random)
		within := table.RowsWithin()
		now := within[random.IntN(len(within))]
		for now.Stalled || now.Lifts() {
			now = within[random.IntN(len(within))]
		}
		d := driver{perStep: 0.003 + 0.006*random.Float64(), noise: 0.3, random: random}
		d.neutral = tr.share(now) + d.perStep*(6*random.Float64()-3)
		if random.Float64() < 0.2 {
			d.mechanical = float64(1+random.IntN(2)) * float64(2*random.IntN(2)-1)
		}
		slow := random.Float64() < 0.5
		var notes []logbook.Note
		for round := range rounds {
			n := logbook.Blank()
			n.ID, n.Setting = strconv.Itoa(round), now.ID
			n.Feel.Fast = logbook.Whole(d.step(d.real(tr.share(now))))
			if slow {
				n.Feel.Slow = logbook.Whole(d.step(d.mechanical))
			}
			notes = append(notes, n)
			a, err := choose.Next(table, notes, choose.Wish{})
			if err != nil {
				t.Fatal(err)
			}
			count["asked"]++
			if a.Finding != choose.TryNext && a.Finding != choose.NoneBetween && a.Finding != choose.NoneFarEnough && a.Finding != choose.StepTooLarge && a.Finding != choose.TriedThatWay {
				count[map[choose.Finding]string{choose.FeltNeutral: "neutral", choose.AlikeInSlow: "alike in slow corners", choose.NotesContradict: "contradict"}[a.Finding]]++
				break
			}
			asks := newTrial(table, &a, notes)
			any := len(asks.all) > 0
			if !any || !a.Proposes() {
				count["cannot tell"]++
				if a.Finding == choose.StepTooLarge {
					count["of these none small enough"]++
				}
				if a.Finding == choose.TriedThatWay {
					count["of these tried that way"]++
				}
				if a.Finding == choose.NoneBetween {
					count["of these none between two notes"]++
				}
				if any != a.Proposes() {
					count["cannot tell, wrongly"]++
					t.Logf("car %d round %d: finding %d, steps there are: %v (second %q)", car, round, a.Finding, any, a.Second)
				}
				break
			}
			count["can tell"]++
			was, is := d.real(tr.share(now)), d.real(tr.share(a.To))
			right := (is < was) == (was > 0)
			if math.Abs(was) < 0.5 { // a driver who is not sure themselves
				count["felt what is within half a step"]++
			}
			if a.Sizing == choose.FromTwoNotes {
				count["sized from two notes"]++
			}
			if a.Sizing == choose.BeyondWhatWasSame {
				count["beyond what was the same"]++
			}
			if math.Abs(is) < math.Abs(was) {
				count["nearer to neutral"]++
			}
			size, capped := asks.wanted(a.Sizing, a.Second, notes)
			if math.Abs(size-math.Abs(a.Wanted)) > 1e-9 || capped != a.Capped {
				t.Errorf("car %d round %d: wanted %.5f, capped %v; by the notes %.5f, %v", car, round, a.Wanted, a.Capped, size, capped)
			}
			fewer, moved := asks.least(size, capped)
			leastWork := a.Work.Fewer == fewer && a.Work.Moved == moved
			count["bolts moved"] += a.Work.Moved
			if a.Rule != choose.LeastOfSize {
				count["none of that size"]++
			}
			switch {
			case !right:
				count["wrong way"]++
				t.Logf("car %d round %d: felt %g, true %.2f to %.2f, change %.4f", car, round, a.Felt, was, is, a.Change)
			case !leastWork:
				count["not the least work"]++
				t.Logf("car %d round %d: work %+v, least %d fewer %d moved", car, round, a.Work, fewer, moved)
			default:
				count["right, with the least work"]++
			}
			if a.Work.Fewer > 0 {
				count["fewer bolts"]++
			}
			now = a.To
		}
	}
	if told := count["can tell"]; told < cars/4 || float64(count["right, with the least work"]) < 0.95*float64(told) || count["cannot tell, wrongly"] > 0 {
		t.Errorf("%d cars: %v", cars, count)
	}
	t.Logf("%d cars: %v", cars, count)
}
