package drill

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// lever is the table of the lever, which is bolted level.
func lever(t *testing.T) *model.Table {
	t.Helper()
	table, err := modeltest.Lever(t, 0).Map(45)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 1 || math.Abs(table.Rows[0].Angle) > 1e-9 {
		t.Fatalf("%d settings, the first at %g rad", len(table.Rows), table.Rows[0].Angle)
	}
	return table
}

// goal is a goal for a hole of the lever's bracket.
func goal(change func(w *Goal)) Goal {
	w := Goal{Count: 1, D: 8.4, Joint: "j", Name: func(n int) string { return string(rune('M' + n)) }}
	change(&w)
	return w
}

// The suggestions for 10° give 10°, and the promise is what the drilled car has.
func TestSuggestByHand(t *testing.T) {
	table := lever(t)
	w := goal(func(w *Goal) { w.Angle, w.Grid = given.Is(10*plane.Deg), 0.5 })
	var last float64
	f, err := Suggest(t.Context(), NewExisting(table), w, func(part float64) {
		if part < last || part > 1 {
			t.Errorf("progress from %g to %g", last, part)
		}
		last = part
	})
	best := f.Best
	if err != nil || len(best) == 0 {
		t.Fatalf("%d suggestions, %v", len(best), err)
	}
	for _, s := range best {
		if s.Hits < 1 || s.Short != nil || s.Verdict.Worth != NotChecked || s.Verdict.Part != "bracket" {
			t.Errorf("%+v: %d hits, %+v", s.Holes[0].Hole, s.Hits, s.Verdict)
		}
	}
	if r, ok := Served(NewExisting(table), goal(func(w *Goal) { w.Angle = given.Is(0.3 * plane.Deg) })); !ok || r.ID != table.Rows[0].ID {
		t.Error("0.3° is not served by the setting at 0°")
	}
	if _, ok := Served(NewExisting(table), goal(func(w *Goal) { w.Fill = true })); ok {
		t.Error("steps are said to be filled by a setting")
	}
}

// What counts as wanted, at its edges: 0.4°, 12 mm, 3 %; never past the stall or outside limits.
func TestGoalIsMetByHand(t *testing.T) {
	for _, c := range []struct {
		angle, height, down float64
		change              func(r *model.Row)
		want                bool
	}{
		{10, 1200, 300, nil, true},
		{10.39, 1211.9, 308.9, nil, true},
		{9.61, 1188.1, 291.1, nil, true},
		{10.41, 1200, 300, nil, false},
		{9.59, 1200, 300, nil, false},
		{10, 1212.1, 300, nil, false},
		{10, 1187.9, 300, nil, false},
		{10, 1200, 309.1, nil, false},
		{10, 1200, 290.9, nil, false},
		{10, 1200, 300, func(r *model.Row) { r.Stalled = true }, false},
		{10, 1200, 300, func(r *model.Row) { r.Breaches = []model.Breach{{Limit: model.LimitTop}} }, false},
	} {
		r := rowAt(c.angle, c.height, c.down)
		if c.change != nil {
			c.change(&r)
		}
		if got := (&Existing{}).meets(Goal{Angle: given.Is(10 * plane.Deg), Height: given.Is(1200), Downforce: given.Is(300)}, nil, &r); got != c.want {
			t.Errorf("%g° at %g mm, %g N: %v", c.angle, c.height, c.down, got)
		}
		if got := (&Existing{}).meets(Goal{}, nil, &r); got != (c.change == nil) {
			t.Errorf("%g° at %g mm, %g N, nothing asked: %v", c.angle, c.height, c.down, got)
		}
	}
}

// What makes a new setting of use: that its downforce differs by more than is known, and its angle
// by more than play or its height by more than 2 mm.
func TestUseByHand(t *testing.T) {
	table := lever(t)
	old := &table.Rows[0]
	at := func(angle, height float64) *model.Row {
		pose := *old.Position
		pose.Setting = &holes.Setting{ID: "new", Play: 0.2 * plane.Deg}
		pose.Angle, pose.Height = angle*plane.Deg, height
		return table.RowAt(&pose)
	}
	old.Setting.Play = 0.2 * plane.Deg // 2·√(0.2² + 0.2²)/√3 = 0.327°
	h := old.Height
	for _, c := range []struct {
		what   string
		row    *model.Row
		change func(r *model.Row)
		want   Use
	}{
		{"5° more", at(5, h), nil, OfUse},
		{"past the stall", at(20, h), nil, IsStalled},
		{"that lifts", at(-8, h), nil, LiftsTheCar},
		{"outside limits", at(5, h), func(r *model.Row) { r.Breaches = []model.Breach{{Limit: model.LimitRear}} }, OutsideLimits},
		{"0.05° more", at(0.05, h+50), nil, LikeAnother}, // its force differs by 1 %, which is less than is known
		{"much force, no way to feel where from", at(0.32, h+1.9), func(r *model.Row) { r.Downforce *= 2 }, LikeAnother},
		{"much force and 2.1 mm", at(0.16, h+2.1), func(r *model.Row) { r.Downforce *= 2 }, OfUse},
		{"much force and 0.34°", at(0.34, h), func(r *model.Row) { r.Downforce *= 2 }, OfUse},
		{"much force and −0.34°, 2.1 mm lower", at(-0.34, h-2.1), func(r *model.Row) { r.Downforce *= 2 }, OfUse},
	} {
		if c.change != nil {
			c.change(c.row)
		}
		got := newAlikes(table).use(table, c.row)
		if got.Use != c.want {
			t.Errorf("%s: %v, want %v (%+v)", c.what, got.Use, c.want, got)
		}
		if got.Use == LikeAnother && (got.ID != old.ID || got.Other != old.Downforce || got.Downforce != c.row.Downforce || !(got.StdUnc > 0)) {
			t.Errorf("%s: like %+v", c.what, got)
		}
	}
	// What is like a setting that cannot be run is of use.
	for what, spoil := range map[string]func(r *model.Row){
		"breaks a limit": func(r *model.Row) { r.Breaches = []model.Breach{{Limit: model.LimitTop}} }, "is stalled": func(r *model.Row) { r.Stalled = true },
	} {
		rows := []model.Row{*old}
		spoil(&rows[0])
		before := &model.Table{Rows: rows}
		if got := newAlikes(before).use(table, at(0.05, h)); got.Use != OfUse {
			t.Errorf("like one that %s: %+v", what, got)
		}
	}
}

// The verdicts on the lever, one of each: a hole for 10°, the same where nothing says that there is
// metal, one that fits nothing, one for a third bolt, one that adds only what is outside a limit,
// one that cannot be drilled.
func TestVerdictsByHand(t *testing.T) {
	sin, cos := math.Sincos(10 * plane.Deg)
	at := func(x, z float64) NewHole {
		return NewHole{Part: 0, Hole: holes.Hole{ID: "N", X: x, Z: z, D: 8.4, Joint: "j"}}
	}
	square := []plane.Point{{X: -50, Z: -50}, {X: 250, Z: -50}, {X: 250, Z: 150}, {X: -50, Z: 150}}
	for _, c := range []struct {
		what   string
		hole   NewHole
		change func(c *model.Car)
		want   Worth
	}{
		{"10°", at(100+100*cos, 100*sin), func(c *model.Car) { c.Parts[0].Outline = square }, WorthDrilling},
		{"10°, no outline", at(100+100*cos, 100*sin), nil, NotChecked},
		{"far off", at(153, 100), nil, NothingFits},
		{"a third bolt", at(50, 50), func(c *model.Car) {
			c.Parts[1].Holes = append(c.Parts[1].Holes, holes.Hole{ID: "T", X: 50, Z: 50, D: 8.4})
		}, FurtherBolts},
		{"outside a limit", at(100+100*cos, 100*sin), func(c *model.Car) { c.Limits.Top = given.Is(1215) }, NothingNew},
		{"on another hole", at(3, 0), nil, CannotDrill},
	} {
		table := lever(t)
		if c.change != nil {
			c.change(table.Car)
		}
		fresh, err := table.Car.Map(45)
		if err != nil {
			t.Fatal(err)
		}
		tr, err := Try(t.Context(), fresh, c.hole)
		if err != nil {
			t.Fatal(err)
		}
		if tr.Verdict.Worth != c.want || tr.Verdict.Good() != (c.want == WorthDrilling || c.want == NotChecked) {
			t.Errorf("%s: %+v, want %v", c.what, tr.Verdict, c.want)
		}
	}
	// By hand: 103 mm from q is 3 mm too far for F and R, of which two clearances of 0.4 mm take 0.8.
	tr, err := Try(t.Context(), lever(t), at(203, 0))
	if err != nil {
		t.Fatal(err)
	}
	if m := tr.Verdict.Miss; tr.Verdict.Worth != NothingFits || math.Abs(m.Slack+2.2) > 1e-9 || math.Abs(m.Lower-103) > 1e-9 || math.Abs(m.Upper-100) > 1e-9 {
		t.Errorf("it misses by %+v", tr.Verdict)
	}
}
