package calibrate

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// The unknowns of the fit. Behind them stand the slope and the level's zero of each floor, and the
// zero of each level that was turned where no floor was read.
const (
	unknownAngle = iota // rad, of the fixed part
	unknownZ            // mm, of the fixed part
	unknownTwist        // rad, left less right
	unknownLean         // mm, height left less right
	unknownsOfPart
)

// quantity is what an equation is about.
type quantity int

const (
	levelFirst  quantity = iota // the level on the wing
	levelTurned                 // end for end
	tapeQuarter                 // the tape at the quarter-chord point
	tapeLeading
	tapeTrailing
	floorFirst // the level on the floor
	floorTurned
)

func (q quantity) onWing() bool { return q == levelFirst || q == levelTurned }
func (q quantity) tape() bool   { return q >= tapeQuarter && q <= tapeTrailing }

// term is one unknown of an equation with its coefficient.
type term struct {
	unknown int
	by      float64
}

// equation is one number that was read, in terms of the unknowns.
type equation struct {
	terms   []term
	off     float64 // measured less predicted, rad or mm
	stdUnc  float64 // of the reading alone
	of      quantity
	reading int  // index; -1 for the floor's
	floor   int  // index in readingSet.floors; -1 for none
	used    bool // in the fit, not only compared with it
}

func (e *equation) add(unknown int, by float64) {
	if by != 0 {
		e.terms = append(e.terms, term{unknown, by})
	}
}

// common is an error that several equations share: the play that the wing had when it was read, or
// how well a face's angle is known.
type common struct {
	stdUnc float64
	by     map[int]float64 // coefficient by equation
}

// readingSet is what a set of readings says: equations, errors that they share, unknowns.
type readingSet struct {
	eqs     []equation
	commons []common
	floors  []model.Floor // those that readings refer to
	zeros   []int         // unknown of the level's zero by reading; -1 for one that was not turned
}

func (*readingSet) slopeOf(floor int) int { return unknownsOfPart + 2*floor }
func (*readingSet) zeroOf(floor int) int  { return unknownsOfPart + 2*floor + 1 }

// equations lists what the readings say; some may be left out of the fit.
//
// A level on the wing reads the chord's angle, plus the face's to the chord, plus the floor's slope,
// plus the level's zero, which turned end for end counts the other way. A tape reads the height
// above the floor that the car stands on, which is the ground. The wing may sit anywhere within the
// play of its holes, alike for all numbers of a reading.
func equations(t *model.Table, readings []model.Reading, leftOut map[int]bool) *readingSet {
	s := &readingSet{zeros: make([]int, len(readings))}
	index := map[string]int{}
	for _, r := range readings {
		if f, ok := t.Car.Floor(r.Floor); ok && r.Angle.Known() {
			if _, met := index[r.Floor]; !met {
				index[r.Floor] = len(s.floors)
				s.floors = append(s.floors, f)
			}
		}
	}
	next := unknownsOfPart + 2*len(s.floors)
	faces := map[string]int{}
	for i, r := range readings {
		row, _ := t.Find(r.Setting)
		play := common{row.Play / math.Sqrt(3), map[int]float64{}}
		s.zeros[i] = -1
		floor, onFloor := -1, false
		if k, ok := index[r.Floor]; ok && r.Angle.Known() {
			floor, onFloor = k, true
			s.zeros[i] = s.zeroOf(k)
		} else if r.Turned.Known() {
			s.zeros[i] = next
			next++
		}
		face, onFace := t.Car.Face(r.Face)
		for _, l := range []struct {
			q    quantity
			zero float64
		}{{levelFirst, 1}, {levelTurned, -1}} {
			read := r.Angle
			if l.q == levelTurned {
				read = r.Turned
			}
			angle, ok := read.Get()
			if !ok {
				continue
			}
			e := equation{off: angle - row.Angle - face.Angle, stdUnc: r.AngleStdUnc(), of: l.q, reading: i, floor: floor, used: !leftOut[i]}
			e.add(unknownAngle, 1)
			e.add(unknownTwist, side(r))
			if onFloor {
				e.add(s.slopeOf(floor), 1)
			}
			if s.zeros[i] >= 0 {
				e.add(s.zeros[i], l.zero)
			}
			play.by[len(s.eqs)] = 1
			if onFace {
				k, met := faces[r.Face]
				if !met {
					k = len(s.commons)
					faces[r.Face] = k
					s.commons = append(s.commons, common{face.AngleStdUnc(), map[int]float64{}})
				}
				s.commons[k].by[len(s.eqs)] = 1
			}
			s.eqs = append(s.eqs, e)
		}
		for _, h := range []struct {
			q  quantity
			mm float64
			at plane.Point
		}{
			{tapeQuarter, r.Height.Value(), plane.Point{X: row.X, Z: row.Height}},
			{tapeLeading, r.Leading.Value(), LeadingEdge(row.Position)},
			{tapeTrailing, r.Trailing.Value(), TrailingEdge(t.Car, row.Position)},
		} {
			if math.IsNaN(h.mm) {
				continue
			}
			lever := h.at.X - t.Car.Ground().X // mm of height per rad
			e := equation{off: h.mm - h.at.Z, stdUnc: r.HeightStdUnc(), of: h.q, reading: i, floor: -1, used: !leftOut[i]}
			e.add(unknownAngle, lever)
			e.add(unknownZ, 1)
			e.add(unknownLean, side(r))
			e.add(unknownTwist, side(r)*(h.at.X-row.X)) // the ends of the wing turn about the quarter chord
			play.by[len(s.eqs)] = lever
			s.eqs = append(s.eqs, e)
		}
		if play.stdUnc > 0 {
			s.commons = append(s.commons, play)
		}
	}
	s.readFloors()
	return s
}

// readFloors adds what the level read on the floors.
func (s *readingSet) readFloors() {
	for k, f := range s.floors {
		e := equation{off: f.Angle, stdUnc: f.AngleStdUnc(), of: floorFirst, reading: -1, floor: k, used: true}
		e.add(s.slopeOf(k), 1)
		e.add(s.zeroOf(k), 1)
		s.eqs = append(s.eqs, e)
		if turned, ok := f.Turned.Get(); ok {
			e := equation{off: turned, stdUnc: f.AngleStdUnc(), of: floorTurned, reading: -1, floor: k, used: true}
			e.add(s.slopeOf(k), 1)
			e.add(s.zeroOf(k), -1)
			s.eqs = append(s.eqs, e)
		}
	}
}

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
		c := common{a.stdUnc, map[int]float64{}}
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
