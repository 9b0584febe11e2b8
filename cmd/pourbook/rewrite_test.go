package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/oracle"
)

// The demo book opened and saved again by other programs gives the same
// results, apart from where things stand.
func TestOtherWritersGiveTheSameResults(t *testing.T) {
	inDemoFolder(t)
	jobs := map[string]string{
		"cost":  "pourbook cost %s --month 2026-10 --json --no-documents",
		"plan":  "pourbook plan %s --today 2026-11-05 --json --no-documents",
		"price": "pourbook price %s --jar \"Tin 4 oz\" --today 2026-11-05 --json --no-documents",
	}
	cases := 0
	for _, w := range []struct {
		program *oracle.Program
		save    func(t *testing.T, out string)
	}{
		{oracle.LibreOffice, func(t *testing.T, out string) {
			dir := t.TempDir()
			oracle.Run(t, "soffice", "-env:UserInstallation=file://"+dir, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML",
				"--outdir", filepath.Dir(out), "demo.xlsx")
		}},
		{oracle.OpenPyXL, func(t *testing.T, out string) {
			oracle.Run(t, "/usr/bin/python3", "-c", "import openpyxl, sys; openpyxl.load_workbook('demo.xlsx').save(sys.argv[1])", out)
		}},
	} {
		t.Run(w.program.Name, func(t *testing.T) {
			oracle.Need(t, w.program)
			dir := t.TempDir()
			out := filepath.Join(dir, "demo.xlsx")
			w.save(t, out)
			for job, command := range jobs {
				want, got := results(t, command, "demo.xlsx"), results(t, command, out)
				cases++
				if d := cmp.Diff(want, got); d != "" {
					t.Errorf("%s of the book that %s saved:\n%s", job, w.program.Name, d)
				}
			}
		})
	}
	oracle.Cases(t, cases)
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
