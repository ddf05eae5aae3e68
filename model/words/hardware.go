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
	lines := []string{"Bolts and tightening, each side (clean and as received, with a torque wrench):"}
	for _, j := range hardware.Of(f.Car, *r.Row.Setting) {
		lines = append(lines, "  "+jointLine(j, u))
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
		text += " × " + strings.TrimSuffix(u.DimensionFigure(mm), ".0")
		if u.Inches() {
			text += " in"
		}
	}
	if grade != "" {
		text += ", " + grade
	}
	return text
}

func jointLine(j hardware.Joint, u units.System) string {
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
	guide := ""
	if p.Guide {
		guide = ", a guide only for this grade"
	}
	text += fmt.Sprintf(": %s %s gives %s to %s %s (VDI 2230, friction %.2f to %.2f%s)", u.Moment(p.Torque*1000), u.MomentUnit(),
		u.ForceFigure(p.Low), u.ForceFigure(p.High), u.ForceUnit(), p.Friction.Low, p.Friction.High, guide)
	if p.Galls {
		text += "; stainless seizes: paste, and turn slowly"
	}
	if j.ThreadSheared {
		text += "; with a shank its thread still lies where the parts meet"
	}
	return text
}

func slipLine(s strength.Slip, u units.System) string {
	if s.Holds() {
		return fmt.Sprintf("friction alone holds it: %s of %s %s at %s", u.ForceFigure(s.Shear), u.ForceFigure(s.Grip), u.ForceUnit(), s.At)
	}
	return fmt.Sprintf("friction alone does not hold it (%s of %s %s at %s, %s): it shifts by its play until bolts bear on their holes", u.ForceFigure(s.Shear),
		u.ForceFigure(s.Grip), u.ForceUnit(), s.At, strength.CaseName(s.Case))
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
			lines = append(lines, fmt.Sprintf("in the %s the bolts' zinc goes first, then its aluminium: replace them when the zinc is gone", m.Part))
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
		name := map[hardware.What]string{hardware.Bolts: "bolts", hardware.Nuts: "nuts", hardware.Washers: "plain washers"}[i.What]
		text := fmt.Sprintf("%4d  %s %s", i.Count, name, boltOf(i.Size, i.Grade, i.MM, u))
		if i.What == hardware.Bolts && math.IsNaN(i.MM) {
			text += ", length as the parts ask for"
		}
		lines = append(lines, text)
	}
	return lines
}
