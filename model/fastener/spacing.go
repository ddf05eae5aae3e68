package fastener

// Least distances of holes, in hole diameters d0. Source: EN 1993-1-8:2005 Table 3.3,
// the same in EN 1999-1-1 Table 8.2.
const (
	minEdge   = 1.2 // end and edge distance
	minAlong  = 2.2 // spacing along the force
	minAcross = 2.4 // spacing across it
)

// What is usual, in hole diameters. Common practice, no source.
const (
	usualEdge    = 2.0
	usualSpacing = 3.0
)

// Distance is how far a hole must be from something, and how far is usual, mm.
type Distance struct{ Min, Usual float64 }

// Edge returns how far the middle of a hole of diameter d0 must be from an edge.
func Edge(d0 float64) Distance { return Distance{minEdge * d0, usualEdge * d0} }

// Direction is how the force of a bolt lies to the line between two holes.
type Direction int

// The directions. A hole that is not drilled yet may be loaded in any.
const (
	AnyDirection Direction = iota
	Along
	Across
)

// Spacing returns how far apart the middles of two holes must be, d0 being the larger
// diameter: 2.2 d0 where the force runs along the line between them, and 2.4 d0 where it
// runs across it, or may.
func Spacing(d0 float64, force Direction) Distance {
	if force == Along {
		return Distance{minAlong * d0, usualSpacing * d0}
	}
	return Distance{minAcross * d0, usualSpacing * d0}
}
