package plane

import "slices"

// Span is a length of a straight cut, mm from where the cut's line passes nearest to its
// frame's origin.
type Span struct{ From, To float64 }

// Frame is a pair of directions to cut in: At counts along Normal from Origin, and a
// cut's own line runs square to it, a quarter turn clockwise.
type Frame struct {
	Origin Point // mm
	Normal Point // of length 1
}

// Level is the frame of level cuts: At is the height, a span runs along x.
var Level = Frame{Normal: Point{Z: 1}}

// In returns a point's place in the frame, mm: along its normal, and along the cut.
func (f Frame) In(p Point) (at, across float64) {
	return f.Resolve(p.Sub(f.Origin))
}

// Resolve returns the components of a vector along the frame's normal and along its cuts.
func (f Frame) Resolve(v Point) (along, across float64) {
	return v.X*f.Normal.X + v.Z*f.Normal.Z, v.X*f.Normal.Z - v.Z*f.Normal.X
}

// Point returns the point at a place in the frame, mm: the inverse of In.
func (f Frame) Point(at, across float64) Point {
	side := Point{f.Normal.Z, -f.Normal.X}
	return f.Origin.Add(f.Normal.Times(at)).Add(side.Times(across))
}

// Cut returns what a straight cut at a place of a frame, mm, leaves in an outline, in
// order. A corner that the cut only touches leaves nothing.
func Cut(outline []Point, f Frame, at float64) []Span {
	var ends []float64
	for a, b := range Edges(outline) {
		na, va := f.In(a)
		nb, vb := f.In(b)
		if (na > at) != (nb > at) {
			ends = append(ends, va+(at-na)/(nb-na)*(vb-va))
		}
	}
	slices.Sort(ends)
	var spans []Span
	for i := 0; i+1 < len(ends); i += 2 {
		spans = append(spans, Span{ends[i], ends[i+1]})
	}
	return spans
}

// Without takes one span out of others.
func Without(spans []Span, out Span) []Span {
	var left []Span
	for _, s := range spans {
		if out.To <= s.From || out.From >= s.To {
			left = append(left, s)
			continue
		}
		if out.From > s.From {
			left = append(left, Span{s.From, out.From})
		}
		if out.To < s.To {
			left = append(left, Span{out.To, s.To})
		}
	}
	return left
}
