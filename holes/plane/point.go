// Package plane is the geometry of the side view: points, poses of rigid parts, outlines
// and arcs; areas, hulls, cuts; and how near two shapes come, also while one of them turns
// about a hinge. Least distances are exact for polygons, since the least distance of two
// straight edges that do not cross is one of a corner from an edge, and a corner that turns
// runs along an arc whose least distance from an edge has a closed form.
//
// Lengths are in mm, angles in rad, counter-clockwise positive; x is to the rear and z up,
// so that a positive turn lifts the rear. An outline is the corners of a polygon, closed
// from the last to the first. The package knows no hole, no part and no car.
package plane

import "math"

// Deg is one degree in rad.
const Deg = math.Pi / 180

// Point is a place in the side view, mm: x to the rear, z up.
type Point struct{ X, Z float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Z + q.Z} }

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Z - q.Z} }

// Times returns f·p.
func (p Point) Times(f float64) Point { return Point{p.X * f, p.Z * f} }

// Length returns the distance from the origin, mm. It is asked for millions of times in a search, and by a plain root in half the time
// that math.Hypot takes: lengths of parts are far from where a square overflows.
func (p Point) Length() float64 { return math.Sqrt(p.X*p.X + p.Z*p.Z) }

// Angle returns the direction from the origin, rad from the x axis.
func (p Point) Angle() float64 { return math.Atan2(p.Z, p.X) }

// Distance returns how far apart two points are, mm.
func (p Point) Distance(q Point) float64 { return p.Sub(q).Length() }
