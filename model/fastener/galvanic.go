package fastener

import (
	"math"
	"regexp"
	"strings"
)

// Kind is a kind of metal, as far as it matters for corrosion and friction.
type Kind int

// The kinds. A bolt of carbon steel is taken as zinc plated, a plate of it as painted or
// bare.
const (
	UnknownKind Kind = iota
	Aluminium
	CarbonSteel
	Stainless
)

// KindOfGrade returns what bolts of a grade are made of: property classes of ISO 898-1
// and grades of SAE J429 are carbon steel, grades A2 and A4 of ISO 3506-1 stainless.
func KindOfGrade(grade Grade) Kind {
	switch {
	case grade.Name == "":
		return UnknownKind
	case grade.Name[0] == 'A':
		return Stainless
	}
	return CarbonSteel
}

// Anodic index of each kind, V below gold; the higher one of a pair corrodes. Source:
// MIL-STD-889 and the tables after it, recalled and not read again: wrought aluminium
// alloys, plain carbon steel, stainless steel with 18 % chromium, zinc plate. Published
// tables differ by 0.05 V, and by 0.2 V for stainless steel.
const (
	aluminiumIndex = 0.90
	steelIndex     = 0.85
	stainlessIndex = 0.50
	zincIndex      = 1.25
)

// The difference of anodic index from which a pair corrodes outdoors, in wet and salt.
// Source: as above.
const outdoors = 0.15 // V

// Corrosion is what becomes of a bolt in a plate, outdoors.
type Corrosion int

// What may become of them.
const (
	CorrosionUnknown Corrosion = iota // a kind is not known
	NoCouple                          // too close to corrode one another
	ZincFirst                         // the bolt's zinc goes first, and keeps plate and bolt while it lasts
	PlateCorrodes                     // around the bolt, which is small beside it: slow, faster in salt
	BoltCorrodes                      // a small bolt in a large nobler plate: fast once its zinc is gone
)

// Couple is a plate with a bolt in it.
type Couple struct {
	Corrosion Corrosion
	Volts     float64 // difference of anodic index, of the zinc where there is some
	Source    string
}

// Galvanic returns what becomes of a plate and a bolt that touch, outdoors and wet, with
// nothing between them. The kinds are those of the plate and of the bolt.
//
// What is large beside what corrodes makes it fast: a plate is large beside a bolt.
// Source: MIL-STD-889 (anodic index) and PD 6484:1979 (areas), recalled and not read again.
func Galvanic(plate, bolt Kind) Couple {
	c := Couple{Source: "MIL-STD-889, PD 6484, recalled: a guide only"}
	metal := map[Kind]float64{Aluminium: aluminiumIndex, CarbonSteel: steelIndex, Stainless: stainlessIndex}
	p, b := metal[plate], metal[bolt]
	if p == 0 || b == 0 {
		return c
	}
	surface := b
	if bolt == CarbonSteel {
		surface = zincIndex
	}
	c.Volts = math.Abs(surface - p)
	switch {
	case b-p >= outdoors:
		c.Corrosion = BoltCorrodes
	case surface-p >= outdoors:
		c.Corrosion = ZincFirst
	case p-b >= outdoors:
		c.Corrosion = PlateCorrodes
	default:
		c.Corrosion = NoCouple
	}
	return c
}

// KindOfPlate returns what a plate is made of by its name as a car file has it: aluminium alloys by their
// four figures, structural steels by their S, stainless by 304 or 1.43 and 1.44.
func KindOfPlate(name string) Kind {
	plain := strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "", "/", "").Replace(name))
	for _, k := range plateKinds {
		if k.pattern.MatchString(plain) {
			return k.kind
		}
	}
	return UnknownKind
}

var plateKinds = []struct {
	pattern *regexp.Regexp
	kind    Kind
}{
	{regexp.MustCompile(`^(AISI|SS)?(304|316)L?$|^1\.4[0-9]{3}$`), Stainless},
	{regexp.MustCompile(`^S[0-9]{3}`), CarbonSteel},
	{regexp.MustCompile(`^(ENAW)?[1-7][0-9]{3}([THFO].*)?$`), Aluminium},
}
