package main

import (
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

const (
	// room is what the heap, in bytes, may take before it is swept: sweeping
	// costs a small book more than reading it.
	room = 16 << 20
	// growth is by how many percent of what is in use it grows at least before it is
	// swept again: fresh memory costs more than the sweeping of so short a run.
	growth = 50
	// ample is by how many bytes it grows, or by as many as are in use, where more
	// than the room is: so much of what is made is kept that sweeping finds little.
	ample = 72 << 20
	// most is what it may grow to while less than full is in use.
	most = 48 << 20
	full = 20 << 20
	// firstSweep is at how many bytes the runtime sweeps at 100 percent while
	// hardly anything is in use.
	firstSweep = 4 << 20
)

// keepHeap has the heap swept as its size asks for, unless the user says how.
func keepHeap() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		debug.SetGCPercent(percent(0))
		debug.SetMemoryLimit(most)
		afterSweep()
	}
}

// afterSweep sets the growth anew after each sweep, until it no longer changes.
// Where all processors are busy it comes late, and till full is in use a limit holds.
func afterSweep() {
	runtime.AddCleanup(new([64]byte), func(struct{}) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		inUse := live[0].Value.Uint64()
		debug.SetGCPercent(percent(inUse))
		if inUse >= full {
			debug.SetMemoryLimit(math.MaxInt64)
		}
		if inUse < ample {
			afterSweep()
		}
	}, struct{}{})
}

// percent is by how much a heap grows of which so many bytes are in use.
func percent(live uint64) int {
	if live >= room {
		return max(100, int(100*ample/live))
	}
	return max(growth, int(100*(room-live)/max(live, firstSweep)))
}
