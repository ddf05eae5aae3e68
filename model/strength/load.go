package strength

import (
	"math"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/model"
)

// Spot is a place on the car, mm: x to the rear, y across, z up.
type Spot struct{ X, Y, Z float64 }

// Load is a force and a moment that act at a place.
type Load struct {
	At             Spot
	Rear, Side, Up float64 // N
	Turn           float64 // N·mm, counter-clockwise in the side view
	Roll, Yaw      float64 // N·mm, about x and z
}

// To returns the load's equivalent at another place: the same force, and its
// moment about it, M + r × F. It is reversible: l.To(p).To(l.At) == l.
func (l Load) To(p Spot) Load {
	dx, dy, dz := l.At.X-p.X, l.At.Y-p.Y, l.At.Z-p.Z
	l.Turn += dx*l.Up - dz*l.Rear
	l.Roll += dy*l.Up - dz*l.Side
	l.Yaw += dx*l.Side - dy*l.Rear
	l.At = p
	return l
}

// Plus returns both loads together, at the place of the first.
func (l Load) Plus(m Load) Load {
	m = m.To(l.At)
	return Load{l.At, l.Rear + m.Rear, l.Side + m.Side, l.Up + m.Up, l.Turn + m.Turn, l.Roll + m.Roll, l.Yaw + m.Yaw}
}

// Applied is one of the loads on the wing or a plate, with its name.
type Applied struct {
	What string
	Load
}

// Body is a joint as a free body: what its upper part pushes on the lower one
// with, on one side of the car, and how the bolts share it.
type Body struct {
	Joint int
	Load  // at the middle of the bolts, between the plates
	Pairs []holes.Pair
	Bolts []BoltLoad // in the order of Pairs
	Lower holes.Pose // of the lower part's frame on the car
	Upper holes.Pose
}

// BoltLoad is what one bolt carries.
type BoltLoad struct {
	At       holes.Point // mm on the car
	Rear, Up float64     // N that the upper part pushes on the lower one with
	Axial    float64     // N along the bolt, for a load to one side, by its distance from the others
	Tension  float64     // N, the most for a load to either side
}

// Shear is the force across the bolt, N.
func (b BoltLoad) Shear() float64 { return math.Hypot(b.Rear, b.Up) }

// wingLoads returns the loads on the wing that one upright bears, with the load
// factor in them. The wing lies at y across the car from the fixed part.
func (f *Frame) wingLoads(r *model.Row, y float64) []Applied {
	c, share := f.Car, f.factor/f.uprights
	quarter := Spot{r.X, y, r.Height}
	all := []Applied{{"air on the wing", Load{At: quarter, Rear: r.Drag * share, Up: -r.Downforce * share, Turn: f.Table.Pitching(r) * 1000 * share}}}
	if m := c.Wing.Mass; !math.IsNaN(m) {
		p := r.Pose.Apply(holes.Point{X: c.Wing.Chord / 2})
		w := m * model.Gravity * share
		all = append(all, Applied{"the wing's mass", Load{At: Spot{p.X, y, p.Z}, Side: w * f.cornering, Up: -w * f.vertical}})
	}
	if side := f.plateForce(r); side > 0 {
		e := c.Wing.Plate
		p := r.Pose.Apply(holes.Point{X: e.Length/2 - e.Ahead, Z: e.Above})
		all = append(all, Applied{"air on the end plates", Load{At: Spot{p.X, y, p.Z}, Side: side * share}})
	}
	return all
}

// plateForce returns the sideways force on both end plates in yaw, N, each as a
// flat plate of low aspect ratio h/l with the lift slope 2πA/(2 + √(A² + 4)).
// Source: H. B. Helmbold, Jahrbuch der Deutschen Luftfahrtforschung (1942), as
// given in S. F. Hoerner, "Fluid-Dynamic Lift" (1975), ch. 17.
func (f *Frame) plateForce(r *model.Row) float64 {
	e := f.Car.Wing.Plate
	if e.Height <= 0 || f.yaw == 0 {
		return 0
	}
	a := e.Height / e.Length
	slope := 2 * math.Pi * a / (2 + math.Sqrt(a*a+4))
	q := aero.DynamicPressure(f.Table.Density, r.SpeedRatio*f.Table.Speed)
	return 2 * q * e.Height * e.Length * 1e-6 * slope * f.yaw
}

// bodies carries the wing's loads down the chain: at each joint what comes from
// above, with the weight of the plates on the way.
func (f *Frame) bodies(r *model.Row) ([]Applied, []Body) {
	c := f.Car
	n := len(c.Joints)
	poses := make([]holes.Pose, n+1)
	poses[0] = c.Ground()
	for j := range n {
		poses[j+1] = poses[j].Then(r.Fits[j].Pose)
	}
	loads := f.wingLoads(r, f.across(n))
	total := Load{At: loads[0].At}
	for _, l := range loads {
		total = total.Plus(l.Load)
	}
	bodies := make([]Body, 0, n)
	for j := n - 1; j >= 0; j-- {
		if w, ok := f.weight(j+1, poses[j+1]); ok && j+1 < n {
			loads = append(loads, w)
			total = total.Plus(w.Load)
		}
		b := Body{Joint: j, Pairs: r.Fits[j].Pairs, Lower: poses[j], Upper: poses[j+1]}
		b.Bolts = make([]BoltLoad, len(b.Pairs))
		for i, p := range b.Pairs {
			l, u := poses[j].Apply(c.Parts[j].Holes[p.Lower].At()), poses[j+1].Apply(c.Parts[j+1].Holes[p.Upper].At())
			b.Bolts[i].At = holes.Point{X: (l.X + u.X) / 2, Z: (l.Z + u.Z) / 2}
		}
		at := b.centre()
		total = total.To(Spot{at.X, f.across(j), at.Z})
		b.Load = total
		b.share(f.bolts[j].washer / 2)
		bodies = append(bodies, b)
	}
	return loads, bodies
}

// across returns where a part's middle lies across the car from the fixed part's:
// each lies outside of the one below. A thickness that is not known counts as
// none.
func (f *Frame) across(part int) float64 {
	y := 0.0
	for i := 1; i <= part; i++ {
		y += (f.plates[i-1].thick() + f.plates[i].thick()) / 2
	}
	return y
}

// weight is the load of a plate's own mass, where that is known.
func (f *Frame) weight(part int, pose holes.Pose) (Applied, bool) {
	p := f.plates[part]
	if p.area == 0 || !p.known {
		return Applied{}, false
	}
	w := p.area * p.t * 1e-9 * p.material.density * model.Gravity * f.factor
	at := pose.Apply(p.middle)
	return Applied{"the mass of the " + f.Car.Parts[part].Name, Load{At: Spot{at.X, f.across(part), at.Z}, Side: w * f.cornering, Up: -w * f.vertical}}, true
}
