package drawing

import (
	"bytes"
	"context"
	"testing"
	"time"

	"stanchion/model/modeltest"
	"stanchion/model/plan"
	"stanchion/model/units"
)

// The sheet of the longest day fits on its page, in both papers, and the same plan is the same file.
func TestPlanSheet(t *testing.T) {
	w := plan.Usual()
	w.Sessions, w.Settings, w.Formulas = plan.MostSessions, 4, true
	w.Date = time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC) // a file without a day has the second it is made in
	p, err := plan.Make(context.Background(), modeltest.Table(t, "saloon"), w)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range []units.System{units.Metric, units.Imperial} {
		page := planPage(p, u, usualPapers(u.Inches())[0])
		if page.z < cardMargin {
			t.Errorf("it ends %.1f mm above the edge of the paper, want %.0f", page.z, cardMargin)
		}
		one, err := PlanPDF(p, u)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := PlanPDF(p, u)
		if !bytes.Equal(one, again) || !bytes.HasPrefix(one, []byte("%PDF")) {
			t.Error("the same plan is another file")
		}
	}
}
