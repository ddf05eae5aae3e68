package strength

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

// Fatigue is how the nominal stress of a plate swings between the load cases, where it swings most.
type Fatigue struct {
	Range    float64 // MPa, without the load factor
	Category float64 // MPa at two million cycles
	Slope    float64
	Cycles   float64 // that the detail bears at this range; infinite below its limit
	At       [2]plane.Point
	Opening  bool // at a hole or a cut-out
	Source   string
}

// widen takes over a chord's range where it is the largest: of the stress at the surface of its two
// ends, between any two load cases.
func (f *Fatigue) widen(c *sheet.Chord, all []sheet.Stress) {
	for _, end := range [2]float64{-1, 1} {
		for _, face := range [2]float64{-1, 1} {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, s := range all {
				v := s.Mean + end*s.Turn + face*s.Bend
				lo, hi = min(lo, v), max(hi, v)
			}
			if hi-lo > f.Range {
				f.Range, f.At, f.Opening = hi-lo, [2]plane.Point{c.A, c.B}, !c.Gross()
			}
		}
	}
}

// curve is a line of cycles over range: category at two million cycles, MPa, and slope.
type curve struct{ category, slope float64 }

// detail is what a plate of a kind bears of swinging stress: the lowest of its curves.
type detail struct {
	plain, opening, weld []curve
	source               string
}

// Sources: A. F. Hobbacher, "Recommendations for Fatigue Design of Welded Joints and Components",
// IIW (2016): aluminium parent metal FAT 71, m 5; toes of fillet welds that carry load FAT 22 in
// aluminium and 63 in steel, m 3. EN 1999-1-3:2007 annex J: holes on the net section of 6000 alloys
// 90, m 7. EN 1993-1-9:2005 Table 8.1: plates category 160, with holes in bending 90. Recalled and
// not read again.
var (
	aluminiumDetail = detail{[]curve{{71, 5}}, []curve{{71, 5}, {90, 7}}, []curve{{22, 3}},
		"IIW FAT 71 and EN 1999-1-3 category 90 at openings, IIW FAT 22 beside a weld; quoted from memory"}
	steelDetail = detail{[]curve{{160, 3}}, []curve{{90, 3}}, []curve{{63, 3}},
		"EN 1993-1-9 Table 8.1: 160, 90 at openings, IIW FAT 63 beside a weld; quoted from memory"}
)

// cutOff is the range, as a part of the category, below which no number of cycles harms: at 1e8 of
// EN 1993-1-9 7.1 with slopes 3 and 5, 0.405.
const cutOff = 0.405

// of works out how many swings the plate bears.
func (f *Fatigue) of(p *plate, loadFactor float64) {
	f.Range /= loadFactor
	d := steelDetail
	if p.material.elastic < 100e3 {
		d = aluminiumDetail
	}
	curves := d.plain
	if f.Opening {
		curves = d.opening
	}
	if p.inHeat(f.At[0], f.At[1]) {
		curves = d.weld
	}
	f.Source, f.Cycles = d.source, math.Inf(1)
	for _, c := range curves {
		if f.Range <= cutOff*c.category {
			continue
		}
		if n := 2e6 * math.Pow(c.category/f.Range, c.slope); n < f.Cycles {
			f.Category, f.Slope, f.Cycles = c.category, c.slope, n
		}
	}
}
