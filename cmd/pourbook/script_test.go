package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"pourbook/report"
)

// update rewrites what the tests expect instead of checking it: go test
// ./cmd/pourbook -update, then read the difference.
var update = flag.Bool("update", false, "rewrite expected output")

func TestMain(m *testing.M) {
	testscript.Main(cleaned{m}, map[string]func(){
		"pourbook": func() {
			os.Exit(run(context.Background(), os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
		},
	})
}

// The stories of the command line: what a user types, sees, and finds on disk.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"), UpdateScripts: *update, RequireExplicitExec: true,
		Condition: func(cond string) (bool, error) {
			if cond == "ci" {
				return os.Getenv("CI") != "", nil
			}
			return false, fmt.Errorf("there is no condition %s", cond)
		},
		Setup: func(e *testscript.Env) error {
			data, err := report.DemoBook()
			if err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(e.WorkDir, "demo.xlsx"), data, 0o644)
		},
	})
}
