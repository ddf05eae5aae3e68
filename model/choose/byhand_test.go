package choose

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// at is a row by hand: its name, its angle in degrees and its height in mm.
type at struct {
	id            string
	angle, height float64
}

// tableOf makes a table of rows by hand, each bolted by one joint below and one at the
// wing.
func tableOf(rows ...at) *model.Table {
	t := &model.Table{Car: &model.Car{Joints: make([]model.Joint, 2), Parts: []model.Part{{}, {}, {Part: holes.Part{Holes: []holes.Hole{{ID: "F", X: 60}, {ID: "R", X: 160}}}}}}}
	for _, r := range rows {
		s := &holes.Setting{ID: r.id, Fits: []*holes.Fit{{}, {Pairs: []holes.Pair{{Lower: 0, Upper: 0}, {Lower: 1, Upper: 1}}}}}
		row := model.Row{Position: &model.Position{Setting: s, Angle: r.angle * plane.Deg, Height: r.height}}
		row.StallMargin = 5 * plane.Deg
		t.Rows = append(t.Rows, row)
	}
	return t
}

// to is where a step leads; "" for nowhere.
func to(t *model.Table, i int, way Step) string {
	k, ok := StepFrom(t, i, way)
	if !ok {
		return ""
	}
	return t.Rows[k].ID
}

// A step by angle stays within 6 mm of the height where it can, a step by height within
// 0.6° of the angle; else a millimetre of straying costs half a degree, a degree 25 mm.
func TestStepsByHand(t *testing.T) {
	for _, c := range []struct {
		what string
		rows []at
		way  Step
		want string
	}{
		{"stays at the height", []at{{"a", 0, 1200}, {"b", 2, 1205}, {"c", 1, 1207}}, AngleUp, "b"},
		{"as far as 6 mm", []at{{"a", 0, 1200}, {"b", 5, 1200}, {"c", 1, 1206}}, AngleUp, "c"},
		{"stays at the angle", []at{{"a", 0, 1200}, {"e", 0.5, 1250}, {"f", 0.7, 1220}}, HeightUp, "e"},
		{"a millimetre costs half a degree", []at{{"a", 0, 1200}, {"g", 1, 1220}, {"h", 6, 1211}}, AngleUp, "g"},
		{"a degree costs 25 mm", []at{{"a", 0, 1200}, {"p", 1.5, 1220}, {"q", 0.75, 1240}}, HeightUp, "p"},
		{"down", []at{{"a", 0, 1200}, {"b", 2, 1200}, {"d", -1, 1200}, {"e", -3, 1200}}, AngleDown, "d"},
		{"lower", []at{{"a", 0, 1200}, {"b", 0, 1250}, {"d", 0, 1180}, {"e", 0, 1150}}, HeightDown, "d"},
		{"no step of 0.01°", []at{{"a", 0, 1200}, {"b", 0.01, 1200}}, AngleUp, ""},
		{"no step of 0.4 mm", []at{{"a", 0, 1200}, {"b", 0, 1200.4}}, HeightUp, ""},
		{"the end", []at{{"a", 5, 1200}, {"b", 2, 1200}}, AngleUp, ""},
	} {
		if got := to(tableOf(c.rows...), 0, c.way); got != c.want {
			t.Errorf("%s: to %q, want %q", c.what, got, c.want)
		}
	}
}

// bolted gives a row its own bolts: the way below, and the lower holes of the wing's front
// and rear bolt.
func bolted(t *model.Table, i int, below *holes.Fit, front, rear int) {
	t.Rows[i].Fits = []*holes.Fit{below, {Pairs: []holes.Pair{{Lower: rear, Upper: 1}, {Lower: front, Upper: 0}}}}
}

// The wing's front bolt goes to the next hole of the part below, its rear bolt to the next
// angle with the front one where it is, the joints below to the next height.
func TestStepsFromHoleToHole(t *testing.T) {
	one, two := &holes.Fit{}, &holes.Fit{}
	table := tableOf(at{"a", 0, 1200}, at{"b", 2, 1210}, at{"c", 7, 1210}, at{"d", 4, 1240}, at{"e", 3, 1200}, at{"f", 0, 1300})
	bolted(table, 0, one, 0, 3)
	bolted(table, 1, one, 1, 3)
	bolted(table, 2, one, 1, 4)
	bolted(table, 3, one, 2, 3)
	bolted(table, 4, one, 0, 4)
	bolted(table, 5, two, 0, 3)
	table.Rows[5].Fits[1] = table.Rows[0].Fits[1] // the same bolts at the wing
	for _, c := range []struct {
		from int
		way  Step
		want string
	}{
		{0, FrontNext, "b"}, // hole 1 comes next; of two ways the nearer angle
		{3, FrontPrev, "b"},
		{4, FrontNext, "b"}, // from 3°: b at 2° is nearer than c at 7°
		{0, FrontPrev, ""},
		{3, FrontNext, ""},
		{0, RearNext, "e"},
		{4, RearPrev, "a"},
		{1, RearNext, "c"},
		{3, RearNext, ""},
		{0, BelowNext, "f"},
		{5, BelowPrev, "a"},
		{5, BelowNext, ""},
		{1, BelowNext, ""},
	} {
		if got := to(table, c.from, c.way); got != c.want {
			t.Errorf("from %s by %d: to %q, want %q", table.Rows[c.from].ID, c.way, got, c.want)
		}
	}
	if front, rear := WingBolts(table.Rows[1].Position, table.Car.Parts[2].Part); front.Lower != 1 || rear.Lower != 3 {
		t.Errorf("front bolt in hole %d, rear in %d; want 1 and 3", front.Lower, rear.Lower)
	}
}

// It starts with the most downforce that keeps all limits, and 10 mm count as much as 1°.
func TestStartAndNearest(t *testing.T) {
	table := tableOf(at{"a", 0, 1200}, at{"b", 5, 1200}, at{"c", 0, 1260})
	for i, down := range []float64{100, 500, 300} {
		table.Rows[i].Downforce = down
	}
	table.Rows[1].Breaches = []model.Breach{{Limit: model.LimitTop}}
	if i := Start(table); i != 2 {
		t.Errorf("starts with %s", table.Rows[i].ID)
	}
	// From 2°, 1230 mm: a is √(2² + 3²) = 3.6 off, b √(3² + 3²) = 4.2, c the same as a but
	// for 1 mm less.
	if i := Nearest(table, 2*plane.Deg, 1231); table.Rows[i].ID != "c" {
		t.Errorf("nearest is %s, want c", table.Rows[i].ID)
	}
	if i := Nearest(table, 4*plane.Deg, 1220); table.Rows[i].ID != "b" {
		t.Errorf("nearest is %s, want b", table.Rows[i].ID)
	}
	if Start(tableOf()) != 0 || Nearest(tableOf(), 0, 0) != 0 {
		t.Error("an empty table has a start")
	}
}

// Heights up to 8 mm apart are one level; steps are the widest between neighbours.
func TestLevelsByHand(t *testing.T) {
	table := tableOf(at{"a", 4, 1200}, at{"b", 1, 1207}, at{"c", 9, 1207}, at{"d", 0, 1216}, at{"e", 2, 1300}, at{"f", 3, 1400})
	for i, down := range []float64{400, 100, 450, 50, 1, 1} {
		table.Rows[i].Downforce = down
	}
	table.Rows[4].Stalled = true
	table.Rows[5].Breaches = []model.Breach{{}}
	levels := Levels(table)
	if len(levels) != 2 || levels[0].Count != 3 || levels[1].Count != 1 {
		t.Fatalf("%+v", levels)
	}
	l := levels[0]
	if math.Abs(l.Height-(1200+1207+1207)/3.0) > 1e-9 || l.Low != 1*plane.Deg || l.High != 9*plane.Deg || math.Abs(l.AngleStep-5*plane.Deg) > 1e-12 || l.ForceStep != 300 {
		t.Errorf("%+v; want 1 to 9° with a step of 5° and of 300 N", l)
	}
	for height, want := range map[float64]*Level{1212: &levels[0], 1209: &levels[0], 1224: &levels[1], 1224.5: nil, 1190: nil} {
		if got := LevelAt(levels, height); got != want {
			t.Errorf("at %g mm: %v", height, got)
		}
	}
}

func TestRangesByHand(t *testing.T) {
	table := tableOf(at{"1:S@0", 0, 1200}, at{"1:H", 1, 1200}, at{"1:S@2", 2, 1200}, at{"2:S@2", 3, 1200})
	table.Car.Parts[1].Holes = []holes.Hole{{ID: "S@0", Slot: "S"}, {ID: "S@2", Slot: "S"}, {ID: "H"}}
	table.Car.Parts[0].Holes = []holes.Hole{{ID: "1"}, {ID: "2"}}
	fit := func(below, upper int) []*holes.Fit {
		return []*holes.Fit{{Pairs: []holes.Pair{{Lower: below, Upper: 2}}}, {Pairs: []holes.Pair{{Lower: upper, Upper: 0}}}}
	}
	table.Rows[0].Fits, table.Rows[1].Fits, table.Rows[2].Fits, table.Rows[3].Fits = fit(0, 0), fit(0, 2), fit(0, 1), fit(1, 1)
	var got [][]string
	for _, g := range Ranges(table, []*model.Row{&table.Rows[0], &table.Rows[1], &table.Rows[2], &table.Rows[3]}) {
		var ids []string
		for _, r := range g.Rows {
			ids = append(ids, r.ID)
		}
		got = append(got, ids)
	}
	if want := [][]string{{"1:S@0", "1:S@2"}, {"1:H"}, {"2:S@2"}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Each criterion by hand, just met and just missed.
func TestShortfallsByHand(t *testing.T) {
	row := tableOf(at{"a", 5, 1250}).Rows[0]
	row.Share, row.Shift, row.Downforce, row.OnCar, row.Drag, row.StallMargin = 0.5, -0.02, 400, 300, 30, 3*plane.Deg
	n := func(x float64) given.Number { return given.Is(x) }
	for _, c := range []struct {
		c    Criteria
		want []Obstacle
	}{
		{Criteria{}, nil},
		{Criteria{FrontShare: Target{n(0.505), 0.005}}, nil},
		{Criteria{FrontShare: Target{n(0.506), 0.005}}, []Obstacle{OffFrontShare}},
		{Criteria{FrontShare: Target{n(0.494), 0.005}}, []Obstacle{OffFrontShare}},
		{Criteria{BalanceShift: Target{n(-0.025), 0.004}}, []Obstacle{OffBalanceShift}},
		{Criteria{BalanceShift: Target{n(-0.025), 0.006}}, nil},
		{Criteria{MinDownforce: n(400), MaxDownforce: n(400)}, nil},
		{Criteria{MinDownforce: n(401)}, []Obstacle{BelowMinDownforce}},
		{Criteria{MaxDownforce: n(399)}, []Obstacle{AboveMaxDownforce}},
		{Criteria{MaxDrag: n(30)}, nil},
		{Criteria{MaxDrag: n(29)}, []Obstacle{AboveMaxDrag}},
		{Criteria{MinStallMargin: n(3 * plane.Deg)}, nil},
		{Criteria{MinStallMargin: n(3.1 * plane.Deg)}, []Obstacle{BelowMinStallMargin}},
		{Criteria{MinHeight: n(1250), MaxHeight: n(1250)}, nil},
		{Criteria{MinHeight: n(1251)}, []Obstacle{BelowMinHeight}},
		{Criteria{MaxHeight: n(1249), MaxDrag: n(10)}, []Obstacle{AboveMaxHeight, AboveMaxDrag}},
		{Criteria{MinOnCar: n(300), MaxOnCar: n(300), MinAngle: n(5 * plane.Deg), MaxAngle: n(5 * plane.Deg)}, nil},
		{Criteria{MinOnCar: n(301)}, []Obstacle{BelowMinOnCar}},
		{Criteria{MaxOnCar: n(299)}, []Obstacle{AboveMaxOnCar}},
		{Criteria{MinAngle: n(5.1 * plane.Deg)}, []Obstacle{BelowMinAngle}},
		{Criteria{MaxAngle: n(4.9 * plane.Deg)}, []Obstacle{AboveMaxAngle}},
		{Criteria{MinLid: n(60 * plane.Deg)}, []Obstacle{LidUnknown}},
		{Criteria{KeepHeight: true}, []Obstacle{NothingOnCar}},
	} {
		var got []Obstacle
		for _, s := range lacks(c.c, &row) {
			got = append(got, s.Obstacle)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%+v: stopped by %v, want %v", c.c, got, c.want)
		}
	}
	unknown, lifting, stalled, none := row, row, row, row
	unknown.StallMargin, none.Downforce = math.NaN(), math.NaN()
	lifting.Downforce, stalled.Stalled, stalled.StallMargin = -150, true, -1*plane.Deg
	for _, c := range []struct {
		row  model.Row
		want Obstacle
		size float64
	}{
		{unknown, StallMarginUnknown, 1}, {lifting, Lifts, 1 + 1.5}, {stalled, Stalled, 0.5}, {none, NoFigures, math.Inf(1)},
	} {
		crit := Criteria{}
		if c.want == StallMarginUnknown {
			crit.MinStallMargin = n(0)
		}
		if got := lacks(crit, &c.row); len(got) != 1 || got[0].Obstacle != c.want || math.Abs(got[0].timesAcceptable-c.size) > 1e-9 && !math.IsInf(c.size, 1) {
			t.Errorf("%+v, want %v of size %g", got, c.want, c.size)
		}
	}
	p := &picker{c: Criteria{FrontShare: Target{Value: n(0.49)}, BalanceShift: Target{Value: n(-0.05)}}}
	if got := p.look(&row).off(p.balances()); math.Abs(got-0.03) > 1e-12 {
		t.Errorf("off by %g, want 0.03, the larger", got)
	}
}

// lacks lists what a row lacks, whatever is uncertain of it.
func lacks(c Criteria, r *model.Row) []Shortfall {
	p := &picker{t: tableOf(), c: c}
	return p.judge(p.look(r), 0).Shortfalls
}

// A lid that opens to 60° is enough for 60° and not for 61°; a height that is kept may be 5.6 mm off, twice √2
// times 2 mm of tape, and not 5.7; stalled and lifting settings are taken where they are asked for.
func TestMoreShortfallsByHand(t *testing.T) {
	row := tableOf(at{"a", 5, 1250}).Rows[0]
	row.Downforce, row.Gap.Lid.To, row.Gap.Lid.Of = 400, 60*plane.Deg, 90*plane.Deg
	of := func(c Criteria, fromHeight float64, r model.Row) (all []Obstacle) {
		from := tableOf(at{"from", 5, fromHeight})
		p := newPicker(from, c)
		for _, s := range p.hard(p.look(&r)) {
			all = append(all, s.Obstacle)
		}
		return all
	}
	stalled, lifting := row, row
	stalled.Stalled, stalled.StallMargin, lifting.Downforce = true, -1, -10
	for i, c := range []struct {
		c    Criteria
		from float64
		row  model.Row
		want []Obstacle
	}{
		{Criteria{MinLid: given.Is(60 * plane.Deg)}, 0, row, nil},
		{Criteria{MinLid: given.Is(61 * plane.Deg)}, 0, row, []Obstacle{BelowMinLid}},
		{Criteria{KeepHeight: true, From: "from"}, 1250 - 5.6, row, nil},
		{Criteria{KeepHeight: true, From: "from"}, 1250 + 5.7, row, []Obstacle{OtherHeight}},
		{Criteria{Lifting: true}, 0, stalled, []Obstacle{Stalled}},
		{Criteria{Stalled: true}, 0, stalled, nil},
		{Criteria{Stalled: true}, 0, lifting, []Obstacle{Lifts}},
		{Criteria{Lifting: true}, 0, lifting, nil},
	} {
		if got := of(c.c, c.from, c.row); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%d: %v, want %v", i, got, c.want)
		}
	}
}

// Of settings that miss, the nearest comes first: 100 N of downforce, 20 N of drag, 25 mm, 2°
// and a percentage point weigh alike, a broken limit as much as one of them.
func TestNearestMissByHand(t *testing.T) {
	table := tableOf(at{"drag", 5, 1250}, at{"height", 5, 1240}, at{"limit", 5, 1250}, at{"force", 5, 1250}, at{"share", 5, 1250})
	for i := range table.Rows {
		table.Rows[i].Downforce, table.Rows[i].Share = 400, 0.5
	}
	table.Rows[0].Drag = 10.5 // 10.5/20 = 0.525
	// 10/25 = 0.4
	table.Rows[2].Breaches = []model.Breach{{}} // 1
	table.Rows[3].Downforce = 355               // 45/100 = 0.45
	table.Rows[4].Share = 0.506                 // 0.6 of a point
	hits, near := Pick(table, Criteria{MaxDrag: given.Is(0), MinHeight: given.Is(1250), MinDownforce: given.Is(400), FrontShare: Target{Value: given.Is(0.5)}})
	var got []string
	for _, m := range near {
		got = append(got, table.Rows[m.Row].ID)
	}
	if want := "[height force drag share limit]"; fmt.Sprint(got) != want || len(hits) != 0 {
		t.Errorf("%v, %d hits; want %s", got, len(hits), want)
	}
}

func TestApartByHand(t *testing.T) {
	a, b := tableOf(at{"a", 0, 0}).Rows[0], tableOf(at{"b", 0, 0}).Rows[0]
	a.Downforce, b.Downforce, a.Share, b.Share = 100, 150, 0.5, 0.5
	for _, c := range []struct {
		force, share float64
		want         Clarity
	}{
		{51, 1, NoClearDifference}, {50, 1, NotSure}, {26, 1, NotSure}, {25, 1, Clear}, {math.NaN(), 1, NotKnown},
	} {
		if got := Apart(&a, &b, model.Contribution{Moved: model.Moved{Downforce: c.force, Share: c.share}}); got != c.want {
			t.Errorf("50 N apart ± %g: %v, want %v", c.force, got, c.want)
		}
	}
	if got := Apart(&a, &a, model.Contribution{}); got != NoClearDifference {
		t.Errorf("a setting against itself: %v", got)
	}
	b.Downforce, b.Share = 100, 0.49
	if got := Apart(&a, &b, model.Contribution{Moved: model.Moved{Downforce: 1, Share: 0.004}}); got != Clear {
		t.Errorf("a point apart ± 0.4: %v", got)
	}
}

// By hand: 2° to the side is as far as 20 mm up, so 1.9° is nearer than 20 mm and 2.1° is not.
func TestNearestWeighsHeightAgainstAngle(t *testing.T) {
	for angle, want := range map[float64]string{1.9: "side", 2.1: "up"} {
		table := tableOf(at{"up", 0, 1220}, at{"side", angle, 1200})
		if i := Nearest(table, 0, 1200); table.Rows[i].ID != want {
			t.Errorf("%g°: nearest is %s", angle, table.Rows[i].ID)
		}
	}
}

// Steps in the order of angle, then height, then the table: of two alike but for a micrometre the
// table's order decides, so that no step goes back and forth.
func TestNextInOrder(t *testing.T) {
	table := tableOf(at{"a", 1, 1200}, at{"b", 1, 1200.0000001}, at{"c", 1, 1201}, at{"d", 1.0000001, 1190}, at{"e", 2, 1100})
	all := func(int) bool { return true }
	order := func(p *model.Position) (float64, float64) { return p.Angle / plane.Deg, p.Height }
	for _, c := range []struct {
		from int
		up   bool
		want int
	}{{3, true, 0}, {0, true, 1}, {1, true, 2}, {2, true, 4}, {4, true, -1}, {4, false, 2}, {2, false, 1}, {1, false, 0}, {0, false, 3}, {3, false, -1}} {
		k, ok := next(table, c.from, c.up, all, order)
		if ok != (c.want >= 0) || ok && k != c.want {
			t.Errorf("from %s, up %v: %d, %v; want %d", table.Rows[c.from].ID, c.up, k, ok, c.want)
		}
	}
}

// At 1200 mm the steps are 1° and 4°, at 1300 mm 6° with an end that is stalled, 2° without: 4° it is.
// What is no wider than twice the play is no gap.
func TestWidestGapByHand(t *testing.T) {
	table := tableOf(at{"a", 0, 1200}, at{"b", 5, 1202}, at{"c", 1, 1204}, at{"d", 3, 1300}, at{"e", 9, 1300}, at{"f", 5, 1301})
	table.Rows[4].Stalled = true
	for i := range table.Rows {
		table.Rows[i].Downforce = 100
	}
	g, ok := WidestGap(table)
	if !ok || g.Low.ID != "c" || g.High.ID != "b" {
		t.Errorf("%v %v", g, ok)
	}
	for i := range table.Rows {
		table.Rows[i].Play = 1.5 * plane.Deg // twice √2 · 1.5° = 4.2°
	}
	if g, ok = WidestGap(table); ok {
		t.Errorf("within the play: %s to %s", g.Low.ID, g.High.ID)
	}
}
