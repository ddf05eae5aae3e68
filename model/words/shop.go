package words

import (
	"fmt"
	"math"
	"strings"
	"time"

	"stanchion/model"
	"stanchion/model/cutting"
	"stanchion/model/units"
)

// ShopPart is what a workshop has to know of a part that it cuts.
type ShopPart struct {
	Car        string
	Part       *model.Part
	Date       time.Time
	Count      int
	CountGiven bool // by the car file; else a pair is usual
	Mass       float64
	MassOK     bool
	Blank      cutting.Sheet // that one is cut from, without a gap
	Holes      []ShopHole
	Files      [][2]string // names, and what each is
	Engraved   bool
	Warnings   []string
}

// ShopHole is a hole or slot of the list, in mm in the part's own frame.
type ShopHole struct {
	ID      string
	X, Z, D float64
	Note    string
	Bolt    string  // that goes through it; "" where none does
	Off     float64 // mm that it may be off its place; 0 where that cannot be told
}

// holeTolerance is by how much a hole may be wider than it is given, mm: H12 up to a diameter. Source: ISO 286-1:2010, table 1, IT12.
func holeTolerance(d float64) float64 {
	switch {
	case d <= 6:
		return 0.12
	case d <= 10:
		return 0.15
	case d <= 18:
		return 0.18
	}
	return 0.21
}

// ShopSheet says what a workshop has to know, in lines. Places are in mm, as in the files to cut from.
func ShopSheet(s *ShopPart, u units.System) []string {
	size := func(mm float64) string {
		if u.Inches() {
			return fmt.Sprintf("%s mm (%s)", units.Fixed(mm, 2), u.Dimension(mm))
		}
		return units.Fixed(mm, 2) + " mm"
	}
	lines := []string{s.Part.Name + ", of " + s.Car, s.Date.Format("2006-01-02") + ", by stanchion", ""}
	add := func(what, format string, args ...any) {
		lines = append(lines, fmt.Sprintf("%-11s %s", what, fmt.Sprintf(format, args...)))
	}
	for _, w := range s.Warnings {
		add("WARNING", "%s", w)
	}
	add("Quantity", "%s", quantity(s))
	material := s.Part.Material
	if material == "" {
		material = "NOT GIVEN: ask before cutting"
	}
	add("Material", "%s", material)
	if t, ok := s.Part.Thickness.Get(); ok {
		add("Thickness", "%s", size(t))
	} else {
		add("Thickness", "NOT GIVEN: ask before cutting")
	}
	if s.MassOK {
		add("Mass", "%s kg each, cut", units.Fixed(s.Mass, 2))
	} else {
		add("Mass", "cannot be told: it takes thickness and a known material")
	}
	a, b := max(s.Blank.Width, s.Blank.Height), min(s.Blank.Width, s.Blank.Height)
	add("Size", "%s by %s, the least rectangle around one", size(a), size(b))
	lines = append(lines, "")
	for _, f := range s.Files {
		add("File", "%s: %s", f[0], f[1])
	}
	lines = append(lines, "",
		"All files are at 1:1 in mm. Layer OUTLINE is the outer edge; layer HOLES has every edge within it:",
		"round holes as circles, slots and cut-outs as closed polylines. Cut HOLES first.")
	if s.Engraved {
		lines = append(lines, "Layer ENGRAVE is single lines, not cut through.")
	}
	lines = append(lines, "", "Holes, in mm in the coordinates of the files: x to the rear of the car, z up")
	lines = append(lines, shopHoles(s.Holes, u)...)
	lines = append(lines, "",
		"Unless agreed otherwise: the diameter is the lower limit, with the plus tolerance listed (H12 of ISO 286-1).",
		"The position tolerance listed is how far a hole may be off, in any direction: half of what its bolt's clearance",
		"leaves in every setting, so that the part that is bolted to it may be off as much. Deburr both sides. Measure",
		"the first one before the next is cut.",
		"", Caution, PlateCaution)
	return lines
}

// quantity says how many there are to be, and how they differ.
func quantity(s *ShopPart) string {
	text := fmt.Sprint(s.Count)
	if !s.CountGiven {
		text += " (as is usual; the car file does not say how many uprights there are: ask)"
	}
	if s.Count > 1 {
		text += ", all alike: a flat plate turned over is its own mirror image"
		if s.Engraved {
			text += ". The engraving is on one face: mirror it where it is to face outwards on both sides"
		}
	}
	return text
}

// shopHoles is the table of holes.
func shopHoles(holes []ShopHole, u units.System) []string {
	wide := 4
	for _, h := range holes {
		wide = max(wide, len([]rune(h.ID)))
	}
	head := fmt.Sprintf("  %-*s %10s %10s %9s %7s %9s", wide, "hole", "x", "z", "dia.", "tol.", "position")
	lines := []string{head}
	for _, h := range holes {
		off := units.NotGiven
		if h.Off > 0 {
			off = units.Fixed(math.Floor(h.Off*100+1e-6)/100, 2)
		}
		l := fmt.Sprintf("  %-*s %10s %10s %9s %7s %9s", wide, h.ID, units.Fixed(h.X, 3), units.Fixed(h.Z, 3), units.Fixed(h.D, 2),
			"+"+units.Fixed(holeTolerance(h.D), 2), off)
		var notes []string
		if u.Inches() {
			notes = append(notes, "dia. "+u.Fine(h.D))
		}
		if h.Bolt != "" {
			notes = append(notes, "for "+h.Bolt)
		}
		if h.Note != "" {
			notes = append(notes, h.Note)
		}
		lines = append(lines, strings.TrimRight(l+"  "+strings.Join(notes, "; "), " "))
	}
	return lines
}
