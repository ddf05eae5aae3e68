package advise

import (
	"math"
	"testing"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/modeltest"
)

// Of the settings that a hole gives, the one nearest to the part of the way that is wanted, of those
// between the two and clear of both: against a look at every one.
func TestLiesByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	row := func(words ...string) *model.Row { return table.Named(words)[0] }
	var s drill.Suggestion
	s.Table = table
	for i := range table.Rows {
		s.Useful = append(s.Useful, i)
	}
	for _, c := range [][2]*model.Row{{row("4", "A1"), row("4", "A2")}, {row("4", "A2"), row("4", "A1")}, {row("3", "B1"), row("3", "A2")}} {
		for _, between := range []float64{0.2, 0.5, 0.8} {
			var a choose.Advice
			a.From, a.Beyond, a.Between = c[0], c[1], between
			got, want := lies(table, &s, &a), ""
			off := math.Inf(1)
			for i := range table.Rows {
				r := &table.Rows[i]
				clear := true
				for _, o := range c {
					clear = clear && math.Abs(r.Share-o.Share) >= 2*model.DifferenceStdUnc(table.Budget(r), table.Budget(o)).Share
				}
				if lo, hi := min(c[0].Share, c[1].Share), max(c[0].Share, c[1].Share); !clear || r.Share <= lo || r.Share >= hi {
					continue
				}
				wanted := c[0].Share + between*(c[1].Share-c[0].Share)
				if d := math.Abs(r.Share - wanted); d < off {
					off, want = d, r.ID
				}
			}
			if (got == nil) != (want == "") || got != nil && got.ID != want {
				t.Errorf("from %s to %s, %g of the way: %v, want %q", c[0].ID, c[1].ID, between, got, want)
			}
		}
	}
}

// The hole is wanted for a front share between the two.
func TestGoalBetween(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	row := func(words ...string) *model.Row { return table.Named(words)[0] }
	d := &Drill{Part: 1, D: 8.4, Grid: 0.5, Joint: "head"}
	var a choose.Advice
	a.From, a.Beyond = row("4", "A1"), row("4", "A2")
	g := d.goal(table, &a)
	if b := g.Between; b == nil || b.A != a.From || b.B != a.Beyond || b.By != drill.ByShare {
		t.Errorf("%+v", g)
	}
	if g.Part != 1 || g.D != 8.4 || g.Grid != 0.5 || g.Joint != "head" || g.Count != 1 || g.Name(0) != "N1" {
		t.Errorf("%+v", g)
	}
}
