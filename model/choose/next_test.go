package choose_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

func noteOf(setting string) logbook.Note {
	n := logbook.Blank()
	n.ID, n.At, n.Setting = "2026-11-25.1", time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC), setting
	return n
}

func TestNext(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	now := "1:k1+7:k2+3:k3+9:k4/A:F+A2:R"
	felt := func(front, rear int) []logbook.Note {
		n := noteOf(now)
		n.Feel.FrontFast, n.Feel.RearFast = front, rear
		return []logbook.Note{n}
	}
	i, _ := table.Index(now)
	r := &table.Rows[i]
	more, err := choose.Next(table, felt(1, -1))
	if err != nil || more.To == nil || more.To.Share >= r.Share {
		t.Errorf("too much front: %+v, %v", more, err)
	}
	d := model.DifferenceStdUnc(table.Budget(more.To), table.Budget(r))
	if math.Abs(more.To.Share-r.Share) <= d.Share {
		t.Error("the step is smaller than it is uncertain")
	}
	less, err := choose.Next(table, felt(-2, 1))
	if err != nil || less.To == nil || less.To.Share <= r.Share {
		t.Errorf("too much rear: %+v, %v", less, err)
	}
	if same, _ := choose.Next(table, felt(0, 0)); same.To != same.From {
		t.Errorf("nothing to change: %+v", same)
	}
	end := choose.Start(table) // the least front share there is within limits
	for i := range table.Rows {
		if o := &table.Rows[i]; o.Within() && !o.Stalled && o.Share < table.Rows[end].Share {
			end = i
		}
	}
	n := noteOf(table.Rows[end].ID)
	n.Feel.FrontFast, n.Feel.RearFast = 2, -1
	if no, _ := choose.Next(table, []logbook.Note{n}); no.To != nil || no.Finding != choose.NoneFarEnough {
		t.Errorf("at the end of the range: %+v", no)
	}
	gone := noteOf("1:k1+7:k2+3:k3+9:k4/A:F+GONE:R")
	gone.Feel.FrontFast, gone.Feel.RearFast = 1, -1
	if g, err := choose.Next(table, append(felt(1, -1), gone)); err != nil || g.To != nil || g.Finding != choose.SettingGone || !strings.Contains(g.Setting, "GONE") {
		t.Errorf("the last note's setting is gone: %+v, %v", g, err)
	}
	// What a note found too much is not gone back to: the next one lies between.
	over := noteOf(more.To.ID)
	over.ID, over.Feel.FrontFast, over.Feel.RearFast = "2026-11-24.1", -1, 1
	between, err := choose.Next(table, append([]logbook.Note{over}, felt(1, -1)...))
	if err != nil || between.To != nil || between.Finding != choose.NoneBetween || between.TooMuch != "2026-11-24.1" {
		t.Errorf("the smallest step was too much, and %+v, %v", between, err)
	}
	far := noteOf(table.Rows[end].ID)
	far.Feel.FrontFast, far.Feel.RearFast = -2, 1
	if again, _ := choose.Next(table, append([]logbook.Note{far}, felt(1, -1)...)); again.To != more.To {
		t.Errorf("a setting further off was too much, and the step is %+v, not %+v", again, more)
	}
	slow := noteOf(now)
	slow.Feel.FrontSlow, slow.Feel.RearSlow = -1, 1
	if s, _ := choose.Next(table, []logbook.Note{slow}); s.To != nil || s.Finding != choose.SlowOnly {
		t.Errorf("slow corners: %+v", s)
	}
	if _, err := choose.Next(table, nil); err == nil {
		t.Error("no notes give advice")
	}
}
