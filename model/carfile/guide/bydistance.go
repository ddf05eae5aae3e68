package guide

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"stanchion/holes"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// byDistances places holes by the distances between them; those told before hold the frame.
func (a Answers) byDistances(part, g int, before []spot, u units.System) (all []spot, err error) {
	text := a[key(part+1, g, "distances")]
	if text == "" {
		return nil, errMissing
	}
	d := a.diameter(part, u)
	told, faults := pattern.Read(text, d, u.LengthUnit())
	if len(faults) > 0 {
		return nil, faults[0]
	}
	p := pattern.Problem{Told: told, Upwards: a.is(key(part+1, g, "way"), "above")}
	for _, s := range before {
		p.Known = append(p.Known, pattern.Place{ID: s.ID, At: s.At()})
	}
	if tied := slices.DeleteFunc(slices.Clone(before), func(s spot) bool { return !slices.Contains(told.Names, s.ID) }); len(before) > 0 && len(tied) < 2 {
		others := slices.DeleteFunc(slices.Clone(before), func(s spot) bool { return slices.Contains(told.Names, s.ID) })
		from := "another hole"
		if len(others) > 0 {
			from = others[0].ID
		}
		return nil, fmt.Errorf("the distances go to %s entered before; measure from two of them at least, such as %s", units.Count(len(tied), "hole"), from)
	}
	solved, err := solve(p)
	if err != nil {
		return nil, err
	}
	if err := sayMisfit(solved, u); err != nil {
		return nil, err
	}
	if err := saySides(solved, told.Sides); err != nil {
		return nil, err
	}
	if err := sayOpen(solved); err != nil {
		return nil, err
	}
	for _, s := range solved.Places {
		w := d
		if own, ok := told.Diameters[s.ID]; ok {
			w = own
		}
		all = append(all, spot{Hole: holes.Hole{ID: s.ID, X: s.At.X, Z: s.At.Z, D: w, Joint: a.joint(part, g)}, stdUnc: s.StdUnc})
	}
	return all, nil
}

// sayMisfit says which distance does not fit; nil for none.
func sayMisfit(s pattern.Solution, u units.System) error {
	m := s.Misfit
	if m == nil {
		return nil
	}
	or := ""
	if n := len(m.Or); n > 3 {
		return fmt.Errorf("the distances do not fit together, by %s; measure them again, and one more: then it shows which is wrong", u.Dimension(math.Abs(m.Centres-m.ShouldBe)))
	} else if n > 0 {
		or = " (or it is " + strings.Join(m.Or, ", ") + ")"
	}
	return fmt.Errorf("%s does not fit%s: between centres it is %s, by all the others %s ±%s; measure it again, or leave it out", m.Pair(), or,
		u.Dimension(m.Centres), u.Dimension(m.ShouldBe), u.Fine(max(m.Std, 0.1)))
}

// sideWords are how the sides of a line are called: one that goes up, or one that goes back.
func sideWords(rises bool) (plus, minus string) {
	if rises {
		return "behind", "ahead"
	}
	return "above", "below"
}

// saySides says which statement of a side has no meaning for the line that sides are said of.
func saySides(s pattern.Solution, sides []pattern.Side) error {
	plus, minus := sideWords(s.Rises)
	for _, d := range sides {
		if d.Word == plus || d.Word == minus {
			continue
		}
		goes := "back"
		if s.Rises {
			goes = "up"
		}
		return fmt.Errorf("%s %s: sides are those of the line from %s to %s, which goes %s; say %s %s or %s %s", d.Hole, d.Word, s.Line[0], s.Line[1], goes,
			d.Hole, plus, d.Hole, minus)
	}
	return nil
}

// sayOpen says which hole the distances do not place, and what would; nil where all are placed.
func sayOpen(s pattern.Solution) error {
	if len(s.Open) == 0 {
		return nil
	}
	o := s.Open[0]
	plus, minus := sideWords(s.Rises)
	side := fmt.Sprintf("say which side of the line from %s to %s hole %s is on: add %s %s, or %s %s", s.Line[0], s.Line[1], o.Hole, o.Hole, plus, o.Hole, minus)
	switch o.Why {
	case pattern.Mirrored:
		return fmt.Errorf("the distances fit the plate and its mirror image alike; %s", side)
	case pattern.Against:
		return sayAgainst(s)
	}
	what := "hole " + o.Hole + " cannot be placed by these distances"
	if o.Why == pattern.TwoSides {
		what = "hole " + o.Hole + " has two possible places"
	}
	var do []string
	if o.Ask[0] != "" {
		do = append(do, "measure "+o.Ask[0]+"-"+o.Ask[1]+" too")
	}
	if o.Side {
		do = append(do, side)
	}
	if do == nil {
		do = []string{"measure its distance to one more hole"}
	}
	return fmt.Errorf("%s; %s", what, strings.Join(do, ", or "))
}

// sayAgainst says that sides were said which the distances contradict.
func sayAgainst(s pattern.Solution) error {
	var all []string
	for _, o := range s.Open {
		if o.Why == pattern.Against && !slices.Contains(all, o.Hole) {
			all = append(all, o.Hole)
		}
	}
	if len(all) == 1 {
		return fmt.Errorf("by the distances hole %s is on the other side of the line from %s to %s than you said; change its side, or check its distances",
			all[0], s.Line[0], s.Line[1])
	}
	return fmt.Errorf("the sides of holes %s cannot all be right with these distances; look at the plate which side of the line from %s to %s each is on, and check their distances",
		strings.Join(all, ", "), s.Line[0], s.Line[1])
}

// solve is pattern.Solve, which remembers its last answers: each picture and question asks for them anew.
func solve(p pattern.Problem) (pattern.Solution, error) {
	of := fmt.Sprint(p.Distances, p.Sides, p.Names, p.Known, p.Upwards)
	solvedLast.Lock()
	defer solvedLast.Unlock()
	for _, s := range solvedLast.all {
		if s.of == of {
			return s.is, s.err
		}
	}
	s := solvedOnce{of: of}
	s.is, s.err = pattern.Solve(p)
	solvedLast.all = append(solvedLast.all[max(0, len(solvedLast.all)-15):], s)
	return s.is, s.err
}

// solvedOnce is one problem and its answer.
type solvedOnce struct {
	of  string
	is  pattern.Solution
	err error
}

var solvedLast struct {
	sync.Mutex
	all []solvedOnce
}
