package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// bench is where mutations are tried, and the tests that are known to pass
// while nothing is broken.
type bench struct {
	mu    sync.Mutex
	whole builder
	sound map[test]bool
}

// try tells which kind of check sees a mutation, and which test does.
func (b *bench) try(i int, m mutation) (kind, by string, err error) {
	broken := builder{dir: b.whole.dir, name: fmt.Sprint("m", i)}
	if broken.overlay, err = overlay(broken.dir, broken.name, m); err != nil {
		return byNone, "", err
	}
	defer broken.remove()
	for n, t := range slices.Concat(m.outside, m.own) {
		passes, err := broken.passes(t)
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

// needSound makes sure that a test passes while nothing is broken: its failure
// then comes from the mutation.
func (b *bench) needSound(t test) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.sound[t] {
		return nil
	}
	passes, err := b.whole.passes(t)
	if err == nil && !passes {
		err = fmt.Errorf("%s fails while nothing is broken", t)
	}
	b.sound[t] = err == nil
	return err
}

// overlay writes the broken file, and the go command's list that puts it in
// the place of the whole one.
func overlay(dir, name string, m mutation) (string, error) {
	text, err := os.ReadFile(m.file)
	if err != nil {
		return "", err
	}
	whole, err := filepath.Abs(m.file)
	if err != nil {
		return "", err
	}
	broken, list := filepath.Join(dir, name+".go"), filepath.Join(dir, name+".json")
	if err := os.WriteFile(broken, []byte(strings.Replace(string(text), m.old, m.put, 1)), 0o644); err != nil {
		return "", err
	}
	data, err := json.Marshal(map[string]any{"Replace": map[string]string{whole: broken}})
	if err != nil {
		return "", err
	}
	return list, os.WriteFile(list, data, 0o644)
}

// builder builds test programs, each package's once.
type builder struct {
	dir, name, overlay string
	built              map[string]string
}

func (b *builder) remove() {
	for _, path := range b.built {
		os.Remove(path)
	}
}

// passes runs a test, programs that it needs required; an error is a test that
// does not build or is not there.
func (b *builder) passes(t test) (bool, error) {
	program, err := b.build(t.pkg)
	if err != nil {
		return false, err
	}
	c := exec.Command(program, "-test.run=^("+t.run+")", "-test.short", "-test.failfast", "-test.timeout=10m")
	c.Dir, c.Env = t.pkg, append(os.Environ(), "CI=true")
	out, err := c.CombinedOutput()
	if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
		return false, err
	}
	if strings.Contains(string(out), "no tests to run") {
		return false, fmt.Errorf("%s: no such tests", t)
	}
	return err == nil, nil
}

func (b *builder) build(pkg string) (string, error) {
	if path, ok := b.built[pkg]; ok {
		return path, nil
	}
	path := filepath.Join(b.dir, b.name+"-"+strings.ReplaceAll(strings.TrimPrefix(pkg, "./"), "/", "-")+".test")
	args := []string{"test", "-c", "-vet=off", "-ldflags=-s -w", "-o", path}
	if b.overlay != "" {
		args = append(args, "-overlay", b.overlay)
	}
	if out, err := exec.Command("go", append(args, pkg)...).CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	if b.built == nil {
		b.built = map[string]string{}
	}
	b.built[pkg] = path
	return path, nil
}
