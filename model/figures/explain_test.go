package figures

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
)

func table(t *testing.T, name string) *model.Table {
	t.Helper()
	car, err := carfile.Demo(name)
	if err != nil {
		t.Fatal(err)
	}
	all, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// exact puts every digit into an equation, angles in rad.
func exact(_ Symbol, x float64) string {
	return strings.Replace(strconv.FormatFloat(x, 'f', -1, 64), "-", "−", 1)
}

// worked is what an equation with its numbers comes to, by Go's own parser.
func worked(t *testing.T, equation string) float64 {
	t.Helper()
	text := strings.NewReplacer("−", "-", " · ", "*").Replace(equation)
	for i := strings.Index(text, "²"); i >= 0; i = strings.Index(text, "²") { // a number or a bracket before it
		from := i
		for depth := 0; from > 0; from-- {
			switch c := text[from-1]; {
			case c == ')':
				depth++
				continue
			case c == '(':
				depth--
			case depth > 0 || c >= '0' && c <= '9' || c == '.':
				continue
			default:
				depth = -1
			}
			if depth == 0 {
				from--
			}
			break
		}
		text = text[:from] + "sq(" + text[from:i] + ")" + text[i+len("²"):]
	}
	e, err := parser.ParseExpr(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return value(t, e)
}

func value(t *testing.T, e ast.Expr) float64 {
	t.Helper()
	switch e := e.(type) {
	case *ast.BasicLit:
		x, err := strconv.ParseFloat(e.Value, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	case *ast.ParenExpr:
		return value(t, e.X)
	case *ast.UnaryExpr:
		return -value(t, e.X)
	case *ast.BinaryExpr:
		x, y := value(t, e.X), value(t, e.Y)
		switch e.Op {
		case token.ADD:
			return x + y
		case token.SUB:
			return x - y
		case token.MUL:
			return x * y
		case token.QUO:
			return x / y
		}
	case *ast.CallExpr:
		x := value(t, e.Args[0])
		switch e.Fun.(*ast.Ident).Name {
		case "sin":
			return math.Sin(x)
		case "cos":
			return math.Cos(x)
		case "sq":
			return x * x
		case "max":
			return max(x, value(t, e.Args[1]))
		}
	}
	t.Fatalf("%T is not arithmetic", e)
	return 0
}

// Every equation with its numbers put in comes to the figure, and to the symbol, that it
// is printed for, in every setting of every demo car.
func TestEquationsComeToTheirFigures(t *testing.T) {
	for _, name := range carfile.Demos() {
		all := table(t, name)
		for i := range all.Rows {
			s := Setting{all, &all.Rows[i]}
			if math.IsNaN(s.Row.Downforce) {
				continue
			}
			check := func(what, equation string, want float64) {
				if equation == "" || math.IsNaN(want) {
					return
				}
				if got := worked(t, fill(s, equation, exact)); math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
					t.Fatalf("%s, %s: %s = %s comes to %g, the figure is %g", name, s.Row.ID, what, equation, got, want)
				}
			}
			for _, f := range List {
				if f.Equation != nil {
					check(f.Name, f.Equation(s), f.Value(s))
				}
			}
			for _, sym := range symbols {
				check(sym.Name, sym.equation(s), sym.Value(s))
			}
		}
	}
}

// Every symbol is used, and every figure says what it is and where it is worked out.
func TestListIsWhole(t *testing.T) {
	all := table(t, "coupe")
	s := Setting{all, &all.Rows[0]}
	used := map[string]bool{"CM": true, "G": true} // not in every setting
	for _, f := range List {
		if f.Equation != nil {
			for _, n := range follow(s, f.Equation(s), nil) {
				used[n] = true
			}
		}
		if f.Equation == nil && f.How == "" || f.In == "" || f.Name == "" || f.Key == "" {
			t.Errorf("%s says too little of itself", f.Key)
		}
		if _, ok := Find(f.Name); !ok {
			t.Errorf("%s is not found by its name", f.Name)
		}
	}
	for _, sym := range symbols {
		if !used[sym.Name] {
			t.Errorf("symbol %s is in no equation", sym.Name)
		}
		if sym.Equation == nil && sym.Origin == nil {
			t.Errorf("symbol %s comes from nowhere", sym.Name)
		}
	}
}

// The functions that figures are said to be worked out in are there.
func TestFunctionsAreThere(t *testing.T) {
	found := map[string]bool{"figures.List": true}
	for _, dir := range []string{"holes", "aero", "model"} {
		paths, err := filepath.Glob(filepath.Join("..", "..", dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			text, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, text, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range f.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok {
					continue
				}
				name := fn.Name.Name
				if fn.Recv != nil {
					recv := fn.Recv.List[0].Type
					if star, ok := recv.(*ast.StarExpr); ok {
						recv = star.X
					}
					name = fmt.Sprint(recv) + "." + name
				}
				found[dir+"."+name] = true
			}
		}
	}
	for _, f := range List {
		if !found[f.In] {
			t.Errorf("%s is said to be worked out in %s, which is not there", f.Name, f.In)
		}
	}
}

// Where the file calls the fixed part's angle assumed, it is not said to be measured.
func TestAssumedAngleIsNotMeasured(t *testing.T) {
	tbl := table(t, "saloon")
	for _, want := range []string{"measured", "assumed"} {
		if want == "assumed" {
			car := *tbl.Car
			car.Assumed = append(car.Assumed[:len(car.Assumed):len(car.Assumed)], model.Assumption{What: "upright's angle", Value: "0°", Said: true})
			tbl.Car = &car
		}
		for _, figure := range []Key{GroundAngle, Height, FrontChange} {
			for _, in := range Explain(tbl, &tbl.Rows[0], Get(figure)).Inputs {
				if other := map[string]string{"measured": "assumed", "assumed": "measured"}[want]; strings.Contains(in.Origin, "[[part]]") && strings.Contains(in.Origin, "fixed") && (!strings.Contains(in.Origin, want) || strings.Contains(in.Origin, other)) {
					t.Errorf("%s of %v: %q, want %s", in.Name, figure, in.Origin, want)
				}
			}
		}
	}
}
