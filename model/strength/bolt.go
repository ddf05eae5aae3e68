package strength

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// thread is a size of bolt.
type thread struct {
	d, pitch float64 // mm; source: ISO 261 and ISO 262, coarse series
	flats    float64 // mm across the flats of the head; source: ISO 4014
	washer   float64 // mm outer diameter of the washer; source: ISO 7089
}

// threads are the sizes that strength is given for.
var threads = map[string]thread{
	"M5": {5, 0.8, 8, 10}, "M6": {6, 1, 10, 12}, "M8": {8, 1.25, 13, 16}, "M10": {10, 1.5, 16, 20}, "M12": {12, 1.75, 18, 24},
}

// sizes lists them from small to large.
var sizes = []string{"M5", "M6", "M8", "M10", "M12"}

// stressArea returns a thread's tensile stress area, mm²: π/4 (d - 0.9382 P)².
// Source: ISO 898-1:2013 clause 9.1.6.1.
func (t thread) stressArea() float64 {
	return math.Pi / 4 * math.Pow(t.d-0.9382*t.pitch, 2)
}

// headMean is the mean of the head's measures across flats and points, mm.
func (t thread) headMean() float64 { return t.flats * (1 + 2/math.Sqrt(3)) / 2 }

// class is a property class.
type class struct {
	ultimate float64 // MPa, fub
	yield    float64 // MPa, fyb
	shear    float64 // αv with the thread in the shear plane
	source   string
}

// classes are the property classes with their nominal strengths. Source: EN
// 1993-1-8:2005 Table 3.1 and Table 3.4 for 4.6 to 10.9 as in ISO 898-1; 12.9 is
// in ISO 898-1 and beyond the range of EN 1993-1-8, so that its use here is a
// guide. Stainless ones: ISO 3506-1:2009 Table 2, with αv of EN 1999-1-1 Table
// 8.5 for stainless bolts.
var classes = map[string]class{
	"4.6": {400, 240, 0.6, steelBolt}, "4.8": {400, 320, 0.5, steelBolt}, "5.6": {500, 300, 0.6, steelBolt}, "5.8": {500, 400, 0.5, steelBolt},
	"6.8": {600, 480, 0.5, steelBolt}, "8.8": {800, 640, 0.6, steelBolt}, "10.9": {1000, 900, 0.5, steelBolt},
	"12.9":  {1200, 1080, 0.5, "EN 1993-1-8 Table 3.4, which ends at 10.9: a guide only"},
	"A2-50": {500, 210, 0.5, stainlessBolt}, "A2-70": {700, 450, 0.5, stainlessBolt}, "A2-80": {800, 600, 0.5, stainlessBolt},
	"A4-50": {500, 210, 0.5, stainlessBolt}, "A4-70": {700, 450, 0.5, stainlessBolt}, "A4-80": {800, 600, 0.5, stainlessBolt},
}

const (
	steelBolt     = "EN 1993-1-8 Table 3.4"
	stainlessBolt = "EN 1999-1-1 Table 8.5, ISO 3506-1"
)

// plainShear is αv where no thread is in the shear plane.
// Source: EN 1993-1-8:2005 Table 3.4.
const plainShear = 0.6

// boltFactor is γM2 of bolts, and of plates at holes.
// Source: EN 1993-1-8:2005 Table 2.1, EN 1999-1-1:2007 Table 8.1.
const boltFactor = 1.25

// bolt is what a joint's bolts can bear.
type bolt struct {
	thread
	class
	sized, classed bool
	plain          bool // no thread in the shear plane
	preloads       bool // of a class that EN 1993-1-8 preloads
}

// newBolt takes a joint's bolts and notes what is missing for them.
func (f *Frame) newBolt(j int) bolt {
	joint := f.Car.Joints[j]
	b := bolt{plain: joint.PlainShank}
	b.thread, b.sized = threads[joint.Bolt]
	if !b.sized {
		b.thread = thread{d: joint.Shank, washer: 2 * joint.Shank}
		f.missing(fmt.Sprintf("joint %q: bolt %s", joint.Name, joint.Bolt), "bolts are checked from M5 to M12")
		f.open("joint "+joint.Name, "bolts are checked from M5 to M12")
	}
	b.class, b.classed = classes[joint.Grade]
	b.preloads = joint.Grade == "8.8" || joint.Grade == "10.9"
	switch {
	case joint.Grade == "":
		f.missing(fmt.Sprintf("joint %q: grade", joint.Name), "its bolts are not checked")
		f.open("joint "+joint.Name, "grade not given")
	case !b.classed:
		var known []string
		for k := range classes {
			known = append(known, k)
		}
		sort.Strings(known)
		f.missing(fmt.Sprintf("joint %q: grade %s is not known here", joint.Name, joint.Grade), "known are "+strings.Join(known, ", "))
		f.open("joint "+joint.Name, "grade not known")
	}
	f.slots(j, b)
	if !b.plain {
		f.Assumed = appendOnce(f.Assumed, "threads in the shear plane", "yes", "threads_in_shear = false says otherwise, for bolts with a plain shank there")
	}
	return b
}

// slots notes what holds bolts along the slots of a joint.
func (f *Frame) slots(j int, b bolt) {
	joint := f.Car.Joints[j].Name
	for _, p := range f.Car.Parts[j : j+2] {
		for _, s := range p.Slots {
			switch {
			case s.Joint != "" && s.Joint != joint:
			case b.preloads:
				f.Assumed = appendOnce(f.Assumed, "bolts in slots", "tightened to 0.7 fub As, on plates as rolled with a friction of 0.2", "only friction holds along a slot")
			default:
				f.missing(fmt.Sprintf("joint %q, slot %s", joint, s.ID), "only friction holds along a slot, and EN 1993-1-8 preloads class 8.8 and 10.9 alone: not checked")
				f.open("slot "+s.ID, "nothing but friction holds along it")
			}
		}
	}
}

// shearCapacity is what a bolt bears across, N: αv fub A / γM2.
func (b bolt) shearCapacity() float64 {
	if b.plain {
		return plainShear * b.ultimate * math.Pi / 4 * b.d * b.d / boltFactor
	}
	return b.shear * b.ultimate * b.stressArea() / boltFactor
}

// tensionCapacity is what a bolt bears along, N: 0.9 fub As / γM2.
func (b bolt) tensionCapacity() float64 { return 0.9 * b.ultimate * b.stressArea() / boltFactor }

// punching is what a plate of thickness t and strength fu bears below a bolt's
// head, N: 0.6 π dm t fu / γM2. Source: EN 1993-1-8:2005 Table 3.4.
func (b bolt) punching(t, fu float64) float64 {
	return 0.6 * math.Pi * b.headMean() * t * fu / boltFactor
}

// boltChecks reports what a joint's bolts and the holes that they sit in bear.
func (f *Frame) boltChecks(b *Body, report func(Check)) {
	joint := &f.Car.Joints[b.Joint]
	k := f.bolts[b.Joint]
	for i, pair := range b.Pairs {
		load := b.Bolts[i]
		at := f.Car.Parts[b.Joint].Holes[pair.Lower].ID
		check := func(what string, demand, capacity float64, unit, source string) {
			report(Check{What: what, Joint: joint.Name, At: at, Station: math.NaN(), Demand: demand, Capacity: capacity, Unit: unit, Source: source})
		}
		if k.sized && k.classed {
			shear, tension := k.shearCapacity(), k.tensionCapacity()
			check("bolt shear", load.Shear(), shear, "N", k.source)
			check("bolt tension", load.Tension, tension, "N", k.source)
			check("bolt shear with tension", load.Shear()/shear+load.Tension/(1.4*tension), 1, "", k.source)
		}
		f.holeChecks(b, i, b.Joint, pair.Lower, report)
		f.holeChecks(b, i, b.Joint+1, pair.Upper, report)
	}
}
