package choose

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// Ten draws by hand, of a row with 100 N of downforce and 10 N of drag, at least 98 N for at most 11 N: 1 is
// beyond the data, of the other nine 2 lose 3 N, 1 gains 2 N of drag and 1 both, so that 5 of 9 meet it, on the
// edge too. By (5+1)/(9+2) = 0.5455 the ± is √(0.5455·0.4545/9) = 0.166. With 2 of 10 beyond, nothing is told.
func TestPartOfDrawsByHand(t *testing.T) {
	s := &looked{rows: []*model.Row{{Outcome: model.Outcome{Downforce: 100, Drag: 10}}}}
	aims := []aim{{figure: ofDownforce, lo: 98, hi: math.Inf(1)}, {figure: ofDrag, lo: math.Inf(-1), hi: 11}}
	draw := func(downforce, drag float64) model.Draw {
		return model.Draw{Moved: model.Moved{Downforce: downforce, Drag: drag}}
	}
	draws := []model.Draw{draw(0, 0), draw(-2, 1), draw(5, -1), draw(-1, 0), draw(0.5, 0.5),
		draw(-3, 0), draw(-3, -1), draw(3, 2), draw(-3, 2), draw(math.NaN(), math.NaN())}
	p, ok := s.part(aims, func(int) []model.Draw { return draws })
	if !ok || math.Abs(p.Of-5.0/9) > 1e-12 || math.Abs(p.StdUnc-0.166) > 5e-4 {
		t.Errorf("%+v, %v: want 5 of 9 ± 0.166", p, ok)
	}
	draws[0] = draw(math.NaN(), 0)
	if p, ok = s.part(aims, func(int) []model.Draw { return draws }); ok {
		t.Errorf("%+v with 2 of 10 beyond the data", p)
	}
}

// A chance from draws is told in steps of 5 %, one that is worked out in steps of 1 %, never more than there is.
func TestChanceIsToldAsItIsKnown(t *testing.T) {
	for _, c := range []struct{ of, stdUnc, want float64 }{
		{0.4999, 0, 0.49}, {0.5, 0, 0.5}, {0.4999, 0.016, 0.45}, {0.5, 0.016, 0.5}, {0.549, 0.016, 0.5}, {0.04, 0.006, 0}, {1, 0.001, 1},
	} {
		if got := (Probability{c.of, c.stdUnc}).Told(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g ± %g is told as %g, want %g", c.of, c.stdUnc, got, c.want)
		}
	}
}

// free is a demo car without limits, whose settings go past the stall.
func free(t *testing.T, name string) *model.Table {
	car := *modeltest.Car(t, name)
	car.Limits = model.Limits{}
	return modeltest.TableOf(t, &car)
}

// chanceByMonteCarlo is the part of n draws with another generator that meet the criteria, by its own reading of
// them: independent values for each source, those of one name alike at both speeds.
func chanceByMonteCarlo(g *rand.Rand, n int, p *picker, r *model.Row) float64 {
	drawn := map[string][]float64{}
	values := func(source string, rectangular bool) []float64 {
		if x, ok := drawn[source]; ok {
			return x
		}
		x := make([]float64, n)
		for k := range x {
			if x[k] = g.NormFloat64(); rectangular {
				x[k] = math.Sqrt(3) * (2*g.Float64() - 1)
			}
		}
		drawn[source] = x
		return x
	}
	own := p.t.DrawsBy(r, n, values)
	then := make([][]model.Draw, len(p.at))
	shares := make([]float64, len(p.at))
	for k, other := range p.at {
		row := other.RowAt(r.Position)
		then[k], shares[k] = other.DrawsBy(row, n, values), row.Share
	}
	c, in, known := &p.c, 0, 0
	for i, d := range own {
		if d.Beyond() {
			continue
		}
		known++
		ok := r.Downforce+d.Downforce >= c.MinDownforce.Or(math.Inf(-1)) && r.Downforce+d.Downforce <= c.MaxDownforce.Or(math.Inf(1)) &&
			r.Drag+d.Drag <= c.MaxDrag.Or(math.Inf(1)) && r.StallMargin+d.Margin >= c.MinStallMargin.Or(math.Inf(-1)) &&
			r.Angle+d.Angle >= c.MinAngle.Or(math.Inf(-1))
		if want, asked := c.FrontShare.Value.Get(); asked {
			ok = ok && math.Abs(r.Share+d.Share-want) <= c.FrontShare.Tolerance
		}
		for k, a := range c.ShareAt {
			ok = ok && math.Abs(shares[k]+then[k][i].Share-a.Share.Value.Value()) <= a.Share.Tolerance
		}
		if ok {
			in++
		}
	}
	return float64(in) / float64(known)
}

// Near the stall the chance is that of many independent draws, within 5 pp, for targets of every kind and several
// at once, where the normal formula is off by more; away from it the chance is what the normal formula gives.
// `CHANCE_DRAWS=200000 go test -run NearTheStall -v ./model/choose` draws more, for each setting.
func TestChanceNearTheStall(t *testing.T) {
	n, every := 5_000, 5
	if text := os.Getenv("CHANCE_DRAWS"); text != "" {
		n, _ = strconv.Atoi(text)
		every = 1
	}
	g := rand.New(rand.NewPCG(12, 34))
	cases, over, worst, worstNormal, squares := 0, 0, 0.0, 0.0, 0.0
	for _, name := range []string{"coupe", "saloon", "roadster"} {
		table := free(t, name)
		near := 0
		for i := range table.Rows {
			r := &table.Rows[i]
			b := table.Budget(r)
			off := func(std float64) float64 { return g.NormFloat64() * std }
			least, most := given.Is(r.Downforce+off(b.Downforce)), given.Is(r.Drag+off(b.Drag))
			share := Target{given.Is(r.Share + off(b.Share)), 1.5 * b.Share}
			slow := AtSpeed{0.8 * table.Speed, Target{given.Is(table.RowAt(r.Position).Share + off(b.Share)), 2 * b.Share}}
			if near++; b.Drawn && near%every != 0 {
				continue
			}
			for _, k := range []struct {
				what string
				Criteria
			}{
				{"downforce", Criteria{MinDownforce: least}}, {"downforce, at most", Criteria{MaxDownforce: least}}, {"drag", Criteria{MaxDrag: most}}, {"share", Criteria{FrontShare: share}},
				{"downforce and drag", Criteria{MinDownforce: least, MaxDrag: most}}, {"share, downforce, margin", Criteria{FrontShare: share, MinDownforce: least, MinStallMargin: given.Is(r.StallMargin + off(b.Margin))}},
				{"share at two speeds", Criteria{FrontShare: share, ShareAt: []AtSpeed{slow}}}, {"drag and angle", Criteria{MaxDrag: most, MinAngle: given.Is(r.Angle + off(b.Contribution.Angle))}},
			} {
				what, c := k.what, k.Criteria
				c.Stalled, c.Lifting = true, true
				p := newPicker(table, c)
				s := p.look(r)
				got, normal := p.chance(s), s.normalChance(p.aims())
				if !b.Drawn && len(c.ShareAt) == 0 {
					if got != (Probability{Of: normal}) {
						t.Errorf("%s, row %d, %s: %+v away from the stall, by the formula %.4f", name, i, what, got, normal)
					}
					continue
				}
				if got.StdUnc == 0 {
					continue // at the other speed it is not near either
				}
				want := chanceByMonteCarlo(g, n, p, r)
				cases++
				squares += (got.Of - want) * (got.Of - want)
				worst, worstNormal = max(worst, math.Abs(got.Of-want)), max(worstNormal, math.Abs(normal-want))
				if math.Abs(normal-want) > 0.05 {
					over++
				}
				if math.Abs(got.Of-want) > 0.05 {
					t.Errorf("%s, row %d, %s: %.3f ± %.3f, many draws %.3f", name, i, what, got.Of, got.StdUnc, want)
				}
			}
		}
	}
	t.Logf("%d chances, %d draws each: off by %.3f at most, %.4f rms; by the normal formula %.3f, %d of them by more than 0.05",
		cases, n, worst, math.Sqrt(squares/float64(cases)), worstNormal, over)
	if cases < 20 || worstNormal < 0.05 {
		t.Errorf("%d cases, normal off by %.3f: the test tells nothing", cases, worstNormal)
	}
}
