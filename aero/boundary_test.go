package aero

import (
	"fmt"
	"math"
	"testing"
)

// H. Blasius: a laminar layer on a flat plate is 0.664/√Re thick in momentum, Thwaites has 0.671;
// H is 2.59, Thwaites' fit 2.61. L. Prandtl, H. Schlichting: a turbulent one has 0.455/(log₁₀
// Re)^2.58 of friction, 0.00300 at 1e7, of which θ is half; Head's method is within 10 % of it.
func TestFlatPlateLayers(t *testing.T) {
	const n = 400
	s, u := make([]float64, n), make([]float64, n)
	for i := range s {
		s[i], u[i] = float64(i)/(n-1), 1
	}
	l := march(s, s, u, 1e5, 2)
	near(t, "laminar θ·√Re", l.Theta*math.Sqrt(1e5), 0.671, 0.002)
	near(t, "laminar H", l.Shape, 2.61, 0.003)
	near(t, "transition", l.Transition, 1, 0)
	l = march(s, s, u, 1e7, 0)
	near(t, "turbulent 2θ", 2*l.Theta, 0.00300, 0.0003)
	if l.Shape < 1.2 || l.Shape > 1.5 || l.Separation != 1 {
		t.Errorf("turbulent H %.3f, separation at %.3f", l.Shape, l.Separation)
	}
	// B. Thwaites (1949): at a stagnation point, u = s, θ² = 0.075 ν everywhere and λ = 0.075.
	for _, m := range []int{2, 50} {
		for i := range m {
			s[i] = float64(i) / float64(m-1)
			u[i] = s[i]
		}
		l = march(s[:m], s[:m], u[:m], 1e4, 2)
		near(t, "stagnation θ·√Re", l.Theta*100, math.Sqrt(0.075), 0.002)
		near(t, "stagnation H", l.Shape, 2.61-3.75*0.075+5.24*0.075*0.075, 0.005)
	}
}

// By hand for Thwaites' layer on a flat plate, H 2.61 and θ 0.671 x/√Re: waves grow from log₁₀ Re_θ =
// 0.3899·tanh(−0.4776) + 3.295/1.61 + 0.44 = 2.3133 on, Re_θ 205.7; a = 6.264 − 3.7 − 2.5·tanh 0.735 =
// 0.9986, so that they grow by 0.01·√(0.9986² + 0.25) = 0.011168 for each of Re_θ, of which one momentum
// thickness adds 0.22095: e⁸-fold after 8/0.011168·0.2251/0.22095 = 730, at 936, which is a distance of
// (936/0.671)² = 1.94e6. In quiet air it is 2.8e6 (G. B. Schubauer, H. K. Skramstad, NACA Report 909).
func TestTransitionOfAPlate(t *testing.T) {
	near(t, "growth at Re_θ 205", growth(2.61, 205), 0, 0)
	near(t, "growth at Re_θ 206", growth(2.61, 206), 0.011168*0.22095, 2e-6)
	const n = 400
	s, u := make([]float64, n), make([]float64, n)
	for i := range s {
		s[i], u[i] = float64(i)/(n-1), 1
	}
	near(t, "transition at 1e7", march(s, s, u, 1e7, 2).Transition, 0.194, 0.006)
	near(t, "transition at 5e6", march(s, s, u, 5e6, 2).Transition, 0.389, 0.01)
	near(t, "transition at a trip", march(s, s, u, 5e6, 0.3).Transition, 0.3, 1e-3)
}

// L. Howarth's flow, u = 1 − s, by hand: λ = −0.075·(u⁻⁶ − 1) reaches −0.09 at u = 2.2^(−1/6) = 0.8768, so
// that the laminar layer separates at 0.1232 (exactly, 0.120). At 3e4 no wave has grown by then, and θ is
// √(0.09/3e4) = 0.001732; in the bubble, H 5, waves grow by 0.037335 for each θ: 8 after 8·0.001732/0.037335
// = 0.3711, at 0.4943. A trip inside of the bubble ends it.
func TestBubbleByHand(t *testing.T) {
	near(t, "growth in a bubble", growth(bubbleShape, math.Inf(1)), 0.037335, 1e-5)
	const n = 800
	s, u := make([]float64, n), make([]float64, n)
	for i := range s {
		s[i] = 0.9 * float64(i) / (n - 1)
		u[i] = 1 - s[i]
	}
	u[0] = 1 // not a stagnation point
	near(t, "transition behind the bubble", march(s, s, u, 3e4, 1).Transition, 0.4943, 0.004)
	near(t, "transition at a trip in it", march(s, s, u, 3e4, 0.3).Transition, 0.3, 1e-3)
}

// T. Cebeci and P. Bradshaw (1977), worked by hand: Thwaites' H is 2.61 at λ = 0, 2.0986 at 0.25
// and 3.55 at −0.09, where it separates; Head's H1 is 7.18 at H = 1.4 and 3.98 at H = 2, and one
// value on either side of 1.6, so that H follows from H1.
func TestShapeFactorsByHand(t *testing.T) {
	for lambda, want := range map[float64]float64{0: 2.61, 0.25: 2.0, -0.09: 3.55, -0.05: 2.9002, 0.1: 2.2874, -0.2: 3.55, 0.4: 2.0} {
		near(t, fmt.Sprintf("H at λ %g", lambda), thwaitesShape(lambda), want, 0.002)
	}
	near(t, "H1 at 1.4", headH1(1.4), 7.178, 0.01)
	near(t, "H1 at 2", headH1(2), 3.981, 0.002)
	near(t, "H1 on either side of 1.6", headH1(1.6), headH1(1.6+1e-9), 1e-4)
	for _, h := range []float64{1.25, 1.4, 1.59, 1.61, 2, 2.5} {
		near(t, "H of its H1", headShape(headH1(h)), h, 1e-6)
	}
}
