package strength

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/fastener"
)

// ISO 898-1:2013 Tables 4 to 7: stress areas, mm², and the loads of classes 8.8,
// 10.9 and 12.9,
// N, from a stress area rounded to three figures and rounded again.
func TestThreadsAgainstISO898(t *testing.T) {
	for _, row := range []struct {
		size                 string
		area                 float64
		proof88, proof109    float64
		tensile88, tensile12 float64
	}{
		{"M6", 20.1, 11600, 16700, 16100, 24500},
		{"M8", 36.6, 21200, 30400, 29200, 44600},
		{"M12", 84.3, 48900, 70000, 67400, 103000},
	} {
		a := sizeOf(row.size).StressArea()
		if math.Abs(a-row.area) > 0.05 {
			t.Errorf("stress area of %s = %.3f mm², ISO 898-1 has %g", row.size, a, row.area)
		}
		for _, load := range []struct {
			name       string
			mpa, given float64
		}{{"proof 8.8", 580, row.proof88}, {"proof 10.9", 830, row.proof109}, {"tensile 8.8", gradeOf("8.8").Ultimate, row.tensile88}, {"tensile 12.9", 1220, row.tensile12}} {
			if got := a * load.mpa; math.Abs(got-load.given) > 0.007*load.given {
				t.Errorf("%s of %s = %.0f N, ISO 898-1 has %g", load.name, row.size, got, load.given)
			}
		}
	}
	// From memory, well known: M5 14.2 and M10 58.0 mm².
	for size, want := range map[string]float64{"M5": 14.2, "M10": 58.0} {
		if got := sizeOf(size).StressArea(); math.Abs(got-want) > 0.05 {
			t.Errorf("stress area of %s = %.2f mm², want %g", size, got, want)
		}
	}
}

// A published worked sheet for EN 1993-1-8 Table 3.4: S235 plate of 8 mm, M20 of
// class 4.6, d0 22 mm, e1 = e2 = 26.4 mm, p1 48.4 mm, p2 52.8 mm, dm 30 mm. Its
// bearing values take the bolt's strength in the place of the plate's; here they
// are as the standard has them.
func TestBoltsAgainstEN1993(t *testing.T) {
	const fu, fub, d0, tp = 360, 400, 22, 8
	m20 := bolt{Size: sizeOf("M20"), Grade: gradeOf("4.6")}
	near := func(name string, got, want, off float64) {
		t.Helper()
		if math.Abs(got-want) > off {
			t.Errorf("%s = %.4g, want %.4g", name, got, want)
		}
	}
	near("Fv,Rd, N", m20.shearCapacity(), 47040, 60) // As 244.8 and not 245 mm²
	near("Ft,Rd, N", m20.tensionCapacity(), 70560, 80)
	near("Bp,Rd, N", 0.6*math.Pi*30*tp*fu/boltFactor, 130288, 5)
	inf := math.Inf(1)
	end := surroundings{end: 26.4, side: 26.4, ahead: inf, beside: inf}
	alpha, k1 := end.factors(d0, fub, fu)
	near("αb at the end", alpha, 0.4, 0.001)
	near("k1 at the end", k1, 1.66, 0.001)
	near("Fb,Rd at the end, N", bearing(alpha, k1, fu, 20, tp), 30597, 5)
	inner := surroundings{end: inf, side: inf, ahead: 48.4, beside: 52.8}
	alpha, k1 = inner.factors(d0, fub, fu)
	near("αb inside", alpha, 0.483, 0.001)
	near("k1 inside", k1, 1.66, 0.001)
	near("Fb,Rd inside, N", bearing(alpha, k1, fu, 20, tp), 36972, 5)
	// By the same formulas, near to our sizes.
	m8 := bolt{Size: sizeOf("M8"), Grade: gradeOf("8.8")}
	near("Fv,Rd of M8 8.8, N", m8.shearCapacity(), 14054, 10)
	near("Ft,Rd of M8 8.8, N", m8.tensionCapacity(), 21082, 10)
	plate := surroundings{end: 18, side: 18, ahead: inf, beside: inf}
	alpha, k1 = plate.factors(9, 800, 310)
	near("Fb,Rd of M8 in 6 mm, N", bearing(alpha, k1, 310, 8, 6), 19840, 1)
	least := surroundings{end: 10.8, side: 10.8, ahead: inf, beside: inf}
	alpha, k1 = least.factors(9, 800, 310)
	near("Fb,Rd of M8 in 6 mm at the least distances, N", bearing(alpha, k1, 310, 8, 6), 7904, 1)
}

// group is a joint whose bolts lie at the points given.
func group(l Load, at ...plane.Point) Body {
	b := Body{Load: l}
	for _, p := range at {
		b.Bolts = append(b.Bolts, BoltLoad{At: p})
	}
	return b
}

func ExampleBody_share() {
	// Shigley's Mechanical Engineering Design, example 8-7: 16 kN at 425 mm from
	// the middle of four bolts at (±75, ±60) mm: the nearer two bear 21.0 kN, the
	// others 14.8 kN (some editions misprint 13.8).
	load := Load{At: Spot{X: 425}, Up: -16000}.To(Spot{})
	b := group(load, plane.Point{X: 75, Z: 60}, plane.Point{X: 75, Z: -60}, plane.Point{X: -75, Z: -60}, plane.Point{X: -75, Z: 60})
	b.share(0)
	for _, k := range b.Bolts {
		fmt.Printf("%.1f kN ", k.Shear()/1000)
	}
	// Output: 21.0 kN 21.0 kN 14.8 kN 14.8 kN
}

func ExampleBody_share_bhandari() {
	// V. B. Bhandari, "Design of Machine Elements", example 7.3 (inputs): 10 kN at 500 mm from
	// four bolts 200 by 150 mm; the answers are by the same method.
	load := Load{At: Spot{X: 500}, Up: -10000}.To(Spot{})
	b := group(load, plane.Point{X: 100, Z: 75}, plane.Point{X: 100, Z: -75}, plane.Point{X: -100, Z: -75}, plane.Point{X: -100, Z: 75})
	b.share(0)
	for _, k := range b.Bolts {
		fmt.Printf("%.1f N ", k.Shear())
	}
	// Output: 12093.4 N 12093.4 N 8139.4 N 8139.4 N
}

func Example_bearing() {
	// A published worked sheet for EN 1993-1-8 Table 3.4: a plate of 8 mm S235, M20 of class
	// 4.6, d0 22 mm, e1 = e2 = 26.4 mm: αb 0.4, k1 1.66, Fb,Rd 30597 N at the end.
	end := surroundings{end: 26.4, side: 26.4, ahead: math.Inf(1), beside: math.Inf(1)}
	alpha, k1 := end.factors(22, 400, 360)
	fmt.Printf("αb %.1f, k1 %.2f, Fb,Rd %.0f N\n", alpha, k1, bearing(alpha, k1, 360, 20, 8))
	// Output: αb 0.4, k1 1.66, Fb,Rd 30597 N
}

func Example_lateralBuckling() {
	// S. P. Timoshenko and J. M. Gere, "Theory of Elastic Stability" (1961), art. 6.3: a narrow
	// cantilever with a load at its tip turns over at 4.013 √(EI·GJ)/L²; for 80 by 6 by 300 mm
	// with E 70000 and G 27000 MPa that is 5448.7 N. J is 5487.73 mm⁴ by Saint-Venant's series.
	m, _ := lookup("6082-T6", 6)
	p := plate{t: 6, material: m}
	load := p.lateralLoad(ends{least: 80, length: 300, load: headLoad{across: 5448.7}})
	fmt.Printf("J %.0f mm⁴, 5448.7 N is %.3f of what turns it over\n", torsion(80, 6), load)
	// Output: J 5488 mm⁴, 5448.7 N is 1.000 of what turns it over
}

func Example_netSection() {
	// Shigley's Mechanical Engineering Design, example 8-7, goes on: a bar 15 by 200 mm with
	// holes of 16 mm at ±60 mm has I = 8.26e6 mm⁴, and 5600 N·m bends it to 67.8 MPa.
	bar := barPart(200, 15, 600, holes.Hole{ID: "a", X: -60, Z: 300, D: 16}, holes.Hole{ID: "b", X: 60, Z: 300, D: 16})
	bar.bores = bar.allBores()
	s, _ := bar.section(300, true)
	fmt.Printf("I %.2fe6 mm⁴, %.1f MPa\n", s.inertia*15/1e6, s.stress(internal{turn: 5600e3}, 15, 0))
	// Output: I 8.26e6 mm⁴, 67.8 MPa
}

// besselZero finds the first zero of J(-1/4) by its series, which is Timoshenko
// and Gere's way to the coefficient 4.013.
func besselZero() float64 {
	j := func(x float64) float64 {
		sum, term := 0.0, math.Pow(x/2, -0.25)/math.Gamma(0.75)
		for k := 1; k < 40; k++ {
			sum += term
			term *= -x * x / 4 / (float64(k) * (float64(k) - 0.25))
		}
		return sum
	}
	lo, hi := 1.5, 2.5
	for range 60 {
		if mid := (lo + hi) / 2; (j(lo) > 0) == (j(mid) > 0) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Timoshenko and Gere, "Theory of Elastic Stability" (1961), art. 6.3: a narrow
// cantilever with a load at its tip, 4.013 √(EI·GJ)/L². For b 80, t 6, L 300 mm
// with E 70000 and G 27000 MPa it is 5448.7 N.
func TestBucklingAgainstTimoshenko(t *testing.T) {
	if z := 2 * besselZero(); math.Abs(z-tipCoefficient) > 5e-4 || math.Abs(z-4.013) > 1e-3 {
		t.Errorf("the coefficient is %.5f, we have %.5f", z, tipCoefficient)
	}
	m, why := lookup("6082-T6", 6)
	if why != "" {
		t.Fatal(why)
	}
	p := plate{t: 6, material: m}
	e := ends{least: 80, length: 300, load: headLoad{across: 5448.7}}
	if j := torsion(80, 6); math.Abs(j-5487.73) > 0.2 {
		t.Errorf("torsion constant of 80 × 6 = %.2f mm⁴, Saint-Venant's series gives 5487.73", j)
	}
	if load := p.lateralLoad(e); math.Abs(load-1) > 1e-3 {
		t.Errorf("5448.7 N is %.4f of what turns the plate over, want 1", load)
	}
	// Euler, foot fixed and head free: π²·70000·1440/(2·300)² = 2763.5 N, by hand.
	if got := p.columnCapacity(e); math.Abs(got-2763.5) > 0.1 {
		t.Errorf("column capacity = %.1f N, want 2763.5", got)
	}
}

// Shigley, example 8-7, goes on: a bar 15 by 200 mm with holes of 16 mm at ±60 mm
// has I = 8.26e6 mm⁴, and 5600 N·m bends it to 67.8 MPa. The same bar without
// holes, cantilever: b 80, t 6, 500 N at 300 mm gives 23.44 MPa.
func TestNetSection(t *testing.T) {
	bar := barPart(200, 15, 600, holes.Hole{ID: "a", X: -60, Z: 300, D: 16}, holes.Hole{ID: "b", X: 60, Z: 300, D: 16})
	bar.bores = bar.allBores()
	s, ok := bar.section(300, true)
	if !ok || math.Abs(s.inertia*15-8.26e6) > 0.005e6 {
		t.Fatalf("I of the bar with its holes out = %.4g mm⁴, want 8.26e6", s.inertia*15)
	}
	if sigma := s.stress(internal{turn: 5600e3}, 15, 0); math.Abs(sigma-67.8) > 0.1 {
		t.Errorf("bending %.2f MPa, want 67.8", sigma)
	}
	plain := barPart(80, 6, 600)
	s, _ = plain.section(100, true)
	if sigma := s.stress(internal{turn: 500 * 300}, 6, 0); math.Abs(sigma-23.4375) > 0.001 {
		t.Errorf("bending %.4f MPa, want 23.4375", sigma)
	}
}

func sizeOf(name string) fastener.Size {
	s, _ := fastener.Lookup(name)
	return s
}

func gradeOf(name string) fastener.Grade {
	g, _ := fastener.LookupGrade(name)
	return g
}
