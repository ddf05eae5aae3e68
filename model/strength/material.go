package strength

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"stanchion/model"
)

// Material is what a plate of some thickness can bear.
type Material struct {
	Name       string  // with its temper
	Upto       float64 // mm, the greatest thickness that the values hold for
	Proof      float64 // MPa, 0.2 % proof or yield strength: fo, fy
	Ultimate   float64 // MPa, fu
	weldProof  float64 // MPa beside a weld; 0 when it must not be welded
	weldUlt    float64 // MPa
	elastic    float64 // MPa, E
	shear      float64 // MPa, G
	density    float64 // kg/m³
	factor     float64 // γM0, γM1 on proof strength
	Standard   string  // of the product
	Source     string  // of the values
	FromMemory bool    // they are from memory
}

// materials are the plates that people use, thin ones first. The strengths are
// recalled from the tables named and not read again: check them against the
// plate's certificate. Beside welds EN 1999-1-1 gives the strength of the zone
// that the heat has softened; steels keep theirs with a matching filler.
var materials = []Material{
	{"6082-T6", 6, 260, 310, 125, 185, 70000, 27000, 2700, 1.1, "EN 485-2", "EN 1999-1-1:2007 Table 3.2a", true},
	{"6082-T6", 12.5, 255, 300, 125, 185, 70000, 27000, 2700, 1.1, "EN 485-2", "EN 1999-1-1:2007 Table 3.2a", true},
	{"6061-T6", 12.5, 240, 290, 115, 175, 70000, 27000, 2700, 1.1, "EN 485-2", "EN 1999-1-1:2007 Table 3.2a", true},
	{"5083-H111", 50, 125, 275, 125, 275, 70000, 27000, 2660, 1.1, "EN 485-2", "EN 1999-1-1:2007 Table 3.2a", true},
	{"5754-H22", 40, 130, 220, 80, 190, 70000, 27000, 2670, 1.1, "EN 485-2", "EN 485-2:2013 Table for 5754; beside welds the soft temper's", true},
	{"7075-T6", 12.5, 460, 525, 0, 0, 71000, 27000, 2800, 1.1, "EN 485-2", "EN 485-2:2013 Table for 7075; EN 1999-1-1 does not list it", true},
	{"S235", 40, 235, 360, 235, 360, 210000, 81000, 7850, 1.0, "EN 10025-2", "EN 1993-1-1:2005 Table 3.1", true},
	{"S355", 40, 355, 490, 355, 490, 210000, 81000, 7850, 1.0, "EN 10025-2", "EN 1993-1-1:2005 Table 3.1", true},
	{"304", 13.5, 210, 520, 210, 520, 200000, 77000, 7900, 1.1, "EN 10088-4 (1.4301)", "EN 1993-1-4:2006 Table 2.1", true},
}

// Materials lists the names of the plates that strength is known of.
func Materials() []string {
	var all []string
	for _, m := range materials {
		if len(all) == 0 || all[len(all)-1] != m.Name {
			all = append(all, m.Name)
		}
	}
	return all
}

// spelt are other spellings of a material, as patterns.
var spelt = []struct {
	name    string
	pattern *regexp.Regexp
}{
	{"6082-T6", regexp.MustCompile(`^(EN ?AW ?)?6082 ?T6(51)?$`)},
	{"6061-T6", regexp.MustCompile(`^(EN ?AW ?)?6061 ?T6(51)?$`)},
	{"5083-H111", regexp.MustCompile(`^(EN ?AW ?)?5083 ?(H111|O)$`)},
	{"5754-H22", regexp.MustCompile(`^(EN ?AW ?)?5754 ?H22$`)},
	{"7075-T6", regexp.MustCompile(`^(EN ?AW ?)?7075 ?T6(51)?$`)},
	{"S235", regexp.MustCompile(`^S235(J[R02]|J2G3|JRG2)?( ?\+[ANM]R?)?$`)},
	{"S355", regexp.MustCompile(`^S355(J[R02]|J2G3|K2)?( ?\+[ANM]R?)?$`)},
	{"304", regexp.MustCompile(`^(AISI ?|SS ?)?304$|^1\.4301$`)},
}

var (
	separators = regexp.MustCompile(`[ \-_/]+`)
	wooden     = regexp.MustCompile(`(?i)\b(ply ?wood|wood|wooden|mdf|hdf|osb|chipboard|hardboard|birch|beech|pine|oak|card(board)?|acrylic|perspex|plexiglass?|pla|3d print(ed)?)\b`)
)

// lookup finds a material by the name that a person gives it, for a thickness in
// mm. When it is not known, why says so.
func lookup(name string, t float64) (m Material, why string) {
	plain := separators.ReplaceAllString(strings.ToUpper(strings.TrimSpace(name)), " ")
	for _, s := range spelt {
		if !s.pattern.MatchString(plain) {
			continue
		}
		thickest := 0.0
		for _, m := range materials {
			if m.Name == s.name {
				if t <= m.Upto || math.IsNaN(t) {
					return m, ""
				}
				thickest = m.Upto
			}
		}
		return Material{}, fmt.Sprintf("%s is known up to %g mm here, the part is %g mm thick", s.name, thickest, t)
	}
	return Material{}, fmt.Sprintf("unknown material %q, use one of %s", name, strings.Join(Materials(), ", "))
}

// template says why no strength is given for what templates are made of; "" for
// what parts are made of.
func template(name string) string {
	if wooden.MatchString(name) {
		return name + " is a template, not a part: no strength is given for it"
	}
	return ""
}

// inBearing is the ultimate strength that bearing goes by, MPa: stainless steels
// stretch so far that it is less. Source: EN 1993-1-4:2006 6.1: fu,red = 0.5 fy +
// 0.6 fu, at most fu.
func (m Material) inBearing() float64 {
	if m.Name == "304" {
		return min(m.Ultimate, 0.5*m.Proof+0.6*m.Ultimate)
	}
	return m.Ultimate
}

// beside returns the material as it is beside a weld.
func (m Material) beside() (Material, bool) {
	if m.weldProof == 0 {
		return m, false
	}
	m.Proof, m.Ultimate = m.weldProof, m.weldUlt
	return m, true
}

// UsedMaterial is what a part of known strength is made of.
type UsedMaterial struct {
	Material
	Part   string
	Welded bool
}

// Materials lists what the parts of known strength are made of.
func (f *Analysis) Materials() []UsedMaterial {
	var all []UsedMaterial
	for i := range f.plates {
		if p := &f.plates[i]; p.sound() {
			all = append(all, UsedMaterial{p.material, p.part.Name, p.part.Welded})
		}
	}
	return all
}

func appendOnce(all []model.Assumption, what, value, note string) []model.Assumption {
	for _, a := range all {
		if a.What == what {
			return all
		}
	}
	return append(all, model.Assumption{What: what, Value: value, Note: note})
}
