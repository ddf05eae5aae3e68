package calibrate

import (
	"stanchion/holes/plane"
	"stanchion/model"
)

// side is how much of twist and lean, which are left less right, a reading has in it.
func side(r model.Reading) float64 {
	return map[string]float64{"left": 0.5, "right": -0.5}[r.Side]
}

// Where only one side is read, the middle of the wing may be off by half of what these allow for, as
// standard uncertainties of left less right: the twist of a wing on its two uprights, rad, and the lean
// of a standing car at the wing, mm. Common practice, no source.
const (
	UsualTwist = 0.5 * plane.Deg
	UsualLean  = 4.0
)

// allow adds what is allowed for where twist or lean are not told.
func (s *readingSet) allow(d told) {
	for _, a := range []struct {
		unknown int
		told    bool
		stdUnc  float64
	}{{unknownTwist, d.twist, UsualTwist}, {unknownLean, d.lean, UsualLean}} {
		c := common{stdUnc: a.stdUnc, by: map[int]float64{}}
		for i, e := range s.eqs {
			for _, t := range e.terms {
				if t.unknown == a.unknown {
					c.by[i] = t.by
				}
			}
		}
		if !a.told && len(c.by) > 0 {
			s.commons = append(s.commons, c)
		}
	}
}

// told is which of the part's unknowns the equations in use tell.
type told struct {
	columns         []int
	angles, heights int
	twist, lean     bool
}

// told lists the unknowns that the equations in use tell: the angle where a level was read or a tape
// at two points of a chord, the height where one is read, twist and lean where both sides are, the
// slope of each floor, and a level's zero where the level was turned. Where it was not, the zero is
// in the floor's slope, and goes out with it.
func (s *readingSet) told() told {
	var d told
	taped := map[int]int{} // heights of a reading
	var turns, leans [2]bool
	with := map[int]bool{}
	for _, e := range s.eqs {
		if !e.used {
			continue
		}
		side := 0.0 // of the reading
		for _, t := range e.terms {
			switch {
			case t.unknown == unknownTwist && e.of.onWing(), t.unknown == unknownLean:
				side = t.by
			}
		}
		switch {
		case e.of.onWing():
			d.angles++
			mark(&turns, side)
		case e.of.tape():
			d.heights++
			mark(&leans, side)
			if taped[e.reading]++; taped[e.reading] == 2 {
				d.angles++
				mark(&turns, side)
			}
		default:
			with[s.slopeOf(e.floor)] = true
		}
		if e.of == levelTurned {
			with[s.zeros[e.reading]] = true
		}
		if e.of == floorTurned {
			with[s.zeroOf(e.floor)] = true
		}
	}
	with[unknownAngle], with[unknownZ] = d.angles > 0, d.heights > 0
	d.twist, d.lean = turns[0] && turns[1], leans[0] && leans[1]
	with[unknownTwist], with[unknownLean] = d.twist, d.lean
	for c := range unknownsOfPart + 2*len(s.floors) + len(s.zeros) {
		if with[c] {
			d.columns = append(d.columns, c)
		}
	}
	return d
}

func mark(sides *[2]bool, side float64) {
	if side > 0 {
		sides[0] = true
	} else if side < 0 {
		sides[1] = true
	}
}
