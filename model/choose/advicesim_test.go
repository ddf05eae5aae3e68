package choose_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
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

// bolts counts the work between two ids, bolt by bolt.
func bolts(from, to string) (fewer, moved int) {
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	out, in := 0, 0
	for j := range a {
		x, y := strings.Split(a[j], "+"), strings.Split(b[j], "+")
		fewer = max(fewer, len(x)-len(y))
		for _, p := range x {
			if !slices.Contains(y, p) {
				out++
			}
		}
		for _, p := range y {
			if !slices.Contains(x, p) {
				in++
			}
		}
	}
	return fewer, max(out, in)
}

// way is one way of bolting that may be the step.
type way struct {
	row          *model.Row
	size, std    float64 // change of front share in the wanted direction, and its standard uncertainty
	fewer, moved int
}

// trial is what a driver's notes ask for, worked out from notes and table alone.
type trial struct {
	table   *model.Table
	from    *model.Row
	sign    float64            // of the wanted change
	part    float64            // steps of the scale that the wing is to change
	felt    map[int]float64    // by row of the table, the mean of its notes
	row     map[int]*model.Row // as it was bolted last
	leftOut map[string]bool    // notes
	all     []way              // clear steps within all bounds
}

func (tr *trial) std(x, y *model.Row) float64 {
	return model.DifferenceStdUnc(tr.table.Budget(x), tr.table.Budget(y)).Share
}

func newTrial(table *model.Table, a *choose.Advice, notes []logbook.Note) *trial {
	tr := &trial{table: table, from: a.From, sign: 1, felt: map[int]float64{}, row: map[int]*model.Row{}, leftOut: map[string]bool{}}
	for _, l := range a.LeftOut {
		tr.leftOut[l.Note] = true
	}
	counted, slow, slows := map[int]float64{}, 0.0, 0.0
	at, _ := table.Index(a.From.ID)
	for _, n := range notes {
		k, ok := table.Index(n.Setting)
		if !ok || tr.leftOut[n.ID] {
			continue
		}
		tr.row[k], _ = table.Find(n.Setting)
		tr.felt[k] += float64(n.Feel.Fast.Middle)
		counted[k]++
		if m := n.Feel.Slow.Middle; k == at && m != logbook.NoFeel {
			slow, slows = slow+float64(m), slows+1
		}
	}
	for k := range tr.felt {
		tr.felt[k] /= counted[k]
	}
	own := tr.felt[at]
	if tr.part = math.Abs(own); own > 0 {
		tr.sign = -1
	}
	if slows > 0 && slow*own > 0 {
		tr.part -= math.Abs(slow / slows)
	}
	tr.list(at)
	return tr
}

// list tries every way of every setting: those that can be run and are clear from the setting noted, lie clearly
// short of what was too much and past what was too little, and change a third of the downforce at most or
// go no further than was driven. Of these it keeps those that take the fewest bolts out of a joint.
func (tr *trial) list(at int) {
	driven, least, most := 0.0, math.Inf(-1), math.Inf(1)
	var tooMuch, same *model.Row
	own := tr.felt[at]
	for k, f := range tr.felt {
		to := tr.sign * (tr.row[k].Share - tr.from.Share)
		driven = math.Max(driven, to)
		switch {
		case k == at || !(to > 0):
		case f*own < 0 && to < most:
			most, tooMuch = to, tr.row[k]
		case f*own > 0 && to > least:
			if least, same = to, nil; math.Abs(f) >= math.Abs(own) && to >= 2*tr.std(tr.row[k], tr.from) {
				same = tr.row[k]
			}
		}
	}
	if least >= most {
		least, same = math.Inf(-1), nil
	}
	keeps := 99
	for i := range tr.table.Rows {
		for _, id := range append(tr.table.Rows[i].AlternativeIDs(), tr.table.Rows[i].ID) {
			r, _ := tr.table.Find(id)
			w := way{row: r, size: tr.sign * (r.Share - tr.from.Share)}
			if len(r.Breaches) > 0 || r.NoForces() || r.Stalled || r.Downforce < 0 || !(w.size > 0) || w.size < least-1e-9 || w.size >= most {
				continue
			}
			if w.std = tr.std(r, tr.from); w.size < 2*w.std {
				continue
			}
			if tooMuch != nil && math.Abs(tooMuch.Share-r.Share) < 2*tr.std(r, tooMuch) || same != nil && math.Abs(same.Share-r.Share) < 2*tr.std(r, same) {
				continue
			}
			if math.Abs(r.Downforce-tr.from.Downforce) > tr.from.Downforce/3 && w.size > driven {
				continue
			}
			w.fewer, w.moved = bolts(tr.from.ID, id)
			keeps = min(keeps, w.fewer)
			tr.all = append(tr.all, w)
		}
	}
	tr.all = slices.DeleteFunc(tr.all, func(w way) bool { return w.fewer > keeps })
}

// wanted is the size of step that the notes ask for. Of two notes on which second is the other: by a
// straight line; less wing no further past what was driven than the two are apart.
func (tr *trial) wanted(sizing choose.Sizing, second string, notes []logbook.Note) (size float64, capped bool) {
	smallest := math.Inf(1)
	for _, w := range tr.all {
		smallest = math.Min(smallest, w.size)
	}
	at, _ := tr.table.Index(tr.from.ID)
	switch sizing {
	case choose.BeyondWhatWasSame:
		return smallest, false
	case choose.FromTwoNotes:
		for _, n := range notes {
			if n.ID != second {
				continue
			}
			k, _ := tr.table.Index(n.Setting)
			to := tr.row[k].Share - tr.from.Share
			size = math.Abs(tr.part * to / (tr.felt[k] - tr.felt[at]))
			if limit := math.Max(tr.sign*to, 0) + math.Abs(to); tr.sign > 0 && size > limit {
				return limit, true
			}
			return size, false
		}
	}
	return math.Max(1, math.Min(math.Round(tr.part), 3)) * math.Max(smallest, 0.003), false
}

// least is the least work of the steps between half and twice the wanted size, or within one standard
// uncertainty of that; where there are none, of the nearest beyond, or else short of it, with those within
// one standard uncertainty of that one.
func (tr *trial) least(size float64, capped bool) (fewer, moved int) {
	var of, beyond, short []way
	for _, w := range tr.all {
		switch {
		case capped && w.size > size+1e-9 && w.size-size >= w.std:
		case w.size < size/2-1e-9 && size/2-w.size >= w.std:
			short = append(short, w)
		case w.size > 2*size+1e-9 && w.size-2*size >= w.std:
			beyond = append(beyond, w)
		default:
			of = append(of, w)
		}
	}
	if len(of) == 0 {
		from := beyond
		if len(beyond) == 0 {
			from = short
		}
		near := slices.MinFunc(from, func(x, y way) int {
			return cmp.Or(cmp.Compare(math.Abs(x.size-size), math.Abs(y.size-size)), x.fewer-y.fewer, x.moved-y.moved, cmp.Compare(x.row.ID, y.row.ID))
		})
		for _, w := range from {
			if w.row.ID == near.row.ID || math.Abs(w.size-near.size) < tr.std(w.row, near.row) {
				of = append(of, w)
			}
		}
	}
	best := slices.MinFunc(of, func(x, y way) int { return cmp.Or(x.fewer-y.fewer, x.moved-y.moved) })
	return best.fewer, best.moved
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
