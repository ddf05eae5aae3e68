package fastener

import (
	"regexp"
	"sort"
	"strings"
)

// Grade is a property class, or grade, of bolts.
type Grade struct {
	Name     string
	Ultimate float64 // MPa, fub
	Yield    float64 // MPa, fyb
	Shear    float64 // αv with the thread in the shear plane
	Preloads bool    // EN 1993-1-8 3.6.1 preloads it
	Stronger string  // the next stronger one of its kind; "" for none
	Source   string
}

const (
	steelBolt     = "EN 1993-1-8 Table 3.4"
	stainlessBolt = "EN 1999-1-1 Table 8.5, ISO 3506-1"
	saeBolt       = "strengths of SAE J429, by the rules of EN 1993-1-8 Table 3.4, which does not know the grade: a guide only"
)

// grades are the property classes with their nominal strengths. Sources: EN
// 1993-1-8:2005 Table 3.1 and Table 3.4 for 4.6 to 10.9 as in ISO 898-1; 12.9 is in ISO
// 898-1 and beyond the range of EN 1993-1-8, so that its use here is a guide. Stainless
// ones: ISO 3506-1:2009 Table 2, with αv of EN 1999-1-1 Table 8.5 for stainless bolts.
// SAE grades: SAE J429, up to 1 in: 120 and 150 ksi tensile, 92 and 130 ksi yield,
// recalled and not read again; αv as for the class next to it, 8.8 and 10.9.
var grades = []Grade{
	{"4.6", 400, 240, 0.6, false, "", steelBolt}, {"4.8", 400, 320, 0.5, false, "", steelBolt},
	{"5.6", 500, 300, 0.6, false, "", steelBolt}, {"5.8", 500, 400, 0.5, false, "", steelBolt},
	{"6.8", 600, 480, 0.5, false, "", steelBolt}, {"8.8", 800, 640, 0.6, true, "10.9", steelBolt}, {"10.9", 1000, 900, 0.5, true, "", steelBolt},
	{"12.9", 1200, 1080, 0.5, false, "", "EN 1993-1-8 Table 3.4, which ends at 10.9: a guide only"},
	{"A2-50", 500, 210, 0.5, false, "", stainlessBolt}, {"A2-70", 700, 450, 0.5, false, "A2-80", stainlessBolt}, {"A2-80", 800, 600, 0.5, false, "", stainlessBolt},
	{"A4-50", 500, 210, 0.5, false, "", stainlessBolt}, {"A4-70", 700, 450, 0.5, false, "A4-80", stainlessBolt}, {"A4-80", 800, 600, 0.5, false, "", stainlessBolt},
	{"SAE 5", 120 * ksi, 92 * ksi, 0.6, false, "SAE 8", saeBolt}, {"SAE 8", 150 * ksi, 130 * ksi, 0.5, false, "", saeBolt},
}

// ksi is a thousand pounds-force to the square inch, MPa.
const ksi = 6.894757293

// gradeForm is how a grade can be spelt, also one whose strength is not known here.
var gradeForm = regexp.MustCompile(`^([0-9]{1,2}\.[0-9]{1,2}|A[2-5]-[0-9]{2,3}|SAE [1-8](\.[12])?)$`)

// spelt turns the spellings of an SAE grade into one.
var spelt = regexp.MustCompile(`(?i)^(?:sae\s*)?(?:j429\s*)?(?:grade|gr\.?)?\s*([1-8](?:\.[12])?)$`)

// GradeName returns a grade's name in its own spelling; ok is false for what is none.
func GradeName(text string) (name string, ok bool) {
	name = strings.TrimSpace(text)
	if gradeForm.MatchString(name) {
		return name, true
	}
	if m := spelt.FindStringSubmatch(name); m != nil && !gradeForm.MatchString(name) {
		return "SAE " + m[1], true
	}
	return "", false
}

// LookupGrade returns the strengths of a grade; ok is false when they are not known.
func LookupGrade(name string) (Grade, bool) {
	for _, g := range grades {
		if g.Name == name {
			return g, true
		}
	}
	return Grade{}, false
}

// GradeNames lists the grades that strength is known of.
func GradeNames() string {
	var all []string
	for _, g := range grades {
		all = append(all, g.Name)
	}
	sort.Strings(all)
	return strings.Join(all, ", ")
}
