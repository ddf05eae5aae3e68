package drill

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// manyHoles is the coupé with a tall plate full of pivots and arcs, and brackets with as many rows of holes: about feet times
// heads settings. Where it is sparse, there is room for another hole.
func manyHoles(t testing.TB, feet, heads int) *model.Car {
	car := modeltest.Car(t, "coupe")
	hole := func(id string, x, z float64, joint string) holes.Hole {
		return holes.Hole{ID: id, X: x, Z: z, D: 8.4, Joint: joint}
	}
	var rows []holes.Hole
	for i := range feet {
		z := 12.3 * float64(i)
		rows = append(rows, hole(fmt.Sprintf("l%d", i), 0, z, ""), hole(fmt.Sprintf("r%d", i), 60, z, ""))
	}
	car.Parts[0].Holes, car.Joints[0].MinBolts = rows, 2
	p := &car.Parts[1]
	p.Holes = slices.Clone(p.Holes[:2])
	p.Outline = []plane.Point{{X: -40, Z: -22}, {X: 240, Z: -22}, {X: 240, Z: 1400}, {X: -40, Z: 1400}}
	pivots := int(math.Sqrt(float64(heads)/2)) + 1
	arcs := (heads + pivots - 1) / pivots
	for i := range pivots {
		z := 300 + 41.3*float64(i)
		p.Holes = append(p.Holes, hole(fmt.Sprintf("P%d", i), 0, z, "head"))
		for k := range arcs {
			a := (-4 + 20*float64(k)/float64(arcs) + 0.1*float64(i%7)) * plane.Deg
			p.Holes = append(p.Holes, hole(fmt.Sprintf("a%d_%d", i, k), 150*math.Cos(a), z+150*math.Sin(a), "head"))
		}
	}
	car.Limits.Top, car.Limits.Rear = given.Number{}, given.Number{}
	return car
}

// What a search takes against one map of the same car: the demo car, and cars with about 1700 and 50,000 settings.
func BenchmarkSuggest(b *testing.B) {
	for _, c := range []struct {
		name        string
		feet, heads int
	}{{"demo", 0, 0}, {"1700", 17, 70}, {"50000", 100, 350}} {
		car := modeltest.Car(b, "coupe")
		if c.feet > 0 {
			car = manyHoles(b, c.feet, c.heads)
		}
		table := modeltest.TableOf(b, car)
		b.Run(c.name+"/map", func(b *testing.B) {
			b.ReportMetric(float64(len(table.Rows)), "settings")
			for b.Loop() {
				modeltest.TableOf(b, car)
			}
		})
		name := func(n int) string { return FreeHoleName(car.Parts[1], n) }
		base := Goal{Count: 1, Grid: 0.5, Part: 1, Joint: "head", D: 8.4, Name: name}
		for what, change := range map[string]func(w *Goal){
			"fill": func(w *Goal) { w.Fill = true }, "pairs": func(w *Goal) { w.Fill, w.Count = true, 2 },
			"angle": func(w *Goal) { w.Angle = given.Is(4.3 * plane.Deg) }, "downforce": func(w *Goal) { w.Downforce = given.Is(340) },
			"steps": func(w *Goal) { w.MaxStep, w.Count = given.Is(2*plane.Deg), 3 },
		} {
			w := base
			change(&w)
			b.Run(c.name+"/"+what, func(b *testing.B) {
				for b.Loop() {
					if _, err := Suggest(b.Context(), NewExisting(table), w, nil); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
		b.Run(c.name+"/try", func(b *testing.B) {
			for b.Loop() {
				if _, err := Try(b.Context(), table, w(base, -5, 445.5)); err != nil {
					b.Fatal(err)
				}
			}
		})
		e := NewExisting(table)
		b.Run(c.name+"/try again", func(b *testing.B) {
			for b.Loop() {
				if _, err := e.Try(b.Context(), w(base, -5, 445.5)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// w is a goal's hole at a place.
func w(goal Goal, x, z float64) NewHole { return goal.hole(0, plane.Point{X: x, Z: z}) }
