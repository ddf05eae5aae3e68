package aero

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// What alternatives scatter by covers the error of the fit. Of heights of both sides
// along the chord, at the kink of the mean lines too, about 68 % lie within one
// standard deviation and 95 % within two, as with a normal distribution.
func TestAlternativesCoverTheExactOutline(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 0))
	names := []string{"naca 2412", "naca 6409", "naca 23012", "cusped"}
	var exact [][]Vec
	for _, name := range names {
		f, err := FitOutline(drawn(t, name, 80), 0)
		if err != nil {
			t.Fatal(err)
		}
		exact = append(exact, f.Points)
	}
	for _, division := range []float64{0.5 / 250, 1. / 250} {
		one, two, all := 0.0, 0.0, 0.0
		for i := range 40 {
			want := exact[i%4]
			f, err := FitOutline(readOff(drawn(t, names[i%4], 400), fewPlaces, division, i%8 > 3, r), division)
			if err != nil {
				t.Fatal(err)
			}
			const n = 16
			others := f.Alternatives(n, uint64(i))
			for k := 5; k < 160; k += 10 {
				squares := 0.0
				for _, a := range others {
					squares += (a[k].Y - f.Points[k].Y) * (a[k].Y - f.Points[k].Y) / n
				}
				z := math.Abs(f.Points[k].Y-want[k].Y) / math.Sqrt(squares)
				all++
				if z < 1 {
					one++
				}
				if z < 2 {
					two++
				}
			}
		}
		t.Logf("division %g: %.0f %% within one standard deviation, %.0f %% within two", division, 100*one/all, 100*two/all)
		if one/all < 0.6 || one/all > 0.8 || two/all < 0.9 {
			t.Errorf("division %g: %.0f %% within one standard deviation, %.0f %% within two, want 60 to 80 and at least 90", division, 100*one/all, 100*two/all)
		}
	}
}

// Alternatives are the same for the same seed, lie to both sides of the fit, and
// spread the largest lift by what readings to a millimetre leave: a few percent.
func TestAlternatives(t *testing.T) {
	points := readOff(drawn(t, "naca 4412", 400), fewPlaces, 1./250, false, rand.New(rand.NewPCG(4, 0)))
	f, err := FitOutline(points, 1./250)
	if err != nil {
		t.Fatal(err)
	}
	all := f.Alternatives(6, 5)
	if !slices.Equal(all[3], f.Alternatives(6, 5)[3]) || slices.Equal(all[3], f.Alternatives(6, 6)[3]) {
		t.Error("alternatives do not hang on the seed alone")
	}
	mid := (all[0][60].Y + all[1][60].Y) / 2
	if math.Abs(mid-f.Points[60].Y) > 0.1*math.Abs(all[0][60].Y-all[1][60].Y)+1e-6 {
		t.Errorf("a pair lies at %.5f and %.5f, not about %.5f", all[0][60].Y, all[1][60].Y, f.Points[60].Y)
	}
	fitted, err := SectionFromShape("fitted", f.Points, 7e5)
	if err != nil {
		t.Fatal(err)
	}
	squares := 0.0
	for _, o := range all {
		s, err := SectionFromShape("alternative", o, 7e5)
		if err != nil {
			t.Fatal(err)
		}
		squares += math.Pow(s.MaxLift/fitted.MaxLift-1, 2) / float64(len(all))
	}
	if sd := math.Sqrt(squares); sd < 0.005 || sd > 0.08 {
		t.Errorf("the largest lift scatters by %.1f %%, want 0.5 to 8 %%", 100*sd)
	}
}
