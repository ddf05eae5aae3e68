package aero

import (
	"fmt"
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
	drag     [][2]float64 // cl, cd; nil where not published with it
}

// The publications, all smooth wings unless said: I. H. Abbott, A. E. von
// Doenhoff, L. S. Stivers, NACA Report 824 (1945); C. L. Ladson, NASA TM 4074
// (1988), transition fixed by 180 grit; M. J. Hoffmann, R. Reuss Ramsay, G. M.
// Gregorek, NREL/TP-442-7815 (1996); E. N. Jacobs, K. E. Ward, R. M. Pinkerton,
// NACA Report 460 (1933), whose turbulent tunnel at 3e6 acts like 8e6; M. S.
// Selig and others, Summary of Low-Speed Airfoil Data, vol. 1 (1995) and 2
// (1996); C. A. Lyon and others, vol. 3 (1998); M. S. Selig and B. D.
// McGranahan, NREL/SR-500-34515 (2004).
const (
	datcom   = "NACA Report 824 (1945) as in USAF DATCOM 4.1.1"
	ladson   = "Ladson, NASA TM 4074 (1988), tripped"
	nrel4415 = "NREL/TP-442-7815 (1996)"
	vdt      = "NACA Report 460 (1933)"
	uiuc1    = "Summary of Low-Speed Airfoil Data 1 (1995)"
	uiuc2    = "Summary of Low-Speed Airfoil Data 2 (1996)"
	uiuc3    = "Summary of Low-Speed Airfoil Data 3 (1998)"
	uiuc4    = "NREL/SR-500-34515 (2004)"
)

// row makes an entry from figures as printed: zero lift in degrees, slope per
// degree, largest lift and its angle in degrees, least drag, moment.
func row(name string, re, zero, slope, most, at, drag, cm float64, sure Sureness, source string) Published {
	return Published{Name: name, Reynolds: re, Sureness: sure, Source: source, Summary: Summary{
		ZeroLift: zero * deg, Slope: slope / deg, MaxLift: most, MaxAngle: at * deg, MinDrag: drag, Moment: cm,
	}}
}

var none = math.NaN()

// publishedSections is the table. Least drags that the source row does not
// have are left open. The moments of DATCOM are about the aerodynamic centre,
// within 0.005 of the quarter chord.
var publishedSections = []Published{
	row("naca 0009", 9e6, 0, 0.109, 1.32, 13.4, none, 0, Memory, datcom),
	row("naca 0012", 6e6, 0.04, 0.1084, 1.62, 17.1, 0.0080, 0, Read, ladson),
	row("naca 1412", 9e6, -1.1, 0.108, 1.58, 15.2, none, -0.025, Memory, datcom),
	row("naca 2412", 9e6, -2.0, 0.105, 1.68, 16.8, none, -0.047, Uncertain, datcom),
	row("naca 2415", 9e6, -2.0, 0.106, 1.63, 16.4, none, -0.049, Memory, datcom),
	row("naca 2415", 3.0e5, -2.1, 0.107, 1.303, 16.7, 0.0099, none, Read, uiuc2),
	row("naca 2418", 9e6, -2.3, 0.103, 1.47, 14.0, none, -0.050, Memory, datcom),
	row("naca 4412", 9e6, -3.8, 0.105, 1.67, 14.0, none, -0.093, Uncertain, datcom),
	row("naca 4415", 9e6, -4.3, 0.105, 1.64, 15.0, none, -0.093, Memory, datcom),
	row("naca 4415", 1.0e6, -4.3, 0.0987, 1.354, 14.3, none, -0.094, Read, nrel4415),
	row("naca 4418", 9e6, -3.8, 0.105, 1.53, 14.0, none, -0.088, Memory, datcom),
	row("naca 4421", 9e6, -3.8, 0.103, 1.47, 16.0, none, -0.085, Memory, datcom),
	row("naca 6412", 8e6, -5.7, 0.102, 1.65, 15.0, none, -0.129, Uncertain, vdt),
	row("naca 6409", 2.0e5, -5.8, 0.0976, 1.436, 10.1, 0.0125, none, Read, uiuc1),
	row("naca 23012", 9e6, -1.4, 0.107, 1.79, 18.0, none, -0.014, Uncertain, datcom),
	row("naca 23015", 9e6, -1.0, 0.107, 1.72, 18.0, none, -0.007, Memory, datcom),
	row("naca 23018", 9e6, -1.2, 0.104, 1.60, 16.0, none, -0.005, Memory, datcom),
	high(row("clark y", 4.02e5, -3.35, 0.1013, 1.351, 14.7, 0.0074, -0.077, Read, uiuc3),
		[][2]float64{{0.181, 0.0095}, {0.337, 0.0074}, {0.550, 0.0079}, {0.836, 0.0098}, {0.990, 0.0116}, {1.129, 0.0138}, {1.245, 0.0165}, {1.332, 0.0307}}, false),
	high(row("s1223", 3.02e5, -11.7, 0.0915, 2.212, 15.6, 0.0164, -0.29, Read, uiuc1),
		[][2]float64{{0.961, 0.0168}, {1.282, 0.0187}, {1.548, 0.0212}, {1.800, 0.0257}, {2.016, 0.0307}, {2.116, 0.0336}, {2.217, 0.0454}}, true),
	high(row("e423", 3.0e5, -10.3, 0.0930, 2.021, 13.5, 0.0158, -0.246, Read, uiuc2),
		[][2]float64{{1.035, 0.0168}, {1.463, 0.0177}, {1.716, 0.0204}, {1.937, 0.0237}, {2.018, 0.0270}}, true),
	high(row("fx 63-137", 5.0e5, -7.8, 0.1038, 1.763, 15.8, 0.0087, -0.199, Read, uiuc4),
		[][2]float64{{0.630, 0.0087}, {0.841, 0.0096}, {1.052, 0.0106}, {1.274, 0.0116}, {1.459, 0.0135}, {1.617, 0.0166}, {1.704, 0.0249}, {1.722, 0.0505}}, true),
}

// high adds a drag polar to an entry; lift says that the section was made for
// high lift at low Reynolds numbers.
func high(p Published, drag [][2]float64, lift bool) Published {
	p.drag, p.highLift = drag, lift
	return p
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

// plainName leaves out what people write differently: case, blanks, hyphens.
func plainName(name string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(name))
}

// How the largest lift changes with the Reynolds number: in proportion to its
// n-th power, with a standard uncertainty of n.
// Source: fitted by us to the table and to the runs at lower Reynolds numbers
// in the same publications (2415 from 6e4 to 9e6, 4415 from 1e6 to 9e6, Clark Y
// and the high-lift sections from 1e5 to 5e5): n = 0.07 and 0.03, each ± 0.03.
const (
	liftPower     = 0.07
	highLiftPower = 0.03
	powerBand     = 0.03
)

// Dirt: flies and stone chips at the nose cost 13 to 17 % of the largest lift in
// the publications' runs with tripped boundary layers (Clark Y, FX 63-137). A
// wing on a car is neither clean nor that bad; the curve is that of a clean
// surface and its largest lift is this much less sure, as a fraction.
const dirtBand = 0.07

// The Reynolds numbers between which a published measurement is carried.
const (
	leastReynolds = 2e5
	mostReynolds  = 1.2e7
)

// MaxLiftAt returns the largest lift at another Reynolds number.
func (p Published) MaxLiftAt(reynolds float64) float64 {
	power := liftPower
	if p.highLift {
		power = highLiftPower
	}
	return p.MaxLift * math.Pow(reynolds/p.Reynolds, power)
}

// At returns the section at another Reynolds number. drag gives the profile drag
// over lift where the publication has none; it may be nil.
func (p Published) At(reynolds float64, drag func(cl float64) float64) (Section, error) {
	if reynolds < leastReynolds || reynolds > mostReynolds {
		return Section{}, fmt.Errorf("section %s at a Reynolds number of %.2g: published data serve from %.0e to %.0e; a polar of the section at that Reynolds number is needed", p.Name, reynolds, leastReynolds, mostReynolds)
	}
	octaves := math.Log(reynolds / p.Reynolds)
	factor := p.MaxLiftAt(reynolds) / p.MaxLift
	s := Section{Name: p.Name, Reynolds: reynolds, Origin: FromTable, Summary: p.Summary,
		Source: fmt.Sprintf("%s, Re %.1e, %s", p.Source, p.Reynolds, p.Sureness)}
	// The top moves along the straight line with the largest lift.
	s.MaxLift = p.MaxLift * factor
	s.MaxAngle = p.MaxAngle - (p.MaxLift-s.MaxLift)/p.Slope
	s.ZeroLiftBand = [...]float64{0.2, 0.3, 0.3}[p.Sureness] * deg
	s.SlopeBand = [...]float64{0.02, 0.03, 0.04}[p.Sureness]
	base := [...]float64{0.03, 0.04, 0.05}[p.Sureness]
	s.MaxLiftBand = math.Sqrt(base*base + powerBand*powerBand*octaves*octaves + dirtBand*dirtBand)
	if math.IsNaN(s.Moment) {
		s.Moment = p.thinMoment()
		s.Notes = append(s.Notes, "moment of thin-airfoil theory, the publication has none")
	}
	if math.Abs(factor-1) > 0.005 {
		s.Notes = append(s.Notes, fmt.Sprintf("largest lift %.2f at Re %.1e is carried to %.2f ± %.2f at Re %.1e", p.MaxLift, p.Reynolds, s.MaxLift, s.MaxLift*s.MaxLiftBand, reynolds))
	}
	scale := math.Pow(reynolds/p.Reynolds, -0.15)
	switch {
	case p.drag != nil:
		cl, cd := make([]float64, len(p.drag)), make([]float64, len(p.drag))
		for i, d := range p.drag {
			cl[i], cd[i] = d[0]*factor, d[1]*scale
		}
		drag = dragAlong(cl, cd)
		s.MinDrag = p.MinDrag * scale
	case drag == nil:
		if math.IsNaN(p.MinDrag) {
			return Section{}, fmt.Errorf("section %s: no drag is published with it: its coordinates or a polar are needed", p.Name)
		}
		s.MinDrag = p.MinDrag * scale
		drag = parabola(s.MinDrag, 0.3*s.MaxLift, 0.006)
	}
	var err error
	s.Curve, err = curveFrom(s.Summary, drag)
	return s, err
}

func (p Published) thinMoment() float64 {
	if n, err := ParseNaca(p.Name); err == nil {
		return n.Thin().Moment
	}
	return 0
}
