package drill

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/modeltest"
)

// A hole between heights: what each height has without it stays what it has with it, and its widest step is that of its
// own angles and the new ones near it, never one between two heights.
func TestLevelChangesKeepHeightsApart(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	tr, err := Try(t.Context(), table, NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: -5, Z: 445.5, D: 8.4, Joint: "head"}})
	if err != nil {
		t.Fatal(err)
	}
	changes := tr.LevelChanges()
	if len(changes) < 3 {
		t.Fatalf("%d heights change", len(changes))
	}
	for _, c := range changes {
		if c.Without == nil {
			t.Errorf("at %.0f mm there was something before", c.With.Height)
			continue
		}
		if c.With.Count <= c.Without.Count || c.With.Lowest < c.Without.Lowest-sameLevel || c.With.Highest > c.Without.Highest+sameLevel {
			t.Errorf("without %+v, with %+v", c.Without, c.With)
		}
		widest := 0.0
		for i := 1; i < len(c.With.Angles); i++ {
			widest = max(widest, c.With.Angles[i]-c.With.Angles[i-1])
		}
		if math.Abs(widest-c.With.AngleStep) > 1e-12 || c.With.AngleStep > c.Without.AngleStep+1e-9 {
			t.Errorf("steps of %.4f without, %.4f with, by its angles %.4f", c.Without.AngleStep, c.With.AngleStep, widest)
		}
	}
}

// By hand: two heights 12 mm apart with two settings each, and a new one half-way. It counts for both, and each keeps
// its own angles.
func TestLevelChangesByHand(t *testing.T) {
	row := func(height, angle float64) model.Row {
		r := model.Row{Position: &model.Position{Height: height, Angle: angle}}
		r.Downforce = 1000 * angle
		return r
	}
	all := []model.Row{row(1200, 0.10), row(1200, 0.20), row(1206, 0.15), row(1212, 0.12), row(1212, 0.30), row(1240, 0.1)}
	before := []choose.Level{choose.LevelOf([]*model.Row{&all[0], &all[1]}), choose.LevelOf([]*model.Row{&all[3], &all[4]})}
	tr := Trial{Table: &model.Table{Rows: all}, Added: []int{2, 5}, Before: before}
	got := tr.LevelChanges()
	if len(got) != 3 {
		t.Fatalf("%d changes: %+v", len(got), got)
	}
	for i, want := range []struct {
		count           int
		step            float64
		lowest, highest float64
	}{{3, 0.05, 1200, 1206}, {3, 0.15, 1206, 1212}, {1, 0, 1240, 1240}} {
		l := got[i].With
		if l.Count != want.count || math.Abs(l.AngleStep-want.step) > 1e-12 || l.Lowest != want.lowest || l.Highest != want.highest {
			t.Errorf("%d: %+v, want %+v", i, l, want)
		}
	}
	if got[2].Without != nil || got[0].Without.Count != 2 {
		t.Errorf("without: %+v %+v", got[0].Without, got[2].Without)
	}
}
