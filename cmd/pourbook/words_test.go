package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/problem"
	"pourbook/templates"
)

// literals are the string literals of the program's code, and those that are
// asked of templates directly.
func literals(t *testing.T) (all, asked map[string]bool) {
	t.Helper()
	all, asked = map[string]bool{}, map[string]bool{}
	for _, p := range packages(t) {
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BasicLit:
					if s, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
						all[s] = true
					}
				case *ast.CallExpr:
					if key, ok := firstLiteral(n); ok && asksTemplates(n.Fun) {
						asked[key] = true
					}
				}
				return true
			})
		}
	}
	return all, asked
}

func firstLiteral(c *ast.CallExpr) (string, bool) {
	if len(c.Args) == 0 {
		return "", false
	}
	lit, ok := c.Args[0].(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}

func asksTemplates(f ast.Expr) bool {
	sel, ok := f.(*ast.SelectorExpr)
	if !ok {
		id, ok := f.(*ast.Ident)
		return ok && id.Name == "usagef"
	}
	pkg, ok := sel.X.(*ast.Ident)
	return ok && pkg.Name == "templates" && slices.Contains([]string{"Text", "List"}, sel.Sel.Name)
}

func TestEveryKeyThatCodeAsksForHasWords(t *testing.T) {
	_, asked := literals(t)
	if len(asked) < 50 {
		t.Fatalf("only %d keys found in the code", len(asked))
	}
	for key := range asked {
		if !templates.Has(key) {
			t.Errorf("no words for %q", key)
		}
	}
}

func TestEveryProblemCodeHasWords(t *testing.T) {
	for _, c := range problem.Codes {
		if len(templates.Keys("problem."+string(c))) == 0 {
			t.Errorf("no words for problem %s", c)
		}
	}
}

// What is wrong goes with what to do, and its places are filled by arguments that
// code names.
func TestProblemsSayWhatToDo(t *testing.T) {
	all, _ := literals(t)
	place := regexp.MustCompile(`\{([^}|]+)`)
	n := 0
	for _, key := range templates.Keys("problem.") {
		if !strings.HasSuffix(key, ".hint") && !templates.Has(key+".hint") {
			t.Errorf("%s has no hint", key)
		}
		for _, name := range place.FindAllStringSubmatch(templates.Text(key), -1) {
			if n++; !all[name[1]] {
				t.Errorf("%s: no code fills {%s}", key, name[1])
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d places found", n)
	}
}

// A key is used when code names it whole, or each of its parts: the code puts
// "problem." before a code and its variant, "figure." before a figure's key.
func TestEveryWordIsUsed(t *testing.T) {
	all, _ := literals(t)
	for _, key := range templates.Keys("") {
		if !all[key] && !usedByParts(strings.TrimSuffix(key, ".hint"), all) {
			t.Errorf("nothing uses %q", key)
		}
	}
}

func usedByParts(key string, all map[string]bool) bool {
	if all[key] || all["."+key] || all[key+"."] {
		return true
	}
	for i, r := range key {
		if r == '.' && (all[key[:i+1]] || all[key[:i]]) && usedByParts(key[i+1:], all) {
			return true
		}
	}
	return false
}
