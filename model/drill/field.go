package drill

import (
	"context"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// field is every place of the drill's grid at which a bolt goes through a new hole of a part while one goes
// through a hole that it has: places along the curves, as wide as the clearances of both bolts make them.
type field struct {
	joint   model.Joint
	lower   bool         // the part that is drilled is the lower one of the joint
	own     []holes.Hole // of the part that is drilled
	other   []holes.Hole // of the part that it is bolted to
	d       float64      // mm, of the new hole
	step    float64      // mm, of the grid
	first   [2]int       // of the grid's corner, in steps
	columns int
	places  []int32 // grid places with seats, in order
	from    []int32 // of each of them, its first seat; and one beyond the last
	seats   []seat
}

// seat is one way in which a new hole is bolted: the bolt of a hole of the other part goes into it, and that of
// another into its partner.
type seat struct {
	place                    int32
	partner, through, moving uint16 // partner is a hole of the part that is drilled, the others of the other part
	turn                     float64
	slack                    float64 // mm that is left of the clearances of both bolts
}

// maxPlaces bounds the places of the grid that are looked at; the grid is coarser on parts that have more.
const maxPlaces = 8_000_000

// searchStep is the grid that is searched where the drill's own is finer, mm.
const searchStep = 0.5

// newField lays the grid over a part and finds the seats. It ends with the context's error when that is cancelled.
func newField(ctx context.Context, c *model.Car, w Goal, j int, also ...plane.Point) (*field, error) {
	f := &field{joint: c.Joints[j], lower: w.Part == j, own: slices.Clone(c.Parts[w.Part].Holes), d: w.D}
	f.other = c.Parts[j].Holes
	if f.lower {
		f.other = c.Parts[j+1].Holes
	}
	for _, at := range also {
		f.own = append(f.own, holes.Hole{X: at.X, Z: at.Z, D: w.D, Joint: w.Joint})
	}
	f.step = max(w.Grid, 0.01)
	if f.step < searchStep {
		f.step *= math.Floor(searchStep / f.step)
	}
	lo, hi, ok := f.box(&c.Parts[w.Part])
	if !ok {
		return f, nil
	}
	rows := 0
	for {
		f.first = [2]int{int(math.Ceil(lo.X / f.step)), int(math.Ceil(lo.Z / f.step))}
		f.columns, rows = int(math.Floor(hi.X/f.step))-f.first[0]+1, int(math.Floor(hi.Z/f.step))-f.first[1]+1
		if float64(f.columns)*float64(rows) <= maxPlaces {
			break
		}
		f.step *= 2
	}
	if f.columns <= 0 || rows <= 0 {
		return f, nil
	}
	var only []int
	for i := range also {
		only = append(only, len(f.own)-len(also)+i)
	}
	if err := f.find(ctx, rows, only); err != nil {
		return nil, err
	}
	f.file(f.columns * rows)
	return f, nil
}

// box is where holes can be: within the part's outline, or as far as bolts reach from its holes.
func (f *field) box(p *model.Part) (lo, hi plane.Point, ok bool) {
	if p.Outline != nil {
		lo, hi = plane.Box(p.Outline)
		return lo, hi, true
	}
	var at []plane.Point
	for _, h := range f.own {
		at = append(at, h.At())
	}
	if len(at) == 0 {
		return lo, hi, false
	}
	lo, hi = plane.Box(at)
	reach := 0.0
	for _, a := range f.other {
		for _, b := range f.other {
			reach = max(reach, a.At().Distance(b.At())+f.d+b.D)
		}
	}
	by := plane.Point{X: reach, Z: reach}
	return lo.Sub(by), hi.Add(by), true
}

// usable reports whether the joint may use a hole.
func (f *field) usable(h *holes.Hole) bool {
	return h.Takes(f.joint.Shank) && (h.Joint == "" || h.Joint == f.joint.Name)
}

// find goes along all curves, or along those about some of the part's own holes.
func (f *field) find(ctx context.Context, rows int, only []int) error {
	if f.d < f.joint.Shank-1e-6 {
		return nil
	}
	for p := range f.own {
		if err := ctx.Err(); err != nil {
			return err
		}
		if only != nil && !slices.Contains(only, p) || !f.usable(&f.own[p]) {
			continue
		}
		for u := range f.other {
			for v := range f.other {
				a, b := &f.other[u], &f.other[v]
				if u == v || !f.usable(a) || !f.usable(b) || a.Slot != "" && a.Slot == b.Slot || a.At().Distance(b.At()) < f.joint.Shank {
					continue
				}
				f.along(p, u, v, rows)
			}
		}
	}
	return nil
}

// along finds the places of one curve: the bolt of hole u of the other part goes into hole p of the part that is
// drilled, that of hole v into the new one.
func (f *field) along(p, u, v, rows int) {
	own, through, moving := f.own[p], f.other[u], f.other[v]
	wide := holes.Clearance(own.D, through.D, f.joint.Shank) + holes.Clearance(f.d, moving.D, f.joint.Shank)
	arm := moving.At().Sub(through.At())
	radius, angle := arm.Length(), arm.Angle()
	outer, inner := radius+wide, max(radius-wide, f.joint.Shank)
	limit := math.Cos(min(f.joint.MaxTurn, math.Pi))
	row := func(k int) float64 { return float64(f.first[1]+k) * f.step }
	k0 := max(0, int(math.Ceil((own.Z-outer)/f.step))-f.first[1])
	k1 := min(rows-1, int(math.Floor((own.Z+outer)/f.step))-f.first[1])
	for k := k0; k <= k1; k++ {
		dz := row(k) - own.Z
		far := math.Sqrt(max(0, outer*outer-dz*dz))
		near := math.Sqrt(max(0, inner*inner-dz*dz))
		sides := [][2]float64{{own.X - far, own.X - near}, {own.X + near, own.X + far}}
		if near == 0 {
			sides = [][2]float64{{own.X - far, own.X + far}}
		}
		for _, side := range sides {
			i0 := max(0, int(math.Ceil(side[0]/f.step-1e-9))-f.first[0])
			i1 := min(f.columns-1, int(math.Floor(side[1]/f.step+1e-9))-f.first[0])
			for i := i0; i <= i1; i++ {
				dx := float64(f.first[0]+i)*f.step - own.X
				length := math.Hypot(dx, dz)
				slack := wide - math.Abs(length-radius)
				// The turn's cosine tells most places out before the turn is worked out.
				if slack < -1e-6 || length < f.joint.Shank || (dx*arm.X+dz*arm.Z) < limit*length*radius-1e-6 {
					continue
				}
				turn := plane.Wrap(math.Atan2(dz, dx) - angle)
				if !f.lower {
					turn = -turn
				}
				if math.Abs(turn) > f.joint.MaxTurn+1e-9 {
					continue
				}
				f.seats = append(f.seats, seat{int32(k*f.columns + i), uint16(p), uint16(u), uint16(v), turn, slack})
			}
		}
	}
}

// file sorts the seats by place.
func (f *field) file(cells int) {
	count := make([]int32, cells+1)
	for _, s := range f.seats {
		count[s.place+1]++
	}
	for i := range cells {
		if count[i+1] > 0 {
			f.places = append(f.places, int32(i))
		}
		count[i+1] += count[i]
	}
	sorted := make([]seat, len(f.seats))
	for _, p := range f.places {
		f.from = append(f.from, count[p])
	}
	f.from = append(f.from, int32(len(f.seats)))
	for _, s := range f.seats {
		sorted[count[s.place]] = s
		count[s.place]++
	}
	f.seats = sorted
}

// at is the place in the part's own frame, mm, of the i-th place with seats.
func (f *field) at(i int) plane.Point {
	p := int(f.places[i])
	x, z := float64(f.first[0]+p%f.columns), float64(f.first[1]+p/f.columns)
	return plane.Point{X: x*f.step + 0, Z: z*f.step + 0} // no negative zero
}

// of returns the seats of the i-th place.
func (f *field) of(i int) []seat { return f.seats[f.from[i]:f.from[i+1]] }

// bolted returns the middles of the two bolts of a seat in the lower and in the upper part.
func (f *field) bolted(s *seat, at plane.Point) (lower, upper plane.Point) {
	own := at.Add(f.own[s.partner].At()).Times(0.5)
	other := f.other[s.through].At().Add(f.other[s.moving].At()).Times(0.5)
	if f.lower {
		return own, other
	}
	return other, own
}
