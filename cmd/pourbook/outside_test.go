//go:build unix

package main

import (
	"bytes"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

const (
	testPDF  = "book-costing-2026-10.pdf"
	testXLSX = "book-costing-2026-10.xlsx"
)

// What stands in the way of a document is said in one line with its name; the
// book, what stands there and all else stay as they were.
func TestTargetsThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct {
		set   func(dir string) error // what stands there; the book is dir/book.xlsx
		out   string
		words []string
	}{
		"a file for a folder": {
			func(dir string) error { return os.WriteFile(filepath.Join(dir, "reports"), nil, 0o644) },
			"reports",
			[]string{"reports/" + testPDF, "folder"},
		},
		"a file for a folder above": {
			func(dir string) error { return os.WriteFile(filepath.Join(dir, "reports"), nil, 0o644) },
			"reports/2026",
			[]string{"reports/2026/" + testPDF, "folder"},
		},
		"a name too long":  {nil, strings.Repeat("n", 300), []string{testPDF, "longer than the disk allows"}},
		"a path too long":  {nil, strings.Repeat("n/", 3_000), []string{testPDF, "longer than the disk allows"}},
		"a folder there":   {func(dir string) error { return os.Mkdir(filepath.Join(dir, testPDF), 0o755) }, ".", []string{testPDF, "no file that can be replaced"}},
		"a pipe there":     {func(dir string) error { return syscall.Mkfifo(filepath.Join(dir, testXLSX), 0o600) }, ".", []string{testXLSX, "no file that can be replaced"}},
		"a device there":   {func(dir string) error { return os.Symlink("/dev/null", filepath.Join(dir, testPDF)) }, ".", []string{testPDF, "no file that can be replaced"}},
		"a link to itself": {func(dir string) error { return os.Symlink(testPDF, filepath.Join(dir, testPDF)) }, ".", []string{testPDF, "no file that can be replaced"}},
		"a link to nowhere": {
			func(dir string) error { return os.Symlink("nowhere", filepath.Join(dir, testXLSX)) },
			".",
			[]string{testXLSX, "no file that can be replaced"},
		},
		"a link to the book": {func(dir string) error { return os.Symlink("book.xlsx", filepath.Join(dir, testXLSX)) }, ".", []string{testXLSX, "the book itself"}},
		// A disk that takes capital and small letters for the same shows one
		// file under both names, as a hard link does.
		"another name of the book": {
			func(dir string) error {
				return os.Link(filepath.Join(dir, "book.xlsx"), filepath.Join(dir, testPDF))
			}, ".", []string{testPDF, "the book itself"},
		},
		"a way round to the book": {
			func(dir string) error {
				return os.Symlink("../"+filepath.Base(dir)+"/./book.xlsx", filepath.Join(dir, testXLSX))
			}, "./.", []string{testXLSX, "the book itself"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			bookIn(t, dir)
			if c.set != nil {
				if err := c.set(dir); err != nil {
					t.Fatal(err)
				}
			}
			before := tree(t, dir)
			finish(t, start(t, dir, costOf("book.xlsx", c.out)...)).one(t, exitFile, c.words...)
			if after := tree(t, dir); !maps.Equal(before, after) {
				t.Errorf("the folder was\n%q\nand is\n%q", before, after)
			}
		})
	}
}

// tree is what stands in a folder and what its files hold.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		out[path] = e.Type().String()
		if e.Type().IsRegular() {
			b, err := os.ReadFile(path)
			out[path] = string(b)
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A file of sales is an input like the book.
func TestSalesAreNotWrittenOver(t *testing.T) {
	dir := t.TempDir()
	bookIn(t, dir)
	data, err := os.ReadFile(filepath.Join(dir, "book.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, testXLSX), data, 0o644); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	finish(t, start(t, dir, costOf("book.xlsx", ".", "--sales", testXLSX)...)).one(t, exitFile, testXLSX, "never written to")
	if !maps.Equal(before, tree(t, dir)) {
		t.Error("the folder has changed")
	}
}

// A folder that may be read and not written; root, who may write anywhere, runs
// the program as another user.
func TestFolderWithoutPermission(t *testing.T) {
	dir := t.TempDir()
	book := bookIn(t, dir)
	out := filepath.Join(dir, "reports")
	if err := os.Mkdir(out, 0o555); err != nil {
		t.Fatal(err)
	}
	cmd := start(t, "/", costOf(book, out)...)
	if os.Geteuid() == 0 {
		const nobody = 65534
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		for _, path := range []string{filepath.Dir(program(t)), dir, filepath.Dir(dir)} {
			if err := os.Chmod(path, 0o755); err != nil {
				t.Fatal(err)
			}
		}
	}
	finish(t, cmd).one(t, exitFile, testPDF, "may not be written")
	if got := contents(t, out); len(got) > 0 {
		t.Errorf("%d files are in the folder", len(got))
	}
}

func opened(t *testing.T, path string, flag int) *os.File {
	t.Helper()
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// Results that find no place are an error with a line, for every command; the
// documents are there by then.
func TestStandardOutputIsFull(t *testing.T) {
	full := opened(t, "/dev/full", os.O_WRONLY)
	dir := t.TempDir()
	bookIn(t, dir)
	for _, args := range [][]string{
		costOf("book.xlsx", "a", "--json"), costOf("book.xlsx", "a"),
		{"check", "book.xlsx"},
		{"check", "book.xlsx", "--json"},
		{"price", "book.xlsx", "--all", "--out", "a"},
		{"fit", "book.xlsx"},
		{"why", "book.xlsx", "L8N", "--month", "2026-10"},
		{"demo", "demo"},
		{"starter", "new.xlsx"},
		{"help", "units"},
		{"help"},
		{"--help"},
		{"cost", "--help"},
		{"--version"},
	} {
		t.Run(strings.Join(args[:min(2, len(args))], " "), func(t *testing.T) {
			cmd := start(t, dir, args...)
			cmd.Stdout = full
			finish(t, cmd).one(t, exitFile, "/dev/stdout", "no space left")
		})
	}
	if got := contents(t, filepath.Join(dir, "a")); len(got) < 2 {
		t.Errorf("%d documents", len(got))
	}
}

// A reader that has seen enough ends the program as it ends others, without a
// word; the documents are whole by then.
func TestPipeThatCloses(t *testing.T) {
	dir := t.TempDir()
	book := bookIn(t, dir)
	all := wholeEditions(t, book)
	for _, bytes := range []int{0, 10} {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		cmd := start(t, dir, costOf(book, "out", "--json", "--paper", papersInTurn[0])...)
		cmd.Stdout = w
		read := make(chan bool)
		go func() {
			io.ReadFull(r, make([]byte, bytes))
			r.Close()
			close(read)
		}()
		if bytes == 0 {
			<-read
		}
		end := finish(t, cmd)
		w.Close()
		<-read
		// A pipe may have taken all before its reader went away.
		if end.err != "" || end.status != 128+int(syscall.SIGPIPE) && (bytes == 0 || end.status != exitDone) {
			t.Errorf("after %d bytes: exit status %d: %q", bytes, end.status, end.err)
		}
		if !maps.Equal(contents(t, filepath.Join(dir, "out")), all[0]) {
			t.Error("the documents are not whole")
		}
	}
}

// Whatever is closed or odd around the program, the documents are the same,
// and nothing that it prints gets into them.
func TestOddSurroundings(t *testing.T) {
	dir := t.TempDir()
	bookIn(t, dir)
	all := wholeEditions(t, filepath.Join(dir, "book.xlsx"))
	run := `"$1" cost book.xlsx --month 2026-10 --today 2026-11-05 --out out --paper Letter`
	plain := shell(t, dir, run)
	for name, script := range map[string]string{
		"nothing":              run,
		"input closed":         run + " <&-",
		"input a folder":       run + " <.",
		"output closed":        run + " >&-",
		"errors closed":        run + " 2>&-",
		"all closed":           run + " <&- >&- 2>&-",
		"no home":              "unset HOME; " + run,
		"a home that is not":   "HOME=/nonexistent " + run,
		"no variables":         "env -i " + run,
		"no time zone":         "unset TZ; " + run,
		"a time zone of dust":  "TZ=garbage/\x01:: " + run,
		"a time zone far away": "TZ=Pacific/Kiritimati " + run,
		"a time zone file":     "TZ=:/dev/null " + run,
		"an odd locale":        "LC_ALL=xx_YY.nonsense LANG=tr_TR " + run,
		"a Turkish locale":     "LC_ALL=tr_TR.UTF-8 " + run,
		"a dumb terminal":      "TERM= COLUMNS=0 NO_COLOR=1 " + run,
		"no temporary folder":  "TMPDIR=/nonexistent " + run,
		"few open files":       "ulimit -n 16; " + run,
		"no new session":       "setsid " + run,
	} {
		t.Run(name, func(t *testing.T) {
			os.RemoveAll(filepath.Join(dir, "out"))
			got := shell(t, dir, script)
			if got.status != exitDone || got.err != "" || got.out != plain.out && !strings.Contains(script, ">&-") {
				t.Errorf("exit status %d, %q\n%s", got.status, got.err, got.out)
			}
			if !maps.Equal(contents(t, filepath.Join(dir, "out")), all[0]) {
				t.Error("the documents are not the same")
			}
		})
	}
	os.RemoveAll(filepath.Join(dir, "out"))
	shell(t, dir, run+" 1</dev/null").one(t, exitFile, "/dev/stdout")
}

// What is printed into a closed output is said to be seen nowhere where there is
// nothing else, without a failure: it may be what the caller wants. It gets into
// no file that the program opens.
func TestOutputClosed(t *testing.T) {
	dir := t.TempDir()
	before, err := os.ReadFile(bookIn(t, dir))
	if err != nil {
		t.Fatal(err)
	}
	const cost = `"$1" cost book.xlsx --month 2026-10 --today 2026-11-05`
	said := "Standard output is closed or thrown away"
	for script, want := range map[string]struct {
		status int
		line   string
	}{
		cost + ` --json --no-documents >&-`:         {exitDone, said},
		cost + ` --json --out out >&-`:              {exitDone, said},
		cost + ` --no-documents >&-`:                {exitDone, said},
		cost + ` --json --no-documents <&- >&-`:     {exitDone, said},
		`"$1" help >&-`:                             {exitDone, said},
		`"$1" help units >&-`:                       {exitDone, said},
		`"$1" cost --help >&-`:                      {exitDone, said},
		`"$1" --version >&-`:                        {exitDone, said},
		`"$1" check book.xlsx >&-`:                  {exitDone, said},
		`"$1" why book.xlsx L8C >&-`:                {exitDone, said},
		`"$1" cost nothing.xlsx --json >&-`:         {exitFile, "nothing.xlsx"},
		cost + ` --json --no-documents >/dev/null`:  {exitDone, ""},
		cost + ` --json --no-documents | head -c 9`: {exitDone, ""},
		cost + ` --out out >&-`:                     {exitDone, ""},
		`"$1" check book.xlsx --quiet >&-`:          {exitDone, ""},
		`"$1" starter new.xlsx >&-`:                 {exitDone, ""},
	} {
		t.Run(script, func(t *testing.T) {
			got := shell(t, dir, script)
			if got.status != want.status || strings.Count(got.err, "\n") != min(len(want.line), 1) || !strings.Contains(got.err, want.line) {
				t.Errorf("exit status %d, %q", got.status, got.err)
			}
			for name, data := range contents(t, filepath.Join(dir, "out")) {
				if strings.Contains(data, "pourbook.cost/1") {
					t.Errorf("results in %s", name)
				}
			}
			if after, err := os.ReadFile(filepath.Join(dir, "book.xlsx")); err != nil || !bytes.Equal(before, after) {
				t.Errorf("the book is not as it was: %v", err)
			}
		})
	}
}

// shell runs a script with the program as $1.
func shell(t *testing.T, dir, script string) ended {
	t.Helper()
	cmd := exec.Command("sh", "-c", script, "sh", program(t))
	cmd.Dir = dir
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	return finish(t, cmd).with(out.String(), errs.String())
}

func (e ended) with(out, err string) ended {
	e.out, e.err = out, err
	return e
}

// Questions that nobody can answer stay open, and the command ends.
func TestFitWithoutATerminal(t *testing.T) {
	dir := t.TempDir()
	bookIn(t, dir)
	for _, in := range []string{"/dev/null", "/dev/zero", dir} {
		cmd := start(t, dir, "fit", "book.xlsx")
		cmd.Stdin = opened(t, in, os.O_RDONLY)
		if r := finish(t, cmd); r.status != exitDone || r.err != "" || !strings.Contains(r.out, "layout.yaml") {
			t.Errorf("%s: exit status %d, %q", in, r.status, r.err)
		}
	}
}
