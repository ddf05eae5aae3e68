package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/hardware"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// hardwareLines says what each joint takes, how tight it goes, and whether friction alone holds it.
func hardwareLines(f *strength.Analysis, r strength.Result, u units.System) []string {
	slips := map[string]strength.Slip{}
	for _, s := range f.Slips(r) {
		slips[s.Joint] = s
	}
	lines := []string{"Bolts and tightening, each side (dry, not greased, with a torque wrench):"}
	for _, j := range hardware.Of(f.Car, *r.Row.Setting) {
		lines = append(lines, "  "+jointLine(j, f.ThreadTorque(j.Name), u))
		if s, ok := slips[j.Name]; ok && s.Covered && (j.Nut == model.NutNotSaid || j.Nut == model.PlainNut) {
			lines = append(lines, "      "+slipLine(s, u))
		}
		for _, x := range append(crowdLines(j, u), metalLines(j)...) {
			lines = append(lines, "      "+x)
		}
	}
	return append(lines, "")
}

// boltOf spells a bolt with its length.
func boltOf(size, grade string, mm float64, u units.System) string {
	text := size
	if !math.IsNaN(mm) {
		text += " x " + boltLength(size, mm)
	}
	if grade != "" {
		text += ", " + grade
	}
	return text
}

// boltLength spells a bolt's length as it is sold: metric ones in mm, inch ones in inches and eighths.
func boltLength(size string, mm float64) string {
	if strings.HasPrefix(size, "M") {
		return fmt.Sprintf("%.0f", mm)
	}
	eighths := int(math.Round(mm / 25.4 * 8))
	whole, rest := eighths/8, eighths%8
	text := ""
	if whole > 0 {
		text = fmt.Sprint(whole)
	}
	if rest > 0 {
		if whole > 0 {
			text += "-"
		}
		d := 8
		for rest%2 == 0 {
			rest, d = rest/2, d/2
		}
		text += fmt.Sprintf("%d/%d", rest, d)
	}
	return text + " in"
}

func jointLine(j hardware.Joint, allowed float64, u units.System) string {
	text := fmt.Sprintf("%s: %d bolts", j.Name, j.Count)
	if !j.Sized {
		return text + ", size not known"
	}
	text = fmt.Sprintf("%s: %d bolts %s", j.Name, j.Count, boltOf(j.Size.Name, j.Grade.Name, j.Length, u))
	switch j.Nut {
	case model.TappedHole:
		text += ", into a tapped hole"
	case model.Insert:
		text += ", into inserts: their maker gives length and torque"
	case model.RivetNut:
		text += ", into rivet nuts: their maker gives length and torque"
	}
	if j.Nut == model.Insert || j.Nut == model.RivetNut || !j.Tightened {
		return text
	}
	p := j.Tight
	if allowed < 1 {
		return text + fmt.Sprintf(": no more than %s %s, or the tapped thread strips", torque(p.Torque*allowed, u), u.MomentUnit())
	}
	guide := ""
	if p.Guide {
		guide = ", a guide only for this grade"
	}
	text += fmt.Sprintf(": %s %s, which clamps with %s to %s %s (VDI 2230, friction %.2f to %.2f%s)", torque(p.Torque, u), u.MomentUnit(),
		roundForce(p.Low, u), roundForce(p.High, u), u.ForceUnit(), p.Friction.Low, p.Friction.High, guide)
	if p.Galls {
		text += "; stainless seizes: paste, and turn slowly"
	}
	if j.ThreadSheared {
		text += "; the thread of a standard bolt lies where the parts meet"
	}
	return text
}

func slipLine(s strength.Slip, u units.System) string {
	if s.Holds() {
		return fmt.Sprintf("does not slip: %s %s of the %s %s that friction holds, at hole %s", roundForce(s.Shear, u), u.ForceUnit(), roundForce(s.Grip, u), u.ForceUnit(), s.At)
	}
	return fmt.Sprintf("SLIPS by its play until the bolts bear on their holes: %s %s, and friction holds %s %s, at hole %s (%s)", roundForce(s.Shear, u), u.ForceUnit(),
		roundForce(s.Grip, u), u.ForceUnit(), s.At, strength.CaseName(s.Case))
}

// crowdLines names what has no room, each kind once with the worst.
func crowdLines(j hardware.Joint, u units.System) []string {
	worst := map[hardware.Clash]hardware.Crowd{}
	count := map[hardware.Clash]int{}
	for _, c := range j.Crowded {
		count[c.What]++
		if w, ok := worst[c.What]; !ok || c.Have-c.Need < w.Have-w.Need {
			worst[c.What] = c
		}
	}
	var lines []string
	for _, what := range []hardware.Clash{hardware.WashersOverlap, hardware.SpannerBlocked, hardware.WasherOverEdge} {
		c, ok := worst[what]
		if !ok {
			continue
		}
		text := ""
		switch what {
		case hardware.WashersOverlap:
			text = fmt.Sprintf("washers overlap at %s and %s: %s apart, %s needed; use smaller washers or one plate for both", c.A, c.B, u.Dimension(c.Have), u.Dimension(c.Need))
		case hardware.SpannerBlocked:
			text = fmt.Sprintf("no room for a ring spanner between %s and %s: %s apart, %s needed; an open one goes", c.A, c.B, u.Dimension(c.Have), u.Dimension(c.Need))
		case hardware.WasherOverEdge:
			text = fmt.Sprintf("the washer at %s hangs over the edge of the %s: %s to the edge, %s needed", c.A, c.Part, u.Dimension(c.Have), u.Dimension(c.Need))
		}
		if n := count[what]; n > 1 {
			text += fmt.Sprintf(" (and %d more)", n-1)
		}
		lines = append(lines, text)
	}
	return lines
}

// metalLines says what plates and bolts do to one another, where they do; zinc on steel in a steel plate is
// as everywhere.
func metalLines(j hardware.Joint) []string {
	var lines []string
	for _, m := range j.Metals {
		switch {
		case m.Corrosion == fastener.PlateCorrodes:
			lines = append(lines, fmt.Sprintf("the %s corrodes around these bolts in wet and salt: grease or isolate them", m.Part))
		case m.Corrosion == fastener.BoltCorrodes:
			lines = append(lines, fmt.Sprintf("these bolts corrode fast in the %s once their zinc is gone", m.Part))
		case m.Corrosion == fastener.ZincFirst && m.Plate == fastener.Aluminium:
			lines = append(lines, fmt.Sprintf("zinc plating first, then the %s corrodes around these bolts: replace them when the plating is gone", m.Part))
		default:
			continue
		}
		lines[len(lines)-1] += " (MIL-STD-889, a guide)"
	}
	return lines
}

// PartsList is the list of hardware for settings on so many uprights.
func PartsList(c *model.Car, settings []holes.Setting, uprights int, u units.System) []string {
	var lines []string
	for _, i := range hardware.List(c, settings, uprights) {
		text := ""
		switch i.What {
		case hardware.Bolts:
			text = fmt.Sprintf("%4d  bolts %s, joint %s", i.Count, boltOf(i.Size, i.Grade, i.MM, u), i.Joint)
			if math.IsNaN(i.MM) {
				text += ": length not known, " + i.Why.String()
			}
		case hardware.Nuts:
			text = fmt.Sprintf("%4d  nuts %s, class %s", i.Count, i.Size, nutClass(i.Grade))
		case hardware.Washers:
			text = fmt.Sprintf("%4d  plain washers for %s", i.Count, strings.Split(i.Size, "-")[0])
		}
		lines = append(lines, text)
	}
	return lines
}

// nutClass is the class of nut that goes with a bolt's. Source: ISO 898-2:2012, ISO 3506-2:2009; SAE J995
// for SAE grades; quoted from memory.
func nutClass(grade string) string {
	switch grade {
	case "8.8":
		return "8"
	case "10.9":
		return "10"
	case "12.9":
		return "12"
	case "4.6", "4.8", "5.6", "5.8", "6.8":
		return "5 or 6"
	case "SAE 5":
		return "SAE 5"
	case "SAE 8":
		return "SAE 8"
	case "":
		return "of the bolt's class"
	}
	return grade
}

// roundForce spells a force to three figures.
func roundForce(n float64, u units.System) string {
	x := n / u.ForceSize()
	if math.Abs(x) < 1000 {
		return units.Fixed(x, 0)
	}
	size := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-2)
	return units.Fixed(math.Round(x/size)*size, 0)
}

// torque spells a torque in N·m, as wrenches are set.
func torque(nm float64, u units.System) string {
	if u.Pounds() {
		return u.Moment(nm * 1000)
	}
	if nm >= 10 {
		return units.Fixed(nm, 0)
	}
	return units.Fixed(nm, 1)
}
