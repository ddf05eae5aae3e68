package model_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
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
			if d := math.Hypot(r.Pose.X-row.Pose.X, r.Pose.Z-row.Pose.Z); d > 0.2 || math.Abs(r.Pose.Turn-row.Pose.Turn) > 0.05*plane.Deg {
				t.Errorf("%s lies %.2f mm from %s", id, d, row.ID)
			}
			if id == row.ID {
				continue
			}
			others++
			if !slices.Contains(r.AlternativeIDs(), row.ID) || slices.Contains(r.AlternativeIDs(), id) || len(r.Alternatives) != len(row.Alternatives) {
				t.Errorf("%s has the other ways %q", id, r.AlternativeIDs())
			}
			with, places := table.WithWay(i, id, make([]model.Position, len(table.Rows)))
			if with.Rows[i].ID != id || places[i].ID != id || table.Rows[i].ID != row.ID {
				t.Errorf("%s does not take the place of %s", id, row.ID)
			}
		}
	}
	if others < 40 {
		t.Errorf("%d alternatives: the test tells little", others)
	}
}
