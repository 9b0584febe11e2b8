package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The most lines that a file and a function may have.
const (
	fileLines     = 400
	functionLines = 80
)

// tables are functions that may be longer, since they only list books or cells.
var tables = []string{"ingest.cleanBook", "ingest.everyday"}

func TestFilesAndFunctionsAreShort(t *testing.T) {
	var long []string
	everyFile(t, func(path string, set *token.FileSet, f *ast.File) {
		if n := set.File(f.FileStart).LineCount(); n > fileLines {
			t.Errorf("%s has %d lines, more than %d", path, n, fileLines)
		}
		for _, d := range f.Decls {
			n := set.Position(d.End()).Line - set.Position(d.Pos()).Line + 1
			fn, ok := d.(*ast.FuncDecl)
			if !ok || n <= functionLines {
				continue
			}
			name := f.Name.Name + "." + fn.Name.Name
			long = append(long, name)
			if !slices.Contains(tables, name) {
				t.Errorf("%s: %s has %d lines, more than %d", path, name, n, functionLines)
			}
		}
	})
	for _, name := range tables {
		if !slices.Contains(long, name) {
			t.Errorf("%s is excepted, but is no long function", name)
		}
	}
}

func TestExportedNamesAreDocumented(t *testing.T) {
	documented := map[string]bool{}
	everyFile(t, func(path string, set *token.FileSet, f *ast.File) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		folder := filepath.Dir(path)
		documented[folder] = documented[folder] || f.Doc != nil
		for _, d := range f.Decls {
			for _, name := range undocumented(d) {
				t.Errorf("%s: %s has no comment", set.Position(d.Pos()), name)
			}
		}
	})
	for folder, ok := range documented {
		if !ok {
			t.Errorf("the package in %s has no comment", folder)
		}
	}
}

// undocumented lists the exported names of a declaration that no comment
// stands before; one before a group speaks for all in it.
func undocumented(d ast.Decl) []string {
	var out []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Doc == nil && d.Name.IsExported() && !ofHidden(d) {
			out = append(out, d.Name.Name)
		}
	case *ast.GenDecl:
		if d.Doc != nil {
			break
		}
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				if s.Doc == nil && s.Comment == nil && s.Name.IsExported() {
					out = append(out, s.Name.Name)
				}
			case *ast.ValueSpec:
				for _, n := range s.Names {
					if s.Doc == nil && s.Comment == nil && n.IsExported() {
						out = append(out, n.Name)
					}
				}
			}
		}
	}
	return out
}

// ofHidden reports whether a function is a method of a type that is not exported.
func ofHidden(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return false
	}
	hidden := false
	ast.Inspect(d.Recv.List[0].Type, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			hidden = !id.IsExported()
			return false
		}
		return !hidden
	})
	return hidden
}

// everyFile gives every file of Go code in the tree, tests included.
func everyFile(t *testing.T, give func(path string, set *token.FileSet, f *ast.File)) {
	t.Helper()
	n := 0
	err := filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" {
			return err
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		n++
		give(path, set, f)
		return nil
	})
	if err != nil || n < 100 {
		t.Fatalf("%d files read: %v", n, err)
	}
}
