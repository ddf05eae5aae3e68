package model

import (
	"fmt"
	"math"
	"testing"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/clearance"
	"stanchion/model/given"
)

// broken lists the limits that a row breaks.
func broken(r *Row) string {
	var names []Limit
	for _, b := range r.Breaches {
		names = append(names, b.Limit)
	}
	return fmt.Sprint(names)
}

// By hand for a table that tops out at 17° of attack: at 5° in 3° of flow the margin is 9°; past
// the top it is broken whatever the limit; a margin that nobody knows breaks a limit on it and
// without one is only missing.
func TestStallMarginByHand(t *testing.T) {
	table := plainTable(t, 5, 15)
	near := func(got, want float64) bool { return math.Abs(got/plane.Deg-want) < 0.05 }
	if !near(table.Rows[0].StallMargin, 9) || !near(table.Rows[1].StallMargin, -1) || table.Rows[0].Stalled || !table.Rows[1].Stalled {
		t.Errorf("margins %.2f° and %.2f°", table.Rows[0].StallMargin/plane.Deg, table.Rows[1].StallMargin/plane.Deg)
	}
	for _, c := range []struct {
		limit   given.Number
		margin  float64 // °
		stalled bool
		broken  string
		missing int
	}{
		{given.Number{}, 9, false, "[]", 0},
		{given.Number{}, -1, true, "[]", 0},
		{given.Number{}, math.NaN(), false, "[]", 1},
		{given.Is(9 * plane.Deg), 9, false, "[]", 0},
		{given.Is(9.01 * plane.Deg), 9, false, "[stall margin]", 0},
		{given.Is(-5 * plane.Deg), -1, true, "[stall margin]", 0},
		{given.Is(1 * plane.Deg), math.NaN(), false, "[stall margin]", 0},
	} {
		r := &Row{StallMargin: c.margin * plane.Deg, Stalled: c.stalled}
		Limits{StallMargin: c.limit}.ofStall(r)
		if broken(r) != c.broken || len(r.Missing) != c.missing {
			t.Errorf("limit %+v, margin %g°: breaks %s, missing %d; want %s, %d", c.limit, c.margin, broken(r), len(r.Missing), c.broken, c.missing)
		}
	}
}

// Each limit on the place at its edge and a hundredth past it; the gap counts only where there
// is something to touch, and to touch is never allowed.
func TestLimitsOfPlaceByHand(t *testing.T) {
	gap := func(shut, opens float64) clearance.Gap {
		var g clearance.Gap
		g.Shut.Distance, g.Shut.From, g.Shut.To = shut, "wing", "body"
		g.Nearest = g.Shut
		g.Lid.To, g.Lid.Of, g.Lid.Stop = opens*plane.Deg, 70*plane.Deg, "end plate"
		return g
	}
	all := Limits{Top: given.Is(1400), Rear: given.Is(700), Gap: given.Is(15), LidOpening: given.Is(50 * plane.Deg)}
	for _, c := range []struct {
		limits    Limits
		top, rear float64
		gap       clearance.Gap
		want      string
	}{
		{all, 1400, 700, gap(15, 50), "[]"},
		{all, 1400.01, 700, gap(15, 50), "[top]"},
		{all, 1400, 700.01, gap(15, 50), "[rear]"},
		{all, 1400, 700, gap(14.99, 50), "[gap to body and lid]"},
		{all, 1400, 700, gap(15, 49.99), "[opening of the lid]"},
		{all, 1401, 701, gap(1, 1), "[top rear gap to body and lid opening of the lid]"},
		{Limits{}, 1e6, 1e6, gap(0.01, 0.01), "[]"},
		{Limits{}, 1, 1, gap(0, 70), "[gap to body and lid]"},
	} {
		r := &Row{Position: &Position{Top: c.top, Rear: c.rear, Gap: c.gap}}
		c.limits.ofPlace(r)
		if broken(r) != c.want {
			t.Errorf("top %g, rear %g, %+v: breaks %s, want %s", c.top, c.rear, c.gap, broken(r), c.want)
		}
	}
}

// By hand: a body that ends 600 mm behind the axle and a wing that reaches to 735 mm: 135 mm.
func TestOverhangByHand(t *testing.T) {
	c := &Car{Body: []plane.Point{{X: -500, Z: 400}, {X: 600, Z: 500}, {X: 500, Z: 1000}}}
	p := &Position{Rear: 735}
	if got := p.Overhang(c); math.Abs(got-135) > 1e-9 {
		t.Errorf("overhang %.3f mm, want 135", got)
	}
	if got := p.Overhang(&Car{}); !math.IsNaN(got) {
		t.Errorf("overhang without a body: %g", got)
	}
	for limit, want := range map[float64]string{135: "[]", 134.99: "[overhang]"} {
		r := &Row{Position: p}
		Limits{Overhang: given.Is(limit)}.ofSize(r, c)
		if broken(r) != want {
			t.Errorf("a limit of %g mm: breaks %s", limit, broken(r))
		}
	}
}

// A row is within when it breaks nothing and its forces are known; of the others neither counts.
func TestWithinNeedsForces(t *testing.T) {
	for _, c := range []struct {
		row            Row
		within, breaks bool
	}{
		{Row{}, true, false},
		{Row{Missing: []Missing{{Cause: StallUnknown}}}, true, false},
		{Row{Missing: []Missing{{Cause: BeyondFlow, WithoutForce: true}}}, false, false},
		{Row{Breaches: []Breach{{Limit: LimitTop}}}, false, true},
	} {
		if c.row.Within() != c.within || c.row.Breaks() != c.breaks {
			t.Errorf("%+v: within %v, breaks %v", c.row, c.row.Within(), c.row.Breaks())
		}
	}
	table := &Table{Rows: []Row{{}, {Breaches: []Breach{{Limit: LimitTop}, {Limit: LimitRear}}}, {Breaches: []Breach{{Limit: LimitTop}}}}}
	if n := len(table.RowsWithin()); n != 1 {
		t.Errorf("%d rows within", n)
	}
	if got := fmt.Sprint(table.LimitCounts()); got != "[{top 2} {rear 1}]" {
		t.Errorf("counts %s", got)
	}
}

// The flow is taken at the height above the roof: here 1500 − 1300 = 200 mm, half-way between
// 2° at 100 mm and 6° at 300 mm; 1650 mm is above all that was given.
func TestFlowAboveTheRoof(t *testing.T) {
	base := plainTable(t, 0)
	flow, err := aero.NewFlow([]aero.FlowPoint{{Above: 0.1, Angle: 2 * plane.Deg, Ratio: 0.8}, {Above: 0.3, Angle: 6 * plane.Deg, Ratio: 1}})
	if err != nil {
		t.Fatal(err)
	}
	base.Car.Flow = flow
	at := func(height float64) *Row {
		return base.RowAt(&Position{Setting: &holes.Setting{}, X: 450, Height: height})
	}
	if r := at(1500); math.Abs(r.Flow.Angle/plane.Deg-4) > 1e-9 || math.Abs(r.Flow.Ratio-0.9) > 1e-9 || math.Abs(r.Attack/plane.Deg-4) > 1e-9 {
		t.Errorf("flow %+v, angle of attack %.3f°", r.Flow, r.Attack/plane.Deg)
	}
	r := at(1650)
	if !r.NoForces() || len(r.Missing) != 1 || r.Missing[0].Cause != BeyondFlow || math.Abs(r.Missing[0].Have-350) > 1e-9 || math.Abs(r.Missing[0].Low-100) > 1e-9 || math.Abs(r.Missing[0].High-300) > 1e-9 {
		t.Errorf("350 mm above the roof: %+v", r.Missing)
	}
	// On its springs the roof sinks with the wing, so that the flow at it may be that of another height.
	o := base.OutcomeAt(at(1500).Position, 250)
	if math.Abs(o.Flow.Angle/plane.Deg-5) > 1e-9 {
		t.Errorf("flow 250 mm above the roof: %.3f°", o.Flow.Angle/plane.Deg)
	}
}
