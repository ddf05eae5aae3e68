package fastener

import "math"

// MakersValue is why there is no strength of a rivet nut here.
const MakersValue = "a rivet nut's strength is its maker's value"

const (
	// threadShear is the shear strength of a metal over its tensile strength. Source: EN
	// 1993-1-8:2005 Table 3.4 has 0.6 for bolts; VDI 2230-1 Table 7, recalled and not read
	// again, 0.6 to 0.7 for steel and aluminium.
	threadShear = 0.6
	// flankBending is what is left of a thread's shear area when its flanks bend. Source:
	// E. M. Alexander, "Analysis and design of threaded assemblies", SAE 770420, 1977, C2
	// and C3 of threads of one strength; recalled and not read again.
	flankBending = 0.897
	// openThreads is how many threads at the ends of the engagement bear nothing. Source:
	// VDI 2230-1, 5.5.5; recalled and not read again.
	openThreads = 0.8
)

// threadLimits are the sizes of threads that strip soonest, mm. The letters are those of
// FED-STD-H28/2B: s for the screw, n for the nut.
type threadLimits struct {
	ds, es float64 // least major and pitch diameter of the screw
	en, kn float64 // greatest pitch and minor diameter of the nut
}

// metricLimits are those of tolerances 6g and 6H. Source: ISO 965-2:1998; recalled and not
// read again, but the shear areas that follow agree with published ones within 0.1 %.
var metricLimits = map[string]threadLimits{
	"M3":  {ds: 2.874, es: 2.580, en: 2.775, kn: 2.599},
	"M4":  {ds: 3.838, es: 3.433, en: 3.663, kn: 3.422},
	"M5":  {ds: 4.826, es: 4.361, en: 4.605, kn: 4.334},
	"M6":  {ds: 5.794, es: 5.212, en: 5.500, kn: 5.153},
	"M8":  {ds: 7.760, es: 7.042, en: 7.348, kn: 6.912},
	"M10": {ds: 9.732, es: 8.862, en: 9.206, kn: 8.676},
	"M12": {ds: 11.701, es: 10.679, en: 11.063, kn: 10.441},
	"M14": {ds: 13.682, es: 12.503, en: 12.913, kn: 12.210},
	"M16": {ds: 15.682, es: 14.503, en: 14.913, kn: 14.210},
	"M20": {ds: 19.623, es: 18.164, en: 18.600, kn: 17.744},
}

// limits returns the limits of a size's thread; ok is false for a size that is not known.
// Those of unified threads, 2A and 2B, follow from formulas that agree with their tables
// within 0.0003 in, minor diameters within 0.0006 in. Source: ASME B1.1-2003 clause 5; recalled and not read again.
func (s Size) limits() (l threadLimits, ok bool) {
	if !s.inch {
		l, ok = metricLimits[s.Name]
		return l, ok
	}
	p, d := s.Pitch/inch, s.D/inch
	pitch := 0.0015*math.Cbrt(d) + 0.0015*math.Sqrt(d) + 0.015*math.Pow(p, 2.0/3)
	allowance, major := 0.3*pitch, 0.060*math.Pow(p, 2.0/3)
	hole := 0.25*p - 0.40*p*p
	if d < 0.25 {
		hole = 0.05*math.Pow(p, 2.0/3) + 0.03*p/d - 0.002
	}
	minor := s.D - 1.25*math.Sqrt(3)/2*s.Pitch // d - 5/4 H
	return threadLimits{ds: s.D - (allowance+major)*inch, es: s.pitchDiameter() - (allowance+pitch)*inch,
		en: s.pitchDiameter() + 1.3*pitch*inch, kn: minor + hole*inch}, true
}

// nutArea returns the shear area of the nut's thread for a mm of engagement, mm²/mm:
// π Ds/P (P/2 + (Ds - En)/√3). Source: FED-STD-H28/2B (1991), ASn.
func (l threadLimits) nutArea(pitch float64) float64 {
	return math.Pi * l.ds / pitch * (pitch/2 + (l.ds-l.en)/math.Sqrt(3))
}

// screwArea returns the shear area of the screw's thread for a mm of engagement, mm²/mm:
// π Kn/P (P/2 + (Es - Kn)/√3). Source: FED-STD-H28/2B (1991), ASs.
func (l threadLimits) screwArea(pitch float64) float64 {
	return math.Pi * l.kn / pitch * (pitch/2 + (l.es-l.kn)/math.Sqrt(3))
}

// Stripping returns the tension in N at which a tapped hole of a plate of ultimate
// strength fu, MPa, strips, the bolt being in it by engaged mm. It is a failing load, with
// no partial factor; it does not look at the bolt's own thread or body. 0 for a size that is
// not known here or less than 0.8 threads. Expect 20 % of scatter with wear and fit; a plate less
// than about 2 d wide around the hole gives way sooner.
// Source: FED-STD-H28/2B shear area, with the factors above.
func Stripping(size Size, engaged, fu float64) float64 {
	limits, ok := size.limits()
	if !ok {
		return 0
	}
	return threadShear * flankBending * fu * limits.nutArea(size.Pitch) * max(0, engaged-openThreads*size.Pitch)
}

// EngagementFor returns how far a bolt must be in a tapped hole of a plate of ultimate
// strength fu, MPa, so that the bolt breaks (fub As) before either thread strips, mm. A bolt
// that is stronger than its grade says needs as much more. ok is false where size, grade
// or fu is not known.
//
// For class 8.8 it is 1.25 d in steel S235, 0.94 d in S355 and 2.4 d in soft aluminium. A
// dealer's table of makers' trials with coarse threads, M6 to M16, has 1.0 d, 0.9 d and 2.0 d
// there, and 1.5 d, 1.3 d and 3.0 d in brackets beside them; ours lies between, save in
// steel above 800 MPa, where the table has up to 0.1 d more for 10.9.
// Source: as Stripping.
func EngagementFor(size Size, grade Grade, fu float64) (engaged float64, ok bool) {
	limits, known := size.limits()
	if !known || grade.Ultimate <= 0 || fu <= 0 {
		return 0, false
	}
	breaks := grade.Ultimate * size.StressArea()
	weaker := min(fu*limits.nutArea(size.Pitch), grade.Ultimate*limits.screwArea(size.Pitch))
	return breaks/(threadShear*flankBending*weaker) + openThreads*size.Pitch, true
}
