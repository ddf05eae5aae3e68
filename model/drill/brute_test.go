package drill

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/modeltest"
)

// fillGoal is that the widest steps of a part are narrowed by a number of holes.
func fillGoal(car *model.Car, part, count int) Goal {
	return Goal{Fill: true, Count: count, Grid: 0.5, Part: part, Joint: DefaultJoint(car, part), D: CommonDiameter(car.Parts[part]),
		Name: func(n int) string { return FreeHoleName(car.Parts[part], n) }}
}

// plainGain is by how much the widest steps shrink, rad, worked out from the settings of the whole car with the holes:
// of each height before, less the widest step between its settings and the new ones within 8 mm of them.
func plainGain(t testing.TB, table *model.Table, hs ...NewHole) float64 {
	tr := byAllHoles(t, table, hs...)
	var levels [][]*model.Row
	last := math.Inf(-1)
	runs := func(r *model.Row) bool { return r.Within() && !r.Stalled }
	for i := range table.Rows {
		if r := &table.Rows[i]; runs(r) {
			if r.Height-last > 8 {
				levels = append(levels, nil)
			}
			last = r.Height
			levels[len(levels)-1] = append(levels[len(levels)-1], r)
		}
	}
	gain := 0.0
	for i, level := range levels {
		var angles []float64
		for _, r := range level {
			angles = append(angles, r.Angle)
		}
		for k := range tr.Table.Rows {
			r := &tr.Table.Rows[k]
			if runs(r) && slices.Contains(tr.Added, k) && r.Height >= level[0].Height-8 && r.Height <= level[len(level)-1].Height+8 {
				angles = append(angles, r.Angle)
			}
		}
		slices.Sort(angles)
		widest := 0.0
		for n := 1; n < len(angles); n++ {
			widest = max(widest, angles[n]-angles[n-1])
		}
		gain += max(0, choose.Levels(table)[i].AngleStep-widest)
	}
	return gain
}

// drillable reports whether holes keep the rules, each beside those before it.
func drillable(car *model.Car, hs ...NewHole) bool {
	for i, h := range hs {
		if _, broken := Broken(HoleRules(&With(car, hs[:i]...).Parts[h.Part], h.Hole)); broken {
			return false
		}
	}
	return true
}

// everywhere lists the places of a 0.5 mm grid over a part that can be drilled and at which bolts go in, found by
// looking for bolts at each.
func everywhere(t testing.TB, car *model.Car, w Goal) (all []plane.Point) {
	at := points(car.Parts[w.Part].Holes)
	lo, hi := plane.Box(at)
	lo, hi = lo.Sub(plane.Point{X: 170, Z: 170}), hi.Add(plane.Point{X: 170, Z: 170})
	if o := car.Parts[w.Part].Outline; o != nil {
		lo, hi = plane.Box(o)
	}
	j, _ := w.joint(car)
	for x := math.Ceil(lo.X*2) / 2; x <= hi.X; x += 0.5 {
		for z := math.Ceil(lo.Z*2) / 2; z <= hi.Z; z += 0.5 {
			h := w.hole(0, plane.Point{X: x, Z: z})
			if !drillable(car, h) {
				continue
			}
			with := With(car, h)
			d := holes.Drilled{Lower: []int{len(with.Parts[w.Part].Holes) - 1}}
			if w.Part != j {
				d = holes.Drilled{Upper: d.Lower}
			}
			fits, err := holes.FitsThrough(with.Parts[j].Part, with.Parts[j+1].Part, with.Joints[j].Joint, d)
			if err != nil {
				t.Fatal(err)
			}
			if len(fits) > 0 {
				all = append(all, plane.Point{X: x, Z: z})
			}
		}
	}
	return all
}

// The best single hole is within 5 % of the best of the whole grid, on cars of all kinds; what is called the bound is
// not exceeded. The ordinary run looks at places at random; DRILL_BRUTE=1 looks at all.
func TestBestHoleByBruteForce(t *testing.T) {
	whole := os.Getenv("DRILL_BRUTE") != ""
	random := rand.New(rand.NewPCG(8, 6))
	for name, one := range carsToDrill(t) {
		table := modeltest.TableOf(t, one.car)
		w := fillGoal(one.car, one.part, 1)
		found, err := Suggest(t.Context(), NewExisting(table), w, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		if len(found.Best) > 0 {
			got = found.Best[0].Gain
			if plain := plainGain(t, table, found.Best[0].Holes...); math.Abs(plain-got) > 1e-6 {
				t.Errorf("%s: gain %.4f°, of the whole car %.4f°", name, got/plane.Deg, plain/plane.Deg)
			}
		}
		var places []plane.Point
		if whole {
			places = everywhere(t, one.car, w)
		} else {
			j, _ := w.joint(one.car)
			field, err := newField(t.Context(), one.car, w, j)
			if err != nil {
				t.Fatal(err)
			}
			for range 25 {
				if at := field.at(random.IntN(len(field.places))); drillable(one.car, w.hole(0, at)) {
					places = append(places, at)
				}
			}
		}
		best, at := 0.0, plane.Point{}
		for _, p := range places {
			tr := byAllHoles(t, table, w.hole(0, p))
			gain := 0.0
			if len(tr.Added) > 0 {
				gain = plainGain(t, table, w.hole(0, p))
			}
			if gain <= best {
				continue
			}
			full, err := Try(t.Context(), table, w.hole(0, p))
			if err != nil {
				t.Fatal(err)
			}
			if len(full.Useful) > 0 {
				best, at = gain, p
			}
		}
		t.Logf("%s: %.3f° found, %.3f° the best of %d places by brute force, at %v; bound %.3f°", name, got/plane.Deg, best/plane.Deg, len(places), at, found.Bound/plane.Deg)
		if got < 0.95*best && best > minGain {
			t.Errorf("%s: %.3f° found, %.3f° at %v", name, got/plane.Deg, best/plane.Deg, at)
		}
		if best > found.Bound+1e-6 {
			t.Errorf("%s: %.3f° at %v is above the bound of %.3f°", name, best/plane.Deg, at, found.Bound/plane.Deg)
		}
	}
}

// Two holes: no pair of places of the coupé is better than the bound says, and the best found is within 5 % of the best
// of the pairs. The ordinary run takes pairs at random; DRILL_BRUTE=1 all of those that do anything.
func TestBestPairByBruteForce(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 7))
	for _, name := range []string{"coupe", "roadster", "saloon"} {
		one := carsToDrill(t)[name]
		table := modeltest.TableOf(t, one.car)
		e, w := NewExisting(table), fillGoal(one.car, one.part, 2)
		found, err := Suggest(t.Context(), e, w, nil)
		if err != nil || len(found.Best) == 0 {
			t.Fatal(name, len(found.Best), err)
		}
		got := found.Best[0].Gain
		if plain := plainGain(t, table, found.Best[0].Holes...); math.Abs(plain-got) > 1e-6 || !drillable(one.car, found.Best[0].Holes...) {
			t.Errorf("%s: gain %.4f°, of the whole car %.4f°; rules %v", name, got/plane.Deg, plain/plane.Deg, found.Best[0].Rules)
		}
		j, _ := w.joint(one.car)
		field, err := newField(t.Context(), one.car, w, j)
		if err != nil {
			t.Fatal(err)
		}
		scan, err := newScan(t.Context(), newAim(e, w), field, j, func(float64) {})
		if err != nil {
			t.Fatal(err)
		}
		p, err := newPairs(t.Context(), scan, w, new(Search))
		if err != nil {
			t.Fatal(err)
		}
		type couple struct {
			gain float64
			a, b int
		}
		var all []couple
		try := func(a, b int) {
			if p.halves[a].at.Distance(p.halves[b].at) >= p.apart {
				v, err := p.worth(&p.halves[a], &p.halves[b])
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, couple{v.gain, a, b})
			}
		}
		if os.Getenv("DRILL_BRUTE") != "" {
			for a := range p.halves {
				for b := range a {
					try(a, b)
				}
			}
		} else {
			for range 1500 {
				try(random.IntN(len(p.halves)), random.IntN(len(p.halves)))
			}
		}
		slices.SortFunc(all, func(a, b couple) int { return -int(math.Copysign(1, a.gain-b.gain)) })
		best := 0.0
		for _, c := range all[:min(len(all), 6)] { // as if all kept the limits; the best of them by the whole car
			best = max(best, plainGain(t, table, w.hole(0, p.halves[c.a].at), w.hole(1, p.halves[c.b].at)))
		}
		t.Logf("%s: %.3f° found, %.3f° the best of %d pairs; bound %.3f°", name, got/plane.Deg, best/plane.Deg, len(all), found.Bound/plane.Deg)
		if got < 0.95*best || best > found.Bound+1e-6 {
			t.Errorf("%s: %.3f° found with bound %.3f°, %.3f° by brute force", name, got/plane.Deg, found.Bound/plane.Deg, best/plane.Deg)
		}
	}
}
