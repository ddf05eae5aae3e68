package units

import "fmt"

// Phrase is a sentence with quantities in it, which is spelt only where it is known in
// which units.
type Phrase struct {
	format string
	args   []any
}

// Say makes a phrase as fmt.Sprintf does; quantities in it are given as MM, FineMM,
// ThinMM, Newtons, MetresPerSecond, Kilograms or another Phrase.
func Say(format string, args ...any) Phrase { return Phrase{format, args} }

// Quantities of a phrase, each with how finely it is spelt.
type (
	MM              float64 // a length, as System.Length
	FineMM          float64 // a place in a part, as System.Place
	ThinMM          float64 // a clearance of a bolt, as System.Fine
	Newtons         float64 // a force, with its unit alone
	MetresPerSecond float64 // a speed
	Kilograms       float64 // a mass, to three digits, however small
)

// Empty reports whether nothing is said.
func (p Phrase) Empty() bool { return p.format == "" }

// In spells the phrase.
func (p Phrase) In(s System) string {
	args := make([]any, len(p.args))
	for i, a := range p.args {
		switch x := a.(type) {
		case MM:
			a = s.Length(float64(x))
		case FineMM:
			a = s.Dimension(float64(x))
		case ThinMM:
			a = s.Fine(float64(x))
		case Newtons:
			a = s.ForceFigure(float64(x)) + " " + s.ForceUnit()
		case MetresPerSecond:
			a = s.Speed(float64(x))
		case Kilograms:
			a = fmt.Sprintf("%.3g %s", float64(x)/Masses[s.MassUnit()], s.MassUnit())
		case Phrase:
			a = x.In(s)
		}
		args[i] = a
	}
	return fmt.Sprintf(p.format, args...)
}

// AllIn spells phrases.
func AllIn(phrases []Phrase, s System) []string {
	texts := make([]string, len(phrases))
	for i, p := range phrases {
		texts[i] = p.In(s)
	}
	return texts
}
