package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Texts are moved apart as little as it takes. By hand: 10 and 11 with 4 each move by 1.5 either way, 20 stays; with 8 each the three
// stand about their middle, 13.67.
func TestSpread(t *testing.T) {
	if got := spread([]float64{10, 11, 20}, []float64{4, 4, 4}); !slices.Equal(got, []float64{8.5, 12.5, 20}) {
		t.Errorf("spread %v", got)
	}
	got := spread([]float64{10, 11, 20}, []float64{8, 8, 8})
	for i, want := range []float64{41.0/3 - 8, 41.0 / 3, 41.0/3 + 8} {
		if math.Abs(got[i]-want) > 1e-9 {
			t.Errorf("spread %v", got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 20).Draw(t, "values")
		slices.Sort(values)
		var sizes []float64
		for range values {
			sizes = append(sizes, rapid.Float64Range(1, 12).Draw(t, "size"))
		}
		sum := 0.0
		for i, v := range spread(values, sizes) {
			sum += v - values[i]
			if i > 0 && v-spread(values, sizes)[i-1] < (sizes[i-1]+sizes[i])/2-1e-9 {
				t.Fatalf("%d and %d stand too near", i-1, i)
			}
		}
		if math.Abs(sum) > 1e-6 { // of least squares without an end
			t.Fatalf("moved by %g in all", sum)
		}
	})
}

// Inches are fractions to the nearest 64th where that is off by 0.1 mm at most, else decimals. By hand: 41.275 mm is 1 5/8 in; 8.4 mm
// is 21/64 = 8.334 mm, off by 0.066; 8.5 mm is 0.3346 in, between 21/64 and 22/64 = 8.731, off by 0.166.
func TestFractions(t *testing.T) {
	for _, row := range []struct {
		mm   float64
		want string
	}{{0, "0"}, {25.4, "1"}, {41.275, "1 5/8"}, {8.4, "21/64"}, {12.7, "1/2"}, {-12.7, "−1/2"}, {8.5, ""}, {25.4 * (1 + 1.0/64), "1 1/64"},
		{25.4*3/8 + 0.0999, "3/8"}, {25.4*3/8 + 0.1001, ""}} {
		if got, _, ok := fraction(row.mm); got != row.want || ok != (row.want != "") {
			t.Errorf("%g mm is %q (%t), want %q", row.mm, got, ok, row.want)
		}
	}
	inches := units.SystemOf("in", "lb", "mph")
	c := &model.Car{Name: "inches", Parts: []model.Part{{}, {Part: holes.Part{Name: "plate", Holes: []holes.Hole{{ID: "a", X: 41.275, Z: 8.5, D: 8.4}, {ID: "b", X: 60, Z: 8.4, D: 8.4}}},
		Outline: []plane.Point{{}, {X: 100}, {X: 100, Z: 50}, {Z: 50}}}, {}}}
	said := func(w Wanted, text string) bool {
		return slices.ContainsFunc(w.Part(c, 1).Whole().Texts, func(l Text) bool { return strings.Contains(l.Text, text) })
	}
	for text, want := range map[string][2]bool{"a: 1 5/8": {true, false}, "a: 1.625": {false, true}, "a: 0.335": {true, true}, "b: 21/64 (0.331)": {true, false}, "b: 0.331": {false, true}} {
		if got := [2]bool{said(Wanted{Units: inches}, text), said(Wanted{Units: inches, Decimals: true}, text)}; got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

// A dimension names all of its holes, on as many lines as it takes.
func TestDimensionsNameAllHoles(t *testing.T) {
	p := model.Part{Part: holes.Part{Name: "plate"}, Outline: []plane.Point{{}, {X: 120}, {X: 120, Z: 700}, {Z: 700}}}
	var names []string
	for i := range 26 {
		names = append(names, fmt.Sprint(i+1))
		p.Holes = append(p.Holes, holes.Hole{ID: names[i], X: 40, Z: 20 + 26*float64(i), D: 8.4})
	}
	c := &model.Car{Name: "many", Parts: []model.Part{{}, p, {}}, Joints: make([]model.Joint, 2)}
	d := Part(c, 1, nil, day, units.Metric)
	var label []string
	for _, t := range d.Texts {
		if t.Up && t.Pen == Dimension && !strings.HasPrefix(t.Text, "0") {
			label = append(label, strings.TrimSpace(t.Text))
		}
	}
	if got, want := strings.Join(label, " "), strings.Join(names, ", ")+": 40.0"; got != want || len(label) < 2 {
		t.Errorf("the dimension is %q on %d lines, want %q", got, len(label), want)
	}
	for _, l := range d.Whole().Texts {
		if strings.Contains(l.Text, "…") {
			t.Errorf("%q is cut", l.Text)
		}
	}
}

// The template says which holes overlap and which break through the edge, and by how much. By hand: 8.4 and 6.4 mm wide, 7 apart:
// 7.4 less 7. A slot along x from 60 to 80 is 3 mm from a hole at 70, 3.
func TestWarnings(t *testing.T) {
	p := model.Part{Part: holes.Part{Name: "plate", Holes: []holes.Hole{{ID: "a", X: 30, Z: 30, D: 8.4}, {ID: "b", X: 37, Z: 30, D: 6.4},
		{ID: "c", X: 4, Z: 50, D: 8.4}, {ID: "d", X: 70, Z: 33, D: 8}, {ID: "e", X: 30, Z: 60, D: 8.4}, {ID: "f", X: 30, Z: 68.4, D: 8.4}}},
		Slots:   []holes.Slot{{Hole: holes.Hole{ID: "S", X: 60, Z: 30, D: 8}, To: plane.Point{X: 80, Z: 30}}},
		Outline: []plane.Point{{}, {X: 100}, {X: 100, Z: 100}, {Z: 100}}}
	got := Warnings(p, nil, units.Metric)
	want := []string{"holes a and b overlap by 0.40 mm", "hole c breaks through the part's edge", "holes d and S overlap by 5.00 mm"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	c := &model.Car{Name: "odd", Parts: []model.Part{{}, p, {}}, Joints: make([]model.Joint, 2)}
	for _, w := range want {
		if !slices.ContainsFunc(Part(c, 1, nil, day, units.Metric).Whole().Texts, func(t Text) bool { return t.Text == "WARNING: "+w }) {
			t.Errorf("the drawing does not say %q", w)
		}
	}
	// A new hole is looked at too.
	if got := Warnings(p, []holes.Hole{{ID: "N", X: 97, Z: 90, D: 8}}, units.Metric); !slices.Contains(got, "hole N breaks through the part's edge") {
		t.Errorf("with a new hole: %q", got)
	}
}

// A section that is not known says on every drawing that it is a stand-in; one that is known does not.
func TestStandInSaysSo(t *testing.T) {
	for name, c := range cars(t) {
		table, err := c.Map(c.Speed)
		if err != nil {
			t.Fatal(err)
		}
		_, known := c.Wing.Outline()
		for what, d := range map[string]*Drawing{"part": Part(c, len(c.Parts)-1, nil, day, units.Metric), "side": Side(table, &table.Rows[0], nil, day, units.Metric)} {
			said := 0
			for _, l := range d.Whole().Texts {
				if strings.Contains(l.Text, "stand-in") {
					said++
				}
			}
			if (said >= 2) == known || known && said > 0 {
				t.Errorf("%s, %s: stand-in said %d times; the section is known: %t", name, what, said, known)
			}
		}
	}
}
