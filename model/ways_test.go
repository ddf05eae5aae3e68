package model_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

func hatch(t *testing.T) *model.Table {
	t.Helper()
	car, err := carfile.Load("../testdata/cars/hatch.toml")
	if err != nil {
		t.Fatal(err)
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// idOf spells a row's id from the bolts that it takes.
func idOf(t *model.Table, r *model.Row) string {
	var joints []string
	for _, pairs := range t.Car.Bolts(r.Setting) {
		var bolts []string
		for _, p := range pairs {
			bolts = append(bolts, p[0]+":"+p[1])
		}
		joints = append(joints, strings.Join(bolts, "+"))
	}
	return strings.Join(joints, "/")
}

// Whatever id is asked for is the one that is answered, with its own bolts, in the
// place that it shares with others.
func TestWhatIsAskedForIsAnswered(t *testing.T) {
	table := hatch(t)
	others := 0
	for i := range table.Rows {
		row := &table.Rows[i]
		for _, id := range append(row.AlternativeIDs(), row.ID) {
			r, ok := table.Find(id)
			if !ok || r.ID != id || idOf(table, r) != id {
				t.Fatalf("asked for %s: %s with the bolts %s", id, r.ID, idOf(table, r))
			}
			if named := table.Named([]string{id}); len(named) != 1 || named[0].ID != id {
				t.Errorf("%s names %d settings", id, len(named))
			}
			if d := math.Hypot(r.Pose.X-row.Pose.X, r.Pose.Z-row.Pose.Z); d > 0.2 || math.Abs(r.Pose.Turn-row.Pose.Turn) > 0.05*model.Deg {
				t.Errorf("%s lies %.2f mm from %s", id, d, row.ID)
			}
			if id == row.ID {
				continue
			}
			others++
			if !slices.Contains(r.AlternativeIDs(), row.ID) || slices.Contains(r.AlternativeIDs(), id) || len(r.Alternatives) != len(row.Alternatives) {
				t.Errorf("%s has the other ways %q", id, r.AlternativeIDs())
			}
			with, places := table.WithWay(i, id, make([]model.Place, len(table.Rows)))
			if with.Rows[i].ID != id || places[i].ID != id || table.Rows[i].ID != row.ID {
				t.Errorf("%s does not take the place of %s", id, row.ID)
			}
		}
	}
	if others < 40 {
		t.Errorf("%d alternatives: the test tells little", others)
	}
}

// The fewest moved bolts are counted over every way of both places: for each setting
// that can be on the car, by comparing the ids of all ways bolt by bolt.
func TestLeastWorkOverAllWays(t *testing.T) {
	table := hatch(t)
	moved := func(from, to string) int {
		a := strings.FieldsFunc(from, func(r rune) bool { return r == '+' || r == '/' })
		b := strings.FieldsFunc(to, func(r rune) bool { return r == '+' || r == '/' })
		out, in := len(a), len(b)
		for _, x := range a {
			if slices.Contains(b, x) {
				out, in = out-1, in-1
			}
		}
		return max(out, in)
	}
	fewer := 0
	for i := range table.Rows {
		for _, from := range append(table.Rows[i].AlternativeIDs(), table.Rows[i].ID) {
			w := model.NoWishes()
			w.From = from
			hits, _ := table.Pick(w, units.Metric)
			for _, h := range hits {
				row := &table.Rows[h.Row]
				want := moved(from, row.ID)
				for _, id := range row.AlternativeIDs() {
					if n := moved(from, id); n < want {
						want = n
					}
				}
				if h.Work != want || moved(from, h.Way) != want {
					t.Fatalf("from %s to %s: %d bolts by %s, want %d", from, row.ID, h.Work, h.Way, want)
				}
				if h.Way != row.ID {
					fewer++
				}
			}
		}
	}
	if fewer == 0 {
		t.Error("no other way is ever less work: the test tells nothing")
	}
}

// No advice ever lifts the car or stalls, whatever is noted and wished for, also where
// the file gives no limits.
func TestNoAdviceLiftsOrStalls(t *testing.T) {
	table := hatch(t)
	car := *table.Car
	car.Limits = model.NoLimits()
	car.Wing.Table = table.Car.Wing.Table
	loose, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	bad := func(r *model.Row) bool { return r.Downforce < 0 || r.Stalled }
	some := 0
	for i := range loose.Rows {
		if bad(&loose.Rows[i]) && loose.Rows[i].Within() {
			some++
		}
		for _, felt := range [][2]int{{1, -1}, {-1, 1}} {
			n := noteOf(loose.Rows[i].ID)
			n.Feel.FrontFast, n.Feel.RearFast = felt[0], felt[1]
			if a, err := loose.Next([]logbook.Note{n}); err == nil && a.To != nil && a.To != a.From && bad(a.To) {
				t.Errorf("from %s it proposes %s: %.0f N, stalled %v", loose.Rows[i].ID, a.To.ID, a.To.Downforce, a.To.Stalled)
			}
		}
	}
	hits, _ := loose.Pick(model.NoWishes(), units.Metric)
	for _, h := range hits {
		if bad(&loose.Rows[h.Row]) {
			t.Errorf("%s is picked: %.0f N", loose.Rows[h.Row].ID, loose.Rows[h.Row].Downforce)
		}
	}
	if some == 0 {
		t.Error("no setting lifts or stalls: the test tells nothing")
	}
}
