package fastener

// Opening is the kind of hole that a preloaded bolt sits in.
type Opening int

// The openings, as in EN 1993-1-8:2005 Table 3.6.
const (
	NormalHole     Opening = iota // with normal clearance
	Oversize                      // or a short slot across the force
	LongSlotAcross                // a long slot across the force
	ShortSlotAlong                // a short slot along the force
	LongSlotAlong                 // a long slot along the force
	openings                      // no opening
)

// openingFactor is ks. Source: EN 1993-1-8:2005 Table 3.6; that of the long slot along
// the force was read, the others are recalled and not read again.
var openingFactor = [openings]float64{
	NormalHole: 1, Oversize: 0.85, LongSlotAcross: 0.7, ShortSlotAlong: 0.76, LongSlotAlong: 0.63,
}

// Slip factors μ of steel plates by how their faces are prepared, for bolts with
// controlled preload. Source: EN 1993-1-8:2005 Table 3.7 with EN 1090-2.
const (
	ClassA = 0.5 // blasted, loose rust removed, no pits
	ClassB = 0.4 // blasted and metallised or zinc painted
	ClassC = 0.3 // wire brushed or flame cleaned
	ClassD = 0.2 // as rolled
)

const (
	// slipPart is γM3 at the ultimate limit state. Source: EN 1993-1-8:2005 Table 2.1.
	slipPart = 1.25
	// controlled is the preload Fp,C over fub As. Source: EN 1993-1-8:2005 3.9.1(2).
	controlled = 0.7
	// unloaded is the share of a bolt's tension that its joint loses in grip. Source: EN
	// 1993-1-8:2005 3.9.2, categories B and C.
	unloaded = 0.8
)

// ControlledPreload returns Fp,C = 0.7 fub As, N, that a bolt of a class that EN 1993-1-8
// preloads is tightened to; ok is false for other grades. It is reached by procedures of
// its own (EN 1090-2 8.5), not by an ordinary torque: with a friction of 0.12 Tightening has
// 10 % less for class 8.8, 7 % more for 10.9. Source: EN 1993-1-8:2005 3.9.1(2).
func ControlledPreload(size Size, grade Grade) (force float64, ok bool) {
	if !grade.Preloads {
		return 0, false
	}
	return controlled * grade.Ultimate * size.StressArea(), true
}

// SlipResistance returns what friction holds of one bolt with controlled preload, N:
//
//	Fs,Rd = ks n μ (Fp,C - 0.8 Ft) / γM3
//
// with n friction planes, a slip factor mu and a tension Ft on the bolt in N; never less
// than 0. ok is false for a grade that EN 1993-1-8 does not preload or an opening that it
// does not know. Source: EN 1993-1-8:2005 3.9.1 and 3.9.2.
func SlipResistance(size Size, grade Grade, hole Opening, mu float64, planes int, tension float64) (force float64, ok bool) {
	preload, ok := ControlledPreload(size, grade)
	if !ok || hole < 0 || hole >= openings {
		return 0, false
	}
	return openingFactor[hole] * Grip(preload, tension, mu, planes) / slipPart, true
}

// Grip returns what friction holds of one bolt with any preload, N: n μ (F - 0.8 Ft) for
// a preload F and a tension Ft on the bolt in N and n friction planes; never less than 0.
// There is no safety in it: take the least preload, Preloaded.Low, and a low μ.
// Source: Coulomb friction; 0.8 of EN 1993-1-8:2005 3.9.2.
//
// For all F, Ft of 0 or more, μ and n:
//
//	Grip(F, 0, μ, n) == n * Grip(F, 0, μ, 1)
//	Grip(F, Ft, μ, n) <= Grip(F, 0, μ, n)
func Grip(preload, tension, mu float64, planes int) float64 {
	return float64(planes) * mu * max(0, preload-unloaded*tension)
}
