package strength

import (
	"math"

	"stanchion/model/fastener"
)

const pryingSource = "EN 1993-1-8 6.2.4 Table 6.2, with prying; for aluminium a guide"

// pryingCheck reports what a plate bears where a bolt pulls on it: as an equivalent T-stub held at the
// nearest other bolt of the joint, with the free edge beyond it prying.
func (f *Analysis) pryingCheck(b *Body, i, part, hole int, tension float64, check func(what string, demand, capacity float64, unit, source string)) {
	p := &f.plates[part]
	_, k := f.joint(b.Joint)
	if !p.sound() || p.part.Outline == nil || !k.classed || !k.sized || len(b.Bolts) < 2 || tension <= 0 {
		return
	}
	held := math.Inf(1)
	for j := range b.Bolts {
		if j != i {
			held = min(held, b.Bolts[j].At.Distance(b.Bolts[i].At))
		}
	}
	at := p.part.Holes[hole].At()
	edge, inside := p.part.EdgeDistance(at)
	if !inside || held < 1e-6 {
		return
	}
	m := p.at(at, at)
	stub := fastener.TStub{M: held, E: edge, Length: fastener.EffectiveLength(held, edge, math.Inf(1)), Thickness: p.t, Yield: m.Proof, Part: m.factor}
	bolt := k.tensionCapacity()
	if b.Joint != chassisJoint {
		bolt = min(bolt, f.Car.Joints[b.Joint].NutTension.Or(bolt))
	}
	capacity, _ := stub.Capacity(bolt)
	check("prying", tension, capacity, "N", pryingSource)
}

// Slip is how near a joint is to slipping, without the load factor: friction holds it, or its bolts come
// to bear on their holes.
type Slip struct {
	Joint   string
	At      string  // the lower part's hole of the bolt that is nearest to it
	Shear   float64 // N across that bolt
	Grip    float64 // N that friction holds there with the least preload that the torque makes
	Covered bool    // the bolt's size and grade are
	Case    int
}

// Holds reports whether friction alone holds the joint.
func (s Slip) Holds() bool { return s.Covered && s.Shear <= s.Grip }

// slipFriction is of plates as rolled or machined, and clean. Source: EN 1993-1-8:2005 Table 3.7, class D.
const slipFriction = fastener.ClassD

// Slips works out how near each joint of a setting is to slipping in any load case, from the wing down.
func (f *Analysis) Slips(r Result) []Slip {
	st := f.stance(r.Row)
	var all []Slip
	index := map[string]int{}
	for k := range cases {
		_, bodies := f.bodies(st, cases[k])
		if b, ok := f.onChassis(st, cases[k], bodies); ok {
			bodies = append(bodies, b)
		}
		for i := range bodies {
			b := &bodies[i]
			name, bolt := f.joint(b.Joint)
			low := 0.0
			pre, covered := fastener.Preload(bolt.Size, bolt.Grade)
			if covered {
				low = pre.Low
			}
			for n, x := range b.Bolts {
				s := Slip{Joint: name, At: f.Car.Parts[max(b.Joint, 0)].Holes[b.Pairs[n].Lower].ID, Shear: x.Shear() / f.LoadFactor,
					Grip: fastener.Grip(low, x.Tension/f.LoadFactor, slipFriction, 1), Covered: covered, Case: k}
				at, met := index[name]
				if !met {
					index[name] = len(all)
					all = append(all, s)
				} else if s.Shear-s.Grip > all[at].Shear-all[at].Grip {
					all[at] = s
				}
			}
		}
	}
	return all
}
