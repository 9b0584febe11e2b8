package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// stopped is the end of a run that a signal asked for.
type stopped struct{ signal os.Signal }

func (s stopped) Error() string { return s.signal.String() }

// status is the exit status that shells give to a program that the signal ended.
func (s stopped) status() int {
	if n, ok := s.signal.(syscall.Signal); ok {
		return 128 + int(n)
	}
	return exitStopped
}

// stopSignals ask a program to end. Those that whoever started it has turned
// off stay off.
var stopSignals = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

// grace is how long a run may take to stop; what it leaves then the next one
// clears away.
const grace = 3 * time.Second

// untilSignal is a context that the first signal ends; the second ends the
// program at once, and so does the first after the grace: late is called then.
func untilSignal(late func(code int)) (ctx context.Context, release func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	caught := make(chan os.Signal, 1)
	for _, s := range stopSignals {
		if !signal.Ignored(s) {
			signal.Notify(caught, s)
		}
	}
	go func() {
		s := stopped{<-caught}
		signal.Stop(caught)
		cancel(s)
		time.Sleep(grace)
		late(s.status())
	}()
	return ctx, func() { signal.Stop(caught) }
}
