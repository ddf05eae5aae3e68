// Package template answers: a plate is made of plywood first, so what is another size than in metal? Holes as drilled in wood and the play
// that leaves, length of bolts, and by how much what is bolted to its outer face moves sideways. It says nothing of loads: a wooden plate carries none.
//
// Lengths are in mm, angles in rad.
package template

import (
	"errors"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
	"stanchion/model/hardware"
)

// Thicknesses of plywood that a template may have, mm.
const Thinnest, Thickest = 3.0, 40.0

// Template is a plate in plywood.
type Template struct {
	Part      *model.Part // of the car
	Thickness float64     // mm
	Car       *model.Car  // with the plate in plywood in its place

	Drills []Drill
	Loose  bool   // holes as wide as the plate's, since some settings do not go in with tight ones
	All    int    // settings that the plate gives
	Outer  string // the part on its outer face; "" for the wing

	Known   bool    // what follows is known: there are settings
	Wooden  float64 // rad either way, the most that the bolts' play turns the wing on the template
	Metal   float64 // on the plate
	Apart   float64 // the most that the angles on the two may differ by play, at one setting
	Pitch   float64 // mm, between the wing's outermost holes; 0 where it has fewer than two
	Bolts   []Bolt
	Sideway float64 // mm, by which its outer face lies further out than the plate's; NaN where that has no thickness
}

// Drill is a diameter in wood that takes the place of one in the plate.
type Drill struct {
	Joint       string
	Plate, Wood float64 // mm
	Holes       int
}

// Bolt is what a joint takes with the plate, and with the template.
type Bolt struct {
	Joint, Size string
	Plate, Wood float64 // mm, lengths; NaN where they cannot be said
}

// ErrNotPlate says that a part is no plate between others.
var ErrNotPlate = errors.New("not a plate between the fixed part and the wing")

// Of makes a template of a part. Its holes are drilled to the size of their bolts, or as wide as the plate's where bolts would not go in at all settings
// that the plate gives: plywood drilled with a bit of the bolt's size takes the bolt tightly (common practice, no source). The error is ErrNotPlate or the engine's.
func Of(c *model.Car, part int, thickness float64) (*Template, error) {
	if part < 1 || part >= len(c.Parts)-1 {
		return nil, ErrNotPlate
	}
	t := &Template{Part: &c.Parts[part], Thickness: thickness, Sideway: math.NaN()}
	if part < len(c.Parts)-2 {
		t.Outer = c.Parts[part+1].Name
	}
	if plate, ok := t.Part.Thickness.Get(); ok {
		t.Sideway = thickness - plate
	}
	for _, h := range c.Parts[len(c.Parts)-1].Holes {
		for _, o := range c.Parts[len(c.Parts)-1].Holes {
			t.Pitch = max(t.Pitch, h.At().Distance(o.At()))
		}
	}
	places, err := c.Positions()
	if err != nil {
		return nil, err
	}
	t.All = len(places)
	var wooden []model.Position
	for _, t.Loose = range []bool{false, true} {
		t.Car, t.Drills = inWood(c, part, thickness, t.Loose)
		if wooden, err = t.Car.Positions(); err != nil {
			return nil, err
		}
		if t.compare(places, wooden) {
			break
		}
	}
	if len(places) > 0 {
		t.bolts(c, part, places[0].Setting)
	}
	return t, nil
}

// inWood is a car with a plate in plywood.
func inWood(c *model.Car, part int, thickness float64, loose bool) (*model.Car, []Drill) {
	next := *c
	next.Parts = slices.Clone(c.Parts)
	p := &next.Parts[part]
	p.Thickness, p.Material = given.Is(thickness), "plywood"
	p.Holes, p.Slots = slices.Clone(p.Holes), slices.Clone(p.Slots)
	var drills []Drill
	width := func(d float64, joint string) float64 {
		name, wood := bolted(c, part, d, joint, loose)
		i := slices.IndexFunc(drills, func(o Drill) bool { return o.Joint == name && o.Plate == d })
		if i < 0 {
			i, drills = len(drills), append(drills, Drill{name, d, wood, 0})
		}
		drills[i].Holes++
		return wood
	}
	slotted := map[string]float64{}
	for i := range p.Slots {
		s := &p.Slots[i]
		s.D = width(s.D, s.Joint)
		slotted[s.ID] = s.D
	}
	for i := range p.Holes {
		h := &p.Holes[i]
		if h.Slot != "" {
			h.D = slotted[h.Slot]
			continue
		}
		h.D = width(h.D, h.Joint)
	}
	return &next, drills
}

// bolted is the joint of a hole, and how wide it is in wood: the thickest bolt that goes into it.
func bolted(c *model.Car, part int, d float64, joint string, loose bool) (name string, wood float64) {
	for i := part - 1; i <= part && i < len(c.Joints); i++ {
		if j := c.Joints[i]; (joint == "" || joint == j.Name) && j.Shank > wood && j.Shank <= d {
			name, wood = j.Name, j.Shank
		}
	}
	if wood == 0 || loose {
		return name, d
	}
	return name, wood
}

// Where the wing is the same place with template and plate.
const (
	sameMM   = 0.5
	sameTurn = 0.1 * plane.Deg
)

// compare finds how far play turns the wing on the plate and on the template; all is false where the template lacks a setting.
func (t *Template) compare(plate, wooden []model.Position) (all bool) {
	t.Wooden, t.Metal, t.Apart, t.Known, all = 0, 0, 0, false, true
	for i := range plate {
		p := &plate[i]
		best := -1
		at, _ := slices.BinarySearchFunc(wooden, p.Height-sameMM, func(q model.Position, h float64) int {
			if q.Height < h {
				return -1
			}
			return 1
		})
		for k := at; k < len(wooden) && wooden[k].Height <= p.Height+sameMM; k++ {
			q := &wooden[k]
			if math.Abs(q.X-p.X) < sameMM && math.Abs(q.Angle-p.Angle) < sameTurn && (best < 0 || q.ID == p.ID) {
				best = k
			}
		}
		if best < 0 {
			all = false
			continue
		}
		q := &wooden[best]
		t.Known = true
		t.Wooden, t.Metal, t.Apart = max(t.Wooden, q.Play), max(t.Metal, p.Play), max(t.Apart, p.Play+q.Play)
	}
	return all
}

// bolts works out what the joints of the plate take.
func (t *Template) bolts(c *model.Car, part int, s *holes.Setting) {
	plate, wooden := hardware.Of(c, *s), hardware.Of(t.Car, *s)
	for i := range plate {
		j := &plate[i]
		if j.Name != c.Joints[part-1].Name && (part >= len(c.Joints) || j.Name != c.Joints[part].Name) {
			continue
		}
		b := Bolt{Joint: j.Name, Plate: j.Length, Wood: wooden[i].Length}
		if size, ok := fastener.Lookup(boltOf(c, j.Name)); ok {
			b.Size = size.Name
		}
		t.Bolts = append(t.Bolts, b)
	}
}

func boltOf(c *model.Car, joint string) string {
	for _, j := range c.Joints {
		if j.Name == joint {
			return j.Bolt
		}
	}
	return ""
}
