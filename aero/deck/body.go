package deck

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
)

// Body is a car's body: its profile over its whole width, down to the ground.
type Body struct {
	// Profile is the outline in the side view, open or closed, in the order in which it is
	// drawn, either way round. Only its upper side counts. It may start at the nose or
	// anywhere ahead of the rear window; where it starts in mid-body, the roof is taken to go
	// on ahead of it. Faces steeper than 45° at its rear end, with a bumper below them, are
	// behind the tail.
	Profile []Point
	Width   float64 // m
}

// Deck is a body that is ready for wings. It may be used by several goroutines at once.
type Deck struct {
	around  []Point // the upper side with the prolongation ahead and the wake behind
	slices  []Point // the ends of the slices of the profile itself
	width   float64
	mesh    mesh
	ground  bool
	panels  []panel
	counted int        // the panels, first in the list, whose pressures are wanted
	along   *mat.Dense // velocity along x at these, of unit sources on each panel
	wakes   [2]mat.LU  // what sources do at each panel, for a solid and a free wake
}

const (
	longest = 30.0 // m, beyond which nothing belongs to a car
	lowest  = 0.05 // m, at which a lower part of a profile is taken to be

	mostPoints = 30 // of an upper side
)

// New returns a body ready for wings. Time: about 0.05 s on two processors.
func New(b Body) (*Deck, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	top := upperSide(b.Profile)
	// A rough line, from a photograph for instance, would make more panels than can be solved in time.
	for tol := fineness(b.Width) / 10; ; tol *= 1.5 {
		if top = simplified(top, tol); len(top) <= mostPoints {
			break
		}
	}
	for i := range top {
		top[i].Z = max(top[i].Z, lowest)
	}
	top = toTail(top)
	if len(top) < 2 || top[len(top)-1].X-top[0].X < 0.2 {
		return nil, errors.New("the body's profile covers less than 0.2 m from front to tail; draw it from the roof to the tail")
	}
	return build(top, b.Width, standard(top, b.Width))
}

// toTail cuts an upper side off where the flow leaves the body: ahead of a drop steeper than
// 45° behind which there is less length than it drops, a bumper for instance.
func toTail(top []Point) []Point {
	for i := len(top) - 1; i > 0; i-- {
		p, q := top[i-1], top[i]
		if drop := p.Z - q.Z; drop > q.X-p.X && drop > top[len(top)-1].X-q.X {
			top = top[:i]
		}
	}
	return top
}

func (b Body) check() error {
	var all []error
	if len(b.Profile) < 2 {
		all = append(all, fmt.Errorf("the body's profile has %d points; at least 2 are needed", len(b.Profile)))
	}
	for i, p := range b.Profile {
		// Written so that NaN is caught too.
		if !(math.Abs(p.X) <= longest && p.Z >= 0 && p.Z <= longest) {
			all = append(all, fmt.Errorf("point %d of the body's profile is at x %g m, z %g m; x must be within %g m of the rear axle, z from 0 to %g m",
				i+1, p.X, p.Z, longest, longest))
		}
	}
	if !(b.Width >= 0.1 && b.Width <= longest) {
		all = append(all, fmt.Errorf("the body's width is %g m; it must be 0.1 to %g m", b.Width, longest))
	}
	return errors.Join(all...)
}

// build lays the panels of an upper side and factorises what they do to one another.
func build(profile []Point, width float64, m mesh) (*Deck, error) {
	line, first, last := m.cuts(profile)
	return assemble(line, first, last, width, m)
}

// assemble does so for a profile that is cut into panels already.
func assemble(line []Point, first, last int, width float64, m mesh) (*Deck, error) {
	d := &Deck{around: line, slices: line[first : last+1], width: width, mesh: m, ground: !m.air}
	d.order(m.panels(line, first, last, width))
	n := len(d.panels)
	solid, free := mat.NewDense(n, n, nil), mat.NewDense(n, n, nil)
	d.along = mat.NewDense(d.counted, n, nil)
	aero.OnAll(n, func(i int) {
		p := &d.panels[i]
		for k := range d.panels {
			u := d.panels[k].symmetric(p.at, d.ground)
			solid.Set(i, k, u.dot(p.normal))
			if i < d.counted {
				d.along.Set(i, k, u[0])
			}
		}
	})
	free.Copy(solid)
	d.freeWake(free)
	for i, a := range []*mat.Dense{solid, free} {
		d.wakes[i].Factorize(a)
		if c := d.wakes[i].Cond(); !(c < 1e12) {
			return nil, errors.New("the body's panels cannot be solved; draw the profile with fewer points")
		}
	}
	return d, nil
}

// freeWake replaces the equations of the wake's panels by ones that keep the potential from
// changing along the stream, and so the pressure at what it is without the wing: from the last
// panel of the body on, so that the flow leaves the tail at that pressure (Kutta).
func (d *Deck) freeWake(a *mat.Dense) {
	n := len(d.panels)
	wanted := make([]bool, n)
	for i, p := range d.panels {
		if p.ahead >= 0 {
			wanted[i], wanted[p.ahead] = true, true
		}
	}
	potential := make([][]float64, n)
	aero.OnAll(n, func(i int) {
		if !wanted[i] {
			return
		}
		potential[i] = make([]float64, n)
		for k := range d.panels {
			potential[i][k] = d.panels[k].symmetricPotential(d.panels[i].at, d.ground)
		}
	})
	for i, p := range d.panels {
		if p.ahead >= 0 {
			floats.SubTo(a.RawRowView(i), potential[i], potential[p.ahead])
		}
	}
}

// order puts the panels whose pressures are wanted first.
func (d *Deck) order(panels []panel) {
	to := make([]int, len(panels))
	for _, wanted := range []bool{true, false} {
		for i, p := range panels {
			if (p.slice >= 0) == wanted {
				to[i] = len(d.panels)
				d.panels = append(d.panels, p)
			}
		}
		if wanted {
			d.counted = len(d.panels)
		}
	}
	for i := range d.panels {
		if k := d.panels[i].ahead; k >= 0 {
			d.panels[i].ahead = to[k]
		}
	}
}
