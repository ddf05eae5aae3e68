package choose_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/units"
	"stanchion/model/words"
)

// What is picked, and in which order, is what the definition finds when it is written down plainly: the chance by
// drawing with another generator, the groups and the order by comparing each with each. What the draws cannot tell
// is left open.
func TestPickAgainstBruteForce(t *testing.T) {
	for _, name := range []string{"coupe", "saloon"} {
		table := modeltest.Table(t, name)
		g := rand.New(rand.NewChaCha8([32]byte{3}))
		maybe := func(lo, hi float64) given.Number {
			if g.IntN(3) == 0 {
				return given.Is(lo + (hi-lo)*g.Float64())
			}
			return given.Number{}
		}
		some := 0
		for range 8 {
			w := choose.Criteria{From: table.Rows[g.IntN(len(table.Rows))].ID}
			middle := table.Rows[g.IntN(len(table.Rows))].Share
			w.FrontShare = choose.Target{Value: given.Is(middle), Tolerance: 0.002 + 0.008*g.Float64()}
			w.MinDownforce, w.MaxDownforce = maybe(100, 400), maybe(300, 600)
			w.MaxDrag, w.MinHeight, w.MaxHeight = maybe(10, 40), maybe(1190, 1300), maybe(1250, 1400)
			w.MinStallMargin, w.MinAngle = maybe(0, 0.1), maybe(0, 0.1)
			if g.IntN(2) == 0 {
				w.MinChance = given.Is(0.5)
			}
			hits, near := choose.Pick(table, w)
			some += len(hits)
			picked := map[int]choose.Hit{}
			for _, h := range hits {
				picked[h.Row] = h
			}
			for i := range table.Rows {
				chance, sure, meets := drawnChance(table, &table.Rows[i], w, g)
				h, is := picked[i]
				if want := chance >= 0.5 || meets && !w.MinChance.Known(); want != is && (math.Abs(chance-0.5) > sure || meets && !w.MinChance.Known()) {
					t.Errorf("%s: row %d picked %v, with a chance of %.3f", name, i, is, chance)
				}
				if is && math.Abs(h.Chance.Of-chance) > sure {
					t.Errorf("%s: row %d has a chance of %.3f, drawn %.3f ± %.3f", name, i, h.Chance, chance, sure)
				}
			}
			if want := plainOrder(table, w, hits); !slices.Equal(want, rowsOf(hits)) {
				t.Errorf("%s: order %v, want %v", name, rowsOf(hits), want)
			}
			if len(hits)+len(near) != len(table.Rows) {
				t.Fatalf("%d hits and %d near of %d", len(hits), len(near), len(table.Rows))
			}
			for k, m := range near {
				if len(words.StoppedBy(table, m, units.Metric)) == 0 {
					t.Errorf("row %d is stopped by nothing", m.Row)
				}
				if k > 0 && m.Near() && m.Chance.Of > near[k-1].Chance.Of {
					t.Errorf("row %d is likelier than the one before", m.Row)
				}
			}
		}
		if some == 0 {
			t.Error("nothing is ever picked: the test tells nothing")
		}
	}
}

func rowsOf(hits []choose.Hit) (rows []int) {
	for _, h := range hits {
		rows = append(rows, h.Row)
	}
	return rows
}

// drawnChance is the chance of a row by drawing its sources, scaled to the uncertainties of the budget where those
// come from drawing, and by how much it may be off.
func drawnChance(table *model.Table, r *model.Row, w choose.Criteria, g *rand.Rand) (chance, sure float64, meets bool) {
	yes := func(have float64, least, most given.Number) bool {
		return have >= least.Or(math.Inf(-1))-1e-9 && have <= most.Or(math.Inf(1))+1e-9
	}
	if !r.Within() || r.Stalled || r.Lifts() || !yes(r.Height, w.MinHeight, w.MaxHeight) {
		return 0, 0, false
	}
	const draws = 4000
	b := table.Budget(r)
	var sum [4]float64
	for _, p := range b.Parts {
		for k, x := range [4]float64{p.Share, p.Downforce, p.Drag} {
			sum[k] += x * x
		}
	}
	scale := [3]float64{b.Share / math.Sqrt(sum[0]), b.Downforce / math.Sqrt(sum[1]), b.Drag / math.Sqrt(sum[2])}
	// What dirt does to the stall margin is not said of the sources: it is drawn by itself.
	margin := 0.0
	for _, p := range b.Parts {
		margin += marginBy(p) * marginBy(p)
	}
	own := math.Sqrt(max(0, b.Margin*b.Margin-margin))
	in := 0
	share := w.FrontShare.Value.Value()
	met := func(x [5]float64) bool {
		return math.Abs(x[0]-share) <= w.FrontShare.Tolerance && yes(x[1], w.MinDownforce, w.MaxDownforce) && yes(x[2], given.Number{}, w.MaxDrag) &&
			yes(x[3], w.MinStallMargin, given.Number{}) && yes(x[4], w.MinAngle, w.MaxAngle)
	}
	drawn := map[string][]float64{}
	if b.Drawn { // by the curve itself, which the package's own draws tell to within 5 pp
		for _, d := range table.DrawsBy(r, draws, func(source string, rectangular bool) []float64 {
			x := drawn[source]
			for range draws - len(x) {
				if rectangular {
					x = append(x, math.Sqrt(3)*(2*g.Float64()-1))
				} else {
					x = append(x, g.NormFloat64())
				}
			}
			drawn[source] = x
			return x
		}) {
			if met([5]float64{r.Share + d.Share, r.Downforce + d.Downforce, r.Drag + d.Drag, r.StallMargin + d.Margin, r.Angle + d.Angle}) {
				in++
			}
		}
		return float64(in) / draws, 0.05, met([5]float64{r.Share, r.Downforce, r.Drag, r.StallMargin, r.Angle})
	}
	for range draws {
		x := [5]float64{r.Share, r.Downforce, r.Drag, r.StallMargin, r.Angle}
		for _, p := range b.Parts {
			z := g.NormFloat64()
			x[0], x[1], x[2] = x[0]+z*p.Share*scale[0], x[1]+z*p.Downforce*scale[1], x[2]+z*p.Drag*scale[2]
			x[3], x[4] = x[3]+z*marginBy(p), x[4]+z*p.Angle
		}
		x[3] += own * g.NormFloat64()
		if met(x) {
			in++
		}
	}
	p := float64(in) / draws
	return p, 0.003 + 4*math.Sqrt(max(p*(1-p), 1e-3)/draws), met([5]float64{r.Share, r.Downforce, r.Drag, r.StallMargin, r.Angle})
}

// marginBy is what a source does to the stall margin.
func marginBy(p model.Contribution) float64 {
	switch p.What {
	case model.FromFlowAngle, model.FromZeroLift:
		return -p.Angle - p.Input.StdUnc
	case model.FromStallAngle:
		return p.Input.StdUnc
	}
	return -p.Angle
}

// plainOrder puts hits in order by the definition: again and again the closest of those left begins a group, into
// which all go that are not clearly further from the target; in a group each is the best of those left.
func plainOrder(table *model.Table, w choose.Criteria, hits []choose.Hit) (order []int) {
	from, _ := table.Find(w.From)
	work := func(i int) choose.Work {
		_, least := choose.LeastWork(from.Setting, table.Rows[i].Setting)
		return least
	}
	clear := map[int]choose.Clarity{}
	var left []int
	for _, h := range hits {
		clear[h.Row], left = h.Clear, append(left, h.Row)
	}
	slices.Sort(left)
	want := w.FrontShare.Value.Value()
	off := func(i int) float64 { return math.Abs(table.Rows[i].Share - want) }
	for len(left) > 0 {
		closest := left[0]
		for _, i := range left {
			if off(i) < off(closest) {
				closest = i
			}
		}
		var group, rest []int
		for _, i := range left {
			a, b := table.Budget(&table.Rows[i]), table.Budget(&table.Rows[closest])
			d := model.DifferenceStdUnc(a, b).Share
			cov := (a.Share*a.Share + b.Share*b.Share - d*d) / 2
			sign := func(x, u float64) float64 { return math.Erf(x / u / math.Sqrt2) }
			p, q := sign(table.Rows[i].Share-want, a.Share), sign(table.Rows[closest].Share-want, b.Share)
			u := math.Sqrt(max(0, p*p*a.Share*a.Share+q*q*b.Share*b.Share-2*p*q*cov))
			if i != closest && off(i)-off(closest) >= 2*u {
				rest = append(rest, i)
			} else {
				group = append(group, i)
			}
		}
		for len(group) > 0 {
			best := 0
			for k := range group {
				a, b := group[k], group[best]
				ra, rb := table.Rows[a], table.Rows[b]
				c := work(a).Compare(work(b))
				switch {
				case c != 0:
				case clear[a] != clear[b]:
					c = int(clear[b] - clear[a])
				case math.Round(ra.Downforce) != math.Round(rb.Downforce):
					c = int(math.Round(rb.Downforce) - math.Round(ra.Downforce))
				case ra.Drag != rb.Drag:
					c = map[bool]int{true: -1, false: 1}[ra.Drag < rb.Drag]
				}
				if c < 0 {
					best = k
				}
			}
			order = append(order, group[best])
			group = slices.Delete(group, best, best+1)
		}
		left = rest
	}
	return order
}

// Nothing stalled or lifting is ever picked unasked, whatever is wanted; asked for it is, last and marked.
func TestStalledAndLiftingOnlyWhenAsked(t *testing.T) {
	car := *modeltest.Table(t, "coupe").Car
	car.Limits = model.Limits{}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	bad := func(r *model.Row) bool { return r.Stalled || r.Lifts() }
	stalled := 0
	for _, chance := range []given.Number{{}, given.Is(0.01), given.Is(0.99)} {
		for _, most := range []given.Number{{}, given.Is(500), given.Is(-1)} {
			c := choose.Criteria{MinChance: chance, MaxDownforce: most}
			hits, _ := choose.Pick(table, c)
			for _, h := range hits {
				if bad(&table.Rows[h.Row]) || h.Unsafe {
					t.Errorf("%s is picked unasked", table.Rows[h.Row].ID)
				}
			}
			c.Stalled, c.Lifting = true, true
			hits, _ = choose.Pick(table, c)
			for i, h := range hits {
				if h.Unsafe != bad(&table.Rows[h.Row]) || i > 0 && hits[i-1].Unsafe && !h.Unsafe {
					t.Errorf("%s stands before one that can be run, or is not marked", table.Rows[h.Row].ID)
				}
				if h.Unsafe {
					stalled++
					if lines := words.Hit(table, c, hits, i, units.Metric); !strings.Contains(lines[0], "STALLED") && !strings.Contains(lines[0], "LIFTS") {
						t.Errorf("it is not said loudly: %q", lines[0])
					}
				}
			}
		}
	}
	if stalled == 0 {
		t.Error("nothing is stalled: the test tells nothing")
	}
}

// Away from the stall the chance of one target is that of the normal distribution: on the edge 50 %, one standard uncertainty inside
// 84 %, outside 16 %, which just is a near miss no more; a setting is picked from the chance that is asked for.
func TestChanceOfOneTarget(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	i := slices.IndexFunc(table.Rows, func(r model.Row) bool { return r.Within() && !r.Lifts() && !table.Budget(&r).Drawn })
	r := &table.Rows[i]
	u := table.Budget(r).Downforce
	for _, c := range []struct {
		off, want float64
		hit       bool
	}{{0, 0.5, true}, {1, 0.841345, true}, {-0.01, 0.49601, false}, {-1, 0.158655, false}, {-3, 0.00135, false}} {
		w := choose.Criteria{MinDownforce: given.Is(r.Downforce - c.off*u)}
		if got := w.Chance(table, r); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%g of the ± inside: %.5f, want %.5f", c.off, got, c.want)
		}
		hits, near := choose.Pick(table, w)
		is := slices.Contains(rowsOf(hits), i)
		just := slices.ContainsFunc(near, func(m choose.Miss) bool { return m.Row == i && m.Near() })
		if is != c.hit || just != (!c.hit && c.want > 0.16) {
			t.Errorf("%g of the ± inside: picked %v, near %v", c.off, is, just)
		}
		w.MinChance = given.Is(0.1)
		if hits, _ = choose.Pick(table, w); slices.Contains(rowsOf(hits), i) != (c.want >= 0.1) {
			t.Errorf("%g of the ± inside, with a chance of 10 %% wanted", c.off)
		}
	}
}

// At the table's own speed a share that is wanted there is the table's; two of one figure at two speeds hang
// together, so that both are met more often than by chance, and never more often than either.
func TestShareAtSpeeds(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r := &table.Rows[choose.Start(table)]
	at := func(speed, share float64) choose.AtSpeed {
		return choose.AtSpeed{Speed: speed, Share: choose.Target{Value: given.Is(share), Tolerance: 0.003}}
	}
	own := choose.Criteria{FrontShare: at(0, r.Share).Share}.Chance(table, r)
	same := choose.Criteria{ShareAt: []choose.AtSpeed{at(table.Speed, r.Share)}}.Chance(table, r)
	if math.Abs(own-same) > 1e-9 || own < 0.3 {
		t.Errorf("at the table's own speed %.4f, of the table %.4f", same, own)
	}
	fast, err := table.Car.Map(1.2 * table.Speed)
	if err != nil {
		t.Fatal(err)
	}
	then := fast.RowAt(r.Position)
	one := choose.Criteria{ShareAt: []choose.AtSpeed{at(fast.Speed, then.Share)}}.Chance(table, r)
	if want := (choose.Criteria{FrontShare: at(0, then.Share).Share}).Chance(fast, then); math.Abs(one-want) > 1e-9 {
		t.Errorf("at %.0f m/s %.4f, of that table %.4f", fast.Speed, one, want)
	}
	both := choose.Criteria{ShareAt: []choose.AtSpeed{at(table.Speed, r.Share), at(fast.Speed, then.Share)}}.Chance(table, r)
	if both > min(own, one)+0.003 || both < own*one+0.02 {
		t.Errorf("both with %.4f, one by one %.4f and %.4f", both, own, one)
	}
	hits, _ := choose.Pick(table, choose.Criteria{ShareAt: []choose.AtSpeed{at(fast.Speed, then.Share)}})
	for _, h := range hits {
		if got := fast.RowAt(table.Rows[h.Row].Position).Share; len(h.At) != 1 || math.Abs(h.At[0].Share-got) > 1e-12 {
			t.Errorf("it says %+v, want %.4f", h.At, got)
		}
	}
}

// What is asked of the work, by brute force over all ways of bolting: the way that is picked meets it with the least
// work, and a setting is picked where any way does.
func TestWorkThatIsAskedFor(t *testing.T) {
	table := hatch(t)
	hard := 0
	for _, c := range []choose.Criteria{{FootStays: true}, {MaxMoves: given.Is(2)}, {FootStays: true, MaxMoves: given.Is(1)}} {
		for k := range table.Rows {
			c.From = table.Rows[k].ID
			from := table.Rows[k].Setting
			hits, _ := choose.Pick(table, c)
			for i := range table.Rows {
				r := &table.Rows[i]
				if !r.Within() || r.Stalled || r.Lifts() {
					continue
				}
				any, least := false, choose.Work{}
				for _, way := range table.Ways(i) {
					w := choose.WorkOf(from, way.Setting)
					if c.FootStays && w.Below > 0 || float64(w.Moved) > c.MaxMoves.Or(99) {
						continue
					}
					if !any || w.Compare(least) < 0 {
						any, least = true, w
					}
				}
				at := slices.IndexFunc(hits, func(h choose.Hit) bool { return h.Row == i })
				if any != (at >= 0) {
					t.Fatalf("from %s, %s is picked %v", c.From, r.ID, at >= 0)
				}
				if any && hits[at].Work != least {
					t.Fatalf("from %s to %s: %+v, want %+v", c.From, r.ID, hits[at].Work, least)
				}
				if !any {
					hard++
				}
			}
		}
	}
	if hard == 0 {
		t.Error("nothing is ever too much work: the test tells nothing")
	}
}

// Strength is asked of what meets all else; only what passes with no more than is asked is picked, in another way of
// bolting where that one holds.
func TestStrengthThatIsAskedFor(t *testing.T) {
	table := hatch(t)
	i := slices.IndexFunc(table.Rows, func(r model.Row) bool { return r.Within() && !r.Stalled && len(r.Alternatives) > 0 })
	r := &table.Rows[i]
	c := choose.Criteria{MaxUsed: given.Is(0.8), MinHeight: given.Is(r.Height), MaxHeight: given.Is(r.Height), MinAngle: given.Is(r.Angle - 0.5), MaxAngle: given.Is(r.Angle + 0.5)}
	for _, s := range []struct {
		is   choose.Strength
		want choose.Obstacle
	}{
		{choose.Strength{Passes: true, Used: 0.8}, -1},
		{choose.Strength{Passes: true, Used: 0.81}, choose.AboveMaxUsed},
		{choose.Strength{Used: 0.1}, choose.StrengthNotChecked},
		{choose.Strength{Passes: true, Used: math.NaN()}, choose.StrengthNotChecked},
		{choose.Strength{Fails: true, Used: 1.2}, choose.DoesNotHold},
	} {
		c.Holds = func(o *model.Row) choose.Strength {
			if math.Abs(o.Height-r.Height) > 0.3 {
				t.Errorf("strength is asked of %s, which is out for its height", o.ID)
			}
			return s.is
		}
		hits, near := choose.Pick(table, c)
		if s.want < 0 != slices.Contains(rowsOf(hits), i) {
			t.Errorf("%+v: picked %v", s.is, rowsOf(hits))
		}
		for _, m := range near {
			if m.Row == i && (m.Near() || len(m.Shortfalls) != 1 || m.Shortfalls[0].Obstacle != s.want) {
				t.Errorf("%+v: %+v", s.is, m)
			}
		}
	}
	other := r.Alternatives[len(r.Alternatives)-1].ID
	c.Holds = func(o *model.Row) choose.Strength { return choose.Strength{Passes: o.ID == other, Used: 0.5} }
	hits, _ := choose.Pick(table, c)
	if at := slices.IndexFunc(hits, func(h choose.Hit) bool { return h.Row == i }); at < 0 || hits[at].Way != other {
		t.Errorf("the way that holds is %s: %+v", other, hits)
	}
	c.Holds = nil
	if hits, _ = choose.Pick(table, c); len(hits) > 0 {
		t.Error("without a strength it is picked")
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
