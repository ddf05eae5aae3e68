package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/speeds"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// factor spells how many times a load something buckles at.
func factor(x float64) string {
	switch {
	case x > 99:
		return "over 99"
	case x < 0.05:
		return "less than 0.1"
	}
	return fmt.Sprintf("%.1f", x)
}

// plateLines says what solving the plates as they are drawn found.
func plateLines(f *strength.Analysis, r strength.Result, u units.System) []string {
	s := r.Solved
	if s == nil || len(s.Plates) == 0 {
		return nil
	}
	lines := pictureLines(f, r)
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("The plates as drawn, by finite elements and equilibrium:")
	add("  %-10s%7s  %-21s%7s%7s%7s%7s%7s", "", "used", "where", "mean", "edge", "bend", "shear", "twist")
	add("  %-10s%7s  %-21s%7s%7s%7s%7s%7s", "", "", "", "MPa", "MPa", "MPa", "MPa", "MPa")
	for i := range s.Plates {
		p := &s.Plates[i]
		mpa := func(x float64) string { return units.Fixed(math.Abs(x), 0) }
		at := p.Worst.Line[0].Add(p.Worst.Line[1]).Times(0.5)
		if p.Worst.Capacity == 0 {
			add("  %-10s%7s  it buckles in every load case", p.Name, "")
			continue
		}
		add("  %-10s%7s  %-21s%7s%7s%7s%7s%7s", p.Name, UsedPercent(p.Worst.Utilisation()), partPlace(at, u),
			mpa(p.Stress.Mean), mpa(p.Stress.Turn), mpa(p.Stress.Bend), mpa(p.Stress.Shear), mpa(p.Stress.Twist))
	}
	add("  mean and edge: in the plane, of the force and at the end of the cut; bend: at the surface, sideways. Places are in the part's own frame.")
	for i := range s.Plates {
		if p := &s.Plates[i]; !p.Resolved() {
			at := p.Neck.Centre()
			add("  %s: the neck of %s at %s is too fine for the solver, which is %.0f %% off equilibrium there. Its strength is by equilibrium; movement, frequencies and buckling are withheld.",
				p.Name, u.Dimension(p.Neck.Width), partPlace(at, u), 100*p.Off)
		}
	}
	lines = append(lines, buckleLines(r)...)
	lines = append(lines, movementLines(f, r, u)...)
	lines = append(lines, frequencyLines(f, r, u)...)
	lines = append(lines, fatigueLines(r, u)...)
	lines = append(lines, comparisonLines(r, u)...)
	add("")
	return lines
}

// lowFactor is the factor below which a mounting is near to buckling whatever its stress.
// Source: EN 1993-1-1:2005 5.2.1 asks for second order below 10; 3 is its lower bound for the
// simple methods.
const lowFactor = 3

func buckleLines(r strength.Result) []string {
	s := r.Solved
	if math.IsNaN(s.Buckling) {
		return nil
	}
	text := "  Buckling: not by any multiple of these loads."
	if !math.IsInf(s.Buckling, 1) {
		text = fmt.Sprintf("  Buckling: at %s times the loads of %s, the load factor in them.", factor(s.Buckling), strength.CaseName(s.Case))
	}
	if s.Buckling < lowFactor {
		text += fmt.Sprintf(" BELOW %d: a little more load bends it far more; make the plates thicker or shorter.", lowFactor)
	}
	return []string{text}
}

func movementLines(f *strength.Analysis, r strength.Result, u units.System) []string {
	s := r.Solved
	if math.IsNaN(s.Turn) || math.IsNaN(s.Side) {
		return nil
	}
	return []string{
		fmt.Sprintf("  Under air and weight at %s the wing's angle changes by %s°. In the worst case the wing moves %s sideways and twists by %s°; without the load factor and the play of the joints.",
			u.Speed(f.Table.Speed), units.Signed(s.Turn/plane.Deg, 2), u.Length(s.Side), units.Fixed(s.Twist/plane.Deg, 1)),
	}
}

// frequencyLines names the lowest frequencies and what may drive them.
func frequencyLines(f *strength.Analysis, r strength.Result, u units.System) []string {
	s := r.Solved
	if len(s.Sideways) == 0 || len(s.ForeAft) == 0 {
		return nil
	}
	lines := []string{fmt.Sprintf("  Natural frequencies with the wing on: sideways %.1f Hz, fore and aft %.0f Hz, as long as no joint slips.", s.Sideways[0], s.ForeAft[0])}
	if len(s.Rigid) > 0 {
		lines[0] += fmt.Sprintf(" Taken as rigid: %s; the real ones are lower.", strings.Join(s.Rigid, ", "))
	}
	fastest := f.Table.Speed
	if top, ok := speeds.TopSpeed(f.Table, r.Row); ok {
		fastest = max(fastest, top)
	}
	stalled := 0.0
	if r.Row.Stalled {
		stalled = f.Car.Wing.Chord * math.Sin(math.Abs(r.Row.Attack))
	}
	for _, way := range []struct {
		name string
		hz   float64
	}{{"Sideways", s.Sideways[0]}, {"Fore and aft", s.ForeAft[0]}} {
		var by []string
		for _, d := range strength.Drivers(way.hz, fastest, stalled) {
			text := d.What
			if !math.IsNaN(d.Speed) {
				text += " at " + u.Speed(d.Speed)
			}
			by = append(by, text+" ("+d.Note+")")
		}
		if len(by) > 0 {
			lines = append(lines, fmt.Sprintf("  %s it may be shaken by %s. Watch it on the road, and look for cracks.", way.name, strings.Join(by, "; ")))
		}
	}
	return lines
}

// fatigueLines says how many swings between the load cases each plate bears.
func fatigueLines(r strength.Result, u units.System) []string {
	var lines []string
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		w := p.Range
		if w.Range == 0 {
			continue
		}
		at := partPlace(w.At[0].Add(w.At[1]).Times(0.5), u)
		life := "more than 100 million such cycles"
		if !math.IsInf(w.Cycles, 1) {
			life = "about " + cycles(w.Cycles) + " such cycles"
		}
		lines = append(lines, fmt.Sprintf("  Fatigue of %s: its stress range is %.0f MPa at %s from one load case to another, without the load factor: %s by %s.", p.Name, w.Range, at,
			life, w.Source))
	}
	if len(lines) > 0 {
		lines = append(lines, "  That is no promise: a scratch, a sharp hole, rust or a loose bolt takes most of it away, and kerbs differ. Look for cracks before every event.")
	}
	return lines
}

// shortLife is below how many swings fatigue is said at the top of the page.
const shortLife = 100_000

// lifeLine says at the top of the page how many swings the plate that bears fewest does; "" where it is many.
func lifeLine(r strength.Result) string {
	name, swings := shortLived(r)
	if name == "" {
		return ""
	}
	return fmt.Sprintf("Fatigue: the %s is good for about %s load cycles between the two hardest cases, kerb strikes at the design speed: look for cracks (estimate, further down).", name, cycles(swings))
}

// shortLived names the plate that bears the fewest swings between the hardest load cases, and how many; "" where none is short-lived.
func shortLived(r strength.Result) (name string, swings float64) {
	if r.Solved == nil {
		return "", math.Inf(1)
	}
	swings = math.Inf(1)
	for i := range r.Solved.Plates {
		if p := &r.Solved.Plates[i]; p.Range.Range > 0 && p.Range.Cycles < swings {
			swings, name = p.Range.Cycles, p.Name
		}
	}
	if swings > shortLife {
		return "", swings
	}
	return name, swings
}

// cycles spells a number of cycles to one figure.
func cycles(n float64) string {
	if n < 1 {
		return "no"
	}
	size := math.Pow(10, math.Floor(math.Log10(n)))
	n = math.Floor(n/size) * size
	switch {
	case n >= 1e6:
		return fmt.Sprintf("%.0f million", n/1e6)
	case n >= 1e3:
		return fmt.Sprintf("%.0f,000", n/1e3)
	}
	return fmt.Sprintf("%.0f", n)
}

// farOffBuckling is by how many times the plate may be better in buckling than the formulas, which take its
// least width all along and the length of the whole mounting.
const farOffBuckling = 3

// farOff is by how many times formula and solution may differ before it is said.
const farOff = 1.5

// comparisonLines puts the formulas of beams beside the solution.
func comparisonLines(r strength.Result, u units.System) []string {
	if len(r.Formulas) == 0 {
		return nil
	}
	var parts []string
	for _, c := range r.Formulas {
		parts = append(parts, fmt.Sprintf("%s %s (%s)", UsedPercent(c.Utilisation()), c.What, c.Part))
	}
	lines := []string{"  For comparison by formulas of beams: " + strings.Join(parts, ", ") + "."}
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		if by := r.BucklingByFormulas(p.Name); by > 0 && !math.IsNaN(r.Solved.Buckling) && !math.IsInf(p.Buckling, 1) {
			if ratio := p.Buckling / by; min(p.Buckling, by) < 10 && (ratio > farOffBuckling || ratio < 1) {
				lines = append(lines, fmt.Sprintf("  By the formulas %s alone buckles at %s times the load, by finite elements at %s: trust the lower until you know why.", p.Name, factor(by), factor(p.Buckling)))
			}
		}
		for _, c := range r.Formulas {
			if c.Part != p.Name || c.Unit != "MPa" || p.Worst.Capacity == 0 {
				continue
			}
			if ratio := p.Worst.Utilisation() / c.Utilisation(); ratio > farOff || ratio < 1/farOff {
				lines = append(lines, fmt.Sprintf("  The formula for %s differs by a factor of %.1f: trust the higher of the two until you know why.", p.Name, max(ratio, 1/ratio)))
			}
		}
	}
	return lines
}

// UnderLoad says what a setting's figures become where the plates give way under its load by more than a
// tenth of a degree; "" where they do not.
func UnderLoad(t *model.Table, r *model.Row, turn float64, u units.System) string {
	if math.Abs(turn) <= strength.TellTurn {
		return ""
	}
	place := *r.Position
	place.Angle += turn
	under := t.RowAt(&place)
	return fmt.Sprintf("Under the load at %s the plates turn the wing by %s°, to %s°: downforce %s in place of %s, drag %s in place of %s.", u.Speed(t.Speed),
		units.Signed(turn/plane.Deg, 1), units.Fixed(place.Angle/plane.Deg, 1), u.Force(under.Downforce), u.Force(r.Downforce), u.Force(under.Drag), u.Force(r.Drag))
}
