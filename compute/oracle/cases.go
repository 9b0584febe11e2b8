package oracle

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// module is the module's folder; tests change folders later.
var module = func() string {
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			break
		}
		dir = filepath.Dir(dir)
	}
	return ""
}()

var stated = regexp.MustCompile("`(Test[A-Za-z0-9]+)` \\(([0-9,]+)(\\+?)\\)")

// Cases says how many cases a test has held against the outside. The table of
// DEVELOPERS.md has to say the same; "1,000+" there means 1,000 to 2,000.
func Cases(t testing.TB, n int) {
	t.Helper()
	filter := flag.Lookup("test.run")
	if _, part := partly.Load(root(t)); part || t.Failed() || filter != nil && strings.Contains(filter.Value.String(), "/") {
		return
	}
	text, err := os.ReadFile(filepath.Join(module, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range stated.FindAllStringSubmatch(string(text), -1) {
		if m[1] != root(t) {
			continue
		}
		said, err := strconv.Atoi(strings.ReplaceAll(m[2], ",", ""))
		if err != nil || n < said || n > said && (m[3] == "" || n >= 2*said) {
			t.Errorf("DEVELOPERS.md says %s%s cases, the test held %d", m[2], m[3], n)
		}
		return
	}
	t.Errorf("DEVELOPERS.md does not list %s, which held %d cases", root(t), n)
}

// partly are the tests of which a part was skipped.
var partly sync.Map

// root is the name of the test that t is a part of.
func root(t testing.TB) string {
	name, _, _ := strings.Cut(t.Name(), "/")
	return name
}

// neverCached keeps go test from answering out of its cache, so that a check
// skipped for want of a program is made once that is installed: the link's
// target, which Linux has, is new to every process.
func neverCached() {
	if f, err := os.Open(filepath.Join(module, "compute", "oracle", "testdata", "now")); err == nil {
		f.Close()
	}
}
