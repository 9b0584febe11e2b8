package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

const (
	// room is what the heap, in bytes, may take before it is swept: sweeping
	// costs a small book more than reading it.
	room = 26 << 20
	// growth is by how many percent of what is in use a larger heap grows before it
	// is swept: fresh memory costs more than the sweeping of so short a run.
	growth = 50
	// firstSweep is at how many bytes the runtime sweeps at 100 percent while
	// hardly anything is in use.
	firstSweep = 4 << 20
)

// keepHeap has the heap swept as its size asks for, unless the user says how.
func keepHeap() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(percent(0))
		adjust()
	}
}

// adjust sets the growth anew after each sweep.
func adjust() {
	runtime.AddCleanup(new([64]byte), func(struct{}) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		debug.SetGCPercent(percent(live[0].Value.Uint64()))
		adjust()
	}, struct{}{})
}

// percent is by how much a heap grows of which so many bytes are in use.
func percent(live uint64) int {
	if live >= room {
		return growth
	}
	return max(growth, int(100*(room-live)/max(live, firstSweep)))
}
