package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// closed are types whose constants stand in a list too: what is in no list is
// not read, not explained and not tested.
var closed = []struct{ file, typ, list string }{
	{"compute/book/book.go", "Kind", "Kinds"},
	{"compute/book/book.go", "TableName", "TableNames"},
	{"compute/book/settings.go", "Setting", "Defs"},
	{"compute/problem/problem.go", "Code", "Codes"},
}

func TestListsHoldEveryConstant(t *testing.T) {
	for _, c := range closed {
		f, err := parser.ParseFile(token.NewFileSet(), inTree(c.file), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		consts, listed := constants(f, c.typ), variable(f, c.list)
		if len(consts) == 0 || len(listed) == 0 {
			t.Errorf("%s: no constants of %s, or no list %s", c.file, c.typ, c.list)
		}
		for _, name := range consts {
			if !slices.Contains(listed, name) {
				t.Errorf("%s: %s is not in %s", c.file, name, c.list)
			}
		}
	}
}

// constants are the names of a file's constants of a type.
func constants(f *ast.File, typ string) []string {
	var out []string
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST {
			continue
		}
		for _, s := range g.Specs {
			v := s.(*ast.ValueSpec)
			if id, ok := v.Type.(*ast.Ident); ok && id.Name == typ {
				for _, n := range v.Names {
					out = append(out, n.Name)
				}
			}
		}
	}
	return out
}

// variable are the names that the value of a file's variable is made of.
func variable(f *ast.File, name string) []string {
	var out []string
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.VAR {
			continue
		}
		for _, s := range g.Specs {
			v := s.(*ast.ValueSpec)
			if v.Names[0].Name != name {
				continue
			}
			ast.Inspect(v.Values[0], func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok {
					out = append(out, id.Name)
				}
				return true
			})
		}
	}
	return out
}

// A setting that nothing computes or prints by is a promise that is not kept.
func TestEverySettingIsRead(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), inTree("compute/book/settings.go"), nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	read := map[string]bool{}
	for _, p := range packages(t) {
		if strings.Contains(p.ImportPath, "/ingest") {
			continue
		}
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if id, ok := s.X.(*ast.Ident); ok && id.Name == "book" {
						read[s.Sel.Name] = true
					}
				}
				return true
			})
		}
	}
	for _, name := range constants(f, "Setting") {
		// Drops and density are read by the book's own Dosing.
		if !read[name] && name != "DropsPerML" && name != "DyeDensity" {
			t.Errorf("nothing reads the setting book.%s", name)
		}
	}
}
