package fastener

import "math"

// utilised is the share of the yield strength that tightening uses, by the equivalent
// stress of tension and torsion. Source: VDI 2230-1:2015, 5.4.3 (ν = 0.9).
const utilised = 0.9

const newtonMetre = 1000 // one N·m in N·mm

// yieldInTightening are the least 0.2 % yield strengths Rp0.2, or Rpf of the cold-worked
// classes 4.8 to 6.8, MPa. Sources: ISO 898-1:2013 Table 3 (8.8 to M16; above that
// largeYield), ISO 3506-1:2009 Table 2; SAE J429, as in grades. Those of 4.6 to 6.8 are
// recalled and not read again. Grades that are not listed are not covered.
var yieldInTightening = map[string]float64{
	"4.6": 240, "4.8": 340, "5.6": 300, "5.8": 420, "6.8": 480, "8.8": 640, "10.9": 940, "12.9": 1100,
	"A2-50": 210, "A2-70": 450, "A2-80": 600, "A4-50": 210, "A4-70": 450, "A4-80": 600,
	"SAE 5": 92 * ksi, "SAE 8": 130 * ksi,
}

// Class 8.8 above M16 yields at 660 MPa. Source: ISO 898-1:2013 Table 3.
const (
	largeYield = 660
	largeSize  = 16 // mm
)

// tighteningYield returns a bolt's yield strength as it is tightened, MPa; ok is false
// for a grade that is not covered.
func tighteningYield(size Size, grade Grade) (float64, bool) {
	if grade.Name == "8.8" && size.D > largeSize {
		return largeYield, true
	}
	rp, ok := yieldInTightening[grade.Name]
	return rp, ok
}

// pitchDiameter returns d2 = d - 0.6495 P, mm: d - 3/4 of the height of the thread's
// triangle. Source: ISO 724:1993, ASME B1.1-2003.
func (s Size) pitchDiameter() float64 { return s.D - 0.75*math.Sqrt(3)/2*s.Pitch }

// bearingMean returns the mean diameter of the face under the head, mm: half the sum of
// its least outer diameter and the medium clearance hole. Source: VDI 2230-1, DKm.
func (s Size) bearingMean() float64 {
	h := hardwareOf(s)
	return (h.bearing + h.hole) / 2
}

// torqueArm returns a torque over its preload, mm: 0.16 P + 0.58 d2 μ + μ DKm/2, with one
// friction μ for thread and head. Source: VDI 2230-1:2015, equation R13/1.
func (s Size) torqueArm(mu float64) float64 {
	return 0.16*s.Pitch + 0.58*s.pitchDiameter()*mu + mu*s.bearingMean()/2
}

// tightened reports whether a size can be tightened with a friction.
func tightened(size Size, mu float64) bool { return hardwareOf(size).bearing > 0 && mu > 0 }

// Tightening returns the preload in N at which a bolt has 0.9 of its yield strength by
// tension and torsion, and the torque in N·m that brings it there when the friction of
// thread and head is mu (0.08 to 0.3):
//
//	F = 0.9 Rp0.2 A0 / √(1 + 3 (3/2 · d2/d0 · (P/(π d2) + 1.155 μ))²)
//
// with A0 the stress area and d0 its diameter. It differs from published tables by up to
// 1 %. VDI 2230 is for classes 8.8 to 12.9; for other grades the formula is a guide. ok is
// false for a size or grade that is not covered, and for a friction of 0 or less.
// Source: VDI 2230-1:2015, 5.4.3 and equations R8/1 to R13/1.
func Tightening(size Size, grade Grade, mu float64) (force, torque float64, ok bool) {
	rp, covered := tighteningYield(size, grade)
	if !covered || !tightened(size, mu) {
		return 0, 0, false
	}
	area, d2 := size.StressArea(), size.pitchDiameter()
	d0 := math.Sqrt(4 * area / math.Pi)
	torsion := 1.5 * d2 / d0 * (size.Pitch/(math.Pi*d2) + 1.155*mu)
	force = utilised * rp * area / math.Sqrt(1+3*torsion*torsion)
	return force, force * size.torqueArm(mu) / newtonMetre, true
}

// PreloadAt returns the preload in N that a torque in N·m makes with a friction mu; ok is
// false as with Tightening. Source: as Tightening.
func PreloadAt(size Size, torque, mu float64) (force float64, ok bool) {
	if !tightened(size, mu) {
		return 0, false
	}
	return torque * newtonMetre / size.torqueArm(mu), true
}

// NutFactor returns K of T = K d F, without a dimension, with a friction mu; 0 for a size
// that is not known. The usual 0.2 goes with a friction of about 0.15.
// Source: by definition, with torque and force of Tightening.
func NutFactor(size Size, mu float64) float64 {
	if !tightened(size, mu) {
		return 0
	}
	return size.torqueArm(mu) / size.D
}

// ByNutFactor returns the torque T = K d F in N·m for a nut factor K, a diameter d in mm
// and a preload F in N.
// Source: J. E. Shigley, "Mechanical Engineering Design", bolt torque.
func ByNutFactor(k, d, force float64) float64 { return k * d * force / newtonMetre }

// Friction is how thread and head may rub: least, usual and most, without a dimension.
type Friction struct{ Low, Usual, High float64 }

// What bolts as received may have. Steel, zinc plated or plain, dry or lightly oiled:
// VDI 2230-1:2015 Table A5, classes B and C, recalled and not read again. Stainless steel
// on stainless steel: the three values of dealers' tables after VDI 2230, from well
// greased to dry.
var (
	steelFriction     = Friction{Low: 0.10, Usual: 0.14, High: 0.20}
	stainlessFriction = Friction{Low: 0.10, Usual: 0.20, High: 0.30}
)

// FrictionOf returns the friction that bolts of a grade may have as received, and whether
// they gall: seize while they are turned, so that they want paste and slow turning.
func FrictionOf(grade Grade) (friction Friction, galls bool) {
	if KindOfGrade(grade) == Stainless {
		return stainlessFriction, true
	}
	return steelFriction, false
}

// Preloaded is a torque and the preload that it makes.
type Preloaded struct {
	Torque          float64 // N·m
	Low, Mean, High float64 // N, at the most, usual and least friction
	Friction        Friction
	Galls           bool // want paste and slow turning
	Guide           bool // VDI 2230 does not cover the grade: a guide only
}

// Preload returns the torque to tighten with when the friction is not known, and the band
// of preload that it makes. The torque is the one that brings the bolt to 0.9 of its yield
// strength at the least friction; with more friction there is less preload.
//
// High over Low is about 1.8 for steel bolts, within the tightening factor αA of 1.6 to
// 2.0 that VDI 2230-1:2015 Table A8 has for torque wrenches (recalled and not read
// again), and about 2.6 for stainless ones. The wrench's own error, 4 % by ISO 6789, and
// what settles later are not in the band. ok is false as with Tightening.
func Preload(size Size, grade Grade) (p Preloaded, ok bool) {
	p.Friction, p.Galls = FrictionOf(grade)
	p.High, p.Torque, ok = Tightening(size, grade, p.Friction.Low)
	if !ok {
		return Preloaded{}, false
	}
	p.Mean, _ = PreloadAt(size, p.Torque, p.Friction.Usual)
	p.Low, _ = PreloadAt(size, p.Torque, p.Friction.High)
	p.Guide = grade.Name != "8.8" && grade.Name != "10.9" && grade.Name != "12.9"
	return p, true
}
