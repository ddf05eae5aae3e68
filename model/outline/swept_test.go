package outline

import (
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

// lens is a section of a chord, thick and hanging down by parts of it: round its lower side, flat its upper one.
func lens(chord, thick float64) (all []plane.Point) {
	for i := range 60 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 60)
		z := thick / 4 * sin
		if sin < 0 {
			z = 3 * thick / 4 * sin
		}
		all = append(all, plane.Point{X: chord / 2 * (1 + cos), Z: z})
	}
	return all
}

// TestBelowByHand: of a section 200 mm long and 3/4·32 = 24 mm deep, with 100 mm to be left free and 10 kept away, what is below
// is 200 mm wide and reaches to 24 + 90 mm; nothing is, where 10 mm are free anyway.
func TestBelowByHand(t *testing.T) {
	outs := Below(lens(200, 32), []plane.Pose{{X: 50, Z: 7}}, 100, 10)
	lo, hi := plane.Box(outs[0].Polygon)
	if len(outs) != 1 || math.Abs(hi.X-lo.X-200) > 0.01 || math.Abs(lo.X-50) > 0.01 || math.Abs(lo.Z-(7-114)) > thin || hi.Z > 7.01 {
		t.Errorf("from %v to %v", lo, hi)
	}
	if outs := Below(lens(200, 32), []plane.Pose{{}}, 10, 10); outs != nil {
		t.Error(outs)
	}
}

// TestRaiseByHand: a section with its top 8 mm up, and a hole 15 mm above its chord that wants 20 mm: 13 mm more. Turned by a right angle, what was
// 15 mm behind it is above. A hole in the section, and one below, come out on top.
func TestRaiseByHand(t *testing.T) {
	section := lens(200, 32)
	for _, c := range []struct {
		at, pose plane.Pose
		want     float64
	}{
		{plane.Pose{X: 100, Z: 15}, plane.Pose{}, 13},
		{plane.Pose{X: 100, Z: 28}, plane.Pose{}, 0},
		{plane.Pose{X: 100, Z: 3}, plane.Pose{}, 25},
		{plane.Pose{X: 100, Z: -60}, plane.Pose{}, 88},
		{plane.Pose{X: -15, Z: 100}, plane.Pose{Turn: math.Pi / 2}, 13},
	} {
		mm, ok := Raise([]plane.Point{{X: c.at.X, Z: c.at.Z}}, []float64{20}, section, []plane.Pose{c.pose}, 200)
		if !ok || math.Abs(mm-c.want) > 1.01 {
			t.Errorf("hole at %v: %v %v, want %v", c.at, mm, ok, c.want)
		}
	}
	if mm, ok := Raise([]plane.Point{{X: 100, Z: 3}}, []float64{20}, section, []plane.Pose{{}}, 20); ok {
		t.Errorf("%v mm are enough", mm)
	}
}

// TestNeckLaws (with NECKS=2000 -rapid.checks=2000 as many) hangs sections on random plates at random angles and looks at the outlines point by point: none is in the plate or nearer than the
// gap, none of what is to be free below it is, a cutter goes round, and the neck is as wide as asked for.
func TestNeckLaws(t *testing.T) {
	count, drawn, made := 6, 0, 0
	if n, err := strconv.Atoi(os.Getenv("NECKS")); err == nil {
		count = n
	}
	rapid.Check(t, func(t *rapid.T) {
		if drawn == count {
			return
		}
		chord := rapid.Float64Range(150, 320).Draw(t, "chord")
		section := lens(chord, chord*rapid.Float64Range(0.06, 0.16).Draw(t, "thick"))
		above, pitch := rapid.Float64Range(50, 110).Draw(t, "above"), 0.5*chord
		front := plane.Point{X: rapid.Float64Range(-60, 120).Draw(t, "x"), Z: rapid.Float64Range(330, 480).Draw(t, "z")}
		foot := []Hole{hole(0, 0), hole(60, 0), hole(0, 60), hole(60, 60)}
		head := []Hole{{front, 16, 10}}
		var poses []plane.Pose
		angle := 0.0
		for range rapid.IntRange(1, 4).Draw(t, "angles") {
			turn := plane.Pose{Turn: angle}
			poses = append(poses, plane.Pose{Turn: angle}.Then(plane.Pose{}))
			at := front.Sub(turn.Apply(plane.Point{X: 0.22 * chord, Z: above}))
			poses[len(poses)-1].X, poses[len(poses)-1].Z = at.X, at.Z
			head = append(head, Hole{front.Add(turn.Apply(plane.Point{X: pitch})), 16, 10})
			angle += rapid.Float64Range(9, 12).Draw(t, "step") / chord * 2
		}
		away, depth := rapid.Float64Range(3, 15).Draw(t, "gap"), rapid.Float64Range(0, 90).Draw(t, "free")
		r := Rules{Band: rapid.Float64Range(30, 70).Draw(t, "band"), Radius: 5}
		outs := append(Swept(section, poses, away), Below(section, poses, depth, away)...)
		tail := poses[0].Apply(plane.Point{X: chord})
		hs := append(foot[:4:4], head...)
		drawn++
		ring, ok := Cranked(hs, append(outs, Wall(tail)), r)
		if !ok {
			return
		}
		made++
		ordinary(t, ring, hs, outs, r.Radius)
		for _, pose := range poses {
			for a, b := range plane.Edges(section) {
				for k := range 4 {
					p := a.Add(b.Sub(a).Times(float64(k) / 4))
					if mm, in := plane.EdgeDistance(ring, pose.Apply(p)); in || mm < away-0.02 {
						t.Errorf("%v of the section is %.2f mm from the plate (in it: %v), want %.2f", p, mm, in, away)
					}
					if q := p.Sub(plane.Point{Z: max(depth-away, 0)}); p.Z <= 0 && plane.Inside(ring, pose.Apply(q)) {
						t.Errorf("%v, to be free below the section, is in the plate", q)
					}
				}
			}
		}
		if !reaches(ring, foot, head, r.Band/2-1.5) {
			t.Errorf("a disc of %.0f mm does not go through the neck", r.Band)
		}
		if plane.Inside(ring, tail.Add(plane.Point{X: 5})) {
			t.Error("the plate is behind the wing")
		}
	})
	if made*3 < drawn {
		t.Errorf("%d of %d were drawn", made, drawn)
	}
}

// reaches reports whether a disc of a radius can be pushed within an outline from the foot's holes to near the head's.
func reaches(ring []plane.Point, foot, head []Hole, radius float64) bool {
	const stride = 1.0
	lo, hi := plane.Box(ring)
	w := int((hi.X-lo.X)/stride) + 1
	h := int((hi.Z-lo.Z)/stride) + 1
	seen := make([]bool, w*h)
	var open []int
	for _, o := range foot {
		open = append(open, int((o.At.Z-lo.Z)/stride)*w+int((o.At.X-lo.X)/stride))
	}
	for begun := false; len(open) > 0; {
		n := open[len(open)-1]
		open = open[:len(open)-1]
		if n < 0 || n >= w*h || seen[n] {
			continue
		}
		seen[n] = true
		p := plane.Point{X: lo.X + float64(n%w)*stride, Z: lo.Z + float64(n/w)*stride}
		fromFoot := false
		for _, o := range foot {
			fromFoot = fromFoot || p.Distance(o.At) < 2*radius+20
		}
		if mm, in := plane.EdgeDistance(ring, p); !in || mm < radius && !fromFoot { // beside a hole there need not be room
			continue
		}
		begun = begun || !fromFoot
		for _, o := range head {
			if begun && p.Distance(o.At) < 2*radius+20 {
				return true
			}
		}
		open = append(open, n-1, n+1, n-w, n+w)
	}
	return false
}
