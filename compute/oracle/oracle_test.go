package oracle

import (
	"fmt"
	"os"
	"testing"
)

// Without the programs the tests pass, and one line says what was not checked.
func TestWhatIsNotChecked(t *testing.T) {
	line := Unchecked(All)
	if line == "" {
		return
	}
	if Required() {
		t.Fatal(line)
	}
	neverCached()
	say(line)
}

// say writes to the standard error of the go command, which for a list of
// packages drops all that passing tests print. A file that holds standard output
// as well cannot be written to from here: go would write over the line.
func say(line string) {
	out, errs := fmt.Sprintf("/proc/%d/fd/1", os.Getppid()), fmt.Sprintf("/proc/%d/fd/2", os.Getppid())
	a, err1 := os.Stat(out)
	b, err2 := os.Stat(errs)
	if err1 == nil && err2 == nil && b.Mode().IsRegular() && os.SameFile(a, b) {
		errs = "/dev/tty"
	}
	for _, path := range []string{errs, "/dev/tty"} {
		if f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0); err == nil {
			defer f.Close()
			fmt.Fprintln(f, line)
			return
		}
	}
	fmt.Fprintln(os.Stderr, line)
}

func TestUncheckedNamesProgramsAndPackages(t *testing.T) {
	if line := Unchecked(nil); line != "" {
		t.Errorf("nothing is missing, yet: %s", line)
	}
	none := program("Nothing", "no-such-package", "no-such-program-anywhere")
	const want = "not checked against Nothing; to check: apt-get install no-such-package"
	if line := Unchecked([]*Program{none, none}); line != want {
		t.Errorf("%q, want %q", line, want)
	}
}
