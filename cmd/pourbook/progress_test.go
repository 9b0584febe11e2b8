package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pourbook/report"
)

// onScreen plays what was written to a line of a terminal: what it showed, and
// what it shows at last.
func onScreen(s string) (states []string, last string) {
	for part := range strings.SplitSeq(s, "\r") {
		drawn, wiped := strings.CutSuffix(part, "\x1b[2K")
		if last = strings.TrimSuffix(drawn, "\x1b[0K"); last != "" {
			states = append(states, last)
		}
		if wiped {
			last = ""
		}
	}
	return states, last
}

// watched runs a job of some milliseconds that reads a row in each.
func watched(t *testing.T, columns, all int) (states []string, last string) {
	t.Helper()
	var out bytes.Buffer
	synctest.Test(t, func(t *testing.T) {
		p := &progress{out: &out, width: func() int { return columns }}
		tell := p.start()
		time.Sleep(50 * time.Millisecond) // never at the moment of a tick
		for ms := 0; ms < all; ms += 100 {
			tell(100_000+ms, float64(ms)/float64(all))
			time.Sleep(100 * time.Millisecond)
		}
		p.stop()
	})
	return onScreen(out.String())
}

func TestProgressWaitsForASecond(t *testing.T) {
	if states, _ := watched(t, 80, 900); len(states) > 0 {
		t.Errorf("work of less than a second shows %q", states)
	}
	states, _ := watched(t, 80, 4000)
	if len(states) == 0 || !strings.Contains(states[0], "100,900 rows") {
		t.Errorf("work of four seconds shows at first %q", states[:min(1, len(states))])
	}
}

func TestProgressShowsRowsAndTimeLeft(t *testing.T) {
	states, last := watched(t, 80, 20_000)
	if last != "" {
		t.Errorf("left on the line: %q", last)
	}
	all := strings.Join(states, "\n")
	for _, want := range []string{
		" 50% [==============>               ]  110,100 rows, 10 s left", " 99% [", "119,900 rows, 1 s left",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q was never shown:\n%s", want, all)
		}
	}
	if states, _ := watched(t, 80, 400_000); !strings.Contains(states[0], ", 8 min left") {
		t.Errorf("long work shows at first %q", states[0])
	}
}

func TestProgressFitsTheTerminal(t *testing.T) {
	for columns, text := range map[int]string{80: "rows, 200 min left", 40: "[", 39: "[", 30: "", 1: ""} {
		var out bytes.Buffer
		synctest.Test(t, func(*testing.T) {
			p := &progress{out: &out, width: func() int { return columns }}
			tell := p.start()
			tell(1_048_575, 2./24_000)
			time.Sleep(2 * time.Second)
			tell(1_048_575, 1)
			time.Sleep(time.Second)
			p.stop()
		})
		states, _ := onScreen(out.String())
		if (len(states) > 0) != (text != "") || text != "" && !strings.Contains(states[0], text) {
			t.Errorf("%d columns show %q", columns, states)
		}
		for _, s := range states {
			if len(s) >= columns {
				t.Errorf("%d columns hold %d characters: %q", columns, len(s), s)
			}
		}
	}
}

func TestProgressFollowsTheWidth(t *testing.T) {
	var out bytes.Buffer
	synctest.Test(t, func(*testing.T) {
		var columns atomic.Int64
		columns.Store(80)
		p := &progress{out: &out, width: func() int { return int(columns.Load()) }}
		tell := p.start()
		tell(5000, 0.5)
		time.Sleep(1900 * time.Millisecond)
		columns.Store(40)
		time.Sleep(time.Second)
		p.stop()
	})
	states, last := onScreen(out.String())
	if len(states) == 0 || len(states[0]) < 40 || len(states[len(states)-1]) >= 40 || last != "" {
		t.Errorf("shown: %q, left: %q", states, last)
	}
}

func TestNoProgressWithoutATerminal(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	for _, out := range []io.Writer{w, &bytes.Buffer{}, nil} {
		if newProgress(out).start() != nil {
			t.Errorf("progress on %T", out)
		}
	}
	var none *progress
	none.stop()
	if none.start() != nil {
		t.Error("progress on nothing")
	}
}

func TestProgressKnowsATerminal(t *testing.T) {
	tty, _ := terminal(t, 100)
	defer tty.Close()
	if got := columns(tty); got != 100 {
		t.Errorf("a terminal of 100 columns has %d", got)
	}
	t.Setenv("TERM", "dumb")
	if got := columns(tty); got != 0 {
		t.Errorf("a terminal that cannot redraw has %d columns", got)
	}
}

// demoWithSales is a folder with the demo book and a file of many sales.
func demoWithSales(t *testing.T, lines int) (book, sales string) {
	t.Helper()
	dir := t.TempDir()
	book, sales = filepath.Join(dir, "demo.xlsx"), filepath.Join(dir, "more.csv")
	data, err := report.DemoBook()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("Date,Product,Qty,Price\n")
	for i := range lines {
		fmt.Fprintf(&b, "2026-09-%02d,QC4-N,1,24\n", 1+i%30)
	}
	for path, text := range map[string]string{book: string(data), sales: b.String()} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return book, sales
}

// TestStoppedWhileProgressShows stops a job as soon as its bar is seen: the line
// is wiped, the last words stand on it, and no file is left.
func TestStoppedWhileProgressShows(t *testing.T) {
	defer func(d time.Duration) { patience = d }(patience)
	patience = 20 * time.Millisecond
	book, sales := demoWithSales(t, 1_000_000)
	tty, shown := terminal(t, 80)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	code := make(chan int)
	go func() {
		defer tty.Close()
		code <- run(ctx, []string{"pourbook", "cost", book, "--sales", sales}, streams{in: strings.NewReader(""), out: io.Discard, err: tty})
	}()
	var all strings.Builder
	for s := range shown {
		if all.WriteString(s); strings.Contains(all.String(), "% [") {
			cancel()
		}
		if strings.Contains(s, "\n") {
			break
		}
	}
	if got := <-code; got != exitStopped {
		t.Errorf("exit status %d, want %d", got, exitStopped)
	}
	line := all.String()
	if at := strings.LastIndex(line, "\x1b[2K\r"); at < 0 || line[at:] != "\x1b[2K\rStopped. Files that were not finished are as they were.\r\n" {
		t.Errorf("the terminal shows %q", line)
	}
	if left, _ := os.ReadDir(filepath.Dir(book)); len(left) != 2 {
		t.Errorf("left in the folder: %v", left)
	}
}
