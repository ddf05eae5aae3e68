package plane

import "math"

// Pose is where the frame of one part sits in the frame of another: a point u
// of the part lies at R(Turn)·u + (X, Z).
type Pose struct {
	X, Z float64 // mm
	Turn float64 // rad, counter-clockwise
}

// Apply returns where the point u of the part lies, mm.
func (p Pose) Apply(u Point) Point {
	sin, cos := math.Sincos(p.Turn)
	return Point{cos*u.X - sin*u.Z + p.X, sin*u.X + cos*u.Z + p.Z}
}

// ApplyAll returns where points of the part lie, mm; nil for none.
func (p Pose) ApplyAll(points []Point) []Point {
	if points == nil {
		return nil
	}
	out := make([]Point, len(points))
	for i, u := range points {
		out[i] = p.Apply(u)
	}
	return out
}

// Then returns the pose of a part whose pose is q in a frame whose own pose is
// p. It is associative, and p.Then(p.Inverse()) is the zero Pose.
func (p Pose) Then(q Pose) Pose {
	at := p.Apply(Point{q.X, q.Z})
	return Pose{at.X, at.Z, p.Turn + q.Turn}
}

// Inverse returns the pose that undoes p.
func (p Pose) Inverse() Pose {
	at := Pose{Turn: -p.Turn}.Apply(Point{-p.X, -p.Z})
	return Pose{at.X, at.Z, -p.Turn}
}

// About returns the pose that turns everything by turn radians about a point.
func About(centre Point, turn float64) Pose {
	at := Pose{Turn: turn}.Apply(centre)
	return Pose{centre.X - at.X, centre.Z - at.Z, turn}
}

// PoseFromPairs returns the rigid pose of the upper part that brings its
// points closest to those of the lower part, in the sense of least squares,
// without mirroring. With two points it puts the midpoints together and the
// spans parallel. The slices have one length of at least two, and neither set
// of points may fall together.
//
// Source: S. Umeyama, "Least-squares estimation of transformation parameters
// between two point patterns", IEEE PAMI 13 (1991) 376-380, eq. 34 ff., which
// in two dimensions and without scale comes down to one arctangent.
func PoseFromPairs(lower, upper []Point) Pose {
	var ml, mu Point
	for i := range lower {
		ml, mu = ml.Add(lower[i]), mu.Add(upper[i])
	}
	n := 1 / float64(len(lower))
	ml, mu = ml.Times(n), mu.Times(n)
	var dot, cross float64
	for i := range lower {
		l, u := lower[i].Sub(ml), upper[i].Sub(mu)
		dot += u.X*l.X + u.Z*l.Z
		cross += u.X*l.Z - u.Z*l.X
	}
	turn := math.Atan2(cross, dot)
	at := Pose{Turn: turn}.Apply(mu)
	return Pose{ml.X - at.X, ml.Z - at.Z, turn}
}

// Wrap brings an angle in radians into (-π, π].
func Wrap(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	switch {
	case a > math.Pi:
		return a - 2*math.Pi
	case a <= -math.Pi:
		return a + 2*math.Pi
	}
	return a
}
