package strength

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/fem"
	"stanchion/model/sheet"
)

// How far the solver may be from equilibrium on a chord that separates a plate's ends, as a part
// of the chord's own stress, before its figures are withheld; chords that bear less than so much
// of the plate's largest stress are not asked.
const (
	maxOff     = 0.05
	askedShare = 0.2
)

// A chord of the solver across less metal than so many cells counts as too fine for it where it uses more
// than so much of its strength.
const (
	fewCells  = 0.5
	fineShare = 0.6
)

// mostRead is how many of the chords that bear most in a first look are read in all load cases.
const mostRead = 80

// reading is how the stresses of one plate are read: by equilibrium where a chord separates its
// ends, by the solver elsewhere.
type reading struct {
	p      *plate
	out    *SolvedPlate
	parts  []sheet.Parted
	around []fem.Bolt // the washers that a chord of the solver must not touch
	chosen []*sheet.Chord
	rows   []sheet.Chord // lines through neighbouring bolts
	offs   map[*sheet.Chord]*off
	spread map[*sheet.Chord][]sheet.Stress // signed, of each case
	kept   []*sheet.Chord                  // its chords, in the order of their first reading
	asked  []*sheet.Chord                  // those of offs
}

func (r *reading) washers(f *Analysis, part int, foot, head []plane.Point) {
	_, below := f.joint(part - 1) // the chassis below the fixed part
	for _, p := range foot {
		r.around = append(r.around, fem.Bolt{At: p, Washer: below.Washer})
	}
	for _, p := range head {
		r.around = append(r.around, fem.Bolt{At: p, Washer: f.bolts[part].Washer})
	}
	for _, group := range [2][]plane.Point{foot, head} {
		for i, a := range group {
			for _, b := range group[i+1:] {
				if c, ok := r.p.metal.shape.Line(a, b); ok {
					r.rows = append(r.rows, c)
				}
			}
		}
	}
	r.offs = map[*sheet.Chord]*off{}
	r.spread = map[*sheet.Chord][]sheet.Stress{}
}

// touches reports whether a chord comes so near to what holds or loads the plate that the solver's
// stress there means nothing.
func (r *reading) touches(c *sheet.Chord) bool {
	if min(c.A.Z, c.B.Z) < r.p.metal.shape.Floor+1.5*r.out.Cell {
		return true
	}
	for _, b := range r.around {
		if c.Touches(b.At, b.Washer/2) {
			return true
		}
	}
	return false
}

// inCase reads the stresses of one load case.
func (r *reading) inCase(k int, l fem.Load, state *fem.State) {
	type borne struct {
		part  *sheet.Parted
		check Check
		cut   sheet.Cut
		used  float64
	}
	all := make([]borne, 0, len(r.parts))
	for i := range r.parts {
		c := &r.parts[i]
		cut := c.Bear(leaning(l, state, c.Chord), r.p.area)
		stress := borneOn(c, cut, r.p.t)
		check := r.p.onChord(c.Chord, stress)
		check.Case = k
		r.worst(check, stress, c.Chord, false)
		u := check.Utilisation()
		if u > r.out.Bound.Utilisation() {
			r.out.Bound = check
		}
		all = append(all, borne{c, check, cut, u})
	}
	for _, i := range mostUsed(len(all), func(i int) float64 { return all[i].used }) {
		b := &all[i]
		r.keep(b.part.Chord, borneOn(b.part, b.cut, r.p.t))
		if !r.touches(b.part.Chord) && !r.atCorner(b.part.Chord) {
			r.compare(b.part, b.cut, b.check, state)
		}
	}
	if r.chosen == nil {
		r.choose(state)
	}
	for _, c := range r.chosen {
		cut, ok := state.Across(c)
		if !ok {
			continue
		}
		check := r.p.onChord(c, cut.Stress)
		check.Case = k
		r.worst(check, cut.Stress, c, true)
		r.keep(c, cut.Stress)
		if c.Width < r.out.Cell*fewCells && check.Utilisation() > fineShare && r.out.Neck == nil {
			r.out.Off, r.out.Neck = 1, c
		}
	}
	r.legs(k, state)
	for i := range r.rows { // across the plane both plates share what there is under washers
		if cut, ok := state.Across(&r.rows[i]); ok {
			cut.Bend, cut.Twist = 0, 0
			check := r.p.onChord(&r.rows[i], cut.Stress)
			check.Case = k
			r.worst(check, cut.Stress, &r.rows[i], true)
		}
	}
}

// standing reads what equilibrium asks for if the plate stood upright, where it does not: no less than that.
func (r *reading) standing(k int, l fem.Load) {
	for i := range r.parts {
		c := &r.parts[i]
		stress := borneOn(c, c.Bear(l.Load, r.p.area), r.p.t)
		check := r.p.onChord(c.Chord, stress)
		check.Case = k
		r.worst(check, stress, c.Chord, false)
		if check.Utilisation() > r.out.Bound.Utilisation() {
			r.out.Bound = check
		}
	}
}

// leaning is a load about a chord that has moved with the plate: what acts in the plane then bends and twists it,
// and turns it in its plane, by as much as its place has moved further than the chord.
func leaning(l fem.Load, s *fem.State, c *sheet.Chord) sheet.Load {
	out, ux, uz, n := 0.0, 0.0, 0.0, 0
	for _, m := range c.Spans {
		at := c.At((m.From + m.To) / 2)
		y, ok := s.Out(at)
		x, z, in := s.Within(at)
		if ok && in {
			out, ux, uz, n = out+y, ux+x, uz+z, n+1
		}
	}
	k := float64(max(n, 1))
	way := s.Side - out/k
	l.MX += l.Z*way + l.Lever[1][0]*s.SX + l.Lever[1][1]*s.SZ
	l.MZ -= l.X*way + l.Lever[0][0]*s.SX + l.Lever[0][1]*s.SZ
	l.Load.Turn += (s.X-ux/k)*l.Z - (s.Z-uz/k)*l.X - s.Turn*(l.Lever[0][0]+l.Lever[1][1])
	return l.Load
}

// off is how far the solver is from equilibrium on a chord, and what the chord bears, MPa: the most of all
// load cases.
type off struct{ by, bears float64 }

// compare looks how far the solver is from equilibrium on a chord.
func (r *reading) compare(c *sheet.Parted, cut sheet.Cut, check Check, state *fem.State) {
	by, ok := state.Across(c.Chord)
	if !ok {
		return
	}
	o := r.offs[c.Chord]
	if o == nil {
		o = &off{}
		r.offs[c.Chord] = o
		r.asked = append(r.asked, c.Chord)
	}
	a := c.Width * r.p.t
	o.by = max(o.by, math.Abs(math.Abs(by.Normal)-math.Abs(cut.Normal))/a+math.Abs(math.Abs(by.Turn)-math.Abs(cut.Turn))*c.Far/(c.Inertia*r.p.t))
	o.bears = max(o.bears, check.Demand)
}

// At a chord wider than so many cells that ends within so many of a corner that juts into the metal, the
// solver's integral is off by the corner's peak of stress and says nothing of what it resolves.
const (
	wideCells   = 8
	cornerCells = 2
)

// atCorner reports whether a wide chord ends at a corner that juts into the metal.
func (r *reading) atCorner(c *sheet.Chord) bool {
	if c.Width < wideCells*r.out.Cell {
		return false
	}
	for _, p := range r.p.metal.corners() {
		if p.Distance(c.A) < cornerCells*r.out.Cell || p.Distance(c.B) < cornerCells*r.out.Cell {
			return true
		}
	}
	return false
}

// resolve finds the chord on which the solver is furthest from equilibrium, of those that bear something.
func (r *reading) resolve() {
	for _, c := range r.asked {
		o := r.offs[c]
		if o.bears < askedShare*r.out.Worst.Demand {
			continue
		}
		if share := o.by / max(o.bears, r.out.Worst.Demand/2); share > maxOff && share > r.out.Off {
			r.out.Off, r.out.Neck = share, c
		}
	}
}

// choose takes the chords through the plate's places that bear most in a first load case.
func (r *reading) choose(state *fem.State) {
	type borne struct {
		c *sheet.Chord
		u float64
	}
	var all []borne
	for _, chords := range [2][]sheet.Chord{r.p.metal.lattice(), r.p.metal.narrow()} {
		for i := range chords {
			c := &chords[i]
			if r.touches(c) {
				continue
			}
			if cut, ok := state.Across(c); ok {
				all = append(all, borne{c, r.p.onChord(c, cut.Stress).Utilisation()})
			}
		}
	}
	for _, i := range mostUsed(len(all), func(i int) float64 { return all[i].u }) {
		r.chosen = append(r.chosen, all[i].c)
	}
}

// mostUsed returns which of so many chords use most, those first, at most mostRead; of equals the first.
func mostUsed(n int, used func(i int) float64) []int {
	kept := make([]int, 0, mostRead+1)
	for i := range n {
		u := used(i)
		if len(kept) == mostRead && cmp.Compare(u, used(kept[mostRead-1])) <= 0 {
			continue
		}
		at, _ := slices.BinarySearchFunc(kept, u, func(k int, u float64) int {
			if cmp.Compare(used(k), u) >= 0 {
				return -1
			}
			return 1
		})
		kept = slices.Insert(kept, at, i)
		kept = kept[:min(len(kept), mostRead)]
	}
	return kept
}

// worst keeps the most heavily loaded chord.
func (r *reading) worst(check Check, s sheet.Stress, c *sheet.Chord, solver bool) {
	if r.out.Worst.What == "" || check.Utilisation() > r.out.Worst.Utilisation() {
		r.out.Worst, r.out.Stress, r.out.Solver = check, s, solver
	}
}

func (r *reading) keep(c *sheet.Chord, s sheet.Stress) {
	if r.spread[c] == nil {
		r.kept = append(r.kept, c)
	}
	r.spread[c] = append(r.spread[c], s)
}

// finish works out the range of stress between the load cases.
func (r *reading) finish(loadFactor float64) {
	r.resolve()
	for _, c := range r.kept {
		if all := r.spread[c]; len(all) == len(cases) {
			r.out.Range.widen(c, all)
		}
	}
	r.out.Range.of(r.p, loadFactor)
}
