package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// bench is where mutations are tried.
type bench struct {
	all   []mutation
	dir   string
	built builder // all mutations that lie in functions
	alone map[int]bool
	sound sync.Map // by test: whether it passes while no mutation is taken
}

func newBench(dir string, all []mutation) (*bench, error) {
	overlay, alone, err := splice(dir, all)
	b := &bench{all: all, dir: dir, alone: alone}
	b.built = builder{dir: dir, name: "all", overlay: overlay, programs: map[string]func() (string, error){}}
	return b, err
}

// try tells which kind of check sees a mutation, and which test does.
func (b *bench) try(i int) (kind, by string, err error) {
	m, built, taken := b.all[i], &b.built, fmt.Sprint(i)
	if b.alone[i] {
		text, err := os.ReadFile(m.file)
		if err != nil {
			return byNone, "", err
		}
		broken := map[string]string{m.file: strings.Replace(string(text), m.old, m.put, 1)}
		built = &builder{dir: b.dir, name: "m" + taken, programs: map[string]func() (string, error){}}
		if built.overlay, err = overlayOf(b.dir, built.name, broken); err != nil {
			return byNone, "", err
		}
		defer built.remove()
	}
	for n, t := range slices.Concat(m.outside, m.own) {
		passes, err := built.passes(t, taken)
		if err == nil && !passes {
			err = b.needSound(t)
		}
		switch {
		case err != nil:
			return byNone, t.String(), err
		case !passes && n < len(m.outside):
			return byOutside, t.String(), nil
		case !passes:
			return byOwn, t.String(), nil
		}
	}
	return byNone, "", nil
}

// needSound makes sure that a test passes while no mutation is taken: its
// failure then comes from the mutation.
func (b *bench) needSound(t test) error {
	once, _ := b.sound.LoadOrStore(t, sync.OnceValue(func() error {
		passes, err := b.built.passes(t, "")
		if err == nil && !passes {
			err = fmt.Errorf("%s fails while nothing is broken", t)
		}
		return err
	}))
	return once.(func() error)()
}

// builder builds test programs, each package's once.
type builder struct {
	dir, name, overlay string
	mu                 sync.Mutex
	programs           map[string]func() (string, error)
}

func (b *builder) remove() {
	for _, program := range b.programs {
		if path, err := program(); err == nil {
			os.Remove(path)
		}
	}
}

// passes runs a test with a mutation, programs that it needs required; an error
// is a test that does not build, is not there or runs out of time.
func (b *builder) passes(t test, taken string) (bool, error) {
	program, err := b.program(t.pkg)()
	if err != nil {
		return false, err
	}
	c := exec.Command(program, "-test.run=^("+t.run+")", "-test.short", "-test.failfast", "-test.timeout=20m")
	if files, err := filepath.Glob(filepath.Join(t.pkg, "*_test.go")); err == nil && slices.ContainsFunc(files, random) {
		c.Args = append(c.Args, "-rapid.nofailfile")
	}
	c.Dir, c.Env = t.pkg, append(os.Environ(), "CI=true", variable+"="+taken)
	out, err := c.CombinedOutput()
	if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
		return false, err
	}
	if late.Match(out) {
		return false, fmt.Errorf("%s ran out of time", t)
	}
	if strings.Contains(string(out), "no tests to run") {
		return false, fmt.Errorf("%s: no such tests", t)
	}
	return err == nil, nil
}

// late is what a test says that failed for want of time, on which nothing rests.
var late = regexp.MustCompile(`panic: test timed out|ran out of time`)

// random reports whether a test file makes up its cases, and would keep one
// that fails.
func random(file string) bool {
	text, err := os.ReadFile(file)
	return err == nil && strings.Contains(string(text), `"pgregory.net/rapid"`)
}

func (b *builder) program(pkg string) func() (string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.programs[pkg] == nil {
		b.programs[pkg] = sync.OnceValues(func() (string, error) { return b.build(pkg) })
	}
	return b.programs[pkg]
}

func (b *builder) build(pkg string) (string, error) {
	path := filepath.Join(b.dir, b.name+"-"+strings.ReplaceAll(strings.TrimPrefix(pkg, "./"), "/", "-")+".test")
	out, err := exec.Command("go", "test", "-c", "-vet=off", "-ldflags=-s -w", "-o", path, "-overlay", b.overlay, pkg).CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
}
