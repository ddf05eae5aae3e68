package fem

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

// strip is a straight plate on end, b mm wide and l long, clamped along its lower edge, with its
// head a washer of 1 mm on a hole of nothing at the top end.
func strip(t *testing.T, b, l, thick, g, h float64, s *sheet.Shape) *Response {
	t.Helper()
	if s == nil {
		s = &sheet.Shape{Outline: points(-b/2, 0, b/2, 0, b/2, l, -b/2, l), Floor: 0}
	}
	e := 70000.0
	k, err := New(Plate{s, thick, e, e/2/g - 1, 2.7e-9}, Foot{}, h)
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.On([]Bolt{{At: plane.Point{Z: l - b/4}, Hole: 0, Washer: b / 2 * 0.98}})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A strip 40 × 4 × 600, E 70000, G 27000, by beam theory with shear at the middle of its head:
// P L³/(3EI) + 1.2 P L/(G A), S. P. Timoshenko, "Strength of Materials"; torsion by Saint-Venant;
// sideways buckling by a force across it 4.0126 √(EI GJ)/L², Timoshenko and Gere art. 6.3, which a
// clamped root of finite width raises by about 0.6 b/L.
func TestStrip(t *testing.T) {
	r := strip(t, 40, 600, 4, 27000, 4, nil)
	l, e, g := 590.0, 70000.0, 27000.0
	at := func(n Load) State {
		s, err := r.Under(n, false)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	near(t, "in the plane", at(r.load(100, 0, 0, 0, 0, 0)).X, 100*l*l*l/(3*e*4*40*40*40/12)+1.2*100*l/(g*160), 0.005)
	near(t, "sideways", at(r.load(0, 0, 0, 10, 0, 0)).Side, 10*l*l*l/(3*e*40*64/12), 0.012)
	j := 40 * 64.0 / 3 * (1 - 0.63*4/40)
	near(t, "torsion", at(r.load(0, 0, 0, 0, 0, 1000)).SX, 1000*l/(g*j), 0.035)
	ei, gj := e*40*64/12, g*j
	// CalculiX 2.20 for the strip of 600 with the load at its end: 2.080 of 100 N, 4 % above the formula's.
	near(t, "lateral", r.Buckling(r.load(100, 0, 0, 0, 0, 0)), 2.080/2.001*4.0126*math.Sqrt(ei*gj)/(l*l)/100, 0.02)
}

// The same strip as a column pressed by 20 N on a rigid arm a above its head: tan kL = 1/(k a),
// Timoshenko and Gere art. 2.
func TestColumn(t *testing.T) {
	r := strip(t, 40, 600, 4, 27000, 4, nil)
	l, ei := 590.0, 70000*40*64/12.0
	for _, a := range []float64{0, 200, 400} {
		lo, hi := 1e-9, math.Pi/2-1e-9 // of kL
		for range 100 {
			if mid := (lo + hi) / 2; math.Tan(mid)*mid/l*a < 1 {
				lo = mid
			} else {
				hi = mid
			}
		}
		n := r.load(0, -20, 0, 0, 0, 0)
		n.Stands(plane.Point{Z: -20}, plane.Point{Z: a})
		near(t, "column", r.Buckling(n), lo*lo/(l*l)*ei/20, 0.015)
	}
	if up := r.Buckling(r.load(0, 20, 0, 0, 0, 0)); !math.IsInf(up, 1) && up < 50 {
		t.Errorf("pulled, it buckles at %g times", up)
	}
}

// Aluminium plate 300 × 200 × 6 mm clamped on a 200 mm edge, E 70 GPa, ν 0.33: first frequency
// 56.82 Hz (A. W. Leissa, J. Sound Vib. 31 (1973), by converged Ritz). Strip 60 × 6 × 300 with
// 1.0 kg at its tip: 14.110 Hz by the exact root.
func TestFrequencies(t *testing.T) {
	s := &sheet.Shape{Outline: points(-100, 0, 100, 0, 100, 300, -100, 300)}
	k, err := New(Plate{s, 6, 70000, 0.33, 2.7e-9}, Foot{}, 6)
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.On([]Bolt{{At: plane.Point{Z: 250}, Washer: 60}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "plate", r.swing(Rider{}, true)[0], 56.82, 0.01)
	r = strip(t, 60, 300, 6, 27000, 4, nil)
	f := r.swing(Rider{Mass: 1e-3, At: plane.Point{Z: 300}}, true)
	near(t, "mass at its tip", f[0], 14.110, 0.012)
	// Fore and aft by √(3EI/(L³(M + 33m/140))): 0.2916 kg and the mass at its tip.
	ei := 70000 * 6 * 60 * 60 * 60 / 12.0
	want := math.Sqrt(3*ei/(300*300*300*(1e-3+33.0/140*0.2916e-3))) / (2 * math.Pi)
	near(t, "fore and aft", r.swing(Rider{Mass: 1e-3, At: plane.Point{Z: 300}}, false)[0], want, 0.05) // with shear, a little lower
}

// A strip 100 × 6 with a hole of 20, pulled by 60 kN: the ligament's mean is 125 MPa by
// equilibrium, its linear part 50.5 (quadratic triangles, 1.5 mm). With a hole of 70 each
// ligament of 15 mm has 333.3 and about 294 MPa.
func TestHoleInStrip(t *testing.T) {
	for _, c := range []struct{ d, mean, linear, h, tol float64 }{{20, 125, 50.5, 3, 0.05}, {70, 333.3, 294, 3, 0.06}} {
		s := &sheet.Shape{Outline: points(-50, 0, 50, 0, 50, 400, -50, 400), Rounds: []sheet.Round{{At: plane.Point{Z: 200}, Radius: c.d / 2}}}
		r := strip(t, 100, 400, 6, 27000, c.h, s)
		st, err := r.Under(r.load(0, 60000, 0, 0, 0, 0), false)
		if err != nil {
			t.Fatal(err)
		}
		chord, ok := s.Through(plane.Point{X: (50 + c.d/2) / 2, Z: 200})
		if !ok {
			t.Fatal("no chord")
		}
		cut, _ := st.Across(&chord)
		near(t, "mean", cut.Mean, c.mean, 0.02)
		near(t, "linear", math.Abs(cut.Stress.Turn), c.linear, c.tol)
	}
}

// A deep notch: plate 100 × 200 × 10, a V from (50, 70) and (50, 130) to (-38, 100). By quadratic
// triangles the head moves 0.297 mm sideways in the plane; a grid is too stiff there, and says so
// by what its neck bears against equilibrium.
func TestNotchIsKnownToBeTooFine(t *testing.T) {
	s := &sheet.Shape{Outline: points(-50, 0, 50, 0, 50, 70, -38, 100, 50, 130, 50, 200, -50, 200), Floor: 15}
	k, err := New(Plate{s, 10, 70000, 0.3, 2.7e-9}, Foot{}, 4)
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.On([]Bolt{{At: plane.Point{Z: 192}, Washer: 14}})
	if err != nil {
		t.Fatal(err)
	}
	st, err := r.Under(r.load(0, 500, 0, 0, 0, 0), false)
	if err != nil {
		t.Fatal(err)
	}
	neck, _ := s.NewChord(plane.Point{X: -50, Z: 100}, plane.Point{X: -38, Z: 100})
	cut, _ := st.Across(&neck)
	t.Logf("%.3f mm, N %.0f of 500, M %.0f of %.0f", st.X, cut.Normal, cut.Turn, 500*44.0)
	if math.Abs(math.Abs(cut.Turn)/22000-1) < 0.05 {
		t.Error("the neck seems resolved")
	}
}

// A quarter ring of radii 60 and 100, 10 thick, on a straight foot, bent by 400 N·m in its plane: at 45° the
// linear part is 6M/(t h²) = 150 MPa. A. R. Golovin has 180.4 at its inner edge, Winkler and Bach 180.0.
func TestCurvedBeam(t *testing.T) {
	var out []plane.Point
	const n = 24
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		out = append(out, plane.Point{X: 100 * cos, Z: 100 * sin})
	}
	out = append(out, plane.Point{X: -80, Z: 100}, plane.Point{X: -80, Z: 60})
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(n-i) / n)
		out = append(out, plane.Point{X: 60 * cos, Z: 60 * sin})
	}
	out = append(out, plane.Point{X: 60, Z: -80}, plane.Point{X: 100, Z: -80})
	s := &sheet.Shape{Outline: out, Floor: -80}
	k, err := New(Plate{s, 10, 70000, 0.3, 2.7e-9}, Foot{}, 4)
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.On([]Bolt{{At: plane.Point{X: -60, Z: 80}, Washer: 36}})
	if err != nil {
		t.Fatal(err)
	}
	st, err := r.Under(r.load(0, 0, 400e3, 0, 0, 0), false)
	if err != nil {
		t.Fatal(err)
	}
	at := math.Sqrt2 / 2
	c, ok := s.NewChord(plane.Point{X: 60 * at, Z: 60 * at}, plane.Point{X: 100 * at, Z: 100 * at})
	if !ok {
		t.Fatal("no chord")
	}
	cut, ok := st.Across(&c)
	if !ok {
		t.Fatal("no cut")
	}
	near(t, "linear part", math.Abs(cut.Stress.Turn), 150, 0.02)
}

// Cantilever plates, λ = ω a² √(ρ t/D): A. W. Leissa, J. Sound Vib. 31 (1973) 257, by converged Ritz:
// 3.4711 for a square, 3.4284 for a length of 2.5 widths. Thin, so that shear hardly counts.
func TestLeissa(t *testing.T) {
	for ratio, want := range map[float64]float64{1: 3.4711, 2.5: 3.4284} {
		a, e, nu, rho, thick := 200.0, 70000.0, 0.3, 2.7e-9, 3.0
		b := a / ratio
		s := &sheet.Shape{Outline: points(-b/2, 0, b/2, 0, b/2, a, -b/2, a)}
		k, err := New(Plate{s, thick, e, nu, rho}, Foot{}, 5)
		if err != nil {
			t.Fatal(err)
		}
		r, err := k.On([]Bolt{{At: plane.Point{Z: 0.7 * a}, Washer: 0.4 * b}})
		if err != nil {
			t.Fatal(err)
		}
		d := e * thick * thick * thick / 12 / (1 - nu*nu)
		f := r.swing(Rider{}, true)[0]
		near(t, "λ", 2*math.Pi*f*a*a*math.Sqrt(rho*thick/d), want, 0.02)
	}
}
