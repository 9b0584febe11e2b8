package main

import (
	"io"
	"math"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"pourbook/report/show"
	"pourbook/templates"
)

// Nothing is shown of work that takes less; tests have less patience.
var patience = time.Second

const (
	redrawn  = 200 * time.Millisecond
	widest   = 30   // the bar, in characters
	beside   = 12   // a line's characters that are neither bar nor text, the last left free
	textRoom = 26   // what a bar leaves for the text at least
	barSteps = 1000 // the library ends a bar that is full
)

// progress shows on a terminal how far a job is. Without a terminal it does
// nothing.
type progress struct {
	out   io.Writer
	width func() int // columns, 0 for no terminal
	now   *meter     // nil between jobs
}

func newProgress(out io.Writer) *progress {
	return &progress{out: out, width: func() int { return columns(out) }}
}

// columns is the width of a terminal that can redraw a line, else 0.
func columns(out io.Writer) int {
	if os.Getenv("TERM") == "dumb" {
		return 0
	}
	return screen(out)
}

// screen is the width of what out shows, 0 where it is not known.
func screen(out io.Writer) int {
	f, ok := bare(out).(*os.File)
	if !ok {
		return 0
	}
	n, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return n
}

// bare is what a kept writer writes to.
func bare(out io.Writer) io.Writer {
	if s, ok := out.(*sticky); ok {
		return s.w
	}
	return out
}

// start begins a job; tell takes what is known of its reading, and is nil where
// nobody sees it.
func (p *progress) start() (tell func(rows int, share float64)) {
	if p == nil || p.width() == 0 {
		return nil
	}
	p.stop()
	p.now = &meter{progress: p, began: time.Now(), stopped: make(chan struct{})}
	p.now.wait.Go(p.now.run)
	return p.now.tell
}

// stop wipes what is shown. It is called before anything else is printed.
func (p *progress) stop() {
	if p == nil || p.now == nil {
		return
	}
	close(p.now.stopped)
	p.now.wait.Wait()
	p.now = nil
}

// meter is the progress of one job.
type meter struct {
	*progress
	began   time.Time
	rows    atomic.Int64
	share   atomic.Uint64 // the bits of a float64
	stopped chan struct{}
	wait    sync.WaitGroup

	bar   *progressbar.ProgressBar // nil before it is drawn
	drawn int                      // the bar's width
}

func (m *meter) tell(rows int, share float64) {
	m.rows.Store(int64(rows))
	m.share.Store(math.Float64bits(share))
}

// run draws until the job is stopped.
func (m *meter) run() {
	defer m.wipe()
	select {
	case <-m.stopped:
		return
	case <-time.After(patience):
	}
	tick := time.NewTicker(redrawn)
	defer tick.Stop()
	for {
		m.draw()
		select {
		case <-m.stopped:
			return
		case <-tick.C:
		}
	}
}

// draw draws the line, no wider than the terminal now is.
func (m *meter) draw() {
	room := m.width() - beside
	wide := min(room-textRoom, widest)
	if wide != m.drawn {
		m.wipe()
		m.drawn = wide
	}
	if wide < 1 {
		return
	}
	if m.bar == nil {
		m.bar = progressbar.NewOptions(barSteps, progressbar.OptionSetWriter(m.out), progressbar.OptionSetWidth(wide),
			progressbar.OptionSetPredictTime(false), progressbar.OptionShowDescriptionAtLineEnd(), progressbar.OptionUseANSICodes(true),
			progressbar.OptionSetTheme(progressbar.Theme{Saucer: "=", SaucerHead: ">", SaucerPadding: " ", BarStart: "[", BarEnd: "]"}))
	}
	share := math.Float64frombits(m.share.Load())
	m.bar.Describe(m.text(share, room-wide))
	m.bar.Set(min(int(share*barSteps), barSteps-1))
}

func (m *meter) wipe() {
	if m.bar != nil {
		m.bar.Clear()
		m.bar = nil
	}
}

// text is how many rows were read and, where there is room, how long it takes
// to read the rest.
func (m *meter) text(share float64, room int) string {
	rows := show.Decimals(float64(m.rows.Load()), 0)
	left := time.Duration(float64(time.Since(m.began)) * (1 - share) / share)
	var s string
	switch {
	case share == 1:
		s = templates.Text("progress.read", "rows", rows)
	case share == 0:
		s = templates.Text("progress.rows", "rows", rows)
	case left < 100*time.Second:
		s = templates.Text("progress.seconds", "rows", rows, "n", math.Ceil(left.Seconds()))
	default:
		s = templates.Text("progress.minutes", "rows", rows, "n", math.Ceil(left.Minutes()))
	}
	if len(s) > room {
		return templates.Text("progress.rows", "rows", rows)
	}
	return s
}
