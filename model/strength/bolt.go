package strength

import (
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/fastener"
)

// plainShear is αv where no thread is in the shear plane.
// Source: EN 1993-1-8:2005 Table 3.4.
const plainShear = 0.6

// boltFactor is γM2 of bolts, and of plates at holes.
// Source: EN 1993-1-8:2005 Table 2.1, EN 1999-1-1:2007 Table 8.1.
const boltFactor = 1.25

// bolt is what a joint's bolts can bear.
type bolt struct {
	fastener.Size
	fastener.Grade
	sized, classed bool
	plain          bool // no thread in the shear plane
}

// newBolt takes a joint's bolts and notes what is missing for them.
func (f *Analysis) newBolt(j int) bolt {
	b := f.boltsOf(f.Car.Joints[j])
	if b.plain && f.threadedThere(j, b) {
		b.plain = false
	}
	f.slots(j, b)
	return b
}

// threadedThere reports whether the bolt that a joint's plates ask for has its thread where they meet, though
// the file says that it has none there.
func (f *Analysis) threadedThere(j int, b bolt) bool {
	joint, lower, upper := &f.Car.Joints[j], &f.plates[j], &f.plates[j+1]
	if !b.sized || math.IsNaN(lower.t) || math.IsNaN(upper.t) || joint.Nut != model.PlainNut && joint.Nut != model.NutNotSaid {
		return false
	}
	length, ok := fastener.Stack{Parts: []float64{lower.t, upper.t}, Washers: 2}.Length(b.Size)
	if !ok || !fastener.ThreadInShear(b.Size, length, upper.t+b.WasherThickness()) {
		return false
	}
	f.missing(fmt.Sprintf("joint %q: threads_in_shear = false", joint.Name),
		fmt.Sprintf("a standard %s that is %.0f mm long has its thread where the plates meet, which is counted; longer bolts with spacers under the nut would not", b.Size.Name, length))
	return true
}

// boltsOf takes bolts and notes what is missing for them.
func (f *Analysis) boltsOf(joint model.Joint) bolt {
	b := bolt{plain: joint.PlainShank}
	b.Size, b.sized = fastener.Lookup(joint.Bolt)
	if !b.sized {
		b.Size = fastener.Size{D: joint.Shank, Washer: 2 * joint.Shank}
		f.missing(fmt.Sprintf("joint %q: bolt %s", joint.Name, joint.Bolt), "its size is not known here")
		f.open("joint "+joint.Name, "bolt size not known")
	}
	b.Grade, b.classed = fastener.LookupGrade(joint.Grade)
	switch {
	case joint.Grade == "":
		f.missing(fmt.Sprintf("joint %q: grade", joint.Name), "its bolts are not checked")
		f.open("joint "+joint.Name, "grade not given")
	case !b.classed:
		f.missing(fmt.Sprintf("joint %q: grade %s is not known here", joint.Name, joint.Grade), "known are "+fastener.GradeNames())
		f.open("joint "+joint.Name, "grade not known")
	}
	if !b.plain {
		f.Assumed = appendOnce(f.Assumed, "threads in the shear plane", "yes", "threads_in_shear = false is for bolts with a plain shank there")
	}
	return b
}

// slots notes what holds bolts along the slots of a joint.
func (f *Analysis) slots(j int, b bolt) {
	name := model.ChassisJoint
	if j != chassisJoint {
		name = f.Car.Joints[j].Name
	}
	low, at := max(j, 0), j+1
	for _, p := range f.Car.Parts[low : at+1] {
		for _, s := range p.Slots {
			if s.Joint != "" && s.Joint != name || j == chassisJoint && s.Joint != model.ChassisJoint {
				continue
			}
			switch _, tight := fastener.Preload(b.Size, b.Grade); {
			case f.gripUnknown(j):
				f.missing(fmt.Sprintf("joint %q, slot %s", name, s.ID), "only friction holds along a slot, and how hard its inserts or rivet nuts may be tightened is not known")
				f.open("slot "+s.ID, "nothing but friction holds along it")
			case b.Preloads && tight:
				f.Assumed = appendOnce(f.Assumed, "bolts in slots", "tightened with a torque wrench, the least preload of its friction's range; plates as rolled with a friction of 0.2",
					"only friction holds along a slot")
			default:
				f.missing(fmt.Sprintf("joint %q, slot %s", name, s.ID),
					"only friction resists slip along a slot, and EN 1993-1-8 allows preload for classes 8.8 and 10.9 only: not checked")
				f.open("slot "+s.ID, "nothing but friction holds along it")
			}
		}
	}
}

// gripUnknown reports whether how hard a joint's bolts clamp hangs on what they are screwed into.
func (f *Analysis) gripUnknown(j int) bool {
	if j == chassisJoint {
		return false
	}
	switch f.Car.Joints[j].Nut {
	case model.Insert, model.RivetNut:
		return true
	case model.NutNotSaid:
		return j == len(f.Car.Joints)-1
	}
	return false
}

// clamps is the least preload of a joint's bolts, N, tightened with a torque wrench; in a tapped hole no more
// than its thread bears.
func (f *Analysis) clamps(j int) float64 {
	_, b := f.joint(j)
	pre, ok := fastener.Preload(b.Size, b.Grade)
	if !ok {
		return 0
	}
	if j != chassisJoint && f.Car.Joints[j].Nut == model.TappedHole {
		if mm, ok := f.threadIn(j); ok {
			return min(pre.Low, fastener.Stripping(b.Size, mm, f.plates[j].material.Ultimate)/boltFactor*pre.Low/pre.High)
		}
	}
	return pre.Low
}

// shearCapacity is what a bolt bears across, N: αv fub A / γM2.
func (b bolt) shearCapacity() float64 {
	if b.plain {
		return plainShear * b.Ultimate * math.Pi / 4 * b.D * b.D / boltFactor
	}
	return b.Shear * b.Ultimate * b.StressArea() / boltFactor
}

// tensionCapacity is what a bolt bears along, N: 0.9 fub As / γM2.
func (b bolt) tensionCapacity() float64 { return 0.9 * b.Ultimate * b.StressArea() / boltFactor }

// punching is what a plate of thickness t and strength fu bears below a bolt's
// head, N: 0.6 π dm t fu / γM2. Source: EN 1993-1-8:2005 Table 3.4.
func (b bolt) punching(t, fu float64) float64 {
	return 0.6 * math.Pi * b.HeadMean() * t * fu / boltFactor
}

// boltChecks reports what a joint's bolts and the holes that they sit in bear.
func (f *Analysis) boltChecks(b *Body, report func(Check)) {
	name, k := f.joint(b.Joint)
	for i, pair := range b.Pairs {
		load := b.Bolts[i]
		at := f.Car.Parts[max(b.Joint, 0)].Holes[pair.Lower].ID
		check := func(what string, demand, capacity float64, unit, source string) {
			report(Check{What: what, Joint: name, At: at, Station: math.NaN(), Demand: demand, Capacity: capacity, Unit: unit, Source: source})
		}
		if k.sized && k.classed {
			shear, tension := k.shearCapacity(), k.tensionCapacity()
			check(boltShear, load.Shear(), shear, "N", k.Source)
			check("bolt tension", load.Tension, tension, "N", k.Source)
			check("bolt shear with tension", load.Shear()/shear+load.Tension/(1.4*tension), 1, "", k.Source)
		}
		f.nutChecks(b, i, check)
		if b.Joint != chassisJoint {
			f.holeChecks(b, i, b.Joint, pair.Lower, report)
		}
		f.holeChecks(b, i, b.Joint+1, pair.Upper, report)
	}
}
