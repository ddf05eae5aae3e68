package drill_test

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/words"
)

// Suggested holes give what was promised when the car is really drilled so.
func TestSuggestionsKeepTheirPromise(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	name := func(n int) string { return fmt.Sprintf("N%d", n+1) }
	for _, w := range []drill.Goal{
		{Angle: given.Is(4.3 * plane.Deg), Count: 1},
		{Angle: given.Is(4.3 * plane.Deg), Height: given.Is(1271), Count: 1},
		{Downforce: given.Is(340), Count: 1},
		{Fill: true, Count: 2},
	} {
		w.Grid, w.Part, w.Joint, w.D, w.Name = 0.5, 1, "head", 8.4, name
		f, err := drill.Suggest(t.Context(), drill.NewExisting(table), w, nil)
		best := f.Best
		if err != nil {
			t.Fatal(err)
		}
		if len(best) == 0 {
			t.Errorf("%+v: nothing suggested", w)
			continue
		}
		for _, s := range best {
			car := drill.With(table.Car, s.Holes...)
			drilled, err := car.Map(table.Speed)
			if err != nil {
				t.Fatal(err)
			}
			hits := 0
			for i := range drilled.Rows {
				r := &drilled.Rows[i]
				if _, old := table.Index(r.ID); old || !r.Within() {
					continue
				}
				angle := !w.Angle.Known() || math.Abs(r.Angle-w.Angle.Value()) < 0.41*plane.Deg
				height := !w.Height.Known() || math.Abs(r.Height-w.Height.Value()) < 12.1
				force := !w.Downforce.Known() || math.Abs(r.Downforce/w.Downforce.Value()-1) < 0.031
				if angle && height && force && !w.Fill {
					hits++
				}
			}
			if !w.Fill && hits != s.Hits {
				t.Errorf("%+v: %d hits promised, %d there", s.Holes, s.Hits, hits)
			}
			for _, h := range s.Holes {
				if math.Abs(math.Remainder(h.X, 0.5)) > 1e-9 || math.Abs(math.Remainder(h.Z, 0.5)) > 1e-9 {
					t.Errorf("%+v is off the drill's grid", h)
				}
			}
			for _, r := range s.Rules {
				if r.Must && !r.OK {
					t.Errorf("%+v breaks %s", s.Holes, words.Rule(r))
				}
			}
		}
		if w.Fill && best[0].Gain <= 0 {
			t.Errorf("filling gains %.2f°", best[0].Gain/plane.Deg)
		}
	}
}

// Where the best holes would be there is a cut-out: none is suggested in it or nearer to its edge than
// 1.2 d0, and those places are told as ones that cannot be drilled.
func TestNoSuggestionAtACutout(t *testing.T) {
	goal := drill.Goal{Angle: given.Is(4.3 * plane.Deg), Count: 1, Grid: 0.5, Part: 1, Joint: "head", D: 8.4,
		Name: func(n int) string { return fmt.Sprintf("N%d", n+1) }}
	suggest := func(car *model.Car) (best, near []drill.Suggestion) {
		f, err := drill.Suggest(t.Context(), drill.NewExisting(modeltest.TableOf(t, car)), goal, nil)
		if err != nil {
			t.Fatal(err)
		}
		return f.Best, f.Near
	}
	car := modeltest.Car(t, "coupe")
	first, _ := suggest(car)
	if len(first) == 0 {
		t.Fatal("nothing is suggested without a cut-out")
	}
	for _, s := range first {
		at := s.Holes[0].At()
		car.Parts[1].Cutouts = append(car.Parts[1].Cutouts, []plane.Point{{X: at.X - 3, Z: at.Z - 3}, {X: at.X + 3, Z: at.Z - 3}, {X: at.X + 3, Z: at.Z + 3}, {X: at.X - 3, Z: at.Z + 3}})
	}
	second, near := suggest(car)
	for _, s := range second {
		if mm, metal := car.Parts[1].EdgeDistance(s.Holes[0].At()); !metal || mm < 1.2*8.4-1e-6 {
			t.Errorf("%+v is %g mm from an edge, in metal %v", s.Holes[0], mm, metal)
		}
	}
	if len(near) == 0 || near[0].Short == nil {
		t.Errorf("%d places are told as ones that cannot be drilled", len(near))
	}
}

// drilledCar returns the coupé with n holes in the upright.
func drilledCar(b testing.TB, n int) *model.Table {
	car := modeltest.Car(b, "coupe")
	p := &car.Parts[1]
	for k := 0; len(p.Holes) < n; k++ {
		p.Holes = append(p.Holes, holes.Hole{ID: fmt.Sprintf("x%d", k), X: 20 + float64(k%5)*25, Z: 80 + 17*float64(k/5), D: 8.4, Joint: "head"})
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		b.Fatal(err)
	}
	return table
}

func BenchmarkTry200Holes(b *testing.B) {
	table := drilledCar(b, 200)
	for b.Loop() {
		if _, err := drill.Try(b.Context(), table, newHole(100, 300, "head")); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSuggestFill60Holes(b *testing.B) {
	table := drilledCar(b, 60)
	w := drill.Goal{Fill: true, Count: 2, Grid: 0.5, Part: 1, Joint: "head", D: 8.4,
		Name: func(n int) string { return fmt.Sprintf("N%d", n+1) }}
	for b.Loop() {
		if _, err := drill.Suggest(b.Context(), drill.NewExisting(table), w, nil); err != nil {
			b.Fatal(err)
		}
	}
}
