package strength

import (
	"math"

	"stanchion/model"
)

// PlateMass is what a plate weighs without its holes, slots and cut-outs, kg; ok is false where its outline, thickness or
// material is not known. Holes that run into each other are each taken off whole. Expect 1 % from rolling.
func PlateMass(p *model.Part) (kg float64, ok bool) {
	t, given := p.Thickness.Get()
	if !given || p.Outline == nil {
		return 0, false
	}
	m, why := lookup(p.Material, t)
	if why != "" {
		return 0, false
	}
	area, _ := p.Area()
	for _, h := range p.Holes {
		if h.Slot == "" {
			area -= math.Pi / 4 * h.D * h.D
		}
	}
	for _, s := range p.Slots { // an arc's width is swept along its middle line: exact, by Pappus
		area -= s.D*s.Length() + math.Pi/4*s.D*s.D
	}
	return area * t * 1e-9 * m.density, true
}
