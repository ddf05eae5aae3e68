package strength

import (
	"math"

	"stanchion/holes/plane"
)

// heat is how far from a weld the metal is softened, mm, in a plate t mm thick.
// Source: EN 1999-1-1:2007 6.1.6.3, for MIG welds, and for TIG welds up to 6 mm; quoted from memory.
func heat(t float64) float64 {
	switch {
	case t <= 12:
		return 30
	case t <= 25:
		return 35
	}
	return 40
}

// inHeat reports whether a straight line on a plate comes near enough to a weld to count as softened:
// all of a welded plate, unless the file says where the weld runs.
func (p *plate) inHeat(a, b plane.Point) bool {
	line := p.part.WeldLine
	if !p.part.Welded || len(line) == 0 {
		return p.part.Welded
	}
	if len(line) == 1 {
		line = append(line, line[0])
	}
	for i := range line[1:] {
		if plane.Distance([]plane.Point{a, b}, line[i:i+2]).Distance <= heat(p.t) {
			return true
		}
	}
	return false
}

// at is the plate's material along a straight line on it.
func (p *plate) at(a, b plane.Point) Material {
	if len(p.part.WeldLine) > 0 && p.inHeat(a, b) {
		m, _ := p.material.beside()
		return m
	}
	return p.material
}

// across is the plate's material at a straight cut.
func (p *plate) across(s *section) Material {
	if len(p.part.WeldLine) == 0 {
		return p.material
	}
	half := math.Max(s.gross, s.width)/2 + s.far
	return p.at(p.frame.Point(s.at, s.middle-half), p.frame.Point(s.at, s.middle+half))
}
