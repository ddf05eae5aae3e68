package fem

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

// Plate is a flat plate and what it is made of.
type Plate struct {
	Shape     *sheet.Shape
	Thickness float64 // mm
	Elastic   float64 // MPa, E
	Poisson   float64
	Density   float64 // t/mm³
}

// Foot is what holds a plate: bolts, or, without any, the line at the shape's floor, along
// which it is clamped.
type Foot struct {
	Bolts []Bolt
	Soft  float64 // of the plate's stiffness through its thickness, E/t, that a washer gives; 0 for 1
	Rigid bool    // the washers hold the slopes too, as no bolt does: the stiff bound
}

// Solver is a plate that is held, ready for loads.
type Solver struct {
	Plate Plate
	H     float64 // mm, side of the cells

	grid     *grid
	material elastic
	foot     [][]spot   // of each bolt
	shear    []float64  // N/mm³ of each bolt in the plane
	across   float64    // N/mm³ under the washers
	plan     *condensed // factors
	side     *condensed
	area     float64 // mm² of metal
	nodes    int
}

// Coarsest and finest cells, mm.
const (
	coarsest = 6.0
	finest   = 1.5
)

// CellSize is the side of cells that a plate asks for, mm: no more than 6 mm or three times its
// thickness, a third of its narrowest ligament, half its narrowest slot; no less than 1.5 mm, and
// so that its box takes no more than most cells.
func (p Plate) CellSize(most int) float64 {
	h := min(coarsest, 3*p.Thickness, p.Shape.Narrowest()/3)
	for _, t := range p.Shape.Slots {
		h = min(h, t.Radius)
	}
	lo, hi := p.Shape.Box()
	area, _ := plane.Area(p.Shape.Outline)
	area = min(math.Abs(area), (hi.X-lo.X)*(hi.Z-lo.Z))
	return max(h, finest, math.Sqrt(area/float64(most)))
}

// errNoMetal is returned for a plate without any.
var errNoMetal = errors.New("there is no metal")

// New makes a plate ready in cells of h mm. Its error says what is not held or has no metal.
func New(p Plate, f Foot, h float64) (*Solver, error) {
	s := &Solver{Plate: p, H: h, material: elastic{p.Thickness, p.Elastic, p.Poisson, p.Density}}
	s.grid = lay(p.Shape, h)
	if len(s.grid.cells) == 0 {
		return nil, errNoMetal
	}
	if err := s.hold(f); err != nil {
		return nil, err
	}
	for e := range s.grid.cells {
		s.area += s.grid.cells[e].share * h * h
	}
	s.plan = s.grid.stiffness(s.nodes, 2, func(r []sample) []float64 { k := s.material.membrane(r, h); return k[:] })
	s.side = s.grid.stiffness(s.nodes, 3, func(r []sample) []float64 { k := s.material.bending(r, h); return k[:] })
	s.springs(f)
	var wait sync.WaitGroup
	var errs [2]error
	wait.Go(func() { errs[0] = s.plan.factor() })
	wait.Go(func() { errs[1] = s.side.factor() })
	wait.Wait()
	return s, errors.Join(errs[0], errs[1])
}

// hold finds what holds the plate, keeps the cells that hang together with it, and numbers them.
func (s *Solver) hold(f Foot) error {
	var keep []int
	index := map[*cell]int{}
	for e := range s.grid.cells {
		index[&s.grid.cells[e]] = e
	}
	take := func(spots []spot) {
		for _, p := range spots {
			keep = append(keep, index[p.cell])
		}
		s.foot = append(s.foot, spots)
	}
	for _, b := range f.Bolts {
		spots, err := s.grid.ring(b)
		if err != nil {
			return err
		}
		take(spots)
	}
	if len(f.Bolts) == 0 {
		line := s.grid.line()
		if len(line) == 0 {
			return fmt.Errorf("there is no metal along the line that holds it, z = %.1f", s.Plate.Shape.Floor)
		}
		take(line)
	}
	s.nodes = s.grid.number(keep)
	return nil
}

// line returns places along the shape's floor, just above it, each with the length in mm that it stands for.
func (g *grid) line() []spot {
	var all []spot
	step := g.h / 4
	lo, _ := g.shape.Box()
	z := lo.Z + g.h/raster
	for k := range g.cols * 4 {
		p := plane.Point{X: g.origin.X + (float64(k)+0.5)*step, Z: z}
		e, a, b, ok := g.find(p)
		if ok && g.shape.Inside(p) {
			n, _, _ := shape(a, b)
			all = append(all, spot{&g.cells[e], n, p, step})
		}
	}
	return all
}

// clamp is how many times stiffer than the plate itself a clamped line is.
const clamp = 1e4

// springs adds what holds the plate to its stiffness. A washer presses on it through its
// thickness, E/t over the ring, a bolt's shank in its hole.
func (s *Solver) springs(f Foot) {
	soft := f.Soft
	if soft == 0 {
		soft = 1
	}
	s.across = soft * s.Plate.Elastic / s.Plate.Thickness
	for i, b := range f.Bolts {
		area := 0.0
		for _, p := range s.foot[i] {
			area += p.area
		}
		s.shear = append(s.shear, b.Shear/area)
		for _, p := range s.foot[i] {
			spread(s.plan, 2, 0, p, s.shear[i])
			spread(s.plan, 2, 1, p, s.shear[i])
			spread(s.side, 3, 0, p, s.across)
			if f.Rigid {
				spread(s.side, 3, 1, p, s.across*s.Plate.Thickness*s.Plate.Thickness)
				spread(s.side, 3, 2, p, s.across*s.Plate.Thickness*s.Plate.Thickness)
			}
		}
	}
	if len(f.Bolts) > 0 {
		return
	}
	s.shear, s.across = []float64{clamp * s.Plate.Elastic}, clamp*s.Plate.Elastic
	t := s.Plate.Thickness
	for _, p := range s.foot[0] {
		spread(s.plan, 2, 0, p, s.shear[0])
		spread(s.plan, 2, 1, p, s.shear[0])
		spread(s.side, 3, 0, p, s.across)
		spread(s.side, 3, 1, p, s.across*t*t)
		spread(s.side, 3, 2, p, s.across*t*t)
	}
}

// spread adds a spring of so much to the area at a spot, on one of the unknowns of a node.
func spread(m *condensed, unknowns, which int, p spot, per float64) {
	for i, a := range p.cell.nodes {
		for j, b := range p.cell.nodes {
			if b >= a {
				m.add(a*unknowns+which, b*unknowns+which, per*p.area*p.n[i]*p.n[j])
			}
		}
	}
}

// HuthShear returns the stiffness of a bolt of diameter d through two plates in shear, N/mm:
// 1/C with
//
//	C = ((t1+t2)/(2d))^(2/3) · 3 · (1/(t1 E1) + 1/(t2 E2) + 1/(2 t1 E3) + 1/(2 t2 E3))
//
// for bolts through metal. Source: H. Huth, "Influence of Fastener Flexibility on the
// Prediction of Load Transfer and Fatigue Life for Multiple-Row Joints", ASTM STP 927 (1986),
// a = 2/3, b = 3, single shear.
func HuthShear(d, t1, e1, t2, e2, bolt float64) float64 {
	c := math.Pow((t1+t2)/(2*d), 2.0/3) * 3 * (1/(t1*e1) + 1/(t2*e2) + 1/(2*t1*bolt) + 1/(2*t2*bolt))
	return 1 / c
}
