package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// cleaned removes the built program after the tests.
type cleaned struct{ *testing.M }

func (c cleaned) Run() int {
	code := c.M.Run()
	if builtIn != "" {
		os.RemoveAll(builtIn)
	}
	return code
}

var builtIn string

// build makes the program as users have it, once.
var build = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "pourbook-test")
	if err != nil {
		return "", err
	}
	builtIn = dir
	path := filepath.Join(dir, "pourbook.exe")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		return "", errors.New(string(out))
	}
	return path, nil
})

// program is the program as users have it, not a part of the test.
func program(t testing.TB) string {
	t.Helper()
	path, err := build()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// ended is how a run of the program ended.
type ended struct {
	status   int // as a shell sees it
	out, err string
	took     time.Duration
	used     time.Duration // of processor
	memory   int64         // the most at a time, in bytes
}

// start is the program about to run in a folder.
func start(t testing.TB, dir string, args ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.CommandContext(context.Background(), program(t), args...)
	cmd.Dir = dir
	return cmd
}

// finish runs a command to its end.
func finish(t testing.TB, cmd *exec.Cmd) ended {
	t.Helper()
	return finishAnd(t, cmd, func() {})
}

// finishAnd is finish, with something done beside the command once it runs.
func finishAnd(t testing.TB, cmd *exec.Cmd, beside func()) ended {
	t.Helper()
	var out, errs bytes.Buffer
	if cmd.Stdout == nil {
		cmd.Stdout = &out
	}
	if cmd.Stderr == nil {
		cmd.Stderr = &errs
	}
	begun := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done, peak := make(chan struct{}), make(chan int64)
	go func() { peak <- watchMemory(cmd.Process.Pid, done) }()
	go beside()
	err := cmd.Wait()
	close(done)
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	s := cmd.ProcessState
	return ended{shellStatus(s), out.String(), errs.String(), time.Since(begun), s.UserTime() + s.SystemTime(), <-peak}
}

// watchMemory is the most memory that a program has until it is done. It only
// grows, so that a look now and then is enough.
func watchMemory(pid int, done <-chan struct{}) (peak int64) {
	for {
		peak = max(peak, peakMemory(pid))
		select {
		case <-done:
			return peak
		case <-time.After(3 * time.Millisecond):
		}
	}
}

// one fails unless the run said one plain line of why it failed.
func (e ended) one(t *testing.T, status int, words ...string) {
	t.Helper()
	if e.status != status {
		t.Errorf("exit status %d, want %d", e.status, status)
	}
	text := strings.TrimSuffix(e.err, "\n")
	if text == "" || strings.Contains(text, "\n") || strings.Contains(text, "goroutine") || strings.Contains(text, ".pourbook-") {
		t.Errorf("not one plain line: %q", e.err)
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%q does not say %q", text, w)
		}
	}
}

// bookIn copies a test book into a folder.
func bookIn(t testing.TB, dir string) string {
	t.Helper()
	path := filepath.Join(dir, "book.xlsx")
	err := os.MkdirAll(dir, 0o755)
	if err == nil {
		err = os.WriteFile(path, []byte(fromTree(t, "testdata/books/plain.xlsx")), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// costOf are the arguments that cost the test book.
func costOf(book, out string, more ...string) []string {
	return append([]string{"cost", book, "--month", "2026-10", "--today", "2026-11-05", "--out", out}, more...)
}

// contents are the files of a folder.
func contents(t testing.TB, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range entries {
		b, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(b)
	}
	return out
}
