package words

import (
	"fmt"
	"strings"

	"stanchion/model"
	"stanchion/model/hardware"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// BetweenSessions is the list of what to look at between sessions with a setting on the car. r is its strength, nil where it is
// not checked, and why says so.
func BetweenSessions(f *strength.Analysis, r *strength.Result, why error, t *model.Table, row *model.Row, named bool, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	box := func(format string, args ...any) { add("[ ] "+format, args...) }
	c := t.Car
	which := ""
	if !named && r != nil {
		which = ", which uses most of its strength of those that break no limit"
	}
	add("%s: checks between sessions, setting %s%s", c.Name, t.Name(row.Setting), which)
	for _, o := range Outside(row, u) {
		add("BREAKS A LIMIT: %s", o)
	}
	if r != nil {
		add("At %s: %s.", u.Speed(f.Table.Speed), ResultHeadline(f, *r, u))
		if above := AboveDesign(f, t.Speed, u); above != "" {
			add("%s", above)
		}
	} else {
		add("STRENGTH NOT CHECKED: %v.", why)
	}
	add("")
	add("After the first laps, then before and after every session, on both sides:")
	inserts := false
	for _, j := range hardware.Of(c, *row.Setting) {
		at := ""
		for i, joint := range c.Joints {
			if joint.Name == j.Name {
				at = ", at " + strings.Join(lowerHoles(c, row, i), ", ")
			}
		}
		box("torque of joint %s%s: %s, %s", j.Name, at, BoltOf(j, u), TorqueOf(f, j, u))
		inserts = inserts || j.Nut == model.Insert || j.Nut == model.RivetNut
	}
	box("a paint mark over each nut or head and its plate: unbroken; a new one after each tightening")
	if inserts {
		box("inserts of the wing: none turns, lifts or has white dust around it")
	}
	box("wing by hand at both tips, up and back: no click, no play that was not there before")
	if c.Lid.Outline != nil {
		box("lid: pins or latch home, hinges tight, no mark of a part that touches it")
	}
	box("end plates: screws tight, no crack at their holes")
	add("")
	add("Cracks, with the plates wiped clean and a torch held flat; after every session, and at once after a kerb strike:")
	lines = append(lines, crackLines(f, r, why, u)...)
	box("all holes, bends, welds and inner corners of the plates, from both sides")
	add("")
	add("After a kerb strike, a spin or a touch: all of the above before the car goes out again. A crack, or a bolt that has turned twice: the wing comes off.")
	add("")
	add("date        laps   what was found                      done by")
	for range 6 {
		add("________    ____   ________________________________    ________")
	}
	add("")
	add("No list replaces an engineer's inspection. %s", Caution)
	return lines
}

// lowerHoles names the holes of the lower part that a joint's bolts are in.
func lowerHoles(c *model.Car, row *model.Row, joint int) (all []string) {
	for _, q := range c.Bolts(row.Setting)[joint] {
		all = append(all, q[0])
	}
	return all
}

// crackLines names the places of the plates that use most of their strength.
func crackLines(f *strength.Analysis, r *strength.Result, why error, u units.System) []string {
	if r == nil {
		return []string{fmt.Sprintf("  Where the plates are loaded most is NOT CHECKED: %v.", why)}
	}
	hot := f.HotPlaces(*r)
	if len(hot) == 0 {
		return []string{"  Where the plates are loaded most is NOT CHECKED: they are not solved as drawn, see \"stanchion strength\"."}
	}
	var lines []string
	for _, h := range hot {
		beside := ""
		if h.Hole != "" {
			beside = ", nearest hole " + h.Hole
		}
		lines = append(lines, fmt.Sprintf("[ ] %s at %s%s: %s of strength used there at %s", h.Part, partPlace(h.At, u), beside, UsedPercent(h.Share),
			u.Speed(f.Table.Speed)))
	}
	lines = append(lines, "  Places are in each plate's own frame, x to the rear and z up, as on its drawing.")
	for _, o := range r.Solved.Rigid {
		lines = append(lines, fmt.Sprintf("  The %s is NOT CHECKED as drawn.", o))
	}
	if name, swings := shortLived(*r); name != "" {
		lines = append(lines, fmt.Sprintf("  Fatigue, only estimated: the %s is good for about %s swings between the hardest load cases, kerb strikes at that speed.", name, cycles(swings)))
	}
	return lines
}
