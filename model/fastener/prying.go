package fastener

import "math"

// TStub is a plate that a bolt pulls on beside a line where it is held, such as the web
// of an angle, with prying at its edge: half of an equivalent T-stub, for one bolt.
// Lengths in mm.
//
// It is for steel. EN 1999-1-1:2007 annex B has further modes for aluminium, with the
// plate's ultimate strength; with the proof strength this is a guide for it.
type TStub struct {
	M         float64 // from the bolt to where the plate is held, less 0.8 of a fillet there
	E         float64 // from the bolt to the free edge on the other side
	Length    float64 // effective length leff of the plate for this bolt
	Thickness float64 // of the plate
	Yield     float64 // fy of the plate, MPa
	Part      float64 // γM0, or γM1 of aluminium; 0 is taken as 1
}

// Mode is how a T-stub fails.
type Mode int

// The modes of EN 1993-1-8:2005 6.2.4. NoMode is of a T-stub without size.
const (
	NoMode       Mode = iota
	PlateYields       // 1: all of the plate
	BoltAndPlate      // 2: the bolt with the plate at the line where it is held
	BoltAlone         // 3
)

// pryingReach is how far beyond the bolt the plate pries at most, in M.
// Source: EN 1993-1-8:2005 Table 6.2, n = emin but n ≤ 1.25 m.
const pryingReach = 1.25

// Capacity returns what one bolt with this plate bears in tension, N, and the mode that
// limits it, bolt being the tension resistance Ft,Rd of the bolt alone in N:
//
//	mode 1: 2 Mpl/m,  mode 2: (Mpl + n Ft,Rd)/(m + n),  mode 3: Ft,Rd
//
// with Mpl = leff t² fy/(4 γM0) and n = min(e, 1.25 m); half of the published values, which are
// for two bolts. Capacity is 0 with NoMode unless all of it is more than 0.
// Source: EN 1993-1-8:2005 6.2.4, Table 6.2 (method 1), with prying.
func (s TStub) Capacity(bolt float64) (force float64, mode Mode) {
	if !(s.M > 0 && s.E > 0 && s.Length > 0 && s.Thickness > 0 && s.Yield > 0 && s.Part >= 0 && bolt > 0) {
		return 0, NoMode
	}
	moment, n := s.moment(), min(s.E, pryingReach*s.M)
	force, mode = bolt, BoltAlone
	if both := (moment + n*bolt) / (s.M + n); both < force {
		force, mode = both, BoltAndPlate
	}
	if plate := 2 * moment / s.M; plate < force {
		force, mode = plate, PlateYields
	}
	return force, mode
}

// moment returns the plastic moment of the plate along the bolt's length of it, N·mm.
func (s TStub) moment() float64 {
	part := s.Part
	if part == 0 {
		part = 1
	}
	return s.Length * s.Thickness * s.Thickness / 4 * s.Yield / part
}

// PryingLimit returns the greatest length of a bolt that stretches, mm, with which its
// plate pries: Lb* = 8.8 m³ As / (leff t³), As in mm². The bolt's own length that stretches
// is parts and washers and half of head and nut. A longer bolt lets the plate lift off; then
// Capacity does not apply, and the plate bears Mpl/m for one bolt where that is less than
// Ft,Rd. Source: EN 1993-1-8:2005 Table 6.2, recalled and not read again.
func (s TStub) PryingLimit(area float64) float64 {
	return 8.8 * s.M * s.M * s.M * area / (s.Length * s.Thickness * s.Thickness * s.Thickness)
}

// EffectiveLength returns leff of a plate for one bolt by itself, mm: the least of 2π m
// and 4 m + 1.25 e, and near an end of the plate, end mm from the bolt along it, of π m + 2 end
// and 2 m + 0.625 e + end too. end is infinite away from one. Bolts nearer together than
// this share the plate: for them it is at most their spacing.
// Source: EN 1993-1-8:2005 Table 6.4, bolt rows considered individually; for mode 2 it
// allows the pattern that is not round alone, which is more.
func EffectiveLength(m, e, end float64) float64 {
	return min(2*math.Pi*m, 4*m+1.25*e, math.Pi*m+2*end, 2*m+0.625*e+end)
}
