package aero

import (
	"fmt"
	"math"
	"testing"
)

// straight is a section with a straight lift curve, in rad.
func straight(zero, slope, cd, cm, lo, hi float64) Curve {
	var a, cl, d, m []float64
	for x := lo; x <= hi+1e-9; x += 0.5 * deg {
		a, cl, d, m = append(a, x), append(cl, slope*(x-zero)), append(d, cd), append(m, cm)
	}
	c, err := NewCurve(a, cl, d, m)
	if err != nil {
		panic(err)
	}
	return c
}

// A wing whose section has the slope 2π is the flat wing of the lattice, moved
// by the section's zero-lift angle: A = 4, 3.612 per rad.
func TestWingWithAThinSection(t *testing.T) {
	w := Wing{Planform: Planform{Span: 4, Chord: 1}, Section: straight(-5*deg, 2*math.Pi, 0.01, -0.1, -25*deg, 25*deg)}
	s, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []float64{-5, 0, 5, 10} {
		k, ok := s.Curve.At(a * deg)
		if want := 3.612 * (a + 5) * deg; !ok || math.Abs(k.CL-want) > 0.005*math.Abs(want)+1e-4 {
			t.Errorf("CL(%g°) = %.4f, want %.4f", a, k.CL, want)
		}
	}
	zero, _ := s.Curve.At(-5 * deg)
	if math.Abs(zero.CD-0.01) > 1e-6 || math.Abs(zero.CM+0.1) > 1e-6 {
		t.Errorf("at zero lift CD %.5f CM %.5f, want the section's own 0.01 and -0.1", zero.CD, zero.CM)
	}
}

// A section of lower slope a0 lowers the wing's as the classical formula says,
// 1/a = 1/a_lattice + (1/a0 - 1/2π), within 1 %.
func TestWingWithALowerSlope(t *testing.T) {
	const a0 = 5.7
	w := Wing{Planform: Planform{Span: 6, Chord: 1}, Section: straight(0, a0, 0, 0, -20*deg, 20*deg)}
	s, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	k, _ := s.Curve.At(5 * deg)
	want := 5 * deg / (1/4.215 + 1/a0 - 1/(2*math.Pi))
	if off(k.CL, want) > 0.01 {
		t.Errorf("CL(5°) = %.4f, want %.4f", k.CL, want)
	}
}

// Lift through the stall and past it: a section that peaks at 12° gives a wing
// that peaks later, at no more than the section's lift, with a curve that goes
// on beyond.
func TestWingThroughStall(t *testing.T) {
	var a, cl, cd []float64
	for x := -20.0; x <= 40; x++ {
		l := 0.105 * (x + 4)
		if x > 9 {
			l = 1.365 + 0.3*math.Sin((x-9)*30*deg)*math.Exp(-(x-9)/8)
		}
		a, cl, cd = append(a, x*deg), append(cl, l), append(cd, 0.01+0.0004*max(0, x-9)*max(0, x-9))
	}
	section, err := NewCurve(a, cl, cd, nil)
	if err != nil {
		t.Fatal(err)
	}
	_, most, _ := section.Stall()
	for _, plate := range []Plate{{}, {Length: 0.3, Height: 0.25}} {
		w := Wing{Planform: Planform{Span: 1.4, Chord: 0.25, Plate: plate}, Section: section}
		s, err := w.Solve()
		if err != nil {
			t.Fatal(err)
		}
		at, peak, ok := s.Curve.Stall()
		first, last := s.Curve.Range()
		t.Logf("plate %v: stall %.1f° CL %.3f, range %.1f° to %.1f° (%s)", plate, at/deg, peak, first/deg, last/deg, s.EndedHigh)
		if !ok || at < 12*deg || at > 20*deg || peak > most*1.001 || peak < 0.85*most {
			t.Errorf("plate %v: stall at %.1f° with CL %.3f (%v); section %.3f", plate, at/deg, peak, ok, most)
		}
		if last < 30*deg {
			t.Errorf("the curve ends at %.1f°: %s", last/deg, s.EndedHigh)
		}
	}
}

// A section curve that ends early ends the wing's curve, and says why.
func TestWingEndsWithItsSection(t *testing.T) {
	w := Wing{Planform: Planform{Span: 4, Chord: 1}, Section: straight(0, 6, 0, 0, -5*deg, 8*deg)}
	s, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := s.Curve.At(20 * deg); ok || s.EndedHigh != "the section's data end there" {
		t.Errorf("CL at 20° given (%v), ended: %s", ok, s.EndedHigh)
	}
}

func BenchmarkWing(b *testing.B) {
	w := Wing{Planform: Planform{Span: 1.5, Chord: 0.26, Plate: Plate{Length: 0.3, Height: 0.22}}, Section: straight(-5*deg, 6, 0.01, -0.1, -30*deg, 40*deg)}
	for b.Loop() {
		if _, err := w.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleForce_Resolve() {
	// By hand: 600 N of lift and 80 N of drag in a flow that comes down at 4°:
	// 600·cos 4° + 80·sin 4° = 604.1 N down, 80·cos 4° = 79.8 N of its own drag, and the
	// lift leans forwards by 600·sin 4° = 41.9 N.
	down, own, lean := Force{Lift: 600, Drag: 80}.Resolve(4 * deg)
	printN(down, own)
	fmt.Printf("%.1f N\n", lean)
	// Output:
	// 604.1 N, 79.8 N
	// -41.9 N
}

// Every published section goes through its stall without a jump, with and
// without end plates, up to 3° beyond the maximum: neighbouring angles differ by less than the
// section's own curve and a little more.
func TestStallIsSmooth(t *testing.T) {
	for i, p := range publishedSections {
		s, err := p.At(p.Reynolds, computedFor(t, p, p.Reynolds))
		if err != nil {
			t.Fatal(err)
		}
		for k, plate := range []Plate{{}, {Length: 0.3, Height: 0.25}} {
			if i%3 != k && i%3 != 2 { // a third of the sections both ways
				continue
			}
			w := Wing{Planform: Planform{Span: 1.4, Chord: 0.25, Plate: plate}, Section: s.Curve}
			sol, err := w.Solve()
			if err != nil {
				t.Errorf("%s: %v", p.Name, err)
				continue
			}
			before := math.NaN()
			at, _, _ := sol.Curve.Stall()
			for a, k := range sol.Curve.Points() {
				if a < at+3*deg && math.Abs(k.CL-before) > 0.1 {
					t.Errorf("%s, Re %.1e, plates %v: CL jumps from %.3f to %.3f at %.1f°", p.Name, p.Reynolds, plate.Height > 0, before, k.CL, a/deg)
					break
				}
				before = k.CL
			}
			if _, most, ok := sol.Curve.Stall(); !ok || most > s.MaxLift*1.01 || most < 0.85*s.MaxLift {
				t.Errorf("%s: wing's largest lift %.3f, section's %.3f", p.Name, most, s.MaxLift)
			}
		}
	}
}
