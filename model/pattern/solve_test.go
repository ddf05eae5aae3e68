package pattern

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
	"stanchion/model/calibrate"
)

func told(t testing.TB, text string) Told {
	t.Helper()
	k, faults := Read(text, 8.4, "mm")
	if faults != nil {
		t.Fatal(faults)
	}
	return k
}

// A triangle of a = 30, b = 40 and c = 50: hole 3 stands 40 above hole 1, at x = (a² + b² − c²)/2a = 0
// and z = √(b² − x²). With ∂x/∂a = 1, ∂x/∂b = 4/3, ∂x/∂c = −5/3, ∂z/∂b = 1 and 0.1 mm each the variances
// are 0.05556 and 0.01 mm², the covariance 0.01333: the larger axis has √0.05917 = 0.2433 mm.
func TestTriangleByHand(t *testing.T) {
	s, err := Solve(Problem{Told: told(t, "1-2 30, 1-3 40, 2-3 50, 3 above")})
	if err != nil || len(s.Open) > 0 || s.Misfit != nil || s.Spare != 0 {
		t.Fatalf("%+v, %v", s, err)
	}
	near(t, "x of 3", s.Places[2].At.X, 0, 1e-6)
	near(t, "z of 3", s.Places[2].At.Z, 40, 1e-6)
	near(t, "± of 2", s.Places[1].StdUnc, 0.1, 1e-3)
	near(t, "± of 3", s.Places[2].StdUnc, 0.2433, 0.0005)
	below, _ := Solve(Problem{Told: told(t, "1-2 30, 1-3 40, 2-3 50, 3 below")})
	near(t, "z of 3, below", below.Places[2].At.Z, -40, 1e-6)
	up, _ := Solve(Problem{Told: told(t, "1-2 30, 1-3 40, 2-3 50, 3 behind"), Upwards: true})
	near(t, "x of 3, upwards", up.Places[2].At.X, 40, 1e-6)
	near(t, "z of 2, upwards", up.Places[1].At.Z, 30, 1e-6)
}

// What distances leave open is named, with what would settle it.
func TestOpenIsNamed(t *testing.T) {
	for _, row := range []struct {
		text string
		want []Open
	}{
		{"1-2 60, 1-3 80, 2-3 100", []Open{{"3", Mirrored, [2]string{}, true}}},
		{"1-2 60, 1-3 80, 2-3 100, 3 above, 1-4 50", []Open{{"4", Free, [2]string{"2", "4"}, false}}},
		{"1-2 60, 1-3 80, 2-3 100, 3 above, 1-4 90, 3-4 75", []Open{{"4", TwoSides, [2]string{"2", "4"}, false}}},
		{"1-2 60, 1-3 80, 2-3 100, 3 above, 1-4 90, 3-4 75, 2-4 56.5", nil},
	} {
		s, err := Solve(Problem{Told: told(t, row.text)})
		if err != nil {
			t.Fatal(err)
		}
		if row.want[0:min(1, len(row.want))] != nil && row.want[0].Why == Free {
			if len(s.Open) != 1 || s.Open[0].Hole != row.want[0].Hole || s.Open[0].Why != Free || s.Open[0].Ask[0] == "" {
				t.Errorf("%s: %v", row.text, s.Open)
			}
			continue
		}
		if fmt.Sprint(s.Open) != fmt.Sprint(row.want) && len(s.Open)+len(row.want) > 0 {
			t.Errorf("%s: open %v, want %v", row.text, s.Open, row.want)
		}
	}
}

// A rectangle of 60 by 80 with both diagonals, 2-4 read 5 mm long: with 1-3 held to it, it is
// 2-4 or 1-3 alone that no one can tell; with a fifth hole tied to all it is 2-4.
func TestMisfitIsNamed(t *testing.T) {
	s, _ := Solve(Problem{Told: told(t, "1-2 60, 4-3 60, 1-4 80, 2-3 80, 1-3 100, 2-4 105, 3 above, 1-5 50, 2-5 50, 3-5 50, 4-5 50")})
	if s.Misfit == nil || s.Misfit.Pair() != "2-4" || len(s.Misfit.Or) > 0 {
		t.Fatalf("%+v", s.Misfit)
	}
	near(t, "what it should be", s.Misfit.ShouldBe, 100, 0.01)
	if s.Misfit.Std > 0.3 || s.Misfit.Times < 10 {
		t.Errorf("± %.2f, %.1f times", s.Misfit.Std, s.Misfit.Times)
	}
	four, _ := Solve(Problem{Told: told(t, "1-2 60, 4-3 60, 1-4 80, 2-3 80, 1-3 100, 2-4 105, 3 above")})
	if four.Misfit == nil || len(four.Misfit.Or) != 5 {
		t.Errorf("with one distance to spare each can be wrong: %+v", four.Misfit)
	}
}

// Holes that are known already hold the frame.
func TestKnownHoles(t *testing.T) {
	known := []Place{{ID: "k1"}, {ID: "k2", At: plane.Point{X: 62}}, {ID: "k3", At: plane.Point{Z: 35}}}
	text := fmt.Sprintf("k1-A %.4f, k2-A %.4f, k3-A %.4f", math.Hypot(8, 452), math.Hypot(54, 452), math.Hypot(8, 417))
	s, err := Solve(Problem{Told: told(t, text), Known: known})
	if err != nil || len(s.Places) != 1 {
		t.Fatalf("%+v, %v", s, err)
	}
	near(t, "x of A", s.Places[0].At.X, 8, 0.01)
	near(t, "z of A", s.Places[0].At.Z, 452, 0.01)
	either, _ := Solve(Problem{Told: told(t, "k1-A 50, k2-A 50"), Known: known})
	if len(either.Open) != 1 || either.Open[0] != (Open{"A", TwoSides, [2]string{"k3", "A"}, true}) {
		t.Errorf("two places by two distances: %+v", either.Open)
	}
	two, _ := Solve(Problem{Told: told(t, "k1-A 50, k2-A 50, A above"), Known: known})
	near(t, "x of A by two", two.Places[0].At.X, 31, 1e-6)
	if two.Places[0].At.Z < 0 || len(two.Open) > 0 {
		t.Errorf("above: %+v, open %v", two.Places, two.Open)
	}
}

// plate draws holes at least 25 mm apart, the second straight behind the first, with names, and
// measures distances of most pairs.
func plate(r *rand.Rand, n int, share float64) (at []plane.Point, d []Distance) {
	at = []plane.Point{{}, {X: 40 + 60*r.Float64()}}
	for len(at) < n {
		p := plane.Point{X: 160 * r.Float64(), Z: 200*r.Float64() - 40}
		clear := true
		for _, q := range at {
			clear = clear && p.Distance(q) > 25
		}
		if clear {
			at = append(at, p)
		}
	}
	for a := range at {
		for b := range a {
			if a < 3 || r.Float64() < share {
				d = append(d, Distance{From: strconv.Itoa(b + 1), To: strconv.Itoa(a + 1), Centres: at[a].Distance(at[b]), StdUnc: Caliper})
			}
		}
	}
	return at, d
}

// problem is that of the distances, with the side of the third hole said.
func problem(at []plane.Point, d []Distance) Problem {
	k := Told{Distances: d, Diameters: map[string]float64{}}
	for i := range at {
		k.Names = append(k.Names, strconv.Itoa(i+1))
	}
	far := 2
	for i := range at {
		if math.Abs(at[i].Z) > math.Abs(at[far].Z) {
			far = i
		}
	}
	k.Sides = []Side{{Hole: strconv.Itoa(far + 1), Plus: at[far].Z > 0}}
	return Problem{Told: k}
}

// What is told of a plate that hangs on few distances is never one of two places without a word:
// each hole that the distances leave open is named, whether the others hold the frame or not.
func TestTwoPlacesAreNeverSilent(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 1))
	for range runs(40) {
		at, d := plate(r, 5+r.IntN(3), 0.35)
		p := problem(at, d)
		if r.IntN(2) == 0 {
			p.Known = []Place{{ID: "1", At: at[0]}, {ID: "2", At: at[1]}}
		}
		s, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		named := map[string]bool{}
		for _, o := range s.Open {
			named[o.Hole] = true
		}
		for _, h := range s.Places {
			i := idx(h.ID)
			if h.At.Distance(at[i]) > 1 && !named[h.ID] && len(named) == 0 {
				t.Errorf("hole %s is at %v, not %v, and nothing is said: %v", h.ID, h.At, at[i], d)
			}
		}
	}
}

// Exact distances bring every plate back.
func TestExactPlatesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		at, d := plate(r, rapid.IntRange(3, 9).Draw(t, "holes"), 0.8)
		s, err := Solve(problem(at, d))
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Open) > 0 {
			return // it may be one that hangs on too few
		}
		if s.Misfit != nil {
			t.Fatalf("accused %+v", s.Misfit)
		}
		for i, p := range s.Places {
			if p.At.Distance(at[i]) > 1e-3 {
				t.Fatalf("hole %s at %v, is at %v", p.ID, p.At, at[i])
			}
		}
	})
}

// runs is how many plates are drawn: many under PATTERN_PLATES.
func runs(few int) int {
	if n, err := strconv.Atoi(os.Getenv("PATTERN_PLATES")); err == nil {
		return n
	}
	return few
}

// Measured plates come back within their ±, and sound distances are seldom accused.
func TestMeasuredPlatesComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	plates, accused, within, all, open := runs(150), 0, 0, 0, 0
	for range plates {
		at, d := plate(r, 4+r.IntN(5), 0.9)
		for i := range d {
			d[i].Centres += d[i].StdUnc * r.NormFloat64()
		}
		s, err := Solve(problem(at, d))
		if err != nil {
			t.Fatal(err)
		}
		if s.Misfit != nil {
			accused++
			continue
		}
		if len(s.Open) > 0 {
			open++
			continue
		}
		for i, p := range s.Places {
			if p.StdUnc > 0 {
				all++
				if p.At.Distance(at[i]) <= 2.5*p.StdUnc {
					within++
				}
			}
		}
	}
	t.Logf("%d plates: %d accused, %d left open, %d of %d holes within 2.5 ±", plates, accused, open, within, all)
	if float64(accused) > 0.05*float64(plates)+2*math.Sqrt(0.05*float64(plates)) {
		t.Errorf("%d of %d sound plates accused", accused, plates)
	}
	if float64(within) < 0.95*float64(all) {
		t.Errorf("%d of %d holes within 2.5 of their ±", within, all)
	}
	if open > plates/5 {
		t.Errorf("%d of %d plates left open", open, plates)
	}
}

// A distance 5 mm off is named where it can be told: its test reaches well beyond the
// threshold, and no other distance's test moves nearly alike.
func TestWrongDistancesAreNamed(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	tried, named, wrongly := 0, 0, 0
	for range runs(150) {
		at, d := plate(r, 4+r.IntN(5), 0.8)
		wrong := r.IntN(len(d))
		p := problem(at, d)
		n := newNet(p)
		times, between := n.normalised(at)
		if math.IsNaN(times[wrong]) || !tellableBy(n, at, wrong, 5) {
			continue
		}
		sole := true
		for i := range d {
			sole = sole && (i == wrong || math.Abs(between.At(wrong, i)) < 0.9)
		}
		if !sole {
			continue
		}
		tried++
		for i := range d {
			d[i].Centres += d[i].StdUnc * r.NormFloat64()
		}
		if d[wrong].Centres += 5; r.IntN(2) == 0 {
			d[wrong].Centres -= 10
		}
		s, err := Solve(problem(at, d))
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case s.Misfit != nil && s.Misfit.Pair() == d[wrong].Pair():
			named++
			if off := math.Abs(s.Misfit.ShouldBe - at[idx(d[wrong].From)].Distance(at[idx(d[wrong].To)])); off > 5*s.Misfit.Std+0.05 {
				t.Logf("should be off by %.2f with ±%.2f", off, s.Misfit.Std)
			}
		case s.Misfit != nil:
			wrongly++
		}
	}
	t.Logf("%d slips that can be told: %d named, %d times another", tried, named, wrongly)
	if tried < 50 || float64(named) < 0.95*float64(tried) {
		t.Errorf("%d of %d slips named, %d times another", named, tried, wrongly)
	}
}

func idx(name string) int {
	i, _ := strconv.Atoi(name)
	return i - 1
}

// tellableBy reports whether a slip of a size would be seen in 99 of 100 cases: by 2.33 beyond the threshold.
func tellableBy(n *net, at []plane.Point, i int, size float64) bool {
	off := *n
	off.long = append([]float64(nil), n.long...)
	off.long[i] += size
	times, _ := off.normalised(at)
	return math.Abs(times[i]) > calibrate.Threshold(len(n.long))+2.33
}

// BenchmarkSolve is the largest set that can be typed.
func BenchmarkSolve(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 5))
	at, d := plate(r, 24, 1)
	for i := range d {
		d[i].Centres += d[i].StdUnc * r.NormFloat64()
	}
	d[7].Centres += 5
	for b.Loop() {
		if _, err := Solve(problem(at, d)); err != nil {
			b.Fatal(err)
		}
	}
}
