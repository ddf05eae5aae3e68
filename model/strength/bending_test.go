package strength

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"

	"pgregory.net/rapid"
)

// stacked returns bars 80 by 6 mm of 6082-T6, each 320 mm long and bolted 300 mm above the
// foot of the one below, and the bodies of their joints under a force at the top.
func stacked(t *testing.T, n int, rear, side float64) (*Analysis, stance, []Body) {
	t.Helper()
	m, _ := lookup("6082-T6", 6)
	f := &Analysis{Car: &model.Car{}, LoadFactor: 1.5}
	var bodies []Body
	top := Load{At: Spot{Z: 300 * float64(n)}, Rear: rear, Side: side}
	for i := range n {
		p := barPart(80, 6, 320)
		p.index, p.known, p.material, p.frame = i, true, m, plane.Level
		p.slice()
		f.plates = append(f.plates, p)
		f.Car.Parts = append(f.Car.Parts, *p.part)
		at := plane.Point{Z: 300 * float64(i+1)}
		b := Body{
			Joint: i, Load: top.To(Spot{Z: at.Z}), Lower: plane.Pose{Z: 300 * float64(i)}, Upper: plane.Pose{Z: at.Z},
			Bolts: []BoltLoad{{At: at.Add(plane.Point{X: -20})}, {At: at.Add(plane.Point{X: 20})}},
		}
		b.share(0)
		bodies = append([]Body{b}, bodies...)
	}
	f.Car.Parts = append(f.Car.Parts, model.Part{})
	return f, stance{unlike: make([]string, n)}, bodies
}

// S. P. Timoshenko, "Strength of Materials": a cantilever of length L with a force P at its
// tip turns there by PL²/(2EI) and moves by PL³/(3EI). Here E·I is 70000·6·80³/12 = 1.792e10
// N·mm² in the plane and 70000·80·6³/12 = 1.008e8 sideways: 1000 N to the rear at 300 mm turn
// the head by −2.511 mrad, 100 N to the side move it by 8.929 mm; both over the load factor of
// 1.5. Two plates, one on the other, are a cantilever twice as long: −10.04 mrad, 71.43 mm.
func TestBendingByHand(t *testing.T) {
	for n, want := range map[int][2]float64{1: {-2.5112e-3, 8.929}, 2: {-10.045e-3, 71.43}} {
		f, st, bodies := stacked(t, n, 1000, 100)
		turn, side := f.bending(st, bodies)
		if math.Abs(turn*1.5/want[0]-1) > 0.005 || math.Abs(side*1.5/want[1]-1) > 0.005 {
			t.Errorf("%d plates: %.4g rad, %.4g mm; want %.4g rad, %.4g mm over 1.5", n, turn, side, want[0], want[1])
		}
	}
	f, st, bodies := stacked(t, 1, 1000, 100)
	st.unlike[0] = "it is no beam"
	if turn, side := f.bending(st, bodies); !math.IsNaN(turn) || !math.IsNaN(side) {
		t.Errorf("bending of what is no beam: %g, %g", turn, side)
	}
}

// By hand: stress at the foot of that cantilever is 300 N·m over 6·80²/6 mm³ = 46.875 MPa with
// 1000 N of shear, √(46.875² + 3·(1.5·1000/480)²) = 47.19 MPa; nothing above the bolts.
func TestMostHeavilyLoadedSection(t *testing.T) {
	f, _, bodies := stacked(t, 1, 1000, 0)
	found := map[string]Check{}
	f.plateChecks(0, bodies, 0, func(c Check) { found[c.What] = c })
	c := found["net-section stress"]
	if math.Abs(c.Demand-47.19) > 0.01 || c.Station > 1 {
		t.Errorf("%.3f MPa at %.1f mm, want 47.19 at the foot", c.Demand, c.Station)
	}
	// Timoshenko and Gere 6.3, as in the example above it: 4.0126·√(EI·GJ)/L².
	if l := found["lateral-torsional buckling"]; math.Abs(l.Demand-1000/5448.7) > 0.001 || math.Abs(l.Capacity-1/1.1) > 1e-9 {
		t.Errorf("lateral-torsional buckling %.4f of %.4f", l.Demand, l.Capacity)
	}
	if l := found["column buckling"]; l.Demand != 0 || l.Capacity <= 0 {
		t.Errorf("column buckling %.4f of %.4f without a load along it", l.Demand, l.Capacity)
	}
}

// By hand: 5 mm more all round make 100 by 200 mm 110 by 210 mm, whichever way round its
// corners are given; a pointed corner moves out by 14.1 mm at most, so that it does not run away.
func TestGrownByHand(t *testing.T) {
	rectangle := []plane.Point{{X: 0, Z: 0}, {X: 100, Z: 0}, {X: 100, Z: 200}, {X: 0, Z: 200}}
	for range 2 {
		lo, hi := plane.Box(grown(rectangle, 5))
		for i, d := range []float64{lo.X + 5, lo.Z + 5, hi.X - 105, hi.Z - 205} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("from %v to %v (%d)", lo, hi, i)
			}
		}
		rectangle[1], rectangle[3] = rectangle[3], rectangle[1]
	}
	sharp := []plane.Point{{X: 0, Z: 0}, {X: 1000, Z: -10}, {X: 1000, Z: 10}}
	if out := grown(sharp, 5)[0]; out.Length() > 14.2 || out.X >= 0 {
		t.Errorf("a sharp corner moves to %v", out)
	}
	double := []plane.Point{{X: 0, Z: 0}, {X: 0, Z: 0}, {X: 100, Z: 0}, {X: 0, Z: 100}}
	for _, p := range grown(double, 5) {
		if math.IsNaN(p.X) || math.IsNaN(p.Z) {
			t.Errorf("a corner given twice: %v", p)
		}
	}
}

// M10 for M8 widens the holes of both plates at that joint by 2 mm, those of other joints not.
func TestLargerBoltWidensItsHoles(t *testing.T) {
	h := func(joint string) holes.Hole { return holes.Hole{ID: "h" + joint, D: 8.4, Joint: joint} }
	part := model.Part{Part: holes.Part{Holes: []holes.Hole{h("foot"), h("head"), h("")}}}
	f := &Analysis{Car: &model.Car{Parts: []model.Part{part, part, part}, Joints: []model.Joint{
		{Joint: holes.Joint{Name: "foot", Shank: 8}, Bolt: "M8"}, {Joint: holes.Joint{Name: "head", Shank: 8}, Bolt: "M8"},
	}}}
	size, _ := fastener.Lookup("M10")
	c := f.withBolt(1, size)
	for i, want := range [][3]float64{{8.4, 8.4, 8.4}, {8.4, 10.4, 10.4}, {8.4, 10.4, 10.4}} {
		for k, d := range want {
			if got := c.Parts[i].Holes[k].D; math.Abs(got-d) > 1e-9 {
				t.Errorf("part %d, hole %s: %.2f mm, want %.2f", i, c.Parts[i].Holes[k].ID, got, d)
			}
			if f.Car.Parts[i].Holes[k].D != 8.4 {
				t.Errorf("the car itself is changed: part %d", i)
			}
		}
	}
	if c.Joints[1].Bolt != "M10" || c.Joints[1].Shank != 10 || c.Joints[0].Bolt != "M8" {
		t.Errorf("joints %+v", c.Joints)
	}
}

// By hand in a U of 100 by 100 mm, open upwards from 40 to 60 mm across and down to 30 mm.
func TestToEdgeByHand(t *testing.T) {
	u := []plane.Point{{X: 0}, {X: 100}, {X: 100, Z: 100}, {X: 60, Z: 100}, {X: 60, Z: 30}, {X: 40, Z: 30}, {X: 40, Z: 100}, {Z: 100}}
	root := math.Sqrt(0.5)
	for _, c := range []struct {
		from, way plane.Point
		want      float64
	}{
		{plane.Point{X: 20, Z: 50}, plane.Point{X: 1}, 20},
		{plane.Point{X: 25, Z: 50}, plane.Point{X: -1}, 25},
		{plane.Point{X: 20, Z: 10}, plane.Point{X: 1}, 80},
		{plane.Point{X: 50, Z: 10}, plane.Point{Z: 1}, 20},
		{plane.Point{X: 90, Z: 90}, plane.Point{Z: -1}, 90},
		{plane.Point{X: 10, Z: 80}, plane.Point{X: root, Z: -root}, 30 / root}, // 1:1 down to the side of the opening
		{plane.Point{X: 50, Z: 50}, plane.Point{X: 1}, 0},                      // in the opening: outside
		{plane.Point{X: 150, Z: 50}, plane.Point{X: 1}, 0},
	} {
		if got := toEdge([][]plane.Point{u}, c.from, c.way); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("from %v along %v: %.3f mm, want %.3f", c.from, c.way, got, c.want)
		}
	}
}

// neighbours against looking at every pair: all within four diameters, and the nearest one.
func TestNeighboursAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) holes.Hole {
			return holes.Hole{
				X: rapid.Float64Range(0, 200).Draw(t, "x"), Z: rapid.Float64Range(0, 200).Draw(t, "z"),
				D: rapid.SampledFrom([]float64{5.5, 8.4, 13}).Draw(t, "d"), Slot: rapid.SampledFrom([]string{"", "", "S"}).Draw(t, "slot"),
			}
		}), 0, 12).Draw(t, "holes")
		near := neighbours(hs)
		for i, h := range hs {
			nearest, found := math.Inf(1), math.Inf(1) // distance of the nearest, and of the nearest listed
			in := map[int]bool{}
			for _, k := range near[i] {
				in[k] = true
			}
			for k, o := range hs {
				if k == i || o.Slot != "" && o.Slot == h.Slot {
					if in[k] {
						t.Fatalf("hole %d has itself or its own slot for a neighbour: %v", i, near[i])
					}
					continue
				}
				apart := math.Hypot(o.X-h.X, o.Z-h.Z)
				nearest = min(nearest, apart)
				if in[k] {
					found = min(found, apart)
				}
				if apart <= 4*max(o.D, h.D) != in[k] && apart > nearest {
					t.Fatalf("hole %d: %d is %.1f mm away, neighbour %v", i, k, apart, in[k])
				}
			}
			if found != nearest {
				t.Fatalf("hole %d: the nearest is %g mm away, the nearest of %v %g mm", i, nearest, near[i], found)
			}
		}
	})
}
