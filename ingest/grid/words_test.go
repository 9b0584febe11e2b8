package grid

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strconv"
	"strings"
	"testing"
)

// The words stand in templates, which this package does not import.
func TestEveryFaultAndNoteHasWords(t *testing.T) {
	words, err := os.ReadFile("../../templates/en/files.txt")
	if err != nil {
		t.Fatal(err)
	}
	keys := keysInCode(t)
	if len(keys) < 30 {
		t.Fatalf("only %d keys found in the code", len(keys))
	}
	for key := range keys {
		if !strings.Contains(string(words), "\nfile."+key+": ") {
			t.Errorf("no words for %q", key)
		}
		if !strings.HasPrefix(key, "note-") && !strings.Contains(string(words), "\nfile."+key+".hint: ") {
			t.Errorf("no hint for %q", key)
		}
	}
}

// keysInCode are the first arguments of fault and note, and what sniff returns.
func keysInCode(t *testing.T) map[string]bool {
	t.Helper()
	keys := map[string]bool{}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	take := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			s, _ := strconv.Unquote(lit.Value)
			keys[s] = true
		}
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if isKeyed(n.Fun) && len(n.Args) > 0 {
					take(n.Args[0])
				}
			case *ast.ReturnStmt:
				if e.Name() == "sniff.go" && len(n.Results) == 1 {
					take(n.Results[0])
				}
			}
			return true
		})
	}
	return keys
}

func isKeyed(f ast.Expr) bool {
	if id, ok := f.(*ast.Ident); ok {
		return id.Name == "fault"
	}
	sel, ok := f.(*ast.SelectorExpr)
	return ok && sel.Sel.Name == "note"
}
