package deck

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
)

// slopeAlone returns the lift slope of a wing in free air, per rad: a lift of ρVΓb is a
// coefficient of 2Γb/(V·area).
func slopeAlone(t *testing.T, p aero.Planform) float64 {
	t.Helper()
	l := newLattice(p, Place{0, 1, 0})
	a := mat.NewDense(len(l.vs), len(l.vs), nil)
	for i, v := range l.vs {
		for k, u := range l.velocities(v.at, false) {
			a.Set(i, k, u.dot(v.normal))
		}
	}
	g, err := atUnitAngle(l.vs, a)
	if err != nil {
		t.Fatal(err)
	}
	return 2 * downforce(l.vs, g) / p.Area()
}

// Flat wings against converged lifting surfaces; at A = 1 E. O. Tuck, J. Austral. Math. Soc. B
// 35 (1993) 127-144. End plates against the finer lattice of package aero (14 strips of 6 panels,
// 3 to 8 strips on a plate): slope 3.950 per rad without, 4.383 and 4.635 with plates as high
// as 0.1 and 0.2 spans.
func TestSlopeAlone(t *testing.T) {
	for _, row := range []struct{ a, slope float64 }{{1, 1.460227}, {4, 3.612}, {6, 4.215}} {
		got := slopeAlone(t, aero.Planform{Span: row.a, Chord: 1})
		near(t, fmt.Sprintf("slope of a flat wing, A = %g", row.a), got, row.slope, 0.015*row.slope)
	}
	plain := slopeAlone(t, aero.Planform{Span: 5, Chord: 1})
	for _, row := range []struct{ height, rise float64 }{{0.5, 4.383/3.950 - 1}, {1, 4.635/3.950 - 1}} {
		p := aero.Planform{Span: 5, Chord: 1, Plate: aero.Plate{Length: 1, Height: row.height}}
		got := slopeAlone(t, p)
		near(t, fmt.Sprintf("rise of the slope by plates %g m high", row.height), got/plain-1, row.rise, 0.1*row.rise)
		// Flat wings know no up and down; a plate wholly off the wing's plane does little.
		p.Plate.Above = 0.2
		below := slopeAlone(t, p)
		p.Plate.Above = -0.2
		near(t, "plates 0.2 m above over ones 0.2 m below", slopeAlone(t, p)/below, 1, 1e-9)
	}
	away := slopeAlone(t, aero.Planform{Span: 5, Chord: 1, Plate: aero.Plate{Length: 1, Height: 0.5, Above: 1}})
	near(t, "plates off the wing", away/slopeAlone(t, aero.Planform{Span: 5 / drawnIn, Chord: 1}), 1, 0.05)
	taper := slopeAlone(t, aero.Planform{Span: 6, Chord: 1.25, TipChord: 0.75})
	near(t, "slope of a tapered wing, A = 6", taper, 4.3, 0.07) // a little above the rectangular one's 4.215
}

// Places by hand: a wing of 1 m span, 0.4 m chord, 0.2 m at the tips, turned by 30° about its
// quarter chord at 2 m, 1.5 m; 6.25 strips over 0.5 m are 80 mm wide.
func TestPlacesOnTheWing(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	p := aero.Planform{Span: 1, Chord: 0.4, TipChord: 0.2}
	at := Place{2, 1.5, math.Pi / 6}
	l := newLattice(p, at)
	if len(l.vs) != 12 {
		t.Fatalf("%d vortices, want 6 strips of 2", len(l.vs))
	}
	same := func(what string, got, want vec) {
		t.Helper()
		if got.minus(want).norm() > 1e-12 {
			t.Errorf("%s is at %v, want %v", what, got, want)
		}
	}
	// The rear panel of the second strip: control point at 0.875 of the chord at 120 mm,
	// 0.4 - 0.2·0.24 = 0.352 m.
	s := 0.352 * 0.625
	v := l.vs[3]
	same("control point", v.at, vec{2 + s*cos, 0.12, 1.5 + s*sin})
	same("normal", v.normal, vec{-sin, 0, cos})
	near(t, "width of a strip", v.width, 0.08, 1e-12)
	// Its bound piece at 0.625 of the chord, from 160 mm (0.336 m) to 80 mm (0.368 m).
	bound := l.pieces[v.pieces[2]]
	same("bound from", bound.a, vec{2 + 0.336*0.375*cos, 0.16, 1.5 + 0.336*0.375*sin})
	same("bound to", bound.b, vec{2 + 0.368*0.375*cos, 0.08, 1.5 + 0.368*0.375*sin})
	end := l.pieces[v.pieces[4]]
	same("end of the leg", end.a, vec{2 + 0.368*0.75*cos, 0.08, 1.5 + 0.368*0.75*sin})
	if !end.endless || v.signs[4] != 1 || v.signs[0] != -1 {
		t.Errorf("legs %v %v", end, v.signs)
	}

	// End plates 0.3 m long from 50 mm ahead of the wing, from 0.1 m below to 0.05 m above it (on the
	// car; the wing lifts downwards): the wing's strips are then 0.5/6 m wide.
	p.Plate = aero.Plate{Length: 0.3, Height: 0.15, Ahead: 0.05, Above: 0.025}
	at.Angle = 0
	l = newLattice(p, at)
	if len(l.vs) != 16 {
		t.Fatalf("%d vortices, want 12 and 4", len(l.vs))
	}
	front := 2 - 0.05 - 0.05 // a quarter of the tip's 0.2 m ahead of the quarter chord, and 50 mm
	same("lowest control point", l.vs[12].at, vec{front + 0.225, 0.5, 1.5 - 0.1/2.25*1.5})
	same("highest control point", l.vs[15].at, vec{front + 0.225, 0.5, 1.5 + 0.05/2.25*1.5})
	same("their normal", l.vs[15].normal, vec{0, 1, 0})
	low := l.pieces[l.vs[12].pieces[2]]
	same("lowest bound piece", low.a, vec{front + 0.075, 0.5, 1.5 - 0.1/2.25*2})
	same("its end", low.b, vec{front + 0.075, 0.5, 1.5 - 0.1/2.25})
	if low.a[1] == 0 || l.vs[12].wing || l.vs[12].width != 0 {
		t.Error("a plate's vortex counts as the wing's")
	}
}

// Horseshoes laid one by one induce what the lattice's shared pieces do.
func TestSharedPieces(t *testing.T) {
	l := new(lattice)
	q := vec{0.7, 0.4, 0.9}
	a, b, c := vec{0, 1, 1}, vec{0, 0.5, 1}, vec{0, 0, 1}
	back := vec{0.2, 0, 0.1}
	l.add(vortex{}, a, b, a.plus(back), b.plus(back))
	l.add(vortex{}, b, c, b.plus(back), c.plus(back))
	for i, ends := range [][2]vec{{a, b}, {b, c}} {
		var want vec
		for _, m := range mirrors(true) {
			r := m.of(q)
			u := segment(r, ends[0].plus(back), ends[0]).plus(segment(r, ends[0], ends[1])).plus(segment(r, ends[1], ends[1].plus(back))).
				plus(leg(r, ends[1].plus(back))).minus(leg(r, ends[0].plus(back)))
			want = want.plus(m.of(u))
		}
		if got := l.velocities(q, true)[i]; got.minus(want).norm() > 1e-12 {
			t.Errorf("horseshoe %d induces %v, want %v", i, got, want)
		}
	}
	if len(l.pieces) != 6 {
		t.Errorf("%d pieces, want 2 bound, 2 along the chord, 2 legs: the others lie in the middle plane", len(l.pieces))
	}
}

// By hand, over a flat deck at 1 m with panels of 0.05 m: the wing has to be a panel clear of
// it, at 10° with its leading edge 0.05 m ahead of the quarter chord (0.2 m chord), at -10°
// with its trailing edge 0.15 m behind; end plates half a panel.
func TestClearance(t *testing.T) {
	d := &Deck{around: []Point{{-5, 1}, {5, 1}}, slices: []Point{{-5, 1}, {4, 1}}, width: 1.6,
		mesh: mesh{fine: 0.05, edge: 0.01, near: 1, growth: 0.1, coarse: 0.5}}
	p := aero.Planform{Span: 1.5, Chord: 0.2}
	sin := math.Sin(math.Pi / 18)
	near(t, "lowest place", d.lowest(p, 3.5, 0), 1.05, 1e-12)
	near(t, "lowest place, leading edge down", d.lowest(p, 3.5, math.Pi/18), 1.05+0.05*sin, 1e-12)
	near(t, "lowest place, trailing edge down", d.lowest(p, 3.5, -math.Pi/18), 1.05+0.15*sin, 1e-12)
	near(t, "lowest place over the ground", d.lowest(p, 7, 0), 0.05, 1e-12)
	// Where panels are longer: 2 m ahead of the tail, 1 m ahead of where they are all fine, by 0.1 m;
	// 1 m behind it 0.01 + 0.1.
	near(t, "lowest place far ahead of the tail", d.lowest(p, 2.05, 0), 1.05+0.1, 1e-12)
	near(t, "lowest place over the wake's end", d.lowest(p, 4.84, 0), 1+0.01+0.099, 1e-12)
	d.around = append(d.around, Point{5, 1.5}, Point{6, 1.5})
	near(t, "lowest place ahead of something higher, trailing edge up", d.lowest(p, 3.5, math.Pi/18), 1.55-0.15*sin, 1e-12)
	d.around = d.around[:2]

	p.Plate = aero.Plate{Length: 0.2, Height: 0.4, Above: 0.1} // from 0.3 m below to 0.1 m above
	e := d.trimmed(p, Place{0, 1.2, 0}).Plate
	near(t, "height of plates cut off 0.175 m below", e.Height, 0.275, 1e-12)
	near(t, "their middle's place", e.Above, (0.175-0.1)/2, 1e-12)
	near(t, "height of plates that are clear", d.trimmed(p, Place{0, 1.4, 0}).Plate.Height, 0.4, 1e-12)
	near(t, "height of plates over the ground", d.trimmed(p, Place{7, 0.2, 0}).Plate.Height, 0.275, 1e-12)
	p.Span = 1.71
	near(t, "height of plates beside the body", d.trimmed(p, Place{0, 1.2, 0}).Plate.Height, 0.4, 1e-12)
	p.Span, p.Plate.Above = 1.5, 0.5 // wholly in the deck
	near(t, "height of plates in the deck", d.trimmed(p, Place{0, 1.2, 0}).Plate.Height, 0, 1e-12)

	// A step up to 1.3 m begins 0.1 m behind the quarter chord: plates end 0.15 m behind it, 0.05
	// m behind with half the chord at the tip and 0.05 m more ahead.
	d.around = []Point{{-5, 1}, {0.1, 1}, {0.1, 1.3}, {5, 1.3}}
	p.Plate = aero.Plate{Length: 0.2, Height: 0.6}
	near(t, "height of plates that reach over the step", d.trimmed(p, Place{0, 1.2, 0}).Plate.Height, 0.3-0.125, 1e-12)
	p.TipChord, p.Plate.Ahead = 0.1, 0.08
	near(t, "height of plates that end ahead of it", d.trimmed(p, Place{0, 1.2, 0}).Plate.Height, 0.3+0.175, 1e-12)
}

// By hand: 2 strips on either side of the wing, or 4 where the plate does not reach it, and a
// quarter of a strip drawn in at each free end.
func TestPlateEdges(t *testing.T) {
	for _, row := range []struct {
		low, high float64
		want      []float64
	}{
		{-0.9, 0.45, []float64{-0.8, -0.4, 0, 0.2, 0.4}},
		{0.1, 1, []float64{0.15, 0.35, 0.55, 0.75, 0.95}},
	} {
		got := plateEdges(row.low, row.high)
		if len(got) != len(row.want) {
			t.Fatalf("%d edges, want %d", len(got), len(row.want))
		}
		for i := range got {
			near(t, fmt.Sprintf("edge %d of a plate from %g to %g m", i, row.low, row.high), got[i], row.want[i], 1e-12)
		}
	}
}
