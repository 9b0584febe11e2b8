//go:build unix

package main

import (
	"maps"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"pourbook/compute/oracle"
)

// editions are the whole documents that two different runs write.
type editions [2]map[string]string

var papersInTurn = [2]string{"Letter", "A4"}

func wholeEditions(t *testing.T, book string) (e editions) {
	t.Helper()
	for i, paper := range papersInTurn {
		out := t.TempDir()
		if r := finish(t, start(t, "", costOf(book, out, "--quiet", "--paper", paper)...)); r.status != 0 {
			t.Fatal(r.err)
		}
		e[i] = contents(t, out)
		if len(e[i]) != 2 {
			t.Fatalf("%d documents", len(e[i]))
		}
	}
	for name := range e[0] {
		if e[0][name] == e[1][name] && strings.HasSuffix(name, ".pdf") {
			t.Fatalf("the two editions of %s are the same", name)
		}
	}
	return e
}

// whole reports the temporary files of a folder whose other files are all of
// an edition, and complete.
func (e editions) whole(t *testing.T, dir string) (left int) {
	t.Helper()
	for name, text := range contents(t, dir) {
		switch {
		case strings.HasPrefix(name, ".pourbook-"):
			left++
		case text != e[0][name] && text != e[1][name]:
			t.Errorf("%s of %d bytes is neither the old one nor the new", name, len(text))
		}
	}
	return left
}

// signalling starts a run that writes over the documents of the other edition
// and sends it a signal: at a random moment, or, every second time, at one that
// is chosen from when the first file appears.
func signalling(t *testing.T, n int, book, out string, s syscall.Signal, random *rand.Rand, whole time.Duration) ended {
	t.Helper()
	cmd := start(t, "", costOf(book, out, "--paper", papersInTurn[n/4%2])...)
	var errs strings.Builder
	cmd.Stderr = &errs
	before := contents(t, out)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan struct{})
	go func() { cmd.Wait(); close(done) }()
	if n%4 < 2 {
		wait(done, time.Duration(random.Int64N(int64(whole))))
	} else {
		awaitNewFiles(1+n%2, out, before, done)
		wait(done, time.Duration(random.Int64N(int64(2*time.Millisecond))))
	}
	cmd.Process.Signal(s) // it may have ended
	<-done
	return ended{status: shellStatus(cmd.ProcessState), err: errs.String()}
}

func wait(done <-chan struct{}, d time.Duration) {
	select {
	case <-done:
	case <-time.After(d):
	}
}

// awaitNewFiles returns when so many files are in the folder that were not
// there before, or the run has ended.
func awaitNewFiles(n int, dir string, before map[string]string, done <-chan struct{}) {
	for {
		entries, _ := os.ReadDir(dir)
		fresh := 0
		for _, e := range entries {
			if _, old := before[e.Name()]; !old {
				fresh++
			}
		}
		if fresh >= n {
			return
		}
		select {
		case <-done:
			return
		case <-time.After(300 * time.Microsecond):
		}
	}
}

// lanes are the folders that killed runs write into side by side.
const lanes = 4

// However often the program is killed, at whatever moment, every document is a
// whole old or a whole new one, the book is as it was, and the next run that is
// let be clears away what the killed ones left.
func TestKilledAtAnyMoment(t *testing.T) {
	runs := 200
	if oracle.Brief() {
		runs = 24
	}
	book := bookIn(t, t.TempDir())
	all := wholeEditions(t, book)
	took := finish(t, start(t, "", costOf(book, t.TempDir())...)).took
	tally := make(chan killTally, lanes)
	t.Run("lanes", func(t *testing.T) {
		for lane := range lanes {
			t.Run("", func(t *testing.T) {
				t.Parallel()
				tally <- killedRuns(t, lane, runs/lanes, all, took)
			})
		}
	})
	close(tally)
	var sum killTally
	for n := range tally {
		sum.runs, sum.killed, sum.left, sum.fresh = sum.runs+n.runs, sum.killed+n.killed, sum.left+n.left, sum.fresh+n.fresh
	}
	t.Logf("%+v", sum)
	if sum.runs != runs || sum.killed < runs/4 || sum.left < runs/20 {
		t.Errorf("%+v: too few runs were killed while they wrote for this to say anything", sum)
	}
}

// killTally counts runs: those killed before their end, those after which a
// temporary file was left, and those after which a document was a new one.
type killTally struct{ runs, killed, left, fresh int }

func killedRuns(t *testing.T, lane, runs int, all editions, took time.Duration) (tally killTally) {
	dir := t.TempDir()
	book, out := bookIn(t, dir), filepath.Join(dir, "reports")
	before := contents(t, dir)
	if r := finish(t, start(t, "", costOf(book, out, "--paper", "A4")...)); r.status != 0 {
		t.Fatal(r.err)
	}
	random := rand.New(rand.NewPCG(8, uint64(lane)))
	for n := range runs {
		old := contents(t, out)
		status := signalling(t, n, book, out, syscall.SIGKILL, random, 2*took).status
		tally.runs++
		switch {
		case status == 128+int(syscall.SIGKILL):
			tally.killed++
		case status != exitDone:
			t.Errorf("run %d: exit status %d", n, status)
		}
		if left := all.whole(t, out); left > 0 {
			tally.left++
		}
		if now := contents(t, out); slices.ContainsFunc(slices.Collect(maps.Keys(all[0])), func(name string) bool { return now[name] != old[name] }) {
			tally.fresh++
		}
	}
	if r := finish(t, start(t, "", costOf(book, out, "--paper", "Letter")...)); r.status != 0 {
		t.Errorf("the run after: %s", r.err)
	}
	if got := contents(t, out); !maps.Equal(got, all[0]) {
		t.Errorf("after an undisturbed run the folder holds %q", slices.Sorted(maps.Keys(got)))
	}
	if os.RemoveAll(out); !maps.Equal(contents(t, dir), before) {
		t.Error("the book has changed, or something stands beside it")
	}
	return tally
}

// A run that is asked to end does so with the status of the signal, and leaves
// nothing behind.
func TestAskedToEndAtAnyMoment(t *testing.T) {
	runs := 24
	if oracle.Brief() {
		runs = 8
	}
	dir := t.TempDir()
	book, out := bookIn(t, dir), filepath.Join(dir, "reports")
	all := wholeEditions(t, book)
	took := finish(t, start(t, "", costOf(book, out)...)).took
	random := rand.New(rand.NewPCG(8, 8))
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(s) {
			continue
		}
		for n := range runs {
			r := signalling(t, n, book, out, s, random, took)
			if r.status != exitDone && r.status != 128+int(s) {
				t.Errorf("%v, run %d: exit status %d, %s", s, n, r.status, r.err)
			}
			if left := all.whole(t, out); left > 0 {
				t.Errorf("%v, run %d: %d temporary files are left", s, n, left)
			}
		}
	}
}

// A run that waits for its turn in a folder is there to be stopped: the signal
// finds it before the first file is written.
func TestAskedToEndWhileWaiting(t *testing.T) {
	dir := t.TempDir()
	book, out := bookIn(t, dir), t.TempDir()
	folder, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if err := syscall.Flock(int(folder.Fd()), syscall.LOCK_EX); err != nil {
		t.Fatal(err)
	}
	for s, want := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		if signal.Ignored(s) {
			continue // as nohup starts a program
		}
		cmd := start(t, "", costOf(book, out)...)
		r := finishAnd(t, cmd, func() {
			time.Sleep(1500 * time.Millisecond)
			cmd.Process.Signal(s)
		})
		r.one(t, want, "Stopped")
		if got := contents(t, out); len(got) > 0 || r.out != "" {
			t.Errorf("%v: %d files, %q", s, len(got), r.out)
		}
	}
}
