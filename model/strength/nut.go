package strength

import (
	"fmt"

	"stanchion/model"
	"stanchion/model/fastener"
)

// newNuts notes what is not known of what a joint's bolts are screwed into.
func (f *Analysis) newNuts(j int) {
	joint := &f.Car.Joints[j]
	last := j == len(f.Car.Joints)-1
	made := joint.NutTension.Known() && joint.NutShear.Known()
	switch joint.Nut {
	case model.NutNotSaid, model.Insert:
		switch {
		case joint.Nut == model.NutNotSaid && !last:
			f.Assumed = appendOnce(f.Assumed, "bolts", "with washers and nuts", "nut = \"tapped\", \"rivet nut\" or \"insert\" is for what they are screwed into instead")
		case !made:
			f.missing(fmt.Sprintf("joint %q: what its inserts bear", joint.Name), "ask the wing's maker, and give nut_tension and nut_shear in N for one")
			f.open(f.Car.Parts[j+1].Name+" inserts", "the maker's allowable load is not given")
		}
	case model.RivetNut:
		if !made {
			f.missing(fmt.Sprintf("joint %q: what its rivet nuts bear", joint.Name), "give their maker's nut_tension and nut_shear in N for one")
			f.open("joint "+joint.Name, "rivet nuts: the maker's allowable load is not given")
		}
	case model.TappedHole:
		f.wingPlate(j, last)
		if _, ok := f.threadIn(j); !ok {
			f.missing(fmt.Sprintf("joint %q: what its bolts are tapped into", joint.Name), "the lower part's material and thickness, or engaged, are not known")
			f.open("joint "+joint.Name, "thread engagement not known")
		}
	case model.PlainNut:
		f.wingPlate(j, last)
	}
}

// wingPlate notes what is not known of what bolts go through on the wing.
func (f *Analysis) wingPlate(j int, last bool) {
	p := &f.plates[j+1]
	if !last || p.sound() && p.part.Outline != nil {
		return
	}
	f.missing(fmt.Sprintf("joint %q: what the bolts go through on the wing", f.Car.Joints[j].Name), "give the wing's part the thickness, material and outline of its bracket, or its inserts")
	f.open(p.part.Name, "what its bolts go through is not known")
}

// threadIn is how much thread is engaged in a tapped hole, mm: as given, or the lower part's thickness.
func (f *Analysis) threadIn(j int) (mm float64, ok bool) {
	p := &f.plates[j]
	if !p.sound() {
		return 0, false
	}
	return min(p.t, f.Car.Joints[j].Engaged.Or(p.t)), true
}

// nutChecks reports what one bolt asks of what it is screwed into.
func (f *Analysis) nutChecks(b *Body, i int, check func(what string, demand, capacity float64, unit, source string)) {
	if b.Joint == chassisJoint {
		return
	}
	joint, k := &f.Car.Joints[b.Joint], &f.bolts[b.Joint]
	load := b.Bolts[i]
	if t, ok := joint.NutTension.Get(); ok {
		check("pull on the "+nutName(joint.Nut), load.Tension, t, "N", "its maker's value, as the car file gives it")
	}
	if s, ok := joint.NutShear.Get(); ok {
		check("shear on the "+nutName(joint.Nut), load.Shear(), s, "N", "its maker's value, as the car file gives it")
	}
	if joint.Nut != model.TappedHole || !k.sized {
		return
	}
	if mm, ok := f.threadIn(b.Joint); ok {
		p := &f.plates[b.Joint]
		at := p.part.Holes[b.Pairs[i].Lower].At()
		check("thread in the tapped hole", load.Tension, fastener.Stripping(k.Size, mm, p.at(at, at).Ultimate)/boltFactor, "N",
			"shear area of the internal thread, as in VDI 2230 5.5.5")
	}
}

// ThreadTorque is how much of a joint's torque its tapped hole's thread allows: 1 where it is no tapped hole or
// bears all of it.
func (f *Analysis) ThreadTorque(name string) float64 {
	for j := range f.Car.Joints {
		if f.Car.Joints[j].Name != name || f.Car.Joints[j].Nut != model.TappedHole {
			continue
		}
		mm, ok := f.threadIn(j)
		pre, tight := fastener.Preload(f.bolts[j].Size, f.bolts[j].Grade)
		if ok && tight {
			return min(1, fastener.Stripping(f.bolts[j].Size, mm, f.plates[j].material.Ultimate)/boltFactor/pre.High)
		}
	}
	return 1
}

func nutName(n model.Nut) string {
	if n == model.RivetNut {
		return "rivet nut"
	}
	return "insert"
}
