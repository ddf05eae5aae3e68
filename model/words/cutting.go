package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model/cutting"
	"stanchion/model/units"
)

// CutPlate says what one kind of plate is cut from, in lines. price is what a kilogram of sheet costs; 0 where it is not given.
func CutPlate(p *cutting.Plate, price float64, u units.System) []string {
	of := "material not given"
	if p.Part.Material != "" {
		of = p.Part.Material
	}
	thick := "thickness not given"
	if t, ok := p.Part.Thickness.Get(); ok {
		thick = u.Dimension(t) + " thick"
	}
	lines := []string{fmt.Sprintf("%s: %s, %s, %s", p.Part.Name, units.Count(p.Count, "plate"), of, thick)}
	sheet := func(what string, s cutting.Sheet) string {
		a, b := max(s.Width, s.Height), min(s.Width, s.Height)
		return fmt.Sprintf("%s from %s by %s", what, u.Length(math.Ceil(a)), u.Length(math.Ceil(b)))
	}
	text := sheet("each", p.Blank)
	if p.Pair.Width > 0 {
		text += "; both " + sheet("", p.Pair)[1:]
		if math.Abs(math.Remainder(p.Pair.At[1].Turn-p.Pair.At[0].Turn, 2*math.Pi)) > 1 {
			text += ", the second end for end"
		}
	}
	lines = append(lines, text+fmt.Sprintf("; %.0f %% is left over", 100*p.Waste))
	if p.MassOK {
		kg := p.Mass / (1 - p.Waste) // of the sheet, for one
		size := units.Masses[u.MassUnit()]
		text := fmt.Sprintf("%s %s each, cut; %s %s of sheet for all", units.Fixed(p.Mass/size, 2), u.MassUnit(), units.Fixed(kg*float64(p.Count)/size, 2), u.MassUnit())
		if price > 0 {
			text += fmt.Sprintf(": %.2f at %.2f per kg", kg*float64(p.Count)*price, price)
		}
		lines = append(lines, text)
	}
	return lines
}

// DrillingOrder says how a kind of plate is drilled, in lines.
func DrillingOrder(p *cutting.Plate, u units.System) []string {
	lines := []string{"Drill in this order, from the foremost and the lowest point of the plate as it is drawn:"}
	for i, h := range p.Drilling {
		mark := ""
		if h.Pin {
			mark = "  pin"
		}
		lines = append(lines, fmt.Sprintf("  %2d. %-5s %9s %9s  %s wide%s", i+1, h.ID, u.FineFigure(h.FromEdge.X), u.FineFigure(h.FromEdge.Z), u.Fine(h.D), mark))
	}
	if p.Count > 1 && len(p.Drilling) > 2 {
		lines = append(lines, "Drill the pins first, bolt the other plate under this one through them, and drill the rest through both: the plates are then alike.",
			"A plate that is there already is the template: transfer its holes with a punch that fits them, or drill through it.")
	}
	lines = append(lines, slotsToMill(p, u)...)
	switch n := len(p.Part.Cutouts); {
	case n == 1:
		lines = append(lines, "And 1 cut-out: its edge is in what \"stanchion draw\" draws.")
	case n > 1:
		lines = append(lines, fmt.Sprintf("And %d cut-outs: their edges are in what \"stanchion draw\" draws.", n))
	}
	return lines
}

// slotsToMill lists a plate's slots from the same edges as its holes: where the middle of their ends is.
func slotsToMill(p *cutting.Plate, u units.System) (lines []string) {
	edge, _ := plane.Box(p.Part.Outline)
	at := func(q plane.Point) string {
		q = q.Sub(edge)
		return u.FineFigure(q.X) + ", " + u.FineFigure(q.Z)
	}
	for _, s := range p.Part.Slots {
		one := fmt.Sprintf("  slot %s: from %s to %s, %s wide", s.ID, at(s.Along(0)), at(s.Along(s.Length())), u.Fine(s.D))
		if s.Turn != 0 {
			one += fmt.Sprintf(", on an arc about %s, radius %s", at(s.Centre), u.Fine(s.At().Distance(s.Centre)))
		}
		lines = append(lines, one)
	}
	if len(lines) > 0 {
		lines = append([]string{"Then mill, from the same edges, by the middles of the ends:"}, lines...)
	}
	return lines
}

// OrderMounts says how the wing's mounts are to be ordered.
func OrderMounts(m *cutting.Mounts, u units.System) []string {
	lines := []string{fmt.Sprintf("The wing's mounts, for %s bolts, first to last hole %s apart:", m.Bolt, u.Fine(m.Apart))}
	for _, h := range m.Holes {
		side := "above"
		if h.Z < 0 {
			side = "below"
		}
		lines = append(lines, fmt.Sprintf("  %-5s %s behind the leading edge along the chord, %s %s the chord line, %s wide", h.ID, u.Fine(h.X), u.Fine(math.Abs(h.Z)), side, u.Fine(h.D)))
	}
	return lines
}
