package figures

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/units"
)

// Line is one equation of an explanation.
type Line struct {
	Name     string // what is on its left
	Symbolic string
	Numeric  string // with the numbers put in
	Result   string // with its unit, in SI units, mm and degrees
	Source   string
}

// Input is a quantity that an explanation starts from.
type Input struct {
	Name, Meaning string
	Value, Unit   string
	Origin        string
	Source        string
}

// Contribution is what one uncertain input adds to a figure, of its standard uncertainty,
// in the figure's own unit.
type Contribution struct {
	What  string
	By    float64
	Input model.InputUncertainty
}

// Explanation is how a figure of a setting is worked out.
type Explanation struct {
	Figure        Figure
	Value         float64
	StdUnc        float64 // NaN where none is worked out
	Lines         []Line
	Inputs        []Input
	Contributions []Contribution // the largest first
}

// symbolInBraces matches the symbols in an equation.
var symbolInBraces = regexp.MustCompile(`\{([^}]+)\}`)

// Explain returns how a figure of a setting is worked out: its equation with the numbers put
// in, those of what it follows from, the inputs with where they come from, and what makes
// it uncertain.
func Explain(t *model.Table, r *model.Row, f Figure) Explanation {
	s := Setting{t, r}
	e := Explanation{Figure: f, Value: f.Value(s), StdUnc: math.NaN()}
	var used []string
	if f.Equation != nil {
		eq := f.Equation(s)
		e.Lines = append(e.Lines, line(s, f.Name, eq, Symbol{Quantity: f.Quantity}, e.Value, f.Source))
		used = follow(s, eq, nil)
	} else if f.Quantity == Number {
		used = follow(s, "{α}", nil)
	}
	for _, sym := range symbols {
		if !slices.Contains(used, sym.Name) {
			continue
		}
		x := sym.Value(s)
		if eq := sym.equation(s); eq != "" {
			e.Lines = append(e.Lines, line(s, sym.Name, eq, sym, x, sym.Source))
			continue
		}
		e.Inputs = append(e.Inputs, Input{sym.Name, sym.Meaning, sym.text(x), sym.unit(), sym.Origin(s), sym.Source})
	}
	if f.StdUnc == nil {
		return e
	}
	b := t.Budget(r)
	e.StdUnc = f.StdUnc(b.Contribution)
	for _, p := range b.Parts {
		if by := math.Abs(f.StdUnc(p)); by > 0 {
			e.Contributions = append(e.Contributions, Contribution{p.What, by, p.Input})
		}
	}
	slices.SortStableFunc(e.Contributions, func(a, b Contribution) int {
		switch {
		case a.By > b.By:
			return -1
		case a.By < b.By:
			return 1
		}
		return 0
	})
	return e
}

// Symbolic returns the equation of a figure in symbols, as in a setting whose wing lifts in
// downwash; "" where there is none.
func (f Figure) Symbolic() string {
	if f.Equation == nil {
		return ""
	}
	return symbolInBraces.ReplaceAllString(f.Equation(typical), "$1")
}

// Symbolic returns the equation of what follows from other symbols; "" for an input.
func (s Symbol) Symbolic() string {
	return symbolInBraces.ReplaceAllString(s.equation(typical), "$1")
}

// typical stands for a setting in downwash, for equations that depend on the case.
var typical = Setting{
	Table: &model.Table{Car: &model.Car{TrackFit: model.NoFit()}},
	Row: &model.Row{
		Position: &model.Position{Struts: model.Struts{Known: true}, Deck: model.DeckEffect{Known: true}},
		Outcome:  model.Outcome{Lean: -2, LeanCredit: 1, OwnDrag: 2},
	},
}

// Symbols lists the symbols that equations are written in.
func Symbols() []Symbol { return slices.Clone(symbols) }

// Sources lists the sources of the equations and inputs, each once.
func (e Explanation) Sources() []string {
	var all []string
	add := func(source string) {
		if source != "" && !slices.Contains(all, source) {
			all = append(all, source)
		}
	}
	for _, l := range e.Lines {
		add(l.Source)
	}
	for _, in := range e.Inputs {
		add(in.Source)
	}
	add(e.Figure.Source)
	return all
}

// equation returns the equation of a symbol that follows from others; "" for an input.
func (s Symbol) equation(at Setting) string {
	if s.Equation == nil {
		return ""
	}
	return s.Equation(at)
}

// unit names the unit of text, in SI units, mm and degrees.
func (s Symbol) unit() string {
	switch s.Quantity {
	case Angle:
		return "" // the degree sign stands at the number
	case Force:
		return "N"
	case Length:
		return "mm"
	case Share, Shift:
		return ""
	case Power:
		return "W"
	case Speed:
		return "m/s"
	}
	return s.Quantity.Unit(units.Metric)
}

// follow lists the symbols that an equation rests on, directly or not.
func follow(s Setting, equation string, met []string) []string {
	for _, m := range symbolInBraces.FindAllStringSubmatch(equation, -1) {
		if slices.Contains(met, m[1]) {
			continue
		}
		met = append(met, m[1])
		met = follow(s, findSymbol(m[1]).equation(s), met)
	}
	return met
}

// line spells one equation.
func line(s Setting, name, equation string, of Symbol, result float64, source string) Line {
	return Line{
		Name:     name,
		Symbolic: symbolInBraces.ReplaceAllString(equation, "$1"),
		Numeric:  fill(s, equation, Symbol.text),
		Result:   strings.TrimRight(of.text(result)+" "+of.unit(), " "),
		Source:   source,
	}
}

// fill puts numbers into an equation. Negative numbers stand in brackets.
func fill(s Setting, equation string, text func(Symbol, float64) string) string {
	return symbolInBraces.ReplaceAllStringFunc(equation, func(p string) string {
		sym := findSymbol(strings.Trim(p, "{}"))
		n := text(sym, sym.Value(s))
		if strings.HasPrefix(n, "−") {
			return "(" + n + ")"
		}
		return n
	})
}
