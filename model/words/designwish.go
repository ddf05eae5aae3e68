package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/units"
)

// DesignFault says what is wrong with a wish for a plate, and what to do.
func DesignFault(f *design.Fault, u units.System) string {
	switch f.What {
	case design.TooFewParts:
		return "a plate can be designed between a bracket and the wing only: give the car file three parts or more, with a joint between each and the next"
	case design.NoLowerWay:
		return "the parts below the plate cannot be bolted together: only the plate itself, the part below the wing, may be without holes; see \"stanchion why\""
	case design.FewBracketHoles:
		return "the part below the plate has fewer holes than the foot is to have bolts; drill more, or ask for fewer with --foot-bolts"
	case design.WingBolts:
		return fmt.Sprintf("the wing must have two holes for its bolts, %s apart or more along the chord", u.Dimension(design.LeastPitch))
	case design.HeadBolts:
		return "the joint at the wing asks for more than two bolts (min_bolts); a plate can be designed for two"
	case design.PitchOfMany:
		return "--pitch and --mounts-above are for a wing with two holes, this one has more: leave it out, and pairs of those holes are tried, or give the wing two"
	case design.NoHeights:
		return "no height is wanted; give at least one"
	case design.TooManyHeights:
		return fmt.Sprintf("too many heights; give at most %d", design.MostHeights)
	case design.Angles:
		return "the last angle must be no less than the first, and at most 60° more"
	case design.Steps:
		return fmt.Sprintf("the step must be at least %s°, and the angles at most %d steps", units.Fixed(design.LeastStep/plane.Deg, 1), design.MostAngles)
	case design.Within:
		return "the tolerance of the heights must be more than 0, the others 0 or more"
	case design.FewerThanMin:
		return "the car file's joint at the foot asks for more bolts (min_bolts) than --foot-bolts: give as many, or change the file"
	case design.BadHeight:
		return fmt.Sprintf("heights must be %s to %s", u.Length(design.Lowest), u.Length(design.Highest))
	case design.FootBolts:
		return fmt.Sprintf("the foot must have 2 to %d bolts", design.MostFootBolts)
	case design.BadPitch:
		return fmt.Sprintf("the spacing of the wing's bolts must be %s to %s", u.Dimension(design.LeastPitch), u.Dimension(design.MostPitch))
	case design.NamedAngles:
		return fmt.Sprintf("name at most %d angles, the last at most 60° above the first, and allow %s° to %s° either way", design.MostAngles,
			units.Fixed(design.LeastAngleWithin/plane.Deg, 2), units.Fixed(design.MostAngleWithin/plane.Deg, 0))
	case design.BadBlank:
		return fmt.Sprintf("the blank must be %s to %s either way", u.Length(design.LeastBlank), u.Length(design.MostBlank))
	case design.KeptHoles:
		return "a hole that is kept does not take the bolt of its joint: leave it out, or give it the right diameter in the car file"
	case design.BadBand:
		return fmt.Sprintf("the bands of a slim plate must be %s to %s wide", u.Dimension(design.LeastBand), u.Dimension(design.MostBand))
	}
	return neckFault(f, u)
}

// DesignWish says what is wanted of a plate.
func DesignWish(w *design.Wish, u units.System) string {
	heights := make([]string, len(w.Heights))
	for i, h := range w.Heights {
		heights[i] = u.LengthFigure(h)
	}
	angles := fmt.Sprintf("%s to %s in steps of at most %s", degrees(w.Low), degrees(w.High), degrees(w.Step))
	if len(w.Angles) > 0 {
		named := make([]string, len(w.Angles))
		for i, a := range w.Angles {
			named[i] = degrees(a)
		}
		angles = fmt.Sprintf("%s (±%s)", strings.Join(named, ", "), degrees2(w.AngleWithin))
	}
	text := fmt.Sprintf("%s, at %s %s (±%s), %d bolts at the foot", angles, strings.Join(heights, ", "), u.LengthUnit(), u.Dimension(w.HeightWithin), w.FootBolts)
	if w.Blank.Given() {
		text += fmt.Sprintf(", from a blank of %s", BlankSize(w.Blank.W, w.Blank.H, u))
	}
	if k := Keeping(w); k != "" {
		text += ", " + k
	}
	return text
}

// BlankSize is the size of a piece of sheet.
func BlankSize(w, h float64, u units.System) string {
	return fmt.Sprintf("%s by %s", u.DimensionFigure(w), u.Dimension(h))
}

// LowerPlaces says by which places of its bracket a plate was searched; "" where that is the fixed part.
func LowerPlaces(d *design.Designed) string {
	n := len(d.Places)
	switch {
	case d.LowerWays == 0:
		return ""
	case d.LowerWays > n:
		return fmt.Sprintf("The part below the plate can be bolted in %d places; the search went by %d of them, spread over their heights. The settings listed are of all.",
			d.LowerWays, n)
	}
	return fmt.Sprintf("The part below the plate can be bolted in %s: each counts as one more for the plate.", units.Count(n, "place"))
}

// NothingDesigned says why no plate was found, and what to ask for instead.
func NothingDesigned(d *design.Designed, u units.System) string {
	switch d.Why {
	case design.NoFoot:
		return fmt.Sprintf("no plate was found that can be bolted at all these heights with %d bolts at the foot: the bracket's holes are too few or too near; allow fewer bolts, a wider --height-within, or other heights",
			d.Wish.FootBolts)
	case design.OffBlank:
		return fmt.Sprintf("no plate goes on the blank: the one that misses it by least is up to %s too large for it, however it is turned; it wants %s",
			u.Dimension(math.Ceil(10*d.Smallest.Over)/10), BlankSize(math.Ceil(d.Smallest.W), math.Ceil(d.Smallest.H), u))
	case design.NoHead:
		if len(d.Wish.Angles) > 0 {
			return "no holes were found that give all these angles: allow a wider --angle-within, a wider --height-within, or a longer --pitch between the wing's bolts"
		}
		return "no holes were found that give all these angles: allow a wider --step, a wider --height-within, or a longer --pitch between the wing's bolts"
	}
	if len(d.Wish.Angles) > 0 {
		return "no plate was found whose settings are as wanted: allow a wider --angle-within or --height-within"
	}
	return "no plate was found whose settings are as wanted: allow a wider --step or --height-within"
}

// lines of the explorer's form that the commands' flags are.
var wishLines = strings.NewReplacer("a wider --step or --height-within", "wider steps, or heights that may be further off",
	"with --foot-bolts", "in the line bolts at the foot", "a wider --height-within", "heights that may be further off", "a wider --step", "wider steps",
	"a longer --pitch between the wing's bolts", "the wing's bolts further apart", "a wider --angle-within or --height-within",
	"angles or heights that may be further off", "a wider --angle-within", "angles that may be further off")

// WishFault is DesignFault for who has a form before him, not flags.
func WishFault(f *design.Fault, u units.System) string { return wishLines.Replace(DesignFault(f, u)) }

// NoPlate is NothingDesigned for who has a form before him, not flags.
func NoPlate(d *design.Designed, u units.System) string {
	return wishLines.Replace(NothingDesigned(d, u))
}
