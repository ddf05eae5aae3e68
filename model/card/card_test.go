package card

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

var day = time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC)

func row(t *testing.T, table *model.Table, name string) *model.Row {
	t.Helper()
	found := table.Named(strings.Fields(name))
	if len(found) != 1 {
		t.Fatalf("%q names %d settings", name, len(found))
	}
	return found[0]
}

func cardOf(t *testing.T, table *model.Table, r *model.Row, u units.System) Card {
	t.Helper()
	s, err := Of(context.Background(), table, Wish{Rows: []*model.Row{r}, Cards: []*model.Row{r}, Over: 1, Date: day, Units: u})
	if err != nil {
		t.Fatal(err)
	}
	return s.Cards[0]
}

func said(all []words.NamedText, name string) string {
	for _, n := range all {
		if n.Name == name {
			return n.Text
		}
	}
	return ""
}

// The coupé's row 4, B2: the chord of 280 mm is at 10.3° with its quarter chord, 70 mm behind the leading edge, at 1322 mm. So the
// leading edge is at 1322 − 70 sin 10.3° = 1309.5 mm, the trailing edge at 1322 + 210 sin 10.3° = 1359.5 mm.
// M8 through 8 mm and 10 mm with two washers of 1.6 mm, a nut of 6.8 mm and two threads of 1.25 mm: 30.5 mm, so 35 mm as sold.
func TestCardByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	c := cardOf(t, table, row(t, table, "row 4, B2"), units.Metric)
	want := []Joint{
		{"foot", "k1 in 4, k2 in 10, k3 in 6, k4 in 12", "4 × M8 x 35, 8.8", "22 N·m dry"},
		{"head", "F in B, R in B2", "2 × M8, 8.8, length to suit the insert", "torque by the insert maker's data sheet"},
	}
	if !slices.Equal(c.Joints, want) {
		t.Errorf("joints %q, want %q", c.Joints, want)
	}
	for name, text := range map[string]string{
		"angle":         "10.3° ± 0.5°, chord line to level ground, trailing edge up",
		"level":         "10.3° ± 0.2° on the chord line",
		"leading edge":  "1310 mm above the ground by tape",
		"trailing edge": "1360 mm, so +50 mm from one to the other",
		"gap":           "44 mm from upright to lid, 11° open",
	} {
		if got := said(c.Set, name); got != text {
			t.Errorf("%s: %q, want %q", name, got, text)
		}
	}
	if got := said(c.Does, "downforce"); got != "503 N (51 kgf) ± 50 N, of the wing itself" {
		t.Errorf("downforce: %q", got)
	}
	if len(c.Marks) > 0 || !strings.Contains(c.Strength, "PASSES THESE CHECKS") {
		t.Errorf("marks %q, %q", c.Marks, c.Strength)
	}
	if !strings.Contains(c.Sure, "± is one standard uncertainty") || !strings.Contains(c.Sure, "the stall is 2.0° ± 2.2° away") {
		t.Errorf("how sure: %q", c.Sure)
	}
}

// A face that is 2° steeper than the chord is read 2° steeper: 12.3°.
func TestLevelOnFace(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	car := *table.Car
	car.Faces = []model.Face{{Name: "end plate", Angle: 2 * 3.141592653589793 / 180}}
	next := *table
	next.Car = &car
	c := cardOf(t, &next, row(t, table, "row 4, B2"), units.Metric)
	if got := said(c.Set, "level on end plate"); !strings.HasPrefix(got, "12.3° ± 0.3°") {
		t.Errorf("level on the end plate: %q", got)
	}
}

func TestInches(t *testing.T) {
	table := modeltest.Table(t, "roadster")
	c := cardOf(t, table, row(t, table, "row a1, H–H2"), units.Imperial)
	if got := said(c.Set, "leading edge"); got != "43.68 in above the ground by tape" {
		t.Errorf("leading edge: %q", got)
	}
	if got := c.Joints[0].Torque; !strings.HasPrefix(got, "11.2 lbf·ft, with paste") {
		t.Errorf("torque: %q", got)
	}
}

// What stands across a card: nothing but where all is checked, holds and keeps the limits. The coupé's row 4, B2 uses 76 % of its
// strength at 255 km/h: at 1.5 times the speed 1.5² as much, 171 %.
func TestMarks(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	faster, slower, without := *table.Car, *table.Car, *table.Car
	design := table.Car.DesignSpeed.Or(0)
	faster.DesignSpeed, slower.DesignSpeed, without.DesignSpeed = given.Is(1.5*design), given.Is(0.9*table.Speed), given.Number{}
	for _, c := range []struct {
		what, name string
		car        *model.Car
		want       []string
	}{
		{"all well", "row 4, B2", table.Car, nil},
		{"more than it bears", "row 4, B2", &faster, []string{"DOES NOT HOLD"}},
		{"figures above the design speed", "row 4, B2", &slower, []string{"STRENGTH NOT CHECKED"}},
		{"no design speed", "row 4, B2", &without, []string{"STRENGTH NOT CHECKED"}},
		{"a limit", "row 4, C2", table.Car, []string{"BREAKS A LIMIT"}},
		{"stalled", "row 3, A3", table.Car, []string{"BREAKS A LIMIT", "STALLED"}},
		{"a limit, and no design speed", "row 4, C2", &without, []string{"BREAKS A LIMIT", "STRENGTH NOT CHECKED"}},
	} {
		next := *table
		next.Car = c.car
		f, _ := strength.Single(c.car)
		if got := words.CardMarks(f, &next, row(t, table, c.name), units.Metric); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}

// No card of any demo is without a mark unless its verdict passes and it keeps all limits.
func TestNoMarkOnlyWhereAllPasses(t *testing.T) {
	clean := 0
	for _, name := range []string{"coupe", "roadster", "saloon"} {
		table := modeltest.Table(t, name)
		f, _ := strength.Single(table.Car)
		for i := range table.Rows {
			r := &table.Rows[i]
			if len(words.CardMarks(f, table, r, units.Metric)) > 0 {
				continue
			}
			clean++
			res, err := f.Best(f.Table.RowAt(r.Position))
			if err != nil || res.Verdict() != strength.Passes || !r.Within() || r.Stalled {
				t.Errorf("%s, %s has no mark: %v, %v", name, r.ID, res.Verdict(), err)
			}
		}
	}
	if clean == 0 {
		t.Error("every card has a mark")
	}
}

// Those that matter: the least and the most downforce are among them, no two are alike, and they are no more than asked for.
func TestMatter(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	rows := table.RowsWithin()
	for _, most := range []int{1, 2, 3, 6, 12, 100} {
		picked := Matter(table, rows, most)
		if len(picked) > most || len(picked) == 0 {
			t.Errorf("%d of at most %d", len(picked), most)
		}
		if most >= len(rows) {
			if len(picked) != len(rows) {
				t.Errorf("%d of %d, all asked for", len(picked), len(rows))
			}
			continue
		}
		least, largest := picked[0].Downforce, picked[0].Downforce
		for i, a := range picked {
			least, largest = min(least, a.Downforce), max(largest, a.Downforce)
			for _, b := range picked[:i] {
				if d, _ := choose.ApartIn(a, b, model.DifferenceStdUnc(table.Budget(a), table.Budget(b))); d == choose.NoClearDifference {
					t.Errorf("at most %d: %s and %s are alike", most, a.ID, b.ID)
				}
			}
		}
		for _, r := range rows {
			if r.Downforce < least || most > 1 && r.Downforce > largest {
				t.Errorf("at most %d: %s with %.0f N is left out, between %.0f and %.0f N", most, r.ID, r.Downforce, least, largest)
			}
		}
	}
}

// Groups are by the hole row of the foot from the lowest up, and by angle within.
func TestGrouped(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	var got []string
	for _, r := range Grouped(table, table.RowsWithin()) {
		got = append(got, table.Name(r.Setting))
	}
	if want := "row 1, C1; row 1, B1; row 1, C2; row 2, C1"; !strings.HasPrefix(strings.Join(got, "; "), want) {
		t.Errorf("%q, want %q first", got, want)
	}
}

func TestLeftOutAndStopped(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	rows := table.RowsWithin()
	w := Wish{Rows: rows, Cards: rows[:1], Over: 40, Date: day, Units: units.Metric, File: "car.toml"}
	s, err := Of(context.Background(), table, w)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Over) != len(rows) || !s.Over[0].Card || s.Over[1].Card {
		t.Errorf("the overview has %d of %d", len(s.Over), len(rows))
	}
	if name := table.Name(rows[1].Setting); !strings.Contains(s.Left, "stanchion card car.toml '"+name+"'") {
		t.Errorf("left out: %q names no way to %s", s.Left, name)
	}
	w.Over = len(rows) - 1
	if s, err = Of(context.Background(), table, w); err != nil || len(s.Over) != 1 {
		t.Errorf("more than one page takes: %d in the overview, %v", len(s.Over), err)
	}
	done, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Of(done, modeltest.Table(t, "coupe"), w); err == nil {
		t.Error("a context that is done ends nothing")
	}
}

// Where a bolt sits in a slot is said; the slot is 21 mm long.
func TestBoltInASlot(t *testing.T) {
	table := modeltest.TableOf(t, modeltest.File(t, "slot.toml"))
	c := cardOf(t, table, row(t, table, "S@8.4"), units.Metric)
	if got := c.Joints[len(c.Joints)-1].Holes; got != "F in P, R in slot S (its centre 8.4 mm from the lower end, 12.6 mm from the upper end)" {
		t.Errorf("holes: %q", got)
	}
}

// Three of the coupé's: the least downforce, 135 N at row 4, A1, the most, 503 N at row 4, B2, and of those between the one
// furthest from both: 275 N, 140 N from the first, at row 1, B1. Alike with it are B1 of the other rows, 271, 267 and 264 N; row 4, B1
// leaves the foot as it is.
func TestMatterByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	for most, want := range map[int]string{
		1: "row 4, A1",
		2: "row 4, A1; row 4, B2",
		3: "row 4, A1; row 4, B1; row 4, B2",
	} {
		var got []string
		for _, r := range Grouped(table, Matter(table, table.RowsWithin(), most)) {
			got = append(got, table.Name(r.Setting))
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("at most %d: %q, want %q", most, got, want)
		}
	}
	at := func(n float64) *model.Row {
		return &model.Row{Outcome: model.Outcome{Downforce: n}}
	}
	if got := nearness(at(220), []*model.Row{at(400), at(100)}); got != 120 {
		t.Errorf("220 N is %g N from the nearest of 400 and 100 N, want 120", got)
	}
	if got := nearness(at(380), []*model.Row{at(400), at(100)}); got != 20 {
		t.Errorf("380 N is %g N from the nearest of 400 and 100 N, want 20", got)
	}
}
