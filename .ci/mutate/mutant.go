package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// mutant is a file in which one thing is changed.
type mutant struct {
	file     string // its whole path
	line     int
	from, to string
	text     []byte
}

func (m mutant) String() string {
	name := m.file
	if wd, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(wd, m.file); err == nil {
			name = rel
		}
	}
	return fmt.Sprintf("%s:%d  %s → %s", name, m.line, m.from, m.to)
}

// swaps are the operators that are changed, and into what.
var swaps = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// mutants lists all mutants of a package whose lines are asked for.
func mutants(dir string, asked func(file string, line int) bool) ([]mutant, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	var all []mutant
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		of, err := mutantsOf(name, asked)
		if err != nil {
			return nil, err
		}
		all = append(all, of...)
	}
	return all, nil
}

func mutantsOf(name string, asked func(string, int) bool) ([]mutant, error) {
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	source, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var all []mutant
	change := func(at token.Pos, from, to string) {
		p := set.Position(at)
		if !asked(path, p.Line) {
			return
		}
		text := append([]byte(nil), source[:p.Offset]...)
		text = append(append(text, to...), source[p.Offset+len(from):]...)
		all = append(all, mutant{path, p.Line, from, to, text})
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BinaryExpr:
			if to, ok := swaps[n.Op]; ok && !isText(n.X) && !isText(n.Y) {
				change(n.OpPos, n.Op.String(), to.String())
			}
		case *ast.AssignStmt:
			if to, ok := swaps[n.Tok]; ok && !isText(n.Rhs[0]) {
				change(n.TokPos, n.Tok.String(), to.String())
			}
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				change(n.OpPos, n.Op.String(), "")
			}
		case *ast.BasicLit:
			if n.Kind == token.FLOAT {
				if x, err := strconv.ParseFloat(n.Value, 64); err == nil && x != 0 {
					change(n.Pos(), n.Value, strconv.FormatFloat(1.5*x, 'g', -1, 64))
				}
			}
		}
		return true
	})
	return all, nil
}

// isText reports whether an expression is a text, as far as it can be seen.
func isText(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.BasicLit:
		return x.Kind == token.STRING
	case *ast.BinaryExpr:
		return isText(x.X) || isText(x.Y)
	}
	return false
}
