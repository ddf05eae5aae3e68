package drill

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/modeltest"
)

// carsToDrill are cars of all kinds, with the part that is drilled: pivots and arcs, in inches, one joint, a slot, many
// feet, holes in line, holes of a plate whose joint takes three bolts, and the wing itself.
func carsToDrill(t testing.TB) map[string]struct {
	car  *model.Car
	part int
} {
	type one = struct {
		car  *model.Car
		part int
	}
	without := func(c *model.Car, part int, ids ...string) *model.Car {
		p := &c.Parts[part]
		p.Holes = slices.DeleteFunc(slices.Clone(p.Holes), func(h holes.Hole) bool { return slices.Contains(ids, h.ID) })
		return c
	}
	hole := func(id string, x, z float64) holes.Hole { return holes.Hole{ID: id, X: x, Z: z, D: 8.4} }
	inLine, plate := modeltest.Lever(t, 0), modeltest.Lever(t, 0)
	inLine.Speed, plate.Speed = 45, 45
	inLine.Parts[0].Holes = []holes.Hole{hole("a", 0, 0), hole("b", 35, 0), hole("c", 70, 0), hole("d", 105, 0), hole("e", 102.7, 21.8)}
	inLine.Parts[0].Outline = []plane.Point{{X: -30, Z: -60}, {X: 220, Z: -60}, {X: 220, Z: 90}, {X: -30, Z: 90}}
	inLine.Parts[1].Holes = []holes.Hole{hole("F", 62.5, 0), hole("R", 167.5, 0)}
	plate.Parts[0].Holes = []holes.Hole{hole("p", 0, 0), hole("q", 100, 0), hole("r", 50, 40), hole("s", 97.8, 20.8), hole("t", 40.6, 49.5)}
	plate.Parts[1].Holes = []holes.Hole{hole("F", 62.5, 0), hole("R", 162.5, 0), hole("T", 112.5, 40)}
	return map[string]one{
		"coupe":    {modeltest.Car(t, "coupe"), 1},
		"roadster": {modeltest.Car(t, "roadster"), 1},
		"saloon":   {without(modeltest.Car(t, "saloon"), 0, "p2", "q1"), 0},
		"hatch":    {without(modeltest.File(t, "hatch.toml"), 1, "A2", "A3", "A4", "B1", "B2", "B3", "B4"), 1},
		"slot":     {modeltest.File(t, "slot.toml"), 0},
		"in line":  {inLine, 0},
		"plate":    {plate, 0},
		"wing":     {modeltest.Car(t, "saloon"), 1},
	}
}

// byAllHoles is the plain way of Try: the whole car with the holes, from its holes to its rows, and every row's
// budget.
func byAllHoles(t testing.TB, table *model.Table, hs ...NewHole) (tr Trial) {
	car := With(table.Car, hs...)
	places, err := car.Positions()
	if err != nil {
		t.Fatal(err)
	}
	tr.Table = model.NewTable(car, places, table.Wing, table.Speed)
	old := map[string]bool{}
	for i := range table.Rows {
		for _, w := range table.Rows[i].Ways() {
			old[w.ID] = true
		}
	}
	for i := range tr.Table.Rows {
		r := &tr.Table.Rows[i]
		if !uses(table.Car, r) {
			continue
		}
		if id := withoutNew(table.Car, car, r); old[id] {
			tr.Further = append(tr.Further, id)
		} else {
			tr.Added = append(tr.Added, i)
		}
	}
	tr.After = choose.Levels(tr.Table)
	return tr
}

// spellLevels spells levels to a thousandth.
func spellLevels(levels []choose.Level) (lines []string) {
	for _, l := range levels {
		lines = append(lines, fmt.Sprintf("%.3f mm %.3f° to %.3f°, steps %.3f° %.2f N, %d", l.Height, l.Low/plane.Deg, l.High/plane.Deg, l.AngleStep/plane.Deg, l.ForceStep, l.Count))
	}
	return lines
}

// What Try says of any holes, on the curves and off them, is what the whole car with them has: rows and their ways,
// what is added, further bolts, levels.
func TestTryAsTheWholeCar(t *testing.T) {
	for name, one := range carsToDrill(t) {
		table := modeltest.TableOf(t, one.car)
		e := NewExisting(table)
		curves := Curves(one.car, one.part)
		rapid.Check(t, func(rt *rapid.T) {
			var hs []NewHole
			for n := range rapid.IntRange(1, 2).Draw(rt, "holes") {
				h := NewHole{Part: one.part}
				if curves != nil && rapid.IntRange(0, 3).Draw(rt, "on a curve") > 0 {
					k := curves[rapid.IntRange(0, len(curves)-1).Draw(rt, "curve")]
					at := k.At(one.car, rapid.Float64Range(-0.3, 0.4).Draw(rt, "turn"))
					h.X, h.Z = at.X, at.Z
				} else {
					lo, hi := plane.Box(points(one.car.Parts[one.part].Holes))
					h.X, h.Z = rapid.Float64Range(lo.X-20, hi.X+20).Draw(rt, "x"), rapid.Float64Range(lo.Z-20, hi.Z+20).Draw(rt, "z")
				}
				h.ID, h.D, h.Joint = fmt.Sprintf("N%d", n), 8.6, rapid.SampledFrom([]string{"", "head", "foot", "j"}).Draw(rt, "joint")
				hs = append(hs, h)
			}
			tr, err := e.Try(t.Context(), hs...)
			if err != nil {
				rt.Fatal(err)
			}
			want := byAllHoles(t, table, hs...)
			if len(tr.Table.Rows) != len(want.Table.Rows) {
				rt.Fatalf("%s: %d rows, want %d", name, len(tr.Table.Rows), len(want.Table.Rows))
			}
			for i := range want.Table.Rows {
				a, b := &tr.Table.Rows[i], &want.Table.Rows[i]
				if a.ID != b.ID || !slices.Equal(a.AlternativeIDs(), b.AlternativeIDs()) || math.Abs(a.Angle-b.Angle) > 1e-9 || math.Abs(a.Height-b.Height) > 1e-6 ||
					a.Within() != b.Within() || a.Stalled != b.Stalled || math.Abs(a.Downforce-b.Downforce) > 1e-6 || math.Abs(a.Share-b.Share) > 1e-9 {
					rt.Fatalf("%s: row %d is %s, %g N, %v; want %s, %g N, %v", name, i, a.ID, a.Downforce, a.AlternativeIDs(), b.ID, b.Downforce, b.AlternativeIDs())
				}
			}
			if !slices.Equal(tr.Added, want.Added) || !slices.Equal(tr.Further, want.Further) {
				rt.Fatalf("%s: added %v, further bolts %v; want %v, %v", name, tr.Added, tr.Further, want.Added, want.Further)
			}
			if a, b := spellLevels(tr.After), spellLevels(want.After); !slices.Equal(a, b) {
				rt.Fatalf("%s: levels %v, want %v", name, a, b)
			}
		})
	}
}

// points are the middles of holes.
func points(hs []holes.Hole) (all []plane.Point) {
	for _, h := range hs {
		all = append(all, h.At())
	}
	return all
}

// plainUse is the plain way of finding the setting that a row is like: every row's budget.
func plainUse(before *model.Table, with *model.Table, r *model.Row) (use Use, id string) {
	switch {
	case r.Stalled:
		return IsStalled, ""
	case r.Lifts():
		return LiftsTheCar, ""
	case !r.Within():
		return OutsideLimits, ""
	}
	own := with.Budget(r)
	var best *model.Row
	for i := range before.Rows {
		o := &before.Rows[i]
		if !o.Within() || o.Stalled {
			continue
		}
		alike := choose.Apart(r, o, model.DifferenceStdUnc(own, before.Budget(o))) != choose.Clear
		turned := choose.ClarityOf(r.Angle-o.Angle, math.Hypot(r.Play, o.Play)/math.Sqrt(3)) == choose.Clear
		if !alike && (turned || math.Abs(r.Height-o.Height) > SameHeight) {
			continue
		}
		if best != nil {
			off := math.Abs(r.Downforce-o.Downforce) - math.Abs(r.Downforce-best.Downforce)
			if off > 1e-6 || off > -1e-6 && math.Abs(r.Height-o.Height) >= math.Abs(r.Height-best.Height)-1e-6 {
				continue
			}
		}
		best = o
	}
	if best == nil {
		return OfUse, ""
	}
	return LikeAnother, best.ID
}

// Whether a setting is of use, and which it is like, is the same as by the budgets of all rows.
func TestUseAsByAllBudgets(t *testing.T) {
	count := map[Use]int{}
	budgets, rows := 0, 0
	for name, one := range carsToDrill(t) {
		table := modeltest.TableOf(t, one.car)
		e := NewExisting(table)
		for n, k := range Curves(one.car, one.part) {
			if n%7 != 0 {
				continue
			}
			for _, turn := range []float64{-0.05, 0.03, 0.11, 0.19, 0.27} {
				h := NewHole{Part: one.part}
				at := k.At(one.car, turn)
				h.ID, h.X, h.Z, h.D = "N1", at.X, at.Z, 8.6
				c, err := e.change([]NewHole{h})
				if err != nil {
					t.Fatal(err)
				}
				with := table.Bare(c.car)
				for _, i := range c.added {
					got := e.like.use(with, &c.rows[i])
					use, id := plainUse(table, with, &c.rows[i])
					if got.Use != use || got.ID != id {
						t.Errorf("%s, %s: %v %q, by all budgets %v %q", name, c.rows[i].ID, got.Use, got.ID, use, id)
					}
					count[use]++
				}
			}
		}
		budgets, rows = budgets+len(e.like.budgets), rows+len(table.Rows)
	}
	if count[OfUse] < 10 || count[LikeAnother] < 10 {
		t.Errorf("uses %v: the test sees too few", count)
	}
	t.Logf("%v; %d budgets of %d rows", count, budgets, rows)
}
