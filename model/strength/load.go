package strength

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/sheet"
	"stanchion/model/units"
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
	Lower plane.Pose // of the lower part's frame on the car
	Upper plane.Pose
	Own   []Applied // on the upper part itself, above this joint and below the next
}

// BoltLoad is what one bolt carries.
type BoltLoad struct {
	At       plane.Point // mm on the car
	Rear, Up float64     // N that the upper part pushes on the lower one with
	Axial    float64     // N along the bolt, for a load to one side, by its distance from the others
	Tension  float64     // N, the most for a load to either side
}

// Shear is the force across the bolt, N.
func (b BoltLoad) Shear() float64 { return math.Hypot(b.Rear, b.Up) }

// bodies carries the wing's loads down the chain: at each joint what comes from
// above, with the weight of the plates on the way and the air on their sides.
func (f *Analysis) bodies(st stance, k loadCase) ([]Applied, []Body) {
	c, r, poses := f.Car, st.row, st.poses
	n := len(c.Joints)
	loads := f.wingLoads(r, k, f.across(n))
	total := Load{At: Spot{r.X, f.across(n), r.Height}}
	for _, l := range loads {
		total = total.Plus(l.Load)
	}
	bodies := make([]Body, 0, n)
	for j := n - 1; j >= 0; j-- {
		b := Body{Joint: j, Pairs: r.Fits[j].Pairs, Lower: poses[j], Upper: poses[j+1]}
		if j+1 < n {
			b.Own = f.ownLoads(st, k, j+1)
			for _, w := range b.Own {
				loads = append(loads, w)
				total = total.Plus(w.Load)
			}
		}
		b.Bolts = make([]BoltLoad, len(b.Pairs))
		for i, p := range b.Pairs {
			l, u := poses[j].Apply(c.Parts[j].Holes[p.Lower].At()), poses[j+1].Apply(c.Parts[j+1].Holes[p.Upper].At())
			b.Bolts[i].At = plane.Point{X: (l.X + u.X) / 2, Z: (l.Z + u.Z) / 2}
		}
		at := b.centre()
		total = total.To(Spot{at.X, f.across(j), at.Z})
		b.Load = total
		b.share(f.bolts[j].Washer / 2)
		bodies = append(bodies, b)
	}
	return loads, bodies
}

// across returns where a part's middle lies across the car from the fixed part's:
// each lies outside of the one below. A thickness that is not known counts as
// none.
func (f *Analysis) across(part int) float64 {
	y := 0.0
	for i := 1; i <= part; i++ {
		y += (f.plates[i-1].thick() + f.plates[i].thick()) / 2
	}
	return y
}

// ownLoads are a plate's mass and the air on its side, where they are known.
func (f *Analysis) ownLoads(st stance, k loadCase, part int) []Applied {
	p := &f.plates[part]
	pose := st.poses[part]
	if p.area == 0 {
		return nil
	}
	name, y := f.Car.Parts[part].Name, f.across(part)
	var all []Applied
	if p.sound() {
		w := p.area * p.t * 1e-9 * p.material.density * units.Gravity * f.LoadFactor
		at := pose.Apply(p.middle)
		side, ahead := k.side*f.cornering, 0.0
		switch {
		case k.push != noPush:
			side = 0
		case k.brakes:
			ahead = f.braking
		}
		all = append(all, Applied{"mass of the " + name,
			Load{At: Spot{at.X, y, at.Z}, Rear: -w * ahead, Side: side * w, Up: -w * k.shake(f.vertical)}})
	}
	if k.side == 0 {
		return all
	}
	if k.air == 0 {
		return all
	}
	if e := st.open[part]; e.area > 0 {
		n := f.sideAir(st.row, e.area, e.high*e.high/e.area) * f.LoadFactor
		all = append(all, Applied{"side air on the " + name, Load{At: Spot{e.middle.X, y, e.middle.Z}, Side: k.side * n}})
	}
	return all
}

// stance is what is the same in all load cases of a row.
type stance struct {
	row   *model.Row
	poses []plane.Pose // of the parts, on the car
	open  []exposure   // of each part's side to the air

	bodies []Body // of the first case

	chords [][]sheet.Parted // of each part, once asked for: what separates its ends
	unlike []string         // of each part below the wing, why it is no beam between its ends; "" when it is
}

// exposure is what of a plate's side stands out of the body.
type exposure struct {
	area   float64 // mm²
	middle plane.Point
	high   float64 // mm
}

func (f *Analysis) stance(r *model.Row) stance {
	st := stance{row: r, poses: f.Car.PartPoses(r.Setting), open: make([]exposure, len(f.Car.Parts)),
		chords: make([][]sheet.Parted, len(f.Car.Parts))}
	for i := 1; i < len(f.Car.Parts)-1; i++ {
		if f.plates[i].area > 0 {
			st.open[i] = f.exposed(f.plates[i].part.Outline, st.poses[i])
		}
	}
	_, bodies := f.bodies(st, cases[0]) // where the bolts are is the same in all cases
	st.bodies = bodies
	for part := range len(f.Car.Parts) - 1 {
		st.unlike = append(st.unlike, f.unlike(part, bodies))
	}
	return st
}

// strips is how many level strips a plate's side is cut into for finding what of it
// stands out of the body: good to a few percent.
const strips = 24

// exposed returns what of a plate's side stands out of the body. Without a body it is
// all of it.
func (f *Analysis) exposed(outline []plane.Point, pose plane.Pose) (e exposure) {
	points := pose.ApplyAll(outline)
	lo, hi := plane.Box(points)
	step := (hi.Z - lo.Z) / strips
	bottom := hi.Z
	for i := range strips {
		z := lo.Z + (float64(i)+0.5)*step
		for _, m := range plane.Cut(points, plane.Level, z) {
			spans := []plane.Span{m}
			for _, in := range plane.Cut(f.body, plane.Level, z) {
				spans = plane.Without(spans, in)
			}
			for _, s := range spans {
				a := (s.To - s.From) * step
				e.area += a
				e.middle.X += a * (s.From + s.To) / 2
				e.middle.Z += a * z
				bottom = min(bottom, z-step/2)
			}
		}
	}
	if e.area > 0 {
		e.middle, e.high = plane.Point{X: e.middle.X / e.area, Z: e.middle.Z / e.area}, hi.Z-bottom
	}
	return e
}
