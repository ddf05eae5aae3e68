package choose_test

import (
	"slices"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/choose"
	"stanchion/model/logbook"
)

// The least work is counted over every way of both places: for each setting that can be on
// the car, by comparing the ids of all ways bolt by bolt. A way on which a joint has fewer
// bolts than before comes last, whatever it saves.
func TestLeastWorkOverAllWays(t *testing.T) {
	table := hatch(t)
	loses := func(from, to string) (most int) {
		a, b := strings.Split(from, "/"), strings.Split(to, "/")
		for j := range a {
			most = max(most, strings.Count(a[j], "+")-strings.Count(b[j], "+"))
		}
		return most
	}
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
			w := choose.Criteria{}
			w.From = from
			hits, _ := choose.Pick(table, w)
			for _, h := range hits {
				row := &table.Rows[h.Row]
				want, lost := moved(from, row.ID), loses(from, row.ID)
				for _, id := range row.AlternativeIDs() {
					if n, l := moved(from, id), loses(from, id); l < lost || l == lost && n < want {
						want, lost = n, l
					}
				}
				if h.Work.Moved != want || moved(from, h.Way) != want || h.Work.Fewer != lost || loses(from, h.Way) != lost {
					t.Fatalf("from %s to %s: %+v by %s, want %d bolts, %d fewer", from, row.ID, h.Work, h.Way, want, lost)
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
	car.Limits = model.Limits{}
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
		for _, felt := range []int{-3, 1} {
			n := logbook.Blank()
			n.Setting, n.Feel.Fast = loose.Rows[i].ID, logbook.Whole(felt)
			if a, err := choose.Next(loose, []logbook.Note{n}, choose.Wish{}); err == nil && a.To != nil && a.To != a.From && bad(a.To) {
				t.Errorf("from %s it proposes %s: %.0f N, stalled %v", loose.Rows[i].ID, a.To.ID, a.To.Downforce, a.To.Stalled)
			}
		}
	}
	hits, _ := choose.Pick(loose, choose.Criteria{})
	for _, h := range hits {
		if bad(&loose.Rows[h.Row]) {
			t.Errorf("%s is picked: %.0f N", loose.Rows[h.Row].ID, loose.Rows[h.Row].Downforce)
		}
	}
	if some == 0 {
		t.Error("no setting lifts or stalls: the test tells nothing")
	}
}

// hatch is a car with many ways of bolting one place.
func hatch(t *testing.T) *model.Table {
	t.Helper()
	car, err := carfile.Load("../../testdata/cars/hatch.toml")
	if err != nil {
		t.Fatal(err)
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	return table
}
