package holes

import (
	"math"

	"stanchion/holes/plane"
)

// ReachesInto reports whether a hole runs into a polygon, or touches it.
func (h Hole) ReachesInto(polygon []plane.Point) bool {
	lo, hi := plane.Box(polygon)
	r := h.D/2 + eps
	if at := h.At(); !(at.X >= lo.X-r && at.X <= hi.X+r && at.Z >= lo.Z-r && at.Z <= hi.Z+r) {
		return false
	}
	mm, inside := plane.EdgeDistance(polygon, h.At())
	return inside || mm <= r
}

// slotPiece is how finely an arc is taken as straight pieces, mm: its edge is then true to
// 0.01 mm at a radius of 3 mm, and better at larger ones.
const slotPiece = 0.5

// ReachesInto reports whether a slot runs into a polygon, or touches it.
func (s Slot) ReachesInto(polygon []plane.Point) bool {
	n := 1
	if s.Turn != 0 {
		n = max(1, min(10*maxPositions, int(math.Ceil(s.Length()/slotPiece))))
	}
	lo, hi := plane.Box(polygon)
	r := s.D/2 + eps
	from := s.Along(0)
	for i := range n {
		to := s.Along(s.Length() * float64(i+1) / float64(n))
		if min(from.X, to.X) <= hi.X+r && max(from.X, to.X) >= lo.X-r && min(from.Z, to.Z) <= hi.Z+r && max(from.Z, to.Z) >= lo.Z-r &&
			plane.Distance([]plane.Point{from, to}, polygon).Distance <= r {
			return true
		}
		from = to
	}
	return false
}
