package main

import (
	"context"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/creack/pty"
)

// terminal is a pseudo-terminal of that width, and what is shown on it.
func terminal(t *testing.T, columns uint16) (tty *os.File, shown <-chan string) {
	t.Helper()
	t.Setenv("TERM", "xterm")
	screen, tty, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { screen.Close() })
	if err := pty.Setsize(tty, &pty.Winsize{Rows: 24, Cols: columns}); err != nil {
		t.Fatal(err)
	}
	c := make(chan string, 1<<16)
	go func() {
		defer close(c)
		b := make([]byte, 4096)
		for {
			n, err := screen.Read(b)
			if n > 0 {
				c <- string(b[:n])
			}
			if err != nil {
				return
			}
		}
	}()
	return tty, c
}

// What check prints is colored on a terminal, unless nobody wants it.
func TestCheckIsColoredOnATerminal(t *testing.T) {
	book, _ := demoWithSales(t, 1)
	for _, plain := range []string{"", "1"} {
		tty, shown := terminal(t, 80)
		t.Setenv("NO_COLOR", plain)
		code := run(context.Background(), []string{"pourbook", "check", book}, streams{in: strings.NewReader(""), out: tty, err: io.Discard})
		tty.Close()
		var all strings.Builder
		for s := range shown {
			all.WriteString(s)
		}
		if code != exitDone || !strings.Contains(all.String(), "14 tables read") {
			t.Fatalf("exit status %d, shown %q", code, all.String())
		}
		if colored := strings.Contains(all.String(), "\x1b["); colored == (plain != "") {
			t.Errorf("NO_COLOR=%q: colored %v", plain, colored)
		}
	}
}
