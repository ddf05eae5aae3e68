package fem

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// beam is a beam of length l on end without mass, whose head stands at (0, top): side and plane
// alike. Moments about x turn the top towards -y for a positive turn.
func beam(l, ei, top float64, across bool) Link {
	var f Field
	if across {
		f.Give = [3][3]float64{{l * l * l / 3 / ei, -l * l / 2 / ei, 0}, {-l * l / 2 / ei, l / ei, 0}, {0, 0, 1e-12}}
	} else {
		f.Give = [3][3]float64{{l * l * l / 3 / ei, 0, -l * l / 2 / ei}, {0, 1e-9, 0}, {-l * l / 2 / ei, 0, l / ei}}
	}
	return Link{f, plane.Point{Z: top}, 0}
}

// Two beams of 300 mm on end are one of 600 mm: a mass m at its end swings at
// √(3EI/(m L³))/2π; so does the whole when it leans.
func TestChain(t *testing.T) {
	const ei, m = 5e7, 2e-3
	want := math.Sqrt(3*ei/(m*600*600*600)) / (2 * math.Pi)
	for _, across := range [2]bool{true, false} {
		links := []Link{beam(300, ei, 300, across), beam(300, ei, 600, across)}
		near(t, "two beams", Swing(links, Rider{Mass: m, At: plane.Point{Z: 600}}, across)[0], want, 1e-4)
		lean := plane.Pose{X: 120, Z: -40, Turn: 0.7}
		for i := range links {
			links[i].Head, links[i].Turn = lean.Apply(links[i].Head), lean.Turn
		}
		near(t, "leaning", Swing(links, Rider{Mass: m, At: lean.Apply(plane.Point{Z: 600})}, across)[0], want, 1e-4)
	}
}

// A mass on an arm above a beam's head swings at √(1/(m c))/2π with c = L³/3 + L² a + L a² over EI.
func TestMassOnAnArm(t *testing.T) {
	const ei, m, l, a = 5e7, 2e-3, 400.0, 150.0
	c := (l*l*l/3 + l*l*a + l*a*a) / ei
	for _, across := range [2]bool{true, false} {
		got := Swing([]Link{beam(l, ei, l, across)}, Rider{Mass: m, At: plane.Point{Z: l + a}}, across)
		near(t, "on an arm", got[0], math.Sqrt(1/(m*c))/(2*math.Pi), 1e-3)
	}
}
