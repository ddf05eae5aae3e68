package pattern

import (
	"fmt"
	"slices"
	"strings"

	"stanchion/model/units"
)

// Distance is one distance between two holes, as it was measured.
type Distance struct {
	From, To string
	Measured float64 // mm
	By       Edges
	Centres  float64 // mm, between the centres
	StdUnc   float64 // mm, one standard uncertainty
}

// Pair is the distance's name, "1-2".
func (d Distance) Pair() string { return d.From + "-" + d.To }

// Side is a statement on which side of the line from the first to the second hole a hole is.
type Side struct {
	Hole string
	Plus bool   // above the line, or behind a line that goes up
	Word string // as typed: above, below, behind or ahead
}

// Told is what a person typed about holes and their distances.
type Told struct {
	Distances []Distance
	Sides     []Side
	Names     []string           // of the holes, in the order in which they were named
	Diameters map[string]float64 // mm, of holes of their own size
}

// Limits on what is typed, so that a text by mistake ends in a line and not in a wait.
const (
	maxItems = 400
	maxNames = 40
	maxName  = 12
)

// Fault is what is wrong with one item.
type Fault struct {
	Item     string // as typed
	What, Do string
}

func (f Fault) Error() string {
	return fmt.Sprintf("%s: %s; %s", units.Printable(f.Item), f.What, f.Do)
}

const sayDistance = "write two holes and their distance, such as 1-2 60 or 2-4 inner 31.6"

// Read reads distances as they are typed, with commas, semicolons or lines between the items:
//
//	1-2 60              between centres, in the unit of a bare number
//	2-4 inner 31.6      between the edges that face each other; outer, near and far likewise
//	1-3 72.1 tape       read with a tape; 1-3 72.1 ±0.3 with an uncertainty of its own
//	d 4 10.5            hole 4 has a diameter of its own
//	3 above             hole 3 is above the line from the first hole to the second; below,
//	                    ahead and behind likewise
//
// d is the diameter of all others in mm. The faults are one for each item that cannot be used.
func Read(text string, d float64, unit string) (t Told, faults []Fault) {
	t.Diameters = map[string]float64{}
	items := Items(text)
	if len(items) > maxItems {
		return t, []Fault{{fmt.Sprintf("%d items", len(items)), "too many", fmt.Sprintf("give at most %d", maxItems)}}
	}
	for _, item := range items {
		if f := t.take(item, unit); f != nil {
			faults = append(faults, *f)
		}
	}
	for i := range t.Distances {
		k := &t.Distances[i]
		k.Centres = Centre(k.Measured, t.diameter(k.From, d), t.diameter(k.To, d), k.By)
		if !(k.Centres > 0) {
			faults = append(faults, Fault{k.Pair(), "the centres would not be apart", "check the distance and how it was measured"})
		}
	}
	if len(t.Names) > maxNames {
		faults = append(faults, Fault{fmt.Sprintf("%d holes", len(t.Names)), "too many", fmt.Sprintf("give at most %d at once", maxNames)})
	}
	for _, s := range t.Sides {
		if !slices.Contains(t.Names, s.Hole) {
			faults = append(faults, Fault{s.Hole, "no distance names this hole", sayDistance})
		}
	}
	return t, faults
}

// Items takes a typed list apart: commas, semicolons and ends of lines stand between items.
func Items(text string) (items []string) {
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' || r == '\r' }) {
		if item = strings.TrimSpace(item); item != "" {
			items = append(items, item)
		}
	}
	return items
}

// diameter returns a hole's own diameter, or that of all others.
func (t *Told) diameter(hole string, d float64) float64 {
	if own, ok := t.Diameters[hole]; ok {
		return own
	}
	return d
}

// asTyped takes dashes of any kind, and what may stand between two holes and their distance.
var asTyped = strings.NewReplacer("–", "-", "—", "-", "−", "-", ":", " ", "=", " ")

// otherSides are words for sides that may be meant in more than one way.
var otherSides = map[string]bool{"left": true, "right": true, "top": true, "bottom": true, "front": true, "rear": true, "over": true, "under": true,
	"up": true, "down": true, "back": true, "before": true}

var sideWords = map[string]bool{"above": true, "behind": true, "below": false, "ahead": false}

// take takes one item.
func (t *Told) take(item, unit string) *Fault {
	fault := func(what, do string) *Fault { return &Fault{item, what, do} }
	words := strings.Fields(asTyped.Replace(item))
	if len(words) == 0 {
		return fault("not a distance", sayDistance)
	}
	if len(words) == 2 && Named(words[0]) && otherSides[strings.ToLower(words[1])] {
		return fault("which side is that, seen from the side of the car", "write above, below, behind or ahead, such as "+words[0]+" above")
	}
	if plus, side := sideWords[strings.ToLower(words[len(words)-1])]; side && len(words) == 2 {
		if !Named(words[0]) {
			return fault("which hole?", "write its name and its side, such as 3 above")
		}
		for _, s := range t.Sides {
			if s.Hole == words[0] && s.Plus != plus {
				return fault("its other side was said before", "leave out one of them")
			}
		}
		t.Sides = append(t.Sides, Side{words[0], plus, strings.ToLower(words[1])})
		return nil
	}
	if strings.EqualFold(words[0], "d") && len(words) >= 3 && Named(words[1]) {
		x, err := units.Lengths.Parse(strings.Join(words[2:], " "), unit)
		if err != nil || !(x > 0 && x < 200) {
			return fault("not a diameter", "write d, the hole and its diameter, such as d 4 10.5")
		}
		if old, twice := t.Diameters[words[1]]; twice && old != x {
			return fault("another diameter was said before", "leave out one of them")
		}
		t.Diameters[words[1]] = x
		return nil
	}
	from, to, pair := strings.Cut(words[0], "-")
	if !pair || !Named(from) || !Named(to) {
		if _, err := units.Lengths.Parse(item, unit); err == nil {
			return fault("a number alone", "use decimal points, not commas, and "+sayDistance)
		}
		return fault("not a distance", sayDistance)
	}
	if from == to {
		return fault("a hole's distance from itself", "name two holes")
	}
	k := Distance{From: from, To: to, StdUnc: Caliper}
	rest := strings.Join(words[1:], " ")
	if len(words) > 1 {
		if by, ok := edgeWords[strings.ToLower(words[1])]; ok {
			k.By, rest = by, strings.Join(words[2:], " ")
		}
	}
	if number, own, said := strings.Cut(strings.Replace(rest, "+-", "±", 1), "±"); said {
		x, err := units.Lengths.Parse(own, unit)
		if err != nil || !(x > 0 && x < 100) {
			return fault("its ± is no length above 0", "write it as in 1-2 60 ±0.3")
		}
		rest, k.StdUnc = number, x
	} else if number, ok := strings.CutSuffix(rest, " tape"); ok {
		rest, k.StdUnc = number, Tape
	} else if number, ok := strings.CutSuffix(rest, " caliper"); ok {
		rest = number
	}
	x, err := units.Lengths.Parse(rest, unit)
	switch {
	case strings.TrimSpace(rest) == "":
		return fault("the distance is missing", sayDistance)
	case err != nil:
		return fault(err.Error(), sayDistance)
	case !(x > 0 && x <= 5000):
		return fault("a distance must be above 0 and at most "+units.Metric.Length(5000), sayDistance)
	}
	k.Measured = x
	for _, n := range []string{from, to} {
		if !slices.Contains(t.Names, n) {
			t.Names = append(t.Names, n)
		}
	}
	t.Distances = append(t.Distances, k)
	return nil
}

// Named reports whether a text can be a hole's name where distances are typed: letters,
// digits, points and underscores.
func Named(s string) bool {
	return s != "" && len(s) <= maxName && strings.IndexFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '.')
	}) < 0
}
