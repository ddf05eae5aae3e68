package plane

import "math"

// Point is a place in the side view, mm: x to the rear, z up.
type Point struct{ X, Z float64 }

func (p Point) Add(q Point) Point        { return Point{p.X + q.X, p.Z + q.Z} }
func (p Point) Sub(q Point) Point        { return Point{p.X - q.X, p.Z - q.Z} }
func (p Point) Times(f float64) Point    { return Point{p.X * f, p.Z * f} }
func (p Point) Length() float64          { return math.Hypot(p.X, p.Z) }
func (p Point) Angle() float64           { return math.Atan2(p.Z, p.X) }
func (p Point) Distance(q Point) float64 { return p.Sub(q).Length() }
