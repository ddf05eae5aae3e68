package model

import (
	"math"
	"sort"

	"stanchion/holes"
)

// Place is one setting and where it puts the wing, whatever the speed.
type Place struct {
	*holes.Setting
	Pose   holes.Pose // of the wing's frame on the ground
	X      float64    // mm behind the rear axle, of the quarter-chord point
	Height float64    // mm above ground, of the quarter-chord point
	Top    float64    // mm above ground, of the highest point of the wing and its end plates
	Rear   float64    // mm behind the rear axle, of the rearmost point
	Angle  float64    // rad, chord line against the ground
	Gap    Gap        // to body and lid
}

// Places lists every setting of the car with its place, by height, then angle,
// then id. Heights within a micrometre and angles within 1e-6° count as equal.
func (c *Car) Places() ([]Place, error) {
	settings, err := c.Chain().Settings()
	if err != nil {
		return nil, err
	}
	ground := c.Ground()
	quarter := c.Wing.quarterChord()
	section, _ := c.Wing.Outline()
	outline := holes.Hull(append(section, c.Wing.PlateOutline()...))
	around, shapes := c.surroundings(), c.Wing.solids()
	places := make([]Place, len(settings))
	for i := range settings {
		s := &settings[i]
		p := Place{Setting: s, Pose: ground.Then(s.Pose), Top: math.Inf(-1), Rear: math.Inf(-1)}
		at := p.Pose.Apply(quarter)
		p.X, p.Height, p.Angle = at.X, at.Z, math.Remainder(p.Pose.Turn, 2*math.Pi)
		sin, cos := math.Sincos(p.Pose.Turn)
		for _, u := range outline {
			p.Rear = max(p.Rear, cos*u.X-sin*u.Z+p.Pose.X)
			p.Top = max(p.Top, sin*u.X+cos*u.Z+p.Pose.Z)
		}
		if c.hasBody() {
			p.Gap = c.gap(&p, shapes, around)
		}
		places[i] = p
	}
	sort.Slice(places, func(a, b int) bool { return places[a].before(&places[b]) })
	return places, nil
}

func (p *Place) before(q *Place) bool {
	if a, b := math.Round(p.Height*1e3), math.Round(q.Height*1e3); a != b {
		return a < b
	}
	if a, b := math.Round(p.Angle/Deg*1e6), math.Round(q.Angle/Deg*1e6); a != b {
		return a < b
	}
	return p.ID < q.ID
}
