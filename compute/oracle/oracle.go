// Package oracle lets tests hold the program to the world outside: to
// independent programs, which are required where the environment variable CI
// is set, and to published figures. Only tests import it.
package oracle

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
)

// Program is an independent program, with the Debian packages that hold it and
// a command that succeeds where it is installed.
type Program struct {
	Name     string
	Packages string
	probe    []string
	missing  func() bool
}

// python is Debian's, which sees Debian's modules.
const python = "/usr/bin/python3"

// The programs that tests ask.
var (
	GLPK        = program("GLPK", "glpk-utils", "glpsol", "--version")
	Units       = program("GNU units", "units", "units", "--version")
	Groff       = program("groff", "groff-base", "groff", "--version")
	Gnumeric    = program("Gnumeric", "gnumeric", "ssconvert", "--version")
	LibreOffice = program("LibreOffice", "libreoffice-calc", "soffice")
	OpenPyXL    = program("openpyxl", "python3-openpyxl", python, "-c", "import openpyxl")
	Poppler     = program("Poppler", "poppler-utils", "pdftotext", "-v")
	QPDF        = program("qpdf", "qpdf", "qpdf", "--version")
	SciPy       = program("SciPy", "python3-scipy", python, "-c", "import scipy.stats")
	Tmpfs       = program("mounting as root", "mount", "sh", "-c", `d=$(mktemp -d) && mount -t tmpfs tmpfs "$d" && umount "$d" && rmdir "$d"`)
	Zsh         = program("zsh", "zsh", "zsh", "--version")
	Fish        = program("fish", "fish", "fish", "--version")
	R           = program("R", "r-base-core r-cran-bayesm r-cran-forecast", "Rscript", "--vanilla", "-e",
		`stopifnot(nzchar(system.file(package = "bayesm")), nzchar(system.file(package = "forecast")))`)
)

// All are the programs above.
var All = []*Program{GLPK, Units, Groff, Gnumeric, LibreOffice, OpenPyXL, Poppler, QPDF, SciPy, Tmpfs, Zsh, Fish, R}

func program(name, packages string, probe ...string) *Program {
	p := &Program{Name: name, Packages: packages, probe: probe}
	p.missing = sync.OnceValue(func() bool {
		if _, err := exec.LookPath(probe[0]); err != nil || len(probe) == 1 {
			return err != nil
		}
		return exec.Command(probe[0], probe[1:]...).Run() != nil
	})
	return p
}

// Need skips a test where one of the programs is missing, and fails it where CI
// is set.
func Need(t testing.TB, programs ...*Program) {
	t.Helper()
	line := Unchecked(programs)
	switch {
	case line == "":
	case Required():
		t.Fatal(line)
	default:
		partly.Store(root(t), true)
		neverCached()
		t.Skip(line)
	}
}

// Required reports whether every outside check has to be made.
func Required() bool { return os.Getenv("CI") != "" }

// Brief reports whether long tests make fewer runs of the same kind: where CI is
// not set, or it is asked for.
func Brief() bool { return testing.Short() || !Required() }

// Unchecked says in one line which of the programs are missing and how to
// install them; empty when none is.
func Unchecked(programs []*Program) string {
	var names, packages []string
	for _, p := range programs {
		if p.missing() && !slices.Contains(names, p.Name) {
			names, packages = append(names, p.Name), append(packages, p.Packages)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("not checked against %s; to check: apt-get install %s", strings.Join(names, ", "), strings.Join(packages, " "))
}

// Python runs a Python program, with what the programs needed give it.
func Python(t testing.TB, text string, needs ...*Program) []byte {
	t.Helper()
	Need(t, needs...)
	return Run(t, python, "-c", text)
}

// Rscript runs an R program with the arguments and gives what it prints.
func Rscript(t testing.TB, text string, args ...string) []byte {
	t.Helper()
	Need(t, R)
	return Run(t, "Rscript", append([]string{"--vanilla", "-e", text}, args...)...)
}

// Run runs a command, fails when it does, and gives its standard output.
func Run(t testing.TB, name string, args ...string) []byte {
	t.Helper()
	var errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, errs.String())
	}
	return out
}
