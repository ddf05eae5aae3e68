package holes

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes/plane"
)

const deg = plane.Deg

func ExampleClearance() {
	// ISO 273:1979, clearance holes for M8: fine 8.4, medium 9, coarse 10 mm.
	for _, d := range []float64{8.4, 9, 10} {
		fmt.Printf("%.1f mm\n", Clearance(d, d, 8))
	}
	// Output:
	// 0.4 mm
	// 1.0 mm
	// 2.0 mm
}

func ExampleTwoBoltPlay() {
	// By hand: spacings 100 and 100 mm, four holes of 8.4 mm, M8: the two
	// clearances together are 0.8 mm, and 2·asin(0.8/200) = 0.4584°.
	fmt.Printf("%.4f°\n", TwoBoltPlay(100, 100, 0.8)/deg)
	// Spacings 100 and 100.8: just in, no play.
	fmt.Printf("%.4f°\n", TwoBoltPlay(100, 100.8, 0.8)/deg)
	// Output:
	// 0.4584°
	// 0.0000°
}

// The clearance holes of ISO 273:1979 (fine, medium, coarse) all take their
// bolt, and the next size of bolt up passes through none of M4's and M6's.
func TestISO273HolesTakeTheirBolts(t *testing.T) {
	for _, row := range []struct {
		shank, next float64
		holes       [3]float64
	}{
		{4, 5, [3]float64{4.3, 4.5, 4.8}},
		{6, 8, [3]float64{6.4, 6.6, 7}},
		{8, 10.1, [3]float64{8.4, 9, 10}},
		{12, 14.6, [3]float64{13, 13.5, 14.5}},
	} {
		for _, d := range row.holes {
			if h := (Hole{D: d}); !h.Takes(row.shank) || h.Takes(row.next) {
				t.Errorf("hole %.1f mm: takes %.1f = %v, takes %.1f = %v; want true, false",
					d, row.shank, h.Takes(row.shank), row.next, h.Takes(row.next))
			}
		}
	}
}

// plate makes a part from hole centres, all drilled to one diameter.
func plate(name string, d float64, at ...plane.Point) Part {
	p := Part{Name: name}
	for i, c := range at {
		p.Holes = append(p.Holes, Hole{ID: fmt.Sprintf("%s%d", name, i+1), X: c.X, Z: c.Z, D: d})
	}
	return p
}

func m8(name string) Joint { return Joint{Name: name, Shank: 8, MinBolts: 2, MaxTurn: 30 * deg} }

// A pivot and an arc of three, by hand: pivot at (0, 0); arc holes at radius
// 100 mm and 0°, 4°, 8°; wing holes 100 mm apart. Three fits, turned 0°, 4°
// and 8°, with the midpoint of the wing's holes on the midpoint of the span.
func TestPivotAndArcByHand(t *testing.T) {
	at := func(a float64) plane.Point { return plane.Point{X: 100 * math.Cos(a*deg), Z: 100 * math.Sin(a*deg)} }
	upright := plate("u", 8.4, plane.Point{}, at(0), at(4), at(8))
	wing := plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0})
	fits, err := Fits(upright, wing, m8("head"))
	if err != nil || len(fits) != 3 {
		t.Fatalf("Fits = %d fits, %v; want 3", len(fits), err)
	}
	for i, want := range []float64{0, 4, 8} {
		f := fits[i]
		if math.Abs(f.Pose.Turn/deg-want) > 1e-9 || math.Abs(f.Play/deg-0.45837) > 1e-4 {
			t.Errorf("fit %d turn %.6f° play %.6f°, want %.1f° and 2·asin(0.8/200) = 0.45837°", i, f.Pose.Turn/deg, f.Play/deg, want)
		}
		if p := f.Pose.Apply(plane.Point{}); p.Length() > 1e-9 {
			t.Errorf("fit %d puts the wing's front hole at %v, want the pivot", i, p)
		}
	}
}

// Four bolts that go in at once are one fit with four bolts, not six fits with
// two; the foot one row up is another.
func TestFourBoltsAreOneFit(t *testing.T) {
	rows := func(n int, id string) Part {
		var at []plane.Point
		for i := range n {
			at = append(at, plane.Point{X: 0, Z: 35 * float64(i)}, plane.Point{X: 62, Z: 35 * float64(i)})
		}
		return plate(id, 8.4, at...)
	}
	fits, err := Fits(rows(4, "b"), rows(2, "u"), m8("foot"))
	if err != nil {
		t.Fatal(err)
	}
	four := 0
	for _, f := range fits {
		if len(f.Pairs) == 4 {
			four++
			// By symmetry the play is that of the two bolts furthest apart:
			// 2·asin(0.8 / 2 / 71.197) over the diagonal hypot(62, 35).
			want := 2 * math.Asin(0.4/math.Hypot(62, 35))
			if math.Abs(f.Play-want) > 1e-6 || math.Abs(f.Pose.Turn) > 1e-9 {
				t.Errorf("play %.5f°, turn %.5f°; want %.5f°, 0°", f.Play/deg, f.Pose.Turn/deg, want/deg)
			}
		}
	}
	if four != 3 {
		t.Errorf("%d fits with four bolts, want 3: %v", four, fits)
	}
	for _, f := range fits {
		if len(f.Pairs) == 2 && math.Abs(f.Pose.X) < 1 && math.Abs(math.Remainder(f.Pose.Z, 35)) < 1 && f.Pose.Z > -1 && f.Pose.Z < 71 {
			t.Errorf("a subset of four bolts is listed by itself: %+v", f)
		}
	}
}

func TestMaxTurnIsInclusive(t *testing.T) {
	at := func(a float64) plane.Point { return plane.Point{X: 100 * math.Cos(a*deg), Z: 100 * math.Sin(a*deg)} }
	upright := plate("u", 8.4, plane.Point{}, at(-30), at(30), at(30.1), at(180))
	wing := plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0})
	fits, err := Fits(upright, wing, m8("head"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits {
		if f.Pairs[0] == (Pair{0, 0}) && f.Pairs[1].Lower > 2 {
			t.Errorf("turn of %.2f° is beyond 30° and listed", f.Pose.Turn/deg)
		}
	}
	found := map[int]bool{}
	for _, f := range fits {
		if f.Pairs[0] == (Pair{0, 0}) {
			found[f.Pairs[1].Lower] = true
		}
	}
	if !found[1] || !found[2] {
		t.Errorf("turns of exactly ±30° are left out: %v", found)
	}
}

// A reserved hole serves no other joint, a small one takes no bolt, and a
// setting never takes one hole twice.
func TestReservedSmallAndShared(t *testing.T) {
	bracket := plate("b", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 60, Z: 0})
	upright := plate("u", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 60, Z: 0}, plane.Point{X: 0, Z: 400}, plane.Point{X: 60, Z: 400})
	wing := plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 60, Z: 0})
	c := Chain{[]Part{bracket, upright, wing}, []Joint{m8("foot"), m8("head")}}
	ids := func() (s string) {
		all, err := c.Settings()
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range all {
			s += one.ID + " "
		}
		return s
	}
	// Either end of the upright on the bracket, the wing on the other.
	both := "b1:u1+b2:u2/u3:w1+u4:w2 b1:u3+b2:u4/u1:w1+u2:w2 "
	if got := ids(); got != both {
		t.Errorf("settings %q, want %q", got, both)
	}
	upright.Holes[2].Joint = "head"
	if got := ids(); got != "b1:u1+b2:u2/u3:w1+u4:w2 " {
		t.Errorf("with u3 kept for the head: %q", got)
	}
	upright.Holes[3].D = 7.9
	if got := ids(); got != "" {
		t.Errorf("with u4 too small: %q", got)
	}
}

func TestSettingsInOnePlaceCountAsOne(t *testing.T) {
	// The second pair of upright holes repeats the first 0.05 mm higher, which turns
	// the wing by at most 0.05/100 rad = 0.03°.
	upright := plate("u", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0}, plane.Point{X: 0, Z: 0.05}, plane.Point{X: 100, Z: 0.05}, plane.Point{X: 0, Z: 40}, plane.Point{X: 100, Z: 40})
	wing := plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0})
	all, err := Chain{[]Part{upright, wing}, []Joint{m8("head")}}.Settings()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 2 {
		t.Fatalf("%d settings, want 2: %+v", len(all), all)
	}
	if all[0].ID != "u1:w1+u2:w2" || len(all[0].Alternatives) != 3 {
		t.Errorf("%q stands for %v, want u1:w1+u2:w2 for three others", all[0].ID, all[0].Alternatives)
	}
}

func TestIDsEscapeSigns(t *testing.T) {
	l := Part{Holes: []Hole{{ID: "a+b"}}}
	u := Part{Holes: []Hole{{ID: "50% /:"}}}
	if got := FitID(l, u, Fit{Pairs: []Pair{{0, 0}}}); got != "a%2Bb:50%25%20%2F%3A" {
		t.Error(got)
	}
}

func TestWhy(t *testing.T) {
	upright := plate("u", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 98.5, Z: 0}, plane.Point{X: 0, Z: 100}, plane.Point{X: 50, Z: 60})
	upright.Holes[3].D = 7
	upright.Holes = append(upright.Holes, Hole{ID: "k", X: 100, D: 8.4, Joint: "foot"})
	wing := plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 100, Z: 0})
	for _, row := range []struct {
		name  string
		pairs []Pair
		want  Reason
		slack float64
	}{
		// By hand: 100 - 98.5 = 1.5 mm apart, 0.4 + 0.4 = 0.8 mm allowed: 0.7 mm too much.
		{"too close", []Pair{{0, 0}, {1, 1}}, Spacing, -0.7},
		{"square up", []Pair{{0, 0}, {2, 1}}, TurnedOff, 0.8},
		{"too small", []Pair{{0, 0}, {3, 1}}, Small, -1},
		{"kept", []Pair{{0, 0}, {4, 1}}, Reserved, 0},
		{"one hole", []Pair{{0, 0}, {0, 1}}, Shared, 0},
	} {
		v := Why(upright, wing, m8("head"), row.pairs)
		if v.Reason != row.want || math.Abs(v.Slack-row.slack) > 1e-9 {
			t.Errorf("%s: reason %d slack %.3f mm, want %d and %.3f mm", row.name, v.Reason, v.Slack, row.want, row.slack)
		}
	}
}

// Three bolts of which every two go in, but not all three. By hand: an
// equilateral triangle of holes whose lower centres are each pushed outwards
// by 0.45 mm: spacings differ by 0.45·√3 = 0.779 mm, within 0.8 mm, but each
// centre is 0.45 mm off and only 0.4 mm is allowed.
func TestThreeBoltsThatCrowd(t *testing.T) {
	corner := func(r, a float64) plane.Point { return plane.Point{X: r * math.Cos(a*deg), Z: r * math.Sin(a*deg)} }
	lower := plate("l", 8.4, corner(60.45, 90), corner(60.45, 210), corner(60.45, 330))
	upper := plate("u", 8.4, corner(60, 90), corner(60, 210), corner(60, 330))
	pairs := []Pair{{0, 0}, {1, 1}, {2, 2}}
	v := Why(lower, upper, m8("j"), pairs)
	if v.Reason != Crowded || math.Abs(v.Slack+0.05) > 1e-3 {
		t.Errorf("reason %d, slack %.4f mm; want %d, -0.05 mm", v.Reason, v.Slack, Crowded)
	}
	fits, err := Fits(lower, upper, m8("j"))
	if err != nil {
		t.Fatal(err)
	}
	if len(fits) != 3 {
		t.Errorf("%d fits, want the three pairs of bolts: %+v", len(fits), fits)
	}
	// 0.05 mm less and they go in, with no play to speak of.
	lower = plate("l", 8.4, corner(60.399, 90), corner(60.399, 210), corner(60.399, 330))
	fits, _ = Fits(lower, upper, m8("j"))
	if len(fits) != 1 || len(fits[0].Pairs) != 3 {
		t.Errorf("want one fit of three: %+v", fits)
	}
}
