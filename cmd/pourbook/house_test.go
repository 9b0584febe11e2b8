package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// rule says what the packages under a folder may import from outside the
// standard library and beside their own folder.
type rule struct {
	under   string
	ours    []string // folders of this module
	foreign []string // modules or packages of others
}

// rules is the table of imports; the first that fits a package counts.
var rules = []rule{
	{"cmd", []string{"ingest", "compute", "report", "templates"}, []string{"github.com/urfave/cli/v2", "golang.org/x/term", "github.com/schollz/progressbar/v3"}},
	{"ingest/grid", []string{"compute/cell", "compute/day"}, []string{
		"github.com/xuri/excelize/v2", "github.com/klauspost/compress/flate", "golang.org/x/text",
	}},
	{"ingest", []string{
		"ingest", "compute/book", "compute/cell", "compute/money", "compute/unit", "compute/day", "compute/problem", "templates",
	}, []string{"github.com/goccy/go-yaml", "golang.org/x/text"}},
	{"compute/money", nil, []string{"github.com/shopspring/decimal"}},
	{"compute", []string{"compute"}, []string{"gonum.org/v1/gonum"}},
	{"report/pdf", []string{"compute", "report", "templates"}, []string{
		"github.com/jung-kurt/gofpdf", "golang.org/x/text", "golang.org/x/image", "github.com/go-fonts/dejavu",
	}},
	{"report/xlsx", []string{"compute", "report", "templates"}, []string{"github.com/xuri/excelize/v2", "github.com/klauspost/compress/flate", "golang.org/x/text"}},
	{"report", []string{"compute", "report", "templates"}, []string{"golang.org/x/text"}},
	{"templates", nil, nil},
}

type listed struct {
	ImportPath  string
	Imports     []string
	GoFiles     []string
	TestGoFiles []string
	Dir         string
}

func TestImportsFollowTheTable(t *testing.T) {
	for _, p := range packages(t) {
		path := strings.TrimPrefix(p.ImportPath, "pourbook/")
		i := slices.IndexFunc(rules, func(r rule) bool { return within(path, r.under) })
		if i < 0 {
			t.Errorf("no rule for package %s", path)
			continue
		}
		for _, imp := range p.Imports {
			if !rules[i].allows(imp) {
				t.Errorf("%s imports %s, which the table does not allow", path, imp)
			}
		}
	}
}

func (r rule) allows(imp string) bool {
	if ours, ok := strings.CutPrefix(imp, "pourbook/"); ok {
		return within(ours, r.under) || slices.ContainsFunc(r.ours, func(f string) bool { return within(ours, f) })
	}
	host, _, _ := strings.Cut(imp, "/")
	return !strings.Contains(host, ".") || slices.ContainsFunc(r.foreign, func(f string) bool { return within(imp, f) })
}

func within(path, folder string) bool { return path == folder || strings.HasPrefix(path, folder+"/") }

func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports,GoFiles,TestGoFiles,Dir", "./...")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}
