package design

import (
	"math"
	"math/rand/v2"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// Accuracy is what holes that are not drilled where they should be do to a plate. Its own holes are off, and those of a bracket that is drilled for it; other
// holes are taken as they are in the file.
type Accuracy struct {
	Off   float64 // mm, by which the middle of every hole is off, in any direction
	Fit   float64 // probability that the bolts of all settings wanted go in on one side
	Least float64 // the same for the setting for which it is least
	Row   int     // of the table, which that is
	Angle float64 // rad, standard uncertainty of the wing's angle on one side, where it is largest
	Apart float64 // rad, of the difference between left and right where their plates are drilled apart; as a pair, both are off alike

	Saves given.Number // mm, by how much wider the holes must be for all bolts to go in 19 times out of 20; not given where 1.5 mm do not do
}

// Drilling errors that are looked at.
const (
	shakes    = 400  // plates drawn at random, always the same
	goodFit   = 0.95 // of them in which all bolts go in
	widerBy   = 0.1  // mm
	widerMost = 1.5
)

// Accuracy works out what errors of drilling do.
func (p *Proposal) Accuracy(off float64) Accuracy {
	a := Accuracy{Off: off, Row: -1}
	var rows []int
	for _, l := range p.Levels {
		for _, n := range l.Rows {
			if !slices.Contains(rows, n) {
				rows = append(rows, n)
			}
		}
	}
	s := p.shake(off, rows)
	fine := make([]int, len(rows))
	a.Fit = s.fits(0, fine)
	for i, n := range rows {
		if fit := float64(fine[i]) / shakes; a.Row < 0 || fit < a.Least {
			a.Least, a.Row = fit, n
		}
		a.Angle = max(a.Angle, s.turns[i])
	}
	a.Apart = math.Sqrt2 * a.Angle
	for n := 0; float64(n)*widerBy <= widerMost+1e-9; n++ {
		if by := float64(n) * widerBy; s.fits(by, nil) >= goodFit {
			a.Saves = given.Is(by)
			break
		}
	}
	return a
}

// shaken is a plate drilled many times at random.
type shaken struct {
	*Proposal
	rows     []int
	plates   []holes.Part
	brackets []holes.Part // that the foot is bolted to
	turns    []float64    // rad, standard uncertainty of the angle of each row
}

func (p *Proposal) shake(off float64, rows []int) *shaken {
	s := &shaken{Proposal: p, rows: rows, turns: make([]float64, len(rows))}
	rng := rand.New(rand.NewPCG(3, 4))
	drilled := func(part *model.Part, off float64) holes.Part {
		one := holes.Part{Holes: slices.Clone(part.Holes)}
		for i := range one.Holes {
			sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
			one.Holes[i].X += off * cos
			one.Holes[i].Z += off * sin
		}
		return one
	}
	bracket := &p.Car.Parts[p.footJoint()]
	for range shakes {
		s.plates = append(s.plates, drilled(p.Plate(), off))
		if p.Bracket > 0 {
			s.brackets = append(s.brackets, drilled(bracket, off))
		} else {
			s.brackets = append(s.brackets, bracket.Part)
		}
	}
	for i, n := range rows {
		r, sum := &p.Table.Rows[n], 0.0
		for k := range s.plates {
			turn := s.turn(&s.brackets[k], &s.plates[k], r.Fits) - s.turn(&bracket.Part, &p.Plate().Part, r.Fits)
			sum += turn * turn
		}
		s.turns[i] = math.Sqrt(sum / shakes)
	}
	return s
}

// turn is the turn of the wing on the bracket with both parts' holes as drilled.
func (s *shaken) turn(bracket, plate *holes.Part, fits []*holes.Fit) float64 {
	j := s.footJoint()
	foot := at(bracket.Holes, plate.Holes, fits[j].Pairs)
	head := at(plate.Holes, s.Car.Parts[j+2].Holes, fits[j+1].Pairs)
	return foot.Turn + head.Turn
}

func at(lower, upper []holes.Hole, pairs []holes.Pair) plane.Pose {
	var l, u []plane.Point
	for _, p := range pairs {
		l, u = append(l, lower[p.Lower].At()), append(u, upper[p.Upper].At())
	}
	return plane.PoseFromPairs(l, u)
}

// fits is in how many of the plates, as a fraction, all bolts go in with holes wider by so much, mm; fine counts them for each row unless it is nil.
func (s *shaken) fits(wider float64, fine []int) float64 {
	all := 0
	car, j := s.Car, s.footJoint()
	widened := func(part holes.Part, by float64) holes.Part {
		part.Holes = slices.Clone(part.Holes)
		for i := range part.Holes {
			part.Holes[i].D += by
		}
		return part
	}
	for k := range s.plates {
		plate, bracket := widened(s.plates[k], wider), s.brackets[k]
		if s.Proposal.Bracket > 0 {
			bracket = widened(bracket, wider)
		}
		good := true
		for i, n := range s.rows {
			f := s.Table.Rows[n].Fits
			if holes.GoIn(bracket, plate, car.Joints[j].Joint, f[j].Pairs) && holes.GoIn(plate, car.Parts[j+2].Part, car.Joints[j+1].Joint, f[j+1].Pairs) {
				if fine != nil {
					fine[i]++
				}
				continue
			}
			if good = false; fine == nil {
				break
			}
		}
		if good {
			all++
		}
	}
	return float64(all) / shakes
}
