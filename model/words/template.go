package words

import (
	"fmt"
	"math"

	"stanchion/model/cutting"
	"stanchion/model/template"
	"stanchion/model/units"
)

// TemplateCaution stands on every template and wherever one is spoken of.
const TemplateCaution = "TEMPLATE: a wooden plate carries no air load. Never drive with it."

// Template says what is another size in wood than in the plate, the caution first, in lines short enough for the sheet.
func Template(t *template.Template, u units.System) []string {
	lines := []string{TemplateCaution, fmt.Sprintf("%s in plywood, %s: trial fit by hand only, bolts hand-tight with large washers, the wing held.", t.Part.Name, u.Dimension(t.Thickness))}
	for _, d := range t.Drills {
		lines = append(lines, drillLine(d, t.Loose, u))
	}
	switch {
	case t.All == 0:
		lines = append(lines, "The car file gives no setting yet: which bolts go in is not known.")
	case t.Loose:
		lines = append(lines, "Holes of the bolt's own size would not let all settings go in: they are as wide as the plate's.")
	}
	if t.Known {
		lines = append(lines, fmt.Sprintf("Play turns the wing by up to ±%s on it, ±%s on the plate: an angle read on it may be %s off at most by play.", degrees2(t.Wooden),
			degrees2(t.Metal), degrees2(t.Apart)))
	}
	if t.Pitch > 0 {
		lines = append(lines, fmt.Sprintf("A hole marked and drilled by hand is easily %s off: over the %s between the wing's bolts that turns it by %s more.", u.Dimension(handOff),
			u.Length(t.Pitch), degrees2(handOff/t.Pitch)))
	}
	for _, b := range t.Bolts {
		lines = append(lines, templateBolt(b, t, u))
	}
	return append(lines, sideways(t, u)...)
}

// handOff is how far off a hole that was marked and drilled by hand easily is, and sameThick what is called as thick, mm.
// Common practice, no source.
const handOff, sameThick = 0.5, 0.05

func drillLine(d template.Drill, loose bool, u units.System) string {
	of := units.Count(d.Holes, "hole")
	if d.Joint != "" {
		of += " of the " + d.Joint
	}
	if loose || d.Wood == d.Plate {
		return fmt.Sprintf("%s: drill %s, as in the plate.", of, u.Dimension(d.Wood))
	}
	return fmt.Sprintf("%s: drill %s in wood, the bolt's own size; %s in the plate.", of, u.Dimension(d.Wood), u.Dimension(d.Plate))
}

func templateBolt(b template.Bolt, t *template.Template, u units.System) string {
	name := b.Joint + ", " + b.Size
	if b.Size == "" {
		name = b.Joint
	}
	switch {
	case math.IsNaN(t.Sideway):
		return name + ": the plate's thickness is not given, so that its bolts' length is not known."
	case math.IsNaN(b.Wood) && math.Abs(t.Sideway) < sameThick:
		return name + ": bolts as for the plate."
	case math.IsNaN(b.Wood) && t.Sideway > 0:
		return fmt.Sprintf("%s: bolts %s longer than for the plate, or as much less in the insert.", name, u.Dimension(t.Sideway))
	case math.IsNaN(b.Wood):
		return fmt.Sprintf("%s: bolts of the plate reach %s further: see that they do not bottom out.", name, u.Dimension(-t.Sideway))
	case b.Wood == b.Plate:
		return fmt.Sprintf("%s: bolts %s long, as for the plate.", name, u.Dimension(b.Wood))
	}
	return fmt.Sprintf("%s: bolts %s long; %s for the plate.", name, u.Dimension(b.Wood), u.Dimension(b.Plate))
}

// sideways says where what is bolted to the template's outer face comes to lie.
func sideways(t *template.Template, u units.System) []string {
	switch d := t.Sideway; {
	case math.IsNaN(d):
		return []string{"The plate's thickness is not given: by how much what is bolted to its outer face moves sideways is not known."}
	case math.Abs(d) < sameThick:
		return []string{"It is as thick as the plate: nothing moves sideways."}
	case t.Outer != "" && d > 0:
		return []string{fmt.Sprintf("It is %s thicker: %s lies so much further out on each side.", u.Dimension(d), t.Outer)}
	case t.Outer != "":
		return []string{fmt.Sprintf("It is %s thinner: pack %s with as much of washers on each side.", u.Dimension(-d), t.Outer)}
	case d > 0:
		return []string{fmt.Sprintf("It is %s thicker: mounts on its outer face want %s more between them.", u.Dimension(d), u.Dimension(2*d)),
			"Where they have no slots for that the wing does not go on: plane it down there, or take thinner plywood and pack it. A wing between the plates fits as it is."}
	default:
		return []string{fmt.Sprintf("It is %s thinner: pack mounts on its outer face with %s of washers on each side. A wing between the plates fits as it is.", u.Dimension(-d),
			u.Dimension(-d))}
	}
}

// CutTemplate says what a template takes, in lines, the caution last; blank is the sheet that one is cut from.
func CutTemplate(t *template.Template, blank cutting.Sheet, u units.System) []string {
	a, b := max(blank.Width, blank.Height), min(blank.Width, blank.Height)
	lines := []string{fmt.Sprintf("Template first: plywood %s thick, one from %s by %s", u.Dimension(t.Thickness), u.Length(math.Ceil(a)), u.Length(math.Ceil(b)))}
	for _, l := range Template(t, u)[1:] {
		lines = append(lines, "  "+l)
	}
	return append(lines, "  "+TemplateCaution)
}
