package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// need skips where a program is not installed; where CI is set that fails.
func need(t *testing.T, pkg, program string, args ...string) {
	t.Helper()
	if exec.Command(program, args...).Run() == nil {
		return
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is required in CI", pkg)
	}
	t.Skipf("not checked: install %s", pkg)
}

// The demo book opened and saved again by other programs gives the same
// results, apart from where things stand.
func TestOtherWritersGiveTheSameResults(t *testing.T) {
	inDemoFolder(t)
	jobs := map[string]string{
		"cost":  "pourbook cost %s --month 2026-10 --json --no-documents",
		"plan":  "pourbook plan %s --today 2026-11-05 --json --no-documents",
		"price": "pourbook price %s --jar \"Tin 4 oz\" --today 2026-11-05 --json --no-documents",
	}
	for _, w := range []struct {
		name, pkg string
		probe     []string
		save      func(t *testing.T, out string)
	}{
		{"LibreOffice", "libreoffice-calc", []string{"soffice", "--version"}, func(t *testing.T, out string) {
			dir := t.TempDir()
			runProgram(t, "soffice", "-env:UserInstallation=file://"+dir, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML",
				"--outdir", filepath.Dir(out), "demo.xlsx")
		}},
		{"openpyxl", "python3-openpyxl", []string{"/usr/bin/python3", "-c", "import openpyxl"}, func(t *testing.T, out string) {
			runProgram(t, "/usr/bin/python3", "-c", "import openpyxl, sys; openpyxl.load_workbook('demo.xlsx').save(sys.argv[1])", out)
		}},
	} {
		t.Run(w.name, func(t *testing.T) {
			need(t, w.pkg, w.probe[0], w.probe[1:]...)
			dir := t.TempDir()
			out := filepath.Join(dir, "demo.xlsx")
			w.save(t, out)
			for job, command := range jobs {
				want, got := results(t, command, "demo.xlsx"), results(t, command, out)
				if d := cmp.Diff(want, got); d != "" {
					t.Errorf("%s of the book that %s saved:\n%s", job, w.name, d)
				}
			}
		})
	}
}

func runProgram(t *testing.T, name string, args ...string) {
	t.Helper()
	if text, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, text)
	}
}

// results are a job's results without the places of its problems.
func results(t *testing.T, command, book string) map[string]any {
	t.Helper()
	var out map[string]any
	if err := json.Unmarshal([]byte(output(t, replaceBook(command, book))), &out); err != nil {
		t.Fatal(err)
	}
	problems, _ := out["problems"].([]any)
	for _, p := range problems {
		delete(p.(map[string]any), "sheet")
		delete(p.(map[string]any), "cell")
	}
	return out
}

func replaceBook(command, book string) string { return fmt.Sprintf(command, `"`+book+`"`) }
