package aero

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Vec is a point of a section, in chords: x from the leading edge to the
// trailing edge, y towards the side to which it lifts.
type Vec struct{ X, Y float64 }

// Naca is a four- or five-digit section of the NACA.
type Naca struct {
	Code      string
	Thickness float64 // largest, in chords
	mean      func(x float64) (y, slope float64)
}

// ParseNaca reads "naca 6412" or "naca 23012": four digits, or 210 to 250 (the
// simple mean lines of the five-digit series) with two digits of thickness.
func ParseNaca(name string) (Naca, error) {
	code, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(name)), "naca")
	code = strings.TrimSpace(code)
	n, err := strconv.Atoi(code)
	if !ok || err != nil || n < 0 || len(code) != 4 && len(code) != 5 {
		return Naca{}, fmt.Errorf("section %q; use \"naca\" with four digits, such as \"naca 6412\", or five, \"naca 23012\"", name)
	}
	s := Naca{Code: code, Thickness: float64(n%100) / 100}
	if s.Thickness < 0.01 || s.Thickness > 0.4 {
		return Naca{}, fmt.Errorf("section %q is %d %% thick; it must be 1 %% to 40 %%", name, n%100)
	}
	if len(code) == 4 {
		s.mean = meanLine4(float64(n/1000)/100, float64(n/100%10)/10)
		if (n/1000 == 0) != (n/100%10 == 0) {
			return Naca{}, fmt.Errorf("section %q has camber without its place, or the reverse: the first two digits are both 0 or neither", name)
		}
		return s, nil
	}
	k, ok := meanLines5[n/100]
	if !ok {
		return Naca{}, fmt.Errorf("section %q: of the five-digit sections 210xx, 220xx, 230xx, 240xx and 250xx are known", name)
	}
	s.mean = meanLine5(k[0], k[1])
	return s, nil
}

// meanLine4 is the four-digit mean line of camber m at p, in chords.
// Source: E. N. Jacobs, K. E. Ward, R. M. Pinkerton, NACA Report 460 (1933).
func meanLine4(m, p float64) func(float64) (float64, float64) {
	return func(x float64) (float64, float64) {
		switch {
		case m == 0:
			return 0, 0
		case x < p:
			return m / (p * p) * (2*p*x - x*x), 2 * m / (p * p) * (p - x)
		}
		q := (1 - p) * (1 - p)
		return m / q * (1 - 2*p + 2*p*x - x*x), 2 * m / q * (p - x)
	}
}

// meanLines5 gives m and k1 of the simple five-digit mean lines for a design
// lift of 0.3. Source: E. N. Jacobs, R. M. Pinkerton, NACA Report 537 (1935),
// as tabulated in Abbott and von Doenhoff, "Theory of Wing Sections" (1959).
var meanLines5 = map[int][2]float64{
	210: {0.0580, 361.4}, 220: {0.1260, 51.64}, 230: {0.2025, 15.957}, 240: {0.2900, 6.643}, 250: {0.3910, 3.230},
}

func meanLine5(m, k1 float64) func(float64) (float64, float64) {
	return func(x float64) (float64, float64) {
		if x < m {
			return k1 / 6 * (x*x*x - 3*m*x*x + m*m*(3-m)*x), k1 / 6 * (3*x*x - 6*m*x + m*m*(3-m))
		}
		return k1 * m * m * m / 6 * (1 - x), -k1 * m * m * m / 6
	}
}

// thickness returns half the thickness at x, in chords, with the published
// blunt trailing edge. Source: NACA Report 460, eq. for the basic form.
func (n Naca) thickness(x float64) float64 {
	return 5 * n.Thickness * (0.2969*math.Sqrt(x) + x*(-0.1260+x*(-0.3516+x*(0.2843-0.1015*x))))
}

// Surface returns the points of the upper (lifting) and lower surface at the
// place x of the mean line, the thickness laid off square to it.
func (n Naca) Surface(x float64) (upper, lower Vec) {
	y, slope := n.mean(x)
	t := n.thickness(x)
	sin, cos := math.Sincos(math.Atan(slope))
	return Vec{x - t*sin, y + t*cos}, Vec{x + t*sin, y - t*cos}
}

// Outline returns the section's outline as 2·half+1 points from the trailing
// edge along the upper surface to the leading edge and back along the lower,
// closer together towards both edges, and most so about the leading one.
func (n Naca) Outline(half int) []Vec {
	points := make([]Vec, 0, 2*half+1)
	at := func(i int) float64 {
		th := math.Pi * float64(i) / float64(half)
		return (1 - math.Cos(th-0.35*math.Sin(th))) / 2
	}
	for i := half; i > 0; i-- {
		u, _ := n.Surface(at(i))
		points = append(points, u)
	}
	points = append(points, Vec{})
	for i := 1; i <= half; i++ {
		_, l := n.Surface(at(i))
		points = append(points, l)
	}
	return points
}

// ThinAirfoil is what thin-airfoil theory says of a mean line.
type ThinAirfoil struct {
	ZeroLift float64 // angle of attack of zero lift, rad
	Moment   float64 // cm about the quarter chord, the same at all angles
}

// Thin returns the thin-airfoil theory of the section's mean line. The theory's
// lift slope is 2π per rad; it knows neither thickness nor stall. Measured
// zero-lift angles lie within about half a degree of it for camber up to 4 %.
// Source: H. Glauert, "The Elements of Aerofoil and Airscrew Theory" (1926),
// ch. VII: A0, A1 and A2 as Fourier integrals of the mean line's slope.
func (n Naca) Thin() ThinAirfoil {
	// The slope has at most one kink; the midpoint rule in θ is good to 1e-6.
	const steps = 4000
	var zero, a1, a2 float64
	for i := range steps {
		th := math.Pi * (float64(i) + 0.5) / steps
		_, slope := n.mean((1 - math.Cos(th)) / 2)
		zero -= slope * (math.Cos(th) - 1) / steps
		a1 += 2 * slope * math.Cos(th) / steps
		a2 += 2 * slope * math.Cos(2*th) / steps
	}
	return ThinAirfoil{zero, -math.Pi / 4 * (a1 - a2)}
}
