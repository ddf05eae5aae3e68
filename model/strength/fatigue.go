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

// detail is what a plate of a kind bears of swinging stress.
type detail struct {
	plain, opening, weld float64 // category, MPa at 2e6 cycles
	slope, weldSlope     float64
	source               string
}

// Sources: A. F. Hobbacher, "Recommendations for Fatigue Design of Welded Joints and Components",
// IIW (2016): aluminium parent metal FAT 71, m 5; toes of fillet welds that carry load FAT 22 in
// aluminium and 63 in steel, m 3. EN 1993-1-9:2005 Table 8.1: plates category 160, with holes in
// bending 90; the net section at an opening in aluminium is taken in the same ratio. Recalled and
// not read again.
var (
	aluminiumDetail = detail{71, 40, 22, 5, 3, "IIW recommendations (2016), aluminium: FAT 71, 40 at openings, 22 beside a weld; quoted from memory"}
	steelDetail     = detail{160, 90, 63, 3, 3, "EN 1993-1-9 Table 8.1: 160, 90 at openings, 63 beside a weld; quoted from memory"}
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
	f.Category, f.Slope, f.Source = d.plain, d.slope, d.source
	if f.Opening {
		f.Category = d.opening
	}
	if p.part.Welded && p.inHeat(f.At[0], f.At[1]) {
		f.Category, f.Slope = d.weld, d.weldSlope
	}
	f.Cycles = math.Inf(1)
	if f.Range > cutOff*f.Category {
		f.Cycles = 2e6 * math.Pow(f.Category/f.Range, f.Slope)
	}
}
