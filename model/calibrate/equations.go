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
// how well a face's angle is known. What it is of is its key.
type common struct {
	key    string
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
// play of its holes, alike for all readings until it is bolted anew.
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
	bolted := 0
	for i, r := range readings {
		row, _ := t.Find(r.Setting)
		if r.Rebolted {
			bolted++
		}
		play := playOf(row, r.Side, bolted)
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
			s.played(play, 1)
			if onFace {
				s.shares("face "+r.Face, face.AngleStdUnc(), 1)
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
			s.played(play, lever)
			s.eqs = append(s.eqs, e)
		}
	}
	s.readFloors()
	return s
}

// shares says that the next equation has so much of an error that others with the same key have too.
func (s *readingSet) shares(key string, stdUnc, by float64) {
	for i := range s.commons {
		if s.commons[i].key == key {
			s.commons[i].by[len(s.eqs)] += by
			return
		}
	}
	s.commons = append(s.commons, common{key, stdUnc, map[int]float64{len(s.eqs): by}})
}

// played says that the play of a reading is in the next equation, times a lever.
func (s *readingSet) played(play []share, lever float64) {
	for _, p := range play {
		s.shares("play "+p.key, p.stdUnc, p.by*lever)
	}
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
