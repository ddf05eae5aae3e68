package deck

import (
	"fmt"
	"math"
	"testing"
)

// near reports a number that is off by more than tol.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.5g, want %.5g ± %.2g", what, got, want, tol)
	}
}

func rectangle(x, y float64) panel {
	return newPanel(vec{-x, -y, 0}, vec{x, -y, 0}, vec{x, y, 0}, vec{-x, y, 0}, 0)
}

// By quadrature of point sources, 1/(4πr²) each, over a rectangle of 2 by 1 m, and far away by
// hand: 2 m² at 20 m, 2/(4π 400) = 3.979e-4.
func TestSource(t *testing.T) {
	p := rectangle(1, 0.5)
	near(t, "area", p.area, 2, 1e-12)
	near(t, "its normal's z", p.normal[2], 1, 1e-12)
	for _, q := range []vec{{0.3, 0.2, 0.7}, {1.5, -0.8, -0.4}, {0, 0, 1}} {
		var want vec
		potential := 0.0
		const n = 200
		for i := range n {
			for k := range n {
				r := q.minus(vec{-1 + 2*(float64(i)+0.5)/n, -0.5 + (float64(k)+0.5)/n, 0})
				d := r.norm()
				want = want.plus(r.times(2.0 / (n * n) / (4 * math.Pi * d * d * d)))
				potential -= 2.0 / (n * n) / (4 * math.Pi * d)
			}
		}
		got := p.velocity(q)
		for axis := range 3 {
			near(t, fmt.Sprintf("velocity at %v along axis %d", q, axis), got[axis], want[axis], 2e-5)
		}
		near(t, fmt.Sprintf("potential at %v", q), p.potential(q), potential, 2e-5)
	}
	near(t, "velocity far above", p.velocity(vec{0, 0, 20})[2], 3.979e-4, 1e-6)
	near(t, "potential far above", p.potential(vec{0, 0, 20}), -2/(4*math.Pi*20), 1e-9)
	// Half of what the sources give goes to either side; in its own plane beside it nothing does.
	near(t, "velocity on its outer side", p.velocity(p.at)[2], 0.5, 1e-12)
	near(t, "velocity just below", p.velocity(vec{0, 0, -1e-6})[2], -0.5, 1e-5)
	near(t, "velocity across its plane beside it", p.velocity(vec{1.2, 0, 0})[2], 0, 1e-12)
	// From where it counts as a point the two agree within 1 %.
	q := vec{0, 0, 1.0001 * farPanel * math.Sqrt(5)}
	exact := p
	exact.far2 = math.Inf(1)
	near(t, "point over panel", p.velocity(q)[2]/exact.velocity(q)[2], 1, 0.02)
}

// Mirror images stop the flow through the middle plane and through the road.
func TestMirrors(t *testing.T) {
	p := newPanel(vec{0, 0.2, 0.5}, vec{1, 0.2, 0.5}, vec{1, 0.6, 0.7}, vec{0, 0.6, 0.7}, 0)
	near(t, "flow through the middle plane", p.symmetric(vec{0.3, 0, 0.9}, true)[1], 0, 1e-15)
	near(t, "flow through the road", p.symmetric(vec{0.3, 0.8, 0}, true)[2], 0, 1e-15)
	if w := p.symmetric(vec{0.3, 0.8, 0}, false)[2]; w > -1e-3 {
		t.Errorf("without a road the flow at its place is %g upwards, want it downwards", w)
	}
	near(t, "potential on the road over that without it", p.symmetricPotential(vec{0.3, 0, 0}, true)/p.symmetricPotential(vec{0.3, 0, 0}, false), 2, 1e-12)
}

// Lines by hand: an endless one, Γ/(2πh); from its end on, half of that; and from 45° to
// 45° of it, sin 45° of it. A line along +y turns the flow above it (z up) to +x.
func TestVortex(t *testing.T) {
	whole := 1 / (2 * math.Pi * 0.3)
	near(t, "u above a long line along y", segment(vec{0, 0, 0.3}, vec{0, -1e4, 0}, vec{0, 1e4, 0})[0], whole, 1e-6)
	near(t, "u above a line as long as twice its distance", segment(vec{0, 0, 0.3}, vec{0, -0.3, 0}, vec{0, 0.3, 0})[0], whole*math.Sqrt2/2, 1e-12)
	near(t, "v above the start of a leg", leg(vec{0, 0, 0.3}, vec{})[1], -whole/2, 1e-12)
	near(t, "v above a leg far behind", leg(vec{1e4, 0, 0.3}, vec{})[1], -whole, 1e-6)
	if u := segment(vec{1, 0, 0}, vec{}, vec{2, 0, 0}); u != (vec{}) {
		t.Errorf("on the line itself %v, want none", u)
	}
}

func TestUpperSide(t *testing.T) {
	for _, row := range []struct {
		name       string
		line, want []Point
	}{
		{"open, to the rear", []Point{{0, 1}, {1, 1.2}, {2, 1}}, []Point{{0, 1}, {1, 1.2}, {2, 1}}},
		{"open, to the front", []Point{{2, 1}, {1, 1.2}, {0, 1}}, []Point{{0, 1}, {1, 1.2}, {2, 1}}},
		{"closed box", []Point{{0, 0}, {0, 1}, {2, 1}, {2, 0}, {0, 0}}, []Point{{0, 1}, {2, 1}}},
		{"step", []Point{{0, 1}, {1, 1}, {1, 0.5}, {2, 0.5}}, []Point{{0, 1}, {1, 1}, {1, 0.5}, {2, 0.5}}},
		{"overhang", []Point{{0, 1}, {2, 1}, {1, 0.5}, {3, 0.5}}, []Point{{0, 1}, {1, 1}, {2, 1}, {2, 0.5}, {3, 0.5}}},
		{"crossing itself", []Point{{0, 0}, {2, 2}, {2, 1}, {0, 1}}, []Point{{0, 1}, {1, 1}, {2, 2}}},
		{"upright only", []Point{{1, 0}, {1, 1}}, nil},
	} {
		got := upperSide(row.line)
		ok := len(got) == len(row.want)
		for i := range got {
			ok = ok && math.Hypot(got[i].X-row.want[i].X, got[i].Z-row.want[i].Z) < 1e-9
		}
		if !ok {
			t.Errorf("%s: upper side %v, want %v", row.name, got, row.want)
		}
	}
	if got := simplified([]Point{{0, 0}, {1, 0.001}, {2, 0}, {3, 1}}, 0.01); len(got) != 3 || got[1] != (Point{2, 0}) {
		t.Errorf("simplified to %v, want the second point left out", got)
	}
	// 0.01 m beside a slanted line 5 m long: from (1, 2) to (4, 6) the middle is (2.5, 4), across it
	// is (-0.8, 0.6).
	slanted := []Point{{1, 2}, {2.5 - 0.008, 4 + 0.006}, {4, 6}}
	if a, b := simplified(slanted, 0.0101), simplified(slanted, 0.0099); len(a) != 2 || len(b) != 3 {
		t.Errorf("simplified to %v and %v, want the middle left out and kept", a, b)
	}
	if z, ok := heightAt([]Point{{0, 1}, {1, 1}, {1, 0.5}, {2, 0.7}}, 1); z != 1 || !ok {
		t.Errorf("at the step %g %t, want 1", z, ok)
	}
	if z, ok := heightAt([]Point{{0, 1}, {2, 0.5}}, 0.5); math.Abs(z-0.875) > 1e-12 || !ok {
		t.Errorf("on the slope %g %t, want 0.875", z, ok)
	}
	if _, ok := heightAt([]Point{{0, 1}, {2, 0.5}}, 2.1); ok {
		t.Error("behind the line it has a height")
	}
}

// Panels cover the body, face outwards, and let nothing out: the area by hand of half a box
// 2 m long, 1 m wide, 0.5 m high, its wake 1 m long: top 3·0.5, side 3·0.5, ends 2·0.25.
func TestPanels(t *testing.T) {
	m := standard([]Point{{0, 0.5}, {2, 0.5}}, 1)
	m.ahead, m.wake = 0, 1
	line, first, last := m.cuts([]Point{{0, 0.5}, {2, 0.5}})
	area := 0.0
	for _, p := range m.panels(line, first, last, 1) {
		area += p.area
		if out := p.at.minus(vec{1.5, 0, 0.2}); out.dot(p.normal) <= 0 {
			t.Errorf("the panel at %v faces %v, inwards", p.at, p.normal)
		}
		if (p.at[0] < 2 && p.normal[2] > 0.5) != (p.slice >= 0) {
			t.Errorf("the panel at %v is in slice %d", p.at, p.slice)
		}
		if (p.at[0] > 2 && p.normal[0] < 0.5) != (p.ahead >= 0) {
			t.Errorf("the panel at %v has %d ahead of it", p.at, p.ahead)
		}
	}
	near(t, "area of half the box", area, 3.5, 1e-9)
	near(t, "panels at the tail, m", line[last].X-line[last-1].X, m.edge, 0.4*m.edge)
}
