package aero

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// drawn returns an exact outline of 2·half+1 points: a section of the NACA; a
// Joukowski section 12 % thick and 3 % cambered with a cusped rear; a thin, highly
// cambered one, 9 % each, with a cusped rear; or a plate 6 % thick with a round
// nose and a rear that tapers over the last third.
func drawn(t *testing.T, name string, half int) []Vec {
	t.Helper()
	var side func(x, s float64) float64
	switch name {
	case "joukowski":
		side = func(x, s float64) float64 {
			return 0.12*4*x*(1-x)/4 + s*0.06*1.54*math.Sqrt(4*x*(1-x))*(1-x)
		}
	case "cusped":
		side = func(x, s float64) float64 {
			return 0.36*x*(1-x)*(1+0.6*(x-0.5)+0.5*(x-0.5)*(x-0.5)) + s*0.117*math.Sqrt(x)*math.Pow(1-x, 1.5)
		}
	case "plate":
		side = func(x, s float64) float64 {
			const r = 0.03
			if x < r {
				return s * math.Sqrt(x*(2*r-x))
			}
			return s * min(r, (1-x)*0.1)
		}
	default:
		n, err := ParseNaca(name)
		if err != nil {
			t.Fatal(err)
		}
		return n.Outline(half)
	}
	at := func(i int) float64 {
		th := math.Pi * float64(i) / float64(half)
		return (1 - math.Cos(th-0.35*math.Sin(th))) / 2
	}
	var points []Vec
	for i := half; i > -half-1; i-- {
		s := 1.0
		if i < 0 {
			s = -1
		}
		x := at(max(i, -i))
		points = append(points, Vec{x, side(x, s)})
	}
	return points
}

// Places at which a person reads a section, chords, as published tables have them.
var (
	fewPlaces  = []float64{0.0125, 0.025, 0.05, 0.075, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.8, 0.9, 0.95, 1}
	manyPlaces = []float64{0.005, 0.0125, 0.025, 0.0375, 0.05, 0.075, 0.1, 0.125, 0.15, 0.175, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55,
		0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 0.975, 1}
)

// readOff reads an exact outline at places along the chord to a division of the
// scale, in chords. The scale lies anywhere along the heights; with both, x is read
// too, at places that are not quite those meant.
func readOff(exact []Vec, places []float64, division float64, both bool, r *rand.Rand) []Vec {
	lead := 0
	for i, p := range exact {
		if p.X < exact[lead].X {
			lead = i
		}
	}
	zero, zeroX := r.Float64(), r.Float64()
	round := func(v, zero float64) float64 { return division * (math.Round(v/division+zero) - zero) }
	read := func(x float64, step int) Vec {
		if both {
			x = min(1, x+0.3*(r.Float64()-0.5)*min(x, 0.02))
		}
		i := lead
		for i+2*step >= 0 && i+2*step < len(exact) && exact[i+step].X < x {
			i += step
		}
		a, b := exact[i], exact[i+step]
		p := Vec{x, round(a.Y+min(1, (x-a.X)/(b.X-a.X))*(b.Y-a.Y), zero)}
		if both {
			p.X = round(x, zeroX)
		}
		return p
	}
	var points []Vec
	for i := len(places) - 1; i >= 0; i-- {
		points = append(points, read(places[i], -1))
	}
	points = append(points, Vec{})
	for _, x := range places {
		points = append(points, read(x, 1))
	}
	return points
}

// topAngle returns the middle of the angles at which lift is within 5 % of the
// largest: the largest itself moves by degrees along a flat top.
func topAngle(s Section) float64 {
	sum, weight := 0.0, 0.0
	for a, k := range s.Curve.Points() {
		if w := k.CL/s.MaxLift - 0.95; w > 0 {
			sum, weight = sum+w*a, weight+w
		}
	}
	return sum / weight
}

// Sections read off with a ruler to half a millimetre come out with nearly the
// lift, the stall, the zero-lift angle and the moment of the exact outline, by the
// same method. The limits are three to four times what many more drawings and
// readings scatter by: 1.5 %, 0.7°, 0.1° and 0.003.
func TestReadingsKeepLiftAndStall(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 0))
	squares, count := 0.0, 0.0
	for i, name := range []string{"naca 0012", "naca 0009", "naca 2412", "naca 4412", "naca 6412", "naca 4415", "naca 23012", "naca 6409", "joukowski", "cusped"} {
		exact := drawn(t, name, 80)
		want, err := SectionFromShape(name, exact, 7e5)
		if err != nil {
			t.Fatal(err)
		}
		for k := range 2 {
			chord := []float64{250, 300}[k]
			places := [][]float64{fewPlaces, manyPlaces}[(i+k)%2]
			points := readOff(drawn(t, name, 400), places, 0.5/chord, k == 1, r)
			f, err := FitOutline(points, 0.5/chord)
			if err != nil {
				t.Fatal(err)
			}
			got, err := SectionFromShape(name, f.Points, 7e5)
			if err != nil {
				t.Fatal(err)
			}
			label := fmt.Sprintf("%s, %g mm, %d points", name, chord, len(points))
			off := (topAngle(got) - topAngle(want)) / deg
			squares, count = squares+off*off, count+1
			if math.Abs(got.MaxLift/want.MaxLift-1) > 0.05 || math.Abs(off) > 2 {
				t.Errorf("%s: largest lift %.3f about %.1f°, want %.3f about %.1f°", label, got.MaxLift, topAngle(got)/deg, want.MaxLift, topAngle(want)/deg)
			}
			if math.Abs(got.ZeroLift-want.ZeroLift) > 0.35*deg || math.Abs(got.Moment-want.Moment) > 0.012 {
				t.Errorf("%s: zero lift at %.2f°, moment %.4f, want %.2f°, %.4f", label, got.ZeroLift/deg, got.Moment, want.ZeroLift/deg, want.Moment)
			}
			if len(f.Misread) > 0 {
				t.Errorf("%s: points %v taken as misread", label, f.Misread)
			}
		}
	}
	if rms := math.Sqrt(squares / count); rms > 1 {
		t.Errorf("the stall is off by %.2f°, root mean square, want below 1°", rms)
	}
}

// distance returns how far a point lies off a line through others.
func distance(p Vec, line []Vec) float64 {
	least := math.Inf(1)
	for i := range len(line) - 1 {
		a, b := line[i], line[i+1]
		dx, dy := b.X-a.X, b.Y-a.Y
		s := min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/max(dx*dx+dy*dy, 1e-30), 0), 1)
		least = min(least, math.Hypot(p.X-a.X-s*dx, p.Y-a.Y-s*dy))
	}
	return least
}

// Points to many digits come back as they are, and so does the exact outline
// between them; points to four digits within 1.2e-4, twice their rounding.
func TestExactPointsComeBack(t *testing.T) {
	for _, c := range []struct {
		name   string
		half   int
		digits float64
		within float64
	}{
		{"naca 0012", 20, 1e7, 1e-6}, {"naca 2412", 80, 1e7, 1e-5}, {"naca 6409", 30, 1e7, 6e-5}, {"naca 23012", 25, 1e7, 6e-5},
		{"naca 8405", 80, 1e7, 1e-5}, {"naca 2402", 40, 1e7, 3e-5}, {"naca 0030", 40, 1e7, 1e-5}, {"joukowski", 80, 1e7, 1e-5}, {"cusped", 20, 1e7, 1e-5},
		{"plate", 80, 1e7, 3e-5}, {"plate", 80, 1e4, 1e-4}, {"naca 4412", 40, 1e4, 1.2e-4}, {"naca 6412", 80, 1e4, 1.2e-4}, {"cusped", 30, 1e4, 1.2e-4},
	} {
		points := drawn(t, c.name, c.half)
		for i, p := range points {
			points[i] = Vec{math.Round(p.X*c.digits) / c.digits, math.Round(p.Y*c.digits) / c.digits}
		}
		f, err := FitOutline(points, 0)
		if err != nil {
			t.Fatal(err)
		}
		exact, worst := drawn(t, c.name, 1000), 0.0
		for _, p := range f.Points {
			worst = max(worst, distance(p, exact))
		}
		fine := f.Outline(300)
		for _, p := range points {
			worst = max(worst, distance(p, fine))
		}
		label := fmt.Sprintf("%s, %d points to %g", c.name, len(points), 1/c.digits)
		if worst > c.within {
			t.Errorf("%s: %.1e off, want within %.0e", label, worst, c.within)
		}
		if math.Abs(f.Turned) > 1e-4 || len(f.Misread) > 0 || !f.Estimated {
			t.Errorf("%s: turned by %.1e rad, misread %v, estimated %v", label, f.Turned, f.Misread, f.Estimated)
		}
		// The published blunt trailing edge is left as drawn.
		n := len(points) - 1
		gap, want := f.Points[0].Y-f.Points[160].Y, points[0].Y-points[n].Y
		if math.Abs(gap-want) > 2/c.digits+1e-6 {
			t.Errorf("%s: trailing edge %.5f thick, want %.5f", label, gap, want)
		}
	}
}

// The number of panels changes neither the shape nor the inviscid flow: zero lift
// within 0.02°, moment within 0.001.
func TestOutlineByPanels(t *testing.T) {
	points := readOff(drawn(t, "naca 6412", 400), fewPlaces, 0.002, true, rand.New(rand.NewPCG(2, 0)))
	f, err := FitOutline(points, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.Outline(80), f.Points) {
		t.Error("Outline(80) is not Points")
	}
	fine := f.Outline(120)
	p, err := NewPanels(fine)
	if err != nil {
		t.Fatal(err)
	}
	_, moment := p.Lift(p.ZeroLift())
	for _, half := range []int{50, 80} {
		q, err := NewPanels(f.Outline(half))
		if err != nil {
			t.Fatal(err)
		}
		_, cm := q.Lift(q.ZeroLift())
		if math.Abs(q.ZeroLift()-p.ZeroLift()) > 0.02*deg || math.Abs(cm-moment) > 0.001 {
			t.Errorf("%d panels: zero lift at %.3f°, moment %.4f; 240 panels: %.3f°, %.4f", 2*half, q.ZeroLift()/deg, cm, p.ZeroLift()/deg, moment)
		}
		for _, v := range f.Outline(half) {
			if d := distance(v, fine); d > 1e-4 {
				t.Fatalf("%d panels: a point %.1e off the outline of 240", 2*half, d)
			}
		}
	}
}

// What cannot be a section, or is read too roughly, is refused.
func TestPointsThatCannotBeFitted(t *testing.T) {
	exact := drawn(t, "naca 4412", 20)
	backwards := slices.Clone(exact)
	slices.Reverse(backwards)
	rough, far, none, disorder := slices.Clone(exact), slices.Clone(exact), slices.Clone(exact), slices.Clone(exact)
	r := rand.New(rand.NewPCG(7, 0))
	for i := range rough {
		rough[i].Y += 0.02 * r.NormFloat64()
		far[i].X *= 250
	}
	none[3].Y = math.NaN()
	for i := 2; i < 9; i++ {
		disorder[i], disorder[i+25] = disorder[i+25], disorder[i]
	}
	for _, c := range []struct {
		points  []Vec
		reading float64
		says    string
	}{
		{exact[:19], 0, "19 points"}, {rough, 0, "scatter by"}, {rough, 0.002, "scatter by"}, {exact, 0.011, "read to 1.1 %"}, {far, 0, "chords; they must run"},
		{backwards, 0, "do not go from"}, {none, 0, "point 4 is not"}, {disorder, 0, "see whether point"},
	} {
		if f, err := FitOutline(c.points, c.reading); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("error %v with readings uncertain by %.4f, want one that says %q", err, f.Reading, c.says)
		}
	}
}

func BenchmarkFitOutline(b *testing.B) {
	n, _ := ParseNaca("naca 4412")
	read := readOff(n.Outline(400), manyPlaces, 0.002, true, rand.New(rand.NewPCG(8, 0)))
	for b.Loop() {
		if _, err := FitOutline(read, 0.002); err != nil {
			b.Fatal(err)
		}
	}
}
