package aero

import (
	"math"
	"strings"
)

// Sureness is how surely a published value is known to us.
type Sureness int

// How surely values are known.
const (
	Read      Sureness = iota // in the source or a stored reproduction of it
	Memory                    // set down from memory, the table being well known
	Uncertain                 // from memory, the last digit or the conditions doubtful
)

func (s Sureness) String() string { return [...]string{"read", "from memory", "uncertain"}[s] }

// Published is one published measurement of a section. Angles are in rad and
// slopes per rad, as everywhere; the table below is in degrees, as printed.
type Published struct {
	Name     string
	Reynolds float64
	Summary
	Sureness Sureness
	Source   string
	highLift bool         // made for high lift at low Reynolds numbers
	tripped  string       // how transition was fixed; empty when it was free
	drag     [][2]float64 // cl, cd; nil where not published with it
}

// The publications, all smooth wings unless said: I. H. Abbott, A. E. von
// Doenhoff, L. S. Stivers, NACA Report 824 (1945); C. L. Ladson, NASA TM 4074
// (1988), transition fixed by 180 grit; M. J. Hoffmann, R. Reuss Ramsay, G. M.
// Gregorek, NREL/TP-442-7815 (1996); E. N. Jacobs, K. E. Ward, R. M. Pinkerton,
// NACA Report 460 (1933), whose turbulent tunnel at 3e6 acts like 8e6; M. S.
// Selig and others, Summary of Low-Speed Airfoil Data, vol. 1 (1995) and 2
// (1996); C. A. Lyon and others, vol. 3 (1998); M. S. Selig and B. D.
// McGranahan, NREL/SR-500-34515 (2004); C. C. Critzos, H. H. Heyson, R. W. Boswinkle, NACA TN
// 3361 (1955); the NACA 0015 of the University of Glasgow as tabulated in a public code's tests.
const (
	datcom   = "NACA Report 824 (1945) as in USAF DATCOM 4.1.1"
	tn3361   = "NACA TN 3361 (1955), slope of NASA TM 100019 (1987)"
	glasgow  = "University of Glasgow, NACA 0015 static data"
	ladson   = "Ladson, NASA TM 4074 (1988), tripped"
	nrel4415 = "NREL/TP-442-7815 (1996)"
	vdt      = "NACA Report 460 (1933)"
	uiuc1    = "Summary of Low-Speed Airfoil Data 1 (1995)"
	uiuc2    = "Summary of Low-Speed Airfoil Data 2 (1996)"
	uiuc3    = "Summary of Low-Speed Airfoil Data 3 (1998)"
	uiuc4    = "NREL/SR-500-34515 (2004)"
)

// printed is an entry as it is printed: angles in degrees, slope per degree; none for what
// the publication does not have.
type printed struct {
	name            string
	re              float64
	zeroLift, slope float64
	maxLift, at     float64 // at the angle
	minDrag, moment float64
	sure            Sureness
	source          string
	highLift        bool
	tripped         string
	drag            [][2]float64
}

// entry turns an entry as printed into rad.
func (p printed) entry() Published {
	return Published{Name: p.name, Reynolds: p.re, Sureness: p.sure, Source: p.source, highLift: p.highLift, tripped: p.tripped,
		drag: p.drag, Summary: Summary{
			ZeroLift: p.zeroLift * deg, Slope: p.slope / deg, MaxLift: p.maxLift, MaxAngle: p.at * deg, LeastLift: none, LeastAngle: none,
			MinDrag: p.minDrag, Moment: p.moment,
		}}
}

var none = math.NaN()

// publishedSections is the table. Least drags that the source row does not
// have are left open. The moments of DATCOM are about the aerodynamic centre,
// within 0.005 of the quarter chord.
var publishedSections = entries([]printed{
	{name: "naca 0006", re: 9e6, zeroLift: 0, slope: 0.108, maxLift: 0.92, at: 9.0, minDrag: none, moment: 0, sure: Memory, source: datcom},
	{name: "naca 0009", re: 9e6, zeroLift: 0, slope: 0.109, maxLift: 1.32, at: 13.4, minDrag: none, moment: 0, sure: Memory, source: datcom},
	{name: "naca 0012", re: 6e6, zeroLift: 0.04, slope: 0.1084, maxLift: 1.62, at: 17.1, minDrag: 0.0080, moment: 0, sure: Read, source: ladson, tripped: "fixed at 5 % of the chord by 180 grit"},
	{name: "naca 0012", re: 9e6, zeroLift: 0, slope: 0.107, maxLift: 1.59, at: 16, minDrag: 0.0058, moment: 0, sure: Uncertain, source: datcom},
	{name: "naca 0012", re: 1.8e6, zeroLift: 0, slope: 0.1037, maxLift: 1.30, at: 12, minDrag: none, moment: 0, sure: Read, source: tn3361},
	{name: "naca 0015", re: 1.5e6, zeroLift: 0.3, slope: 0.1018, maxLift: 1.265, at: 14, minDrag: 0.0071, moment: 0, sure: Uncertain, source: glasgow,
		drag: [][2]float64{{0.1646, 0.0071}, {0.5717, 0.0119}, {0.9674, 0.0219}, {1.2653, 0.0343}}},
	{name: "naca 1408", re: 9e6, zeroLift: -0.8, slope: 0.109, maxLift: 1.35, at: 14.0, minDrag: none, moment: -0.023, sure: Memory, source: datcom},
	{name: "naca 1410", re: 9e6, zeroLift: -1.0, slope: 0.108, maxLift: 1.50, at: 14.3, minDrag: none, moment: -0.020, sure: Memory, source: datcom},
	{name: "naca 1412", re: 9e6, zeroLift: -1.1, slope: 0.108, maxLift: 1.58, at: 15.2, minDrag: none, moment: -0.025, sure: Memory, source: datcom},
	{name: "naca 2412", re: 9e6, zeroLift: -2.0, slope: 0.105, maxLift: 1.68, at: 16.8, minDrag: none, moment: -0.047, sure: Uncertain, source: datcom},
	{name: "naca 2414", re: 3.0e5, zeroLift: -1.7, slope: 0.1014, maxLift: 1.228, at: 15.7, minDrag: 0.0088, moment: none, sure: Read, source: uiuc2,
		drag: [][2]float64{{-0.166, 0.0115}, {0.118, 0.0095}, {0.260, 0.0088}, {0.477, 0.0106}, {0.633, 0.0107}, {0.761, 0.0118}, {0.884, 0.0133}, {0.993, 0.0160}, {1.076, 0.0207}}},
	{name: "naca 2415", re: 9e6, zeroLift: -2.0, slope: 0.106, maxLift: 1.63, at: 16.4, minDrag: none, moment: -0.049, sure: Memory, source: datcom},
	{name: "naca 2415", re: 3.0e5, zeroLift: -2.1, slope: 0.107, maxLift: 1.303, at: 16.7, minDrag: 0.0099, moment: none, sure: Read, source: uiuc2},
	{name: "naca 2418", re: 9e6, zeroLift: -2.3, slope: 0.103, maxLift: 1.47, at: 14.0, minDrag: none, moment: -0.050, sure: Memory, source: datcom},
	{name: "naca 2421", re: 9e6, zeroLift: -1.8, slope: 0.103, maxLift: 1.47, at: 16.0, minDrag: none, moment: -0.040, sure: Memory, source: datcom},
	{name: "naca 2424", re: 9e6, zeroLift: -1.8, slope: 0.098, maxLift: 1.29, at: 16.0, minDrag: none, moment: -0.040, sure: Memory, source: datcom},
	{name: "naca 4412", re: 9e6, zeroLift: -3.8, slope: 0.105, maxLift: 1.67, at: 14.0, minDrag: none, moment: -0.093, sure: Uncertain, source: datcom},
	{name: "naca 4415", re: 9e6, zeroLift: -4.3, slope: 0.105, maxLift: 1.64, at: 15.0, minDrag: none, moment: -0.093, sure: Memory, source: datcom},
	{name: "naca 4415", re: 1.0e6, zeroLift: -4.3, slope: 0.0987, maxLift: 1.354, at: 14.3, minDrag: none, moment: -0.094, sure: Read, source: nrel4415},
	{name: "naca 4418", re: 9e6, zeroLift: -3.8, slope: 0.105, maxLift: 1.53, at: 14.0, minDrag: none, moment: -0.088, sure: Memory, source: datcom},
	{name: "naca 4421", re: 9e6, zeroLift: -3.8, slope: 0.103, maxLift: 1.47, at: 16.0, minDrag: none, moment: -0.085, sure: Memory, source: datcom},
	{name: "naca 4424", re: 9e6, zeroLift: -3.8, slope: 0.100, maxLift: 1.38, at: 16.0, minDrag: none, moment: -0.082, sure: Memory, source: datcom},
	{name: "naca 6412", re: 8e6, zeroLift: -5.7, slope: 0.102, maxLift: 1.65, at: 15.0, minDrag: none, moment: -0.129, sure: Uncertain, source: vdt},
	{name: "naca 6409", re: 2.0e5, zeroLift: -5.8, slope: 0.0976, maxLift: 1.436, at: 10.1, minDrag: 0.0125, moment: none, sure: Read, source: uiuc1},
	{name: "naca 23012", re: 9e6, zeroLift: -1.4, slope: 0.107, maxLift: 1.79, at: 18.0, minDrag: none, moment: -0.014, sure: Uncertain, source: datcom},
	{name: "naca 23015", re: 9e6, zeroLift: -1.0, slope: 0.107, maxLift: 1.72, at: 18.0, minDrag: none, moment: -0.007, sure: Memory, source: datcom},
	{name: "naca 23018", re: 9e6, zeroLift: -1.2, slope: 0.104, maxLift: 1.60, at: 16.0, minDrag: none, moment: -0.005, sure: Memory, source: datcom},
	{name: "naca 23021", re: 9e6, zeroLift: -1.2, slope: 0.103, maxLift: 1.50, at: 15.0, minDrag: none, moment: 0, sure: Memory, source: datcom},
	{name: "naca 23024", re: 9e6, zeroLift: -0.8, slope: 0.097, maxLift: 1.40, at: 15.0, minDrag: none, moment: 0, sure: Memory, source: datcom},
	{name: "naca 64a010", re: 9e6, zeroLift: 0, slope: 0.110, maxLift: 1.23, at: 12.0, minDrag: none, moment: 0, sure: Uncertain, source: datcom},
	{name: "naca 64-209", re: 9e6, zeroLift: -1.5, slope: 0.107, maxLift: 1.40, at: 13.0, minDrag: none, moment: -0.040, sure: Uncertain, source: datcom},
	{name: "naca 65-210", re: 9e6, zeroLift: -1.6, slope: 0.108, maxLift: 1.40, at: 13.0, minDrag: none, moment: -0.034, sure: Uncertain, source: datcom},
	{name: "naca 65-410", re: 9e6, zeroLift: -2.5, slope: 0.112, maxLift: 1.52, at: 14.0, minDrag: none, moment: -0.067, sure: Uncertain, source: datcom},
	{name: "naca 64(2)-415", re: 9e6, zeroLift: -2.8, slope: 0.115, maxLift: 1.66, at: 15.0, minDrag: none, moment: -0.070, sure: Uncertain, source: datcom},
	{name: "naca 65(2)-415", re: 9e6, zeroLift: -2.6, slope: 0.107, maxLift: 1.61, at: 16.0, minDrag: none, moment: -0.060, sure: Uncertain, source: datcom},
	{name: "sd8020", re: 2.04e5, zeroLift: 0, slope: 0.1025, maxLift: 0.860, at: 10.3, minDrag: none, moment: 0, sure: Read, source: uiuc1},
	{name: "clark y", re: 4.02e5, zeroLift: -3.35, slope: 0.1013, maxLift: 1.351, at: 14.7, minDrag: 0.0074, moment: -0.077, sure: Read, source: uiuc3,
		drag: [][2]float64{{0.181, 0.0095}, {0.337, 0.0074}, {0.550, 0.0079}, {0.836, 0.0098}, {0.990, 0.0116}, {1.129, 0.0138}, {1.245, 0.0165}, {1.332, 0.0307}}},
	{name: "s1223", re: 3.02e5, zeroLift: -11.7, slope: 0.0915, maxLift: 2.212, at: 15.6, minDrag: 0.0164, moment: -0.29, sure: Read, source: uiuc1, highLift: true,
		drag: [][2]float64{{0.961, 0.0168}, {1.282, 0.0187}, {1.548, 0.0212}, {1.800, 0.0257}, {2.016, 0.0307}, {2.116, 0.0336}, {2.217, 0.0454}}},
	{name: "e423", re: 3.0e5, zeroLift: -10.3, slope: 0.0930, maxLift: 2.021, at: 13.5, minDrag: 0.0158, moment: -0.246, sure: Read, source: uiuc2, highLift: true,
		drag: [][2]float64{{1.035, 0.0168}, {1.463, 0.0177}, {1.716, 0.0204}, {1.937, 0.0237}, {2.018, 0.0270}}},
	{name: "fx 63-137", re: 5.0e5, zeroLift: -7.8, slope: 0.1038, maxLift: 1.763, at: 15.8, minDrag: 0.0087, moment: -0.199, sure: Read, source: uiuc4, highLift: true,
		drag: [][2]float64{{0.630, 0.0087}, {0.841, 0.0096}, {1.052, 0.0106}, {1.274, 0.0116}, {1.459, 0.0135}, {1.617, 0.0166}, {1.704, 0.0249}, {1.722, 0.0505}}},
})

func entries(rows []printed) (all []Published) {
	for _, r := range rows {
		all = append(all, r.entry())
	}
	return all
}

// PublishedNames lists the sections that are in the table, without repeats.
func PublishedNames() []string {
	var names []string
	for _, p := range publishedSections {
		if len(names) == 0 || names[len(names)-1] != p.Name {
			names = append(names, p.Name)
		}
	}
	return names
}

// Lookup returns the published measurement of a section whose Reynolds number
// is nearest to the one given, in octaves, a surer one counting as nearer.
func Lookup(name string, reynolds float64) (Published, bool) {
	best, at := math.Inf(1), -1
	for i, p := range publishedSections {
		if plainName(p.Name) != plainName(name) {
			continue
		}
		d := math.Abs(math.Log2(reynolds/p.Reynolds)) + 0.5*float64(p.Sureness)
		if d < best {
			best, at = d, i
		}
	}
	if at < 0 {
		return Published{}, false
	}
	return publishedSections[at], true
}

// plainName leaves out what people write differently: case, blanks, hyphens, brackets.
func plainName(name string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "", "(", "", ")", "").Replace(strings.ToLower(name))
}
