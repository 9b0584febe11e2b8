package ingest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A field that a reader asks for and no table has is always blank; one that a
// table has and nothing asks for is recognized for nothing.
func TestReadersAskForTheFieldsOfTheirTables(t *testing.T) {
	has := map[string]bool{}
	for i := range specs {
		for _, f := range specs[i].fields() {
			has[f] = true
		}
	}
	named, asked := fieldWords(t)
	for _, s := range specs {
		for _, unit := range s.beside {
			named[unit] = true
		}
	}
	for f := range has {
		if !named[f] && !slices.Contains(idle, f) {
			t.Errorf("nothing reads the field %q", f)
		}
	}
	for f := range asked {
		if !has[f] {
			t.Errorf("no table has the field %q that a reader asks for", f)
		}
	}
	if len(asked) < 40 {
		t.Errorf("only %d fields are asked for", len(asked))
	}
}

// fieldWords are the texts of the code outside the tables' own file, and those
// that a line's methods are given first.
func fieldWords(t *testing.T) (named, asked map[string]bool) {
	t.Helper()
	named, asked = map[string]bool{}, map[string]bool{}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		if path == "fields.go" || strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := textOf(n); ok {
				named[s] = true
			}
			if call, ok := n.(*ast.CallExpr); ok && len(call.Args) > 0 && onLine(call.Fun) {
				if s, ok := textOf(call.Args[0]); ok {
					asked[s] = true
				}
			}
			return true
		})
	}
	return named, asked
}

// onLine reports whether a method of a row, the variable l, is called.
func onLine(f ast.Expr) bool {
	sel, ok := f.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	id, ok := sel.X.(*ast.Ident)
	return ok && id.Name == "l"
}

func textOf(n ast.Node) (string, bool) {
	lit, ok := n.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}
