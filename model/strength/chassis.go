package strength

import (
	"fmt"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// chassisJoint stands for the bolts that hold the fixed part on the car, where a joint's number is asked for.
const chassisJoint = -1

// joint returns the name and the bolts of a joint, or of the chassis.
func (f *Analysis) joint(j int) (string, *bolt) {
	if j == chassisJoint {
		return model.ChassisJoint, &f.chassis
	}
	return f.Car.Joints[j].Name, &f.bolts[j]
}

// newChassis takes the bolts that hold the fixed part on the car, and notes what is not said of its support.
func (f *Analysis) newChassis() {
	fixed := &f.Car.Parts[0]
	for i, h := range fixed.Holes {
		if h.Joint == model.ChassisJoint && f.Car.Chassis.Bolt != "" && (h.Slot == "" || h.Distance == 0) {
			f.chassisHoles = append(f.chassisHoles, i)
		}
	}
	if len(f.chassisHoles) > 0 {
		k := f.Car.Chassis
		f.chassis = f.boltsOf(model.Joint{Joint: holes.Joint{Name: model.ChassisJoint, Shank: k.Shank}, Bolt: k.Bolt, Grade: k.Grade})
		f.slots(chassisJoint, f.chassis)
		f.looseChassis()
		return
	}
	if !fixed.Held.Known() && len(f.Car.Parts) > 1 {
		f.missing(fmt.Sprintf("part %q: support", fixed.Name), "what holds it on the car is not checked; give held, or its chassis bolts")
		f.open(fixed.Name, "what holds it on the car is not given")
	}
}

// looseChassis notes chassis holes that are too wide for their bolts.
func (f *Analysis) looseChassis() {
	for _, i := range f.chassisHoles {
		h := &f.Car.Parts[0].Holes[i]
		if why := f.chassis.loose(h); why != "" {
			f.open(f.Car.Parts[0].Name, why)
		}
	}
}

// onChassis is what the fixed part pushes the car with at its chassis bolts; ok is false where they are not
// given.
func (f *Analysis) onChassis(st stance, k loadCase, bodies []Body) (b Body, ok bool) {
	if len(f.chassisHoles) == 0 {
		return b, false
	}
	b = Body{Joint: chassisJoint, Lower: st.poses[0], Upper: st.poses[0], Own: f.ownLoads(st, k, 0)}
	total := bodies[len(bodies)-1].Load
	for _, w := range b.Own {
		total = total.Plus(w.Load)
	}
	for _, h := range f.chassisHoles {
		b.Pairs = append(b.Pairs, holes.Pair{Lower: h, Upper: h})
		b.Bolts = append(b.Bolts, BoltLoad{At: st.poses[0].Apply(f.Car.Parts[0].Holes[h].At())})
	}
	at := b.centre()
	b.Load = total.To(Spot{at.X, -f.plates[0].thick() / 2, at.Z})
	b.share(f.chassis.Washer / 2)
	return b, true
}

// chassisPlaces are where the chassis bolts sit in the fixed part's frame.
func (f *Analysis) chassisPlaces() []plane.Point {
	var all []plane.Point
	for _, h := range f.chassisHoles {
		all = append(all, f.Car.Parts[0].Holes[h].At())
	}
	return all
}
