package carfile

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The file that a person starts from shows every key that the reader knows.
func TestStartShowsEveryKey(t *testing.T) {
	readers := map[string]bool{"number": true, "maybe": true, "optional": true, "text": true, "flag": true, "child": true, "children": true, "list": true, "must": true}
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]string{}
	for _, p := range paths {
		if strings.HasSuffix(p, "_test.go") || strings.HasPrefix(p, "guide") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if s, ok := n.Fun.(*ast.SelectorExpr); ok && readers[s.Sel.Name] {
					for _, a := range n.Args[:min(2, len(n.Args))] {
						if l, ok := a.(*ast.BasicLit); ok && l.Kind == token.STRING {
							if key, _ := strconv.Unquote(l.Value); regexp.MustCompile(`^[a-z_]+$`).MatchString(key) {
								keys[key] = p
							}
							break
						}
					}
				}
			case *ast.CompositeLit: // rows of keys, such as those of [uncertainty]
				if len(n.Elts) > 2 {
					if l, ok := n.Elts[0].(*ast.BasicLit); ok && l.Kind == token.STRING && p == "conditions.go" {
						key, _ := strconv.Unquote(l.Value)
						keys[key] = p
					}
				}
			}
			return true
		})
	}
	if len(keys) < 70 {
		t.Fatalf("%d keys are found in the reader: the test looks in the wrong places", len(keys))
	}
	text := string(Start())
	for key, where := range keys {
		if !regexp.MustCompile(`(?m)(^|[^a-z_])` + key + ` *=|\[` + key + `\]`).MatchString(text) {
			t.Errorf("start.toml does not show %s, which %s reads", key, where)
		}
	}
}

// What stands in comments is right as well: with the alternatives left as they are, every
// other line can be taken in.
func TestCommentsOfStartAreRight(t *testing.T) {
	alternatives := regexp.MustCompile(`^# (altitude|coordinates|polar|table|\{ id = "S[12]") ?`)
	line := regexp.MustCompile(`^# ((\[\[?[a-z_]+\]\]?|[a-z_]+ *= .*))`)
	var lines []string
	for _, l := range strings.Split(string(Start()), "\n") {
		if m := line.FindStringSubmatch(l); m != nil && !alternatives.MatchString(l) {
			l = m[1]
		}
		if s, ok := strings.CutPrefix(l, "# { id"); ok {
			l = "{ id" + s
		}
		lines = append(lines, l)
	}
	car, err := Parse("start.toml", []byte(strings.Join(lines, "\n")), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(car.Parts[1].Slots) != 2 || car.Body == nil || len(car.Panels) != 1 || len(car.Readings) != 1 || !car.TrackFit.Drag.Known() || !car.Limits.LidOpening.Known() {
		t.Errorf("not all was taken in: %d slots, %d panels, %d readings", len(car.Parts[1].Slots), len(car.Panels), len(car.Readings))
	}
}
