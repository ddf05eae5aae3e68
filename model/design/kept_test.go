package design

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// TestKeptHolesStay locks some holes of a proposal and asks for something else: every answer has each of them as it was, gives what was asked,
// and names those that take no bolt. DESIGN_WISHES sets how many wishes are tried.
func TestKeptHolesStay(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("DESIGN_WISHES"))
	most, e := 9.0, quick
	if n == 0 {
		n, most, e = 1, 4.5, effort{20, 1}
	}
	rng := rand.New(rand.NewPCG(11, 5))
	between := func(lo, hi float64) float64 { return lo + rng.Float64()*(hi-lo) }
	cars := []string{"coupe", "roadster"}
	asked, met, further := 0, 0, 0
	for i := range n {
		c := modeltest.Car(t, cars[i%len(cars)])
		c.Joints[0].MinBolts = 2
		at := modeltest.TableOf(t, c).Rows[0].Height
		w := Wish{Heights: []float64{at}, HeightWithin: between(6, 12), High: between(4, most) * plane.Deg, Step: between(2.5, 4) * plane.Deg, EndWithin: 0.5 * plane.Deg,
			FootBolts: 2 + rng.IntN(3), BehindWithin: 20}
		d, err := design(context.Background(), c, w, e, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Proposals) == 0 {
			continue
		}
		p := &d.Proposals[rng.IntN(len(d.Proposals))]
		var names []string
		for _, h := range p.Plate().Holes {
			if rng.IntN(3) > 0 {
				names = append(names, h.ID)
			}
		}
		next := w
		if next.Kept, err = Keep(p.Table, append([]string{}, names...)); err != nil {
			t.Fatal(err)
		}
		switch rng.IntN(3) {
		case 0:
			next.Heights = []float64{at, at + between(20, 30)}
		case 1:
			next.Heights = []float64{at + between(20, 30)}
		default:
			next.Step *= 0.7
		}
		asked++
		if d, err = design(context.Background(), c, next, e, nil); err != nil {
			t.Fatal(err)
		}
		if len(d.Proposals) > 0 {
			met++
			further += d.Proposals[0].Holes() - len(names)
		}
		for k := range d.Proposals {
			q := &d.Proposals[k]
			gives(t, q, next)
			stays(t, q, next.Kept)
			if q.Foot+q.Fronts+q.Rears != len(q.Plate().Holes) {
				t.Errorf("%d and %d and %d are not %d holes", q.Foot, q.Fronts, q.Rears, len(q.Plate().Holes))
			}
			if d.Bound > q.Holes() {
				t.Errorf("%d holes are fewer than the bound of %d", q.Holes(), d.Bound)
			}
		}
	}
	t.Logf("%d of %d changed wishes met, with %d further holes", met, asked, further)
	if met == 0 {
		t.Error("no changed wish was met")
	}
}

// stays looks whether the holes that were to be kept are in a proposal as they were, and whether those that take no bolt are named.
func stays(t *testing.T, p *Proposal, k Kept) {
	used := map[string]bool{}
	for _, l := range p.Levels {
		for _, n := range l.Rows {
			r := &p.Table.Rows[n]
			for _, q := range r.Fits[0].Pairs {
				used[p.Plate().Holes[q.Upper].ID] = true
			}
			for _, q := range r.Fits[1].Pairs {
				used[p.Plate().Holes[q.Lower].ID] = true
			}
		}
	}
	ids := map[string]int{}
	for _, h := range p.Plate().Holes {
		ids[h.ID]++
	}
	for _, want := range k.Holes {
		n := slices.IndexFunc(p.Plate().Holes, func(h holes.Hole) bool { return h.ID == want.ID })
		if n < 0 || p.Plate().Holes[n] != want.Hole || ids[want.ID] != 1 {
			t.Errorf("%s is not as it was: %+v in %+v", want.ID, want, p.Plate().Holes)
		}
		if slices.Contains(p.Idle, want.ID) == used[want.ID] {
			t.Errorf("%s is used: %v, idle: %v", want.ID, used[want.ID], p.Idle)
		}
	}
	for _, h := range p.Plate().Holes {
		if !used[h.ID] && !slices.Contains(p.Kept, h.ID) {
			t.Errorf("%s is new and takes no bolt", h.ID)
		}
	}
}

// TestKeepAllOfItsOwn asks again for what a proposal gives, with all of its holes kept: it is the answer, with no hole more. A tilted one too.
func TestKeepAllOfItsOwn(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	w := Wish{Heights: []float64{1250}, HeightWithin: 10, High: 4 * plane.Deg, Step: 2.2 * plane.Deg, EndWithin: 0.5 * plane.Deg, BehindWithin: 20}
	d, err := design(context.Background(), c, w, effort{40, 1}, nil)
	if err != nil || len(d.Proposals) == 0 {
		t.Fatal(err, "no proposals")
	}
	tilted := slices.IndexFunc(d.Proposals, func(p Proposal) bool { return len(p.Tilts) > 1 })
	if tilted < 0 {
		t.Fatal("no proposal is tilted")
	}
	for _, i := range []int{0, tilted} {
		p := &d.Proposals[i]
		again := w
		if again.Kept, err = Keep(p.Table, nil); err != nil || len(again.Kept.Holes) != len(p.Plate().Holes) {
			t.Fatal(err, len(again.Kept.Holes))
		}
		got, err := design(context.Background(), c, again, effort{20, 1}, nil)
		if err != nil || len(got.Proposals) == 0 {
			t.Fatalf("proposal %d, %d holes, tilts %v: %v, nothing found: %v", i+1, p.Holes(), p.Tilts, err, got.Why)
		}
		if q := &got.Proposals[0]; q.Holes() != p.Holes() || len(q.Idle) > 0 {
			t.Errorf("proposal %d of %d holes: %d holes, idle %v", i+1, p.Holes(), q.Holes(), q.Idle)
		}
	}
}

// TestKeptByHand: a plate whose holes are those of rows 1 and 2 of the simple frame, 60 by 30 mm, can stand on rows 1 and 2, 2 and 3, 3 and 4: three places with all
// four in line, and others where some are. The front hole at 500 over the first row gives 500, 530 and 560 mm.
func TestKeptByHand(t *testing.T) {
	w := Wish{Heights: []float64{530}, HeightWithin: 5, FootBolts: 4, BehindWithin: 5}
	for i, at := range []plane.Point{{}, {X: 60}, {Z: 30}, {X: 60, Z: 30}, {X: -20, Z: 500}} {
		role := AtFoot
		if i == 4 {
			role = AtFront
		}
		w.Kept.Holes = append(w.Kept.Holes, KeptHole{holes.Hole{ID: strconv.Itoa(i), X: at.X, Z: at.Z, D: 8.4}, role})
	}
	f := simple(w)
	f.car = &model.Car{Parts: make([]model.Part, 3), Joints: make([]model.Joint, 2)}
	frames, err := f.keptFrames(t.Context(), []*frame{f})
	if err != nil {
		t.Fatal(err)
	}
	if len(frames) == 0 {
		t.Fatal("no place")
	}
	best := frames[0]
	if len(best.standing[0].holes) != 4 || best.idleHeads() != 0 || math.Abs(best.kept.at.Z-30) > 1e-9 || math.Abs(best.kept.at.X) > 1e-9 {
		t.Errorf("stands at %+v with %d holes, %d idle", best.kept.at, len(best.standing[0].holes), best.idleHeads())
	}
	// Without the foot's holes it stands as it is bolted now, moved so that the front hole is 530 high: the quarter chord is as high at 0°.
	f.wish.Kept.Holes = w.Kept.Holes[4:]
	f.wish.Kept.Stands = []plane.Pose{{X: 3, Z: 7}}
	places := f.keptPlaces()
	if len(places) != 2 || places[0] != f.wish.Kept.Stands[0] || math.Abs(places[1].X-3) > 1e-9 || math.Abs(places[1].Z-30) > 1e-9 {
		t.Errorf("stands at %v, want 3, 7 as now, and 3, 30", places)
	}
	if lo, hi, ok := f.besideKept(); ok || lo != hi {
		t.Errorf("nothing is placed yet, but front holes go from %v to %v", lo, hi)
	}
	// One kept front hole at -20+3: the 80 mm of room about it.
	f.kept = f.wish.Kept.placed(places[1])
	if lo, hi, ok := f.besideKept(); !ok || lo != -57 || hi != 23 {
		t.Errorf("front holes from %v to %v, want -57 to 23", lo, hi)
	}
}

// TestIdleHeadsByHand: a front hole 500 mm above the bracket's origin serves 500 mm, not 530. A rear hole at 513 is 13 mm above the front one at asin(13/150),
// 5°, so that it serves 500 mm where 5° is wanted, and not where 0° is.
func TestIdleHeadsByHand(t *testing.T) {
	f := simple(Wish{HeightWithin: 1, FootBolts: 4})
	f.quarter = plane.Point{}
	f.standing = []foot{{stands: []stance{{plane.Pose{}, 0, 0}}}}
	for _, c := range []struct {
		height, high float64
		kept         keeping
		idle         int
	}{
		{500, 0, keeping{fronts: []plane.Point{{Z: 500}}}, 0}, {530, 0, keeping{fronts: []plane.Point{{Z: 500}}}, 1},
		{500, 0, keeping{rears: []plane.Point{{X: 150, Z: 513}}}, 1}, {500, 5, keeping{rears: []plane.Point{{X: 150, Z: 513}}}, 0},
	} {
		f.wish.Heights, f.wish.High, f.kept = []float64{c.height}, c.high*plane.Deg, c.kept
		if got := f.idleHeads(); got != c.idle {
			t.Errorf("%+v: %d idle, want %d", c, got, c.idle)
		}
	}
	// Onto a rear hole at 150, 513 at the whole of 5°: the front one is 150 cos 5° ahead of it and 13.1 below.
	if p := f.onto(plane.Point{X: 150, Z: 513}, 1); math.Abs(p.X-0.6) > 0.06 || math.Abs(p.Z-499.9) > 0.06 {
		t.Errorf("front hole at %v", p)
	}
	// 150 from 90, 620 and 90, 380: 120 above and below, so 90 ahead.
	if p, ok := f.ahead(plane.Point{X: 90, Z: 620}, plane.Point{X: 90, Z: 380}); !ok || p.Distance(plane.Point{Z: 500}) > 0.06 {
		t.Errorf("ahead of both at %v", p)
	}
	if _, ok := f.ahead(plane.Point{}, plane.Point{Z: 300.1}); ok {
		t.Error("two holes further apart than twice the bolts meet")
	}
}

// TestKeep reads what holes are for from the settings of the demo, and refuses what cannot be kept.
func TestKeep(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	table := modeltest.TableOf(t, c)
	k, err := Keep(table, []string{"A", "B2", "k1", "A"})
	if err != nil || len(k.Holes) != 3 || k.Holes[0].ID != "k1" || k.Holes[0].Role != AtFoot || k.Holes[1].ID != "A" || k.Holes[1].Role != AtFront || k.Holes[2].Role != AtRear {
		t.Errorf("%+v, %v", k, err)
	}
	if len(k.Stands) == 0 || k.Turn != 0 {
		t.Errorf("stands at %v, turned by %v", k.Stands, k.Turn)
	}
	var fault *KeepFault
	if _, err := Keep(table, []string{"no"}); !errors.As(err, &fault) || fault.What != NoSuchHole || fault.Name != "no" {
		t.Errorf("%v", err)
	}
	small := k
	small.Holes = slices.Clone(k.Holes)
	small.Holes[0].D = 5
	_, err = Design(context.Background(), c, Wish{Heights: []float64{1250}, HeightWithin: 10, High: 0.1, Step: 0.1, Kept: small}, nil)
	if f, ok := err.(*Fault); !ok || f.What != KeptHoles {
		t.Errorf("a kept hole of 5 mm: %v", err)
	}
}
