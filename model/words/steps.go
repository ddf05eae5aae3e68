package words

import (
	"fmt"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/hardware"
	"stanchion/model/units"
)

// BoltLines says in one line a joint which holes take bolts, the joint next to
// the car first: "foot: bracket 1–upright k1, 2–k2".
func BoltLines(c *model.Car, s *holes.Setting) []string {
	var lines []string
	for j, pairs := range c.Bolts(s) {
		var b strings.Builder
		fmt.Fprintf(&b, "%s: ", c.Joints[j].Name)
		for i, q := range pairs {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(&b, "%s in %s", q[1], q[0])
		}
		lines = append(lines, b.String())
	}
	return lines
}

// BoltsInShort is BoltLines with the word that joins two holes said once a line.
func BoltsInShort(c *model.Car, s *holes.Setting) []string {
	var lines []string
	for j, pairs := range c.Bolts(s) {
		line := c.Joints[j].Name + ": "
		for i, q := range pairs {
			if i == 0 {
				line += q[1] + " in " + q[0]
			} else {
				line += ", " + q[1] + " " + q[0]
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// Steps says how to bolt a setting, in the order of the work.
func Steps(c *model.Car, r *model.Row, u units.System) []string {
	var steps []string
	for j, pairs := range c.Bolts(r.Setting) {
		lower, upper, joint := c.Parts[j].Name, c.Parts[j+1].Name, c.Joints[j]
		steps = append(steps, fmt.Sprintf("Joint %s: hold the %s against the %s. It takes %d bolts %s.",
			joint.Name, upper, lower, len(pairs), boltName(joint)))
		for _, q := range pairs {
			steps = append(steps, fmt.Sprintf("Put a bolt through %s of the %s and %s of the %s, finger-tight.", hole(c, j, q[0]), lower,
				hole(c, j+1, q[1]), upper))
		}
	}
	steps = append(steps, "Do the same on the other side of the car, with the same holes.")
	check := fmt.Sprintf("Check with the car on level ground: chord line at %s° to the ground (trailing edge %s), quarter-chord point, %s behind the leading edge, %s above the ground.",
		units.Fixed(r.Angle/plane.Deg, 1), upOrDown(r.Angle), u.Dimension(c.Wing.Chord/4), u.Length(r.Height))
	if r.Play > 0.05*plane.Deg {
		check += fmt.Sprintf(" The holes let it turn by up to %.1f° either way: hold it at the angle while tightening.", r.Play/plane.Deg)
	}
	steps = append(steps, check)
	for _, j := range hardware.Of(c, *r.Setting) {
		if text := tightenStep(j, u); text != "" {
			steps = append(steps, text)
		}
	}
	return append(steps, "Check all bolts again after the first laps.")
}

// tightenStep says how tight a joint's bolts go; "" for the chassis, which stays as it is.
func tightenStep(j hardware.Joint, u units.System) string {
	switch {
	case j.Name == model.ChassisJoint && j.Nut == model.NutNotSaid && j.Grip != j.Grip:
		return ""
	case j.Nut == model.Insert || j.Nut == model.RivetNut:
		return fmt.Sprintf("Tighten joint %s to what the maker of its inserts allows.", j.Name)
	case j.Nut == model.TappedHole:
		return fmt.Sprintf("Tighten joint %s by the torque on the page of strength: its tapped thread may allow less than the bolt.", j.Name)
	case !j.Tightened:
		return fmt.Sprintf("Tighten joint %s to the torque for its bolts' size and grade.", j.Name)
	}
	return fmt.Sprintf("Tighten joint %s to %s %s (%s %s, dry; VDI 2230).", j.Name, torque(j.Tight.Torque, u), u.MomentUnit(), j.Size.Name, j.Grade.Name)
}

func boltName(j model.Joint) string {
	if j.Grade == "" {
		return j.Bolt
	}
	return j.Bolt + " grade " + j.Grade
}

func upOrDown(angle float64) string {
	switch {
	case angle > 0:
		return "up"
	case angle < 0:
		return "down"
	}
	return "level"
}

// hole names a hole, or says where in a slot the bolt sits.
func hole(c *model.Car, part int, id string) string {
	for _, h := range c.Parts[part].Holes {
		if h.ID != id || h.Slot == "" {
			continue
		}
		if s, ok := c.Parts[part].Slot(h.Slot); ok {
			return fmt.Sprintf("slot %s (its centre %s)", h.Slot, s.Where(h.Distance))
		}
	}
	return "hole " + id
}
