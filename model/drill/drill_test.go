package drill_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/modeltest"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newHole(x, z float64, joint string) drill.NewHole {
	return drill.NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: x, Z: z, D: 8.4, Joint: joint}}
}

// A hole on pivot A's arc at 12°, by hand: x = 150·cos 12° = 146.7, z = 420 +
// 150·sin 12° = 451.2. It gives 12° - 2° + 0.3° = 10.3° at each of the four feet.
// Pivot B lies 50 mm higher, two rows of the foot: with the upper two rows the
// wing is where B and B2 put it already, so two settings are new.
func TestTryAHoleByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	tr, err := drill.Try(t.Context(), table, newHole(146.7, 451.2, "head"))
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for _, i := range tr.Added {
		if r := &tr.Table.Rows[i]; math.Abs(r.Angle/plane.Deg-10.3) < 0.05 {
			at++
		}
	}
	if at != 2 {
		t.Errorf("%d new settings at 10.3°, want 2", at)
	}
	// It lies 10.7 mm from A3 at 16°, closer than 2.4 · 8.4 = 20.2 mm.
	if tr.Verdict.Good() || len(tr.Rules) == 0 {
		t.Errorf("worth %v, rules %v", tr.Verdict.Good(), tr.Rules)
	}
}

// Distances by hand: the upright's left edge at x = -24 between z = 300 and 545:
// a hole at x = -4, z = 445 is 20 mm from it, and 25.3 mm from A (0, 420).
// Where nothing says that there is metal, no hole is called worth drilling without a word.
func TestHoleInAPartWithoutAnOutline(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	hole := drill.NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: -5, Z: 445.5, D: 8.4}}
	whole, err := drill.Try(t.Context(), table, hole)
	if err != nil {
		t.Fatal(err)
	}
	table.Car.Parts[1].Outline = nil
	open, err := drill.Try(t.Context(), table, hole)
	if err != nil {
		t.Fatal(err)
	}
	if text := words.Trial(&whole, units.Metric); !whole.Verdict.Good() || !strings.HasPrefix(text, "worth drilling: ") {
		t.Errorf("with its outline: %s", text)
	}
	if text := words.Trial(&open, units.Metric); !open.Verdict.Good() || !strings.HasPrefix(text, "NOT CHECKED whether part upright has metal there") {
		t.Errorf("without: %s", text)
	}
}

func TestHoleRules(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	rules := drill.HoleRules(&car.Parts[1], holes.Hole{ID: "N1", X: -4, Z: 445, D: 8.4})
	want := map[string][2]float64{"edge distance": {20, 1.2 * 8.4}, "spacing to hole A": {math.Hypot(4, 25), 2.4 * 8.4}, "spacing to hole B": {math.Hypot(4, 25), 2.4 * 8.4}}
	for _, r := range rules {
		if w, ok := want[words.Rule(r)]; ok && (math.Abs(r.Have-w[0]) > 0.01 || math.Abs(r.Need-w[1]) > 0.01 || !r.OK) {
			t.Errorf("%s: %.2f of %.2f mm (%v), want %.2f of %.2f", words.Rule(r), r.Have, r.Need, r.OK, w[0], w[1])
		}
	}
	if out := drill.HoleRules(&car.Parts[1], holes.Hole{ID: "N1", X: -60, Z: 445, D: 8.4}); out[0].OK || out[0].Have >= 0 {
		t.Errorf("outside of the plate: %+v", out[0])
	}
}

// By hand: a window of the upright from x 20 to 60 between z 150 and 350. At x 70 a hole is 10 mm
// from it, less than 1.2 · 8.4 = 10.08 mm; at x 71 it is 11 mm; in it none can be drilled.
func TestHoleRulesAtACutout(t *testing.T) {
	part := modeltest.Car(t, "coupe").Parts[1]
	part.Cutouts = [][]plane.Point{{{X: 20, Z: 150}, {X: 60, Z: 150}, {X: 60, Z: 350}, {X: 20, Z: 350}}}
	for _, c := range []struct {
		x, have float64
		ok, out bool
		text    string
	}{
		{71, 11, true, false, "edge distance 11.0 mm, minimum 10.1 mm"},
		{70, 10, false, false, "edge distance 10.0 mm, minimum 10.1 mm"},
		{55, -5, false, true, "it lies in a cut-out of the part"},
	} {
		r := drill.HoleRules(&part, holes.Hole{ID: "N1", X: c.x, Z: 250, D: 8.4})[0]
		if math.Abs(r.Have-c.have) > 1e-9 || r.OK != c.ok || r.Out != c.out || words.Broken(r, units.Metric) != c.text {
			t.Errorf("at x %g: %+v, %q", c.x, r, words.Broken(r, units.Metric))
		}
	}
}

// Adding a hole anywhere takes no setting away: each old id is a setting's, an
// alternative's, or that of one which gets a further bolt.
// A new hole is named like no hole and no slot of the part, whatever the case.
func TestFreeHoleNames(t *testing.T) {
	p := model.Part{Part: holes.Part{Holes: []holes.Hole{{ID: "n2"}, {ID: "N1@0", Slot: "N1"}, {ID: "N4"}}}}
	for n, want := range []string{"N3", "N5", "N6"} {
		if got := drill.FreeHoleName(p, n); got != want {
			t.Errorf("free name %d is %s, want %s", n, got, want)
		}
	}
}

func TestAddingAHoleKeepsSettings(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	rapid.Check(t, func(t *rapid.T) {
		h := newHole(rapid.Float64Range(-20, 170).Draw(t, "x"), rapid.Float64Range(-20, 590).Draw(t, "z"), rapid.SampledFrom([]string{"", "head", "foot"}).Draw(t, "joint"))
		tr, err := drill.Try(t.Context(), table, h)
		if err != nil {
			t.Fatal(err)
		}
		further := map[string]bool{}
		for _, id := range tr.Further {
			further[id] = true
		}
		for i := range table.Rows {
			if id := table.Rows[i].ID; !further[id] {
				if _, ok := tr.Table.Find(id); !ok {
					t.Fatalf("%s is gone with a hole at %.2f, %.2f", id, h.X, h.Z)
				}
			}
		}
	})
}
