package drawing

import (
	"cmp"

	"stanchion/model"
)

// boltOf returns the bolts that a part's hole may take, by the joints that it is for; "" for none.
func boltOf(c *model.Car, index int, r row) string {
	bolts := ""
	add := func(name string, shank float64) {
		if name == "" || r.d < shank || bolts == name {
			return
		}
		if bolts != "" {
			bolts += " or "
		}
		bolts += name
	}
	if index == 0 && r.joint == model.ChassisJoint {
		add(c.Chassis.Bolt, c.Chassis.Shank)
		return bolts
	}
	for j := max(index-1, 0); j <= index && j < len(c.Joints); j++ {
		if joint := c.Joints[j]; r.joint == "" || r.joint == joint.Name {
			add(joint.Bolt, joint.Shank)
		}
	}
	return bolts
}

// mayBeOff returns by how much each hole or slot of a part may be off its place, mm, so that every setting that it is of
// still bolts when the part on the other side is off as much: half of what each bolt's clearance leaves over how far the centres are
// apart as drawn. For two bolts it is a quarter of both clearances less the difference of the spacings. A hole of no setting is
// not in it.
func mayBeOff(c *model.Car, index int) map[string]float64 {
	least := map[string]float64{}
	settings, err := c.Chain().Settings()
	if err != nil {
		return nil
	}
	for _, s := range settings {
		for j, f := range s.Fits {
			if j != index && j != index-1 {
				continue
			}
			for _, q := range f.Pairs {
				l, u := c.Parts[j].Holes[q.Lower], c.Parts[j+1].Holes[q.Upper]
				apart := l.At().Distance(f.Pose.Apply(u.At()))
				off := max(0, ((l.D+u.D)/2-c.Joints[j].Shank-apart)/2)
				own := l
				if j != index {
					own = u
				}
				id := cmp.Or(own.Slot, own.ID)
				if old, ok := least[id]; !ok || off < old {
					least[id] = off
				}
			}
		}
	}
	return least
}
