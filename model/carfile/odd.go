package carfile

import (
	"cmp"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Masses in kg, and the distance of a hinge in mm, beyond which a slip of the pen is
// likelier. Common practice, no source.
const (
	lightWing, heavyWing = 0.8, 60.0
	lightAxle            = 120.0
	farHinge             = 300.0
)

// maxOdd is how many holes that overlap are named.
const maxOdd = 12

// odd notes measures that are usable and hardly meant.
func odd(c *model.Car) []units.Phrase {
	var found []units.Phrase
	wing := c.Parts[len(c.Parts)-1]
	for _, h := range wing.Holes {
		if math.Abs(h.Z) > c.Wing.Chord/2 {
			found = append(found, units.Say("hole %q of part %q is %s off the chord line, the chord is %s", h.ID, wing.Name,
				units.MM(math.Abs(h.Z)), units.MM(c.Wing.Chord)))
		}
		if h.X < 0 || h.X > c.Wing.Chord {
			found = append(found, units.Say("hole %q of part %q is %s from the leading edge, the chord is %s", h.ID, wing.Name,
				units.MM(h.X), units.MM(c.Wing.Chord)))
		}
	}
	for i, j := range c.Joints {
		for _, p := range c.Parts[i : i+2] {
			for _, h := range p.Holes {
				if h.Joint == j.Name && h.D > 2*j.Shank {
					found = append(found, units.Say("hole %q of part %q is %s wide for an %s bolt", h.ID, p.Name, units.FineMM(h.D), j.Bolt))
				}
			}
		}
	}
	for _, p := range c.Parts[:len(c.Parts)-1] {
		told := map[string]bool{}
		for _, h := range p.Holes {
			name := cmp.Or(h.Slot, h.ID)
			if _, metal := p.EdgeDistance(h.At()); p.Outline != nil && !metal && !told[name] {
				told[name] = true
				found = append(found, units.Say("hole %q of part %q lies outside of its outline", name, p.Name))
			}
		}
	}
	for _, p := range c.Parts[:len(c.Parts)-1] {
		if p.BorderLike() {
			found = append(found, units.Say("the outline of part %q is a rectangle far around all its holes: is it the border of a drawing?", p.Name))
		}
	}
	if design, ok := c.DesignSpeed.Get(); ok && design < c.Speed {
		found = append(found, units.Say("the design speed of %s is below the chosen speed of %s: strength is checked at less than you look at", units.MetresPerSecond(design), units.MetresPerSecond(c.Speed)))
	}
	if m, ok := c.Wing.Mass.Get(); ok && (m < lightWing || m > heavyWing) {
		found = append(found, units.Say("the wing weighs %s", units.Kilograms(m)))
	}
	for i, m := range [2]float64{c.FrontMass, c.RearMass} {
		if m < lightAxle {
			found = append(found, units.Say("the mass on the %s axle is %s", [2]string{"front", "rear"}[i], units.Kilograms(m)))
		}
	}
	if l := c.Lid; l.Outline != nil {
		if far, _ := plane.EdgeDistance(l.Outline, l.Hinge); far > farHinge {
			found = append(found, units.Say("the lid's hinge is %s from its outline", units.MM(far)))
		}
		_, middle := plane.Area(l.Outline)
		if plane.About(l.Hinge, l.Open).Apply(middle).Z < middle.Z {
			found = append(found, units.Say("the lid swings down when it opens: open is positive when its rear edge rises"))
		}
	}
	if w := c.Wing; w.Plate.Height > 0 && (math.Abs(w.Plate.Above) > w.Plate.Height || w.Plate.Ahead > w.Plate.Length ||
		w.Plate.Ahead < -w.Chord) {
		found = append(found, units.Say("the end plates do not overlap the wing tips; check end_plate ahead and above"))
	}
	if w := c.Wing; w.TipChord > 1.5*w.Chord {
		found = append(found, units.Say("the wing's tips have a chord of %s, its middle %s", units.MM(w.TipChord), units.MM(w.Chord)))
	}
	if c.Fixed.Z > 2500 {
		found = append(found, units.Say("part %q is fixed %s above ground", c.Parts[0].Name, units.MM(c.Fixed.Z)))
	}
	return found[:min(len(found), maxOdd)]
}
