package choose_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/units"
	"stanchion/model/words"
)

// What is picked is what a plain look at every row finds, and no setting that is
// not picked would have been better than the first.
func TestPickAgainstBruteForce(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	rapid.Check(t, func(t *rapid.T) {
		w := choose.Criteria{}
		maybe := func(name string, lo, hi float64) given.Number {
			if rapid.Bool().Draw(t, name+"?") {
				return given.Is(rapid.Float64Range(lo, hi).Draw(t, name))
			}
			return given.Number{}
		}
		w.FrontShare = choose.Target{Value: maybe("share", 0.48, 0.52), Tolerance: rapid.Float64Range(0, 0.01).Draw(t, "within")}
		w.MinDownforce, w.MaxDownforce = maybe("least", 100, 500), maybe("most", 200, 600)
		w.MaxDrag, w.MinStallMargin = maybe("drag", 0, 40), maybe("margin", 0, 0.2)
		w.MinHeight, w.MaxHeight = maybe("low", 1190, 1300), maybe("high", 1250, 1400)
		hits, near := choose.Pick(table, w)
		want := map[int]bool{}
		for i := range table.Rows {
			r := &table.Rows[i]
			atLeast := func(have float64, n given.Number) bool { x, ok := n.Get(); return !ok || have >= x-1e-9 }
			atMost := func(have float64, n given.Number) bool { x, ok := n.Get(); return !ok || have <= x+1e-9 }
			share, wanted := w.FrontShare.Value.Get()
			want[i] = r.Within() && !r.Stalled && !math.IsNaN(r.Downforce) &&
				(!wanted || math.Abs(r.Share-share) <= w.FrontShare.Tolerance+1e-9) &&
				atLeast(r.Downforce, w.MinDownforce) && atMost(r.Downforce, w.MaxDownforce) && atMost(r.Drag, w.MaxDrag) &&
				atLeast(r.StallMargin, w.MinStallMargin) && atLeast(r.Height, w.MinHeight) && atMost(r.Height, w.MaxHeight)
		}
		got := map[int]bool{}
		for _, h := range hits {
			got[h.Row] = true
		}
		for i := range table.Rows {
			if want[i] != got[i] {
				t.Fatalf("row %d picked %v, want %v", i, got[i], want[i])
			}
		}
		if len(hits)+len(near) != len(table.Rows) {
			t.Fatalf("%d hits and %d near of %d", len(hits), len(near), len(table.Rows))
		}
		for _, h := range hits {
			if best := hits[0]; h.Off < best.Off-0.001 {
				t.Fatalf("row %d is %.4f off, the first %.4f", h.Row, h.Off, best.Off)
			}
		}
		for _, m := range near {
			if len(words.StoppedBy(table, m, units.Metric)) == 0 {
				t.Fatalf("row %d is stopped by nothing", m.Row)
			}
		}
	})
}

// Of settings as close to the wanted balance, to a tenth of a point, the least
// work comes first.
func TestOfEqualsTheLeastWork(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	w := choose.Criteria{}
	w.FrontShare = choose.Target{Value: given.Is(0.5), Tolerance: 0.05}
	w.From = "1:k1+7:k2+3:k3+9:k4/A:F+A2:R"
	hits, _ := choose.Pick(table, w)
	for i := 1; i < len(hits); i++ {
		a, b := hits[i-1], hits[i]
		if math.Round(a.Off*1000) == math.Round(b.Off*1000) && a.Work.Moved > b.Work.Moved {
			t.Errorf("%d bolts out before %d at the same distance", a.Work.Moved, b.Work.Moved)
		}
	}
	for _, h := range hits {
		if table.Rows[h.Row].Stalled {
			t.Error("a stalled setting is picked")
		}
	}
	loose := *table.Car
	loose.Limits.StallMargin = given.Number{}
	free, err := loose.Map(loose.Speed)
	if err != nil {
		t.Fatal(err)
	}
	stalled := 0
	for i := range free.Rows {
		if free.Rows[i].Stalled && free.Rows[i].Within() {
			stalled++
		}
	}
	all, _ := choose.Pick(free, choose.Criteria{})
	for _, h := range all {
		if free.Rows[h.Row].Stalled {
			t.Error("without a margin wanted a stalled setting is picked")
		}
	}
	if stalled == 0 {
		t.Error("no setting is stalled, so nothing is shown")
	}
}

// By hand: from A1 to A2 at one foot the rear
// bolt is moved; another row of the foot moves all four there as well; where two more
// go in and none comes out, two are moved.
func TestMoves(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	at := func(id string) *holes.Setting {
		r, ok := table.Find(id)
		if !ok {
			t.Fatal(id)
		}
		return r.Setting
	}
	a1, a2 := at("1:k1+7:k2+3:k3+9:k4/A:F+A1:R"), at("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	up := at("2:k1+8:k2+4:k3+10:k4/A:F+A1:R")
	foot := *a1.Fits[0]
	foot.Pairs = foot.Pairs[:2]
	two := &holes.Setting{ID: "two", Fits: []*holes.Fit{&foot, a1.Fits[1]}}
	for _, row := range []struct {
		from, to *holes.Setting
		want     int
	}{{a1, a1, 0}, {a1, a2, 1}, {a1, up, 4}, {a2, up, 5}, {two, a1, 2}, {a1, two, 2}} {
		if n := choose.Moves(row.from, row.to); n != row.want {
			t.Errorf("%s to %s: %d bolts, want %d", row.from.ID, row.to.ID, n, row.want)
		}
	}
}
