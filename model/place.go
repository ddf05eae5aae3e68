package model

import (
	"math"
	"sort"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/clearance"
)

// Position is one setting and where it puts the wing, whatever the speed.
type Position struct {
	*holes.Setting
	Pose   plane.Pose    // of the wing's frame on the ground
	X      float64       // mm behind the rear axle, of the quarter-chord point
	Height float64       // mm above ground, of the quarter-chord point
	Top    float64       // mm above ground, of the highest point of the wing and its end plates
	Rear   float64       // mm behind the rear axle, of the rearmost point
	Angle  float64       // rad, chord line against the ground
	Gap    clearance.Gap // to body and lid
	Struts Struts
	Deck   DeckEffect // zero where the body is not known
}

// Positions lists every setting of the car with its place, by height, then angle,
// then id. Heights within a micrometre and angles within 1e-6° count as equal.
func (c *Car) Positions() ([]Position, error) {
	settings, err := c.Chain().Settings()
	if err != nil {
		return nil, err
	}
	site := c.site()
	places := make([]Position, len(settings))
	for i := range settings {
		places[i] = site.place(&settings[i])
	}
	c.decks(places)
	sort.Slice(places, func(a, b int) bool { return places[a].before(&places[b]) })
	return places, nil
}

// PositionOf puts one setting on the car.
func (c *Car) PositionOf(s *holes.Setting) Position {
	one := []Position{c.site().place(s)}
	c.decks(one)
	return one[0]
}

// site is what all settings of a car have in common when they are put on it.
type site struct {
	car     *Car
	ground  plane.Pose
	quarter plane.Point
	outline []plane.Point // of wing and end plates
	around  clearance.Car
	wing    []clearance.Shape // in the wing's own frame
}

func (c *Car) site() site {
	section, _ := c.Wing.Outline()
	return site{c, c.Ground(), c.Wing.QuarterChord(), plane.Hull(append(section, c.Wing.PlateOutline()...)), c.Surroundings(), c.Wing.shapes()}
}

func (on site) place(s *holes.Setting) Position {
	p := Position{Setting: s, Pose: on.ground.Then(s.Pose), Top: math.Inf(-1), Rear: math.Inf(-1)}
	at := p.Pose.Apply(on.quarter)
	p.X, p.Height, p.Angle = at.X, at.Z, math.Remainder(p.Pose.Turn, 2*math.Pi)
	sin, cos := math.Sincos(p.Pose.Turn)
	for _, u := range on.outline {
		p.Rear = max(p.Rear, cos*u.X-sin*u.Z+p.Pose.X)
		p.Top = max(p.Top, sin*u.X+cos*u.Z+p.Pose.Z)
	}
	if on.around.Known() {
		p.Gap = on.gap(&p)
	}
	p.Struts = on.struts(&p, s)
	return p
}

func (p *Position) before(q *Position) bool {
	if a, b := math.Round(p.Height*1e3), math.Round(q.Height*1e3); a != b {
		return a < b
	}
	if a, b := math.Round(p.Angle/plane.Deg*1e6), math.Round(q.Angle/plane.Deg*1e6); a != b {
		return a < b
	}
	return p.ID < q.ID
}
