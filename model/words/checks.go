package words

import (
	"fmt"
	"strings"

	"stanchion/model"
	"stanchion/model/hardware"
	"stanchion/model/inspect"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// Look is a setting whose car is looked over between sessions.
type Look struct {
	Frame  *strength.Analysis // nil where strength cannot be checked
	Result *strength.Result   // nil where it was not checked
	Why    error              // why not
	Table  *model.Table
	Row    *model.Row
	Named  bool            // the person named the setting
	Report *inspect.Report // what the notebook says; nil for a list without dates
	Units  units.System
}

// CheckLine is one thing to look at.
type CheckLine struct {
	inspect.Item
	Task    string
	History string   // when it was looked at last; "" for a list without dates
	Places  []string // to look at first, of cracks
	Remarks []string // of cracks
}

// CheckSection is the things that are looked at together.
type CheckSection struct {
	Title string
	Lines []CheckLine
}

// CheckSections lists what to look at with a setting on the car, and when that was done last.
func CheckSections(l Look) []CheckSection {
	around := CheckSection{Title: "After the first laps, then before and after every session, on both sides:"}
	cracks := CheckSection{Title: "Cracks, with the plates wiped clean and a torch held flat; after every session, and at once after a kerb strike:"}
	joints := map[string]hardware.Joint{}
	for _, j := range hardware.Of(l.Table.Car, *l.Row.Setting) {
		joints[j.Name] = j
	}
	for _, it := range l.items() {
		line := CheckLine{Item: it, Task: task(l, it, joints)}
		if l.Report != nil {
			s, _ := l.Report.Find(it.Key)
			line.History = History(s, l.Report.Intervals, l.Table.NameOf)
		}
		if it.Kind == inspect.Cracks {
			line.Places, line.Remarks = crackPlaces(l, it.Part)
			cracks.Lines = append(cracks.Lines, line)
		} else {
			around.Lines = append(around.Lines, line)
		}
	}
	return []CheckSection{around, cracks}
}

// items are those of the report, which may have some that the car file has no more.
func (l Look) items() (all []inspect.Item) {
	if l.Report == nil {
		return inspect.Items(l.Table.Car)
	}
	for _, s := range l.Report.Items {
		all = append(all, s.Item)
	}
	return all
}

// task says what to look at.
func task(l Look, it inspect.Item, joints map[string]hardware.Joint) string {
	switch it.Kind {
	case inspect.Torque:
		at := ""
		for i, joint := range l.Table.Car.Joints {
			if joint.Name == it.Joint {
				at = ", at " + strings.Join(lowerHoles(l.Table.Car, l.Row, i), ", ")
			}
		}
		j := joints[it.Joint]
		return fmt.Sprintf("torque of joint %s%s: %s, %s", it.Joint, at, BoltOf(j, l.Units), TorqueOf(l.Frame, j, l.Units))
	case inspect.Marks:
		return "paint marks over each nut or head and its plate: unbroken; a new one after each tightening"
	case inspect.Inserts:
		return "inserts of the wing: none turns, lifts or has white dust around it"
	case inspect.Play:
		return "play, the wing by hand at both tips, up and back: no click, none that was not there before"
	case inspect.Lid:
		return "lid pins or latch home, hinges tight, no mark of a part that touches the lid"
	case inspect.EndPlate:
		return "end plates: screws tight, no crack at their holes"
	case inspect.Cracks:
		return fmt.Sprintf("cracks in the %s: all holes, bends, welds and inner corners, from both sides", it.Part)
	}
	return it.Key + ": the car file does not have it any more; what failed is to be found good by this name"
}

// lowerHoles names the holes of the lower part that a joint's bolts are in.
func lowerHoles(c *model.Car, row *model.Row, joint int) (all []string) {
	for _, q := range c.Bolts(row.Setting)[joint] {
		all = append(all, q[0])
	}
	return all
}

// crackPlaces names the places of a part that use most of their strength, and says what is not known of them.
func crackPlaces(l Look, part string) (places, remarks []string) {
	if l.Result == nil {
		return nil, []string{fmt.Sprintf("Where it is most heavily loaded is NOT CHECKED: %v.", l.Why)}
	}
	for _, h := range l.Frame.HotPlaces(*l.Result) {
		if h.Part != part {
			continue
		}
		beside := ""
		if h.Hole != "" {
			beside = ", nearest hole " + h.Hole
		}
		places = append(places, fmt.Sprintf("%s at %s%s: %s of strength used there at %s", h.Part, partPlace(h.At, l.Units), beside, UsedPercent(h.Share),
			l.Units.Speed(l.Frame.Table.Speed)))
	}
	if len(places) == 0 {
		remarks = append(remarks, "Where it is most heavily loaded is NOT CHECKED: it is not solved as drawn, see \"stanchion strength\".")
	}
	if name, swings := shortLived(*l.Result); name == part {
		remarks = append(remarks, fmt.Sprintf("Fatigue, only estimated: the %s is good for about %s swings between the hardest load cases, kerb strikes at that speed.",
			name, cycles(swings)))
	}
	return places, remarks
}

// PlacesAre says what the places to look for cracks are.
const PlacesAre = "Places are in each plate's own frame, x to the rear and z up, as on its drawing: at most three of a plate, 30 mm apart, from six tenths of its largest share on. That is our choice, no source; cracks may start elsewhere."

// CheckTitle says what is looked over.
func CheckTitle(l Look) string {
	which := ""
	switch {
	case l.Report != nil && l.Report.OnCar == l.Row.ID:
		which = ", on the car by the notebook"
	case !l.Named && l.Result != nil:
		which = ", which uses most of its strength of those that break no limit"
	}
	return fmt.Sprintf("%s: checks between sessions, setting %s%s", l.Table.Car.Name, l.Table.Name(l.Row.Setting), which)
}

// CheckVerdicts says how the setting stands: what it breaks, and whether it holds or was not checked.
func CheckVerdicts(l Look) (lines []string) {
	if r := l.Report; r != nil && r.OnCar != "" && r.OnCar != l.Row.ID {
		lines = append(lines, "By the notebook another setting is on the car: "+units.Printable(l.Table.NameOf(r.OnCar))+".")
	}
	for _, o := range Outside(l.Row, l.Units) {
		lines = append(lines, "BREAKS A LIMIT: "+o)
	}
	if l.Result == nil {
		return append(lines, fmt.Sprintf("STRENGTH NOT CHECKED: %v.", l.Why))
	}
	lines = append(lines, fmt.Sprintf("At %s: %s.", l.Units.Speed(l.Frame.Table.Speed), ResultHeadline(l.Frame, *l.Result, l.Units)))
	if above := AboveDesign(l.Frame, l.Table.Speed, l.Units); above != "" {
		lines = append(lines, above)
	}
	return lines
}

// What is said under every list.
const (
	AfterStrike  = "After a kerb strike, a spin or contact: all of the above before the car goes out again. A crack, or a bolt that has turned twice: the wing comes off."
	NoInspection = "No list replaces an engineer's inspection."
)

// IntervalsText says how often things are due, and where that comes from.
func IntervalsText(k inspect.Intervals) string {
	return fmt.Sprintf("Due: paint marks, play and lid after %s; torque, cracks, inserts and end plates %s; everything %s, and at once after a kerb strike, spin or contact; torque also after the first %s of a newly bolted setting. Common practice, no source; [checks] of the car file sets other intervals.",
		every(k.Sessions, "run"), every(k.Laps, "lap"), every(k.Days, "day"), units.Count(k.FirstLaps, "lap"))
}

// BetweenSessions is the list of what to look at between sessions with a setting on the car, what is overdue first.
func BetweenSessions(l Look) (lines []string) {
	lines = append(lines, CheckTitle(l))
	if l.Report != nil {
		lines = append(lines, ChecksHead(*l.Report)...)
	}
	lines = append(lines, CheckVerdicts(l)...)
	for _, s := range CheckSections(l) {
		lines = append(lines, "", s.Title)
		for _, c := range s.Lines {
			lines = append(lines, "[ ] "+c.Task)
			if c.History != "" {
				lines = append(lines, "    "+c.History)
			}
			for _, p := range c.Places {
				lines = append(lines, "    [ ] "+p)
			}
			for _, p := range c.Remarks {
				lines = append(lines, "    "+p)
			}
		}
	}
	if l.Result != nil && len(l.Frame.HotPlaces(*l.Result)) > 0 {
		lines = append(lines, PlacesAre)
	}
	lines = append(lines, "", AfterStrike)
	if l.Report != nil {
		lines = append(lines, IntervalsText(l.Report.Intervals))
	}
	lines = append(lines, "", "date        laps   what was found                      done by")
	for range 6 {
		lines = append(lines, "________    ____   ________________________________    ________")
	}
	return append(lines, "", NoInspection+" "+Caution)
}
